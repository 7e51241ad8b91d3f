"""Cross holes and cross-axis grooves, against plain plane geometry and published examples."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from handouts_build.quantities import Quantity, count, inches, millimetres
from handouts_build.trade.cross_holes import CROSS_HOLES, break_in, pitch, web_bore, web_surface
from handouts_build.trade.groove import GROOVE, rib_floor, rib_surface, sagitta

Example = Callable[[str, str], dict[str, Any]]
counts = st.integers(3, 24)
bits = st.floats(1, 20)


def _between_edges(radius: float, width: float, n: int) -> float:
    """Straight distance between the facing edges of two neighboring slots where they meet a circle."""
    around = math.sqrt(radius**2 - width**2 / 4)
    turn = 2 * math.pi / n
    one = (around, width / 2)
    # The next slot's near edge is the mirror edge (around, -width/2), turned by one division.
    other = (
        math.cos(turn) * around + math.sin(turn) * width / 2,
        math.sin(turn) * around - math.cos(turn) * width / 2,
    )
    apart = math.hypot(other[0] - one[0], other[1] - one[1])
    clear = math.atan2(other[1], other[0]) > math.atan2(one[1], one[0])
    return apart if clear else -apart


@given(counts, bits, st.floats(1.05, 8))
def test_web_is_the_distance_between_the_edges_of_two_holes(n: int, bit: float, share: float) -> None:
    radius = share * bit / 2 / math.sin(math.pi / n)
    found = web_surface(holes=count(n), bit=millimetres(bit), diameter=millimetres(2 * radius))
    assert found.magnitude == pytest.approx(_between_edges(radius, bit, n), rel=1e-6)


@given(counts, bits)
def test_web_is_nought_where_holes_break_into_each_other(n: int, bit: float) -> None:
    meet = break_in(holes=count(n), bit=millimetres(bit))
    assert web_bore(holes=count(n), bit=millimetres(bit), bore=2 * meet).magnitude == pytest.approx(0, abs=1e-9)
    assert web_bore(holes=count(n), bit=millimetres(bit), bore=2.01 * meet).magnitude > 0
    assert web_bore(holes=count(n), bit=millimetres(bit), bore=1.99 * meet).magnitude < 0


def test_six_holes_break_in_at_their_own_diameter() -> None:
    """Six equal circles around a point, each touching its neighbors, lie one diameter out: hexagon, side = R."""
    assert break_in(holes=count(6), bit=inches(1 / 8)).magnitude == pytest.approx(25.4 / 8)


def test_pitch_of_seven_holes_on_radius_five(published_example: Example) -> None:
    """geometry.yaml bolt_circle_R5_n7, VERIFIED: chord 4.3388."""
    assert published_example("geometry.yaml", "bolt_circle_R5_n7")["value"].endswith("4.3388")
    assert pitch(holes=count(7), diameter=millimetres(10)).magnitude == pytest.approx(4.3388, abs=5e-5)


def test_depths_and_clearance_by_hand() -> None:
    """2 1/4 in part, 5/8 in bore: wall 13/16 in, stop 1/16 in short at 3/4 in; pitch 9/8 in for six holes."""
    worked = CROSS_HOLES.work(
        holes=count(6), bit=inches(1 / 8), diameter=inches(2.25), bore=inches(5 / 8), stop_short=inches(1 / 16),
        center=inches(1 / 2),
    )  # fmt: skip
    assert worked["depth_to_bore"].magnitude == pytest.approx(25.4 * 13 / 16)
    assert worked["depth_to_stop"].magnitude == pytest.approx(25.4 * 3 / 4)
    assert worked["clearance"].magnitude == pytest.approx(25.4 * (9 / 8 - 1 / 16 - 1 / 4))


def test_drilling_from_a_groove_floor_is_less_deep_by_the_groove() -> None:
    given_ = {"holes": count(6), "bit": inches(1 / 8), "diameter": inches(2.25), "bore": inches(5 / 8)}
    whole = CROSS_HOLES.work(**given_)["depth_to_bore"]
    grooved = CROSS_HOLES.work(**given_, from_diameter=inches(2.25 - 2 * 0.25))["depth_to_bore"]
    assert (whole - grooved).magnitude == pytest.approx(25.4 * 0.25)


def test_a_part_without_a_bore_has_no_depth_to_it() -> None:
    worked = CROSS_HOLES.work(holes=count(6), bit=inches(1 / 8), diameter=inches(2.25))
    assert not {"depth_to_bore", "depth_to_stop", "web_bore", "clearance"} & worked.keys()


@pytest.mark.parametrize(("radius", "height", "half_width"), [(10, 3, 7.1414), (5, 2, 4.0)])
def test_sagitta_is_the_height_of_the_published_cap(radius: float, height: float, half_width: float) -> None:
    """geometry.yaml cap_10_3, VERIFIED: R 10, h 3, a 7.1414; R 5, h 2 gives a 4 by the cap formula there."""
    found = sagitta(diameter=millimetres(2 * radius), wide=millimetres(2 * half_width))
    assert found.magnitude == pytest.approx(height, abs=1e-4)


@given(st.sampled_from([4, 6, 8, 10, 12]), st.floats(2, 15), st.floats(1.1, 5))
def test_rib_is_the_distance_between_the_edges_of_two_grooves(n: int, wide: float, share: float) -> None:
    radius = share * wide / 2 / math.sin(math.pi / n)
    found = rib_surface(ribs=count(n), diameter=millimetres(2 * radius), wide=millimetres(wide))
    assert found.magnitude == pytest.approx(_between_edges(radius, wide, n), rel=1e-6)


@given(st.sampled_from([4, 6, 8]), st.floats(2, 15))
def test_rib_is_nought_where_grooves_run_together(n: int, wide: float) -> None:
    meet = wide / (2 * math.sin(math.pi / n))
    floor = math.sqrt(meet**2 - (wide / 2) ** 2)  # flat floors whose corners lie at the place where they meet
    found = rib_floor(ribs=count(n), wide=millimetres(wide), floor_diameter=millimetres(2 * floor))
    assert found.magnitude == pytest.approx(0, abs=1e-9)


@given(st.floats(20, 100), st.floats(0.05, 0.4), st.floats(0.05, 0.9))
def test_groove_opens_where_its_floor_is_as_far_from_the_axis_as_the_bore(
    diameter: float, deep: float, bore: float
) -> None:
    floor = diameter / 2 - deep * diameter
    assume(bore * 2 * floor > 1)
    worked = GROOVE.work(
        ribs=count(6), diameter=millimetres(diameter), wide=millimetres(1), deep=millimetres(deep * diameter),
        bore=millimetres(bore * 2 * floor),
    )  # fmt: skip
    assert floor * math.cos(worked["opening_latitude"].magnitude) == pytest.approx(bore * floor)
    assert worked["web"].magnitude == pytest.approx(floor * (1 - bore))


def test_a_groove_through_the_bore_opens_on_the_equator() -> None:
    worked = GROOVE.work(
        ribs=count(6), diameter=inches(2), wide=inches(1 / 4), deep=inches(3 / 4), bore=inches(1)
    )  # fmt: skip
    assert worked["opening_latitude"].magnitude == 0
    assert worked["web"].magnitude < 0


@pytest.mark.parametrize(("ribs", "mountings"), [(4, "1–3, 2–4"), (6, "1–4, 2–5, 3–6"), (8, "1–5, 2–6, 3–7, 4–8")])
def test_mountings_pair_every_hole_with_its_opposite(ribs: int, mountings: str) -> None:
    told = " ".join(remark.text for remark in GROOVE.remarks({"ribs": count(ribs)}))
    assert f"mount on {mountings}: {ribs // 2} mountings" in told


@pytest.mark.parametrize("ribs", [4, 6, 8, 10, 12])
def test_grooves_that_run_over_other_drive_holes_are_told(ribs: int) -> None:
    """A groove's plane stands square to its own pair of holes; does another hole lie in that plane?"""
    meets = any(math.isclose(360 / ribs * hole, 90) for hole in range(ribs))
    told = " ".join(remark.text for remark in GROOVE.remarks({"ribs": count(ribs)}))
    assert ("runs through the pair of holes" in told) is meets


def test_ribs_by_hand(rule: Quantity) -> None:
    """Six grooves 1/2 in wide, 5/16 in deep, in a 2 1/4 in ball: between two corners of flat floors."""
    worked = GROOVE.work(ribs=count(6), diameter=inches(2.25), wide=inches(1 / 2), deep=inches(5 / 16), rule=rule)
    floor = 2.25 / 2 - 5 / 16
    turn = math.radians(60)
    corner = (floor, 0.25)
    other = (floor * math.cos(turn) + 0.25 * math.sin(turn), floor * math.sin(turn) - 0.25 * math.cos(turn))
    expected = math.dist(corner, other)
    assert worked["rib_floor"].magnitude / 25.4 == pytest.approx(expected)
    assert worked["floor_diameter"].magnitude / 25.4 == pytest.approx(1.625)
    fall = 1.125 - math.sqrt(1.125**2 - 0.25**2)
    assert worked["edge_depth"].magnitude / 25.4 == pytest.approx(5 / 16 - fall)
