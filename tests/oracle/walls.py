"""The wood between two bodies, and whether they break into each other or out of the wood.

A wall is felt for from the surface of one body: from each point of it that borders on wood the
nearest point of the other is looked up in its distance field, and what lies between has to be wood
and the two faces have to stand opposite each other, so that the edge at a hole's mouth is no wall.
Meeting and coming out are read off the voxels; both have a margin of two voxels within which
neither answer is wrong.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from tests.oracle.fields import Field, Floats, gradient
from tests.oracle.lattice import Bools
from tests.oracle.wood import Hole, Removed, Wood

MARGIN = 2.0
"""Voxels within which the two judges may differ."""
_SURELY, _MAYBE = math.cos(math.radians(18)), math.cos(math.radians(50))
"""Two faces stand opposite each other at such an angle; within the wider one it may be said."""
_AROUND = 24
_MOST_POINTS = 20_000
_MOST_RAYS = 500
_PATCH = 8
"""Points of a surface on a patch two voxels across: there are two to a voxel's face. A smaller place is none."""


@dataclass(frozen=True)
class Wall:
    """The least wood between two bodies, mm; infinite where there is none to speak of."""

    surely: float = math.inf
    """Between faces that stand opposite each other beyond doubt, over a patch two voxels across."""
    maybe: float = math.inf
    """Between faces of which it may be said."""
    at: tuple[float, float, float] | None = None


def surface(wood: Wood, body: Field, voxels: Bools) -> tuple[Floats, Floats]:
    """Points of a body's surface that border on wood, and the ways into the wood there.

    Args:
        wood: What is left.
        body: The body.
        voxels: Where it may be: its surface is looked for beside these.
    """
    h = wood.voxel
    near = ndimage.binary_dilation(voxels, iterations=2)
    points = wood.lattice.places(near)
    distance = body(points)
    beside = np.abs(distance) <= 0.9 * h
    points, distance = points[beside], distance[beside]
    out = gradient(body, points, step=0.01 * h)
    found = points - distance[:, None] * out
    hair = 0.01 * h
    true = (np.abs(body(found)) < hair / 2) & (wood.field(found + hair * out) < 0)
    found, out = found[true], out[true]
    if len(found) > _MOST_POINTS:
        chosen = np.linspace(0, len(found) - 1, _MOST_POINTS).astype(int)
        found, out = found[chosen], out[chosen]
    return found, out


def wall(wood: Wood, points: Floats, out: Floats, other: Field, *, most: float) -> Wall:
    """The least wood between the surface of one body and another.

    Args:
        wood: What is left.
        points: The surface of the one.
        out: The ways into the wood.
        other: The other body.
        most: No thicker wood is looked at, mm.
    """
    h = wood.voxel
    if not len(points):
        return Wall()
    distance = other(points)
    near = (distance > 1e-6) & (distance < most)
    points, out, distance = points[near], out[near], distance[near]
    if not len(points):
        return Wall()
    across = _straight_through(wood, points, out, other, most=most)
    starts = points + 0.01 * h * out
    toward = -gradient(other, starts, step=min(0.01 * h, 1e-3))
    facing = (out * toward).sum(axis=1)
    ends = points + distance[:, None] * toward
    fair = (facing >= _MAYBE) & (np.abs(other(ends)) < 0.02 * h + 0.02 * distance)
    points, ends, distance, facing = points[fair], ends[fair], distance[fair], facing[fair]
    for share in (0.05, 0.3, 0.6, 0.95):
        wooden = wood.field(points + share * (ends - points)) < 1e-9
        points, ends, distance, facing = points[wooden], ends[wooden], distance[wooden], facing[wooden]
    if not len(points):
        return Wall(maybe=across)
    order = np.argsort(np.where(facing >= _SURELY, distance, distance + most))
    surely = distance[order][: np.count_nonzero(facing >= _SURELY)]
    x, y, z = (round(float(side), 2) for side in points[order[0]])
    return Wall(
        float(surely[_PATCH - 1]) if len(surely) >= _PATCH else math.inf, min(across, float(distance.min())), (x, y, z)
    )


def _straight_through(wood: Wood, points: Floats, out: Floats, other: Field, *, most: float) -> float:
    """The least way straight from a face through wood into another body: a rim lower than it is thick is a wall too."""
    points, out = points[:: max(1, len(points) // _MOST_RAYS)], out[:: max(1, len(out) // _MOST_RAYS)]
    ways = np.linspace(0.02, 1.0, 24) * most
    for way in ways:
        there = points + way * out
        wooden = wood.field(there) < 0
        if (other(there[~wooden]) < 0).any():
            return float(way)
        points, out = points[wooden], out[wooden]
        if not len(points):
            break
    return math.inf


def meet(wood: Wood, new: Field, new_chips: Bools, old: Field, old_chips: Bools) -> tuple[bool, bool]:
    """Whether two bodies surely break into each other, and whether that may be said.

    They surely do where a ball two voxels across lies in both, at wood that the old one took and that the
    new one goes on from; they surely do not where their voxels are further apart than the margin.
    """
    h = wood.voxel
    if not new_chips.any() or not old_chips.any():
        return False, False
    if wood.lattice.gap(new_chips, old_chips) > (MARGIN + 1) * h:
        return False, False
    places = wood.lattice.places(old_chips)
    deep = np.maximum(new(places), old(places)) < -h
    beside = np.count_nonzero(ndimage.binary_dilation(new_chips) & old_chips)
    return bool(deep.any() and beside >= 20), True


def _rings(hole: Hole, radius: float, places: Floats) -> Floats:
    """Points around a hole, part coordinates: places x around x 3."""
    turns = 2 * np.pi * (np.arange(_AROUND) + 0.37) / _AROUND
    circle = np.column_stack([radius * np.cos(turns), radius * np.sin(turns), np.zeros(_AROUND)])
    local = circle[None, :, :] + places[:, None, None] * np.array([0.0, 0.0, 1.0])
    return hole.frame.part(local.reshape(-1, 3)).reshape(len(places), _AROUND, 3)


def comes_out(wood: Wood, hole: Hole, own: Removed, *, wider: float) -> bool:
    """Whether a hole, made so much wider and deeper, comes out of the wood again.

    It does where, past the first place at which there is wood all around it, some of its wall or floor
    is in air that is not another hole's; or, where there is no such place, at all.
    """
    radius, long = hole.diameter / 2 + wider, hole.long + (0.0 if hole.through else wider)
    if long <= 0:
        return False
    places = np.arange(0.25 * wood.voxel, long, wood.voxel / 2)
    if radius <= 0 or not len(places):
        return False
    rings = _rings(hole, radius, places)
    air, solid = (found.reshape(rings.shape[:2]) for found in _air_and_wood(wood, rings.reshape(-1, 3), own))
    whole = ~air.any(axis=1)
    floor = _rings(hole, 0.5 * radius, np.array([long]))[0]
    floor_out = not hole.through and bool(_air_and_wood(wood, floor, own)[0].any())
    if wider < 0:
        # All around it over two voxels, so that no skin is taken for whole wood.
        whole = ndimage.binary_opening(whole, structure=np.ones(4, dtype=bool))
    if not whole.any():
        partly = air.any(axis=1) & solid.any(axis=1)
        return bool(partly.sum() > (2 if wider <= 0.01 else 0))
    first, last = int(whole.argmax()), len(whole) - 1 - int(whole[::-1].argmax())
    # A hole that goes right through is open at its far end.
    stretch = ~whole[first : last + 1] if hole.through else ~whole[first:]
    return bool(stretch.any()) or floor_out


def meets_air(wood: Wood, cut: Removed, *, wider: float) -> bool:
    """Whether what is cut into a hole's wall, made so much larger, comes out of the wood past the hole's mouth."""
    middles = wood.lattice.middles
    assert cut.behind is not None
    near = (cut.field(middles) < wider) & (cut.behind(middles) < 0)
    return bool(near.any()) and bool(_air_and_wood(wood, middles[near], cut)[0].any())


def _air_and_wood(wood: Wood, points: Floats, own: Removed) -> tuple[Bools, Bools]:
    """Where points lie past the outside of the wood and in no other hole, and where there is wood but for this one."""
    outer = wood.blank(points) > 0
    inner = np.zeros(len(points), dtype=bool)
    for one in wood.removed:
        if one is own:
            continue
        taken = one.field(points) < 0
        if one.inside:
            inner |= taken
        else:
            outer |= taken
    return outer & ~inner, ~outer & ~inner
