"""Labels about a round drawing, close in, so that two drawings stand abreast on a page.

This module owns where such labels stand: in a column at each side whose inner edge
follows the circle. It leaves what they say to the drawings, and leaders and blocks
of lettering to `dimensioning`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from handouts_build.figures.canvas import Canvas
from handouts_build.figures.dimensioning import Callout, block, leader, spread, tall, wide
from handouts_build.figures.style import stacked
from handouts_build.quantities import Printed

__all__ = ["DISC_MM", "HALF_MM", "hugging", "label"]

DISC_MM = 46.0
"""Most paper that the round part of a drawing takes across."""

HALF_MM = 38.0
"""From the middle of such a drawing to its labels' far edges: two are then abreast in the text of a page."""

_APART_MM = 1.7
"""Between labels of a column."""

_KNEE_MM = 1.6
"""Level part of a leader, next to its label."""


def label(printed: Printed, *names: str, before: str = "") -> tuple[str, ...]:
    """A narrow label: what it is, then its value with the other unit below.

    Args:
        printed: The value.
        names: What it is, a line each.
        before: What stands before the number, such as `Ø`.
    """
    return (*names, *stacked(printed, before))


def hugging(canvas: Canvas, items: Sequence[Callout], *, clear: float, side: str, half: float = HALF_MM) -> None:
    """A column of labels beside a circle about the origin, in the order of their wishes.

    A label that is too wide beside the circle's middle moves up or down to where the
    circle leaves it room; where labels are too many for that, the column grows outward.

    Args:
        canvas: To draw on.
        items: The labels.
        clear: Radius that no label enters, in mm.
        side: Side of the circle it stands on: `left` or `right`.
        half: From the middle to the far edge of labels, in mm.
    """
    way = 1 if side == "right" else -1
    wishes = {id(one): _roomy(one, clear, half) for one in items}
    rows = sorted(items, key=lambda one: wishes[id(one)])
    heights = spread([wishes[id(one)] for one in rows], [tall(one.lines) for one in rows], gap=_APART_MM)
    for one, y in zip(rows, heights, strict=True):
        near = max(0.0, abs(y) - tall(one.lines) / 2)
        beside = math.sqrt(max(0.0, clear**2 - near**2))
        # As far out as the frame lets it stand, but no farther than the circle's own side.
        x = way * max(beside, min(half - wide(one.lines), clear), 1.5)
        block(canvas, (x, y), one.lines, align="left" if side == "right" else "right", ground=None)
        leader(canvas, [(x - way * 0.6, y), (x - way * (0.6 + _KNEE_MM), y), one.target], end=one.end)


def _roomy(one: Callout, clear: float, half: float) -> float:
    """The height nearest to a label's wish at which it fits between the circle and the far edge."""
    wish = one.target[1] if one.wish is None else one.wish
    beside = max(0.0, half - wide(one.lines))
    least = math.sqrt(max(0.0, clear**2 - beside**2)) + tall(one.lines) / 2 if beside < clear else 0.0
    return math.copysign(max(abs(wish), least), wish)
