"""What a cut does to the hold it is made in. Common practice, no published source, where nothing else is said."""

from __future__ import annotations

import math

import pytest

from handouts_build.workpiece import (
    BaseCut,
    BaseHold,
    BetweenCenters,
    Board,
    Bore,
    Code,
    Cylinder,
    End,
    Enlarge,
    Faceplate,
    GluedRing,
    Hollow,
    JawsInRecess,
    JawsOnBlank,
    JawsOnTenon,
    Mandrel,
    PartOff,
    ProfileCut,
    Recess,
    Round,
    ShopLimits,
    Square,
    Stage,
    Staves,
    Tenon,
    Verdict,
    WorkStep,
    carry,
)
from handouts_build.workpiece.axes import PART_AXIS
from handouts_build.workpiece.measures import radius_about_mm

BLANK = Round(diameter_mm=60, long_mm=100)
TENON = Tenon(name="tenon", diameter_mm=40, long_mm=8, end=End.LEFT)
START = WorkStep(name="start", holds=(BetweenCenters(),), cuts=(TENON,))
CUP = Hollow(name="cup", points_mm=((60.0, 0.0), (61.0, 20.0), (100.0, 22.0)), end=End.RIGHT)


def held(hold: BaseHold, *cuts: BaseCut, first: WorkStep = START) -> Stage:
    return carry(BLANK, (first, WorkStep(name="held", holds=(hold,), cuts=cuts)))[-1]


def found(stage: Stage, code: Code) -> list[Verdict]:
    return [verdict for verdict in stage.verdicts if verdict.code is code]


# ---- Sizes as they are, and not as they are drawn -------------------------------


@pytest.mark.parametrize("segments", [48, 72])
@pytest.mark.parametrize("across", [12.7, 50.8, 101.6, 304.8])
def test_a_round_is_as_wide_as_it_was_made(across: float, segments: int) -> None:
    (stage,) = carry(Round(diameter_mm=across, long_mm=50), (), segments=segments)
    assert 2 * stage.radius_mm == pytest.approx(across, rel=1e-9)


def test_a_square_sweeps_its_diagonal_and_a_ring_of_straight_pieces_its_corners() -> None:
    """a sqrt(2), and a / cos(180 deg / n) of a regular polygon a across its flats."""
    (square,) = carry(Square(side_mm=50, long_mm=80), ())
    assert 2 * square.radius_mm == pytest.approx(50 * math.sqrt(2), rel=1e-9)
    (ring,) = carry(Staves(pieces=12, across_mm=120, inside_mm=80, long_mm=60), ())
    assert 2 * ring.radius_mm == pytest.approx(120 / math.cos(math.pi / 12), rel=1e-9)


def test_wood_turned_round_is_measured_as_round_with_grooves_and_flats_on_it() -> None:
    turned = WorkStep(
        name="turn",
        holds=(BetweenCenters(),),
        cuts=(Cylinder(name="a", diameter_mm=50.8, end_mm=40), Cylinder(name="b", diameter_mm=40, start_mm=40)),
    )
    stage = carry(Square(side_mm=60, long_mm=80), (turned,))[-1]
    assert 2 * radius_about_mm(stage.wood, PART_AXIS, segments=72) == pytest.approx(50.8, rel=1e-9)


@pytest.mark.parametrize(("swing", "stops"), [(60.0, False), (59.9, True)])
def test_a_blank_as_wide_as_the_lathe_swings_clears_the_bed(swing: float, stops: bool) -> None:
    step = WorkStep(name="turn", holds=(BetweenCenters(),))
    stage = carry(BLANK, (step,), shop=ShopLimits(swing_mm=swing))[-1]
    assert bool(found(stage, Code.DOES_NOT_CLEAR_BED)) == stops


# ---- What a cut takes from its hold ---------------------------------------------


def test_a_cylinder_over_the_whole_length_takes_the_tenon_away() -> None:
    whole = Cylinder(name="cylinder", diameter_mm=30)
    assert found(held(JawsOnTenon(tenon="tenon"), whole), Code.CUTS_ITS_HOLD)[0].names == ("cylinder", "tenon")
    short = Cylinder(name="cylinder", diameter_mm=30, start_mm=8)
    assert found(held(JawsOnTenon(tenon="tenon"), short), Code.CUTS_ITS_HOLD) == []


def test_wood_turned_inside_bare_jaws_is_what_they_close_on() -> None:
    bare = JawsOnBlank(deep_mm=15)
    assert found(held(bare, Cylinder(name="all", diameter_mm=50), first=WorkStep(name="none")), Code.CUTS_ITS_HOLD)
    assert found(held(bare, Cylinder(name="most", diameter_mm=50, start_mm=15)), Code.CUTS_ITS_HOLD) == []
    assert found(held(bare, Bore(name="bore", diameter_mm=12, end=End.RIGHT)), Code.CUTS_ITS_HOLD) == []


def test_a_recess_made_wider_lets_its_jaws_go() -> None:
    start = WorkStep(
        name="start", holds=(BetweenCenters(),), cuts=(Recess(name="eye", diameter_mm=30, end=End.LEFT, deep_mm=10),)
    )
    wider = Enlarge(name="wider", hole="eye", diameter_mm=40)
    assert found(held(JawsInRecess(recess="eye"), wider, first=start), Code.CUTS_ITS_HOLD)


def test_parting_off_from_the_tenon_is_what_a_hold_is_for() -> None:
    part = PartOff(name="part", at_mm=12, keep=End.RIGHT)
    assert found(held(JawsOnTenon(tenon="tenon"), part), Code.CUTS_ITS_HOLD) == []


def test_parting_between_centers_lets_go_and_nothing_holds_after_it() -> None:
    part = WorkStep(name="part", holds=(BetweenCenters(),), cuts=(PartOff(name="part", at_mm=30, keep=End.RIGHT),))
    on = WorkStep(name="on", cuts=(Cylinder(name="cylinder", diameter_mm=50),))
    _, parted, after = carry(BLANK, (part, on))
    assert found(parted, Code.PARTED_BETWEEN_CENTERS)[0].names == ("part",)
    assert found(after, Code.PARTED_FROM_ITS_CENTER)


def test_a_hollow_is_not_cut_where_the_tail_center_stands() -> None:
    assert found(held(JawsOnTenon(tenon="tenon", tailstock=True), CUP), Code.CENTER_IN_THE_WAY)
    assert found(held(JawsOnTenon(tenon="tenon"), CUP), Code.CENTER_IN_THE_WAY) == []


def test_a_faceplate_that_lies_within_a_tubes_opening_bears_on_nothing() -> None:
    tube = Staves(pieces=12, across_mm=130, inside_mm=75, long_mm=100)
    for across, nothing in ((50, True), (74, True), (100, False)):
        stage = carry(tube, (WorkStep(name="mount", holds=(Faceplate(diameter_mm=across),)),))[-1]
        assert bool(found(stage, Code.BEARS_ON_NOTHING)) == nothing
    ring = GluedRing(pieces=8, across_mm=130, inside_mm=75, long_mm=20)
    stage = carry(ring, (WorkStep(name="mount", holds=(BetweenCenters(drive_mm=25),)),))[-1]
    assert found(stage, Code.BEARS_ON_NOTHING)[0].names == ("drive center",)


def test_a_center_of_no_said_width_does_not_span_a_hole_wider_than_an_inch() -> None:
    """Common practice, no published source. A kit's widest center counts, and so does the author's own."""
    ring = GluedRing(pieces=8, across_mm=130, inside_mm=75, long_mm=40)
    tail = {"tail_mm": 90.0}
    kit = ShopLimits(drive_centers_mm=(25, 85))
    for hold, shop, nothing in (
        (BetweenCenters(**tail), ShopLimits(), True),
        (BetweenCenters(**tail), kit, False),
        (BetweenCenters(drive_mm=85, **tail), ShopLimits(), False),
        (BetweenCenters(drive_mm=30, **tail), kit, True),
    ):
        stage = carry(ring, (WorkStep(name="mount", holds=(hold,)),), shop=shop)[-1]
        assert bool(found(stage, Code.BEARS_ON_NOTHING)) == nothing


def test_no_center_bears_on_wood_that_a_mandrel_goes_through() -> None:
    ring = GluedRing(pieces=8, across_mm=130, inside_mm=75, long_mm=40)
    stage = carry(ring, (WorkStep(name="turn", holds=(Mandrel(),), cuts=(Cylinder(name="c", diameter_mm=120),)),))[-1]
    assert stage.verdicts == ()


# ---- A cup on its stem -----------------------------------------------------------


def _stemmed(thick_mm: float) -> WorkStep:
    """A cup from 60 to 100 on a stem from 20 to 60."""
    half = thick_mm / 2
    points = ((8.0, 28.0), (20.0, 28.0), (20.0, half), (60.0, half), (60.0, 28.0), (100.0, 28.0))
    return WorkStep(
        name="stem", holds=(JawsOnTenon(tenon="tenon", tailstock=True),),
        cuts=(ProfileCut(name="outside", points_mm=points),),
    )  # fmt: skip


@pytest.mark.parametrize(("thick", "minded"), [(8.0, True), (30.0, False)])
def test_a_cup_hollowed_on_its_finished_stem_is_minded_by_the_lever_over_the_neck(thick: float, minded: bool) -> None:
    hollow = WorkStep(name="hollow", holds=(JawsOnTenon(tenon="tenon"),), cuts=(CUP,))
    stage = carry(BLANK, (START, _stemmed(thick), hollow))[-1]
    verdicts = found(stage, Code.THIN_NECK)
    assert bool(verdicts) == minded
    if minded:
        numbers = verdicts[0].numbers
        assert numbers["neck_mm"] == pytest.approx(thick, rel=2e-3)
        assert 40 < numbers["out_mm"] < 80
        assert numbers["ratio"] == pytest.approx(numbers["out_mm"] / numbers["neck_mm"])


@pytest.mark.parametrize("hold", [JawsOnTenon(tenon="tenon", tailstock=True),
                                  JawsOnTenon(tenon="tenon", steadied=True)])  # fmt: skip
def test_a_tail_center_or_a_steady_rest_takes_the_whip_out(hold: BaseHold) -> None:
    bore = Bore(name="bore", diameter_mm=10, end=End.RIGHT, deep_mm=20)
    stage = carry(BLANK, (START, _stemmed(8.0), WorkStep(name="bore", holds=(hold,), cuts=(bore,))))[-1]
    assert found(stage, Code.THIN_NECK) == []
    assert found(stage, Code.OVERHANG) == []


def test_hollowing_before_the_stem_is_turned_stands_on_no_neck() -> None:
    hollow = WorkStep(name="hollow", holds=(JawsOnTenon(tenon="tenon"),), cuts=(CUP,))
    assert found(carry(BLANK, (START, hollow))[-1], Code.THIN_NECK) == []


def test_a_board_has_no_circle_to_be_measured_by() -> None:
    (stage,) = carry(Board(wide_mm=80, thick_mm=20, long_mm=60), ())
    assert 2 * stage.radius_mm == pytest.approx(math.hypot(80, 20), rel=1e-9)
