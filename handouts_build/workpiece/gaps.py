"""The wood that is left between cuts, and where cuts meet.

This module owns the least wood between any two removed bodies, and between a cut and the
outside, as distances. Where two cuts open into each other it is felt for in `felt`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from handouts_build.workpiece.axes import Axis, Floats, vector
from handouts_build.workpiece.cut import Made, Nature
from handouts_build.workpiece.felt import felt
from handouts_build.workpiece.solid import Solid
from handouts_build.workpiece.web import MEETS_MM, Web

__all__ = ["gap_of", "gaps_between", "gaps_within", "outer_webs"]

_NEIGHBORS = 16
"""Holes of one ring that are measured against their neighbors: the ring is alike all around."""
_NARROW = 600
"""Points on each cut's surface that are compared with each other's, to say where the narrowest place is."""
_EDGE_MM, _CLOUD, _TRIED = 0.5, 1500, 400
"""Points on a cut's surface lie no closer; so many are compared with each other's, and so many pairs looked at."""
_FEW, _TURNS, _A_HAIR_MORE = 200, 3, 1 + 1e-6
"""Corners of each body that are compared with each other's, and how often the nearest to the nearest is sought."""
_ALIKE_MM = 0.05
"""Webs of one ring that differ by less are alike."""


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
    # A short way is searched far quicker than a long one: two bodies are no further apart than corners of theirs, and
    # of those whose corners do not tell, most that are near meet or almost do.
    corners = _corners_apart(body.vertices, other.vertices) * _A_HAIR_MORE
    for way in (corners,) if MEETS_MM < corners < near_mm else (near_mm / 4, near_mm / 2, near_mm):
        gap = body.gap_mm(other, within_mm=way)
        if gap < way:
            return gap
    return None


def _corners_apart(first: Floats, second: Floats) -> float:
    """Distance between two corners, one of each body, that hardly any others are nearer than.

    From the nearest of a few, it goes to the nearest of all corners of the one body and of the other in turn.
    """
    few, others = _thinned(first, _FEW), _thinned(second, _FEW)
    there = others[np.unravel_index(int(_squares(few, others).argmin()), (len(few), len(others)))[1]]
    for _ in range(_TURNS):
        here = first[((first - there) ** 2).sum(axis=1).argmin()]
        there = second[((second - here) ** 2).sum(axis=1).argmin()]
    return math.dist(here, there)


def _squares(first: Floats, second: Floats) -> Floats:
    """Squares of the distances from each point to each of the others, mm²."""
    apart: Floats = (first**2).sum(axis=1)[:, None] + (second**2).sum(axis=1) - 2 * first @ second.T
    return apart


def _thinned(points: Floats, most: int) -> Floats:
    """About as many of the points, spread over them all."""
    return points[:: max(1, len(points) // most)]


def _between(new: Made, old: Made, body: Solid, other: Solid, *, near_mm: float) -> float | None:
    """The same for a new cut and an old one; they touch where the new one took a face that the old one left."""
    return 0.0 if new.chips.bears(old.mark) else gap_of(body, other, near_mm=near_mm)


def _narrowest(first_body: Solid, second_body: Solid, gap_mm: float) -> tuple[Floats, Floats]:
    """A pair of points, one on each body, close to the narrowest place."""
    edge = max(1.0, gap_mm)
    clouds = []
    for body, beside in ((first_body, second_body), (second_body, first_body)):
        near = body & Solid.box(beside.box_mm, wider_mm=gap_mm + edge)
        clouds.append(_thinned((body if near.is_empty else near).finely(edge_mm=edge), _NARROW))
    first, second = clouds
    squares = _squares(first, second)
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
        clouds.append(_thinned(points, _CLOUD))
    first, second = clouds
    if not len(first) or not len(second):
        return None
    squares = _squares(first, second)
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
        if gap <= MEETS_MM and new.may_meet(old):
            # Nobody is told of it, so that nobody asks where.
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
        through = felt(new, made, wood, near_mm=near_mm, ample_mm=ample_mm)
        found |= {name: web for name, web in through.items() if name in open_to}
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
    kept: list[tuple[Web, tuple[float, float]]] = []
    for web in sorted(webs, key=lambda web: round(web.left_mm, 3)):
        x, y, z = axis.to_lathe(np.array(web.at_mm if web.at_mm is not None else (0.0, 0.0, 0.0)))
        spot = (math.hypot(x, y), float(z))
        if web.at_mm is None or all(math.dist(spot, other) > by_mm for known, other in kept if known.at_mm is not None):
            kept.append((web, spot))
    return [web for web, _ in kept]
