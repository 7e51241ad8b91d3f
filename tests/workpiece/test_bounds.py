"""Bad input: refused with its place and a hint, in bounded time, and nothing lost."""

from __future__ import annotations

import dataclasses
import math

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from handouts_build.problems import HandoutsError
from handouts_build.workpiece import (
    AxialHoles,
    Ball,
    BaseBlank,
    BaseCut,
    BetweenCenters,
    Board,
    Bore,
    Branch,
    CarveOval,
    Code,
    Cylinder,
    Dots,
    End,
    EndCircle,
    Enlarge,
    Facets,
    Flat,
    GluedRing,
    Groove,
    HolesAround,
    Hollow,
    OffsetCenters,
    PartOff,
    Prism,
    ProfileCut,
    Reach,
    Recess,
    RingLine,
    Round,
    Square,
    StageCache,
    Stub,
    Tenon,
    WorkpieceFault,
    WorkStep,
    carry,
)
from tests.effort import tries

BLANK = Round(diameter_mm=60, long_mm=100)


def refused(*cuts: BaseCut, blank: BaseBlank = BLANK) -> WorkpieceFault:
    """The fault of cuts made one a step."""
    steps = tuple(WorkStep(name=f"step {one}", holds=(BetweenCenters(),), cuts=(cut,)) for one, cut in enumerate(cuts))
    with pytest.raises(WorkpieceFault) as caught:
        carry(blank, steps, segments=36)
    assert caught.value.message
    assert caught.value.hint
    return caught.value


BORE = Bore(name="bore", diameter_mm=10, end=End.LEFT)
PART = PartOff(name="part", at_mm=50, keep=End.LEFT)
CROSSING = ((0.0, 20.0), (40.0, 25.0), (20.0, 10.0))


@pytest.mark.parametrize(
    ("cut", "says"),
    [
        (Cylinder(name="a", diameter_mm=0), "diameter is 0"),
        (Cylinder(name="a", diameter_mm=-5), "diameter is −"),
        (Cylinder(name="a", diameter_mm=math.nan), "not a number"),
        (Cylinder(name="a", diameter_mm=math.inf), "not a number"),
        (Cylinder(name="a", diameter_mm=1e9), "is 39,370"),
        (Cylinder(name="a", diameter_mm=20, start_mm=30, end_mm=30), "begins at"),
        (Cylinder(name="a", diameter_mm=20, start_mm=120, end_mm=130), "outside the wood"),
        (Cylinder(name="", diameter_mm=20), "called ''"),
        (Ball(name="a", diameter_mm=80, at_mm=50), "does not come from wood"),
        (Ball(name="a", diameter_mm=50, at_mm=90), "past the end of the wood"),
        (Ball(name="a", diameter_mm=50, at_mm=50, keep_left_mm=50), "a stub"),
        (Facets(name="a", flats=7, diameter_mm=50, at_mm=50), "7 flats"),
        (Tenon(name="a", diameter_mm=20, long_mm=0, end=End.LEFT), "length is 0"),
        (Tenon(name="a", diameter_mm=20, long_mm=200, end=End.LEFT), "past the end of the wood"),
        (ProfileCut(name="a", points_mm=CROSSING), "turns back on itself"),
        (ProfileCut(name="a", points_mm=((0.0, 20.0),)), "1 points"),
        (ProfileCut(name="a", points_mm=((0.0, 20.0), (10.0, -1.0))), "crosses the axis"),
        (ProfileCut(name="a", points_mm=((0.0, 0.0), (10.0, 0.0))), "lies in the axis"),
        (ProfileCut(name="a", points_mm=((0.0, 5.0), (0.0, 10.0))), "no length"),
        (ProfileCut(name="a", points_mm=((0.0, 20.0), (150.0, 20.0))), "past the end of the wood"),
        (ProfileCut(name="a", points_mm=tuple((one / 100, 20.0) for one in range(5000))), "5000 points"),
        (
            ProfileCut(name="a", points_mm=((0.0, 9.0), (9.0, 9.0)), stubs=(Stub("t", 4, 4, 18, End.LEFT),)),
            "tenon's length",
        ),
        (PartOff(name="a", at_mm=50, keep=End.LEFT, kerf_mm=0), "parting cut's kerf is 0"),
        (PartOff(name="a", at_mm=0, keep=End.LEFT), "leaves no wood"),
        (PartOff(name="a", at_mm=200, keep=End.LEFT), "outside the wood"),
        (Bore(name="a", diameter_mm=10, end=End.LEFT, deep_mm=-1), "depth is −"),
        (Recess(name="a", diameter_mm=0, end=End.LEFT, deep_mm=3), "recess's diameter"),
        (HolesAround(name="a", diameter_mm=5, count=10_000, at_mm=50, deep_mm=9), "10000 holes"),
        (HolesAround(name="a", diameter_mm=5, count=181, at_mm=50, deep_mm=9), "181 holes"),
        (HolesAround(name="a", diameter_mm=5, count=0, at_mm=50, deep_mm=9), "0 holes"),
        (HolesAround(name="a", diameter_mm=5, count=4, at_mm=50), "no one depth"),
        (HolesAround(name="a", diameter_mm=5, count=4, at_mm=50, deep_mm=9, reach=Reach.AXIS), "no one depth"),
        (HolesAround(name="a", diameter_mm=5, count=4, at_mm=150, deep_mm=9), "outside the wood"),
        (AxialHoles(name="a", diameter_mm=5, count=4, circle_mm=0, end=End.LEFT), "circle of the holes is 0"),
        (AxialHoles(name="a", diameter_mm=5, count=4, circle_mm=70, end=End.LEFT), "outside the wood"),
        (Groove(name="a", at_mm=50, wide_mm=0, floor_mm=9), "groove's width"),
        (Groove(name="a", at_mm=50, wide_mm=5, floor_mm=0), "groove's floor"),
        (Groove(name="a", at_mm=150, wide_mm=5, floor_mm=9), "outside the wood"),
        (Hollow(name="a", points_mm=((0.0, 0.0), (10.0, 5.0)), end=End.LEFT), "hollow's opening"),
        (Enlarge(name="a", hole="none", diameter_mm=9), "nothing here is called 'none'"),
        (Flat(name="a", distance_mm=40), "outside the wood"),
        (Prism(name="a", flats=2, across_mm=30), "2 flats"),
        (Prism(name="a", flats=1000, across_mm=30), "1000 flats"),
        (CarveOval(name="a", wide_mm=0, thick_mm=10), "oval's width"),
        (Cylinder(name="a", diameter_mm=20, meets=("nothing",)), "is no cut"),
    ],
)
def test_a_cut_that_means_nothing_is_refused(cut: BaseCut, says: str) -> None:
    assert says in refused(cut).message


def test_a_fault_tells_its_step_and_its_cut() -> None:
    steps = (
        WorkStep(name="one", holds=(BetweenCenters(),)),
        WorkStep(name="two", cuts=(BORE, Cylinder(name="a", diameter_mm=0))),
    )
    with pytest.raises(WorkpieceFault) as caught:
        carry(BLANK, steps)
    assert (caught.value.step, caught.value.cut) == (1, 1)
    assert len(caught.value.done) == 2
    assert isinstance(caught.value, HandoutsError)


def test_parting_again_where_nothing_is_left_is_refused() -> None:
    assert refused(PART, dataclasses.replace(PART, name="again")).step == 1


def test_two_cuts_of_one_name_are_refused() -> None:
    fault = refused(BORE, BORE)
    assert "two cuts are called 'bore'" in fault.message
    assert fault.hint == "step 1 has a cut of that name already"
    holes = HolesAround(name="holes", each="bore", diameter_mm=3, count=1, at_mm=20, deep_mm=5)
    assert "two things are called 'bore'" in refused(BORE, holes).message


def test_enlarging_to_less_is_refused() -> None:
    assert "wide already" in refused(BORE, Enlarge(name="a", hole="bore", diameter_mm=9)).message
    tenon = Tenon(name="tenon", diameter_mm=20, long_mm=10, end=End.LEFT)
    assert "is no hole" in refused(tenon, Enlarge(name="a", hole="tenon", diameter_mm=30)).message


@pytest.mark.parametrize(
    "blank",
    [
        Round(diameter_mm=0, long_mm=10),
        Square(side_mm=-1, long_mm=10),
        Board(wide_mm=10, thick_mm=math.nan, long_mm=10),
        Branch(diameter_mm=50, long_mm=50, bark_mm=25),
        Branch(diameter_mm=50, long_mm=50, pith_mm=30),
        GluedRing(pieces=2, across_mm=50, inside_mm=20, long_mm=10),
        GluedRing(pieces=8, across_mm=50, inside_mm=50, long_mm=10),
    ],
)
def test_a_blank_that_is_none_is_refused(blank: BaseBlank) -> None:
    with pytest.raises(WorkpieceFault):
        carry(blank, ())


@pytest.mark.parametrize(
    "mark", [RingLine(at_mm=200), EndCircle(diameter_mm=80, end=End.LEFT), Dots(count=0, at_mm=50)]
)
def test_a_mark_off_the_wood_is_refused(mark: RingLine | EndCircle | Dots) -> None:
    with pytest.raises(WorkpieceFault) as caught:
        carry(BLANK, (WorkStep(name="mark", holds=(BetweenCenters(),), marks=(mark,)),))
    assert caught.value.step == 0


@pytest.mark.parametrize(
    ("cuts", "holes", "says", "blamed"),
    [(121, 1, "121 cuts in one part", 120), (4, 100, "300 cuts and holes in one part", 2)],
)
def test_too_much_work_is_refused_before_any_is_done(cuts: int, holes: int, says: str, blamed: int) -> None:
    """The cut with which it is too much is blamed."""
    many = tuple(HolesAround(name=f"row {one}", diameter_mm=1, count=holes, at_mm=50, deep_mm=3) for one in range(cuts))
    with pytest.raises(WorkpieceFault, match=says) as caught:
        carry(BLANK, (WorkStep(name="drill", holds=(BetweenCenters(),), cuts=many),))
    assert (caught.value.step, caught.value.cut) == (0, blamed)


def test_a_step_repeated_over_many_holds_counts_each_time() -> None:
    holds = tuple(OffsetCenters(offset_mm=5, angle_deg=float(one)) for one in range(121))
    with pytest.raises(WorkpieceFault, match="cuts in one part"):
        carry(BLANK, (WorkStep(name="sides", holds=holds, cuts=(Cylinder(name="side", diameter_mm=50),)),))


@pytest.mark.long
def test_a_plan_made_to_explode_ends_within_bounds() -> None:
    """Off-axis cylinders, grooves and holes as many as are taken: a result or a fault."""
    holds = tuple(OffsetCenters(offset_mm=6, angle_deg=14.3 * one) for one in range(25))
    steps = (
        WorkStep(name="sides", holds=holds, cuts=(Cylinder(name="side", diameter_mm=56),)),
        WorkStep(
            name="drill",
            holds=(BetweenCenters(),),
            cuts=(HolesAround(name="holes", diameter_mm=0.5, count=180, at_mm=50, deep_mm=10),),
        ),
    )
    stages = carry(BLANK, steps)
    assert stages[-1].wood.triangle_count < 400_000


def test_nothing_is_lost_by_a_fault() -> None:
    """The stages before a refused step are kept, and are there when it is mended."""
    kept = StageCache()
    good = WorkStep(name="bore", holds=(BetweenCenters(),), cuts=(BORE,))
    with pytest.raises(WorkpieceFault):
        carry(BLANK, (good, WorkStep(name="bad", cuts=(Cylinder(name="a", diameter_mm=0),))), kept=kept)
    first = carry(BLANK, (good,), kept=kept)[-1]
    mended = carry(BLANK, (good, WorkStep(name="good", cuts=(Cylinder(name="a", diameter_mm=40),))), kept=kept)
    assert mended[1] is first


wild = st.one_of(st.floats(-200, 300), st.sampled_from([0.0, 1e-150, 1e-9, 60.0, 100.0, math.nan, math.inf, 1e308]))


@settings(max_examples=tries(20, 60), phases=[Phase.explicit, Phase.reuse, Phase.generate])
@given(
    st.sampled_from([Cylinder, Tenon, Ball, Bore, Recess, Groove, HolesAround, AxialHoles, PartOff, Flat, CarveOval]),
    st.data(),
)
def test_any_numbers_give_a_stage_or_a_fault(kind: type, data: st.DataObject) -> None:
    """Never another error, and never more wood."""
    told: dict[str, object] = {"name": "cut"}
    for field in dataclasses.fields(kind):
        if field.name.endswith(("_mm", "_deg")):
            told[field.name] = data.draw(wild, field.name)
        elif field.name == "count":
            told[field.name] = data.draw(st.integers(-1, 12))
        elif field.name in {"end", "keep"}:
            told[field.name] = data.draw(st.sampled_from(End))
    step = WorkStep(name="step", holds=(BetweenCenters(),), cuts=(kind(**told),))
    try:
        stage = carry(BLANK, (step,), segments=24)[-1]
    except WorkpieceFault as fault:
        place = (fault.step, fault.message != "", fault.hint != "")
    else:
        place = (0, True, stage.volume_mm3 <= math.pi * 30**2 * 100 * 1.000001)
    assert place == (0, True, True)


@pytest.mark.parametrize("across", [1e-150, 1e-9])
def test_a_ball_too_small_to_see_is_refused_or_leaves_no_wood(across: float) -> None:
    ball = Ball(name="ball", diameter_mm=across, at_mm=50.0)
    with pytest.raises(WorkpieceFault):
        carry(BLANK, (WorkStep(name="step", holds=(BetweenCenters(),), cuts=(ball, ball)),))


@pytest.mark.long
def test_rings_of_holes_that_all_break_into_each_other_are_looked_at_five_times() -> None:
    """After five break-throughs of one step its walls are no longer looked at: they are more than enough to mend."""
    rows = tuple(
        HolesAround(
            name=f"row {one}", each=f"hole {one}.", diameter_mm=3, count=16, at_mm=20 + 2 * one, reach=Reach.THROUGH
        )
        for one in range(15)
    )
    last = carry(BLANK, (WorkStep(name="drill", holds=(BetweenCenters(),), cuts=rows),))[-1]
    broken = [one for one in last.verdicts if one.code is Code.UNMEANT_BREAK_THROUGH]
    assert 5 <= len(broken) < 15


def test_a_ring_has_three_pieces_at_least() -> None:
    assert GluedRing(pieces=3, across_mm=50, inside_mm=20, long_mm=10).wrong() is None
    assert GluedRing(pieces=180, across_mm=50, inside_mm=20, long_mm=10).wrong() is None


def test_a_tenon_of_a_profile_turned_end_for_end_points_the_other_way() -> None:
    stub = Stub("tenon", 0, 10, 20, End.LEFT)
    assert stub.other_way(50) == Stub("tenon", 40, 50, 20, End.RIGHT)
    assert stub.other_way(50).other_way(50) == stub
