"""The pages about project files in a browser: in reach of everyone, one drawing of each pair seen, nothing hidden."""

from __future__ import annotations

from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from handouts_build.schema.describe_cuts import entries
from tests.browser.test_site import OPTIONS

KINDS = sum(map(len, entries().values()))
CUTS = "reference/cuts.html"


@pytest.mark.parametrize("path", [CUTS, "reference/project-file.html"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1440])
def test_axe_finds_nothing(glance: Any, served: str, path: str, scheme: str, width: int) -> None:
    found = Axe().run(glance(served + path, width=width, scheme=scheme).page, options=OPTIONS).response["violations"]
    assert [(one["id"], [node["html"][:200] for node in one["nodes"][:3]]) for one in found] == []


@pytest.mark.parametrize(("scheme", "ending"), [("light", ""), ("dark", "-dark")])
def test_of_each_pair_of_drawings_the_one_for_the_page_is_seen_and_comes_up(
    glance: Any, served: str, scheme: str, ending: str
) -> None:
    page = glance(served + CUTS, scheme=scheme).page
    seen = page.locator(".hb-example img:visible")
    assert seen.count() == KINDS
    for index in range(KINDS):
        one = seen.nth(index)
        assert one.get_attribute("src").endswith(f"{ending}.webp")
        one.scroll_into_view_if_needed()
        one.evaluate("one => one.decode()")
        assert one.evaluate("one => one.naturalWidth") > 0


@pytest.mark.parametrize("width", [320, 390, 820, 1440])
def test_no_example_is_cut_off_at_its_right(glance: Any, served: str, width: int) -> None:
    page = glance(served + CUTS, width=width).page
    off = "[...document.querySelectorAll('.hb-example code')].filter(one => one.scrollWidth > one.clientWidth).length"
    assert page.evaluate(off) == 0
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_on_paper_a_drawing_is_the_one_for_a_light_page(glance: Any, served: str) -> None:
    page = glance(served + CUTS, scheme="dark").page
    page.emulate_media(media="print")
    assert page.locator(".hb-example .hb-shot--light:visible").count() == KINDS
    assert page.locator(".hb-example .hb-shot--dark:visible").count() == 0
