"""What can be read from a depth buffer alone: outlines, and hollows in soft shade.

This module owns work on whole pictures as arrays: where one thing stands before
another, how deep a place lies among its surroundings, and making a picture smaller
so that its edges are soft.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

__all__ = ["hollows", "joints", "outline", "shared", "smaller", "steps", "thicker"]

Mask = NDArray[np.bool_]
Layer = NDArray[np.float32]


def outline(covered: Mask) -> Mask:
    """Pixels of a shape that touch what is not the shape."""
    inner = covered.copy()
    inner[1:] &= covered[:-1]
    inner[:-1] &= covered[1:]
    inner[:, 1:] &= covered[:, :-1]
    inner[:, :-1] &= covered[:, 1:]
    return covered & ~inner


def steps(depth: Layer, kind: NDArray[np.int8], *, least: float) -> Mask:
    """Pixels at which one thing stands before another, or two kinds of face meet.

    Args:
        depth: Nearness in pixels.
        kind: Number of the kind of face at each pixel; 0 is the ground.
        least: A step smaller than this is no step, in pixels.
    """
    found = np.zeros(depth.size, bool)
    near, sort = depth.reshape(-1), kind.reshape(-1)
    for apart in (1, depth.shape[1]):
        gap = np.abs(near[apart:] - near[:-apart])
        here = np.flatnonzero((gap > least) | (sort[apart:] != sort[:-apart]))
        here = here[(sort[here] > 0) & (sort[here + apart] > 0)]
        # On a slope the gaps before and after are as large; at a step they are not.
        around = np.maximum(gap[np.maximum(here - apart, 0)], gap[np.minimum(here + apart, len(gap) - 1)])
        step = (gap[here] > least) & (gap[here] > 2.5 * around)
        here = here[step | (sort[here] != sort[here + apart])]
        found[np.where(near[here + apart] >= near[here], here + apart, here)] = True
    return found.reshape(depth.shape)


def joints(pieces: NDArray[np.int32], depth: Layer, *, least: float) -> Mask:
    """Pixels at which one piece of a glued-up blank meets another on one surface.

    Args:
        pieces: Number of the piece at each pixel; 0 where there is none.
        depth: Nearness in pixels.
        least: Where nearness changes by more than this, one surface stands before another, and no joint is seen.
    """
    found = np.zeros(depth.shape, bool)
    for axis in (0, 1):
        first = pieces[:-1] if axis == 0 else pieces[:, :-1]
        second = pieces[1:] if axis == 0 else pieces[:, 1:]
        near = np.abs(np.diff(depth, axis=axis)) < least
        meet = (first != second) & (first > 0) & (second > 0) & near
        (found[:-1] if axis == 0 else found[:, :-1])[meet] = True
    return found


def thicker(mask: Mask, by: int) -> Mask:
    """A shape grown to each side.

    Args:
        mask: The shape.
        by: How far, pixels.
    """
    for each in range(by):
        grown = mask.copy()
        grown[1:] |= mask[:-1]
        grown[:-1] |= mask[1:]
        grown[:, 1:] |= mask[:, :-1]
        grown[:, :-1] |= mask[:, 1:]
        if each % 2:
            # A diamond and a square in turn come near a disc.
            grown[1:, 1:] |= mask[:-1, :-1]
            grown[:-1, :-1] |= mask[1:, 1:]
            grown[1:, :-1] |= mask[:-1, 1:]
            grown[:-1, 1:] |= mask[1:, :-1]
        mask = grown
    return mask


def smaller(layer: NDArray[np.generic], by: int) -> Layer:
    """A picture at a fraction of its size, each pixel the mean of those it stands for.

    Args:
        layer: Rows x columns.
        by: How many rows, and columns, one stands for.

    Returns:
        Rows / by x columns / by.
    """
    kind = np.uint8 if layer.dtype == bool else np.float32
    full = layer.view(np.uint8) if layer.dtype == bool else layer
    total = np.zeros((layer.shape[0] // by, layer.shape[1] // by), kind)
    for down in range(by):
        for right in range(by):
            total += full[down::by, right::by]
    return total.astype(np.float32) * np.float32(1 / (by * by))


def shared(total: Layer, share: Layer) -> Layer:
    """A weighted sum over its weights; 0 where there are none.

    Args:
        total: The weighted sum at each pixel.
        share: The sum of the weights there.
    """
    return np.divide(total, share, out=np.zeros_like(total), where=share > 0)


def hollows(depth: Layer, covered: Layer, *, reach: int) -> Layer:
    """How far each place lies behind its surroundings, in pixels; 0 where it stands out.

    Taking the blurred depth from the depth itself is known as unsharp masking the depth
    buffer (T. Luft, C. Colditz, O. Deussen, 2006).

    Args:
        depth: Nearness in pixels.
        covered: How much of each pixel is covered.
        reach: How far the surroundings go, in pixels.
    """
    inside = covered > 0.5
    coarse = 4
    tall, wide = (-side % coarse for side in depth.shape)
    row, column = np.indices(depth.shape, dtype=np.float32)
    means = []
    for layer in (np.ones_like(depth), depth, row, column):
        full = smaller(np.pad(np.where(inside, layer, 0), ((0, tall), (0, wide))), coarse)
        blurred = _blurred(full, reach // coarse)
        for each in (0, 1):
            # Between the coarse pixels' middles, so that no squares show.
            blurred = _stretched(blurred, coarse, each)
        means.append(blurred[: depth.shape[0], : depth.shape[1]])
    share = np.maximum(means[0], 1e-6)
    # Beside an outline the surroundings lie all to one side; on a slope that alone is no hollow.
    down, right = (np.clip(each, -5, 5) for each in np.gradient(np.where(inside, depth, 0)))
    deep = means[1] / share - depth - down * (means[2] / share - row) - right * (means[3] / share - column)
    return np.where(inside, np.maximum(deep, 0), 0).astype(np.float32)


def _blurred(layer: Layer, reach: int) -> Layer:
    """Box means, twice in each direction."""
    reach = max(1, reach)
    for each in (0, 1, 0, 1):
        padded = np.pad(layer, [(reach + 1, reach) if side == each else (0, 0) for side in (0, 1)])
        total = np.cumsum(padded, axis=each, dtype=np.float64)
        size = layer.shape[each]
        above = np.take(total, range(2 * reach + 1, 2 * reach + 1 + size), axis=each)
        layer = ((above - np.take(total, range(size), axis=each)) / (2 * reach + 1)).astype(np.float32)
    return layer


def _stretched(layer: Layer, by: int, side: int) -> Layer:
    """A picture so many times as long to one side, with straight lines between the old pixels."""
    layer = np.moveaxis(layer, side, 0)
    place = np.clip((np.arange(len(layer) * by) + 0.5) / by - 0.5, 0, len(layer) - 1)
    below = np.minimum(place.astype(np.int64), max(len(layer) - 2, 0))
    share = (place - below).astype(np.float32)[:, None]
    above = np.minimum(below + 1, len(layer) - 1)
    return np.moveaxis(layer[below] * (1 - share) + layer[above] * share, 0, side)
