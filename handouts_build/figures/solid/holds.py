"""What holds the wood, as simple solids for pictures: centers, jaws and plates.

This module owns their shapes, which stand for a kind of hold and not for any maker's
part. Where they sit, and whether they may, is for others to say.
"""

from __future__ import annotations

import math

import numpy as np

from handouts_build.figures.solid.mesh import Floats, SurfaceMesh, Vector, joined

__all__ = ["center", "jaws", "plate", "revolved"]

_ROUND = 48
"""Facets of a full turn."""


def revolved(
    profile: list[tuple[float, float]],
    *,
    at: Vector,
    direction: Vector,
    start_deg: float = 0.0,
    stop_deg: float = 360.0,
    around: int = _ROUND,
) -> SurfaceMesh:
    """A profile turned about an axis.

    Args:
        profile: Corners as (along the axis, from the axis), in mm, around its area.
        at: Where on the axis the profile's nought lies, in mm.
        direction: Of the axis.
        start_deg: Where a part of a turn begins.
        stop_deg: Where it ends.
        around: Facets of a full turn.
    """
    along = np.array(direction, float) / np.linalg.norm(direction)
    helper = np.array([0.0, 0.0, 1.0]) if abs(along[2]) < 0.9 else np.array([1.0, 0.0, 0.0])
    side = np.cross(along, helper)
    side /= np.linalg.norm(side)
    other = np.cross(along, side)
    whole = abs(stop_deg - start_deg - 360.0) < 1e-9
    facets = max(2, math.ceil(around * (stop_deg - start_deg) / 360))
    angles = np.radians(np.linspace(start_deg, stop_deg, facets + 1))
    places: Floats = np.array(profile, float)
    ahead = np.roll(places, -1, axis=0)
    if float((places[:, 0] * ahead[:, 1] - ahead[:, 0] * places[:, 1]).sum()) < 0:
        places = places[::-1]
    spokes = np.cos(angles)[:, None] * side + np.sin(angles)[:, None] * other
    points = np.array(at) + places[None, :, :1] * along + places[None, :, 1:] * spokes[:, None, :]
    if whole:
        points[-1] = points[0]
    count = len(profile)
    turn, corner = (each.reshape(-1) for each in np.meshgrid(range(facets), range(count), indexing="ij"))
    following = (corner + 1) % count
    here, there = turn * count, (turn + 1) * count
    walls = [
        np.stack([here + corner, here + following, there + following], 1),
        np.stack([here + corner, there + following, there + corner], 1),
    ]
    if not whole:
        # The ends are fans from the first corner, so a part of a turn takes a profile without hollows.
        fan = np.array([(0, each, each + 1) for each in range(1, count - 1)])
        walls += [fan[:, ::-1], fan + facets * count]
    faces = np.concatenate(walls)
    flat = points.reshape(-1, 3)
    corners = flat[faces]
    area = np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1)
    return SurfaceMesh.of(flat, faces[area > 1e-9])


def center(tip: Vector, *, direction: Vector, diameter_mm: float = 16.0) -> SurfaceMesh:
    """A center with a point of 60 degrees, the common angle.

    Args:
        tip: Where its point is, in mm.
        direction: From the point away from the wood.
        diameter_mm: Of its head.
    """
    radius = diameter_mm / 2
    cone = radius / math.tan(math.radians(30))
    neck = [(cone, radius), (cone + radius * 0.7, radius), (cone + radius * 0.7, radius * 0.6)]
    return revolved(
        [(0, 0), *neck, (cone + radius * 1.6, radius * 0.6), (cone + radius * 1.6, 0)], at=tip, direction=direction
    )


def jaws(face: Vector, *, direction: Vector, grip_mm: float, deep_mm: float, thick_mm: float = 7.0) -> SurfaceMesh:
    """Four jaws closed around a tenon, and the chuck's body behind them.

    Args:
        face: Middle of the jaws' face, in mm.
        direction: From the face away from the wood.
        grip_mm: Diameter they close on.
        deep_mm: How deep they reach over the tenon.
        thick_mm: Of the jaws, outward.
    """
    inner, outer = grip_mm / 2, grip_mm / 2 + thick_mm
    ring = [(0.0, inner), (deep_mm, inner), (deep_mm, outer), (0.0, outer)]
    gap = math.degrees(min(1.2 / inner, 0.3))
    parts = [
        revolved(ring, at=face, direction=direction, start_deg=turn + 45 + gap, stop_deg=turn + 135 - gap)
        for turn in (0.0, 90.0, 180.0, 270.0)
    ]
    parts.append(
        plate(face, direction=direction, diameter_mm=2 * outer + 6, thick_mm=max(8.0, outer * 0.6), off_mm=deep_mm)
    )
    return joined(parts)


def plate(
    face: Vector, *, direction: Vector, diameter_mm: float, thick_mm: float = 8.0, off_mm: float = 0.0
) -> SurfaceMesh:
    """A round plate, such as a faceplate.

    Args:
        face: Middle of the face that meets the wood, in mm.
        direction: From the face away from the wood.
        diameter_mm: Of the plate.
        thick_mm: Of the plate.
        off_mm: How far behind the face it begins.
    """
    radius = diameter_mm / 2
    disc = [(off_mm, 0.0), (off_mm + thick_mm, 0.0), (off_mm + thick_mm, radius), (off_mm, radius)]
    return revolved(disc, at=face, direction=direction)
