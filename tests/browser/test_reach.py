"""The pages in the colors a reader's system forces, enlarged twice, and in the order a screen reader says them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.test_site import AFTERWARDS, LATHES, PAGES
from tests.browser.waiting import until

LANTERN = "projects/lantern/at-the-lathe.html"

# What is only told by a color of ours, or by nothing that is drawn, is gone where a system's colors stand.
EDGES = """() => [...document.querySelectorAll('.hb button, .hb-goes a, .hb-box, .hb-own input, .hb-own select')]
  .filter(one => one.checkVisibility() && !['radio', 'checkbox'].includes(one.type))
  .filter(one => !['Top', 'Right', 'Bottom', 'Left'].some(side => {
    const style = getComputedStyle(one);
    return parseFloat(style['border' + side + 'Width']) > 0 && style['border' + side + 'Style'] !== 'none';
  })).map(one => one.outerHTML.slice(0, 120))"""

DRAWN = """() => [...document.querySelectorAll('.hb-plate svg')].filter(one => one.checkVisibility()).flatMap(svg =>
  [...svg.querySelectorAll('text')].map(one => getComputedStyle(one).fill + ' on ' +
  getComputedStyle(svg.closest('.hb-plate')).backgroundColor)).filter((one, each, all) => all.indexOf(one) === each)"""


def luminance(color: str) -> float:
    """Relative luminance of `rgb(r, g, b)` (WCAG 2.2)."""
    parts = [float(part) / 255 for part in color[color.index("(") + 1 : -1].split(",")[:3]]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("path", ["index.html", "projects/lantern.html", LANTERN, *AFTERWARDS])
def test_in_forced_colors_what_is_pressed_has_an_edge_and_drawings_can_be_read(
    glance: Any, served: str, path: str, scheme: Any
) -> None:
    page = glance(served + path, scheme=scheme, forced="active").page
    assert page.evaluate("matchMedia('(forced-colors: active)').matches")
    # Who comes with a scheme has it from the first.
    assert page.get_attribute("body", "data-md-color-scheme") == {"light": "default", "dark": "slate"}[scheme]
    assert page.evaluate(EDGES) == []
    for pair in page.evaluate(DRAWN):
        ink, ground = (luminance(color) for color in pair.split(" on "))
        assert (max(ink, ground) + 0.05) / (min(ink, ground) + 0.05) >= 4.5, pair


def cut(page: Page) -> list[str]:
    """What is wider than where it stands, and cannot be moved there."""
    found: list[str] = page.evaluate(
        """[...document.querySelectorAll('.md-content .hb *')].filter(one => one.checkVisibility()).filter(one => {
          const style = getComputedStyle(one);
          return one.clientWidth && one.scrollWidth > one.clientWidth + 1 && style.overflowX === 'hidden' &&
            style.position !== 'absolute';
        }).map(one => one.outerHTML.slice(0, 120))"""
    )
    return found


@pytest.fixture(scope="module")
def enlarged(browser: Browser) -> Iterator[Page]:
    """A page that goes from address to address, on a screen of two dots a pixel; nothing on it is pressed."""
    context = browser.new_context(viewport={"width": 640, "height": 450}, device_scale_factor=2)
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("path", PAGES)
def test_enlarged_twice_nothing_is_cut_or_has_to_be_moved_sideways(enlarged: Page, served: str, path: str) -> None:
    """WCAG 2.2, 1.4.4: 1280 px at 200 % are 640 CSS px of two dots each."""
    page = enlarged
    page.goto(served + path)
    assert page.evaluate("document.documentElement.scrollWidth") <= 640
    assert cut(page) == []
    # What stays at the edge of the screen leaves room to read.
    kept = page.evaluate(
        """[...document.querySelectorAll('.md-header, .hb-lathe__bar')].filter(one => one.checkVisibility())
          .reduce((sum, one) => sum + one.getBoundingClientRect().height, 0)"""
    )
    assert kept <= 450 / 2


@pytest.mark.parametrize("path", LATHES)
def test_a_screen_reader_says_a_step_in_the_order_it_is_worked_by(glance: Any, served: str, path: str) -> None:
    """Name, numbers, speed and hold, cautions; then back and next. Order is that of the accessibility tree."""
    page = glance(served + path, width=390).page
    many = page.locator("[data-hb-step]").count()
    for step in range(1, many + 1):
        page.evaluate("step => { location.hash = 'step-' + step; }", step)
        until(page, f"document.querySelector('.hb-lathe__place').textContent.includes('Step {step} of')")
        body = page.locator(f"[data-hb-step='{step}']")
        heading = page.locator("h2:visible").first.inner_text().split("\n")[-1].strip().lstrip("0123456789 ")
        tree = page.locator("body").aria_snapshot()
        said = [heading]
        said += [f'link "{text}' for text in body.locator(".hb-numbers__what").all_inner_texts() if text != "Speed"][:1]
        said += ["term: Hold"] if body.locator(".hb-set dt").count() else []
        said += ["Cautions of step"] if body.locator(".hb-step__care > *").count() else []
        said += ['button "Back"', 'button "Next"']
        places, at = [], 0
        for words in said:
            at = tree.find(words, at)
            places.append((words, at))
            assert at >= 0, (step, places, tree[:3000])
        if body.locator(".hb-numbers__speed").count():
            speed = tree.index("Speed", places[0][1])
            assert speed < tree.index("Cautions of step") if "Cautions of step" in tree else speed < places[-1][1]
