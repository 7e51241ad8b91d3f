"""Where pieces were shown, on the built site: listed, linked, and what was handed out can be fetched."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser


@pytest.mark.parametrize("wide", [320, 1280])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_list_of_demonstrations_keeps_to_the_rules_for_everyone(
    browser: Browser, site: Path, wide: int, scheme: str
) -> None:
    """WCAG 2.2 A and AA as axe-core checks them."""
    context = browser.new_context(offline=True, color_scheme=scheme, viewport={"width": wide, "height": 900})
    page = context.new_page()
    page.goto((site / "demonstrations.html").as_uri())
    assert page.evaluate("document.documentElement.scrollWidth") <= wide
    found = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]})
    assert not found.response["violations"], found.generate_report()
    context.close()


def test_every_demonstration_leads_to_its_place_on_the_pieces_page(site: Path) -> None:
    listed = (site / "demonstrations.html").read_text(encoding="utf-8")
    links = set(re.findall(r'href="(projects/[^"#]+/shown\.html)#(shown-[^"]+)"', listed))
    assert len(links) >= 8
    for page, anchor in links:
        assert f'id="{anchor}"' in (site / page).read_text(encoding="utf-8")


def test_what_was_handed_out_can_be_fetched(site: Path) -> None:
    papers = [
        page.parent / path
        for page in (site / "projects").glob("*/shown.html")
        for path in re.findall(r'href="(handed-out/[^"]+\.pdf)"', page.read_text(encoding="utf-8"))
    ]
    assert len(papers) >= 6
    for paper in papers:
        assert paper.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_run_sheet_that_is_shared_opens_from_the_pieces_page(browser: Browser, site: Path, scheme: str) -> None:
    """The owner of this demonstration asked for it; contacts and link were not asked for. axe finds nothing."""
    context = browser.new_context(offline=True, color_scheme=scheme, viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto((site / "projects" / "lidded-box.html").as_uri())
    page.get_by_role("link", name="Where it was").click()
    page.get_by_role("link", name="Run sheet, page").click()
    page.wait_for_url("**/shown/2026-03-25-tarn-valley/run-sheet.html")
    text = page.locator("main").inner_text()
    assert "Hollow the lid" in text
    assert "meeting.example" not in text
    assert "0555 0166" not in text
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert page.locator("img").count() > 3
    found = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]})
    assert not found.response["violations"], found.generate_report()
    context.close()
