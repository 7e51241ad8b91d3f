"""What a page costs at first sight: how much is fetched, and whether anything moves as the lettering comes in."""

from __future__ import annotations

import gzip
import re
import time
from typing import Any

import pytest
from playwright.sync_api import Browser, Response, Route

from tests.browser.test_site import PAGES

MOST = 400 * 1024
"""Bytes of a page at first sight, without its 3D piece, as a host sends them; the budget of the design."""

GOOD = 0.1
"""Layout shift that is called good by those who defined it (Core Web Vitals)."""

STILL = 0.02
"""This is one word of a paragraph that goes to the next line."""

HAS_STAND_IN = """Promise.all(['Arial', 'Times New Roman Bold'].map((name, each) => new FontFace('Tried' + each,
  `local("${name}"), local("Liberation ${['Sans', 'Serif Bold'][each]}")`).load())).then(() => true, () => false)"""

SHIFTS = """window.shifts = [];
new PerformanceObserver(list => list.getEntries().forEach(one => window.shifts.push(one.value)))
  .observe({ type: 'layout-shift', buffered: true });"""


@pytest.mark.parametrize("path", PAGES)
def test_a_page_keeps_its_budget(browser: Browser, served: str, path: str) -> None:
    """Text is counted as it travels, packed by gzip; pictures and lettering are packed already."""
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    page, sizes = context.new_page(), {}

    def count(answer: Response) -> None:
        body = answer.body()
        packed = re.search(r"\.(html|js|css|svg|json|xml)$", answer.url.partition("?")[0])
        sizes[answer.url] = len(gzip.compress(body)) if packed else len(body)

    page.on("response", count)
    page.goto(served + path)
    page.wait_for_load_state("networkidle")
    assert not [url for url in sizes if "solid" in url and url.endswith((".bin", ".glb", ".json"))]
    assert sum(sizes.values()) <= MOST, sorted(sizes.items(), key=lambda one: -one[1])[:5]
    context.close()


@pytest.mark.parametrize("path", PAGES)
@pytest.mark.parametrize("width", [390, 820, 1280])
def test_nothing_moves_as_the_lettering_comes_in(browser: Browser, served: str, path: str, width: int) -> None:
    """The lettering is held back until the page has stood a while in what stands in for it."""
    context = browser.new_context(viewport={"width": width, "height": 844})
    page = context.new_page()

    def late(route: Route) -> None:
        time.sleep(0.3)
        route.continue_()

    context.route("**/*.woff2", late)
    page.add_init_script(SHIFTS)
    page.goto(served + path)
    if not page.evaluate(HAS_STAND_IN):
        pytest.skip("neither Arial and Times New Roman nor the Liberation faces are on this machine")
    page.evaluate("document.fonts.ready.then(() => null)")
    page.wait_for_timeout(150)
    shifts: list[Any] = page.evaluate("window.shifts")
    # At the lathe the words stand in half the width: where one goes to the next line, more moves below it.
    assert sum(shifts) <= (GOOD if "at-the-lathe" in path else STILL)
    context.close()
