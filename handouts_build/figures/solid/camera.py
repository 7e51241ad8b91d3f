"""Where the eye stands: one fixed, parallel view for all stages of a project.

This module owns the way from millimetres in space to pixels of a picture. Parallel
lines stay parallel and sizes do not depend on distance, as in a drawing, so pictures
taken with one camera line up.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from handouts_build.figures.solid.mesh import Bounds, Floats, Vector

__all__ = ["INTO", "THREE_QUARTER", "Camera"]

THREE_QUARTER: Vector = (0.46, 1.0, 0.42)
"""From the front, a little from above and from the right: z runs along the lathe, x up."""

INTO: Vector = (0.55, 0.9, 1.0)
"""The same, more from the tailstock: into bowls and boxes."""


@dataclass(frozen=True)
class Camera:
    """A parallel view and its frame."""

    right: Vector
    """Direction in space that runs to the right in the picture; of length 1."""
    up: Vector
    toward: Vector
    """From the piece to the eye."""
    upright: Vector
    """What stands upright, around which a viewer turns the piece."""
    center: tuple[float, float]
    """Middle of the frame along `right` and `up`, in mm."""
    width_mm: float
    """What the frame takes in, across."""
    height_mm: float

    @classmethod
    def fit(
        cls,
        bounds: Bounds,
        *,
        direction: Vector = THREE_QUARTER,
        up: Vector = (1.0, 0.0, 0.0),
        least_aspect: float = 4 / 3,
        margin: float = 0.05,
    ) -> Camera:
        """A camera whose frame takes in a whole box.

        Args:
            bounds: The box, in mm: the blank, with what holds it.
            direction: From the piece to the eye.
            up: What stands upright in the picture.
            least_aspect: Width over height of the frame at least; a long piece takes a longer frame.
            margin: Room left around, as a share of the longer side.

        Raises:
            ValueError: If the directions give no view.
        """
        toward = _unit(np.array(direction, float))
        right = np.cross(np.array(up, float), toward)
        if float(np.linalg.norm(right)) < 1e-6:
            raise ValueError("the view runs along its own upright")
        right = _unit(right)
        above = np.cross(toward, right)
        corners = np.array(list(itertools.product(*zip(*bounds, strict=True))), float)
        flat = np.stack([corners @ right, corners @ above], 1)
        low, high = flat.min(0), flat.max(0)
        room = 2 * margin * float((high - low).max())
        width, height = (float(side) + room for side in high - low)
        if not (width > 0 and height > 0 and math.isfinite(width * height)):
            raise ValueError("the box has no size")
        width = max(width, height * least_aspect)
        middle = (low + high) / 2
        return cls(
            right=_vector(right),
            up=_vector(above),
            toward=_vector(toward),
            upright=_vector(_unit(np.array(up, float))),
            center=(float(middle[0]), float(middle[1])),
            width_mm=width,
            height_mm=height,
        )

    def height_px(self, width_px: int) -> int:
        """Height of a picture so wide, in whole pixels."""
        return max(1, round(width_px * self.height_mm / self.width_mm))

    def project(self, points: ArrayLike, *, width_px: int) -> Floats:
        """Where points in space fall in a picture.

        Args:
            points: Rows of x, y, z in mm.
            width_px: Width of the picture.

        Returns:
            Rows of pixels to the right, pixels down, and nearness to the eye in the same measure.
        """
        space = np.asarray(points, float).reshape(-1, 3)
        scale = width_px / self.width_mm
        across = (space @ np.array(self.right) - self.center[0]) * scale + width_px / 2
        # The middle of the frame falls on the middle of the whole pixels.
        down = (self.center[1] - space @ np.array(self.up)) * scale + self.height_px(width_px) / 2
        return np.stack([across, down, space @ np.array(self.toward) * scale], 1)

    def turned(self, normals: Floats) -> Floats:
        """Directions in space as seen: to the right, up, toward the eye."""
        seen: Floats = normals @ np.array([self.right, self.up, self.toward]).T
        return seen


def _unit(vector: Floats) -> Floats:
    length = float(np.linalg.norm(vector))
    if length < 1e-12 or not math.isfinite(length):
        raise ValueError("a direction has no length")
    return vector / length


def _vector(array: Floats) -> Vector:
    return float(array[0]), float(array[1]), float(array[2])
