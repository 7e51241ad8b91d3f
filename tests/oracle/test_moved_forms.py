"""The second judge itself, where wood dries, falls off, is put on, or is held askew: against closed forms.

Volumes of prisms, frusta and cylinders by any textbook of solid geometry; a frustum of similar sections has a third of
its height times both areas and the root of their product.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from tests.oracle import fields
from tests.oracle.holding import mounted
from tests.oracle.judge import Judge, dried
from tests.oracle.wood import Wood

MAPLE = {"wood": "maple, sugar"}
ROUND = {"round": "40 mm", "long": "60 mm"}
FOOT = {"name": "foot", "diameter": "26 mm", "long": "8 mm", "end": "left"}
CENTERS = {"by": ["between centers"]}
ON_FOOT = {"by": ["chuck"], "on": "foot"}


def _carried(blank: dict[str, Any], *steps: dict[str, Any], voxels: int = 40, **keys: Any) -> Judge:
    judge = Judge(MAPLE | {"blank": blank, "steps": list(steps)} | keys, {}, voxels=voxels)
    judge.judged()
    return judge


def _volume(wood: Wood) -> float:
    return wood.lattice.volume(wood.voxels)


def _polygon(sides: int, across: float) -> float:
    return sides * math.tan(math.pi / sides) * across**2 / 4


@pytest.mark.parametrize(
    ("grain", "left"),
    [("across the axis", (1.0, 1 - 0.0594, 1 - 0.0288)), ("along the axis", (1 - 0.0288, 1 - 0.0594, 1.0))],
)
def test_wood_shrinks_by_the_handbook(grain: str, left: tuple[float, float, float]) -> None:
    """Sugar maple: 9.9 and 4.8 percent from green to ovendry (Wood Handbook, table 4-3), and 18/30 of it to 12."""
    step = {"work": ["drying"]}
    assert dried({**MAPLE, "grain": grain, "condition": ["green"], "blank": ROUND}, step, again=False) == pytest.approx(
        left
    )
    assert dried({**MAPLE, "grain": grain, "condition": ["green"], "blank": ROUND}, step, again=True) is None
    assert dried({**MAPLE, "grain": grain, "condition": ["dry"], "blank": ROUND}, step, again=False) is None
    assert dried({**MAPLE, "blank": {"staves": 8}, "condition": ["green"]}, step, again=False) is None


def test_a_dried_tube_keeps_its_share_of_its_volume_and_of_its_wall() -> None:
    bore = {"bore": {"name": "well", "diameter": "28 mm", "end": "right"}}
    dry = {"shrinks": (0.10, 0.04), "hold": {"by": ["hand"]}}
    judge = _carried(ROUND, {"hold": {"by": ["faceplate"]}, "cut": [bore]}, dry, grain="along the axis")
    wood = judge.wood
    assert judge.left == pytest.approx((0.96, 0.90, 1.0))
    assert _volume(wood) == pytest.approx(math.pi * (20**2 - 14**2) * 60 * 0.96 * 0.90, rel=0.02)
    # Along y the wall is nine tenths of its 6 mm, along x 96 hundredths; distances are told from the bore's face.
    for at, wall in (((0.0, 14 * 0.90, 30.0), 5.4), ((14 * 0.96, 0.0, 30.0), 5.76)):
        assert -wood.blank(np.array([at]))[0] == pytest.approx(wall, rel=0.005)
    # The bore found again: it is a circle no more, and its frame says where it lies.
    ring = wood.features["well"].frame.part(np.array([[14.0, 0.0, 5.0], [0.0, 14.0, 5.0]]))
    assert wood.removed[0].field(ring) == pytest.approx([0.0, 0.0], abs=1e-6)


def test_a_shrunk_ball_is_an_ellipsoid_whose_distances_are_right_beside_it() -> None:
    """Distances to an ellipsoid on its own axes are those along them."""
    ball = fields.shrunk(lambda points: np.linalg.norm(points, axis=1) - 20.0, (1.0, 0.9, 0.95))
    for axis, half in enumerate((20.0, 18.0, 19.0)):
        beside = np.eye(3)[axis : axis + 1] * (half + np.array([[-1.0], [0.5], [2.0]]))
        assert ball(beside) == pytest.approx([-1.0, 0.5, 2.0], abs=1e-4)


def test_what_falls_off_is_the_blank_past_the_kerf_with_its_tenon() -> None:
    source = MAPLE | {
        "blank": ROUND,
        "steps": [
            {"hold": CENTERS, "cut": [{"tenon": FOOT}]},
            {"hold": {"by": ["chuck"], "deep": "5 mm", "end": "right"}, "cut": [
                {"part off": {"name": "apart", "at": "40 mm", "keep": "right", "kerf": "4 mm"}},
            ]},
        ],
    }  # fmt: skip
    judge = _carried(ROUND | {"falls off": source}, {"hold": ON_FOOT})
    assert _volume(judge.wood) == pytest.approx(math.pi * (13**2 * 8 + 20**2 * (36 - 8)), rel=0.02)
    assert "foot" in judge.wood.features
    assert judge.wood.removed == []


def test_a_lid_sits_with_its_rim_on_the_shoulder_and_is_turned_with_the_box() -> None:
    """The spigot's shoulder stands at 30 mm, the lid's rim at 10 mm of its own: it lies 20 mm farther along the box."""
    recess = {"recess": {"name": "seat", "diameter": "30 mm", "deep": "8 mm", "end": "left", "from": "10 mm"}}
    faced = {"part off": {"name": "faced", "at": "10 mm", "keep": "right"}}
    lid = _carried(ROUND, {"hold": {"by": ["chuck"], "deep": "5 mm", "end": "right"}, "cut": [faced, recess]})
    spigot = {"name": "spigot", "diameter": "30 mm", "long": "8 mm", "end": "right"}
    put = {"part": "lid", "tenon": "spigot", "hole": "seat", "on it": False}
    side = {"cylinder": {"name": "side", "diameter": "36 mm", "start": "8 mm", "end": "70 mm"}}
    box = MAPLE | {
        "blank": {"round": "40 mm", "long": "38 mm"},
        "steps": [
            {"hold": CENTERS, "cut": [{"tenon": FOOT}, {"tenon": spigot}]},
            {"hold": ON_FOOT | {"put on": put}, "cut": [side]},
        ],
    }
    judge = Judge(box, {}, voxels=40, others={"lid": lid})
    judge.judged()
    assert judge.guest is not None
    assert judge.guest.frame.origin == pytest.approx([0.0, 0.0, 20.0], abs=1e-3)
    # Of the lid's 50 mm what lies between 30 and 70 mm of the box is 36 mm across now, the rest 40 mm.
    outside = math.pi * (18**2 * 40 + 20**2 * 10)
    assert _volume(judge.guests["lid"].wood) == pytest.approx(outside - math.pi * 15**2 * 8, rel=0.02)
    assert _volume(judge.wood) == pytest.approx(math.pi * (13**2 * 8 + 18**2 * 22 + 15**2 * 8), rel=0.02)
    # The lid that the box was judged with is its own: the part keeps what its steps left.
    assert _volume(lid.wood) == pytest.approx(math.pi * (20**2 * 50 - 15**2 * 8), rel=0.02)


def test_a_neck_about_a_leaning_axis_lies_where_the_tangent_says() -> None:
    """It leaves the jaws at the tenon's shoulder, 8 mm, and leans by the tangent from there."""
    lean, off = 6.0, 2.0
    neck = {"cylinder": {"name": "neck", "diameter": "16 mm", "start": "25 mm"}}
    hold = ON_FOOT | {"tilt": f"{lean} deg", "offset": f"{off} mm", "angle": "90 deg"}
    wood = _carried(ROUND, {"hold": CENTERS, "cut": [{"tenon": FOOT}]}, {"hold": hold, "cut": [neck]}, voxels=64).wood
    places = wood.lattice.places(wood.voxels)
    for at in (35.0, 50.0):
        middle = places[np.abs(places[:, 2] - at) < 1.0].mean(axis=0)
        expected = off + (at - 8.0) * math.tan(math.radians(lean))
        assert middle[:2] == pytest.approx([0.0, expected], abs=0.1)


def test_a_tapered_tube_of_staves_and_its_groove_have_the_volumes_of_frusta() -> None:
    blank = {"staves": 8, "across": "60 mm", "inside": "44 mm", "across right": "72 mm", "long": "50 mm"}
    groove = {"stave groove": {"name": "groove", "at": "20 mm", "wide": "6 mm", "deep": "4 mm"}}

    def frustum(first: float, second: float, high: float) -> float:
        areas = _polygon(8, first), _polygon(8, second)
        return high / 3 * (sum(areas) + math.sqrt(areas[0] * areas[1]))

    tube = frustum(60, 72, 50) - frustum(44, 56, 50)
    assert _volume(_carried(blank, voxels=80).wood) == pytest.approx(tube, rel=0.01)
    # At 20 mm the opening is 48.8 mm wide: the floor lies 4 mm behind it, and stands upright.
    inside = frustum(44 + 12 * 17 / 50, 44 + 12 * 23 / 50, 6)
    gone = _polygon(8, 48.8 + 8) * 6 - inside
    (_, cut) = _carried(blank, {"hold": {"by": ["bench"]}, "cut": [groove]}, voxels=40).wood.removed
    spots = np.random.default_rng(1).uniform([-30, -30, 17], [30, 30, 23], size=(200_000, 3))
    opening = fields.frustum(8, 44, 56, 50)
    share = ((cut.field(spots) < 0) & (opening(spots) > 0)).mean()
    assert share * 60 * 60 * 6 == pytest.approx(gone, rel=0.01)


def test_a_hold_in_a_hollow_bears_on_a_shell_behind_its_wall() -> None:
    """Two voxels thick around a cylinder that was hollowed by its outline, and under its floor."""
    hollow = {"hollow": {"name": "in", "shape": "in", "end": "right", "at": "30 mm"}}
    shapes = {"in": {"along": [{"taper": {"from": "24 mm", "to": "24 mm", "long": "30 mm"}}]}}
    part = MAPLE | {"blank": ROUND, "steps": [{"hold": {"by": ["faceplate"]}, "cut": [hollow]}]}
    judge = Judge(part, shapes, voxels=40)
    judge.judged()
    (held,) = mounted({"by": ["jam chuck"], "on": "in"}, judge.wood)
    assert held.end == "right"
    thick = 2 * judge.wood.voxel
    wall = math.pi * ((12 + thick) ** 2 - 12**2) * 30
    floor = math.pi * 12**2 * thick
    # A quarter of a circle around the edge between them: by Guldin's rule, its area times the way of its middle.
    edge = math.pi * thick**2 / 4 * 2 * math.pi * (12 + 4 * thick / (3 * math.pi))
    assert judge.wood.lattice.volume(held.shell) == pytest.approx(wall + floor + edge, rel=0.04)
