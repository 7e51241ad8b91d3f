"""The page for what is not there: a way on from any address, under any path, and from a disk."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.host import QuietHandler, serving
from tests.browser.waiting import until

HOME = "Go to the first page, which lists every piece"


@pytest.fixture(scope="module", params=["", "/club/handouts"], ids=["at the root", "in a folder"])
def host(request: pytest.FixtureRequest, site: Path) -> Iterator[str]:
    """A host that answers with the page wherever there is nothing, as hosts of static files do."""
    base: str = request.param

    class Host(QuietHandler):
        def do_GET(self) -> None:  # noqa: N802 (the name that the library calls)
            path = self.path.partition("?")[0]
            if path.startswith(base + "/") and (site / path[len(base) + 1 :]).is_file():
                self.path = path[len(base) :]
                super().do_GET()
                return
            content = (site / "404.html").read_bytes()
            self.send_response(404)
            self.send_header("Content-Type", "text/html; charset=utf-8")
            self.end_headers()
            self.wfile.write(content)

    with serving(site, Host) as address:
        yield f"{address.removesuffix('/')}{base}/"


def _is_home(page: Page) -> None:
    expect(page.locator("h1").first).to_be_visible()
    assert page.locator(".hb-card").count() > 3


def _finds(page: Page) -> None:
    page.locator("[data-md-component=search-query]").click()
    page.keyboard.type("lantern", delay=20)
    result = page.locator(".md-search-result__link").first
    expect(result).to_have_attribute("href", re.compile(r"/projects/lantern\.html"))


@pytest.mark.parametrize("address", ["nothing.html", "projects/nothing.html", "a/b/c/d/", "404.html"])
def test_the_link_leads_home_from_any_address_under_any_path(look: Any, host: str, address: str) -> None:
    page = look(host + address).page
    assert page.locator("h1").inner_text() == "Page not found"
    link = page.get_by_role("link", name=HOME)
    until(page, f"document.querySelector('[data-hb-home]').href === '{host}index.html'")
    # It is dressed as the other pages are.
    until(page, "getComputedStyle(document.querySelector('h1')).fontFamily.includes('Handouts')")
    link.click()
    assert page.url == host + "index.html"
    _is_home(page)


def test_an_address_that_begins_with_two_strokes_asks_no_other_host(look: Any, host: str) -> None:
    seen = look(f"{host}/elsewhere.example/nothing.html")
    until(seen.page, f"document.querySelector('[data-hb-home]').href === '{host}index.html'")
    assert seen.asked == []


def test_from_a_disk_it_is_dressed_leads_home_and_searches(look: Any, site: Path) -> None:
    page = look((site / "404.html").as_uri()).page
    assert "Handouts" in page.locator("h1").evaluate("one => getComputedStyle(one).fontFamily")
    _finds(page)
    page.goto((site / "404.html").as_uri())
    page.get_by_role("link", name=HOME).click()
    assert page.url == (site / "index.html").as_uri()
    _is_home(page)


@pytest.mark.parametrize("address", ["404.html", "projects/nothing.html"])
def test_it_says_in_plain_words_how_to_search_and_the_search_there_finds(look: Any, host: str, address: str) -> None:
    page = look(host + address).page
    page.wait_for_load_state("networkidle")
    expect(page.locator("article")).to_contain_text("press the magnifying glass at the top of the page and type a word")
    _finds(page)
