"""Bark and pith in pictures of wood that has dried: drawn where they have gone, by the map that moved the wood."""

from __future__ import annotations

import types
from typing import Any

import numpy as np
import pytest

from handouts_build import workpiece as kernel
from handouts_build.figures.solid.mesh import SurfaceMesh
from handouts_build.site.picturing import bark, grown_bark

LOG = kernel.HalfLog(diameter_mm=200.0, long_mm=180.0, bark_mm=5.0, pith_mm=8.0, pith_deg=40.0)
DRIED = kernel.Shrinkage(1.0, 0.94, 0.97)
PLAN: Any = types.SimpleNamespace(blank=LOG)
MESH = SurfaceMesh(np.zeros((3, 3), np.float32), np.array([[0, 1, 2]], np.int32), np.zeros(1, np.int32))
ON_ITS_SIDE = kernel.Axis((1.0, 2.0, 3.0), (1.0, 0.0, 0.0), (0.0, 0.0, -1.0))


def around(radius: float) -> np.ndarray:
    """Points about the log's middle before it dried, moved as its wood is; part coordinates."""
    turns = np.linspace(0, 2 * np.pi, 50)
    local = np.stack([radius * np.cos(turns), radius * np.sin(turns), np.linspace(-80, 80, 50)], axis=1)
    return DRIED.points(LOG.grown.to_part(local))


@pytest.mark.parametrize("frame", [kernel.PART_AXIS, ON_ITS_SIDE], ids=["as it lies", "on its side"])
def test_what_was_bark_is_drawn_as_bark_and_what_was_wood_is_not(frame: kernel.Axis) -> None:
    (drawn,) = bark(PLAN, MESH, DRIED, frame=frame)
    viewed = grown_bark(PLAN, 40.0, DRIED, frame)
    assert viewed is not None
    # The bark is 5 mm of a radius of 100.
    for radius, barked in ((97.0, True), (93.0, False)):
        assert (drawn.is_bark(frame.to_part(around(radius))) == barked).all()
        assert (viewed.is_bark(frame.to_lathe(around(radius) - [0.0, 0.0, 40.0])) == barked).all()


def test_the_pith_is_drawn_where_it_has_gone() -> None:
    (drawn,) = bark(PLAN, MESH, DRIED)
    x, y = LOG.pith_at_mm
    ends = DRIED.points(LOG.grown.to_part(np.array([[x, y, -50.0], [x, y, 50.0]])))
    assert drawn.is_pith(ends).all()
