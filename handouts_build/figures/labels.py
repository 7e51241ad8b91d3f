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
        names: What it is; a break in one begins a new line.
        before: What stands before the number, such as `Ø`.
    """
    return (*(line for name in names for line in name.splitlines()), *stacked(printed, before))


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
    wishes = {id(item): _roomy(item, clear, half) for item in items}
    rows = sorted(items, key=lambda item: wishes[id(item)])
    heights = spread([wishes[id(item)] for item in rows], [tall(item.lines) for item in rows], gap=_APART_MM)
    placed: list[tuple[float, float]] = []
    for item, y in zip(rows, heights, strict=True):
        near = max(0.0, abs(y) - tall(item.lines) / 2)
        beside = math.sqrt(max(0.0, clear**2 - near**2))
        # As far out as the frame lets it stand, but no farther than the circle's own side.
        x = way * max(beside, min(half - wide(item.lines), clear), 1.5)
        placed.append((x, y))
        leader(canvas, [(x - way * 0.6, y), (x - way * (0.6 + _KNEE_MM), y), item.target], end=item.end)
    # Last, each with its gap: a leader that has no way around another's label is broken there.
    for item, at in zip(rows, placed, strict=True):
        block(canvas, at, item.lines, align="left" if side == "right" else "right")


def _roomy(item: Callout, clear: float, half: float) -> float:
    """The height nearest to a label's wish at which it fits between the circle and the far edge."""
    wish = item.target[1] if item.wish is None else item.wish
    beside = max(0.0, half - wide(item.lines))
    least = math.sqrt(max(0.0, clear**2 - beside**2)) + tall(item.lines) / 2 if beside < clear else 0.0
    return math.copysign(max(abs(wish), least), wish)
