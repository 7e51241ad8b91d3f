"""Outlines in the plane of the axis, from which cuts are turned.

This module owns points (place, radius): checked, thinned, turned into the region a
tool takes away. It leaves solids to `solids` and meaning to the cuts.
"""

from __future__ import annotations

import functools
import itertools
import math

import numpy as np

from handouts_build.workpiece.faults import MOST_POINTS, WorkpieceFault, said, within
from handouts_build.workpiece.solid import Outline

__all__ = [
    "ball_outline",
    "checked",
    "facet_outline",
    "inside",
    "outside",
    "thinned",
    "turned_volume_mm3",
    "with_stubs",
]

_THIN_MM = 0.005
"""How far a thinned outline may lie from the one given: less than a circle's sides do, and far less than a cut."""
_SAME_MM = 1e-9


def checked(points: Outline, called: str) -> list[tuple[float, float]]:
    """The points as given, if they make an outline.

    Args:
        points: Place along the axis and radius, mm, from left to right.
        called: What a message calls the outline.

    Returns:
        The points, mm.

    Raises:
        WorkpieceFault: If they are too few or too many, turn back or cross the axis.
    """
    if len(points) < 2:
        raise WorkpieceFault(f"{called} has {len(points)} points", "give two or more")
    if len(points) > MOST_POINTS:
        raise WorkpieceFault(f"{called} has {len(points)} points", f"give {MOST_POINTS} or fewer")
    for index, (place, radius) in enumerate(points):
        within(place, f"a place on {called}")
        within(radius, f"a radius of {called}")
        if radius < 0:
            raise WorkpieceFault(f"{called} crosses the axis at {said(place)}", "a radius cannot be less than nought")
        if index and place < points[index - 1][0] - _SAME_MM:
            raise WorkpieceFault(
                f"{called} turns back on itself at {said(place)}", "list its points from left to right"
            )
    if points[-1][0] - points[0][0] <= _SAME_MM:
        raise WorkpieceFault(f"{called} has no length", "give points at more than one place")
    if max(radius for _, radius in points) <= 0:
        raise WorkpieceFault(f"{called} lies in the axis", "give radii of more than nought")
    return list(points)


def thinned(points: Outline, *, within_mm: float = _THIN_MM) -> list[tuple[float, float]]:
    """As few of the points as lie within a hair of the outline; ends and corners stay.

    The points that stand farthest off a chord are kept, chord by chord: the algorithm of Ramer (1972) and of
    Douglas and Peucker (1973).

    Args:
        points: Place along the axis and radius, mm.
        within_mm: How far the thinned outline may lie from the points left out, mm.

    Returns:
        The points kept, mm.
    """
    table = np.array(points, dtype=np.float64)
    keep = np.zeros(len(table), dtype=np.bool_)
    keep[[0, -1]] = True
    waiting = [(0, len(table) - 1)]
    while waiting:
        first, last = waiting.pop()
        if last - first < 2:
            continue
        chord = table[last] - table[first]
        offsets = table[first + 1 : last] - table[first]
        long = float(np.hypot(*chord))
        away = (
            np.abs(offsets[:, 0] * chord[1] - offsets[:, 1] * chord[0]) / long
            if long > _SAME_MM
            else np.hypot(offsets[:, 0], offsets[:, 1])
        )
        worst = int(away.argmax())
        if away[worst] > within_mm:
            middle = first + 1 + worst
            keep[middle] = True
            waiting += [(first, middle), (middle, last)]
    return [(float(place), float(radius)) for place, radius in table[keep]]


def outside(points: Outline, *, reach_mm: float) -> list[tuple[float, float]]:
    """The region from the outline out to a radius past the wood.

    Args:
        points: Place along the axis and radius, mm.
        reach_mm: How far out the region goes at least, mm.

    Returns:
        The closed outline of the region, mm.
    """
    far = max(reach_mm, 1.001 * max(radius for _, radius in points) + 1)
    return [*points, (points[-1][0], far), (points[0][0], far)]


def inside(points: Outline) -> list[tuple[float, float]]:
    """The region from the axis out to the outline."""
    return [(points[0][0], 0.0), *points, (points[-1][0], 0.0)]


def facet_outline(flats: int, *, diameter_mm: float, at_mm: float) -> list[tuple[float, float]]:
    """Half of a regular polygon about a circle, one flat along the axis and one across each end.

    Corners lie at the radius (D/2) / cos(180°/n), odd multiples of 180°/n around: the circle is the polygon's
    incircle (a regular polygon's circumradius over its apothem, elementary geometry).

    Args:
        flats: Sides of the polygon, an even number.
        diameter_mm: Of the circle, mm.
        at_mm: Place of its center along the axis, mm.

    Returns:
        Place along the axis and radius, mm, from left to right.
    """
    corner = diameter_mm / 2 / math.cos(math.pi / flats)
    turns = [(2 * corner_number + 1) * math.pi / flats for corner_number in range(-flats // 4, flats // 4)]
    points = [(at_mm + corner * math.sin(turn), corner * math.cos(turn)) for turn in turns]
    # Exactly at the ends, where rounding would leave a shaving.
    half = diameter_mm / 2
    return [(at_mm - half, points[0][1]), *points[1:-1], (at_mm + half, points[-1][1])]


def ball_outline(*, diameter_mm: float, at_mm: float, fineness: int) -> list[tuple[float, float]]:
    """Half a circle by chords, so large that the ball they turn has exactly a ball's volume.

    There are 16 chords to the half circle, times the fineness, and one of them has its middle at
    the equator. So each of 8, 16 or 32 flats about the same circle lies on the middle of a chord,
    and clear of it: a ball takes the facets it is turned from away and leaves no strips of them.

    Args:
        diameter_mm: Of the ball, mm.
        at_mm: Place of its center along the axis, mm.
        fineness: How many times 16 chords there are.

    Returns:
        Place along the axis and radius, mm, from left to right.
    """
    half = diameter_mm / 2
    return [(at_mm + half * place, half * reach) for place, reach in _unit_ball(16 * fineness)]


@functools.cache
def _unit_ball(steps: int) -> tuple[tuple[float, float], ...]:
    """The same of a ball of radius 1 about nought: how far its chords stand out goes by their number alone."""
    turns = (np.arange(steps) + 0.5) * math.pi / steps - math.pi / 2
    circle = np.column_stack([np.sin(turns), np.cos(turns)]).tolist()
    radius = 1.0
    points: tuple[tuple[float, float], ...] = ()
    # The ends stay at the poles, so that the volume is not quite the cube of the rest; this closes in at once.
    for _ in range(6):
        points = ((-1.0, 0.0), *((radius * place, radius * reach) for place, reach in circle), (1.0, 0.0))
        radius *= (4 * math.pi / 3 / turned_volume_mm3(points)) ** (1 / 3)
    return points


def with_stubs(points: Outline, *, at_mm: float, left_mm: float, right_mm: float) -> list[tuple[float, float]]:
    """An outline kept no thinner than a radius on either side of a place.

    Args:
        points: Place along the axis and radius, mm.
        at_mm: The place, mm.
        left_mm: Least radius to the left of it, mm.
        right_mm: Least radius to the right of it, mm.

    Returns:
        Place along the axis and radius, mm.
    """
    found: list[tuple[float, float]] = []
    for (x1, r1), (x2, r2) in itertools.pairwise(points):
        stub = left_mm if (x1 + x2) / 2 < at_mm else right_mm
        stretch = [(x1, max(r1, stub)), (x2, max(r2, stub))]
        if (r1 - stub) * (r2 - stub) < 0:
            crossing = x1 + (stub - r1) / (r2 - r1) * (x2 - x1)
            stretch.insert(1, (crossing, stub))
        found += stretch[1:] if found and found[-1] == stretch[0] else stretch
    return found


def turned_volume_mm3(points: Outline) -> float:
    """Volume an outline turns, by frustums: π/3 Δx (r₁² + r₁r₂ + r₂²)."""
    return sum(
        math.pi / 3 * (x2 - x1) * (r1 * r1 + r1 * r2 + r2 * r2) for (x1, r1), (x2, r2) in itertools.pairwise(points)
    )
