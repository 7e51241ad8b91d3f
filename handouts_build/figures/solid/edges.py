"""What a draftsman would see on a solid: its smooth faces, its sharp edges, and where it turns away from the eye.

This module owns the reading of a mesh: which triangles make one smooth face, which
edges are sharp, normals that hide the facets, and contours that do not zigzag along
them. It draws nothing.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from handouts_build.figures.solid.mesh import Floats, Ints, SurfaceMesh

__all__ = ["SHARP_DEG", "Surface", "contours", "surface_of"]

SHARP_DEG = 25.0
"""Faces that meet at more than this make an edge that is drawn. Common practice, no published source."""

_KNIFE_DEG = 172.0
"""Faces folded together more than this are two sides of a film."""

_THIN_MM = 0.004
"""A triangle lower than this says nothing about the way a surface faces."""


@dataclass(frozen=True, eq=False)
class Surface:
    """A mesh, read."""

    corners: Floats
    """For each triangle three points, in mm."""
    facing: Floats
    """For each triangle the direction it faces."""
    normals: Floats
    """For each triangle three directions, the same on both sides of an edge that is not sharp."""
    sharp: Floats
    """Sharp edges: pairs of points, in mm."""


def surface_of(mesh: SurfaceMesh, *, knives: bool = True) -> Surface:
    """A mesh's faces, normals and sharp edges.

    Args:
        mesh: The mesh.
        knives: Whether edges thin as a knife's count. Two cuts to one size leave films of no
            thickness between them, and those have no other edges.
    """
    triangles = mesh.triangles.astype(np.int64)
    points = mesh.vertices.astype(float)
    pairs, ends = _neighbours(triangles)
    if len(pairs) * 2 != triangles.size:
        # Points may be given once for each face; the same place is the same point.
        _, first, same = np.unique(mesh.vertices, axis=0, return_index=True, return_inverse=True)
        triangles, points = same.reshape(-1)[triangles], points[first]
        pairs, ends = _neighbours(triangles)
    corners = points[triangles]
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    twice = np.linalg.norm(cross, axis=1)
    facing = cross / np.maximum(twice, 1e-30)[:, None]
    facing = _thin_as_neighbours(facing, corners, twice, pairs)
    turn = (facing[pairs[:, 0]] * facing[pairs[:, 1]]).sum(1)
    smooth = turn > math.cos(math.radians(SHARP_DEG))
    group = _groups(len(triangles), pairs[smooth])
    normals = _normals(triangles, len(points), group, cross, facing)
    sharp = ~smooth if knives else ~smooth & (turn > math.cos(math.radians(_KNIFE_DEG)))
    return Surface(corners, facing, normals, points[ends[sharp]])


def contours(surface: Surface, toward: tuple[float, float, float]) -> Floats:
    """Where the surface turns away from the eye: pairs of points, in mm.

    The smoothed normals are used, so the lines run through the triangles and not along them.

    Args:
        surface: The surface.
        toward: Direction to the eye.
    """
    facing = surface.normals @ np.array(toward)
    front = facing > 0
    crossed = front.any(1) & ~front.all(1)
    facing, front, corners = facing[crossed], front[crossed], surface.corners[crossed]
    # The corner that stands alone on its side; the line cuts the two edges that leave it.
    alone = np.where(front.sum(1) == 1, front.argmax(1), (~front).argmax(1))
    row = np.arange(len(alone))
    ends = []
    for step in (1, 2):
        other = (alone + step) % 3
        share = facing[row, alone] / (facing[row, alone] - facing[row, other])
        ends.append(corners[row, alone] + (corners[row, other] - corners[row, alone]) * share[:, None])
    return np.stack(ends, 1)


def _neighbours(triangles: Ints) -> tuple[Ints, Ints]:
    """Triangles that share an edge, and the edge's ends. Edges of any other number of triangles are left out."""
    starts, stops = triangles.reshape(-1), triangles[:, [1, 2, 0]].reshape(-1)
    low, high = np.minimum(starts, stops), np.maximum(starts, stops)
    key = low * (int(high.max(initial=0)) + 1) + high
    order = np.argsort(key, kind="stable")
    key = key[order]
    begins = np.flatnonzero(np.concatenate([[True], key[1:] != key[:-1]])) if len(key) else np.zeros(0, np.int64)
    count = np.diff(np.append(begins, len(key)))
    begins = begins[count == 2]
    first, second = order[begins], order[begins + 1]
    return np.stack([first // 3, second // 3], 1), np.stack([low[first], high[first]], 1)


def _thin_as_neighbours(facing: Floats, corners: Floats, twice: Floats, pairs: Ints) -> Floats:
    """Facing directions, with slivers facing as the neighbor across their longest edge does."""
    sides = np.linalg.norm(corners[:, [1, 2, 0]] - corners, axis=2)
    thin = twice < _THIN_MM * sides.max(1)
    if not thin.any():
        return facing
    facing = facing.copy()
    both = np.concatenate([pairs, pairs[:, ::-1]])
    both = both[thin[both[:, 0]] & ~thin[both[:, 1]]]
    # Of a sliver's neighbors the largest has the best-known direction; it is written last and stays.
    both = both[np.argsort(twice[both[:, 1]], kind="stable")]
    facing[both[:, 0]] = facing[both[:, 1]]
    return facing


def _groups(count: int, pairs: Ints) -> Ints:
    """Numbers for triangles, equal for those that hang together through the pairs."""
    label = np.arange(count)
    while len(pairs):
        first, second = label[pairs[:, 0]], label[pairs[:, 1]]
        apart = first != second
        if not apart.any():
            break
        pairs, low, high = pairs[apart], np.minimum(first, second)[apart], np.maximum(first, second)[apart]
        np.minimum.at(label, high, low)
        while not np.array_equal(label, jumped := label[label]):
            label = jumped
    return label


def _normals(triangles: Ints, points: int, group: Ints, cross: Floats, facing: Floats) -> Floats:
    """Corner normals: the mean over a smooth face's triangles at a point, by area."""
    key = (group[:, None] * points + triangles).reshape(-1)
    _, same = np.unique(key, return_inverse=True)
    same = same.reshape(-1)
    weight = np.repeat(cross, 3, axis=0)
    mean = np.stack([np.bincount(same, weight[:, each]) for each in range(3)], 1)
    mean = mean / np.maximum(np.linalg.norm(mean, axis=1), 1e-30)[:, None]
    normals = mean[same].reshape(-1, 3, 3)
    # A face can turn so far that its mean at a point means nothing there.
    far: NDArray[np.bool_] = (normals * facing[:, None, :]).sum(2) < math.cos(math.radians(40))
    return np.where(far[:, :, None], facing[:, None, :], normals)
