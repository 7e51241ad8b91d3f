"""The built site in a browser: quiet, self-contained, in reach of everyone, and usable from a disk."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

import pypdfium2
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from handouts_build.outputs.search_words import term
from handouts_build.paper import PROJECT, SIZES
from tests.browser.conftest import ROOT
from tests.search_reading import files_of, sections_of, told

PROJECTS = sorted(path.stem for path in (ROOT / "projects").glob("*.yml") if path.stem != "shop")
LATHES = [f"projects/{name}/at-the-lathe.html" for name in PROJECTS]
# What is asked afterwards is made alike for every piece: the one with the most of it is looked at.
AFTERWARDS = [f"projects/lantern/{name}.html" for name in ("sizes", "workings", "shown")]
CALLS = ["calls.html", "calls/offcuts-2026.html", "calls/first-cuts-2027.html"]
PAGES = [
    "index.html",
    "about.html",
    "find.html",
    *CALLS,
    *(f"projects/{name}.html" for name in PROJECTS),
    *LATHES,
    *AFTERWARDS,
]

SQUEEZED = """[...document.querySelectorAll('article p')].filter(words => words.innerText.trim().length > 20
  && words.clientWidth < 80 && words.offsetParent && words.offsetParent.clientWidth > 1)
  .map(words => words.innerText)"""
"""Paragraphs in a column of a word or less, where something beside them took the room.

What is only read out stands in a box of one pixel.
"""

# Tags of axe-core that stand for WCAG 2.0 to 2.2, levels A and AA, and for its best practices.
WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
OPTIONS = {
    "runOnly": {"type": "tag", "values": WCAG},
    "rules": {"target-size": {"enabled": True}},
    "resultTypes": ["violations"],
}


@pytest.mark.parametrize("path", [*PAGES, "404.html"])
def test_a_page_is_quiet_and_no_page_has_to_be_moved_sideways(glance: Any, served: str, path: str) -> None:
    """WCAG 2.2, success criterion 1.4.10: at 320 CSS pixels, content scrolls in one direction only."""
    seen = glance(served + path, width=1440)
    assert seen.asked == []
    assert [words for words in seen.complaints if path != "404.html" or "404" not in words] == []
    seen.page.evaluate("document.querySelectorAll('details').forEach(box => { box.open = true })")
    for width in (1440, 820, 390, 320):
        seen.page.set_viewport_size({"width": width, "height": 900})
        assert seen.page.evaluate("document.documentElement.scrollWidth") <= width, width
        assert seen.page.evaluate(SQUEEZED) == [], width


# Colors depend on the scheme and targets on the width: two looks see both of each.
TWO = (("light", 1280), ("dark", 390))
# The longest page is looked at in all four.
LOOKS = {
    **dict.fromkeys(PAGES, TWO),
    "find.html": (*TWO, ("light", 390), ("dark", 1280)),
    "find/level-improver.html": TWO[:1],
    "projects/lantern.html": (*TWO, ("light", 390), ("dark", 1280)),
    "projects/lantern/at-the-lathe.html": (*TWO, ("light", 820), ("dark", 320)),
}


@pytest.mark.parametrize("path", LOOKS)
def test_axe_finds_nothing_against_wcag(glance: Any, served: str, path: str) -> None:
    """In one visit, whose scheme and width change; with motion reduced, so that no color is on its way."""
    amiss = []
    page = glance(served + path, motion="reduce").page
    page.evaluate("document.querySelectorAll('details').forEach(box => { box.open = true })")
    for scheme, width in LOOKS[path]:
        page.set_viewport_size({"width": width, "height": 900})
        page.emulate_media(color_scheme=scheme)
        expect(page.locator("body")).to_have_attribute(
            "data-md-color-scheme", {"light": "default", "dark": "slate"}[scheme]
        )
        found = Axe().run(page, options=OPTIONS).response["violations"]
        amiss += [(scheme, width, rule["id"], [node["html"][:200] for node in rule["nodes"][:3]]) for rule in found]
    assert amiss == []


def test_search_works_from_a_disk_and_asks_nobody(look: Any, site: Path) -> None:
    seen = look((site / "index.html").as_uri())
    seen.page.get_by_role("textbox", name="Search").press_sequentially("lantern")
    result = seen.page.locator(".md-search-result__link").first
    expect(result).to_have_attribute("href", re.compile(r"projects/lantern"))
    assert seen.asked == []
    assert seen.complaints == []


def test_a_number_from_a_drawing_is_not_found_but_the_words_of_a_step_are(site: Path) -> None:
    files = files_of(site)
    shown = [row for name in files if name.startswith("shown-") for row in told(files, name)[1]]
    places = [row[0] for row in sorted(shown, key=lambda row: row[3])]
    numbered = {start + at: row[0] for name in files if name.startswith("shown-")
                for start, rows in [told(files, name)] for at, row in enumerate(rows)}  # fmt: skip
    lantern = {number for number, place in numbered.items() if place.startswith("projects/lantern")}
    having = {name: sorted(lantern & set(sections)) for name, sections in sections_of(files).items()}
    assert having["draw"]
    assert "viewbox" not in having
    # What a step's number is leads to the step; from the tables and the workings nothing does.
    assert len(having[term("untouched")]) == 1
    assert not having.get("arcsin")
    # What every page says alike would hide what one page says: neither home nor the general cautions are searched.
    assert not [place for place in places if place.startswith(("index.html", "find"))]
    assert not having.get(term("spectacles"))
    # What a step is done with is looked for; how fast it turns and what it weighs is not.
    assert set(having[term("roughing")]) & set(having[term("gouge")])
    assert not having.get(term("faster"))
    assert not having.get(term("weighs"))


@pytest.mark.parametrize("path", PAGES)
def test_a_page_from_a_disk_is_quiet_too(glance: Any, site: Path, path: str) -> None:
    seen = glance((site / path).as_uri())
    assert seen.asked == []
    assert seen.complaints == []


def test_links_on_the_home_page_lead_to_the_project_from_a_disk(look: Any, site: Path) -> None:
    seen = look((site / "index.html").as_uri())
    seen.page.get_by_role("heading", name="Ribbed lantern").get_by_role("link").click()
    expect(seen.page.get_by_role("heading", level=1)).to_have_text("Ribbed lantern")


def test_the_papers_offered_are_there(glance: Any, site: Path) -> None:
    links = []
    for path in ("lantern.html", "lantern/sizes.html", "lantern/shown.html"):
        seen = glance((site / "projects" / path).as_uri())
        links += seen.page.eval_on_selector_all(".hb-paper + ul a", "all => all.map(one => one.href)")
    # Papers in two sizes of paper, for the piece and each of its two ready sizes.
    papers = [link for link in links if link.endswith(".pdf") and "handed-out" not in link]
    assert len(papers) == len(PROJECT) * len(SIZES) * 3
    for link in links:
        file = Path(unquote(urlsplit(link).path))
        if link.endswith(".json"):
            assert json.loads(file.read_text(encoding="utf-8"))["title"] == "Ribbed lantern"
        else:
            assert file.read_bytes()[:5] == b"%PDF-"


def test_our_own_letters_are_used(glance: Any, served: str) -> None:
    seen = glance(served + "projects/lantern.html")
    loaded = "[...document.fonts].filter(one => one.status == 'loaded').map(one => one.family.replaceAll('\"', ''))"
    # The stand-ins are the reader's own letters, set to the same width until ours are there.
    assert {one for one in seen.page.evaluate(loaded) if "Stand-in" not in one} == {"Handouts Sans", "Handouts Serif"}
    assert seen.page.evaluate("getComputedStyle(document.querySelector('h1')).fontFamily").startswith(
        '"Handouts Serif"'
    )


def test_focus_can_be_seen_and_the_first_stop_skips_to_the_content(look: Any, served: str) -> None:
    seen = look(served + "projects/lantern.html")
    seen.page.keyboard.press("Tab")
    first = "document.activeElement"
    assert seen.page.evaluate(f"{first}.classList.contains('md-skip')")
    assert seen.page.evaluate(f"{first}.getAttribute('href')") == "#ribbed-lantern"
    seen.page.locator(".hb-goes a").first.focus()
    seen.page.keyboard.press("Shift+Tab")
    seen.page.keyboard.press("Tab")
    style = seen.page.evaluate(f"(s => [s.outlineStyle, s.outlineWidth])(getComputedStyle({first}))")
    assert style == ["solid", "3px"]


def test_nothing_moves_for_those_who_asked_for_it(glance: Any, served: str) -> None:
    seen = glance(served + "index.html", motion="reduce")
    moving = (
        "[...document.querySelectorAll('*')].filter(one => parseFloat(getComputedStyle(one).transitionDuration) > 0)"
    )
    assert seen.page.evaluate(f"{moving}.length") == 0


def test_a_printed_page_holds_the_closed_workings_and_not_the_buttons(glance: Any, served: str) -> None:
    seen = glance(served + "projects/lantern/workings.html")
    with pypdfium2.PdfDocument(seen.page.pdf(format="Letter")) as printed:
        text = " ".join(page.get_textpage().get_text_bounded() for page in printed)
    assert "D × (2 − √(2)) / 2" in text
    assert "In words" not in text


def test_a_printed_page_at_the_lathe_holds_every_step_and_not_what_is_pressed(glance: Any, served: str) -> None:
    seen = glance(served + "projects/lantern/at-the-lathe.html")
    with pypdfium2.PdfDocument(seen.page.pdf(format="Letter")) as printed:
        text = " ".join(page.get_textpage().get_text_bounded() for page in printed)
    assert "Rough the blank and turn the tenon" in text
    assert "Finish and put together" in text
    assert "is done" not in text
    assert "Next" not in text


def test_the_dimensions_can_be_read_at_arms_length_on_a_phone(glance: Any, served: str) -> None:
    """24 px at least: common practice for reading from twice the usual distance, no published source."""
    seen = glance(served + "projects/lantern/sizes.html", width=390)
    size = "parseFloat(getComputedStyle(document.querySelector('.hb-dimensions .hb-first')).fontSize)"
    assert seen.page.evaluate(size) >= 24
