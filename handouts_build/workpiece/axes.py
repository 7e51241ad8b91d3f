"""Axes in a part: where the lathe turns it, where a hole runs.

This module owns the frame of an axis and the change between its coordinates and
the part's. Part coordinates: the blank's own axis is z, from 0 at its headstock end.
Lathe coordinates: z along the axis, x toward `up` (angle 0), angles counted from
there, right-handed about the axis.
"""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["PART_AXIS", "Axis", "Floats", "Vector", "axis_through", "vector"]

Vector = tuple[float, float, float]
"""A point or direction in part coordinates, mm."""
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Axis:
    """A line with a place to measure from and an angle to count from."""

    origin: Vector
    """Where places along the axis are measured from."""
    direction: Vector
    """Unit vector along which places grow."""
    up: Vector
    """Unit vector square to it: angle 0."""

    @functools.cached_property
    def matrix(self) -> Floats:
        """3 x 4 matrix that takes lathe coordinates to part coordinates."""
        along, up = np.array(self.direction), np.array(self.up)
        return np.column_stack([up, np.cross(along, up), along, np.array(self.origin)])

    @functools.cached_property
    def inverse(self) -> Floats:
        """3 x 4 matrix that takes part coordinates to lathe coordinates."""
        turn = self.matrix[:, :3].T
        return np.column_stack([turn, -turn @ np.array(self.origin)])

    def to_part(self, points: Floats) -> Floats:
        """Points (..., 3) from lathe to part coordinates."""
        matrix = self.matrix
        moved: Floats = points @ matrix[:, :3].T + matrix[:, 3]
        return moved

    def to_lathe(self, points: Floats) -> Floats:
        """Points (..., 3) from part to lathe coordinates."""
        matrix = self.inverse
        moved: Floats = points @ matrix[:, :3].T + matrix[:, 3]
        return moved

    def placed(self, local: Axis) -> Axis:
        """An axis given in this one's coordinates, in part coordinates."""
        turn = self.matrix[:, :3]
        return Axis(
            vector(self.to_part(np.array(local.origin))),
            vector(turn @ np.array(local.direction)),
            vector(turn @ np.array(local.up)),
        )

    def moved(self, along_mm: float, *, turned: bool = False) -> Axis:
        """The same line, measured from another place and perhaps the other way.

        Args:
            along_mm: How far along the axis the new origin lies, mm.
            turned: Whether places are counted the other way.
        """
        origin = np.array(self.origin) + along_mm * np.array(self.direction)
        sign = -1.0 if turned else 1.0
        return Axis(vector(origin), vector(sign * np.array(self.direction)), self.up)

    def shares_line(self, other: Axis) -> bool:
        """Whether the two run along one line, either way."""
        along = np.array(self.direction)
        off = self.to_lathe(np.array(other.origin))
        return bool(abs(float(along @ np.array(other.direction))) > 1 - 1e-9 and math.hypot(off[0], off[1]) < 1e-6)

    def goes_with(self, other: Axis) -> bool:
        """Whether the two point the same way."""
        return float(np.array(self.direction) @ np.array(other.direction)) > 1 - 1e-9

    def crosses(self, other: Axis) -> bool:
        """Whether the two are neither along one line nor side by side."""
        return abs(float(np.array(self.direction) @ np.array(other.direction))) < 1 - 1e-9


PART_AXIS = Axis((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))
"""The blank's own axis."""


def axis_through(origin: Floats, direction: Floats) -> Axis:
    """An axis along a line, its angle 0 toward the part's own axis, or toward x where it runs along that.

    Args:
        origin: A point of the line, 3, mm.
        direction: Along it, 3, of any length but nought.
    """
    along = direction / np.linalg.norm(direction)
    hint = np.array([0.0, 0.0, 1.0]) if abs(along[2]) < 0.7 else np.array([1.0, 0.0, 0.0])
    up = hint - along * float(hint @ along)
    return Axis(vector(origin), vector(along), vector(up / np.linalg.norm(up)))


def vector(values: Floats) -> Vector:
    """An array of three as a point or direction."""
    # Rounding noise of a rotation would keep two faces that are one from being seen as one.
    clean = [0.0 if math.isclose(value, 0.0, abs_tol=1e-12) else float(value) for value in values]
    return clean[0], clean[1], clean[2]
