"""Layouts on an end, against the geometry of regular polygons."""

from __future__ import annotations

import itertools
import math

import pytest
from drawn_lines import crossings
from made import clashes, letterings

from handouts_build.figures import draw
from handouts_build.sheet import Sheet
from handouts_build.sheet.layouts import EndLayout
from tests.projects import demo_archive


def layout(name: str) -> tuple[Sheet, EndLayout]:
    (sheet,) = (sheet for sheet in demo_archive().sheets if sheet.name == name)
    (found,) = sheet.layouts
    return sheet, found


def test_three_centers_are_the_corners_of_a_triangle_in_their_circle() -> None:
    """Euclid XIII.12: the square on the side of an inscribed equilateral triangle is three times that on the radius."""
    sheet, found = layout("three-sided-candlestick")
    offset = next(size.value for size in sheet.sizes if size.name == "offset").m_as("mm")
    (ring,) = found.rings
    places = [hole.at for hole in ring.holes]
    assert len(places) == 3
    assert all(math.hypot(*place) == pytest.approx(offset, abs=0.001) for place in places)
    sides = [math.dist(places[each], places[each - 1]) for each in range(3)]
    assert sides == pytest.approx([offset * math.sqrt(3)] * 3, abs=0.001)
    printed = {" ".join(words): printed for words, _, printed in ring.sizes}
    assert printed["from one to the next"].mm == pytest.approx(offset * math.sqrt(3), abs=0.26)
    assert printed["true center to each"].lead == "5/8\u00a0in"
    assert found.circle_mm == pytest.approx(2 * offset)


def test_it_belongs_to_the_step_that_draws_the_circles() -> None:
    sheet, found = layout("three-sided-candlestick")
    assert [step.number for step in sheet.steps if found.name in step.figures] == [1]


def test_holes_of_two_rings_share_one_row_of_numbers() -> None:
    """Every second of twelve marks: odd ones a drive hole, even ones a window, as the words of the step say."""
    sheet, found = layout("lantern")
    drive, windows = found.rings
    assert (len(drive.holes), len(windows.holes)) == (6, 6)
    figure = next(figure for figure in draw(sheet) if figure.name == found.name)
    assert "Drive holes 1, 3, 5, 7, 9 and 11" in figure.alt
    assert "Windows 2, 4, 6, 8, 10 and 12" in figure.alt
    assert {str(number) for number in range(1, 13)} <= {each.text for each in letterings(figure.svg)}
    angles = sorted(math.degrees(math.atan2(*hole.at)) % 360 for ring in found.rings for hole in ring.holes)
    assert [b - a for a, b in itertools.pairwise(angles)] == pytest.approx([30.0] * 11, abs=0.01)


@pytest.mark.parametrize("name", ["three-sided-candlestick", "lantern"])
def test_nothing_meets_its_lettering(name: str) -> None:
    sheet, found = layout(name)
    figure = next(figure for figure in draw(sheet) if figure.name == found.name)
    assert clashes(figure.svg) == []
    assert crossings(figure.svg) == []
