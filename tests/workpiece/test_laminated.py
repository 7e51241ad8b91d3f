"""Blocks of boards glued face to face, against volumes of prisms and the geometry of a plane that leans."""

from __future__ import annotations

import math

import numpy as np
import pytest

from handouts_build import workpiece as kernel
from handouts_build.compute.solid.plan import PartPlan
from handouts_build.figures.solid.mesh import SurfaceMesh
from handouts_build.site.picturing import glue_up

LAYERS = (kernel.Layer(20, 0), kernel.Layer(4, 1), kernel.Layer(30, 0), kernel.Layer(6, 2))
BLOCK = kernel.Laminated(layers=LAYERS, wide_mm=50, block_mm=60, long_mm=120, tones=("brown", "pale", "red"))
LEANING = kernel.Laminated(
    layers=LAYERS * 3, wide_mm=50, block_mm=40, long_mm=120, lean_deg=30, tones=("brown", "pale", "red")
)


def _volumes(block: kernel.Laminated) -> list[float]:
    whole = block.solid(segments=72)
    return [(whole & block.of_wood(wood)).volume_mm3 for wood in range(3)]


def test_each_board_is_a_prism_and_together_they_are_the_block() -> None:
    """Width times length times the thickness of each wood."""
    assert _volumes(BLOCK) == pytest.approx([50 * 120 * 50, 50 * 120 * 4, 50 * 120 * 6])
    assert BLOCK.solid(segments=72).volume_mm3 == pytest.approx(60 * 50 * 120)


def test_boards_that_lean_cross_the_axis_one_after_another() -> None:
    """A layer T thick, leaning by a, takes T / sin(a) of the axis."""
    whole = LEANING.solid(segments=72)
    assert sum(_volumes(LEANING)) == pytest.approx(whole.volume_mm3)
    own = LEANING.of_wood(1)
    met = [place for place, _ in own.hits(np.array([0.0, 0.0, -1.0]), np.array([0.0, 0.0, 121.0]))]
    lengths = [out - into for into, out in zip(met[::2], met[1::2], strict=True)]
    assert lengths
    assert lengths == pytest.approx([4 / math.sin(math.radians(30))] * len(lengths))


def test_boards_across_the_axis_are_courses_along_it() -> None:
    """They run the other way than their own order, which ends at the left end."""
    block = kernel.Laminated(layers=LAYERS, wide_mm=50, block_mm=80, long_mm=60, lean_deg=90, tones=("tan",) * 3)
    whole = block.solid(segments=72)
    last = whole & block.of_wood(2)
    assert (last.box_mm[2], last.box_mm[5]) == pytest.approx((0.0, 6.0))
    assert block.boards_long_mm == pytest.approx(80)


@pytest.mark.parametrize(
    ("lean", "through", "boards"),
    [(0.0, 40.0, 120.0), (90.0, 120.0, 40.0), (30.0, 40 * 0.75**0.5 + 60, 20 + 120 * 0.75**0.5)],
)
def test_how_much_board_a_block_asks_for(lean: float, through: float, boards: float) -> None:
    """A rectangle turned by an angle is a cos + b sin wide: plane trigonometry."""
    block = kernel.Laminated(layers=LAYERS * 3, wide_mm=50, block_mm=40, long_mm=120, lean_deg=lean)
    assert (block.through_mm, block.boards_long_mm) == pytest.approx((through, boards))
    short = kernel.Laminated(
        layers=(kernel.Layer(through - 1, 0),), wide_mm=50, block_mm=40, long_mm=120, lean_deg=lean
    )
    assert block.wrong() is None
    wrong = short.wrong()
    assert wrong is not None
    assert wrong[0] == "laminate"


@pytest.mark.parametrize("block", [BLOCK, LEANING], ids=["along", "leaning"])
def test_a_picture_tells_each_point_by_the_board_it_lies_in(block: kernel.Laminated) -> None:
    plan = PartPlan("part", block, (), (), ())
    whole = block.solid(segments=72).mesh()
    mesh = SurfaceMesh(whole.vertices, whole.triangles, whole.origins)
    stage = kernel.Stage(wood=block.solid(segments=72))
    (glued,) = glue_up(plan, stage, {"part": "walnut, black"}, mesh)
    random = np.random.default_rng(1)
    low, high = np.array(stage.box_mm[:3]), np.array(stage.box_mm[3:])
    points = low + random.random((400, 3)) * (high - low)
    _, tones = glued.pieces(points)
    for wood, tone in enumerate(block.tones):
        inside = block.of_wood(wood).contains(points)
        assert inside.any()
        assert all(glued.tones[found] == tone for found in tones[inside])
