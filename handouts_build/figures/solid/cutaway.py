"""Opening a picture up: a half or a quarter taken away, so that the inside shows.

This module owns the shape of the opening and which part of each line of sight it
takes. The solid itself stays whole; only its picture is cut.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from handouts_build.figures.solid.camera import Camera
from handouts_build.figures.solid.mesh import Floats, Ints, Vector

__all__ = ["Cutaway", "Opening"]


@dataclass(frozen=True)
class Cutaway:
    """What is taken away: all that lies in front of every one of some planes through one point."""

    point: Vector
    """In mm."""
    normals: tuple[Vector, ...]
    """Each points out of the wood that stays, and toward the eye."""

    @classmethod
    def half(cls, camera: Camera, *, point: Vector, axis: Vector) -> Cutaway:
        """The half nearer to the eye, cut along an axis.

        Args:
            camera: The view.
            point: Any point of the axis, in mm.
            axis: Its direction.
        """
        return cls(point, (_vector(_nearest(camera, axis)),))

    @classmethod
    def quarter(cls, camera: Camera, *, point: Vector, axis: Vector) -> Cutaway:
        """The quarter nearest to the eye, cut along an axis.

        Args:
            camera: The view.
            point: Any point of the axis, in mm.
            axis: Its direction.
        """
        front = _nearest(camera, axis)
        side = np.cross(np.array(axis, float) / np.linalg.norm(axis), front)
        return cls(point, (_vector((front + side) / 2**0.5), _vector((front - side) / 2**0.5)))


class Opening:
    """A cut-away as a picture sees it."""

    def __init__(self, cutaway: Cutaway, point: Floats, camera: Camera) -> None:
        self._planes = []
        x, y, z = point
        for normal in cutaway.normals:
            right, up, toward = camera.turned(np.array([normal], float))[0]
            if toward < 1e-6:
                raise ValueError("a cut-away must open toward the eye")
            across, down = -right / toward, up / toward
            self._planes.append((z - across * x - down * y, across, down))

    def drop(self, column: Ints, row: Ints, depth: Floats) -> NDArray[np.bool_]:
        """Which bits of surface are taken away.

        Args:
            column: Of each bit, in pixels.
            row: Of each bit, in pixels.
            depth: Nearness of each, in pixels.
        """
        taken: NDArray[np.bool_] = depth > self._floors(column, row).max(0)
        return taken

    def floor(self, *, width: int, height: int) -> tuple[NDArray[np.float32], Ints]:
        """For each pixel, nearness of the planes' faces, and the number of the plane that makes it.

        Args:
            width: Of the picture, in pixels.
            height: Of the picture, in pixels.

        Returns:
            Nearness in pixels and number of the plane, counted from 0; height x width each.
        """
        row, column = np.ogrid[:height, :width]
        floors = self._floors(column, row)
        return floors.max(0).astype(np.float32), floors.argmax(0)

    def _floors(self, column: Ints, row: Ints) -> Floats:
        """Nearness of each plane; columns and rows are broadcast together."""
        return np.stack([start + across * (column + 0.5) + down * (row + 0.5) for start, across, down in self._planes])


def _nearest(camera: Camera, axis: Vector) -> Floats:
    """The direction square to an axis that points most toward the eye."""
    along = np.array(axis, float) / np.linalg.norm(axis)
    toward = np.array(camera.toward)
    front = toward - along * (toward @ along)
    length = float(np.linalg.norm(front))
    if length < 1e-6:
        raise ValueError("the view runs along the axis; nothing can be opened toward the eye")
    unit: Floats = front / length
    return unit


def _vector(array: Floats) -> Vector:
    return float(array[0]), float(array[1]), float(array[2])
