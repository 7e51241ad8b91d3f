"""What is printed from the own-size panel, measured on the printed page: one sheet, and templates in true size."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import Page

from tests.browser.own_size_cases import PROJECTS
from tests.browser.test_own_size_page import LANTERN, SIZES, put
from tests.outputs.pdf_measure import MM, dark, page_count, page_texts, runs

NEAR_MM = 0.1

QUIET = "window.print = () => {}"


def printed(page: Page, kind: str, paper: str = "Letter") -> bytes:
    """What the browser prints when the panel's button is pressed."""
    page.evaluate(QUIET)
    page.locator(f"[data-own-print={kind}]").click()
    page.evaluate("document.fonts.ready.then(() => null)")
    pdf: bytes = page.pdf(format=paper)
    return pdf


@pytest.mark.parametrize("path", PROJECTS, ids=lambda path: path.stem)
@pytest.mark.parametrize("paper", ["Letter", "A4"])
def test_the_dimensions_print_on_one_page_with_every_number(glance: Any, served: str, path: Any, paper: str) -> None:
    page = glance(f"{served}projects/{path.stem}{SIZES}").page
    shown = [
        text.replace("\u00a0", " ") for text in page.locator(".hb-dimensions").first.locator("td").all_inner_texts()
    ]
    pdf = printed(page, "sheet", paper)
    assert page_count(pdf) == 1
    (text,) = page_texts(pdf)
    told = " ".join(text.split())
    for number in shown:
        assert number in told
    assert "Worked out for:" in told
    assert "The lathe's manual, local codes and your club's rules come first" in told
    assert "Sections of this page" not in told


def test_the_printed_sheet_has_the_own_sizes_and_what_is_to_mind(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    put(page, ball="2 1/2 in", window_bit="3/8 in")
    told = " ".join(" ".join(page_texts(printed(page, "sheet"))).split())
    assert "Diameter of the ball 2 1/2 in (63.5 mm)" in told
    assert "The wood between two windows must not crumble" in told


def test_what_cannot_be_made_is_said_on_the_printed_sheet_too(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    put(page, ball="2 5/8 in", bore="7/8 in")
    told = " ".join(" ".join(page_texts(printed(page, "sheet"))).split())
    assert "How far the rims rest on the end of each rib: this is −" in told
    assert told.index("Make the rims wider or the ribs thicker") < told.index("this is −")


def test_after_printing_the_page_is_as_it_was(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    before = page.locator("article").inner_text()
    printed(page, "cut")
    page.evaluate("window.dispatchEvent(new Event('afterprint'))")
    assert page.locator(".hb-sheet").count() == 0
    assert page.locator("html.hb-print-own").count() == 0
    assert page.locator("article").inner_text() == before


@pytest.mark.parametrize(("ball", "mm"), [("2 3/8 in", 60.325), ("65 mm", 65.0), ("2 5/8 in", 66.675)])
@pytest.mark.parametrize("paper", ["Letter", "A4"])
def test_templates_come_out_in_true_size(glance: Any, served: str, ball: str, mm: float, paper: str) -> None:
    """Each drawing is printed alone, and its lines measured at 600 dpi against the formula."""
    page = glance(served + LANTERN).page
    put(page, ball=ball)
    # The regular octagon about a circle of that diameter.
    side, back = mm * (math.sqrt(2) - 1), mm * (2 - math.sqrt(2)) / 2
    for title, check in {
        "Octagon gauge": lambda picture: _check_gauge(picture, mm, side, back),
        "End circles": lambda picture: _check_circles(picture, mm, side),
        "Paper strip": lambda picture: _check_strip(picture, math.pi * mm, 12),
        "End circle for": lambda picture: _check_rays(picture, mm),
    }.items():
        picture = dark(_alone(page, title, paper), 0)
        check(picture)


def _alone(page: Page, title: str, paper: str) -> bytes:
    """A print that holds one drawing and nothing else."""
    page.evaluate(QUIET)
    page.locator("[data-own-print=cut]").click()
    page.evaluate(
        """title => {
          const all = [...document.querySelectorAll('.hb-cut')];
          const one = all.find(each => each.querySelector('figcaption').textContent.startsWith(title));
          const home = document.querySelector('.hb-sheet');
          one.querySelectorAll('text').forEach(each => each.remove());
          home.replaceChildren(one);
          one.querySelector('figcaption').remove();
        }""",
        title,
    )
    pdf: bytes = page.pdf(format=paper)
    return pdf


def _extent(picture: np.ndarray) -> tuple[float, float]:
    """Width and height in mm of what is dark, less one line's width."""
    rows, columns = np.flatnonzero(picture.any(axis=1)), np.flatnonzero(picture.any(axis=0))
    return (columns[-1] - columns[0] + 1) * MM - 0.2, (rows[-1] - rows[0] + 1) * MM - 0.2


def _check_gauge(picture: np.ndarray, ball: float, side: float, back: float) -> None:
    width, height = _extent(picture)
    assert width == pytest.approx(ball / 2 + 30, abs=NEAR_MM)
    assert height == pytest.approx(ball, abs=NEAR_MM)
    # Two millimeters inside the flat the sloping sides, at 45 degrees, stand a side and twice two apart;
    # above and below them are the ends of the card.
    left = np.flatnonzero(picture.any(axis=0))[0]
    level = [(start + stop) / 2 * MM for start, stop in runs(picture[:, left + round((ball / 2 + 0.1 - 2) / MM)])]
    assert level[-2] - level[1] == pytest.approx(side + 4, abs=NEAR_MM)
    # Marks on the straight edge: ends and corners.
    right = np.flatnonzero(picture.any(axis=0))[-1]
    marks = [(start + stop) / 2 * MM for start, stop in runs(picture[:, right - round(4 / MM)])]
    assert [mark - marks[0] for mark in marks] == pytest.approx([0, back, ball - back, ball], abs=NEAR_MM)


def _check_circles(picture: np.ndarray, ball: float, side: float) -> None:
    width, height = _extent(picture)
    assert width == pytest.approx(ball, abs=NEAR_MM)
    assert height == pytest.approx(ball, abs=NEAR_MM)
    rows = np.flatnonzero(picture.any(axis=1))
    # A hair beside the cross, so that its arms are not in the way.
    level = [(start + stop) / 2 * MM for start, stop in runs(picture[(rows[0] + rows[-1]) // 2 + 6])]
    inner = sorted(level, key=lambda place: abs(place - (level[0] + level[-1]) / 2))[-4:-2]
    assert abs(inner[1] - inner[0]) == pytest.approx(side, abs=NEAR_MM)


def _check_strip(picture: np.ndarray, around: float, count: int) -> None:
    width, height = _extent(picture)
    assert width == pytest.approx(16, abs=NEAR_MM)
    # To the end of the glue tab; its lower line is not drawn double.
    assert height == pytest.approx(around + 10, abs=NEAR_MM)
    left = np.flatnonzero(picture.any(axis=0))[0]
    marks = [(start + stop) / 2 * MM for start, stop in runs(picture[:, left + round(5 / MM)])]
    steps = [mark - marks[0] for mark in marks[:count]]
    assert steps == pytest.approx([each * around / count for each in range(count)], abs=NEAR_MM)


def _check_rays(picture: np.ndarray, ball: float) -> None:
    width, height = _extent(picture)
    assert width == pytest.approx(ball, abs=NEAR_MM)
    assert height == pytest.approx(ball, abs=NEAR_MM)


def test_the_bar_to_measure_is_true(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    picture = dark(printed(page, "cut"), 0)
    lengths = sorted(
        {round((stop - start) * MM, 2) for row in picture for start, stop in runs(row) if (stop - start) * MM > 99}
    )
    assert any(abs(length - 100.2) <= NEAR_MM or abs(length - 100.0) <= NEAR_MM for length in lengths)
    assert any(abs(length - 101.8) <= NEAR_MM or abs(length - 101.6) <= NEAR_MM for length in lengths)


def test_a_strip_longer_than_a_page_comes_in_pieces_that_add_up(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    put(page, ball="3 in")
    page.evaluate(QUIET)
    page.locator("[data-own-print=cut]").click()
    heights = page.evaluate(
        "[...document.querySelectorAll('.hb-cut')].filter(one => one.textContent.startsWith('Paper strip'))"
        ".map(one => parseFloat(one.querySelector('svg').getAttribute('height')))"
    )
    assert len(heights) == 2
    # Each piece has a tab of 10 mm, the last one the strip's own; and half a line's width at both ends.
    assert sum(heights) == pytest.approx(math.pi * 76.2 + 2 * 10 + 2 * 0.2, abs=1e-3)
