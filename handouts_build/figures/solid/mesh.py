"""A solid's surface as the pictures take it: points, triangles, and which cut made each triangle.

This module owns the contract and its checks. It leaves making solids to `workpiece`,
and drawing them to `solids` and its siblings.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

__all__ = ["Bounds", "Floats", "Ints", "SurfaceMesh", "Vector", "bounds_of", "joined"]

Floats: TypeAlias = NDArray[np.float64]
Ints: TypeAlias = NDArray[np.int64]
Vector: TypeAlias = tuple[float, float, float]
Bounds: TypeAlias = tuple[Vector, Vector]
"""Least and greatest x, y, z in mm."""


@dataclass(frozen=True, eq=False)
class SurfaceMesh:
    """A closed surface, its triangles counterclockwise seen from outside."""

    vertices: NDArray[np.float32]
    """Points in mm, one row each."""
    triangles: NDArray[np.int32]
    """Rows of three point numbers."""
    origin: NDArray[np.int32]
    """For each triangle, a number of the blank or cut that made it."""

    def __post_init__(self) -> None:
        """Refuse arrays that do not fit each other.

        Raises:
            ValueError: Saying which array is wrong.
        """
        count = len(self.triangles)
        if self.vertices.ndim != 2 or self.vertices.shape[1] != 3 or not np.isfinite(self.vertices).all():
            raise ValueError("vertices must be rows of three finite numbers")
        if self.triangles.shape != (count, 3):
            raise ValueError("triangles must be rows of three point numbers")
        if count and (self.triangles.min() < 0 or self.triangles.max() >= len(self.vertices)):
            raise ValueError("a triangle names a point that is not there")
        if self.origin.shape != (count,):
            raise ValueError("origin must give one number for each triangle")

    @classmethod
    def of(cls, vertices: object, triangles: object, *, origin: object = None) -> SurfaceMesh:
        """A mesh from anything numpy can read.

        Args:
            vertices: Rows of x, y, z in mm.
            triangles: Rows of three point numbers.
            origin: One number for each triangle; all 0 when left out.
        """
        faces = np.asarray(triangles, np.int32).reshape(-1, 3)
        made = np.zeros(len(faces), np.int32) if origin is None else np.asarray(origin, np.int32)
        return cls(np.asarray(vertices, np.float32).reshape(-1, 3), faces, made)

    @property
    def bounds(self) -> Bounds:
        """The box around it."""
        return bounds_of([self])


def bounds_of(meshes: Iterable[SurfaceMesh]) -> Bounds:
    """The box around some solids, in mm.

    Raises:
        ValueError: If there is nothing to go around.
    """
    some = [mesh.vertices for mesh in meshes if len(mesh.vertices)]
    if not some:
        raise ValueError("nothing to draw: the solid is empty")
    low, high = np.min([points.min(0) for points in some], 0), np.max([points.max(0) for points in some], 0)
    return (float(low[0]), float(low[1]), float(low[2])), (float(high[0]), float(high[1]), float(high[2]))


def joined(meshes: Iterable[SurfaceMesh]) -> SurfaceMesh:
    """Several surfaces as one, each keeping its own points."""
    some = list(meshes)
    if not some:
        return SurfaceMesh.of([], [])
    starts = np.cumsum([0, *(len(mesh.vertices) for mesh in some)])
    return SurfaceMesh(
        np.concatenate([mesh.vertices for mesh in some]),
        np.concatenate([mesh.triangles + np.int32(start) for mesh, start in zip(some, starts, strict=False)]),
        np.concatenate([mesh.origin for mesh in some]),
    )
