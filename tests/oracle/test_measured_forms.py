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
from tests.oracle.judge import Judge, Kind
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
    ],
    ids=[
        "round", "bore", "recess", "groove", "part off", "cylinder", "tenon", "end holes", "flat", "oval", "prism",
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
