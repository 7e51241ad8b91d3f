"""The wood that is left between cuts, and where cuts meet.

This module owns the least wood between any two removed bodies, between a cut and
the outside, and the walls a cut breaks through. Whether that is meant, or too
little, is for `stages` to say.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from handouts_build.workpiece.axes import Axis, Floats, Vector, vector
from handouts_build.workpiece.cut import Made, Nature, Probe
from handouts_build.workpiece.features import PAST_MM
from handouts_build.workpiece.solid import Solid

__all__ = ["MEETS_MM", "OUTSIDE", "Breach", "Web", "breaches", "gap_of", "gaps_between", "gaps_within", "outer_webs"]

OUTSIDE = "the outside"
"""What is not of any cut: the blank's own surface, and the air around it."""
MEETS_MM = 1e-4
"""Bodies closer than this meet."""
_NEIGHBORS = 16
"""Holes of one ring that are measured against their neighbors: the ring is alike all around."""
_RAYS = 240
_EDGE_MM, _CLOUD, _TRIED = 0.5, 1500, 400
"""Points on a cut's surface lie no closer; so many are compared with each other's, and so many pairs looked at."""
_ALIKE_MM = 0.05
"""Webs of one ring that differ by less are alike."""
_ALIKE_HOLES, _RINGS = 1, 10
"""Holes of one cut whose walls are felt along, the others being like it, and places along each."""
_CORNER_DEG, _CORNERS, _BETWEEN = 30.0, 48, (0.15, 0.5, 0.85)
"""How sharp an inner corner is that is looked from, how many of one cut, and shares of the one face's way."""
_FACING = 0.85
"""Cosine of the angle within which two faces stand opposite each other."""


@dataclass(frozen=True)
class Web:
    """The least wood between two cuts, or a cut and the outside."""

    names: tuple[str, str]
    """The two cuts; `the outside` for the blank's own surface."""
    left_mm: float
    at_mm: Vector | None
    """Where, in part coordinates; none where the wood is ample."""
    places: int = 1
    """In how many like places of a ring of holes it stands."""


@dataclass(frozen=True)
class Breach:
    """A place where a hole's wall or floor is not there."""

    name: str
    at_mm: Vector


def _apart(body: Solid, other: Solid) -> float:
    """Distance between the boxes about two bodies."""
    first, second = body.box_mm, other.box_mm
    sides = [max(first[axis] - second[axis + 3], second[axis] - first[axis + 3], 0.0) for axis in range(3)]
    return float(np.hypot(np.hypot(sides[0], sides[1]), sides[2]))


def gap_of(body: Solid, other: Solid, *, near_mm: float) -> float | None:
    """Least distance between two bodies, mm.

    Args:
        body: The first.
        other: The second.
        near_mm: How far it is looked for, mm.

    Returns:
        The distance; None where it is `near_mm` or more, or a body is empty.
    """
    if body.is_empty or other.is_empty or _apart(body, other) >= near_mm:
        return None
    # Most that are near meet or almost do, and a short way is searched far quicker than a long one.
    for way in (near_mm / 4, near_mm / 2, near_mm):
        gap = body.gap_mm(other, within_mm=way)
        if gap < way:
            return gap
    return None


def _between(new: Made, old: Made, body: Solid, other: Solid, *, near_mm: float) -> float | None:
    """The same for a new cut and an old one; they touch where the new one took a face that the old one left."""
    return 0.0 if new.chips.bears(old.mark) else gap_of(body, other, near_mm=near_mm)


def _narrowest(first_body: Solid, second_body: Solid, gap_mm: float) -> tuple[Floats, Floats]:
    """A pair of points, one on each body, close to the narrowest place."""
    edge = max(1.0, gap_mm)
    clouds = []
    for body, beside in ((first_body, second_body), (second_body, first_body)):
        near = body & Solid.box(beside.box_mm, wider_mm=gap_mm + edge)
        points = (body if near.is_empty else near).finely(edge_mm=edge)
        clouds.append(points[:: max(1, len(points) // 600)])
    first, second = clouds
    squares = (first**2).sum(axis=1)[:, None] + (second**2).sum(axis=1) - 2 * first @ second.T
    row, column = np.unravel_index(int(squares.argmin()), squares.shape)
    return first[row], second[column]


def _web(
    names: tuple[str, str], body: Solid, other: Solid, gap: float, wood: Solid, *, ample_mm: float, inside: bool = True
) -> Web | None:
    """The web with its place, if there is still wood there; ample wood needs no place.

    Between cuts into the wood, that is looked for beside the narrowest place too. A cut that shapes the
    outside lies along the mouth of every hole, and would be taken for thin wood there.
    """
    if gap >= ample_mm:
        return Web(names, gap, None)
    first, second = _narrowest(body, other, gap)
    middle = (first + second) / 2
    if gap <= MEETS_MM or wood.contains(middle[None, :])[0]:
        return Web(names, gap, vector(middle))
    if not inside:
        return None
    # Another cut took the wood at the narrowest place: what it leaves beside that may be as thin.
    return _beside_air(names, body, other, wood, edge_mm=max(_EDGE_MM, gap / 3), ample_mm=ample_mm)


def _beside_air(
    names: tuple[str, str], first_body: Solid, second_body: Solid, wood: Solid, *, edge_mm: float, ample_mm: float
) -> Web | None:
    """The thinnest wood between two bodies where some of what lies between them is gone already.

    Args:
        names: Of the two.
        first_body: The first.
        second_body: The second.
        wood: What is left.
        edge_mm: How close points lie from which the thickness is taken.
        ample_mm: Wood is looked for where it is less thick.
    """
    clouds = []
    for body, beside in ((first_body, second_body), (second_body, first_body)):
        points = (body & Solid.box(beside.box_mm, wider_mm=ample_mm)).finely(edge_mm=edge_mm)
        clouds.append(points[:: max(1, len(points) // _CLOUD)])
    first, second = clouds
    if not len(first) or not len(second):
        return None
    squares = (first**2).sum(axis=1)[:, None] + (second**2).sum(axis=1) - 2 * first @ second.T
    nearest = squares.argmin(axis=1)
    apart = np.sqrt(np.maximum(squares[np.arange(len(first)), nearest], 0.0))
    order = np.argsort(apart)
    order = order[(apart[order] < ample_mm) & (apart[order] > MEETS_MM)][:_TRIED]
    middles = (first[order] + second[nearest[order]]) / 2
    wooden = np.flatnonzero(wood.contains(middles))
    if not len(wooden):
        return None
    return Web(names, float(apart[order[wooden[0]]]), vector(middles[wooden[0]]))


def gaps_between(
    new: Made, earlier: Sequence[Made], wood: Solid, *, near_mm: float, ample_mm: float
) -> Iterator[tuple[Made, Web]]:
    """The wood between a new cut into the wood and each earlier one that is near.

    Args:
        new: The cut just made.
        earlier: Those before it.
        wood: What is left.
        near_mm: Wood is measured where it is less.
        ample_mm: Wood is looked at more closely where it is less.
    """
    for old in earlier:
        if old.nature is not Nature.INSIDE or (new.of is not None and new.of in old.features):
            continue
        gap = _between(new, old, new.chips, old.chips, near_mm=near_mm)
        if gap is None:
            continue
        if gap <= MEETS_MM and new.means(old):
            yield old, Web((new.name, old.name), gap, None)
            continue
        web = _web((new.name, old.name), new.chips, old.chips, gap, wood, ample_mm=ample_mm)
        if web is not None:
            yield old, web


def gaps_within(new: Made, wood: Solid, *, near_mm: float, ample_mm: float) -> Web | None:
    """The least wood between neighboring holes of one cut; nought where they break into each other.

    Args:
        new: The cut just made.
        wood: What is left.
        near_mm: Wood is measured where it is less, mm.
        ample_mm: Wood is looked at more closely where it is less, mm.

    Returns:
        The web; None where there are no such holes, or none are near.
    """
    count = len(new.apart)
    # The holes as drilled in the wood, not the drill's way to it through the air.
    chips = [hole & new.chips for hole in new.apart[:_NEIGHBORS]]
    pairs = [(index, index + 1) for index in range(len(chips) - 1)]
    if 2 < count == len(chips):
        pairs.append((count - 1, 0))
    gaps = [(gap_of(chips[first], chips[second], near_mm=near_mm), first, second) for first, second in pairs]
    found = [(gap, first, second) for gap, first, second in gaps if gap is not None]
    if not found:
        return None
    gap, first, second = min(found)
    web = _web((new.features[first], new.features[second]), chips[first], chips[second], gap, wood, ample_mm=ample_mm)
    if web is None:
        return None
    like = sum(other_gap <= gap + _ALIKE_MM for other_gap, _, _ in found)
    # Of a larger ring only some are measured; where all of these are alike, so is the rest.
    return replace(web, places=count if like == len(found) and count > len(chips) else like)


def outer_webs(new: Made, made: Sequence[Made], wood: Solid, *, near_mm: float, ample_mm: float) -> list[Web]:
    """The least wood between cuts into the wood and cuts that shape the outside, of which one is new.

    Where the two do not open into each other the distance is that of the bodies, which is
    exact. Where they do, as a hole does at its mouth, or where a third cut took the wood at the
    narrowest place, the wood elsewhere is felt for by rays.

    Args:
        new: The cut just made.
        made: Those before it.
        wood: What is left.
        near_mm: Wood is measured where it is less, mm.
        ample_mm: Wood is looked at more closely where it is less, mm.
    """
    wanted = Nature.OUTSIDE if new.nature is Nature.INSIDE else Nature.INSIDE
    found: dict[str, Web] = {}
    open_to: set[str] = set()
    for old in made:
        if old.nature is not wanted:
            continue
        inner, outer = (new, old) if new.nature is Nature.INSIDE else (old, new)
        # A shape of which no face is left, or none nearby, has been cut away here by a later one.
        if inner.chips.is_empty or not _beside(wood.box_of(outer.mark), inner.chips, by_mm=near_mm):
            continue
        gap = _between(new, old, inner.chips, outer.body, near_mm=near_mm)
        if gap is None:
            continue
        if gap <= MEETS_MM:
            open_to.add(old.name)
            continue
        web = _web((new.name, old.name), inner.chips, outer.body, gap, wood, ample_mm=ample_mm, inside=False)
        if web is not None:
            found[old.name] = web
        else:
            open_to.add(old.name)
    if open_to:
        felt = _felt(new, made, wood, near_mm=near_mm)
        for more in (_felt_around(new, made, wood, near_mm=near_mm), _felt_from(new, made, wood, near_mm=ample_mm)):
            for name, web in more.items():
                if name not in felt or web.left_mm < felt[name].left_mm:
                    felt[name] = web
        found |= {name: web for name, web in felt.items() if name in open_to}
    return _apart_from_each_other(found.values(), new.axis, by_mm=3 * ample_mm)


def _beside(faces: Floats | None, body: Solid, *, by_mm: float) -> bool:
    """Whether any face within a box may lie as near to a body as told."""
    if faces is None:
        return False
    low, high = np.array(body.box_mm[:3]), np.array(body.box_mm[3:])
    apart = np.maximum(np.maximum(faces[0] - high, low - faces[1]), 0.0)
    return float(np.linalg.norm(apart)) < by_mm


def _apart_from_each_other(webs: Iterable[Web], axis: Axis, *, by_mm: float) -> list[Web]:
    """The least web of each place: shapes cut over one another leave one wall, which is told once.

    Places around the axis count as one.
    """
    told: list[tuple[Web, tuple[float, float]]] = []
    for web in sorted(webs, key=lambda web: round(web.left_mm, 3)):
        x, y, z = axis.to_lathe(np.array(web.at_mm if web.at_mm is not None else (0.0, 0.0, 0.0)))
        spot = (math.hypot(x, y), float(z))
        if web.at_mm is None or all(math.dist(spot, other) > by_mm for known, other in told if known.at_mm is not None):
            told.append((web, spot))
    return [web for web, _ in told]


def _felt(new: Made, made: Sequence[Made], wood: Solid, *, near_mm: float) -> dict[str, Web]:
    """The least wood behind the faces a new cut left, by who took the wood beyond it.

    Rays go from the new faces into the wood. Only faces that stand opposite each other
    count, so that the edge of a hole is not taken for thin wood.
    """
    starts, normals = _samples(wood, new.mark)
    walls: list[tuple[float, int, float]] = []
    for index, (start, normal) in enumerate(zip(starts, normals, strict=True)):
        hits = wood.hits(start - 1e-4 * normal, start - near_mm * normal)
        if hits and float(hits[0][1] @ -normal) >= _FACING:
            distance, facing = hits[0]
            walls.append((distance * float(facing @ -normal), index, distance))
    found: dict[str, Web] = {}
    for left, index, distance in sorted(walls):
        start, normal = starts[index], normals[index]
        other = _owner(start - (distance + 0.02) * normal, made, new)
        if other is not None and other not in found:
            found[other] = Web((new.name, other), left, vector(start - distance / 2 * normal))
    return found


def _felt_around(new: Made, made: Sequence[Made], wood: Solid, *, near_mm: float) -> dict[str, Web]:
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
                for start, way in zip(ring, out, strict=True):
                    hits = wood.hits(start, start + near_mm * way)
                    # The first face met from within is left through its back.
                    if not hits or float(hits[0][1] @ way) < _FACING:
                        continue
                    left, other = hits[0][0] + PAST_MM, _owner(start + (hits[0][0] + 0.02) * way, beyond, cut)
                    if other is None:
                        continue
                    name = other if cut is new else cut.name
                    if name not in found or left < found[name].left_mm:
                        found[name] = Web((new.name, name), left, vector(start + hits[0][0] / 2 * way))
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


def _felt_from(new: Made, made: Sequence[Made], wood: Solid, *, near_mm: float) -> dict[str, Web]:
    """The least wood beside inner corners, such as a shoulder's: no ray that is square to either face meets one.

    Rays go from the corner into the wood, in the ways that lie between those of its two faces.
    """
    if new.chips.is_empty:
        return {}
    middles, normals, marks = wood.inner_corners(sharper_deg=_CORNER_DEG)
    known = {cut.mark: cut for cut in (*made, new)}
    found: dict[str, Web] = {}
    for owner in (new, *(old for old in made if old.nature is not new.nature)):
        own = np.flatnonzero((marks == owner.mark).any(axis=1))
        if owner is not new:
            low, high = np.array(new.chips.box_mm[:3]) - near_mm, np.array(new.chips.box_mm[3:]) + near_mm
            own = own[((middles[own] > low) & (middles[own] < high)).all(axis=1)]
        for index in own[:: max(1, math.ceil(len(own) / _CORNERS))]:
            if any(mark in known and known[mark].nature is not owner.nature for mark in marks[index].tolist()):
                continue
            for share in _BETWEEN:
                way = -(share * normals[index, 0] + (1 - share) * normals[index, 1])
                way /= max(float(np.linalg.norm(way)), 1e-9)
                start = middles[index] + 1e-4 * way
                hits = wood.hits(start, start + near_mm * way)
                if not hits or (facing := float(hits[0][1] @ way)) < _FACING:
                    continue
                beyond = start + (hits[0][0] + 0.02) * way
                name = _owner(beyond, made, new) if owner is new else owner.name
                if name is None or (owner is not new and not new.body.contains(beyond[None, :])[0]):
                    continue
                left = hits[0][0] * facing
                if name not in found or left < found[name].left_mm:
                    found[name] = Web((new.name, name), left, vector(start + hits[0][0] / 2 * way))
    return found


def _owner(point: Floats, made: Sequence[Made], new: Made) -> str | None:
    """The cut of the other nature that took the wood at a point, if one did."""
    if new.body.contains(point[None, :])[0]:
        return None
    for old in made:
        if old.nature is not new.nature and old.body.contains(point[None, :])[0]:
            return old.name
    return None


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


def breaches(probe: Probe, wood: Solid, inside: Sequence[Solid], *, sides: bool = False) -> Breach | None:
    """Where a hole that has gone into whole wood comes out of it again, or is open at a side all along.

    Args:
        probe: The hole's rings, from its mouth inward.
        wood: The stage.
        inside: Bodies of cuts into the wood; air that is theirs does not count.
        sides: Whether a wall that is open from mouth to floor, on some sides, is a break however its face falls
            away: where a later cut shaped the outside.
    """
    entered = partly = walled = False
    gone: Breach | None = None
    open_side = _in_air(probe.past, wood.contains(probe.past), inside)
    for index, ring in enumerate((*probe.wall, *probe.floor)):
        of_wall = index < len(probe.wall)
        if sides and not of_wall and not entered:
            break
        wooden = wood.contains(ring)
        airy = _in_air(ring, wooden, inside)
        if not airy.any():
            if gone is not None and entered:
                return gone
            entered, gone = True, None
        elif gone is None:
            gone = Breach(probe.name, vector(ring[airy].mean(axis=0)))
        if of_wall:
            # A tool wider than what it meets faces it off, and has no wall to come out of.
            partly = partly or bool(airy.any() and wooden.any())
            walled = walled or not airy.any()
            open_side = open_side & airy if len(open_side) else open_side
    if partly and not walled and open_side.any():
        return Breach(probe.name, vector(probe.past[open_side].mean(axis=0)))
    if entered:
        return gone if probe.floor else None
    return gone if partly else None


def _in_air(points: Floats, wooden: NDArray[np.bool_], inside: Sequence[Solid]) -> NDArray[np.bool_]:
    """Whether each point is in neither wood nor a cut into it."""
    air = ~wooden
    for body in inside:
        if air.any():
            air[air] = ~body.contains(points[air])
    return air
