"""The finished piece as a draftsman sees it: from the side, one half opened along the axis.

This module owns the lines of that view, read off the solid: its outline, the edges that
are seen, and the wood that is cut through. It knows no paper: places are in mm, x along
the first piece's axis from the headstock, y across it, and the eye looks along -z.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from handouts_build.workpiece.axes import Axis, Floats
from handouts_build.workpiece.regions import thinned
from handouts_build.workpiece.solid import Solid

__all__ = [
    "SIDE_VIEW",
    "HalfSection",
    "Line",
    "across_axis",
    "along_axis",
    "half_section",
    "on_wings",
    "round_diameter",
    "square_side",
]

Line = tuple[tuple[float, float], ...]
"""Points in the plane of the view, mm."""

SIDE_VIEW = Axis((0.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
"""The view's own frame in the whole's coordinates: x runs along the axis, and the eye is on the side of y."""

_NEAR_MM = 0.02
"""How far a line of the view may lie from the solid."""
_FACET_MM = 0.004
"""How far points may be moved before edges are sought: more would make facets of thin rounds."""
_SHARP_DEG = 25.0
"""Faces that meet at more than this make an edge that is drawn. Common practice, no published source."""
_STEP_MM = 0.8
"""Edges are tried this often whether they are seen."""
_OFF_MM = 0.04
"""How far off its own wood the eye's ray begins."""
_JOIN_MM = 0.005
_BESIDE = (1e-3, 2e-3)
"""A hair off the axis, on which many solids have a corner; mm."""
_SPECK_MM2 = 0.02
"""Smaller areas of a section are films between two cuts to one size."""
_ROUND = 0.985
_GAP_DEG = 100.0
"""Calipers find a diameter where what stands out farthest is alike, and nowhere farther apart than this."""

_SQUARE = 0.005
"""By how much a square's side may differ from its diagonal over the root of two, as a share of the diagonal."""

_BESIDE_MM, _RIM, _OUTERMOST, _OPPOSITE_RAD = 1.0, 0.85, 0.995, 0.05
"""How near to a place its rim is looked at, how far in the blank's surface still is of it, how far out a wing is, and
how nearly two wings face each other."""


@dataclass(frozen=True)
class HalfSection:
    """A piece seen from the side, its upper half opened."""

    outline: tuple[Line, ...]
    """Closed; one within another is a hole that is seen through."""
    edges: tuple[Line, ...]
    """Edges that are seen, in both halves."""
    cut: tuple[tuple[Line, ...], ...]
    """For each piece, the closed outlines of its wood where it is cut through."""


def half_section(woods: Sequence[Solid], *, opened: bool = True, lower: bool = False) -> HalfSection:
    """The lines of the side view.

    Args:
        woods: Each piece where it sits.
        opened: Whether half of the near side is taken away.
        lower: Whether it is the lower half that is opened, not the upper.
    """
    seen = [wood.seen_from(SIDE_VIEW).simplified(_FACET_MM) for wood in woods]
    if not opened:
        return HalfSection(_outline(seen), _edges(seen), tuple(() for _ in seen))
    far = max(max(map(abs, wood.box_mm)) for wood in seen) + 1.0
    low, high = (-far, 0.0) if lower else (0.0, far)
    quarter = Solid.box((-far, low, 0.0, far, high, far))
    left = [wood - quarter for wood in seen]
    cut = tuple(_cut_through(wood, (-far, low, far, high)) for wood in seen)
    return HalfSection(_outline(left), _edges(left), cut)


def on_wings(wood: Solid, place_mm: float, *, radius_mm: float, blank: int) -> bool:
    """Whether a tool has turned the wood at a place to a radius on two sides alone, between which the blank shows.

    So it is at the wings of a natural edge: calipers find a diameter there, though the rim is not whole.

    Args:
        wood: About its own axis.
        place_mm: Along the axis.
        radius_mm: The greatest there.
        blank: The mark that the blank's own surface bears.
    """
    corners = wood.corners()
    near = np.abs(corners[..., 2] - place_mm) < _BESIDE_MM
    radii = np.hypot(corners[..., 0], corners[..., 1])
    own = (wood.marks == blank)[:, None]
    if not (near & own & (radii > _RIM * radius_mm)).any():
        return False
    points = corners[near & ~own & (radii > _OUTERMOST * radius_mm)]
    angles = np.unique(np.arctan2(points[:, 1], points[:, 0]).round(2))
    apart = np.abs((angles[:, None] - angles[None, :]) % (2 * math.pi) - math.pi)
    return bool((apart < _OPPOSITE_RAD).any())


def round_diameter(wood: Solid, place_mm: float) -> float | None:
    """What calipers find across a place along the part's own axis, mm; None where the wood is not round there.

    Args:
        wood: In part coordinates.
        place_mm: Along its axis.
    """
    points = wood.section(place_mm).reshape(-1, 2)
    if not len(points):
        return None
    radii = np.hypot(points[:, 0], points[:, 1])
    most = float(radii.max())
    out = points[radii >= _ROUND * most]
    turns = np.sort(np.degrees(np.arctan2(out[:, 1], out[:, 0])))
    gaps = np.diff(np.append(turns, turns[0] + 360.0))
    return 2 * most if float(gaps.max()) <= _GAP_DEG else None


def square_side(wood: Solid, place_mm: float) -> float | None:
    """The side of the square that the wood is at a place along the part's own axis, mm; None where it is none.

    Calipers go across the corners of a square as they go across a round; of a square, though, what stands halfway
    between two corners is nearer the axis by the root of two.

    Args:
        wood: In part coordinates.
        place_mm: Along its axis.
    """
    points = wood.section(place_mm).reshape(-1, 2)
    if not len(points):
        return None
    radii = np.hypot(points[:, 0], points[:, 1])
    corner = points[radii.argmax()] / radii.max()
    quarter = np.array([-corner[1], corner[0]])
    turned = np.array([corner + quarter, corner - quarter]) / math.sqrt(2)
    # How far the wood reaches to both sides, across each pair of flats.
    reach = points @ turned.T
    sides = reach.max(axis=0) - reach.min(axis=0)
    square = np.abs(sides / (2 * radii.max()) - 1 / math.sqrt(2)) < _SQUARE
    return float(sides.mean()) if bool(square.all()) else None


def across_axis(wood: Solid, place_mm: float) -> list[float]:
    """Distances from the axis at which wood begins and ends, in the plane of the view, nearest first; mm.

    Args:
        wood: In the whole's coordinates.
        place_mm: Along its axis.
    """
    start = np.array([*_BESIDE, place_mm])
    far = max(map(abs, wood.box_mm)) + 1.0
    return [distance for distance, _ in wood.hits(start, np.array([far, _BESIDE[1], place_mm]))]


def along_axis(wood: Solid) -> list[float]:
    """Places on the axis at which wood begins and ends, in order; mm.

    Args:
        wood: In the whole's coordinates.
    """
    low, high = wood.box_mm[2] - 1.0, wood.box_mm[5] + 1.0
    return [low + distance for distance, _ in wood.hits(np.array([*_BESIDE, low]), np.array([*_BESIDE, high]))]


def _outline(woods: Sequence[Solid]) -> tuple[Line, ...]:
    """The outline of all woods together."""
    return tuple(filter(None, (_closed(ring) for ring in Solid.shadow(woods))))


def _cut_through(wood: Solid, room: tuple[float, float, float, float]) -> tuple[Line, ...]:
    """The wood in the plane of the view, within a rectangle: least x and y, greatest x and y."""
    return tuple(filter(None, (_closed(ring) for ring in wood.sliced(0.0, room))))


def _closed(ring: Floats) -> Line:
    """A closed outline with no more points than it needs; nothing where it is a speck."""
    if len(ring) < 3 or abs(_area(ring)) < _SPECK_MM2:
        return ()
    # From the point farthest from the first, so that both halves are runs with two ends.
    turn = int(np.hypot(*(ring - ring[0]).T).argmax())
    points = [(float(x), float(y)) for x, y in ring]
    halves = thinned(points[: turn + 1], within_mm=_NEAR_MM), thinned([*points[turn:], points[0]], within_mm=_NEAR_MM)
    return _told([*halves[0], *halves[1][1:-1]])


def _area(ring: Floats) -> float:
    x, y = ring.T
    return float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum() / 2)


def _told(points: Sequence[tuple[float, float]]) -> Line:
    return tuple((round(x, 3) + 0.0, round(y, 3) + 0.0) for x, y in points)


def _edges(woods: Sequence[Solid]) -> tuple[Line, ...]:
    """The sharp edges that are seen, joined where they meet."""
    runs: list[Floats] = []
    for wood in woods:
        ends, facing = _sharp(wood)
        for (start, stop), out in zip(ends, facing, strict=True):
            if math.dist(start[:2], stop[:2]) < 1e-4:
                continue
            runs += _seen_runs(start, stop, out, woods)
    return tuple(_chained(runs))


def _sharp(wood: Solid) -> tuple[Floats, Floats]:
    """Edges at which faces meet sharply or turn away from the eye, and the way out of the wood toward the eye.

    Returns:
        E x 2 x 3 ends and E x 3 directions.
    """
    vertices, triangles = wood.vertices, wood.triangles
    corners = vertices[triangles]
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    facing = cross / np.maximum(np.linalg.norm(cross, axis=1), 1e-30)[:, None]
    starts, stops = triangles.reshape(-1), triangles[:, [1, 2, 0]].reshape(-1)
    low, high = np.minimum(starts, stops), np.maximum(starts, stops)
    order = np.lexsort((high, low))
    low, high, owner = low[order], high[order], order // 3
    pair = np.flatnonzero((low[:-1] == low[1:]) & (high[:-1] == high[1:]))
    first, second = owner[pair], owner[pair + 1]
    turn = (facing[first] * facing[second]).sum(1)
    near_first, near_second = facing[first][:, 2] > 1e-3, facing[second][:, 2] > 1e-3
    drawn = (turn < math.cos(math.radians(_SHARP_DEG))) & (near_first | near_second)
    out = facing[first] * near_first[:, None] + facing[second] * near_second[:, None]
    out = out[drawn]
    out = out / np.maximum(np.linalg.norm(out, axis=1), 1e-30)[:, None]
    ends = np.stack([vertices[low[pair][drawn]], vertices[high[pair][drawn]]], axis=1)
    return ends, out


def _seen_runs(start: Floats, stop: Floats, out: Floats, woods: Sequence[Solid]) -> list[Floats]:
    """The stretches of an edge that the eye sees, as pairs of points in the plane of the view."""
    steps = max(1, math.ceil(float(np.linalg.norm(stop - start)) / _STEP_MM))
    shares = (np.arange(steps) + 0.5) / steps
    points = start + (stop - start) * shares[:, None] + out * _OFF_MM
    seen = [not any(wood.hides(point) for wood in woods) for point in points]
    runs = []
    begun: int | None = None
    for each in range(steps + 1):
        here = each < steps and seen[each]
        if here and begun is None:
            begun = each
        if not here and begun is not None:
            runs.append(
                np.array([start + (stop - start) * begun / steps, start + (stop - start) * each / steps])[:, :2]
            )
            begun = None
    return runs


def _chained(runs: Sequence[Floats]) -> list[Line]:
    """Pieces of line put together where one begins as another ends; what is drawn twice is drawn once."""
    places: dict[tuple[int, int], list[int]] = {}
    ends: list[tuple[tuple[int, int], tuple[int, int]]] = []
    known: set[frozenset[tuple[int, int]]] = set()
    points: dict[tuple[int, int], tuple[float, float]] = {}
    for run in runs:
        first, second = (_spot(point) for point in run)
        if first == second or frozenset((first, second)) in known:
            continue
        known.add(frozenset((first, second)))
        points.setdefault(first, (float(run[0, 0]), float(run[0, 1])))
        points.setdefault(second, (float(run[1, 0]), float(run[1, 1])))
        for spot in (first, second):
            places.setdefault(spot, []).append(len(ends))
        ends.append((first, second))
    free = [True] * len(ends)

    def followed(spot: tuple[int, int], chain: list[tuple[int, int]]) -> None:
        while len(places[spot]) == 2:
            onward = [each for each in places[spot] if free[each]]
            if not onward:
                return
            free[onward[0]] = False
            first, second = ends[onward[0]]
            spot = second if first == spot else first
            chain.append(spot)

    lines = []
    for number, (first, second) in enumerate(ends):
        if not free[number]:
            continue
        free[number] = False
        forward, backward = [second], [first]
        followed(second, forward)
        followed(first, backward)
        chain = [points[spot] for spot in (*reversed(backward), *forward)]
        lines.append(_told(thinned(chain, within_mm=_NEAR_MM) if len(chain) > 2 else chain))
    return lines


def _spot(point: NDArray[np.float64]) -> tuple[int, int]:
    return round(float(point[0]) / _JOIN_MM), round(float(point[1]) / _JOIN_MM)
