"""Wood between cuts, where they meet, and where they come out, against closed forms."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
import pytest

from handouts_build.workpiece import (
    AxialHoles,
    Ball,
    BaseCut,
    BetweenCenters,
    BetweenHoles,
    BitType,
    Board,
    Bore,
    Code,
    Cylinder,
    End,
    Enlarge,
    Groove,
    HolesAround,
    Hollow,
    JawsInRecess,
    JawsOnBlank,
    Limits,
    PartOff,
    ProfileCut,
    Reach,
    Recess,
    Round,
    Stage,
    Verdict,
    WorkStep,
    carry,
)
from handouts_build.workpiece.axes import Axis, axis_through
from handouts_build.workpiece.features import ring_points
from handouts_build.workpiece.gaps import gap_of
from handouts_build.workpiece.solid import Solid

BLANK = Round(diameter_mm=60, long_mm=100)
CENTERS = (BetweenCenters(),)


def made(*cuts: BaseCut, blank: Round | Board = BLANK, limits: Limits | None = None) -> Stage:
    """All the cuts in one step, between centers."""
    return carry(blank, (WorkStep(name="cut", holds=CENTERS, cuts=cuts),), limits=limits)[-1]


def codes(stages: Stage | Iterable[Stage]) -> list[Code]:
    """What is found of the wood between cuts: that these bores are made between centers is for `test_grip`."""
    found = [stages] if isinstance(stages, Stage) else stages
    verdicts = (verdict for stage in found for verdict in stage.verdicts)
    return [verdict.code for verdict in verdicts if verdict.code is not Code.CENTER_IN_THE_WAY]


def only(stage: Stage, code: Code) -> Verdict:
    """The one verdict of a kind."""
    (found,) = [verdict for verdict in stage.verdicts if verdict.code is code]
    return found


@pytest.mark.parametrize(("offset", "tilt"), [(9.0, 90.0), (12.0, 35.0), (15.0, 70.0)])
def test_the_gap_between_two_skew_bores_is_the_distance_of_their_lines_less_the_radii(
    offset: float, tilt: float
) -> None:
    """|(p₂ - p₁) · (d₁ x d₂)| / |d₁ x d₂| (analytic geometry, any textbook), less both radii."""
    radii = (3.0, 4.0)
    one = axis_through(np.array([0.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0]))
    turn = math.radians(tilt)
    other = axis_through(np.array([offset, 0.0, 5.0]), np.array([0.0, math.sin(turn), math.cos(turn)]))
    between = np.array(other.origin) - np.array(one.origin)
    across = np.cross(one.direction, other.direction)
    distance = abs(float(between @ across)) / float(np.linalg.norm(across))
    bodies = [
        Solid.cylinder(radius_mm=radius, start_mm=-60, end_mm=60, segments=96).moved(axis)
        for radius, axis in zip(radii, (one, other), strict=True)
    ]
    assert bodies[0].gap_mm(bodies[1], within_mm=20) == pytest.approx(distance - sum(radii), abs=0.01)


@pytest.mark.parametrize(("count", "bit"), [(6, 6.35), (8, 8.0), (12, 4.0)])
def test_holes_break_into_each_other_where_the_formula_says(count: int, bit: float) -> None:
    """Neighbors of n radial holes of diameter d meet at d / (2 sin(180°/n)) from the axis (plane geometry)."""
    holes = HolesAround(name="holes", diameter_mm=bit, count=count, at_mm=50, reach=Reach.AXIS)
    wood = made(holes).wood
    halfway = math.pi / count
    radii = np.linspace(0.5, 29, 1200)
    points = np.stack([radii * math.cos(halfway), radii * math.sin(halfway), np.full_like(radii, 50.0)], axis=1)
    first = float(radii[wood.contains(points)][0])
    assert first == pytest.approx(bit / (2 * math.sin(math.pi / count)), rel=0.01)


def test_the_web_between_radial_holes_at_a_bore_is_the_chord_formula() -> None:
    """b sin(180°/n - arcsin(d / b)) at a bore of diameter b: the formula of trade.cross_holes, from plane geometry.

    The web is narrowest at the bore's wall.
    """
    count, bit, bore = 6, 6.35, 19.05
    stage = made(
        Bore(name="bore", diameter_mm=bore, end=End.LEFT),
        HolesAround(name="holes", diameter_mm=bit, count=count, at_mm=50, reach=Reach.AXIS, meets=("bore",)),
    )
    (web,) = [web for web in stage.webs if set(web.names) <= {f"holes {one}" for one in range(1, count + 1)}]
    assert web.left_mm == pytest.approx(bore * math.sin(math.pi / count - math.asin(bit / bore)), abs=0.02)
    assert codes(stage) == []


def test_blind_holes_stop_short_of_a_bore_by_the_difference() -> None:
    stage = made(
        Bore(name="bore", diameter_mm=20, end=End.LEFT),
        HolesAround(name="holes", diameter_mm=5, count=4, at_mm=50, deep_mm=18.0),
    )
    web = next(web for web in stage.webs if web.names == ("holes", "bore"))
    assert web.left_mm == pytest.approx(30 - 18 - 10, abs=0.02)
    verdict = only(stage, Code.THIN_WEB)
    assert verdict.names == ("holes", "bore")
    assert verdict.numbers["left_mm"] == pytest.approx(2.0, abs=0.02)
    assert verdict.at_mm is not None
    assert math.hypot(*verdict.at_mm[:2]) == pytest.approx(11, abs=1)


def test_a_hole_into_a_bore_is_a_finding_unless_it_is_meant() -> None:
    bore = Bore(name="bore", diameter_mm=20, end=End.LEFT)
    deep = {"name": "hole", "diameter_mm": 5.0, "count": 1, "at_mm": 50.0, "deep_mm": 22.0}
    verdict = only(made(bore, HolesAround(**deep)), Code.UNMEANT_BREAK_THROUGH)
    assert verdict.names == ("hole", "bore")
    assert codes(made(bore, HolesAround(**deep, meets=("bore",)))) == []
    shallow = HolesAround(name="hole", diameter_mm=5, count=1, at_mm=50, deep_mm=16, meets=("bore",))
    missing = only(made(bore, shallow), Code.MEANT_MEETING_MISSING)
    assert missing.names == ("hole", "bore")
    assert missing.numbers["gap_mm"] == pytest.approx(4, abs=0.02)


def test_the_limit_on_thin_wood_is_the_authors() -> None:
    cuts = (
        Bore(name="bore", diameter_mm=20, end=End.LEFT),
        HolesAround(name="hole", diameter_mm=5, count=1, at_mm=50, deep_mm=18),
    )
    assert codes(made(*cuts, limits=Limits(web_mm=1.9))) == []
    assert codes(made(*cuts, limits=Limits(web_mm=2.1))) == [Code.THIN_WEB]


def test_a_bore_longer_than_the_wood_comes_out() -> None:
    """And one that leaves a little is thin, by just what it leaves."""
    assert only(
        made(Bore(name="bore", diameter_mm=8, end=End.LEFT, deep_mm=101)), Code.UNMEANT_BREAK_THROUGH
    ).names == (
        "bore",
        "the outside",
    )
    thin = only(made(Bore(name="bore", diameter_mm=8, end=End.LEFT, deep_mm=98)), Code.THIN_WEB)
    assert thin.numbers["left_mm"] == pytest.approx(2, abs=0.01)
    assert codes(made(Bore(name="bore", diameter_mm=8, end=End.LEFT))) == []


def test_a_bore_close_under_the_side_is_thin_by_the_difference_of_radii() -> None:
    """A wall between a bore of 50 and a cylinder of 54 is 2."""
    stage = made(Cylinder(name="cylinder", diameter_mm=54), Bore(name="bore", diameter_mm=50, end=End.LEFT))
    assert only(stage, Code.THIN_WEB).names == ("bore", "cylinder")
    assert only(stage, Code.THIN_WEB).numbers["left_mm"] == pytest.approx(2, abs=0.02)
    later = made(Bore(name="bore", diameter_mm=50, end=End.LEFT), Cylinder(name="cylinder", diameter_mm=54))
    assert only(later, Code.THIN_WEB).names == ("cylinder", "bore")


def test_holes_that_come_out_of_the_side_are_told_once() -> None:
    holes = AxialHoles(name="holes", count=6, diameter_mm=8, circle_mm=56, end=End.LEFT, deep_mm=20)
    verdict = only(made(holes), Code.UNMEANT_BREAK_THROUGH)
    assert verdict.numbers == {"holes": 6.0}
    assert codes(made(AxialHoles(name="h", count=6, diameter_mm=8, circle_mm=40, end=End.LEFT, deep_mm=20))) == []


def test_a_cove_that_opens_a_hole_from_outside_is_found_at_the_cove() -> None:
    holes = AxialHoles(name="holes", count=2, diameter_mm=6, circle_mm=30, end=End.LEFT, deep_mm=80)
    cove = ProfileCut(name="cove", points_mm=((40.0, 30.0), (50.0, 16.0), (60.0, 30.0)))
    verdict = only(made(holes, cove), Code.UNMEANT_BREAK_THROUGH)
    assert verdict.names == ("holes 1", "cove")
    assert verdict.at_mm is not None
    assert 40 < verdict.at_mm[2] < 60


def test_cutting_a_hole_off_with_its_end_is_no_break_through() -> None:
    recess = Recess(name="recess", diameter_mm=20, end=End.RIGHT, deep_mm=8)
    part = PartOff(name="part", at_mm=85, keep=End.LEFT)
    assert Code.UNMEANT_BREAK_THROUGH not in codes(made(recess, part))


def test_enlarging_a_hole_meets_it_by_nature() -> None:
    stage = made(
        Bore(name="bore", diameter_mm=8, end=End.LEFT, deep_mm=40),
        Enlarge(name="counterbore", hole="bore", diameter_mm=16, deep_mm=10),
    )
    assert codes(stage) == []
    assert stage.volume_mm3 == pytest.approx(math.pi * (30**2 * 100 - 4**2 * 30 - 8**2 * 10), rel=1e-3)


def _gone(*cuts: BaseCut) -> float:
    return made().volume_mm3 - made(*cuts).volume_mm3


def _across(wide: float, deep: float) -> HolesAround:
    return HolesAround(name="hole", diameter_mm=wide, count=1, at_mm=50, deep_mm=deep)


def test_a_hole_across_is_enlarged_where_it_is() -> None:
    """What goes is a wider hole less what was gone there already, and a later one finds it on its own axis."""
    wider = Enlarge(name="wider", hole="hole", diameter_mm=12, deep_mm=10)
    again = Enlarge(name="again", hole="wider", diameter_mm=16, deep_mm=5)
    once = _gone(_across(6, 20)) + _gone(_across(12, 10)) - _gone(_across(6, 10))
    assert _gone(_across(6, 20), wider) == pytest.approx(once, rel=1e-6)
    twice = once + _gone(_across(16, 5)) - _gone(_across(12, 5))
    assert _gone(_across(6, 20), wider, again) == pytest.approx(twice, rel=1e-6)


@pytest.mark.parametrize("end", End)
@pytest.mark.parametrize(("deep", "through"), [(96.0, False), (101.0, True)])
def test_a_hollow_through_its_floor_is_told_from_either_end(end: End, deep: float, through: bool) -> None:
    inside = ((0.0, 15.0), (50.0, 20.0), (deep, 10.0))
    points = inside if end is End.LEFT else tuple((100 - place, radius) for place, radius in reversed(inside))
    found = codes(made(Hollow(name="inside", points_mm=points, end=end)))
    assert found == ([Code.UNMEANT_BREAK_THROUGH] if through else [])


def test_openings_from_one_end_are_one_opening_and_from_two_ends_are_not() -> None:
    """Whoever bores a depth hole first hollows down to it; a bore from the other end is to stop short."""
    hole = Bore(name="depth hole", diameter_mm=8, end=End.RIGHT, deep_mm=60)
    mouth = Recess(name="mouth", diameter_mm=20, end=End.RIGHT, deep_mm=10)
    inside = Hollow(name="inside", points_mm=((40, 0), (41, 20), (100, 12)), end=End.RIGHT)
    assert codes(made(hole, mouth, inside)) == []
    below = Bore(name="foot", diameter_mm=12, end=End.LEFT, deep_mm=45)
    broken = [found for found in made(hole, mouth, inside, below).verdicts if found.code is Code.UNMEANT_BREAK_THROUGH]
    assert {found.names for found in broken} == {("foot", "depth hole"), ("foot", "inside")}
    beside = AxialHoles(name="beside", count=2, diameter_mm=6, circle_mm=10, end=End.RIGHT, deep_mm=30)
    assert Code.UNMEANT_BREAK_THROUGH in codes(made(hole, beside))


def test_holes_that_are_said_to_reach_the_axis_run_into_the_bore_about_it() -> None:
    bore = Bore(name="bore", diameter_mm=20, end=End.LEFT)
    windows = HolesAround(name="windows", diameter_mm=5, count=4, at_mm=50, reach=Reach.AXIS)
    assert codes(made(bore, windows)) == codes(made(windows, bore)) == []
    # One that goes on to the other side is told: a pin through a tenon that should be whole, say.
    across = HolesAround(name="pin hole", diameter_mm=5, count=1, at_mm=50, reach=Reach.THROUGH)
    assert only(made(bore, across), Code.UNMEANT_BREAK_THROUGH).names == ("pin hole", "bore")


def test_grooves_about_axes_that_cross_are_one_set_and_side_by_side_are_not() -> None:
    """Bands right around a ball cross at its poles, whatever their floors."""
    pins = HolesAround(name="pins", each="pin", diameter_mm=3, count=4, at_mm=50, deep_mm=6)
    steps = (
        WorkStep(name="ball", holds=CENTERS, cuts=(Ball(name="ball", diameter_mm=60, at_mm=50), pins)),
        *(
            WorkStep(
                name=name,
                holds=(BetweenHoles(first=holes[0], second=holes[1]),),
                cuts=(Groove(name=name, at_mm=0, wide_mm=10, floor_mm=22),),
            )
            for name, holes in (("one", ("pin 1", "pin 3")), ("two", ("pin 2", "pin 4")))
        ),
    )
    stages = carry(BLANK, steps)
    assert any({*web.names} == {"one", "two"} and web.left_mm < 0.01 for web in stages[-1].webs)
    assert not [found for stage in stages for found in stage.verdicts if {*found.names} == {"one", "two"}]
    side_by_side = (Groove(name=name, at_mm=at, wide_mm=10, floor_mm=22) for name, at in (("a", 40), ("b", 49)))
    assert only(made(*side_by_side), Code.UNMEANT_BREAK_THROUGH).names == ("b", "a")
    deeper = (Groove(name=name, at_mm=40, wide_mm=10, floor_mm=floor) for name, floor in (("a", 26), ("b", 22)))
    assert codes(made(*deeper)) == []


def bowl(hollow: Hollow) -> tuple[Stage, ...]:
    recess = Recess(name="recess", diameter_mm=30, end=End.RIGHT, deep_mm=4)
    outside = ProfileCut(name="profile", points_mm=OUTSIDE)
    steps = (
        WorkStep(name="outside", holds=CENTERS, cuts=(outside, recess)),
        WorkStep(name="hollow", holds=(JawsInRecess(recess="recess"),), cuts=(hollow,)),
    )
    return carry(Board(wide_mm=156, thick_mm=156, long_mm=60), steps)


OUTSIDE = tuple((60 * one / 40, 20 + 55 * math.sqrt(max(0.0, 1 - (one / 40) ** 2))) for one in range(41))


@pytest.mark.parametrize("wall", [2.0, 6.0, 10.0])
def test_a_hollow_to_a_wall_leaves_that_wall(wall: float) -> None:
    """The least distance between inside and outside is the wall asked for."""
    stages = bowl(Hollow(name="hollow", outside_mm=OUTSIDE, wall_mm=wall, floor_mm=14, end=End.LEFT))
    points = ring_points(
        Axis((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)), radii=[75 - wall - 0.1], places=[0.5], around=4
    )
    assert not stages[-1].wood.contains(points).any()
    hollow, profile = stages[-1].made[-1], stages[-1].made[1]
    assert hollow.chips.gap_mm(profile.body, within_mm=20) == pytest.approx(wall, abs=0.06)
    assert (Code.THIN_WEB in codes(stages[-1])) is (wall < 25.4 / 8)


def test_a_hollow_too_near_the_outside_or_through_it_is_found() -> None:
    near = only(bowl(Hollow(name="hollow", points_mm=((0, 60), (40, 60), (40, 0)), end=End.LEFT))[-1], Code.THIN_WEB)
    assert near.names == ("hollow", "profile")
    assert near.numbers["left_mm"] < 1
    through = bowl(Hollow(name="hollow", points_mm=((0, 60), (50, 60), (50, 0)), end=End.LEFT))[-1]
    assert only(through, Code.UNMEANT_BREAK_THROUGH).names == ("hollow", "the outside")
    floor = bowl(Hollow(name="hollow", points_mm=((0, 60), (57, 15), (57, 0)), end=End.LEFT))[-1]
    assert only(floor, Code.UNMEANT_BREAK_THROUGH).names == ("hollow", "recess")


def test_a_wall_that_leaves_no_room_is_refused() -> None:
    with pytest.raises(Exception, match="leave no room"):
        bowl(Hollow(name="hollow", outside_mm=OUTSIDE, wall_mm=90, floor_mm=5, end=End.LEFT))


def test_a_cut_that_takes_no_wood_says_so() -> None:
    stage = made(Cylinder(name="first", diameter_mm=50), Cylinder(name="second", diameter_mm=52))
    assert only(stage, Code.CUTS_NOTHING).names == ("second",)
    again = made(Cylinder(name="first", diameter_mm=50), Cylinder(name="second", diameter_mm=50))
    assert only(again, Code.CUTS_NOTHING).names == ("second",)


def test_a_groove_to_the_axis_leaves_two_pieces_and_goes_on_with_the_larger() -> None:
    cove = ProfileCut(name="cut", points_mm=((35.0, 30.0), (40.0, 0.0), (45.0, 30.0)))
    stage = made(cove)
    verdict = only(stage, Code.TWO_PIECES)
    assert verdict.numbers["pieces"] == 2
    assert stage.box_mm[2] == pytest.approx(40, abs=0.1)
    assert stage.volume_mm3 + stage.chips_mm3 + stage.waste_mm3 == pytest.approx(math.pi * 30**2 * 100, rel=1e-6)


def test_two_grooves_leave_the_ridge_between_them() -> None:
    stage = made(
        Groove(name="first", at_mm=40, wide_mm=4, floor_mm=20), Groove(name="second", at_mm=46, wide_mm=4, floor_mm=20)
    )
    verdict = only(stage, Code.THIN_WEB)
    assert verdict.names == ("second", "first")
    assert verdict.numbers["left_mm"] == pytest.approx(2, abs=1e-6)


def test_wood_that_a_third_cut_has_taken_is_no_web() -> None:
    """Two blind holes end 2 mm apart; once a slot has been cut between them, there is no wall to be thin."""
    first = HolesAround(name="first", count=1, diameter_mm=6, at_mm=50, deep_mm=29)
    slot = Groove(name="slot", at_mm=50, wide_mm=8, floor_mm=0.5, meets=("first", "second"))
    second = HolesAround(name="second", count=1, diameter_mm=6, at_mm=50, deep_mm=29, start_deg=180)
    assert codes(made(first, second)) == [Code.THIN_WEB]
    cut = made(first, slot, second)
    assert [web for web in cut.webs if set(web.names) == {"first", "second"}] == []


@pytest.mark.parametrize("place", [0.1 + 0.2, 100 / 3, 41.275 - 57.15 / 2])
def test_cuts_that_end_in_one_plane_leave_no_skin_between_them(place: float) -> None:
    """Places worked out in two ways differ in the last digit; what is left is the plain stub and nothing thin.

    Its surface is 2π r (r + h), any textbook.
    """
    thin = Cylinder(name="thin", diameter_mm=20, start_mm=place + 20 - 20)
    stage = made(thin, PartOff(name="part", at_mm=place, keep=End.RIGHT))
    long = 100 - place
    assert stage.wood.area_mm2 == pytest.approx(2 * math.pi * 10 * (10 + long), rel=1e-3)
    assert stage.radius_mm == pytest.approx(10, rel=1e-3)


# ---- A bit's point ---------------------------------------------------------------


def _bored(kind: BitType | None, *, deep: float, point: float = 0.0) -> Stage:
    bore = Bore(name="bore", diameter_mm=20, end=End.RIGHT, deep_mm=deep, bit_type=kind, point_mm=point)
    return carry(Round(diameter_mm=60, long_mm=100), (WorkStep(name="bore", holds=(JawsOnBlank(),), cuts=(bore,)),))[-1]


def test_a_twist_bit_leaves_a_cone_past_the_depth_and_a_spur_bit_a_flat_floor() -> None:
    """A cone's volume is a third of its base times its height: π r² (h + p / 3)."""
    cone = 20 / (2 * math.tan(math.radians(59)))
    flat, twist, spur = (
        _bored(kind, deep=50, point=point).chips_mm3
        for kind, point in ((None, 0.0), (BitType.TWIST, cone), (BitType.SPUR, 3.0))
    )
    assert flat == pytest.approx(math.pi * 100 * 50, rel=1e-6)
    assert twist - flat == pytest.approx(math.pi * 100 * cone / 3, rel=1e-4)
    assert 0 < spur - flat < 10


def test_a_point_comes_through_a_floor_that_the_depth_alone_leaves_whole() -> None:
    def told(stage: Stage) -> set[Code]:
        return {found.code for found in stage.verdicts} & {Code.THIN_WEB, Code.UNMEANT_BREAK_THROUGH}

    assert Code.UNMEANT_BREAK_THROUGH in told(_bored(BitType.TWIST, deep=95, point=6.008))
    assert told(_bored(BitType.TWIST, deep=92, point=6.008)) == {Code.THIN_WEB}
    assert Code.UNMEANT_BREAK_THROUGH in told(_bored(BitType.SPADE, deep=90, point=12))
    assert told(_bored(BitType.FORSTNER, deep=92, point=2)) == set()
    assert told(_bored(None, deep=92)) == set()


@pytest.mark.parametrize(
    ("box", "gap"),
    [
        ((13.0, 14.0, 12.0, 20.0, 20.0, 20.0), math.sqrt(29)),
        ((-50.0, 4.0, 13.0, 60.0, 6.0, 20.0), 3.0),
        ((10.0, -9.0, 0.0, 20.0, -5.0, 10.0), 5.0),
        ((4.0, 4.0, 4.0, 6.0, 6.0, 6.0), 0.0),
        ((0.0, 0.0, 19.0, 10.0, 10.0, 30.0), None),
    ],
    ids=["corner to corner", "a beam across a face", "side by side", "one within the other", "far apart"],
)
def test_the_gap_between_two_boxes_is_that_of_their_sides(
    box: tuple[float, float, float, float, float, float], gap: float | None
) -> None:
    """By how far their sides lie apart along x, y and z, which add up as Pythagoras says."""
    found = gap_of(Solid.box((0.0, 0.0, 0.0, 10.0, 10.0, 10.0)), Solid.box(box), near_mm=8.0)
    assert found == (None if gap is None else pytest.approx(gap, abs=1e-9))
