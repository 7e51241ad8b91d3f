"""Threads, rings, dovetails and cuts behind a mouth, against closed forms and a second judge that slides rings.

Closed forms are Pappus's theorem (area times the way of its middle) and the frustum's volume: any textbook.
"""

from __future__ import annotations

import math
import random
from contextlib import nullcontext

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.workpiece import (
    BaseCut,
    BetweenCenters,
    Code,
    Cylinder,
    End,
    FeatureKind,
    Jaws,
    JawsOnBlank,
    JawsOnTenon,
    Recess,
    Round,
    ShopLimits,
    Stage,
    Tenon,
    WorkStep,
    carry,
    true_threads,
)
from handouts_build.workpiece.cuts.behind import InsideCove, InsideGroove, Undercut
from handouts_build.workpiece.cuts.captive import CaptiveRing
from handouts_build.workpiece.cuts.thread import InsideThread, OutsideThread
from handouts_build.workpiece.faults import WorkpieceFault
from handouts_build.workpiece.loose import resting, ring_fit
from handouts_build.workpiece.solid import Solid, round_factor
from handouts_build.workpiece.threads import ThreadForm
from tests.workpiece.strategies_workpiece import near

SEGMENTS = 72


def turned(*cuts: BaseCut, diameter_mm: float = 60, long_mm: float = 80, chuck: bool = False) -> Stage:
    hold = JawsOnBlank(deep_mm=20) if chuck else BetweenCenters()
    return carry(
        Round(diameter_mm=diameter_mm, long_mm=long_mm),
        [WorkStep(name="turn", holds=(hold,), cuts=cuts)],
        segments=SEGMENTS,
    )[-1]


def pappus(area: float, middle: float) -> float:
    return 2 * math.pi * middle * area


def test_a_threads_grooves_have_the_volume_of_their_section_turned() -> None:
    """Six whole grooves between the relief and the chamfer: trapezoids of the basic profile, flat by flat."""
    pitch, relief, long = 3.0, 3.0, 24.0
    seat = Recess(name="seat", diameter_mm=40, deep_mm=long, end=End.RIGHT)
    plain = turned(seat, chuck=True)
    made = turned(seat, InsideThread(name="thread", hole="seat", pitch_mm=pitch, relief_mm=relief), chuck=True)
    depth = 5 / 8 * math.sqrt(3) / 2 * pitch
    assert made.features["thread"].diameter_mm == pytest.approx(40 + 2 * depth)
    # Of a groove: an eighth of the pitch wide at its bottom, three quarters at the wall.
    bottom, top = pitch / 8, pitch * 3 / 4
    area = (bottom + top) / 2 * depth
    middle = 20 + depth * (2 * bottom + top) / (3 * (bottom + top))
    groove = pappus(area, middle)
    slab = math.pi * ((20 + depth) ** 2 - 20**2) * relief
    # Seven grooves in 21 mm, of which the first runs into the chamfer of its mouth.
    took = plain.volume_mm3 - made.volume_mm3 - slab
    assert 6 * groove < took < 7 * groove + pappus(depth**2 / 2, 20 + depth / 3)
    lone = turned(
        seat,
        InsideThread(name="thread", hole="seat", pitch_mm=pitch, relief_mm=relief, long_mm=long - pitch),
        chuck=True,
    )
    assert near(lone.volume_mm3 - made.volume_mm3, groove, share=1e-6)


BASIC = 5 / 8 * math.sqrt(3) / 2
"""Depth of the basic profile for each millimetre of pitch: ISO 68-1."""


@pytest.mark.parametrize(
    ("form", "long", "says"),
    [
        (ThreadForm(pitch_mm=3, depth_mm=3 * BASIC), 12, ""),
        (ThreadForm(pitch_mm=3, depth_mm=3 * math.sqrt(3) / 2), 12, "does not go into a pitch"),
        (ThreadForm(pitch_mm=3, depth_mm=1, starts=0), 12, "0 starts"),
        (ThreadForm(pitch_mm=3, depth_mm=1, starts=8), 12, ""),
        (ThreadForm(pitch_mm=3, depth_mm=1, starts=9), 12, "9 starts"),
        (ThreadForm(pitch_mm=3, depth_mm=1, relief_mm=-0.1), 12, "a relief of"),
        (ThreadForm(pitch_mm=3, depth_mm=1, relief_mm=9), 12, ""),
        (ThreadForm(pitch_mm=3, depth_mm=1, relief_mm=9.1), 12, "less than one turn"),
        (ThreadForm(pitch_mm=3, depth_mm=1, relief_mm=3), 183, ""),
        (ThreadForm(pitch_mm=3, depth_mm=1, relief_mm=3), 184, "60.3 turns"),
    ],
)
def test_a_thread_has_a_turn_at_least_and_no_more_depth_than_a_sharp_one(
    form: ThreadForm, long: float, says: str
) -> None:
    with pytest.raises(WorkpieceFault, match=says) if says else nullcontext():
        form.checked(long)


@given(st.floats(1, 6), st.floats(0, 0.9), st.floats(2.1, 8), st.booleans())
def test_a_threads_outline_lies_on_its_form_from_end_to_end(
    pitch: float, relief: float, turns: float, inside: bool
) -> None:
    """Also where the relief begins, anywhere on a flank; the chamfer at its mouth or its tip is left out."""
    form = ThreadForm(pitch_mm=pitch, depth_mm=pitch * BASIC, relief_mm=pitch * relief, inside=inside)
    long = turns * pitch
    start, stop = form.span_mm(long)
    low, high = (form.depth_mm, stop) if inside else (start, long - form.depth_mm)
    points = [point for point in form.outline(minor_mm=20, long_mm=long) if low < point[0] < high]
    assert [radius for _, radius in points] == pytest.approx(
        [float(form.radii(np.array([place]), minor_mm=20)[0]) for place, _ in points]
    )
    border = stop if inside else start
    on_the_form = float(form.radii(np.array([border]), minor_mm=20)[0])
    assert any(
        place == border and radius == pytest.approx(on_the_form)
        for place, radius in form.outline(minor_mm=20, long_mm=long)
    )


def test_an_outside_thread_has_its_diameters_in_the_wood() -> None:
    spigot = Tenon(name="spigot", diameter_mm=40, long_mm=15, end=End.RIGHT)
    made = turned(spigot, OutsideThread(name="thread", tenon="spigot", per_inch=16, relief_mm=3), chuck=True)
    points = made.wood.vertices
    near_tip = points[points[:, 2] > 80 - 12 + 1.6]
    out = np.hypot(near_tip[:, 0], near_tip[:, 1]) / round_factor(SEGMENTS)
    depth = 0.541266 * 25.4 / 16
    assert out.max() == pytest.approx(20, abs=1e-3)
    ring = out[out > 15]
    assert ring.min() == pytest.approx(20 - depth, abs=1e-3)
    assert made.features["thread"].kind is FeatureKind.TENON


def test_a_captive_ring_has_the_volume_of_an_ellipse_turned() -> None:
    ring = CaptiveRing(name="ring", at_mm=40, wide_mm=8, diameter_mm=50, bore_mm=32, stem_mm=24, room_mm=5)
    made = turned(ring)
    (loose,) = made.loose
    chords = 28 / (2 * math.pi) * math.sin(2 * math.pi / 28)
    ellipse = math.pi * 4 * (50 - 32) / 4
    assert near(loose.body.volume_mm3, chords * pappus(ellipse, (50 + 32) / 4), share=1e-3)
    assert loose.body.genus == 1
    assert made.wood.genus == 0
    # Nothing of the ring is lost or counted twice.
    gap = math.pi * (30**2 - 12**2) * 18
    assert near(made.volume_mm3, math.pi * 30**2 * 80 - gap + loose.body.volume_mm3, share=1e-6)
    assert not made.verdicts


def test_a_ring_hangs_on_its_stem_and_lies_on_its_foot() -> None:
    ring = CaptiveRing(name="ring", at_mm=40, wide_mm=8, diameter_mm=50, bore_mm=32, stem_mm=24, room_mm=10)
    foot = Cylinder(name="foot", diameter_mm=56, start_mm=0, end_mm=26)
    stages = carry(
        Round(diameter_mm=60, long_mm=80),
        [
            WorkStep(name="ring", holds=(BetweenCenters(),), cuts=(ring,)),
            WorkStep(name="foot", holds=(BetweenCenters(),), cuts=(foot,)),
        ],
        segments=SEGMENTS,
    )
    fresh, later = (stage.shown.pieces() for stage in stages[1:])
    assert fresh[1].center_mm[0] == pytest.approx(0, abs=0.01)
    # Its hole is 8 mm wider than the stem, so it hangs 4 mm low.
    assert later[1].center_mm[0] == pytest.approx(-4, abs=0.05)
    assert not (later[0] & later[1]).volume_mm3
    (down,) = resting(stages[-1].loose, stages[-1].wood, down=End.LEFT)
    # The stem is thin from 26 mm on: the ring's middle comes to lie half its width above that.
    assert down.center_mm[2] == pytest.approx(30, abs=0.01)
    assert ring_fit(stages[-1].loose[0], stages[-1].wood, segments=SEGMENTS).run_mm == pytest.approx(20, abs=0.05)


def _slides(wood: np.ndarray, ring: np.ndarray) -> tuple[int, int]:
    """How many pixels a ring's section slides left and right over the wood's before the two share one.

    Both are half planes, place by radius. A ring past the end is off: then it slid as far as the plane is long.
    """
    found = []
    for way in (-1, 1):
        steps = 0
        while steps < len(wood):
            moved = np.zeros_like(ring)
            by = way * (steps + 1)
            if by > 0:
                moved[by:] = ring[:-by]
            else:
                moved[:by] = ring[-by:]
            if (moved & wood).any():
                break
            steps += 1
        found.append(steps)
    return found[0], found[1]


@pytest.mark.parametrize(
    ("slope", "run"),
    [
        (0.5, 8.0),  # The wood is as wide as the hole 8 mm to either side, and the ring is 8 mm wide.
        (1.0, 0.0),  # At 4 mm: the ring just stands there.
        (2.0, 0.0),  # At 2 mm: it does not even go in.
    ],
)
def test_a_ring_between_two_cones_runs_to_where_they_are_as_wide_as_its_hole(slope: float, run: float) -> None:
    ring = CaptiveRing(name="ring", at_mm=40, wide_mm=8, diameter_mm=50, bore_mm=32, stem_mm=24, room_mm=10)
    (loose,) = turned(ring).loose
    wood = Solid.turned([(0, 0), (0, 12 + 40 * slope), (40, 12), (80, 12 + 40 * slope), (80, 0)], segments=SEGMENTS)
    fit = ring_fit(loose, wood, segments=SEGMENTS)
    assert fit.run_mm == pytest.approx(run, abs=0.05)
    # A ring's section is round: what counts as the stem is what is under the middle half of it.
    assert fit.stem_mm == pytest.approx(2 * (12 + 2 * slope), abs=0.1)
    assert fit.stops_mm == pytest.approx((2 * (12 + 40 * slope),) * 2, abs=0.2)


@pytest.mark.parametrize("seed", range(12))
def test_a_second_judge_slides_the_ring(seed: int) -> None:
    """Rasters of a tenth of a millimetre, which know nothing of the library but the sizes; a raster decides nothing
    that is nearer than two of its pixels."""
    pick = random.Random(seed)
    bore, stem = pick.uniform(26, 34), pick.uniform(18, 25)
    left, right, room = pick.uniform(22, 58), pick.uniform(22, 58), pick.uniform(2, 12)
    made = turned(
        CaptiveRing(name="ring", at_mm=40, wide_mm=6, diameter_mm=50, bore_mm=bore, stem_mm=stem, room_mm=room),
        Cylinder(name="left", diameter_mm=left, start_mm=0, end_mm=37 - room),
        Cylinder(name="right", diameter_mm=right, start_mm=43 + room, end_mm=80),
    )
    pixel = 0.1
    z, r = np.meshgrid(np.arange(0.05, 80, pixel), np.arange(0.05, 32, pixel), indexing="ij")
    radius = np.where(z < 37 - room, left / 2, np.where(z > 43 + room, right / 2, stem / 2))
    thick, middle = (50 - bore) / 4, (50 + bore) / 4
    ring = ((z - 40) / 3) ** 2 + ((r - middle) / thick) ** 2 <= 1
    slid = _slides(r <= radius, ring)
    told = {verdict.code for verdict in made.verdicts}
    least = min(left, right)
    if abs(least - bore) > 4 * pixel:
        assert (Code.RING_COMES_OFF in told) == (max(slid) >= len(z) or bore > least)
        assert (max(slid) * pixel > 36) == (bore > least)
    if Code.RING_COMES_OFF not in told:
        # The section is round: a sharp shoulder meets it no more than half its width later than a square one.
        fit = ring_fit(made.loose[0], made.wood, segments=SEGMENTS)
        assert fit.run_mm <= sum(slid) * pixel + 4 * pixel
        assert sum(slid) * pixel <= fit.run_mm + 6


def test_a_dovetail_is_a_frustum_and_its_jaws_lean_as_it_does() -> None:
    plain = Tenon(name="tenon", diameter_mm=40, long_mm=8, end=End.LEFT)
    leaning = Tenon(name="tenon", diameter_mm=40, long_mm=8, end=End.LEFT, dovetail_deg=8)
    neck = 20 - 8 * math.tan(math.radians(8))
    frustum = math.pi * 8 / 3 * (20**2 + 20 * neck + neck**2)
    took = turned(plain).volume_mm3 - turned(leaning).volume_mm3
    assert near(took, math.pi * 20**2 * 8 - frustum, share=1e-6)
    shop = ShopLimits(jaws=(Jaws(name="dovetail", grip_mm=(30, 60), dovetail_deg=8),))

    def found(cut: BaseCut) -> set[Code]:
        steps = [
            WorkStep(name="turn", holds=(BetweenCenters(),), cuts=(cut,)),
            WorkStep(
                name="hold",
                holds=(JawsOnTenon(tenon="tenon"),),
                cuts=(Cylinder(name="side", diameter_mm=55, start_mm=20),),
            ),
        ]
        return {verdict.code for verdict in carry(Round(diameter_mm=60, long_mm=80), steps, shop=shop)[-1].verdicts}

    assert Code.ANGLES_DIFFER in found(plain)
    assert Code.ANGLES_DIFFER not in found(leaning)


def test_cuts_behind_a_mouth_have_the_volume_of_their_sections() -> None:
    seat = Recess(name="seat", diameter_mm=40, deep_mm=20, end=End.RIGHT)
    before = turned(seat, chuck=True).volume_mm3
    groove = turned(seat, InsideGroove(name="cut", hole="seat", at_mm=10, wide_mm=4, deep_mm=2), chuck=True)
    assert near(before - groove.volume_mm3, math.pi * (22**2 - 20**2) * 4, share=1e-6)
    under = turned(seat, Undercut(name="cut", hole="seat", at_mm=5, wide_mm=9, deep_mm=3), chuck=True)
    assert near(before - under.volume_mm3, pappus(9 * 3 / 2, 20 + 1), share=1e-6)
    cove = turned(seat, InsideCove(name="cut", hole="seat", at_mm=10, wide_mm=6, deep_mm=3), chuck=True)
    # Half a circle: its middle is 4 r / 3π from its straight side; drawn by 16 chords.
    assert near(before - cove.volume_mm3, pappus(math.pi * 9 / 2, 20 + 4 * 3 / (3 * math.pi)), share=8e-3)
    assert not {verdict.code for stage in (groove, under, cove) for verdict in stage.verdicts} - {Code.OVERHANG}


def _wooden(wood: Solid, radius: float, turn: float) -> np.ndarray:
    """Whether there is wood along a line beside the axis."""
    places = np.linspace(8, 18, 401)
    return wood.contains(
        np.column_stack([np.full(401, radius * math.cos(turn)), np.full(401, radius * math.sin(turn)), places])
    )


@pytest.mark.parametrize("starts", [1, 2])
def test_in_a_model_a_thread_climbs_as_a_screw_does(starts: int) -> None:
    """A quarter of a turn around, its ridges stand a quarter of the lead farther on; it holds as much wood as rings."""
    lead = 3.0 * starts
    for inner in (True, False):
        base: BaseCut = (
            Recess(name="base", diameter_mm=40, deep_mm=24, end=End.RIGHT)
            if inner
            else Tenon(name="base", diameter_mm=40, long_mm=24, end=End.RIGHT)
        )
        cut: BaseCut = (
            InsideThread(name="thread", hole="base", pitch_mm=3, relief_mm=3, starts=starts)
            if inner
            else OutsideThread(name="thread", tenon="base", pitch_mm=3, relief_mm=3, starts=starts)
        )
        made = turned(base, cut, chuck=True)
        screw = true_threads(made)
        assert len(screw.pieces()) == 1
        plain = turned(base, chuck=True).volume_mm3
        assert plain - screw.volume_mm3 == pytest.approx(plain - made.volume_mm3, rel=0.06)
        seen = screw.seen_from(made.features["thread"].axis)
        middle = 20 + 0.8 if inner else 20 - 0.8
        first, quarter = (_wooden(seen, middle, turn) for turn in (0.01, 0.01 + math.pi / 2))
        shift = round(lead / 4 / (10 / 400))
        assert (first[: 401 - shift] == quarter[shift:]).mean() > 0.95
        assert 0.1 < first.mean() < 0.9
