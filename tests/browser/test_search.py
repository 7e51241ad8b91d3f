"""What a turner would type, and where the site's own search leads first."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import Browser, Page

QUERIES = {
    "groove width": "lantern/at-the-lathe",
    "bore depth": "at-the-lathe",
    "tenon": "at-the-lathe",
    "what speed": "at-the-lathe",
    "maple": "lantern|three-sided-candlestick|spinning-tops|segmented-vase|threaded-box",
    "drop": "lantern/at-the-lathe|fluted-drop",
    "walnut": "lantern|segmented-vase",
    "octagon": "lantern/at-the-lathe.html.*octagon",
    "bowl": "twice-turned-bowl",
    "candlestick": "three-sided-candlestick",
    "spinning top": "spinning-tops",
    "lidded box": "lidded-box",
    "ferrule": "ferrule-handle",
    "handle": "ferrule-handle",
    "hollow lid": "lidded-box/at-the-lathe.html.*hollow-the-lid",
    "wall thickness": "(hollow-form|lidded-box|twice-turned-bowl|segmented-vase)/at-the-lathe",
    "steady": "three-sided-candlestick|ferrule-handle",
    "glue": "at-the-lathe",
    "sand": "at-the-lathe.html.*sand",
    "oil": "at-the-lathe.html.*oil",
    "paper strip": "lantern|fluted-drop",
    "own size": "/sizes.html.*own-size",
    # The other spelling, and what the archive has under another name.
    "centre finder": "three-sided-candlestick",
    "colour": "at-the-lathe",
    "callipers": "at-the-lathe",
    "superglue": "at-the-lathe|what-you-need",
    "finial": "lantern|lidded-box|candlestick",
    "eccentric": "three-sided-candlestick|leaning-bud-vase",
    "sphere": "lantern",
    "sandpaper": "at-the-lathe",
    # Plurals and endings.
    "bowls": "twice-turned-bowl",
    "boxes": "lidded-box|threaded-box",
    "handles": "ferrule-handle",
    "hollowing": "hollow-form|lidded-box|twice-turned-bowl|segmented-vase/at-the-lathe",
    "drilling": "at-the-lathe",
    "grooves": "lantern/at-the-lathe.html.*groove",
    "candlesticks": "three-sided-candlestick",
    "ornaments": "lantern|leaning-bud-vase|fluted-drop",
    # Typing errors.
    "lantren": "lantern",
    "candelstick": "three-sided-candlestick",
    "ferule": "ferrule-handle",
    "octogon": "lantern/at-the-lathe.html.*octagon",
    "spining tops": "spinning-tops",
    "hadle": "ferrule-handle",
    # Begun, and not yet ended.
    "lanter": "lantern",
    "candlest": "three-sided-candlestick",
    # Numbers with their units.
    "3/8 tenon": "at-the-lathe|ferrule-handle",
    "10 mm": "at-the-lathe",
    "2 1/4 in box": "lidded-box",
    # Evenings, and several words at once.
    "saltmarsh": "shown|demonstrations|twice-turned-bowl|clubs/saltmarsh",
    "copper ridge": "shown|demonstrations|clubs/copper-ridge",
    "bowl foot": "twice-turned-bowl",
    "ash handle": "ferrule-handle",
    "lid snap": "lidded-box",
    "green wood": "twice-turned-bowl",
    # What a newcomer asks for, in a newcomer's words.
    "something with a captive ring, under an hour, in ash": "projects/ring-stick.html",
    "captive ring under an hour": "projects/ring-stick.html",
}
"""The words, and a pattern of the place that is right."""

NOT_FOR_READERS = ("yaml", "schema", "indentation", "arcsin")
"""What only an author looks for, or whoever checks a working."""


def found(page: Page, words: str) -> list[str]:
    """Where the search leads, first to last: of each page the place that it opens at."""
    box = page.get_by_role("textbox", name="Search")
    box.fill(words)
    box.press("End")
    # It answers from a worker: the answer is there when nothing comes after it for a while.
    places: list[str] = page.evaluate(
        """async () => {
          const read = () => [...document.querySelectorAll('.md-search-result__item')].map(
            one => [...one.querySelectorAll('.md-search-result__link')].slice(0, 2).at(-1).href);
          let before, now = read(), quiet = 0;
          while (quiet < 4) {
            await new Promise(done => setTimeout(done, 200));
            [before, now] = [now, read()];
            quiet = before.join() === now.join() ? quiet + 1 : 0;
          }
          return now;
        }"""
    )
    return [re.sub(r"\?h=[^#]*", "", place) for place in places]


def test_what_a_turner_types_leads_to_the_right_place_first(look: Any, site: Any) -> None:
    seen = look((site / "index.html").as_uri())
    seen.page.get_by_role("textbox", name="Search").press_sequentially("lantern")
    seen.page.wait_for_selector(".md-search-result__link", state="attached")
    wrong = {}
    for words, place in QUERIES.items():
        places = found(seen.page, words)
        if not places or not re.search(place, places[0]):
            wrong[words] = places[:3]
    assert wrong == {}
    for words in NOT_FOR_READERS:
        assert found(seen.page, words) == [], words
    assert seen.complaints == []


def test_what_is_found_of_a_piece_has_its_picture_small_and_nothing_to_say_of_it(look: Any, site: Any) -> None:
    seen = look((site / "index.html").as_uri())
    seen.page.get_by_role("textbox", name="Search").press_sequentially("black cherry")
    hits = seen.page.locator(".md-search-result__item", has=seen.page.locator("[href*='projects/']"))
    hits.first.wait_for()
    pictures = seen.page.locator(".md-search-result__item img")
    assert pictures.count() == hits.count()
    assert all("-card." in address for address in pictures.evaluate_all("all => all.map(picture => picture.src)"))
    assert pictures.first.evaluate("picture => picture.decode().then(() => picture.naturalWidth)") > 0
    assert set(pictures.evaluate_all("all => all.map(picture => picture.alt)")) == {""}
    assert seen.asked == []
    assert seen.complaints == []


def test_what_a_newcomer_asks_for_is_two_taps_away_on_a_phone(browser: Browser, site: Any) -> None:
    phone = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    page = phone.new_page()
    page.goto((site / "index.html").as_uri())
    page.locator("label[for=__search]:visible").first.tap()
    page.get_by_role("textbox", name="Search").press_sequentially(
        "something with a captive ring, under an hour, in ash"
    )
    hit = page.locator(".md-search-result__link", has_text="Stick with a loose ring").first
    hit.wait_for()
    assert found(page, "something with a captive ring, under an hour, in ash")[0].count("projects/ring-stick.html") == 1
    hit.tap()
    page.wait_for_url("**/projects/ring-stick.html**")
    page.get_by_role("heading", name="Stick with a loose ring").first.wait_for()
    assert page.get_by_text("42 min", exact=True).first.is_visible()
    phone.close()
