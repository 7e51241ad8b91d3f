"""Balls by facets, against published polygon figures and plain distances."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from strategies_trade import lengths

from handouts_build.quantities import Quantity, inches, millimetres
from handouts_build.trade.sphere import SPHERE

Rows = Callable[[str], list[dict[str, str]]]


def _mm(value: Quantity) -> float:
    return float(value.magnitude)


def test_octagon_corner_and_side_are_the_published_shares() -> None:
    """Octagon factors 0.2929 and 0.4142: from memory of trade handbooks, standing MEMORY in geometry.yaml."""
    one = SPHERE.work(diameter=millimetres(1))
    assert _mm(one["setback"]) == pytest.approx(0.2929, abs=5e-5)
    assert _mm(one["side"]) == pytest.approx(0.4142, abs=5e-5)


@pytest.mark.parametrize(("sides", "name"), [(8, "side"), (16, "side_16")])
def test_flats_match_the_handbook_side_for_a_circle_inside(published_rows: Rows, sides: int, name: str) -> None:
    """regular_polygons.csv, side per inradius: from memory of the layout of Machinery's Handbook."""
    row = next(row for row in published_rows("regular_polygons.csv") if row["n_sides"] == str(sides))
    worked = SPHERE.work(diameter=millimetres(2))
    assert _mm(worked[name]) == pytest.approx(float(row["side_per_inradius"]), abs=5e-5)


@pytest.mark.parametrize(("sides", "name"), [(8, "corner_8"), (16, "corner_16")])
def test_corners_match_the_handbook_circle_outside(published_rows: Rows, sides: int, name: str) -> None:
    """regular_polygons.csv, inradius per circumradius: from memory of the layout of Machinery's Handbook."""
    row = next(row for row in published_rows("regular_polygons.csv") if row["n_sides"] == str(sides))
    worked = SPHERE.work(diameter=millimetres(2))
    assert 1 / _mm(worked[name]) == pytest.approx(float(row["inradius_per_circumradius"]), abs=5e-5)


@given(lengths)
def test_two_setbacks_and_a_side_make_the_ball_long(diameter: Quantity) -> None:
    worked = SPHERE.work(diameter=diameter)
    assert _mm(worked["setback"]) * 2 + _mm(worked["side"]) == pytest.approx(_mm(diameter))


@given(lengths)
def test_corner_flat_touches_the_ball(diameter: Quantity) -> None:
    """The line x + y = c through the two setback marks lies D/2 from the center (point to line distance)."""
    radius = _mm(diameter) / 2
    setback = _mm(SPHERE.work(diameter=diameter)["setback"])
    assert (radius + (radius - setback)) / math.sqrt(2) == pytest.approx(radius)


def _flat_through(diameter: float, side: float, mark: float, sides: int) -> float:
    """Distance from the center of the line through points `mark` either side of a polygon's corner."""
    turn = 2 * math.pi / sides
    # The corner lies between the flat at x = D/2 and the flat turned from it by one side.
    x0, y0 = diameter / 2, side / 2 - mark
    x1 = math.cos(turn) * x0 + math.sin(turn) * y0
    y1 = math.sin(turn) * x0 - math.cos(turn) * y0
    return abs(x0 * y1 - x1 * y0) / math.hypot(x1 - x0, y1 - y0)


@pytest.mark.parametrize(("sides", "side", "made"), [(8, "side", 16), (16, "side_16", 32)])
@given(lengths)
def test_exact_marks_give_flats_that_touch_the_ball(sides: int, side: str, made: int, diameter: Quantity) -> None:
    worked = SPHERE.work(diameter=diameter)
    found = _flat_through(_mm(diameter), _mm(worked[side]), _mm(worked[f"mark_{made}"]), sides)
    assert found == pytest.approx(_mm(diameter) / 2)


@pytest.mark.parametrize(("sides", "side", "made"), [(8, "side", 16), (16, "side_16", 32)])
@given(lengths)
def test_quarter_marks_leave_what_the_law_says_and_never_cut_the_ball(
    sides: int, side: str, made: int, diameter: Quantity
) -> None:
    worked = SPHERE.work(diameter=diameter)
    flat = _flat_through(_mm(diameter), _mm(worked[side]), _mm(worked[f"quarter_{made}"]), sides)
    left = _mm(worked[f"quarter_left_{made}"])
    assert flat - _mm(diameter) / 2 == pytest.approx(left, abs=1e-9)
    assert left > 0


def test_quarter_marks_and_corners_leave_the_shares_the_design_states() -> None:
    """0.0016 D and 0.0001 D at the flats; 0.0412, 0.0098 and 0.0024 D at the corners, worked by hand."""
    one = SPHERE.work(diameter=millimetres(1))
    shares = {
        "quarter_left_16": 0.0016, "quarter_left_32": 0.0001, "proud_8": 0.0412, "proud_16": 0.0098, "proud_32": 0.0024,
    }  # fmt: skip
    for name, share in shares.items():
        assert _mm(one[name]) == pytest.approx(share, abs=5e-5), name


def test_thumb_factors_err_by_their_fourth_decimal() -> None:
    """0.293 and 0.414 are common practice, no published source; the true factors are 1 - 1/√2 and √2 - 1."""
    one = SPHERE.work(diameter=millimetres(1))
    assert _mm(one["thumb_setback_error"]) == pytest.approx(0.293 - (1 - 1 / math.sqrt(2)))
    assert _mm(one["thumb_side_error"]) == pytest.approx(0.414 - (math.sqrt(2) - 1))


def test_blank_holds_ball_tenon_and_parting_to_the_exact_inch() -> None:
    """NIST SP 811, B.8: an inch is 25.4 mm exactly (from memory of it)."""
    worked = SPHERE.work(diameter=inches(2), tenon=inches(0.5), tenon_long=inches(0.75), parting=inches(0.25))
    assert _mm(worked["blank_long"]) == 3 * 25.4
    assert _mm(worked["blank_diameter"]) == 2 * 25.4


def test_blank_without_tenon_is_the_ball_alone() -> None:
    worked: dict[str, Any] = SPHERE.work(diameter=inches(2))
    assert worked["blank_long"] == inches(2)
