"""Which way round a part lies in the lathe, step by step: the headstock is always at the left.

This module owns the frames that pictures are drawn in. What is measured and judged
stays in part coordinates.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from handouts_build.workpiece.axes import PART_AXIS, Axis, Vector, axis_through

__all__ = ["lying"]

_ALONG = 0.7
"""A part that turns on an axis nearer to its own than this cosine is drawn straight, not aslant."""


def lying(ways: Iterable[Vector | None]) -> tuple[Axis, ...]:
    """How a part lies after each step.

    Args:
        ways: From the headstock to the tail, part coordinates; none where the part does not turn, and lies as before.

    Returns:
        A frame for each step: z from the headstock to the tail, x upright in the picture.
    """
    found: list[Axis] = []
    lies = PART_AXIS
    for way in ways:
        if way is not None and abs(way[2]) < _ALONG:
            lies = axis_through(np.zeros(3), np.array(way))
        elif way is not None:
            lies = PART_AXIS.moved(0.0, turned=way[2] < 0)
        found.append(lies)
    return tuple(found)
