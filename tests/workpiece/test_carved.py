"""Flutes, slots and flats around, against closed forms.

Two circles share a lens, whose area is in any table of plane geometry (Weisstein, "Circle-Circle
Intersection", MathWorld, equation 14; from memory). What a vee takes of a circle is a sector less two triangles. A
right-hand helix is (r cos t, r sin t, p t / 2π).
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from handouts_build.workpiece import (
    CarveSlots,
    Code,
    Cylinder,
    End,
    Flat,
    Flutes,
    InHand,
    JawsOnBlank,
    Prism,
    ProfileCut,
    Reach,
    Round,
    Square,
    Stage,
    WorkpieceFault,
    WorkStep,
    carry,
)
from handouts_build.workpiece.blanks import BaseBlank
from handouts_build.workpiece.cut import BaseCut
from handouts_build.workpiece.cuts.bored import Bore
from handouts_build.workpiece.cuts.carved import Bottom, SlotOutline
from handouts_build.workpiece.cuts.hollow import Hollow
from tests.workpiece.strategies_workpiece import near

BLANK = Round(diameter_mm=50, long_mm=100)
FLUTES = Flutes(name="flutes", count=12, diameter_mm=6, deep_mm=2)


def carved(*cuts: BaseCut, blank: BaseBlank = BLANK) -> Stage:
    return carry(blank, (WorkStep(name="carve", holds=(InHand(),), cuts=cuts),))[-1]


def turned_and_carved(first: BaseCut, second: BaseCut) -> Stage:
    hold = JawsOnBlank(end=End.LEFT, deep_mm=5)
    steps = (WorkStep(name="turn", holds=(hold,), cuts=(first,)), WorkStep(name="carve", cuts=(second,)))
    return carry(BLANK, steps)[-1]


def lens(radius: float, bit: float, apart: float) -> float:
    """What two circles share."""
    of_bit = math.acos((apart**2 + bit**2 - radius**2) / (2 * apart * bit))
    of_round = math.acos((apart**2 + radius**2 - bit**2) / (2 * apart * radius))
    corner = (bit + radius - apart) * (apart + bit - radius) * (apart - bit + radius) * (apart + bit + radius)
    return bit**2 * of_bit + radius**2 * of_round - math.sqrt(corner) / 2


def vee(radius: float, deep: float, angle_deg: float) -> float:
    """What a vee that faces out takes of a circle: a sector less the triangles beside it."""
    half, tip = math.radians(angle_deg) / 2, radius - deep
    way = math.sqrt(radius**2 - (tip * math.sin(half)) ** 2) - tip * math.cos(half)
    return radius**2 * math.asin(way * math.sin(half) / radius) - tip * way * math.sin(half)


@pytest.mark.parametrize(("bit", "deep"), [(6.0, 2.0), (10.0, 1.0), (4.0, 2.0)])
def test_round_flutes_from_end_to_end_take_a_lens_each(bit: float, deep: float) -> None:
    stage = carved(replace(FLUTES, diameter_mm=bit, deep_mm=deep))
    assert near(stage.chips_mm3, 12 * 100 * lens(25, bit / 2, 25 - deep + bit / 2), share=0.01)


@pytest.mark.parametrize("angle", [60.0, 90.0, 120.0])
def test_vee_flutes_from_end_to_end_take_a_sector_less_two_triangles(angle: float) -> None:
    stage = carved(replace(FLUTES, diameter_mm=14, bottom=Bottom.VEE, angle_deg=angle))
    assert near(stage.chips_mm3, 12 * 100 * vee(25, 2, angle), share=0.01)


def test_a_flute_ends_where_it_is_told_to() -> None:
    """Its ends are those of its opening in the surface, as one lays it out."""
    stage = carved(replace(FLUTES, count=1, start_mm=20, end_mm=80))
    places = stage.wood.vertices[np.hypot(stage.wood.vertices[:, 0], stage.wood.vertices[:, 1]) > 24.7, 2]
    inner = places[(places > 1) & (places < 99)]
    assert (inner.min(), inner.max()) == pytest.approx((20, 80), abs=0.15)


@pytest.mark.parametrize("left", [False, True])
@pytest.mark.parametrize("bottom", list(Bottom))
def test_twisted_flutes_follow_a_helix(left: bool, bottom: Bottom) -> None:
    pitch, start = 150.0, 10.0
    cut = replace(FLUTES, count=5, start_mm=start, end_mm=90, pitch_mm=pitch, left_hand=left, bottom=bottom)
    wood = carved(cut).wood
    places = np.linspace(20, 80, 25)
    way = -1 if left else 1
    for flute in range(5):
        turns = 2 * math.pi * (way * (places - start) / pitch + flute / 5)
        for radius, wooden in ((23.3, False), (22.8, True)):
            points = np.column_stack([radius * np.cos(turns), radius * np.sin(turns), places])
            assert (wood.contains(points) == wooden).all(), (flute, radius)


def test_flutes_are_as_deep_along_a_profile_as_told() -> None:
    """Whatever the outline: a vase from 20 to 25 mm and back."""
    radii = [(float(z), 22.5 - 2.5 * math.cos(2 * math.pi * z / 100)) for z in range(0, 101, 2)]
    vase = ProfileCut(name="vase", points_mm=tuple(radii))
    wood = turned_and_carved(vase, replace(FLUTES, count=8, start_mm=10, end_mm=90)).wood
    for place in (20.0, 35.0, 50.0, 66.0, 80.0):
        radius = 22.5 - 2.5 * math.cos(2 * math.pi * place / 100)
        found = wood.hits(np.array([0.0, 0.0, place]), np.array([30.0, 0.0, place]))
        assert found[0][0] == pytest.approx(radius - 2, abs=0.06)


def test_the_land_between_flutes_is_told_once_for_all() -> None:
    """Between the edges of two: a chord over what is left of a twelfth."""
    stage = carved(FLUTES)
    apart = 25 - 2 + 3
    half = math.acos((25**2 + apart**2 - 3**2) / (2 * 25 * apart))
    (web,) = stage.webs
    assert web.left_mm == pytest.approx(2 * 25 * math.sin(math.pi / 12 - half), abs=0.1)
    assert web.places == 12
    (thin,) = carved(replace(FLUTES, count=20)).verdicts
    assert (thin.code, thin.numbers["places"]) == (Code.THIN_WEB, 20)


def test_flutes_that_run_into_each_other_are_told_once_and_may_be_meant() -> None:
    close = replace(FLUTES, count=30)
    (met,) = carved(close).verdicts
    assert met.code is Code.UNMEANT_BREAK_THROUGH
    assert not carved(replace(close, meets=("flutes",))).verdicts


@pytest.mark.parametrize(("bore", "code"), [(42.0, Code.THIN_WEB), (46.5, Code.UNMEANT_BREAK_THROUGH), (36.0, None)])
def test_the_wall_behind_a_flute_is_found(bore: float, code: Code | None) -> None:
    stage = turned_and_carved(
        Bore(name="bore", diameter_mm=bore, end=End.RIGHT, deep_mm=80), replace(FLUTES, count=6, start_mm=8)
    )
    assert [found.code for found in stage.verdicts if "flutes" in found.names[0]] == ([code] if code else [])
    behind = next(web for web in stage.webs if "bore" in web.names)
    assert behind.left_mm == pytest.approx(max(0.0, 23 - bore / 2), abs=0.05)


def test_a_hollow_that_is_cut_behind_flutes_finds_them_too() -> None:
    hollow = Hollow(name="inside", points_mm=((10.0, 21.5), (100.0, 21.5)), end=End.RIGHT)
    found = turned_and_carved(replace(FLUTES, count=6), hollow).verdicts
    assert any(one.code is Code.THIN_WEB and set(one.names) == {"inside", "flutes"} for one in found)


@pytest.mark.parametrize(
    ("outline", "area"),
    [(SlotOutline.STRAIGHT, (30 - 8) * 8 + math.pi * 16), (SlotOutline.OVAL, math.pi * 15 * 4)],
)
def test_slots_take_their_outline_times_their_depth(outline: SlotOutline, area: float) -> None:
    """A rectangle and a circle; an ellipse, π a b: any textbook."""
    slots = CarveSlots(name="slots", count=4, at_mm=50, long_mm=30, wide_mm=8, deep_mm=6, outline=outline)
    stage = carved(slots, blank=Square(side_mm=40, long_mm=100))
    assert near(stage.chips_mm3, 4 * area * 6, share=1e-3)


def test_slots_through_a_wall_are_that_many_openings() -> None:
    bore = Bore(name="bore", diameter_mm=40, end=End.RIGHT, deep_mm=90)
    slots = CarveSlots(name="slots", count=6, at_mm=50, long_mm=40, wide_mm=8, reach=Reach.AXIS)
    stage = turned_and_carved(bore, replace(slots, meets=("bore",)))
    assert stage.wood.genus == 6
    assert not stage.verdicts
    assert not turned_and_carved(bore, slots).verdicts  # to the axis is into the bore
    (found,) = turned_and_carved(bore, replace(slots, reach=Reach.DEPTH, deep_mm=10)).verdicts
    assert (found.code, set(found.names)) == (Code.UNMEANT_BREAK_THROUGH, {"slots", "bore"})


def test_flats_around_are_a_prism() -> None:
    flats = Flat(name="flats", distance_mm=20, count=6, start_mm=20, end_mm=80)
    prism = Prism(name="prism", flats=6, across_mm=40, start_mm=20, end_mm=80)
    stage = carved(flats)
    assert near(stage.volume_mm3, carved(prism).volume_mm3, share=1e-9)
    assert [name for name in stage.features if name.startswith("flats")] == [f"flats {one}" for one in range(1, 7)]


@pytest.mark.parametrize(
    ("cut", "says"),
    [
        (replace(FLUTES, count=10_000), "10000 flutes"),
        (replace(FLUTES, count=0), "0 flutes"),
        (replace(FLUTES, deep_mm=30), "past the axis"),
        (replace(FLUTES, deep_mm=0), "flutes' depth"),
        (replace(FLUTES, diameter_mm=-1), "flutes' bit"),
        (replace(FLUTES, start_mm=20, end_mm=120), "past the end of the wood"),
        (replace(FLUTES, start_mm=120, end_mm=130), "outside the wood"),
        (replace(FLUTES, start_mm=80, end_mm=20), "begins at"),
        (replace(FLUTES, start_mm=50, end_mm=52), "have no room"),
        (replace(FLUTES, bottom=Bottom.VEE, angle_deg=5), "a vee of 5°"),
        (replace(FLUTES, pitch_mm=0.01), "times around"),
        (replace(FLUTES, count=180, pitch_mm=5), "so many turns"),
        (CarveSlots(name="a", count=4, at_mm=50, long_mm=150, wide_mm=8, deep_mm=5), "past the end of the wood"),
        (CarveSlots(name="a", count=4, at_mm=50, long_mm=8, wide_mm=20, deep_mm=5), "lie across the axis"),
        (CarveSlots(name="a", count=4, at_mm=50, long_mm=20, wide_mm=8), "no one depth"),
        (CarveSlots(name="a", count=1000, at_mm=50, long_mm=20, wide_mm=8, deep_mm=5), "1000 slots"),
        (Flat(name="a", distance_mm=20, count=1000), "1000 flats"),
    ],
)
def test_what_means_nothing_is_refused(cut: BaseCut, says: str) -> None:
    with pytest.raises(WorkpieceFault, match=says):
        carved(cut)


def test_flutes_on_a_tenon_are_felt_on_the_tenon() -> None:
    """Their depth is from the wood that is there, at its own diameter."""
    neck = Cylinder(name="neck", diameter_mm=30, start_mm=30, end_mm=70)
    stage = turned_and_carved(neck, replace(FLUTES, count=6, start_mm=35, end_mm=65))
    hits = stage.wood.hits(np.array([0.0, 0.0, 50.0]), np.array([30.0, 0.0, 50.0]))
    assert hits[0][0] == pytest.approx(13, abs=0.05)
