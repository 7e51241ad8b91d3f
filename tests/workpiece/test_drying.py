"""Green wood that dries: the solid and all that is on it, against published shrinkage and the ellipse's closed forms.

Shrinkage from green to ovendry and eq. 4-9 (to a moisture M it is 1 - M/30 of that) are the Wood Handbook's,
FPL-GTR-282, tables 4-3 and 4-4: black cherry 7.1 percent along the rings and 3.7 across, sugar maple 9.9 and 4.8.
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.workpiece import (
    BaseBlank,
    BetweenCenters,
    Bore,
    Branch,
    Code,
    Cylinder,
    Drying,
    End,
    GluedRing,
    Grain,
    HalfLog,
    HolesAround,
    InHand,
    Jaws,
    JawsInRecess,
    JawsOnTenon,
    Limits,
    LogSection,
    Recess,
    Round,
    ShopLimits,
    Stage,
    StageCache,
    Tenon,
    WorkStep,
    carry,
    radius_about_mm,
)
from handouts_build.workpiece.axes import PART_AXIS, Axis
from handouts_build.workpiece.cuts.thread import InsideThread, OutsideThread
from handouts_build.workpiece.helix import true_threads
from handouts_build.workpiece.shrinkage import AS_GROWN, Shrinkage
from handouts_build.workpiece.solid import Solid
from tests.workpiece.strategies_workpiece import near

CHERRY_12 = Drying(along_rings=0.071 * (1 - 12 / 30), across_rings=0.037 * (1 - 12 / 30))
"""Black cherry from green to 12 percent."""
MAPLE_12 = Drying(along_rings=0.099 * (1 - 12 / 30), across_rings=0.048 * (1 - 12 / 30))
CENTERS = (BetweenCenters(),)
PUT_AWAY = WorkStep(name="dry", holds=(InHand(),), dries=MAPLE_12)
WIDE, HIGH = 200.0, 80.0
STUB = WorkStep(name="stub", holds=CENTERS, cuts=(Tenon(name="spigot", diameter_mm=90.0, long_mm=15.0, end=End.RIGHT),))


def side_grain(**more: object) -> Round:
    return Round(diameter_mm=WIDE, long_mm=HIGH, grain=Grain.ACROSS, **more)  # type: ignore[arg-type]


def last(blank: BaseBlank, *steps: WorkStep, shop: ShopLimits | None = None, limits: Limits | None = None) -> Stage:
    return carry(blank, steps, shop=shop, limits=limits)[-1]


def found(stage: Stage, code: Code) -> list[dict[str, float]]:
    return [dict(verdict.numbers) for verdict in stage.verdicts if verdict.code is code]


def sizes(stage: Stage) -> np.ndarray:
    box = np.array(stage.box_mm)
    return box[3:] - box[:3]


@pytest.mark.parametrize("drying", [CHERRY_12, MAPLE_12])
def test_a_bowls_blank_keeps_its_length_along_the_grain_and_shrinks_the_two_other_ways(drying: Drying) -> None:
    """One way across lengthwise, which is hardly at all; the other along the rings; in height across them."""
    before, after = carry(side_grain(), [WorkStep(name="dry", holds=(InHand(),), dries=drying)])
    left = sizes(after) / sizes(before)
    assert drying.along_rings is not None
    assert drying.across_rings is not None
    assert left == pytest.approx([1.0, 1 - drying.along_rings, 1 - drying.across_rings], abs=1e-9)
    # To first order what is lost of the volume is the sum of both; exactly, the product of what is left.
    assert after.wood.volume_mm3 / before.wood.volume_mm3 == pytest.approx(float(np.prod(left)), rel=1e-9)


def test_an_end_grain_round_shrinks_across_and_keeps_its_length() -> None:
    blank = Round(diameter_mm=WIDE, long_mm=HIGH, grain=Grain.ALONG)
    before, after = carry(blank, [PUT_AWAY])
    assert sorted(sizes(after) / sizes(before)) == pytest.approx([1 - 0.099 * 0.6, 1 - 0.048 * 0.6, 1.0], abs=1e-9)


def test_round_a_pith_the_section_loses_what_both_ways_take_and_no_way_more_than_another() -> None:
    branch = Branch(diameter_mm=60.0, long_mm=100.0, bark_mm=3.0)
    before, after = carry(branch, [PUT_AWAY])
    x, y, z = sizes(after) / sizes(before)
    assert x == pytest.approx(y)
    assert x * y == pytest.approx((1 - 0.099 * 0.6) * (1 - 0.048 * 0.6))
    assert z == pytest.approx(1.0)


@pytest.mark.parametrize("dries", [None, Drying(), Drying(along_rings=0.0, across_rings=0.0)])
def test_wood_that_is_as_dry_already_stays_as_it_is(dries: Drying | None) -> None:
    before, after = carry(side_grain(), [WorkStep(name="keep", holds=(InHand(),), dries=dries)])
    assert after.wood is before.wood
    assert after.shrinkage == AS_GROWN
    assert after.step is not None
    assert not after.step.shrinks


def test_what_is_glued_up_keeps_its_sizes() -> None:
    ring = GluedRing(across_mm=200.0, inside_mm=150.0, long_mm=20.0, pieces=12)
    before, after = carry(ring, [PUT_AWAY])
    assert sizes(after) == pytest.approx(sizes(before))


def test_a_green_tenon_is_held_again_as_the_oval_that_it_is() -> None:
    again = WorkStep(name="again", holds=(JawsOnTenon(tenon="spigot"),))
    stage = last(side_grain(), STUB, PUT_AWAY, again)
    assert found(stage, Code.DRIED_OVAL) == [
        {"least_mm": pytest.approx(90 * (1 - 0.099 * 0.6)), "most_mm": pytest.approx(90.0)}
    ]
    assert not found(stage, Code.NOTHING_TO_HOLD)
    # Its length lies across the rings.
    assert stage.features["spigot"].long_mm == pytest.approx(15 * (1 - 0.048 * 0.6))
    shoulder = (HIGH - 15) * (1 - 0.048 * 0.6)
    assert stage.features["spigot"].axis.origin[2] == pytest.approx(shoulder)
    assert stage.features["spigot"].left(stage.wood) == pytest.approx(1.0)


def test_of_a_wood_that_no_table_has_a_green_tenon_is_still_told() -> None:
    again = WorkStep(name="again", holds=(JawsOnTenon(tenon="spigot"),))
    put_away = WorkStep(name="dry", holds=(InHand(),), dries=Drying())
    assert found(last(side_grain(), STUB, put_away, again), Code.DRIED_OVAL) == [{}]


@pytest.mark.parametrize(("least", "most", "told"), [(50, 85, 90.0), (86, 120, 84.654), (80, 100, None)])
def test_jaws_have_to_take_both_diameters_of_the_oval(least: float, most: float, told: float | None) -> None:
    shop = ShopLimits(jaws=(Jaws(name="jaws", grip_mm=(least, most)),))
    again = WorkStep(name="again", holds=(JawsOnTenon(tenon="spigot"),))
    wrong = found(last(side_grain(), STUB, PUT_AWAY, again, shop=shop), Code.HOLD_OUT_OF_RANGE)
    assert [each["have_mm"] for each in wrong] == ([] if told is None else [pytest.approx(told)])


def test_a_tenon_that_is_turned_true_is_round_and_what_is_taken_is_the_oval_around_it() -> None:
    """The area of an ellipse is π a b; of the round in it, as large as its short axis allows, π b²."""
    short = 90 * (1 - 0.099 * 0.6)
    true = WorkStep(
        name="true", holds=CENTERS, cuts=(Tenon(name="true spigot", diameter_mm=short, long_mm=14.0, end=End.RIGHT),)
    )
    again = WorkStep(name="again", holds=(JawsOnTenon(tenon="true spigot"),))
    blank = Round(diameter_mm=90.0, long_mm=HIGH, grain=Grain.ACROSS)
    trued = carry(blank, [STUB, PUT_AWAY, true, again])
    taken = math.pi / 4 * (90 * short - short**2) * 14
    assert trued[-2].chips_mm3 == pytest.approx(taken, rel=2e-3)
    assert not found(trued[-1], Code.DRIED_OVAL)
    assert found(trued[-1], Code.NOTHING_TO_HOLD) == []


def test_a_recess_that_has_dried_is_as_narrow_as_its_short_way() -> None:
    cut = Recess(name="recess", diameter_mm=60.0, deep_mm=6.0, end=End.RIGHT)
    again = WorkStep(name="again", holds=(JawsInRecess(recess="recess"),))
    stage = last(side_grain(), WorkStep(name="cut", holds=CENTERS, cuts=(cut,)), PUT_AWAY, again)
    (numbers,) = found(stage, Code.DRIED_OVAL)
    assert numbers == {"least_mm": pytest.approx(60 * (1 - 0.099 * 0.6)), "most_mm": pytest.approx(60.0)}
    assert stage.features["recess"].left(stage.wood) == pytest.approx(1.0)


def test_a_wall_that_is_cut_later_is_judged_in_the_wood_as_it_has_dried() -> None:
    """Of 200 mm less 5.94 percent the short way leaves, around a hole 180 mm across, (188.12 - 180) / 2 = 4.06 mm."""
    trued = WorkStep(name="true", holds=CENTERS, cuts=(Cylinder(name="round", diameter_mm=WIDE),))
    bore = Bore(name="bore", diameter_mm=180.0, deep_mm=45.0, end=End.LEFT)
    hollowed = WorkStep(name="hollow", holds=(JawsOnTenon(tenon="spigot"),), cuts=(bore,))
    limits = Limits(web_mm=6.0)
    blank = Round(diameter_mm=WIDE + 10, long_mm=HIGH, grain=Grain.ACROSS)
    green = last(blank, trued, STUB, hollowed, limits=limits)
    dried = last(blank, trued, STUB, PUT_AWAY, hollowed, limits=limits)
    assert found(green, Code.THIN_WEB) == []
    assert [each["left_mm"] for each in found(dried, Code.THIN_WEB)] == [pytest.approx(4.06, abs=0.08)]


def test_holes_go_along_and_are_as_wide_each_way_as_the_wood_there_has_shrunk() -> None:
    cut = HolesAround(name="holes", each="hole", diameter_mm=10.0, count=4, at_mm=40.0, deep_mm=30.0)
    stage = last(side_grain(), WorkStep(name="drill", holds=CENTERS, cuts=(cut,)), PUT_AWAY)
    along_x, along_y = (stage.features[name] for name in ("hole 1", "hole 2"))
    # One runs with the grain: its width lies along the rings and across them. The other lies along the rings.
    assert along_x.widths_mm == pytest.approx((10 * (1 - 0.0594), 10 * (1 - 0.0288)))
    assert along_y.widths_mm == pytest.approx((10 * (1 - 0.0288), 10.0))
    assert (along_x.long_mm, along_y.long_mm) == pytest.approx((30.0, 30 * (1 - 0.0594)))
    assert all(feature.left(stage.wood) == pytest.approx(1.0) for feature in (along_x, along_y))
    assert sizes(stage)[2] / 2 == pytest.approx(along_x.axis.origin[2])


def test_drying_in_two_steps_comes_to_the_same_as_in_one() -> None:
    twice = Shrinkage(1.0, 0.97, 0.98).then(Shrinkage(1.0, 0.99, 0.985))
    assert twice.factors == pytest.approx((1.0, 0.97 * 0.99, 0.98 * 0.985))
    halves = [
        WorkStep(name=name, holds=(InHand(),), dries=Drying(along_rings=each, across_rings=each / 2))
        for name, each in (("first", 0.03), ("second", 0.01))
    ]
    stage = last(side_grain(), STUB, *halves)
    least, most = stage.features["spigot"].widths_mm
    assert (least, most) == pytest.approx((90 * 0.97 * 0.99, 90.0))


def test_stages_are_kept_apart_by_how_the_wood_dries() -> None:
    kept = StageCache()
    sizes_of = [
        sizes(carry(side_grain(), [WorkStep(name="dry", holds=(InHand(),), dries=each)], kept=kept)[-1])[1]
        for each in (CHERRY_12, MAPLE_12, CHERRY_12)
    ]
    assert sizes_of[0] == sizes_of[2]
    assert sizes_of[0] > sizes_of[1]


def test_an_ovals_reach_is_its_own_and_not_that_of_the_corners_it_is_drawn_with() -> None:
    turned = WorkStep(name="round", holds=CENTERS, cuts=(Cylinder(name="round", diameter_mm=180.0),))
    for segments in (48, 72):
        stage = carry(side_grain(), [turned, PUT_AWAY], segments=segments)[-1]
        assert radius_about_mm(stage.wood, PART_AXIS, segments=segments) == pytest.approx(90.0, rel=1e-6)
        assert stage.radius_mm == pytest.approx(90.0, rel=1e-6)


def test_bark_and_pith_are_found_where_they_have_gone() -> None:
    """Bark is as much less as the wood; the pith of a log keeps its length, for it runs with the grain."""
    for blank in (
        LogSection(diameter_mm=200.0, long_mm=180.0, bark_mm=5.0, pith_mm=8.0, pith_deg=40.0),
        HalfLog(diameter_mm=200.0, long_mm=180.0, bark_mm=5.0),
    ):
        green, dry = (last(blank, *steps) for steps in ((WorkStep(name="keep", holds=(InHand(),)),), (PUT_AWAY,)))
        both = (green, dry)
        bark = [numbers["bark_mm3"] for stage in both for numbers in found(stage, Code.BARK_LEFT)]
        assert len(bark) == 2
        assert bark[1] / bark[0] == pytest.approx((1 - 0.0594) * (1 - 0.0288), rel=1e-6)
        pith = [numbers["long_mm"] for stage in both for numbers in found(stage, Code.PITH_LEFT)]
        assert pith[:1] == pytest.approx(pith[1:])
        wood, barked = blank.barked(dry.wood, PART_AXIS, dry.shrinkage)
        assert barked is not None
        assert barked.volume_mm3 == pytest.approx(bark[1], rel=1e-6)
        assert wood.volume_mm3 + barked.volume_mm3 == pytest.approx(dry.wood.volume_mm3, rel=1e-9)


shares = st.floats(0.85, 1.0)
ways = st.tuples(*[st.floats(-1, 1)] * 3).filter(lambda way: math.dist(way, (0, 0, 0)) > 0.2)


@given(shares, shares, shares, ways)
def test_a_cylinder_about_any_line_dries_to_the_ellipse_that_is_told(
    x: float, y: float, z: float, way: tuple[float, float, float]
) -> None:
    """A round bar's section square to its axis is measured on the solid itself."""
    along = np.array(way) / math.dist(way, (0, 0, 0))
    side = np.cross(along, [0, 0, 1.0] if abs(along[2]) < 0.8 else [1.0, 0, 0])
    axis = Axis((3.0, -2.0, 5.0), tuple(along), tuple(side / np.linalg.norm(side)))  # type: ignore[arg-type]
    by = Shrinkage(x, y, z)
    bar = Solid.cylinder(radius_mm=10.0, start_mm=-40.0, end_mm=40.0, segments=96).moved(axis).scaled(by.factors)
    dried = by.axis(axis)
    section = bar.seen_from(dried).section(0.0)[:, 0]
    radii = np.hypot(section[:, 0], section[:, 1])
    least, most = by.across(axis)
    assert near(2 * radii.max(), 20 * most, share=2e-3)
    assert near(2 * radii.min(), 20 * least, share=2e-3)
    assert np.allclose(np.array(dried.direction) @ np.array(dried.up), 0, atol=1e-9)
    assert by.undone.points(by.points(np.array([1.0, 2.0, 3.0]))) == pytest.approx([1.0, 2.0, 3.0])


def test_every_cut_so_far_goes_along_with_the_wood() -> None:
    """What is beside a cut later is beside its hole as it has dried: the two are drawn to the same place."""
    bore = WorkStep(
        name="bore", holds=(JawsOnTenon(tenon="spigot"),),
        cuts=(Bore(name="bore", diameter_mm=40.0, deep_mm=50.0, end=End.LEFT),),
    )  # fmt: skip
    for before, after in pairwise(carry(side_grain(), [STUB, bore, PUT_AWAY])[-2:]):
        for was, now in zip(before.made, after.made, strict=True):
            assert now.chips.volume_mm3 == pytest.approx(was.chips.volume_mm3 * after.shrinkage.volume, rel=1e-9)
        assert (after.made[-1].body & after.wood).volume_mm3 == pytest.approx(0.0, abs=1e-6)
        assert set(after.mesh.origins) == set(before.mesh.origins)


def test_a_thread_that_dries_is_minded_once_and_its_form_gets_smaller_with_the_wood() -> None:
    """Across the grain the pitch shrinks too, by what the rings lose across them; the depth by the oval's least."""
    thread = OutsideThread(name="screw", tenon="spigot", pitch_mm=3.0, depth_mm=1.5, relief_mm=4.0)
    cut = WorkStep(name="chase", holds=CENTERS, cuts=(thread,))
    stages = carry(side_grain(), (STUB, cut, PUT_AWAY, PUT_AWAY))
    along, across = 1 - MAPLE_12.across_rings, 1 - MAPLE_12.along_rings  # type: ignore[operator]
    once = stages[3]
    (numbers,) = found(once, Code.THREAD_DRIED)
    assert numbers == pytest.approx({"least_mm": 90 * across, "most_mm": 90.0})
    assert not found(stages[4], Code.THREAD_DRIED)
    form = once.features["screw"].thread
    assert form is not None
    assert (form.pitch_mm, form.depth_mm, form.relief_mm) == pytest.approx((3 * along, 1.5 * across, 4 * along))
    # The screw of the model download lies where its rings are: it takes as little of the wood, or as much.
    green, dry = stages[2], once
    screwed = [true_threads(stage).volume_mm3 - stage.wood.volume_mm3 for stage in (green, dry)]
    assert screwed[1] == pytest.approx(screwed[0] * dry.shrinkage.volume, abs=2.0)
    assert not found(last(side_grain(), PUT_AWAY, STUB, cut), Code.THREAD_DRIED)


def test_a_thread_in_a_hole_that_dries_is_minded_too_where_nothing_is_known_of_its_wood() -> None:
    bore = Recess(name="seat", diameter_mm=60.0, deep_mm=20.0, end=End.RIGHT)
    thread = InsideThread(name="screw", hole="seat", pitch_mm=3.0)
    chase = WorkStep(name="chase", holds=CENTERS, cuts=(bore, thread))
    stage = last(side_grain(), chase, WorkStep(name="dry", holds=(InHand(),), dries=Drying()))
    assert found(stage, Code.THREAD_DRIED) == [{}]
