"""Rings that cover a profile, and the strips they are sawn from, against geometry laid out by hand."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.quantities import count, millimetres
from handouts_build.trade.ring_stacks import ACROSS, INSIDE, WALL_INSIDE, WALL_OUTSIDE, extremes_mm
from handouts_build.trade.rings import FLIPPED, INNER_EDGE, OUTER_EDGE, STRIP


@given(st.integers(3, 40), st.floats(20, 200), st.floats(0.1, 0.9), st.floats(0.1, 5))
def test_a_strip_is_as_long_as_its_pieces_laid_out(pieces: int, across: float, share: float, kerf: float) -> None:
    """Trapezoids laid corner by corner along a strip, a saw cut of `kerf` square to each slant between two.

    Not turned over, every piece starts again at its outer corner; turned over, each slant is shared by two pieces.
    """
    given_mm = {"pieces": count(pieces), "across": millimetres(across), "inside": millimetres(across * share)}
    outer = OUTER_EDGE(**{name: given_mm[name] for name in OUTER_EDGE.needs}).m_as("mm")
    inner = INNER_EDGE(**{name: given_mm[name] for name in INNER_EDGE.needs}).m_as("mm")
    slant = math.pi / pieces
    along = kerf / math.cos(slant)
    lean = (outer - inner) / 2
    plain = flipped = 0.0
    # Places at the lower and the upper edge of the strip.
    low, high = 0.0, lean
    for piece in range(pieces):
        plain += outer + along
        wide_below = piece % 2 == 0
        low, high = low + (outer if wide_below else inner), high + (inner if wide_below else outer)
        flipped = max(flipped, low, high)
        low, high = low + along, high + along
        flipped = max(flipped, low, high)
    told = {"pieces": count(pieces), "kerf": millimetres(kerf), "outer_edge": millimetres(outer)}
    assert STRIP(**told).m_as("mm") == pytest.approx(plain)
    assert FLIPPED(**told, inner_edge=millimetres(inner)).m_as("mm") == pytest.approx(flipped, abs=lean + 1e-9)
    assert FLIPPED(**told, inner_edge=millimetres(inner)).m_as("mm") >= flipped - 1e-9


@given(st.integers(3, 60), st.floats(30, 200), st.floats(0.2, 0.9), st.floats(0, 10))
def test_a_ring_clears_the_finished_wall_by_the_margin(pieces: int, outer: float, share: float, margin: float) -> None:
    """Outside its flats are nearest to the axis, inside its corners are farthest: r / cos(180°/n)."""
    known = {"pieces": count(pieces), "margin": millimetres(margin)}
    inner = outer * share + margin
    across = ACROSS(outer=millimetres(outer), margin=known["margin"])
    inside = INSIDE(inner=millimetres(inner), **known)
    assert across.m_as("mm") / 2 - outer == pytest.approx(margin, abs=1e-9)
    assert inner - inside.m_as("mm") / 2 / math.cos(math.pi / pieces) == pytest.approx(margin, abs=1e-9)
    assert WALL_OUTSIDE(across=across, outer=millimetres(outer)).m_as("mm") == pytest.approx(margin, abs=1e-9)
    told = WALL_INSIDE(inside=inside, inner=millimetres(inner), pieces=known["pieces"])
    assert told.m_as("mm") == pytest.approx(margin, abs=1e-9)


SHOULDER = ((0.0, 20.0), (30.0, 35.0), (30.0, 28.0), (50.0, 28.0))


@pytest.mark.parametrize(
    ("start", "end", "expected"),
    [
        (0, 30, (35, 20)),  # Up to the shoulder: its lower side does not count.
        (30, 50, (28, 28)),  # From it on: its upper side does not.
        (29, 31, (35, 28)),  # Past it: both do.
        (-10, 0, None),
        (50, 60, None),
        (30, 30, None),
    ],
)
def test_a_shoulder_at_the_end_of_a_stretch_counts_on_its_own_side_only(
    start: float, end: float, expected: tuple[float, float] | None
) -> None:
    assert extremes_mm(SHOULDER, start_mm=start, end_mm=end) == (expected and pytest.approx(expected))


@given(st.floats(0, 60), st.floats(0.5, 40))
def test_extremes_are_those_of_points_close_together(start: float, long: float) -> None:
    """A cone, a shoulder and a groove, read off at two thousand places."""
    outline = (
        (0.0, 20.0),
        (30.0, 35.0),
        (30.0, 28.0),
        (50.0, 28.0),
        (50.0, 15.0),
        (55.0, 15.0),
        (55.0, 40.0),
        (70.0, 40.0),
    )
    found = extremes_mm(outline, start_mm=start, end_mm=start + long)
    end = min(start + long, 70.0)
    places = [start + (end - start) * (each + 0.5) / 2000 for each in range(2000)]
    radii = [_radius(outline, place) for place in places]
    assert found is not None
    assert found[0] == pytest.approx(max(radii), abs=0.05)
    assert found[1] == pytest.approx(min(radii), abs=0.05)


def test_an_outline_that_ends_below_has_no_extremes() -> None:
    assert extremes_mm(((0.0, 10.0), (20.0, 12.0)), start_mm=20.0, end_mm=30.0) is None
    assert extremes_mm((), start_mm=0.0, end_mm=1.0) is None


def _radius(outline: tuple[tuple[float, float], ...], place: float) -> float:
    for (start, first), (end, last) in itertools.pairwise(outline):
        if start <= place <= end and end > start:
            return first + (last - first) * (place - start) / (end - start)
    return outline[-1][1]
