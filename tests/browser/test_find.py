"""The page to find a piece by: several facets at once, from a disk, in the address, and without a script."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page

from tests.browser.waiting import until

CARDS = "document.querySelectorAll('.hb-find__list .hb-card').length"


def titles(page: Page) -> list[str]:
    return [text.strip() for text in page.locator(".hb-find__list .hb-card h2").all_inner_texts()]


def ticked(page: Page) -> list[str]:
    return [text.split("\n")[0] for text in page.locator(".hb-facet li:has(input:checked)").all_inner_texts()]


def test_several_facets_narrow_the_pieces_and_stand_in_the_address(look: Any, site: Path) -> None:
    seen = look((site / "find.html").as_uri())
    page = seen.page
    page.wait_for_selector(".hb-find__list .hb-card")
    every = titles(page)
    assert len(every) == page.locator(".hb-find__list .hb-card").count() > 3
    page.get_by_role("checkbox", name="improver").check()
    until(page, f"{CARDS} < {len(every)}")
    some = titles(page)
    page.get_by_role("group", name="Technique").get_by_role("checkbox").first.check()
    until(page, f"{CARDS} < {len(some)}")
    assert set(titles(page)) < set(some) < set(every)
    assert "level=improver&" in page.url.replace("#", "&") + "&"
    # What was narrowed down can be sent to somebody.
    there = look(page.url).page
    there.wait_for_selector(".hb-find__list .hb-card")
    assert titles(there) == titles(page)
    assert ticked(there) == ticked(page)
    page.get_by_role("button", name="Untick all").click()
    until(page, f"{CARDS} === {len(every)}")
    assert titles(page) == every
    assert "#" not in page.url
    assert seen.complaints == []
    assert seen.asked == []


def test_the_number_beside_a_box_is_what_ticking_it_leaves(look: Any, site: Path) -> None:
    page = look((site / "find.html").as_uri()).page
    page.wait_for_selector(".hb-find__list .hb-card")
    page.get_by_role("checkbox", name="improver").check()
    for group in ("Technique", "Wood", "Tool"):
        line = page.get_by_role("group", name=group).locator("li:visible").first
        said = int(line.locator("span").inner_text())
        line.get_by_role("checkbox").check()
        until(page, f"{CARDS} === {said}")
        line.get_by_role("checkbox").uncheck()


def test_a_card_brings_its_picture_from_the_disk(look: Any, site: Path) -> None:
    page = look((site / "find.html").as_uri()).page
    picture = page.locator(".hb-find__list .hb-shot--light").first
    picture.scroll_into_view_if_needed()
    until(page, "document.querySelector('.hb-find__list .hb-shot--light').naturalWidth > 0")
    assert picture.get_attribute("loading") == "lazy"
    page.locator(".hb-find__list .hb-card a").first.click()
    page.wait_for_url("**/projects/*.html")


def test_without_a_script_each_line_leads_to_its_pieces(browser: Browser, site: Path) -> None:
    page = browser.new_page(java_script_enabled=False)
    page.goto((site / "find.html").as_uri())
    line = page.locator(".hb-facet[data-facet=level] li").first
    said = int(line.locator("span").inner_text())
    line.locator("a").click()
    page.wait_for_url("**/find/level-*.html")
    assert page.locator(".hb-card").count() == said
    page.close()


def test_on_a_phone_the_pieces_are_in_sight_and_facets_open_when_asked(look: Any, site: Path) -> None:
    page = look((site / "find.html").as_uri(), width=390).page
    page.wait_for_selector(".hb-find__list .hb-card")
    assert page.locator(".hb-facet details[open]").count() == 0
    assert page.locator(".hb-find__count").bounding_box()["y"] < 1100
    page.get_by_role("group", name="Wood").locator("summary").click()
    assert page.get_by_role("group", name="Wood").get_by_role("checkbox").first.is_visible()


def test_a_printed_address_leads_to_the_piece(browser: Browser, served: str) -> None:
    page = browser.new_page()
    page.goto(f"{served}p/lantern.html")
    page.wait_for_url("**/projects/lantern.html")
    page.close()
