"""Stacks of segmented rings designed from the profile of the finished piece.

This module owns which ring covers a stretch of a profile. A ring is glued up with flat
sides, so outside its flats must clear the largest radius over its height, and inside its
corners must clear the least: with R and r those radii and m the wood to spare,

    across = 2 (R + m)        inside = 2 (r - m) cos(180°/n)

so that even as a prism it holds the finished wall with m over on both sides. What n
pieces come to, and the strip they are sawn from, is in `rings`.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from handouts_build.quantities import Err
from handouts_build.trade.law import Law

__all__ = ["ACROSS", "BOARD_VOLUME", "INSIDE", "OVERHEIGHT", "WALL_INSIDE", "WALL_OUTSIDE", "extremes_mm"]

ACROSS = Law(
    "across", "D", "2 * (outer + margin)", "Width of a ring, from flat to flat", "regular-polygon", Err.OVER,
)  # fmt: skip
INSIDE = Law(
    "inside", "d", "2 * (inner - margin) * cos(180 deg / pieces)", "Its opening, from flat to flat",
    "regular-polygon", Err.UNDER,
)  # fmt: skip
WALL_OUTSIDE = Law(
    "spare_outside", "m", "across / 2 - outer", "Wood to spare outside, least over the ring", "regular-polygon",
    Err.UNDER,
)  # fmt: skip
WALL_INSIDE = Law(
    "spare_inside", "m", "inner - inside / 2 / cos(180 deg / pieces)", "Wood to spare inside, at the corners",
    "regular-polygon", Err.UNDER,
)  # fmt: skip
BOARD_VOLUME = Law(
    "volume", "V", "high * wide * long", "Wood of a strip", "blank-sum", Err.OVER,
)  # fmt: skip
OVERHEIGHT = Law("over", "o", "high - board", "How much higher a course is than the board", "blank-sum", Err.OVER)

_HAIR_MM = 1e-6


def extremes_mm(
    outline_mm: Sequence[tuple[float, float]], *, start_mm: float, end_mm: float
) -> tuple[float, float] | None:
    """Greatest and least radius of an outline over a stretch of the axis.

    Args:
        outline_mm: (place, radius) in mm, places growing; straight between them.
        start_mm: Where the stretch begins, mm.
        end_mm: Where it ends, mm.

    Returns:
        Greatest and least radius, mm; None where the outline does not reach into the stretch.
    """
    if not outline_mm:
        return None
    low, high = max(start_mm, outline_mm[0][0]), min(end_mm, outline_mm[-1][0])
    if high - low <= _HAIR_MM:
        return None
    # At a shoulder both its points count only where the stretch goes past it.
    radii = [radius for place, radius in outline_mm if low + _HAIR_MM < place < high - _HAIR_MM]
    radii += [_radius(outline_mm, low, after=True), _radius(outline_mm, high, after=False)]
    return max(radii), min(radii)


def _radius(outline_mm: Sequence[tuple[float, float]], place: float, *, after: bool) -> float:
    """Radius just after a place, or just before it."""
    runs = list(itertools.pairwise(outline_mm))
    for (start, first), (end, last) in runs if after else reversed(runs):
        inside = start - _HAIR_MM <= place < end - _HAIR_MM if after else start + _HAIR_MM < place <= end + _HAIR_MM
        if inside and end > start:
            return first + (last - first) * (place - start) / (end - start)
    return outline_mm[-1][1] if after else outline_mm[0][1]
