"""Holds: their axes, what they need, and whether the shop can do it."""

from __future__ import annotations

import math

import numpy as np
import pytest

from handouts_build.workpiece import (
    AxialHoles,
    BetweenCenters,
    BetweenHoles,
    Bit,
    Board,
    Bore,
    Code,
    Cylinder,
    End,
    Faceplate,
    Flat,
    HolesAround,
    InHand,
    JamChuck,
    Jaws,
    JawsInRecess,
    JawsOnBlank,
    JawsOnTenon,
    Jig,
    Offcut,
    OffsetCenters,
    PartOff,
    Recess,
    Round,
    ScrewChuck,
    ShopLimits,
    Square,
    Stage,
    Tenon,
    Verdict,
    WorkpieceFault,
    WorkStep,
    carry,
)

BLANK = Round(diameter_mm=60, long_mm=100)
TENON = Tenon(name="tenon", diameter_mm=40, long_mm=8, end=End.LEFT)
RECESS = Recess(name="recess", diameter_mm=40, end=End.LEFT, deep_mm=4)
START = WorkStep(name="start", holds=(BetweenCenters(),), cuts=(TENON,))


def found(stage: Stage, code: Code) -> list[Verdict]:
    return [verdict for verdict in stage.verdicts if verdict.code is code]


def held(hold: object, *before: WorkStep, shop: ShopLimits | None = None, rpm: float | None = None) -> Stage:
    step = WorkStep(name="held", holds=(hold,), rpm=rpm)  # type: ignore[arg-type]
    return carry(BLANK, (*before, step), shop=shop)[-1]


def test_a_tenon_must_be_in_some_jaws_range() -> None:
    small, large = Jaws(name="small", grip_mm=(20, 35)), Jaws(name="large", grip_mm=(38, 60), deep_mm=10)
    assert (
        found(held(JawsOnTenon(tenon="tenon"), START, shop=ShopLimits(jaws=(small, large))), Code.HOLD_OUT_OF_RANGE)
        == []
    )
    (verdict,) = found(held(JawsOnTenon(tenon="tenon"), START, shop=ShopLimits(jaws=(small,))), Code.HOLD_OUT_OF_RANGE)
    assert verdict.numbers == {"have_mm": 40, "least_mm": 20, "most_mm": 35}
    named = held(JawsOnTenon(tenon="tenon", jaws="small"), START, shop=ShopLimits(jaws=(small, large)))
    assert found(named, Code.HOLD_OUT_OF_RANGE)[0].names == ("tenon", "small")


def test_a_tenon_longer_than_the_jaws_are_deep_does_not_seat() -> None:
    """Common practice, no published source: the end of a tenon must not touch bottom."""
    shallow = ShopLimits(jaws=(Jaws(name="jaws", grip_mm=(30, 50), deep_mm=6),))
    (verdict,) = found(held(JawsOnTenon(tenon="tenon"), START, shop=shallow), Code.HOLD_OUT_OF_RANGE)
    assert verdict.numbers == {"have_mm": 8, "most_mm": 6}


def test_a_recess_is_held_by_the_range_the_jaws_open_to() -> None:
    start = WorkStep(name="start", holds=(BetweenCenters(),), cuts=(RECESS,))
    shop = ShopLimits(jaws=(Jaws(name="jaws", grip_mm=(30, 50), open_mm=(45, 70)),))
    (verdict,) = found(held(JawsInRecess(recess="recess"), start, shop=shop), Code.HOLD_OUT_OF_RANGE)
    assert verdict.numbers["least_mm"] == 45


def test_a_feature_cut_away_holds_nothing() -> None:
    part = WorkStep(name="part", cuts=(PartOff(name="part", at_mm=10, keep=End.RIGHT),))
    (verdict,) = found(held(JawsOnTenon(tenon="tenon"), START, part), Code.NOTHING_TO_HOLD)
    assert verdict.names == ("tenon",)
    assert verdict.numbers["left"] == 0
    assert found(held(JawsOnTenon(tenon="tenon"), START), Code.NOTHING_TO_HOLD) == []


def test_a_hold_is_found_wanting_once_and_its_loss_when_it_happens() -> None:
    """Jaws too small are told at the mounting; the tenon's loss in the next step that goes on cutting."""
    shop = ShopLimits(jaws=(Jaws(name="jaws", grip_mm=(10, 20)),))
    steps = (
        START,
        WorkStep(
            name="bore", holds=(JawsOnTenon(tenon="tenon"),), cuts=(Bore(name="bore", diameter_mm=44, end=End.LEFT),)
        ),
        WorkStep(name="turn", cuts=(Cylinder(name="cylinder", diameter_mm=56),)),
    )
    stages = carry(BLANK, steps, shop=shop)
    assert [bool(found(stage, Code.HOLD_OUT_OF_RANGE)) for stage in stages] == [False, False, True, False]
    assert [bool(found(stage, Code.NOTHING_TO_HOLD)) for stage in stages] == [False, False, False, True]


def test_a_bored_tenon_still_holds_by_its_skin() -> None:
    bore = WorkStep(name="bore", cuts=(Bore(name="bore", diameter_mm=30, end=End.LEFT),))
    assert found(held(JawsOnTenon(tenon="tenon"), START, bore), Code.NOTHING_TO_HOLD) == []


def test_a_tenon_planed_half_away_does_not_hold() -> None:
    flats = WorkStep(
        name="plane",
        cuts=tuple(Flat(name=f"flat {turn}", distance_mm=14, angle_deg=turn, end_mm=8) for turn in (0, 90, 180)),
    )
    assert found(held(JawsOnTenon(tenon="tenon"), START, flats), Code.NOTHING_TO_HOLD)


def test_a_feature_never_made_is_refused_by_its_name() -> None:
    with pytest.raises(WorkpieceFault, match="nothing here is called 'tennon'") as caught:
        held(JawsOnTenon(tenon="tennon"), START)
    assert (caught.value.step, caught.value.cut) == (1, None)
    assert caught.value.hint == "did you mean 'tenon'?"


def test_jaws_do_not_close_on_a_recess() -> None:
    start = WorkStep(name="start", holds=(BetweenCenters(),), cuts=(RECESS,))
    assert found(held(JawsOnTenon(tenon="recess"), start), Code.NOTHING_TO_HOLD)


def test_between_two_holes_the_wood_swings_by_its_length() -> None:
    """A stick 100 long turned across its middle reaches √(50² + 30²) from the axis (Pythagoras)."""
    drill = WorkStep(
        name="drill",
        holds=(Jig(),),
        cuts=(HolesAround(name="hole", diameter_mm=4, count=2, at_mm=50, deep_mm=10, start_deg=35),),
    )
    stage = held(BetweenHoles(first="hole 1", second="hole 2"), drill, shop=ShopLimits(swing_mm=110))
    assert stage.radius_before_mm == pytest.approx(math.hypot(50, 30), rel=1e-3)
    (verdict,) = found(stage, Code.DOES_NOT_CLEAR_BED)
    assert verdict.numbers["radius_mm"] == pytest.approx(58.31, abs=0.05)
    assert stage.axis.origin == pytest.approx((0, 0, 50))
    assert abs(stage.axis.direction[0]) == pytest.approx(math.cos(math.radians(35)))


def test_a_drive_center_wider_than_the_wood_around_it_is_found() -> None:
    """A stick 14 across does not bear a 20 mm center; one of 30 does."""
    shop = ShopLimits(drive_centers_mm=(20.0,))
    thin = carry(Round(diameter_mm=14, long_mm=80), (WorkStep(name="held", holds=(BetweenCenters(),)),), shop=shop)[-1]
    (verdict,) = found(thin, Code.HOLD_OUT_OF_RANGE)
    assert verdict.numbers["most_mm"] == pytest.approx(14, rel=2e-3)
    thick = carry(Round(diameter_mm=30, long_mm=80), (WorkStep(name="held", holds=(BetweenCenters(),)),), shop=shop)[-1]
    assert found(thick, Code.HOLD_OUT_OF_RANGE) == []


def test_offset_centers_swing_the_wood_by_their_offset() -> None:
    stage = held(OffsetCenters(offset_mm=10, angle_deg=120))
    assert stage.radius_before_mm == pytest.approx(40, rel=2e-3)
    slanting = held(OffsetCenters(offset_mm=10, right_offset_mm=0))
    assert slanting.axis.direction[0] == pytest.approx(-10 / math.hypot(10, 100))


def test_a_side_turned_off_axis_is_an_arc_of_its_own_circle() -> None:
    """Where the offset cylinder stands inside the blank the section is the lens of two circles (textbook area)."""
    offset, large, small = 10.0, 30.0, 28.0
    step = WorkStep(
        name="side", holds=(OffsetCenters(offset_mm=offset),), cuts=(Cylinder(name="side", diameter_mm=2 * small),)
    )
    stage = carry(BLANK, (step,))[-1]
    one = math.acos((offset**2 + small**2 - large**2) / (2 * offset * small))
    two = math.acos((offset**2 + large**2 - small**2) / (2 * offset * large))
    kite = math.sqrt(
        (-offset + small + large) * (offset + small - large) * (offset - small + large) * (offset + small + large)
    )
    lens = small**2 * one + large**2 * two - kite / 2
    assert stage.volume_mm3 == pytest.approx(lens * 100, rel=1e-3)


def test_too_long_for_the_bed_is_found() -> None:
    (verdict,) = found(held(BetweenCenters(), shop=ShopLimits(between_centers_mm=90)), Code.HOLD_OUT_OF_RANGE)
    assert verdict.names == ("between centers",)
    assert verdict.numbers == pytest.approx({"have_mm": 100, "most_mm": 90})


@pytest.mark.parametrize(("rpm", "told"), [(100, "least_rpm"), (5000, "most_rpm"), (1200, None)])
def test_a_speed_the_lathe_has_not_is_found(rpm: float, told: str | None) -> None:
    verdicts = found(held(BetweenCenters(), shop=ShopLimits(rpm=(250, 3500)), rpm=rpm), Code.SPEED_OUTSIDE_LATHE)
    assert [told in verdict.numbers for verdict in verdicts] == ([True] if told else [])


def test_a_bit_too_short_is_found_by_its_diameter() -> None:
    shop = ShopLimits(bits=(Bit(diameter_mm=8, reach_mm=60), Bit(diameter_mm=10, reach_mm=150)))
    bores = [
        WorkStep(name="bore", holds=(BetweenCenters(),), cuts=(Bore(name="bore", diameter_mm=size, end=End.LEFT),))
        for size in (8, 10)
    ]
    (verdict,) = found(carry(BLANK, (bores[0],), shop=shop)[-1], Code.BIT_TOO_SHORT)
    assert verdict.numbers == {"need_mm": pytest.approx(100), "have_mm": 60, "bit_mm": 8}
    assert not found(carry(BLANK, (bores[1],), shop=shop)[-1], Code.BIT_TOO_SHORT)


def test_overhang_is_from_the_jaws_to_the_free_end() -> None:
    stage = held(JawsOnTenon(tenon="tenon"), START)
    assert stage.held is not None
    assert (stage.held.overhang_mm, stage.held.diameter_mm) == pytest.approx((92, 40))
    assert held(JawsOnTenon(tenon="tenon", tailstock=True), START).held is None
    recess = WorkStep(name="start", holds=(BetweenCenters(),), cuts=(RECESS,))
    inside = held(JawsInRecess(recess="recess"), recess)
    assert inside.held is not None
    assert inside.held.overhang_mm == pytest.approx(100)
    on_plate = held(Faceplate(end=End.LEFT, diameter_mm=50))
    assert on_plate.held is not None
    assert on_plate.held.diameter_mm == 50
    jammed = held(JamChuck(end=End.LEFT, deep_mm=20))
    assert jammed.held is not None
    assert jammed.held.overhang_mm == pytest.approx(80)


def test_jaws_on_a_square_hold_it_by_its_flats() -> None:
    """Common practice, no published source: four jaws close on four flats, and the corners hold nothing."""
    stick = Square(side_mm=20, long_mm=110)
    step = WorkStep(
        name="turn",
        holds=(JawsOnBlank(end=End.LEFT, deep_mm=10),),
        cuts=(Cylinder(name="round", diameter_mm=18, start_mm=60),),
    )
    stage = carry(stick, (step,))[-1]
    assert stage.held is not None
    assert (stage.held.overhang_mm, stage.held.diameter_mm) == pytest.approx((100, 20), abs=0.02)
    (verdict,) = found(stage, Code.OVERHANG)
    assert verdict.numbers["ratio"] == pytest.approx(5, rel=1e-3)


def test_a_long_stick_on_a_short_tenon_is_minded() -> None:
    long = Round(diameter_mm=20, long_mm=150)
    steps = (
        WorkStep(
            name="start",
            holds=(BetweenCenters(),),
            cuts=(Tenon(name="tenon", diameter_mm=15, long_mm=8, end=End.LEFT),),
        ),
        WorkStep(
            name="turn", holds=(JawsOnTenon(tenon="tenon"),), cuts=(Cylinder(name="thin", diameter_mm=12, start_mm=60),)
        ),
    )
    stage = carry(long, steps)[-1]
    assert [verdict.code for verdict in stage.verdicts] == [Code.SLENDER, Code.OVERHANG]
    assert stage.spindle is not None
    assert stage.spindle.ratio == pytest.approx(150 / 12, rel=2e-3)


def test_a_faceplate_wider_than_the_wood_is_found() -> None:
    assert found(held(Faceplate(diameter_mm=80)), Code.HOLD_OUT_OF_RANGE)[0].names == ("faceplate",)
    assert found(held(Faceplate(diameter_mm=40)), Code.HOLD_OUT_OF_RANGE) == []


def test_a_screw_chuck_turns_on_its_hole() -> None:
    drill = WorkStep(
        name="drill",
        holds=(Jig(),),
        cuts=(AxialHoles(name="screw hole", diameter_mm=8, count=1, circle_mm=10, end=End.LEFT, deep_mm=20),),
    )
    assert held(ScrewChuck(hole="screw hole"), drill).radius_before_mm == pytest.approx(35, rel=1e-3)


@pytest.mark.parametrize("hold", [InHand(), Jig()])
def test_wood_at_rest_is_not_turned(hold: object) -> None:
    step = WorkStep(name="turn", holds=(hold,), cuts=(Cylinder(name="cylinder", diameter_mm=50),))  # type: ignore[arg-type]
    with pytest.raises(WorkpieceFault, match="needs the lathe"):
        carry(BLANK, (step,))


def test_a_cut_without_a_hold_is_refused_with_its_step() -> None:
    with pytest.raises(WorkpieceFault, match="nothing holds the wood") as caught:
        carry(BLANK, (WorkStep(name="talk"), WorkStep(name="cut", cuts=(TENON,))))
    assert caught.value.step == 1


def test_a_hole_paired_with_itself_is_refused() -> None:
    drill = WorkStep(
        name="drill", holds=(Jig(),), cuts=(HolesAround(name="hole", diameter_mm=4, count=2, at_mm=50, deep_mm=10),)
    )
    with pytest.raises(WorkpieceFault, match="both centers"):
        held(BetweenHoles(first="hole 1", second="hole 1"), drill)


def test_the_lid_of_a_box_is_what_falls_off_its_base() -> None:
    """The lid keeps its place and its tenon; both parts and the chips make the whole blank."""
    steps = (
        WorkStep(
            name="round",
            holds=(BetweenCenters(),),
            cuts=(
                Cylinder(name="cylinder", diameter_mm=60),
                Tenon(name="base tenon", diameter_mm=40, long_mm=6, end=End.LEFT),
                Tenon(name="lid tenon", diameter_mm=40, long_mm=6, end=End.RIGHT),
            ),
        ),
        WorkStep(
            name="part",
            holds=(JawsOnTenon(tenon="base tenon"),),
            cuts=(PartOff(name="part", at_mm=80, keep=End.LEFT, kerf_mm=2),),
        ),
    )
    stock = Square(side_mm=64, long_mm=120)
    base = carry(stock, steps)
    inside = Recess(name="inside of the lid", diameter_mm=50, end=End.LEFT, deep_mm=10)
    lid = carry(
        Offcut(blank=stock, steps=steps),
        (WorkStep(name="hollow", holds=(JawsOnTenon(tenon="lid tenon"),), cuts=(inside,)),),
    )
    assert lid[0].box_mm[2] == pytest.approx(82)
    assert lid[0].volume_mm3 == pytest.approx(base[-1].waste_mm3)
    assert lid[-1].verdicts == ()
    assert lid[-1].volume_mm3 == pytest.approx(math.pi * (30**2 * 32 + 20**2 * 6 - 25**2 * 10), rel=1e-3)
    with pytest.raises(WorkpieceFault, match="nothing falls off"):
        carry(Offcut(blank=stock, steps=steps[:1]), ())


def test_facing_an_end_lets_nothing_fall_and_the_lid_is_what_a_later_step_parts_off() -> None:
    """Common practice, no published source: less than a millimetre past a kerf comes off as chips."""
    stock, chuck = Round(diameter_mm=60, long_mm=120), JawsOnBlank(deep_mm=15)
    for past, falls in ((0.0, False), (0.9, False), (5.0, True)):
        face = PartOff(name="true face", at_mm=117 - past, keep=End.LEFT, kerf_mm=3)
        assert (carry(stock, (WorkStep(name="face", holds=(chuck,), cuts=(face,)),))[-1].offcut is not None) is falls
    steps = tuple(
        WorkStep(name=name, holds=(chuck,), cuts=(PartOff(name=name, at_mm=at, keep=End.LEFT, kerf_mm=3),))
        for name, at in (("face", 117), ("part", 80))
    )
    assert carry(Offcut(blank=stock, steps=steps), ())[0].box_mm[2::3] == pytest.approx((83, 117))


SQUARE = Square(side_mm=50, long_mm=100)
JAWS = ShopLimits(jaws=(Jaws(name="small", grip_mm=(20, 35)), Jaws(name="large", grip_mm=(45, 70), deep_mm=15)))


def bare(blank: Round | Square | Board, hold: JawsOnBlank, *, shop: ShopLimits = JAWS) -> dict[Code, Verdict]:
    stage = carry(blank, (WorkStep(name="held", holds=(hold,)),), shop=shop)[-1]
    return {verdict.code: verdict for verdict in stage.verdicts}


def test_jaws_on_bare_wood_must_take_its_own_diameter() -> None:
    assert Code.HOLD_OUT_OF_RANGE not in bare(BLANK, JawsOnBlank(deep_mm=15))
    wide = bare(Round(diameter_mm=80, long_mm=100), JawsOnBlank(deep_mm=15))[Code.HOLD_OUT_OF_RANGE]
    assert wide.numbers == {"have_mm": pytest.approx(80, rel=1e-3), "least_mm": 45, "most_mm": 70}
    named = bare(BLANK, JawsOnBlank(deep_mm=15, jaws="small"))[Code.HOLD_OUT_OF_RANGE]
    assert named.names == ("held end", "small")


def test_a_square_is_held_by_its_flats_and_of_a_board_only_two_jaws_bear() -> None:
    """50 mm across the narrow way, and corner to corner of 50 by 80 mm: by Pythagoras."""
    for wood in (SQUARE, BLANK):
        found = bare(wood, JawsOnBlank(deep_mm=15))
        assert not {Code.HOLD_OUT_OF_RANGE, Code.NOT_ROUND} & found.keys()
    board = Board(wide_mm=80, thick_mm=50, long_mm=100)
    told = bare(board, JawsOnBlank(deep_mm=15))[Code.NOT_ROUND]
    assert told.numbers["least_mm"] == pytest.approx(50, rel=1e-3)
    # Felt at angles all around, of which none need hit the corner: never over it, and close.
    assert 0.97 * math.hypot(50, 80) < told.numbers["most_mm"] <= math.hypot(50, 80)
    assert Code.NOT_ROUND not in bare(board, JawsOnBlank(deep_mm=15, tailstock=True))


def test_little_wood_in_the_jaws_is_a_short_grip_unless_the_tailstock_is_up() -> None:
    """A quarter of the diameter: common practice, no published source."""
    short = bare(BLANK, JawsOnBlank(deep_mm=10))[Code.SHORT_GRIP]
    # As wide as it is, and not as the straight sides that it is drawn with: a 4 in blank was told as 4.001 in.
    assert short.numbers["diameter_mm"] == pytest.approx(BLANK.diameter_mm, abs=1e-3)
    assert short.numbers["have_mm"] == 10
    assert short.numbers["least_mm"] == pytest.approx(15, rel=1e-3)
    assert Code.SHORT_GRIP not in bare(BLANK, JawsOnBlank(deep_mm=15))
    assert Code.SHORT_GRIP not in bare(BLANK, JawsOnBlank(deep_mm=10, tailstock=True))
    # Where nothing is said, as much goes in as the jaws are deep: 15 mm of 68 mm is short.
    assert Code.SHORT_GRIP in bare(Round(diameter_mm=68, long_mm=100), JawsOnBlank())


def test_more_wood_than_the_jaws_are_deep_does_not_go_in() -> None:
    found = bare(BLANK, JawsOnBlank(deep_mm=20))[Code.HOLD_OUT_OF_RANGE]
    assert found.numbers == {"have_mm": 20, "most_mm": 15}
    with pytest.raises(WorkpieceFault, match="of the wood is to be in the jaws, and it is"):
        bare(BLANK, JawsOnBlank(deep_mm=100))
    with pytest.raises(WorkpieceFault, match="the wood in the jaws is"):
        bare(BLANK, JawsOnBlank(deep_mm=0))


def test_wood_in_the_jaws_does_not_stand_out_of_them() -> None:
    stage = carry(BLANK, (WorkStep(name="held", holds=(JawsOnBlank(deep_mm=15),)),))[-1]
    assert stage.held is not None
    assert stage.held.overhang_mm == pytest.approx(85)
    assert stage.held.diameter_mm == pytest.approx(60, rel=2e-3)


@pytest.mark.parametrize("turn", [0.0, 90.0, 210.0])
def test_a_tenon_set_off_in_its_chuck_turns_beside_its_own_axis(turn: float) -> None:
    """Closed form: it swings its radius and the offset, and a cylinder that is turned there stands off by as much."""
    hold = JawsOnTenon(tenon="tenon", offset_mm=6, angle_deg=turn)
    cut = Cylinder(name="side", diameter_mm=36, start_mm=60, end_mm=100)
    stage = carry(BLANK, (START, WorkStep(name="beside", holds=(hold,), cuts=(cut,))))[-1]
    assert stage.radius_before_mm == pytest.approx(36, rel=1e-3)
    far = stage.wood.vertices[stage.wood.vertices[:, 2] > 80]
    middle = (far.min(axis=0) + far.max(axis=0)) / 2
    assert middle[:2] == pytest.approx([6 * math.cos(math.radians(turn)), 6 * math.sin(math.radians(turn))], abs=0.05)


def test_wood_that_leans_in_its_jaws_turns_on_a_line_from_where_it_leaves_them() -> None:
    """Closed form: 80 mm out of the jaws, a lean of 5 degrees carries the axis 80 tan 5° aside."""
    hold = JawsOnBlank(end=End.LEFT, deep_mm=20, tilt_deg=5)
    axis = held(hold).axis
    assert axis.to_part(np.array([0.0, 0.0, 20.0])) == pytest.approx([0, 0, 20], abs=1e-9)
    out = np.array(axis.direction)
    assert 80 * out[0] / out[2] == pytest.approx(80 * math.tan(math.radians(5)))
    back = held(JawsOnBlank(end=End.LEFT, deep_mm=20, offset_mm=4, tilt_deg=-5)).axis
    at_end = np.array(back.origin) + (100 - back.origin[2]) / back.direction[2] * np.array(back.direction)
    assert at_end[0] == pytest.approx(4 - 80 * math.tan(math.radians(5)))


def test_from_either_end_the_axis_leans_away_the_way_of_the_offset() -> None:
    """Held at the right the wood leaves its hold toward the left: the axis lies farther out there."""
    axis = held(Faceplate(end=End.RIGHT, offset_mm=3, tilt_deg=4)).axis
    at = {
        z: (np.array(axis.origin) + (z - axis.origin[2]) / axis.direction[2] * np.array(axis.direction))[0]
        for z in (0.0, 100.0)
    }
    assert at[100.0] == pytest.approx(3)
    assert at[0.0] == pytest.approx(3 + 100 * math.tan(math.radians(4)))


def test_jaws_close_on_the_wood_itself_however_it_is_set_off() -> None:
    jaws = Jaws(name="jaws", grip_mm=(55, 65), deep_mm=40)
    stage = held(JawsOnBlank(deep_mm=40, offset_mm=8), shop=ShopLimits(jaws=(jaws,)))
    assert found(stage, Code.HOLD_OUT_OF_RANGE) == []
    assert stage.held is not None
    assert stage.held.diameter_mm == pytest.approx(60, rel=1e-3)
    assert stage.held.overhang_mm == pytest.approx(60)


@pytest.mark.parametrize(
    ("hold", "says"),
    [
        (JawsOnBlank(tilt_deg=46), "leans by 46 deg"),
        (JawsOnBlank(tilt_deg=math.nan), "leans by nan deg"),
        (JawsOnBlank(offset_mm=-1), "the offset is −"),
        (JawsOnBlank(offset_mm=1e9), "the offset is"),
    ],
    ids=["leans", "no number", "less than nought", "beyond bounds"],
)
def test_a_hold_off_its_axis_is_kept_within_bounds(hold: JawsOnBlank, says: str) -> None:
    with pytest.raises(WorkpieceFault, match=says):
        held(hold)


def test_a_tail_center_that_misses_the_leaning_wood_bears_on_nothing() -> None:
    stage = held(JawsOnBlank(deep_mm=20, tilt_deg=25, tailstock=True))
    assert found(stage, Code.BEARS_ON_NOTHING)
