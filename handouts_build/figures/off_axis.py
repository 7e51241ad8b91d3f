"""The drawing of a section turned about centers off the axis: its circles, the wood they leave, and the ghost.

This module owns what it shows and says. It leaves the numbers to the sheet.
"""

from __future__ import annotations

import math

from handouts_build.figures.canvas import Canvas, Point
from handouts_build.figures.dimensioning import Callout, block
from handouts_build.figures.drawing import Numbers, Scale, finished, noted
from handouts_build.figures.figure import Figure
from handouts_build.figures.labels import DISC_MM, HALF_MM, hugging, label
from handouts_build.figures.style import CUT, EDGE, HIDDEN, MARK, NOTE_PT, PHANTOM, Pen, Role
from handouts_build.language import tr, tr_count
from handouts_build.sheet import Group

__all__ = ["section"]

_SIDES = 360
_PRICK = Pen(1.0, Role.ACCENT)
_CROSS_MM = 1.4
_AWAY_MM = 3.2
"""From a center to its number, toward the true one or away from it."""
_MOST_NUMBERED = 6
"""Of more centers, the numbers do not fit between them."""


def section(group: Group) -> Figure:
    """The section square to the axis, with the circles about one center; that is above the true one."""
    known = Numbers(group)
    count, blank, offset = known.whole("centers"), known.mm("blank") / 2, known.mm("offset")
    radius, swing, solid = (known.mm(name) / 2 for name in ("diameter", "swing", "solid"))
    scale = Scale.fitting((2 * max(swing, radius), DISC_MM))
    canvas = Canvas(f"{group.name}-section")
    # All lies within what swings about center 1, so that center is the middle of the drawing.
    true = (0.0, -offset * scale)
    ways = [math.radians(90 + 360 * each / count) for each in range(count)]
    centers = [_on(true, offset * scale, math.degrees(way)) for way in ways]

    canvas.circle((0, 0), swing * scale, PHANTOM)
    canvas.circle(true, blank * scale, EDGE)
    left_over = _left(ways, blank, offset, radius, scale)
    canvas.face([(x + true[0], y + true[1]) for x, y in left_over], pen=CUT)
    canvas.circle((0, 0), radius * scale, HIDDEN)
    canvas.circle(true, offset * scale, MARK)
    if solid > 0:
        canvas.circle((0, 0), solid * scale, PHANTOM)
    for each, (x, y) in enumerate([true, *centers]):
        pen = _PRICK if each else EDGE
        canvas.line([(x - _CROSS_MM, y), (x + _CROSS_MM, y)], pen)
        canvas.line([(x, y - _CROSS_MM), (x, y + _CROSS_MM)], pen)

    clear = max(swing, radius) * scale + 2.0
    edge_at, edge = 270.0 - 180.0 / count, min(known.mm("edge"), blank) * scale
    right = [
        Callout(_on((0, 0), swing * scale, 50), label(known["swing"], tr("swings\nabout 1"), before="Ø"), "arrow"),
        Callout(_on((0, 0), radius * scale, 8), label(known["diameter"], tr("turned"), before="Ø"), "arrow"),
        Callout(_on(true, blank * scale, -35), label(known["blank"], tr("blank"), before="Ø"), "arrow"),
    ]
    left = [
        Callout(_on(true, offset * scale, 160), label(known["offset"], tr("center\nto center")), "arrow"),
        Callout(_on(true, known.mm("face") * scale, 262), label(known["face"], tr("to a face")), "arrow"),
    ]
    if count > 1:
        left.append(Callout(_on(true, edge, edge_at), label(known["edge"], tr("to an edge")), "arrow"))
    if solid > 0:
        left.append(
            Callout(_on((0, 0), solid * scale, 140), label(known["solid"], tr("solid\nabout 1"), before="Ø"), "arrow")
        )
    hugging(canvas, right, clear=clear, side="right", half=HALF_MM + 1.0)
    hugging(canvas, left, clear=clear, side="left", half=HALF_MM + 1.0)
    if count <= _MOST_NUMBERED:
        # A single number would cover the true center, which lies below it.
        out = offset * scale + (_AWAY_MM if count == 1 else -_AWAY_MM)
        for each, way in enumerate(ways, start=1):
            inner = _on(true, out, math.degrees(way))
            block(canvas, inner, [str(each)], size_pt=NOTE_PT, ground=Role.WOOD)
    noted(canvas, tr("Heavy: the wood that is left. Outermost:\nhow far the blank swings about center 1."), scale=scale)
    alt = [
        tr_count(
            "A section square to the axis of a blank {blank} across, turned to {turned} about a center {offset} off.",
            "A section square to the axis of a blank {blank} across, turned to {turned} about {count} centers {offset} "
            "off the true one.",
            count,
            blank=known["blank"],
            turned=known["diameter"],
            offset=known["offset"],
        ),
        tr("A face lies {face} from the true center, an edge {edge}.", face=known["face"], edge=known["edge"]),
        tr(
            "About such a center the blank swings {swing}, and is solid within {solid}.",
            swing=known["swing"],
            solid=known["solid"],
        ),
    ]
    return finished(
        canvas, group, "section", tr("{title}: section with the circles that are turned", title=group.title), alt
    )


def _on(center: Point, radius: float, degrees: float) -> Point:
    """A point of a circle, by its angle from the right."""
    turn = math.radians(degrees)
    return center[0] + radius * math.cos(turn), center[1] + radius * math.sin(turn)


def _left(ways: list[float], blank: float, offset: float, radius: float, scale: float) -> list[Point]:
    """The outline of the wood that lies within the blank and within every circle."""
    points = []
    for side in range(_SIDES):
        turn = math.tau * side / _SIDES
        reach = blank
        for way in ways:
            along, aside = offset * math.cos(turn - way), offset * math.sin(turn - way)
            reach = min(reach, along + math.sqrt(max(0.0, radius**2 - aside**2)))
        reach = max(reach, 0.0) * scale
        points.append((reach * math.cos(turn), reach * math.sin(turn)))
    return points
