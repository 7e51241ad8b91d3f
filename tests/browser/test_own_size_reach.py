"""The own-size panel in everyone's reach: axe, narrow pages, the keyboard, the ear; and no page that jumps."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from handouts_build.site.gathering import project_files
from tests.browser.own_size_cases import ROOT, known_sizes
from tests.browser.test_own_size_page import LANTERN, SIZES, put, settle
from tests.browser.test_site import OPTIONS, PAGES, PROJECTS
from tests.browser.waiting import until


def busy(page: Page) -> None:
    """The panel with everything it can show: own sizes, a bad entry, findings, values that stand as written."""
    put(page, ball="2 1/2 in", bore="7/8 in", window_bit="3/8 in", groove="1//2")
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")


COLORS = {"runOnly": ["color-contrast", "link-in-text-block"], "resultTypes": ["violations"]}
"""The rules of axe that look at colors."""

BUSY = """(known) => {
  const form = document.querySelector('form.hb-own'), all = [...form.querySelectorAll('.hb-own__sizes input')];
  const sizes = new Map(known.map(one => ['own-' + one.name, one]));
  all.forEach((field, each) => {
    const size = sizes.get(field.id), most = size.most === undefined ? Infinity : size.most;
    field.value = ['1//2', '-2 in', '900 in'][all.length - 1 - each]
      || Math.min(1.03 * size.value, most) + (size.kind === 'length' ? ' mm' : '');
    field.dispatchEvent(new Event('input', { bubbles: true }));
  });
  document.querySelectorAll('details').forEach(one => { one.open = true });
}"""


def violations(page: Page, options: Mapping[str, Any] = OPTIONS) -> list[Any]:
    """What axe finds, and where."""
    found = Axe().run(page, options=dict(options)).response["violations"]
    return [(one["id"], [node["html"][:200] for node in one["nodes"][:3]]) for one in found]


# 320 px is what WCAG 2.2 asks for (1.4.10), and what 640 px are at 200 %.
@pytest.mark.parametrize("name", PROJECTS)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_at_own_sizes_and_with_bad_entries(glance: Any, served: str, name: str, scheme: str) -> None:
    page = glance(f"{served}projects/{name}{SIZES}", width=320, scheme=scheme).page
    settle(page)
    page.evaluate(BUSY, known_sizes(name))
    settle(page)
    assert page.locator(".hb-own [aria-invalid=true]").count() == 3
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    assert violations(page) == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_on_the_pages_beside_the_pieces(glance: Any, served: str, site: Path, scheme: str) -> None:
    """Reference, demonstrations, run sheets and the page for what is not there, on the narrowest screen.

    Of what pieces are found by, the shortest and the longest page of each kind: one template makes them all of the same
    cards, and the page of all pieces, which holds each card, is among those that are looked at. So it is with the pages
    that the codes on papers lead to; of each, with the code of a paper that is out of date.
    """
    every = {path.relative_to(site).as_posix() for path in site.rglob("*.html")}
    alike_by: dict[str, list[str]] = {}
    for path in sorted(every):
        if path.startswith("find/"):
            alike_by.setdefault(path.partition("-")[0], []).append(path)
        elif path.startswith("p/"):
            alike_by.setdefault("p/", []).append(path)
    assert alike_by["find/all.html"] == ["find/all.html"]
    # Those that are kept as issued among them.
    assert len(alike_by["p/"]) == len(project_files(ROOT / "projects"))
    for paths in alike_by.values():
        lengths = sorted(paths, key=lambda path: (site / path).stat().st_size)
        every -= set(lengths[1:-1])
    alike = {f"projects/{name}/{page}.html" for name in PROJECTS for page in ("sizes", "workings", "shown")}
    every -= alike
    assert len(every - set(PAGES)) > 2
    for path in sorted(every - set(PAGES)):
        # Without a paper's code it leads on to the piece at once.
        code = "#00000000" if path.startswith("p/") else ""
        page = glance(served + path + code, width=320, scheme=scheme).page
        assert unquote(urlsplit(page.url).path).endswith(path), (page.url, path)
        # At one width the schemes differ in nothing but their colors.
        assert violations(page, COLORS if scheme == "dark" else OPTIONS) == [], path


# 1280 px at 200 % is a page of 640 CSS px; 320 px is what WCAG 2.2 asks for (1.4.10).
@pytest.mark.parametrize("width", [320, 640])
def test_the_busiest_panel_has_not_to_be_moved_sideways(glance: Any, served: str, width: int) -> None:
    page = glance(served + LANTERN, width=width).page
    busy(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.get_by_label("Millimeters").check()
    settle(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_everything_in_the_panel_is_reached_and_worked_by_the_keyboard(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    page.locator("#own-ball").focus()
    stops = []
    for _ in range(24):
        stops.append(page.evaluate("document.activeElement.id || document.activeElement.textContent.trim()"))
        page.keyboard.press("Tab")
    own = page.locator(".hb-own__sizes :is(input, select)").evaluate_all("all => all.map(one => one.id)")
    assert stops[: len(own)] == own
    for name in (
        "own-rule",
        "As published",
        "Large, from a 3 in blank",
        "Print the dimensions",
        "Print full-size templates",
    ):
        assert name in stops
    page.locator("#own-ball").press("Control+a")
    page.keyboard.type("2 1/2 in")
    settle(page)
    assert page.locator("[data-of=ball][data-as=lead]").first.inner_text().replace("\u00a0", " ") == "2 1/2 in"
    page.get_by_label("Inches").focus()
    page.keyboard.press("ArrowDown")
    settle(page)
    assert page.get_by_label("Millimeters").is_checked()
    outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    assert outline == "solid"


def test_fields_say_what_they_are_what_they_take_and_what_is_wrong(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    ball = page.get_by_role("textbox", name="Diameter of the ball")
    expect(ball).to_have_accessible_description("2\u00a01/4\u00a0in (57\u00a0mm) (2\u00a0in to 3\u00a0in)")
    put(page, ball="2")
    expect(ball).to_have_accessible_description(
        "2\u00a01/4\u00a0in (57\u00a0mm) (2\u00a0in to 3\u00a0in) "
        "'2' has no unit. Write a length such as 2 1/4 in or 57 mm."
    )
    expect(ball).to_have_attribute("aria-invalid", "true")


def test_the_outcome_is_announced_once_and_politely(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    page.evaluate(
        """() => { window.told = []; new MutationObserver(() => window.told.push(
        document.querySelector('[data-own-state]').textContent)).observe(
        document.querySelector('[data-own-state]'), {childList: true, subtree: true, characterData: true}); }"""
    )
    page.locator("#own-bore").press("Control+a")
    page.locator("#own-bore").press_sequentially("7/8 in", delay=20)
    until(page, "window.told.length > 0")
    page.wait_for_timeout(300)
    assert page.evaluate("window.told") == ["The dimensions, workings and steps follow your sizes."]
    assert page.locator("[data-own-state]").get_attribute("role") == "status"


def test_a_fraction_is_text_that_reads_as_one_says_it(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    put(page, ball="2 3/4 in")
    cell = page.locator("[data-of=ball][data-as=lead]").first
    assert cell.text_content() == "2\u00a03/4\u00a0in"
    assert cell.locator(".hb-frac").text_content() == "3/4"
    # The ear gets the same letters: no image, no hidden text, no character of its own.
    assert cell.locator("svg, img, [aria-hidden], [aria-label]").count() == 0


PLACES = """() => [...document.querySelectorAll('article h1, article h2, article h3, .hb-glance, .hb-own, table')]
  .map(one => [one.className || one.textContent.slice(0, 20), one.offsetTop, one.offsetHeight])"""


@pytest.mark.parametrize("width", [390, 1280])
def test_waking_the_panel_moves_nothing(browser: Browser, served: str, width: int) -> None:
    """Headings, tables and the panel stand where they stand while the panel sleeps."""

    def places(*, asleep: bool, place: str = "") -> list[list[Any]]:
        context = browser.new_context(viewport={"width": width, "height": 900})
        page = context.new_page()
        if asleep:
            context.route("**/own-size*.js", lambda route: route.abort())
        page.goto(served + LANTERN + place)
        page.evaluate("document.fonts.ready.then(() => null)")
        page.wait_for_timeout(300)
        found: list[list[Any]] = page.evaluate(PLACES)
        context.close()
        return found

    resting = places(asleep=True)
    assert len(resting) > 5
    assert places(asleep=False) == resting
    # With sizes in the address, what is seen first stays in its place too.
    addressed = places(asleep=False, place="#sizes:ball=2.5%20in&bore=0.9%20in")
    assert [place[:2] for place in addressed[:3]] == [place[:2] for place in resting[:3]]


def test_nothing_is_worked_out_before_the_page_is_painted(browser: Browser, served: str) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.add_init_script(
        """window.worked = []; let made;
        const told = (arithmetic) => (constants) => {
          const found = arithmetic(constants);
          return { ...found, work: (...all) => { window.worked.push(performance.now()); return found.work(...all); } };
        };
        Object.defineProperty(window, 'handoutsOwnSize', { get: () => made, set: value => {
          made = new Proxy(value, {
            set: (home, name, part) => Reflect.set(home, name, name === 'arithmetic' ? told(part) : part)
          });
        } });"""
    )
    page.goto(served + LANTERN)
    page.wait_for_timeout(300)
    assert page.evaluate("window.worked") == []
    page.goto(served + "about.html")
    page.goto(served + LANTERN + "#sizes:ball=2.5%20in")
    until(page, "window.worked.length > 0")
    page.wait_for_timeout(200)
    # When it was painted, where the browser tells it, not when a busy machine came round to showing it.
    painted = page.evaluate("performance.getEntriesByType('paint').map(paint => paint.paintTime ?? paint.startTime)")
    worked = page.evaluate("window.worked")
    assert len(worked) == 1
    assert worked[0] > min(painted)
    context.close()
