"""Thin wood felt for by rays, where two cuts open into each other and no distance between them says it.

This module owns the rays: from the faces that a cut left, around the walls of holes, and from
inner corners. Distances between bodies that do not meet are in `gaps`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from handouts_build.workpiece.axes import Floats, vector
from handouts_build.workpiece.cut import Made, Nature
from handouts_build.workpiece.features import PAST_MM
from handouts_build.workpiece.solid import Solid
from handouts_build.workpiece.web import Web

__all__ = ["felt"]

_RAYS = 240
_ALIKE_HOLES, _RINGS = 1, 10
"""Holes of one cut whose walls are felt along, the others being like it, and places along each."""
_CORNER_DEG, _CORNERS, _BETWEEN = 30.0, 48, (0.15, 0.5, 0.85)
_SHARES = np.array(_BETWEEN)[:, None]
"""How sharp an inner corner is that is looked from, how many of one cut, and shares of the one face's way."""
_PAIRED, _TRIED = 600, 24
"""Places along the corners of a cut that are measured to those of another, and of the nearest so many looked at."""
_BEHIND = 0.3
"""Sine of the angle by which a way from corner to corner leaves each of their faces, at the least."""
_NONE: Floats = np.zeros((0, 3))
_FACING = 0.85
"""Cosine of the angle within which two faces stand opposite each other."""


def felt(new: Made, made: Sequence[Made], wood: Solid, *, near_mm: float, ample_mm: float) -> dict[str, Web]:
    """The least wood between a new cut and each cut of the other nature, by that cut's name.

    Args:
        new: The cut just made.
        made: Those before it.
        wood: What is left.
        near_mm: Wood is felt for where it is less, mm.
        ample_mm: Beside corners, where it is less than this, mm.
    """
    found: dict[str, Web] = {}
    for webs in (
        _from_faces(new, made, wood, near_mm=near_mm),
        _around_holes(new, made, wood, near_mm=near_mm),
        _from_corners(new, made, wood, near_mm=ample_mm),
    ):
        for name, web in webs.items():
            if name not in found or web.left_mm < found[name].left_mm:
                found[name] = web
    return found


def _from_faces(new: Made, made: Sequence[Made], wood: Solid, *, near_mm: float) -> dict[str, Web]:
    """The least wood behind the faces a new cut left, by who took the wood beyond it.

    Rays go from the new faces into the wood. Only faces that stand opposite each other
    count, so that the edge of a hole is not taken for thin wood. No ray begins on the flank of a thread: the wood
    behind a thread is felt for around its hole, and under one on a tenon from the blank's own opening.
    """
    if new.ridged:
        return _under_ridges(new, made, wood, near_mm=near_mm)
    found: dict[str, Web] = {}
    walls = _walls(wood, new.mark, near_mm=near_mm)
    for wall, other in zip(walls, _owners([wall.beyond for wall in walls], made, new), strict=True):
        if other is not None and other not in found:
            found[other] = Web((new.name, other), wall.left_mm, vector(wall.middle))
    return found


def _under_ridges(new: Made, made: Sequence[Made], wood: Solid, *, near_mm: float) -> dict[str, Web]:
    """The least wood between a thread on a tenon and the blank's own opening, which has no ring of points along it."""
    found: dict[str, Web] = {}
    for opening in (old for old in made if old.own and old.nature is not new.nature):
        # The faces of an opening that the blank came with bear the blank's own mark.
        for wall in _walls(wood, made[0].mark, near_mm=near_mm):
            here, beyond = opening.body.contains(wall.before[None, :])[0], new.body.contains(wall.beyond[None, :])[0]
            if here and beyond:
                found[opening.name] = Web((new.name, opening.name), wall.left_mm, vector(wall.middle))
                break
    return found


@dataclass(frozen=True)
class _FeltWall:
    """Wood between two faces that stand opposite each other, part coordinates, mm."""

    left_mm: float
    before: Floats
    """Just out of the face that it is felt for from."""
    middle: Floats
    beyond: Floats
    """Just past the other."""


def _walls(wood: Solid, mark: int, *, near_mm: float) -> list[_FeltWall]:
    """The wood behind the faces that bear a mark, thinnest first."""
    starts, normals = _samples(wood, mark)
    found: list[_FeltWall] = []
    for start, normal in zip(starts, normals, strict=True):
        hits = wood.hits(start - 1e-4 * normal, start - near_mm * normal)
        if hits and (facing := float(hits[0][1] @ -normal)) >= _FACING:
            distance = hits[0][0]
            middle, beyond = start - distance / 2 * normal, start - (distance + 0.02) * normal
            found.append(_FeltWall(distance * facing, start + 0.02 * normal, middle, beyond))
    return sorted(found, key=lambda wall: wall.left_mm)


def _around_holes(new: Made, made: Sequence[Made], wood: Solid, *, near_mm: float) -> dict[str, Web]:
    """The least wood around the walls of holes, by the cut of the outside beyond it; a narrow strip is not missed.

    Rays go straight out from a hole's own wall, all around and all along it.
    """
    found: dict[str, Web] = {}
    inner = [new] if new.nature is Nature.INSIDE else [old for old in made if old.nature is Nature.INSIDE]
    for cut in inner:
        beyond = made if cut is new else [new]
        for probe in cut.probes[:_ALIKE_HOLES]:
            rings = _along_the_wall(probe.wall)
            for ring in rings[:: max(1, len(rings) // _RINGS)]:
                out = ring - ring.mean(axis=0)
                out /= np.maximum(np.linalg.norm(out, axis=1), 1e-9)[:, None]
                met = [
                    (hits[0][0], start, way)
                    for start, way in zip(ring, out, strict=True)
                    # The first face met from within is left through its back.
                    if (hits := wood.hits(start, start + near_mm * way)) and float(hits[0][1] @ way) >= _FACING
                ]
                others = _owners([start + (distance + 0.02) * way for distance, start, way in met], beyond, cut)
                for (distance, start, way), other in zip(met, others, strict=True):
                    if other is None:
                        continue
                    left, name = distance + PAST_MM, other if cut is new else cut.name
                    if name not in found or left < found[name].left_mm:
                        found[name] = Web((new.name, name), left, vector(start + distance / 2 * way))
    return found


def _along_the_wall(rings: Sequence[Floats]) -> list[Floats]:
    """Those of a hole's rings beside which its wall runs along it: past a step in a hollow no wall is square to out."""
    if len(rings) < 2:
        return list(rings)
    middles = [ring.mean(axis=0) for ring in rings]
    radii = [float(np.linalg.norm(ring[0] - middle)) for ring, middle in zip(rings, middles, strict=True)]
    found = []
    for index, ring in enumerate(rings):
        before, beyond = max(index - 1, 0), min(index + 1, len(rings) - 1)
        along = float(np.linalg.norm(middles[beyond] - middles[before]))
        if along >= _FACING * math.hypot(along, radii[beyond] - radii[before]):
            found.append(ring)
    return found


def _from_corners(new: Made, made: Sequence[Made], wood: Solid, *, near_mm: float) -> dict[str, Web]:
    """The least wood beside inner corners, such as a shoulder's: no ray that is square to either face meets one.

    Rays go from the corner into the wood, in the ways that lie between those of its two faces. A corner that lies
    nearest to another corner is met squarely by none of them either: those are measured from one to the other.
    """
    if new.chips.is_empty:
        return {}
    middles, normals, marks = wood.inner_corners(sharper_deg=_CORNER_DEG)
    known = {cut.mark: cut for cut in (*made, new)}
    found: dict[str, Web] = {}
    own_middles, own_normals = _NONE, np.zeros((0, 2, 3))
    for owner in (new, *(old for old in made if old.nature is not new.nature)):
        if owner.ridged:
            continue
        own = np.flatnonzero((marks == owner.mark).any(axis=1))
        if owner is not new:
            low, high = np.array(new.chips.box_mm[:3]) - near_mm, np.array(new.chips.box_mm[3:]) + near_mm
            own = own[((middles[own] > low) & (middles[own] < high)).all(axis=1)]
        others = [mark for mark, cut in known.items() if cut.nature is not owner.nature]
        own = own[~np.isin(marks[own], others).any(axis=1)]
        if owner is new:
            own_middles, own_normals = middles[own], normals[own]
        elif (
            web := _corner_to_corner(
                (new.name, owner.name), (own_middles, own_normals), (middles[own], normals[own]), wood, near_mm
            )
        ) is not None:
            found[owner.name] = min(web, found.get(owner.name, web), key=lambda known_web: known_web.left_mm)
        looked = own[:: max(1, math.ceil(len(own) / _CORNERS))]
        ways = -(_SHARES * normals[looked, None, 0] + (1 - _SHARES) * normals[looked, None, 1])
        ways /= np.maximum(np.linalg.norm(ways, axis=2), 1e-9)[..., None]
        starts = middles[looked, None] + 1e-4 * ways
        touching = _touched(starts, owner, made if owner is new else (new,))
        for index, beside in zip(looked, zip(starts, ways, touching, strict=True), strict=True):
            for start, way, touched in zip(*beside, strict=True):
                if touched is not None:
                    met = touched if owner is new else owner.name
                    found[met] = Web((new.name, met), 0.0, vector(middles[index]))
                    break
                hits = wood.hits(start, start + near_mm * way)
                if not hits or (facing := float(hits[0][1] @ way)) < _FACING:
                    continue
                beyond = start + (hits[0][0] + 0.02) * way
                name = _owners([beyond], made, new)[0] if owner is new else owner.name
                if name is None or (owner is not new and not new.body.contains(beyond[None, :])[0]):
                    continue
                left = hits[0][0] * facing
                if name not in found or left < found[name].left_mm:
                    found[name] = Web((new.name, name), left, vector(start + hits[0][0] / 2 * way))
    return found


def _touched(starts: Floats, owner: Made, others: Sequence[Made]) -> list[list[str | None]]:
    """The cut of the other nature that a corner lies on, as where a bore is as wide as the neck: no wood is between.

    Args:
        starts: Places a hair behind each corner, corners x ways x 3.
        owner: Whose corners they are.
        others: Cuts they may lie on; the first counts.

    Returns:
        The name for each place; None where there is no such cut.
    """
    places = starts.reshape(-1, 3)
    found: list[str | None] = [None] * len(places)
    left = np.arange(len(places))
    for cut in others:
        if cut.nature is not owner.nature:
            lies = cut.body.contains(places[left])
            for place in left[lies]:
                found[place] = cut.name
            left = left[~lies]
    wide = starts.shape[1]
    return [found[first : first + wide] for first in range(0, len(found), wide)]


def _corner_to_corner(
    names: tuple[str, str],
    corners: tuple[Floats, Floats],
    others: tuple[Floats, Floats],
    wood: Solid,
    near_mm: float,
) -> Web | None:
    """The least wood between an inner corner of one cut and one of another that look at each other through it.

    Args:
        names: Of the two cuts.
        corners: Places along the corners of the one, mm, and the normals of the two faces at each.
        others: The same of the other.
        wood: What is left.
        near_mm: Wood is told where it is less, mm.
    """
    (here, here_normals), (there, there_normals) = (
        (places[:: max(1, math.ceil(len(places) / _PAIRED))], faces[:: max(1, math.ceil(len(places) / _PAIRED))])
        for places, faces in (corners, others)
    )
    if not len(here) or not len(there):
        return None
    apart = np.linalg.norm(here[:, None] - there[None], axis=2)
    nearest = apart.argmin(axis=1)
    least = apart[np.arange(len(here)), nearest]
    ways = (there[nearest] - here) / np.maximum(least, 1e-9)[:, None]
    # Behind both faces of either corner: a way along a face is none through a wall.
    behind = np.minimum(
        -(here_normals * ways[:, None]).sum(axis=2).max(axis=1),
        (there_normals[nearest] * ways[:, None]).sum(axis=2).min(axis=1),
    )
    order = np.flatnonzero((least < near_mm) & (behind > _BEHIND))
    order = order[np.argsort(least[order])][:_TRIED]
    if not len(order):
        return None
    between = [here[order] + share * (there[nearest[order]] - here[order]) for share in _BETWEEN]
    for place in np.flatnonzero(np.array([wood.contains(points) for points in between]).all(axis=0))[:1]:
        at = order[place]
        return Web(names, float(least[at]), vector((here[at] + there[nearest[at]]) / 2))
    return None


def _owners(points: Sequence[Floats], made: Sequence[Made], new: Made) -> list[str | None]:
    """The cut of the other nature that took the wood at each point, if one did."""
    found: list[str | None] = [None] * len(points)
    if not found:
        return found
    table = np.array(points)
    open_still = ~new.body.contains(table)
    for old in made:
        if old.nature is not new.nature and open_still.any():
            asked = np.flatnonzero(open_still)
            for index in asked[old.body.contains(table[asked])]:
                found[index], open_still[index] = old.name, False
    return found


def _samples(wood: Solid, mark: int) -> tuple[Floats, Floats]:
    """Points spread evenly by area over the faces that bear a mark, with the normals there."""
    corners = wood.corners()[wood.marks == mark]
    none = np.zeros((0, 3))
    if not len(corners):
        return none, none
    crosses = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    areas = np.linalg.norm(crosses, axis=1) / 2
    total = np.cumsum(areas)
    if total[-1] <= 0:
        return none, none
    which = np.searchsorted(total, (np.arange(_RAYS) + 0.5) / _RAYS * total[-1])
    which = np.minimum(which, len(corners) - 1)
    # The two-dimensional golden sequence: even, and the same every time.
    u, v = np.modf(0.5 + np.arange(_RAYS)[:, None] * np.array([0.7548776662, 0.5698402910]))[0].T
    over = u + v > 1
    u, v = np.where(over, 1 - u, u), np.where(over, 1 - v, v)
    chosen = corners[which]
    points = chosen[:, 0] + u[:, None] * (chosen[:, 1] - chosen[:, 0]) + v[:, None] * (chosen[:, 2] - chosen[:, 0])
    return points, crosses[which] / np.maximum(2 * areas[which], 1e-12)[:, None]
