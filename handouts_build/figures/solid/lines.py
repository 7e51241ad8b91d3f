"""Lines on a picture: visible or hidden, whole or dashed, with soft edges.

This module owns putting lines down: joining loose pieces so that dashes run on,
testing them against the depth buffer, and spreading them over pixels by how much of
each they cover. Which lines there are is for others to say.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from handouts_build.figures.solid.mesh import Floats, Ints

__all__ = ["Coverage", "chained", "pieces", "stroke"]

Coverage = NDArray[np.float32]
"""For each pixel, how much of it is covered, 0 to 1; rows downward."""

_NEAR = 2.5
"""How far behind the surface a line on it may seem to lie, in pixels."""


def pieces(points: Floats, *, closed: bool = False) -> Floats:
    """A run of points as pairs of neighbors.

    Args:
        points: N x 3, mm.
        closed: Whether the last point leads back to the first.

    Returns:
        Pairs x 2 ends x 3, mm.
    """
    following = np.roll(points, -1, axis=0) if closed else points[1:]
    return np.stack([points[: len(following)], following], 1)


def chained(segments: Floats) -> tuple[Floats, Floats]:
    """Loose pieces put in a row where they meet.

    Args:
        segments: Pairs of points; the first two numbers of a point are its place in the picture.

    Returns:
        The pieces, some turned around, and how far along its row, in the picture, each begins.
    """
    if not len(segments):
        return segments, np.zeros(0)
    spots = np.round(segments.reshape(-1, segments.shape[2]) * 1024).astype(np.int64)
    spots -= spots.min(0)
    key = np.zeros(len(spots), np.int64)
    for column in spots.T:
        key = key * (int(column.max()) + 1) + column
    _, same = np.unique(key, return_inverse=True)
    # For each place the pieces that meet there, one place after the other.
    meeting = (np.argsort(same, kind="stable") // 2).tolist()
    degree = np.bincount(same)
    lone = (degree != 2)[same].reshape(-1, 2).any(1)
    firsts, through = (np.cumsum(degree) - degree).tolist(), (degree == 2).tolist()
    ends: list[list[int]] = same.reshape(-1, 2).tolist()
    length = np.linalg.norm(segments[:, 1, :2] - segments[:, 0, :2], axis=1)
    free = [True] * len(ends)
    turned = np.zeros(len(ends), bool)
    begins = np.zeros(len(ends))
    # Rows with loose ends first, from their ends; then what runs around.
    for start in np.argsort(~lone, kind="stable").tolist():
        if not free[start]:
            continue
        at = ends[start][1] if through[ends[start][0]] and not through[ends[start][1]] else ends[start][0]
        this, gone = start, 0.0
        while True:
            free[this] = False
            turned[this] = ends[this][0] != at
            begins[this] = gone
            gone += float(length[this])
            at = ends[this][0] if turned[this] else ends[this][1]
            following = meeting[firsts[at] : firsts[at] + 2] if through[at] else ()
            onward = next((each for each in following if free[each]), None)
            if onward is None:
                break
            this = onward
    return np.where(turned[:, None, None], segments[:, ::-1], segments), begins


def stroke(
    segments: Floats,
    *,
    depth: NDArray[np.float32],
    width: float,
    hidden: bool = False,
    dashes: Sequence[float] = (),
    over: bool = False,
    drop: Callable[[Ints, Ints, Floats], NDArray[np.bool_]] | None = None,
) -> Coverage:
    """Lines spread over pixels.

    Args:
        segments: Pairs of points: pixels to the right, pixels down, nearness.
        depth: Nearness of what is seen.
        width: Of the line, in pixels.
        hidden: Draw what lies behind, in place of what is seen.
        dashes: Dash, gap, dash, gap …, in pixels; a whole line when empty.
        over: Draw all of it, seen or not.
        drop: Says for columns, rows and nearness which bits are cut away.
    """
    tall, wide = depth.shape
    if dashes:
        segments, begins = chained(segments)
    span = np.linalg.norm(segments[:, 1, :2] - segments[:, 0, :2], axis=1)
    count = np.ceil(span / 0.8).astype(np.int64) + 1
    owner = np.repeat(np.arange(len(segments)), count)
    step = np.arange(len(owner)) - np.repeat(np.cumsum(count) - count, count)
    share = step / np.maximum(count - 1, 1)[owner]
    spot = segments[owner, 0] + (segments[owner, 1] - segments[owner, 0]) * share[:, None]
    shown = (spot[:, 0] >= 0) & (spot[:, 0] < wide) & (spot[:, 1] >= 0) & (spot[:, 1] < tall)
    if dashes:
        along = (begins[owner] + share * span[owner]) % sum(dashes)
        bounds = np.cumsum(dashes)
        shown &= np.searchsorted(bounds, along, side="right") % 2 == 0
    spot = spot[shown]
    column, row = spot[:, 0].astype(np.int64), spot[:, 1].astype(np.int64)
    if drop is not None:
        kept = ~drop(column, row, spot[:, 2] - _NEAR)
        spot, column, row = spot[kept], column[kept], row[kept]
    if not over:
        behind = spot[:, 2] < _farthest(depth, column, row) - _NEAR
        kept = behind if hidden else ~behind
        spot, column, row = spot[kept], column[kept], row[kept]
    edge = width / 2 + 0.5
    reach = int(np.ceil(edge))
    # With room around, so that no dot has to be cut off at the frame.
    ink = np.zeros((tall + 2 * reach, wide + 2 * reach), np.float32)
    place = (row + reach) * ink.shape[1] + column + reach
    across, along = (column + 0.5 - spot[:, 0]).astype(np.float32), (row + 0.5 - spot[:, 1]).astype(np.float32)
    for down, right in itertools.product(range(-reach, reach + 1), repeat=2):
        # Each dot lies within its own pixel, so that some of those around are out of reach for all.
        if math.hypot(max(abs(down) - 0.5, 0), max(abs(right) - 0.5, 0)) < edge:
            away = np.sqrt((across + right) ** 2 + (along + down) ** 2)
            np.maximum.at(ink.reshape(-1), place + (down * ink.shape[1] + right), np.clip(edge - away, 0, 1))
    return ink[reach : reach + tall, reach : reach + wide]


def _farthest(depth: NDArray[np.float32], column: Ints, row: Ints) -> NDArray[np.float32]:
    """Least nearness around pixels: a line on a slope must not sink into the pixel beside it."""
    tall, wide = depth.shape
    least = np.full(len(column), np.inf, np.float32)
    for down in (-1, 0, 1):
        for right in (-1, 0, 1):
            beside = depth[np.clip(row + down, 0, tall - 1), np.clip(column + right, 0, wide - 1)]
            least = np.minimum(least, beside)
    return least
