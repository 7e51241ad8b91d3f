"""Bark and pith of a branch, as they show on a solid's surface.

This module owns which points of a picture are bark and which are pith. Cuts leave
faces that run from bark into wood, so this is told by where a point lies and not by
the triangle it lies on.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from handouts_build.figures.solid.mesh import Floats, Ints, Vector

__all__ = ["Bark"]

_HAIR_MM = 0.05
"""A cut just under the bark has left none."""
_DOT, _LEAST_MM = 0.02, 1.2
"""Radius of the pith as a share of the branch's diameter, and its least."""


@dataclass(frozen=True)
class Bark:
    """Where a branch lies in a mesh."""

    middle: Vector
    """A point of its axis, mm."""
    along: Vector
    """Unit vector along it."""
    pith: Vector
    """A point of its pith, which runs alongside."""
    under_mm: float
    """Radius of the wood under the bark."""
    triangles: tuple[int, int] = field(repr=False)
    """Of the mesh: its first, and past its last. Not in its text: another machine may draw the same with more."""

    as_grown: tuple[Vector, Vector, Vector] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    """Rows of the matrix that takes ways in the picture to those in the branch before its wood dried and shrank."""

    def is_bark(self, points: Floats) -> NDArray[np.bool_]:
        """Whether points (N x 3, mm) on its surface are of the bark."""
        found: NDArray[np.bool_] = self._away(points, self.middle) > self.under_mm + _HAIR_MM
        return found

    def is_pith(self, points: Floats) -> NDArray[np.bool_]:
        """Whether points (N x 3, mm) on its surface are of the pith, drawn as a dot large enough to be seen."""
        found: NDArray[np.bool_] = self._away(points, self.pith) < max(_LEAST_MM, _DOT * 2 * self.under_mm)
        return found

    def holds(self, triangle: Ints) -> NDArray[np.bool_]:
        """Whether triangles, by their numbers in the mesh, are of the branch."""
        found: NDArray[np.bool_] = (triangle >= self.triangles[0]) & (triangle < self.triangles[1])
        return found

    def _away(self, points: Floats, start: Vector) -> Floats:
        """Distance of points from a line along the branch."""
        out = (points - np.array(start)) @ np.array(self.as_grown).T
        along = np.array(self.along)
        away: Floats = np.linalg.norm(out - (out @ along)[:, None] * along, axis=1)
        return away
