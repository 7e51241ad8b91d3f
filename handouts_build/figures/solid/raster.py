"""Which triangle is seen at each pixel, and how near it is.

This module owns hidden-surface removal: a depth buffer in numpy. Each triangle is cut
into rows and each row into pixels, all at once; of the triangles over a pixel the
nearest stays. It knows nothing of light or color.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from handouts_build.figures.solid.mesh import Floats, Ints

__all__ = ["FAR", "DepthBuffer", "seen"]

FAR = np.float32(-1e30)
"""Nearness where there is nothing."""

_LEVELS = 2**30
_AT_ONCE = 1 << 17


@dataclass(frozen=True, eq=False)
class DepthBuffer:
    """What a picture shows at each of its pixels."""

    triangle: NDArray[np.int32]
    """Number of the triangle, -1 for none; rows downward."""
    depth: NDArray[np.float32]
    """Nearness in pixels, `FAR` for none."""

    @property
    def covered(self) -> NDArray[np.bool_]:
        """Where anything is seen."""
        return self.triangle >= 0


def planes(corners: Floats, values: Floats) -> Floats:
    """Values given at triangles' corners, as planes over the picture.

    Args:
        corners: For each triangle three rows of pixels to the right and down (more columns are ignored).
        values: For each triangle three values.

    Returns:
        For each triangle: value at (0, 0), gain per pixel to the right, gain per pixel down.
    """
    first, second = corners[:, 1, :2] - corners[:, 0, :2], corners[:, 2, :2] - corners[:, 0, :2]
    area = first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0]
    area = np.where(np.abs(area) < 1e-12, np.inf, area)
    first_gain, second_gain = values[:, 1] - values[:, 0], values[:, 2] - values[:, 0]
    across = (first_gain * second[:, 1] - second_gain * first[:, 1]) / area
    down = (second_gain * first[:, 0] - first_gain * second[:, 0]) / area
    start = values[:, 0] - across * corners[:, 0, 0] - down * corners[:, 0, 1]
    return np.stack([start, across, down], 1)


def seen(
    corners: Floats, *, width: int, height: int, drop: Callable[[Ints, Ints, Floats], NDArray[np.bool_]] | None = None
) -> DepthBuffer:
    """The nearest triangle at each pixel.

    Args:
        corners: For each triangle three rows of pixels to the right, pixels down and nearness.
        width: Of the picture, in pixels.
        height: Of the picture, in pixels.
        drop: Says for columns, rows and nearness of bits of surface which are cut away.
    """
    slope = planes(corners, corners[:, :, 2])
    owner, row, start, stop = _rows(corners, width=width, height=height)
    best = np.full(height * width, -1, np.int64)
    low = float(corners[:, :, 2].min(initial=0))
    unit = max(float(corners[:, :, 2].max(initial=0)) - low, 1e-9) / _LEVELS
    ends = np.cumsum(stop - start)
    first = 0
    while first < len(owner):
        # As many rows at a time as a processor keeps at hand.
        last = int(np.searchsorted(ends, (ends[first - 1] if first else 0) + _AT_ONCE, side="right"))
        some = slice(first, max(last, first + 1))
        first = some.stop
        triangle, count = owner[some], stop[some] - start[some]
        # Each row of each triangle, pixel by pixel. `place` runs through the picture as one long line.
        total = np.arange(int(count.sum()))
        before = np.cumsum(count) - count
        place = total + np.repeat(row[some] * width + start[some] - before, count)
        gain = slope[triangle]
        begin = gain[:, 0] + gain[:, 1] * (start[some] + 0.5) + gain[:, 2] * (row[some] + 0.5)
        depth = np.repeat(begin - gain[:, 1] * before, count)
        depth += np.repeat(gain[:, 1], count) * total
        owners = np.repeat(triangle, count)
        if drop is not None:
            kept = ~drop(place % width, place // width, depth)
            place, depth, owners = place[kept], depth[kept], owners[kept]
        depth -= low
        depth /= unit
        # Rounding must not carry a value out of its bits.
        key = np.clip(depth, 0, _LEVELS, out=depth).astype(np.int64)
        key <<= 31
        key |= owners
        np.maximum.at(best, place, key)
    hit = best >= 0
    found = np.where(hit, best & 0x7FFFFFFF, -1).astype(np.int32)
    near = np.where(hit, ((best >> 31) * unit + low).astype(np.float32), FAR)
    return DepthBuffer(found.reshape(height, width), near.reshape(height, width))


def _rows(corners: Floats, *, width: int, height: int) -> tuple[Ints, Ints, Ints, Ints]:
    """The rows of pixels that triangles take up: triangle, row, first column, and the one after the last.

    Two triangles that share an edge work out its places from the same two points in the
    same order, so no pixel falls between them or to both.
    """
    order = np.argsort(corners[:, :, 1], axis=1, kind="stable")
    sorted_ = np.take_along_axis(corners[:, :, :2], order[:, :, None], axis=1)
    top, middle, bottom = (sorted_[:, each] for each in range(3))
    first = np.clip(np.ceil(top[:, 1] - 0.5), 0, height).astype(np.int64)
    last = np.clip(np.ceil(bottom[:, 1] - 0.5), 0, height).astype(np.int64)
    count = last - first
    triangle = np.repeat(np.arange(len(corners)), count)
    row = np.arange(len(triangle)) - np.repeat(np.cumsum(count) - count - first, count)
    y = row + 0.5
    long_side = _along(np.concatenate([top, bottom], axis=1), triangle, y)
    # Above its middle corner a triangle's short side is the one, below it the other.
    short = np.concatenate([np.concatenate([top, middle], axis=1), np.concatenate([middle, bottom], axis=1)])
    short_side = _along(short, triangle + len(corners) * (y >= middle[:, 1].take(triangle)), y)
    start = np.clip(np.ceil(np.minimum(long_side, short_side) - 0.5), 0, width).astype(np.int64)
    stop = np.clip(np.ceil(np.maximum(long_side, short_side) - 0.5), 0, width).astype(np.int64)
    some = np.flatnonzero(stop > start)
    return triangle[some], row[some], start[some], stop[some]


def _along(edges: Floats, which: Ints, y: Floats) -> Floats:
    """Where edges cross rows.

    Args:
        edges: From a point to another, x and y of each.
        which: For each row the number of its edge.
        y: The rows.
    """
    tall = edges[:, 3] - edges[:, 1]
    table = np.stack([edges[:, 0], edges[:, 1], edges[:, 2] - edges[:, 0], np.where(tall > 0, tall, np.inf)], axis=1)
    left, upper, wide, high = table.take(which, axis=0).T
    crossing: Floats = left + wide * ((y - upper) / high)
    return crossing
