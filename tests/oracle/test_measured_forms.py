"""The second judge itself, against closed forms: volumes, least walls, and how errors shrink with the voxel.

Volumes: cylinder, frustum, sphere and spherical ring by any textbook of solid geometry; two equal round
bores that cross at right angles share 16 r³ / 3, Steinmetz's solid (Archimedes, The Method, proposition 15).
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from tests.oracle import fields
from tests.oracle.cuts import Cutter
from tests.oracle.fields import Frame
from tests.oracle.judge import BLANK, Judge, Kind
from tests.oracle.walls import surface, wall
from tests.oracle.wood import Wood, stock


def _cut(blank: dict[str, Any], *cuts: dict[str, Any], voxel: float, shapes: Any = None) -> Wood:
    """A blank with cuts made about its own axis."""
    wood = stock(blank, voxel=voxel)
    for index, item in enumerate(cuts):
        ((kind, keys),) = item.items()
        new = Cutter(wood, Frame.of_part(), shapes or {}).removed(kind, keys, f"cut {index}")
        wood.take(new, wood.lattice.of(new.field))
        for hole in new.holes:
            wood.features[hole.name] = hole
    return wood


def _volume(wood: Wood) -> float:
    return wood.lattice.volume(wood.voxels)


ROUND = {"round": "40 mm", "long": "50 mm"}
CYLINDER = math.pi * 20**2 * 50


def _lens(first: float, second: float, apart: float) -> float:
    """What two circles share."""
    areas = [
        radius**2 * math.acos((apart**2 + radius**2 - other**2) / (2 * apart * radius))
        for radius, other in ((first, second), (second, first))
    ]
    corner = (second + first - apart) * (apart + second - first) * (apart - second + first) * (apart + second + first)
    return sum(areas) - math.sqrt(corner) / 2


def test_slots_take_their_outline_times_their_depth() -> None:
    """A rectangle and a circle; an ellipse, π a b: any textbook."""
    block = {"square": "40 mm", "long": "50 mm"}
    for outline, area in (("straight", 22 * 8 + math.pi * 16), ("oval", math.pi * 15 * 4)):
        keys = {"count": 4, "at": "25 mm", "long": "30 mm", "wide": "8 mm", "deep": "6 mm", "outline": outline}
        gone = _volume(stock(block, voxel=0.5)) - _volume(_cut(block, {"slots": keys}, voxel=0.5))
        assert gone == pytest.approx(4 * area * 6, rel=0.02)


@pytest.mark.parametrize(
    ("cuts", "gone", "surface_mm2"),
    [
        ([], 0.0, 2 * math.pi * 20 * 50),
        ([{"bore": {"diameter": "16 mm", "end": "right"}}], math.pi * 8**2 * 50, 2 * math.pi * 28 * 50),
        ([{"recess": {"diameter": "20 mm", "deep": "7 mm", "end": "left"}}], math.pi * 10**2 * 7, 8000.0),
        ([{"groove": {"at": "25 mm", "wide": "6 mm", "floor": "12 mm"}}], math.pi * (400 - 144) * 6, 8000.0),
        ([{"part off": {"at": "33 mm", "keep": "left"}}], math.pi * 400 * 17, 8000.0),
        ([{"cylinder": {"diameter": "30 mm", "start": "10 mm", "end": "35 mm"}}], math.pi * (400 - 225) * 25, 8000.0),
        ([{"tenon": {"diameter": "22 mm", "long": "9 mm", "end": "right"}}], math.pi * (400 - 121) * 9, 8000.0),
        (
            [{"end holes": {"diameter": "6 mm", "count": 5, "circle": "24 mm", "end": "left", "deep": "20 mm"}}],
            5 * math.pi * 9 * 20,
            8000.0,
        ),
        ([{"flat": {"distance": "0 mm", "start": "10 mm", "end": "40 mm"}}], math.pi * 400 * 30 / 2, 8000.0),
        (
            [{"oval": {"wide": "32 mm", "thick": "20 mm", "start": "10 mm", "end": "30 mm"}}],
            20 * (math.pi * 400 - math.pi * 16 * 10),
            8000.0,
        ),
        (
            [{"prism": {"flats": 6, "across": "30 mm", "start": "5 mm", "end": "45 mm"}}],
            40 * (math.pi * 400 - 6 * 15**2 * math.tan(math.pi / 6)),
            8000.0,
        ),
        (
            [{"flat": {"distance": "15 mm", "count": 6, "start": "5 mm", "end": "45 mm"}}],
            40 * (math.pi * 400 - 6 * 15**2 * math.tan(math.pi / 6)),
            8000.0,
        ),
        # A lens, of two circles (Weisstein, "Circle-Circle Intersection", MathWorld, equation 14; from memory).
        ([{"flutes": {"diameter": "10 mm", "deep": "4 mm", "count": 6}}], 6 * 50 * _lens(20, 5, 21), 8000.0),
    ],
    ids=[
        "round", "bore", "recess", "groove", "part off", "cylinder", "tenon", "end holes", "flat", "oval", "prism",
        "flats", "flutes",
    ],
)  # fmt: skip
def test_a_cut_takes_the_volume_that_its_closed_form_gives(
    cuts: list[dict[str, Any]], gone: float, surface_mm2: float
) -> None:
    for voxel in (1.0, 0.5):
        error = abs(_volume(_cut(ROUND, *cuts, voxel=voxel)) - (CYLINDER - gone))
        # A lattice's error is a random walk over the surface, far within half a voxel all over it.
        assert error < 0.1 * voxel * surface_mm2


def test_a_ball_is_four_thirds_pi_r_cubed() -> None:
    ball = {"ball": {"diameter": "40 mm", "at": "25 mm"}}
    wood = _cut(ROUND, ball, voxel=0.5)
    stubs = math.pi * 400 * 10
    assert _volume(wood) - stubs == pytest.approx(4 / 3 * math.pi * 20**3, rel=2e-3)


def test_a_bored_ball_is_a_spherical_ring_of_its_height_alone() -> None:
    """π h³ / 6, h the height of the hole."""
    ball = {"ball": {"diameter": "40 mm", "at": "20 mm"}}
    bore = {"bore": {"diameter": "24 mm", "end": "left"}}
    wood = _cut({"round": "40 mm", "long": "40 mm"}, ball, bore, voxel=0.5)
    assert _volume(wood) == pytest.approx(math.pi * 32**3 / 6, rel=3e-3)


def test_a_taper_leaves_a_frustum() -> None:
    shapes = {"cone": [(0.0, 18.0), (40.0, 7.0)]}
    wood = _cut({"round": "40 mm", "long": "40 mm"}, {"profile": {"shape": "cone"}}, voxel=0.5, shapes=shapes)
    assert _volume(wood) == pytest.approx(math.pi * 40 / 3 * (18**2 + 18 * 7 + 7**2), rel=2e-3)


def test_two_crossed_bores_share_steinmetz_s_solid() -> None:
    bore = {"bore": {"diameter": "20 mm", "end": "left"}}
    across = {"holes": {"diameter": "20 mm", "count": 1, "at": "25 mm", "reach": "through"}}
    block = {"square": "40 mm", "long": "50 mm"}
    alone = [_volume(stock(block, voxel=0.5)) - _volume(_cut(block, one, voxel=0.5)) for one in (bore, across)]
    both = _volume(stock(block, voxel=0.5)) - _volume(_cut(block, bore, across, voxel=0.5))
    assert sum(alone) - both == pytest.approx(16 * 10**3 / 3, rel=1.2e-2)


def test_facets_stand_about_the_ball_to_be() -> None:
    """Eight flats turn two frustums and a cylinder; the setback of an octagon is D (2 - √2) / 2."""
    wood = _cut(ROUND, {"facets": {"flats": 8, "diameter": "40 mm", "at": "25 mm"}}, voxel=0.5)
    setback, end = 40 * (2 - math.sqrt(2)) / 2, 20 * (math.sqrt(2) - 1)
    cones = 2 * math.pi * setback / 3 * (20**2 + 20 * end + end**2)
    whole = cones + math.pi * 400 * (40 - 2 * setback) + math.pi * 400 * 10
    assert _volume(wood) == pytest.approx(whole, rel=2e-3)


def test_the_error_of_a_volume_shrinks_with_the_voxel() -> None:
    """Averaged over places of the lattice, by more than the voxel does."""
    errors = []
    for voxel in (2.0, 1.0, 0.5):
        wrong = []
        for shift in range(5):
            ball = {"ball": {"diameter": "30 mm", "at": f"{25 + 0.17 * shift:.2f} mm", "keep left": "0 mm"}}
            wood = _cut({"round": "30 mm", "long": "50 mm"}, ball, voxel=voxel)
            exact = 4 / 3 * math.pi * 15**3 + math.pi * 15**2 * 20
            wrong.append(abs(_volume(wood) - exact) / exact)
        errors.append(np.mean(wrong))
    assert errors[0] > 2 * errors[1] or errors[1] < 1e-3
    assert errors[2] < errors[0] / 4


@pytest.mark.parametrize("voxel", [1.0, 0.5])
@pytest.mark.parametrize(("apart", "deep"), [(14.0, 20.0), (11.5, 9.0), (10.2, 30.0)])
def test_the_least_wood_between_two_bores_is_their_distance_less_their_radii(
    apart: float, deep: float, voxel: float
) -> None:
    """Known to a third of a voxel, though it may be thinner than one."""
    wood = stock(ROUND, voxel=voxel)
    first = fields.rod(5, -fields.FAR, deep, x=-apart / 2)
    second = fields.rod(5, -fields.FAR, 30, x=apart / 2)
    for field in (first, second):
        made = Cutter(wood, Frame.of_part(), {})._outside("bore", field)
        chips = wood.take(made, wood.lattice.of(field))
    points, out = surface(wood, second, chips)
    assert wall(wood, points, out, first, most=6.0).surely == pytest.approx(apart - 10, abs=0.35 * voxel)


def test_the_edge_of_a_hole_s_mouth_is_no_thin_wall() -> None:
    cuts = [{"bore": {"name": "bore", "diameter": "8 mm", "end": "right", "deep": "20 mm"}}]
    step = {"name": "Bore", "hold": {"by": ["chuck"], "deep": "6 mm"}, "cut": cuts}
    part = {"wood": "maple, sugar", "blank": ROUND, "steps": [step]}
    assert not [kind for _, kind in Judge(part, {}, voxels=48).judged().verdict if kind is Kind.THIN]


@pytest.mark.parametrize("over", [-3.0, -0.4, 0.0, 0.4, 3.0])
def test_a_bore_comes_out_where_it_is_deeper_than_the_wood(over: float) -> None:
    """Surely past the margin, surely not short of it, and within it either may be said."""
    cuts = [{"bore": {"name": "bore", "diameter": "8 mm", "end": "right", "deep": f"{50 + over} mm"}}]
    step = {"name": "Bore", "hold": {"by": ["bench"]}, "cut": cuts}
    part = {"wood": "maple, sugar", "blank": ROUND, "steps": [step]}
    opinion = Judge(part, {}, voxels=48).judged().verdict.get((0, Kind.OUT))
    if over > 2:
        assert opinion is not None
        assert opinion.must
    elif over < -2:
        assert opinion is None
    else:
        assert opinion is not None
        assert not opinion.must


@pytest.mark.parametrize(("floor", "loose"), [(6.0, True), (10.0, False)])
def test_a_groove_into_a_bore_parts_the_wood(floor: float, loose: bool) -> None:
    cuts = [
        {"bore": {"name": "bore", "diameter": "16 mm", "end": "right"}},
        {"groove": {"name": "groove", "at": "25 mm", "wide": "4 mm", "floor": f"{floor} mm"}},
    ]
    part = {"wood": "maple, sugar", "blank": ROUND, "steps": [{"name": "Cut", "hold": {"by": ["bench"]}, "cut": cuts}]}
    found = Judge(part, {}, voxels=48).judged().verdict
    assert ((0, Kind.LOOSE) in found) is loose


LOG = {"long": "50 mm"}
SEGMENT = 20**2 * math.acos(4 / 20) - 4 * math.sqrt(20**2 - 4**2)
"""Of a circle of 20 mm, cut off 4 mm from its middle: r² acos(d/r) - d √(r² - d²)."""
QUARTER = math.pi * 20**2 / 4 - 2 * (4 * math.sqrt(20**2 - 4**2) + 20**2 * math.asin(4 / 20)) / 2 + 4**2
"""Of a quarter circle whose two straight sides lie 4 mm further in: less two strips, their overlap added."""


@pytest.mark.parametrize(
    ("blank", "area"),
    [
        ({"log": "40 mm"}, math.pi * 400),
        ({"half log": "40 mm"}, math.pi * 200),
        ({"half log": "40 mm", "saw line": "3 mm", "kerf": "2 mm"}, SEGMENT),
        ({"quarter log": "40 mm"}, math.pi * 100),
        ({"quarter log": "40 mm", "saw line": "3 mm", "kerf": "2 mm"}, QUARTER),
    ],
    ids=["whole", "half", "half less the saw", "quarter", "quarter less the saw"],
)
def test_a_piece_of_a_log_is_a_segment_or_a_sector_of_it(blank: dict[str, Any], area: float) -> None:
    wood = stock(LOG | blank, voxel=0.5)
    # A sawn face that lies through the middles of voxels is right to half of one.
    assert _volume(wood) == pytest.approx(area * 50, rel=2.5e-2)
    assert wood.face(Frame.of_part(), last=False) == pytest.approx(0.0, abs=0.02)


def test_a_stack_is_the_sum_of_its_polygons() -> None:
    """A regular polygon of apothem a has the area n a² tan(π/n)."""
    courses = [
        {"disk": {"high": "6 mm", "across": "36 mm"}},
        {"ring": {"segments": 6, "high": "10 mm", "across": "40 mm", "inside": "20 mm"}},
        {"ring": {"segments": 12, "high": "8 mm", "across": "44 mm", "inside": "16 mm"}},
    ]
    whole = math.pi * 18**2 * 6
    for count, high, out, into in ((6, 10, 20, 10), (12, 8, 22, 8)):
        whole += count * math.tan(math.pi / count) * (out**2 - into**2) * high
    assert _volume(stock({"stack": courses}, voxel=0.5)) == pytest.approx(whole, rel=3e-3)


def _gone(*cuts: dict[str, Any]) -> float:
    """What the last of some cuts takes."""
    return _volume(_cut(ROUND, *cuts[:-1], voxel=0.25)) - _volume(_cut(ROUND, *cuts, voxel=0.25))


HOLE = {"bore": {"name": "cut 0", "diameter": "20 mm", "deep": "30 mm", "end": "right"}}
TENON = {"tenon": {"name": "cut 0", "diameter": "30 mm", "long": "16 mm", "end": "right"}}


@pytest.mark.parametrize(
    ("first", "cut", "area", "out"),
    [
        (HOLE, {"inside groove": {"hole": "cut 0", "at": "12 mm", "wide": "6 mm", "deep": "4 mm"}}, 24.0, 12.0),
        (HOLE, {"undercut": {"hole": "cut 0", "at": "9 mm", "wide": "6 mm", "deep": "3 mm"}}, 9.0, 11.0),
        (
            HOLE,
            {"inside cove": {"hole": "cut 0", "at": "12 mm", "wide": "8 mm", "deep": "4 mm"}},
            math.pi * 8,
            10 + 16 / (3 * math.pi),
        ),
    ],
    ids=["groove", "undercut", "cove"],
)
def test_what_is_cut_behind_a_mouth_is_its_section_carried_around(
    first: dict[str, Any], cut: dict[str, Any], area: float, out: float
) -> None:
    """Pappus: the area of a section times the way of its centroid."""
    assert _gone(first, cut) == pytest.approx(2 * math.pi * out * area, rel=2e-2)


def test_a_thread_takes_the_section_of_its_basic_profile() -> None:
    """Over whole turns: ISO 68-1, depth 5/8 H, flats of a quarter and an eighth of the pitch."""
    pitch, turns, minor = 4.0, 6, 10.0
    depth = 5 / 8 * math.sqrt(3) / 2 * pitch
    thread = {"inside thread": {"hole": "cut 0", "pitch": "4 mm", "long": f"{pitch * turns:g} mm"}}
    lean, flat = math.tan(math.radians(30)), pitch / 8
    # A trapezoid, in a strip whose areas are carried around at their own radii.
    steps = (np.arange(400) + 0.5) / 400 * depth
    each = np.sum(2 * math.pi * (minor + steps) * (flat + 2 * lean * (depth - steps))) * depth / 400
    cone = math.pi * depth * ((minor + depth) ** 2 + (minor + depth) * minor + minor**2) / 3
    softened = cone - math.pi * minor**2 * depth
    taken = _gone(HOLE, thread)
    # The mouth is softened, where some of the first ridge lies.
    assert each * turns < taken < each * turns + softened
    assert taken == pytest.approx(each * turns, rel=0.1)


def test_an_outside_thread_leaves_the_same_profile() -> None:
    minor = 15.0 - 5 / 8 * math.sqrt(3) / 2 * 4.0
    thread = {"outside thread": {"tenon": "cut 0", "pitch": "4 mm"}}
    bare = math.pi * (15**2 - minor**2) * 16
    assert 0.4 * bare < _gone(TENON, thread) < 0.7 * bare


def test_a_snap_bead_stands_out_half_an_ellipse() -> None:
    bead = {"snap bead": {"tenon": "cut 0", "at": "8 mm", "wide": "6 mm", "stands": "3 mm"}}
    area, out = math.pi * 3 * 3 / 2, 12 + 4 * 3 / (3 * math.pi)
    kept = 2 * math.pi * out * area
    assert _gone(TENON, bead) == pytest.approx(math.pi * (15**2 - 12**2) * 16 - kept, rel=2e-2)


@pytest.mark.parametrize("degrees", [0, 8, 15])
def test_a_dovetail_is_a_frustum(degrees: int) -> None:
    over = 8 * math.tan(math.radians(degrees))
    recess = {"recess": {"diameter": "24 mm", "deep": "8 mm", "end": "right", "dovetail": f"{degrees} deg"}}
    assert _gone(recess) == pytest.approx(math.pi * 8 / 3 * (12**2 + 12 * (12 + over) + (12 + over) ** 2), rel=1e-2)
    tenon = {"tenon": {"diameter": "24 mm", "long": "8 mm", "end": "right", "dovetail": f"{degrees} deg"}}
    left = math.pi * 8 / 3 * (12**2 + 12 * (12 - over) + (12 - over) ** 2)
    assert _gone(tenon) == pytest.approx(math.pi * 20**2 * 8 - left, rel=1e-2)


@pytest.mark.parametrize(("thick", "off"), [(26.0, False), (19.0, True)])
@pytest.mark.parametrize(("stem", "jams"), [(16.0, False), (19.5, True)])
def test_a_ring_stays_on_and_moves_or_does_not(thick: float, off: bool, stem: float, jams: bool) -> None:
    cuts = [
        {"cylinder": {"name": "round", "diameter": "30 mm"}},
        {
            "captive ring": {
                "name": "loop", "at": "25 mm", "wide": "5 mm", "diameter": "30 mm", "bore": "20 mm",
                "stem": f"{stem} mm", "room": "3 mm",
            }
        },
        {"cylinder": {"name": "thin", "diameter": f"{thick} mm", "start": "30 mm"}},
    ]  # fmt: skip
    step = {"name": "Turn", "hold": {"by": ["chuck"], "deep": "6 mm"}, "cut": cuts}
    part = {"wood": "maple, sugar", "blank": ROUND, "steps": [step]}
    found = Judge(part, {}, voxels=48).judged().verdict
    told = {kind for (_, kind), opinion in found.items() if opinion.must}
    assert (Kind.COMES_OFF in told) is off
    assert (Kind.JAMS in told) is jams


def test_bark_and_pith_are_told_where_they_are_left() -> None:
    cuts = [{"name": "Turn", "hold": {"by": ["chuck"], "deep": "6 mm"}, "cut": []}]
    part = {"wood": "maple, sugar", "blank": {"log": "40 mm", "long": "50 mm", "bark": "3 mm"}, "steps": cuts}
    found = Judge(part, {}, voxels=48).judged().verdict
    assert found[BLANK, Kind.BARK].must
    assert found[BLANK, Kind.PITH].must
    part["blank"] = {"half log": "40 mm", "long": "50 mm", "saw line": "6 mm"}
    assert not Judge(part, {}, voxels=48).judged().verdict
