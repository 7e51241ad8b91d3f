"""Found in a moment: how long a piece's first page is, what stands on its first screens, and how far a number is."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Page

from tests.browser.test_site import PROJECTS
from tests.projects import demo_archive

PHONE, DESK = 844, 900
"""Heights of the screens that are measured, in px, at 390 and 1440 px across."""


def below(page: Page, selector: str) -> float:
    """How far the lower edge of something is from the top of the page."""
    found: float = page.locator(selector).first.evaluate("one => one.getBoundingClientRect().bottom + scrollY")
    return found


@pytest.mark.parametrize("name", PROJECTS)
def test_the_first_page_is_short_and_begins_with_what_is_asked_first(glance: Any, served: str, name: str) -> None:
    page = glance(f"{served}projects/{name}.html", width=390).page
    page.set_viewport_size({"width": 390, "height": PHONE})
    assert page.evaluate("document.documentElement.scrollHeight") <= 12 * PHONE
    first = (".hb-hero__picture img:visible", ".hb-hero__drawing svg:visible", ".hb-glance", ".hb-goes li:last-child")
    for selector in first:
        assert below(page, selector) <= 2 * PHONE, selector
    # One of the two layouts of the drawing, its lettering as large as the small print about it.
    shown = page.locator(".hb-hero__drawing svg:visible")
    assert shown.count() == 1
    assert shown.evaluate("one => 10 * one.getBoundingClientRect().width / one.viewBox.baseVal.width") >= 11
    page.set_viewport_size({"width": 1440, "height": DESK})
    assert shown.count() == 1
    assert page.evaluate("document.documentElement.scrollHeight") <= 6 * DESK
    for selector in first:
        assert below(page, selector) <= DESK, selector
    told = page.locator(".hb-glance").inner_text()
    for word in ("Time to make ", "Level"):
        assert word in told
    (sheet,) = (sheet for sheet in demo_archive().sheets if sheet.name == name)
    assert all(wood in told for wood in sheet.woods)


def tapped(page: Page, role: Any, name: str) -> None:
    """Tap a link or a summary that stands within two screens of the top."""
    target = page.get_by_role(role, name=name).first if role != "summary" else page.locator(name)
    assert target.evaluate("one => one.getBoundingClientRect().bottom + scrollY") <= 2 * PHONE
    target.click()


@pytest.mark.parametrize("name", PROJECTS)
def test_the_speed_to_begin_with_is_found_in_three_taps_and_two_screens(glance: Any, served: str, name: str) -> None:
    """And so is every number of every step: by the list of steps at the lathe."""
    (sheet,) = (sheet for sheet in demo_archive().sheets if sheet.name == name)
    page = glance(f"{served}projects/{name}.html", width=390).page
    page.set_viewport_size({"width": 390, "height": PHONE})
    step = next(step for step in sheet.steps if step.speed)
    tapped(page, "link", "At the lathe, step by step")
    page.wait_for_selector(".hb-lathe__list")
    tapped(page, "summary", ".hb-lathe__list summary")
    tapped(page, "link", step.name)
    shown = page.locator(f"[data-hb-step='{step.number}'] .hb-numbers__speed .hb-numbers__lead")
    assert shown.inner_text().replace("\u00a0", " ") == step.speed.replace("\u00a0", " ")
    assert shown.evaluate("one => one.getBoundingClientRect().bottom + scrollY") <= 2 * PHONE


@pytest.mark.parametrize(
    ("project", "step", "number"),
    [
        ("lantern", "Bore along the axis", "bore_deep"),
        ("lantern", "First groove", "groove_wide"),
        ("lidded-box", "Hollow the box", "deep"),
        ("spinning-tops", "Glue the disk to a waste block and drill it", "hole.stop_depth"),
        ("ferrule-handle", "Drill the socket", "socket"),
        ("three-sided-candlestick", "Bore for the brass cup", "well_deep"),
        ("twice-turned-bowl", "Hollow the rough bowl", "hollow"),
    ],
)
def test_how_deep_to_bore_and_how_wide_a_groove_is_are_found_in_three_taps_and_two_screens(
    glance: Any, served: str, project: str, step: str, number: str
) -> None:
    page = glance(f"{served}projects/{project}.html", width=390).page
    page.set_viewport_size({"width": 390, "height": PHONE})
    tapped(page, "link", "At the lathe, step by step")
    page.wait_for_selector(".hb-lathe__list")
    tapped(page, "summary", ".hb-lathe__list summary")
    tapped(page, "link", step)
    shown = page.locator(f".hb-numbers__lead[data-of='{number}']:visible")
    assert shown.count() == 1
    assert shown.evaluate("one => one.getBoundingClientRect().bottom + scrollY") <= 2 * PHONE


@pytest.mark.parametrize("name", ["lantern", "twice-turned-bowl"])
def test_the_lists_of_contents_have_the_steps(glance: Any, served: str, name: str) -> None:
    (sheet,) = (sheet for sheet in demo_archive().sheets if sheet.name == name)
    for path in (f"projects/{name}.html", f"projects/{name}/at-the-lathe.html"):
        page = glance(served + path, width=1440).page
        listed = " ".join(page.locator(".md-nav--secondary").inner_text().split())
        for step in sheet.steps:
            assert f"{step.number} {step.name}" in listed, path


def test_a_link_to_an_old_place_of_a_piece_leads_on(glance: Any, served: str) -> None:
    """From papers, bookmarks and the stopwatch: the place is there, and from it the way to what stood there."""
    page = glance(served + "projects/lantern.html#step-3").page
    page.locator("#step-3").evaluate("one => one.scrollIntoView()")
    page.get_by_role("article").get_by_role("link", name="Cut the corners, then halve and halve again").last.click()
    page.wait_for_url("**/lantern/at-the-lathe.html#step-3")
    page = glance(served + "projects/lantern.html#to-workings").page
    page.get_by_role("link", name="Workings and sources").click()
    page.wait_for_url("**/lantern/workings.html")
    page = glance(served + "projects/lantern.html#sizes:ball=2.5%20in").page
    page.wait_for_selector(".hb-whose:visible")


def test_the_home_page_says_what_this_is_and_shows_the_pieces_at_once(glance: Any, served: str) -> None:
    page = glance(served + "index.html", width=1440).page
    assert "Woodturning" in page.locator("h1").inner_text()
    assert below(page, ".hb-card__drawing img:visible") <= DESK
    page.set_viewport_size({"width": 390, "height": PHONE})
    assert below(page, ".hb-card__drawing img:visible") <= PHONE
