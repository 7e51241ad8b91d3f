"""Dimension lines, leaders and columns of labels, as on a workshop drawing.

This module owns where arrowheads and lettering go when there is room and when there
is not. Lettering always reads from the bottom of the page. It leaves what is
dimensioned to the drawings, and how lines look to `style`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from handouts_build.figures.canvas import Align, Box, Canvas, Point, along, around, height_of, width_of
from handouts_build.figures.style import (
    ARROW_MM,
    DIMENSION,
    LINE_STEP,
    MM_PER_POINT,
    TEXT_PT,
    Pen,
    Role,
    both,
    stacked,
)
from handouts_build.quantities import Printed

__all__ = [
    "Callout",
    "angle_between",
    "arrows_between",
    "block",
    "callouts",
    "horizontal",
    "leader",
    "spread",
    "tall",
    "torn",
    "value",
    "vertical",
    "wide",
]

GAP_MM = 0.9
"""Between an object and its extension line."""
OVER_MM = 1.4
"""How far an extension line goes beyond the dimension line."""
STUB_MM = 1.8
"""Least length of dimension line seen beside an arrowhead."""


def wide(lines: Sequence[str], size_pt: float = TEXT_PT) -> float:
    """Width of a block of lettering, in mm.

    Args:
        lines: Its lines, top first.
        size_pt: Height of the lettering, in points.

    Returns:
        Millimetres of paper, of the widest line.
    """
    return max(width_of(line, size_pt) for line in lines)


def tall(lines: Sequence[str], size_pt: float = TEXT_PT) -> float:
    """Height of a block of lettering, in mm.

    Args:
        lines: Its lines, top first.
        size_pt: Height of the lettering, in points.

    Returns:
        Millimetres of paper.
    """
    return height_of(len(lines), size_pt, step=LINE_STEP)


def value(printed: Printed, name: str = "", *, before: str = "") -> tuple[str, ...]:
    """A label: what it is, then its value in both units on the next line.

    Args:
        printed: The value.
        name: What it is, in a word or two.
        before: What stands before the number, such as `Ø`.
    """
    return (name, both(printed, before)) if name else (both(printed, before),)


def block(
    canvas: Canvas,
    at: Point,
    lines: Sequence[str],
    *,
    align: Align = "center",
    size_pt: float = TEXT_PT,
    ground: Role | None = Role.PAPER,
    role: Role = Role.INK,
) -> Box:
    """Lines of lettering about a middle height.

    Args:
        canvas: To draw on.
        at: Middle height, and left edge, middle or right edge by `align`.
        lines: From the top.
        align: `left`, `center` or `right`.
        size_pt: Height of the lettering, in points.
        ground: Color of the gap it makes; none when it makes none.
        role: Color of the lettering.
    """
    step = LINE_STEP * size_pt * MM_PER_POINT
    top = at[1] + (len(lines) - 1) / 2 * step
    places = [(at[0], top - each * step) for each in range(len(lines))]
    if ground is not None:
        # All gaps first, so that none bites into the line above it.
        for place, line in zip(places, lines, strict=True):
            canvas.gap(place, line, align=align, size_pt=size_pt, ground=ground)
        # Between the lines too, as wide as the narrowest.
        narrow = min(lines, key=lambda line: width_of(line, size_pt))
        for place in places[1:]:
            canvas.gap((place[0], place[1] + step / 2), narrow, align=align, size_pt=size_pt, ground=ground)
    rooms = [
        canvas.text(place, line, align=align, size_pt=size_pt, role=role)
        for place, line in zip(places, lines, strict=True)
    ]
    room = rooms[0]
    for piece_room in rooms[1:]:
        room = room | piece_room
    return room


def arrows_between(canvas: Canvas, start: Point, stop: Point, *, pen: Pen = DIMENSION) -> bool:
    """A line with arrowheads at both ends: within where there is room, else pointing in from outside.

    Args:
        canvas: To draw on.
        start: One end, in mm.
        stop: The other end.
        pen: For the line; its color is also the arrowheads'.

    Returns:
        Whether the arrowheads are within.
    """
    span = math.dist(start, stop)
    within = span >= 2 * ARROW_MM + 1.0
    if within:
        canvas.line([along(start, stop, ARROW_MM * 0.8), along(stop, start, ARROW_MM * 0.8)], pen)
        canvas.arrow(start, stop, length=ARROW_MM, role=pen.role)
        canvas.arrow(stop, start, length=ARROW_MM, role=pen.role)
        return True
    if span <= 0:
        return False
    canvas.line([start, stop], pen)
    for tip, other in ((start, stop), (stop, start)):
        tail = along(tip, other, -(ARROW_MM + STUB_MM))
        canvas.line([along(tip, other, -ARROW_MM * 0.8), tail], pen)
        canvas.arrow(tip, tail, length=ARROW_MM, role=pen.role)
    return False


def horizontal(
    canvas: Canvas,
    left: Point,
    right: Point,
    *,
    y: float,
    printed: Printed,
    name: str = "",
    before: str = "",
    spill: str = "right",
) -> None:
    """A level dimension between two points, with extension lines to its height.

    Lettering breaks the line where it fits on one, else stands above and below it,
    else beside it.

    Args:
        canvas: To draw on.
        left: Where the left extension line starts from, in mm.
        right: Where the right one starts from.
        y: Height of the dimension line.
        printed: The value.
        name: What it is.
        before: What stands before the number.
        spill: Side the lettering goes to where there is no room: `right` or `left`.
    """
    for x, from_y in (left, right):
        way = math.copysign(1.0, y - from_y)
        if abs(y - from_y) > GAP_MM:
            canvas.line([(x, from_y + way * GAP_MM), (x, y + way * OVER_MM)], DIMENSION)
    span = right[0] - left[0]
    within = arrows_between(canvas, (left[0], y), (right[0], y))
    line = f"{name} {both(printed, before)}".strip()
    room = span - 2 * (ARROW_MM + STUB_MM)
    step = LINE_STEP * TEXT_PT * MM_PER_POINT
    middle = (left[0] + right[0]) / 2
    if within and width_of(line) <= room:
        block(canvas, (middle, y), [line])
        return
    number = stacked(printed, before)
    first = f"{name} {number[0]}".strip()
    above = (first,) if not name or width_of(first) <= span - 1 else (name, number[0])
    if within and wide((*above, *number[1:])) <= span - 1:
        block(canvas, (middle, y + 0.55 * step + (len(above) - 1) / 2 * step), above)
        if number[1:]:
            block(canvas, (middle, y - 0.62 * step), [number[1]])
        return
    beyond = 0.0 if within else ARROW_MM + STUB_MM
    away = beyond + 1.2 + (OVER_MM if within else 0.0)
    lines = (first, *number[1:])
    if spill == "right":
        block(canvas, (right[0] + away, y), lines, align="left")
    else:
        block(canvas, (left[0] - away, y), lines, align="right")


def vertical(
    canvas: Canvas,
    low: Point,
    high: Point,
    *,
    x: float,
    printed: Printed,
    name: str = "",
    before: str = "",
    side: str = "",
) -> None:
    """An upright dimension between two points, with extension lines to its place.

    Lettering breaks the line where there is room, else stands beside it.

    Args:
        canvas: To draw on.
        low: Where the lower extension line starts from, in mm.
        high: Where the upper one starts from.
        x: Place of the dimension line.
        printed: The value.
        name: What it is.
        before: What stands before the number.
        side: Side for the lettering where it cannot break the line; by default away from the object.
    """
    for from_x, y in (low, high):
        way = math.copysign(1.0, x - from_x)
        if abs(x - from_x) > GAP_MM:
            canvas.line([(from_x + way * GAP_MM, y), (x + way * OVER_MM, y)], DIMENSION)
    within = arrows_between(canvas, (x, low[1]), (x, high[1]))
    lines = tuple(line for line in (name, *stacked(printed, before)) if line)
    middle = (low[1] + high[1]) / 2
    if not side and within and tall(lines) <= high[1] - low[1] - 2 * (ARROW_MM + STUB_MM / 2):
        block(canvas, (x, middle), lines)
        return
    to_right = side == "right" or (not side and x >= low[0])
    block(canvas, (x + (1.6 if to_right else -1.6), middle), lines, align="left" if to_right else "right")


def angle_between(
    canvas: Canvas, center: Point, radius: float, start: float, stop: float, *, pen: Pen = DIMENSION
) -> Point:
    """An arc with arrowheads, for an angle or a distance around.

    Args:
        canvas: To draw on.
        center: Of the arc, in mm.
        radius: Of the arc, in mm.
        start: Angle at one end, in degrees.
        stop: Angle at the other, more than `start`.
        pen: For the arc.

    Returns:
        The arc's middle, for a leader to point at.
    """
    span = math.radians(stop - start) * radius
    head = math.degrees(ARROW_MM / radius)
    within = span >= 2 * ARROW_MM + 1.0
    reach = 0.0 if within else head * 2
    short = head * 0.7 if within else -reach
    canvas.line(around(center, radius, start + short, stop - short), pen)
    for edge, way in ((start, 1), (stop, -1)):
        way = way if within else -way
        tip, tail = (around(center, radius, edge + turn, edge + turn)[0] for turn in (0.0, way * head))
        canvas.arrow(tip, tail, length=ARROW_MM, role=pen.role)
    return around(center, radius, (start + stop) / 2, (start + stop) / 2)[0]


def leader(canvas: Canvas, points: Sequence[Point], *, end: str = "arrow") -> None:
    """A thin line from lettering to what it names.

    Args:
        canvas: To draw on.
        points: From the lettering to the target, in mm.
        end: `arrow` at an edge, `dot` within an area, `none` at a line.
    """
    if end == "arrow":
        stopped = along(points[-1], points[-2], ARROW_MM * 0.8)
        canvas.line([*points[:-1], stopped], DIMENSION)
        canvas.arrow(points[-1], points[-2], length=ARROW_MM)
        return
    canvas.line(points, DIMENSION)
    if end == "dot":
        canvas.circle(points[-1], 0.45, None, fill=Role.INK)


def torn(start: Point, stop: Point, *, swing: float = 0.45, wave: float = 13.0) -> list[Point]:
    """A freehand line, where wood goes on beyond what is drawn.

    Args:
        start: One end, in mm.
        stop: The other end.
        swing: How far it strays to either side, in mm.
        wave: From crest to crest, in mm.
    """
    span = math.dist(start, stop)
    over = ((stop[1] - start[1]) / span, (start[0] - stop[0]) / span)
    points = []
    steps = max(4, round(span))
    for each in range(steps + 1):
        reach = span * each / steps
        # Two waves that do not keep step look drawn by hand; both are level at the ends.
        waves = math.sin(reach / wave * math.tau) + 0.5 * math.sin(reach / wave * 1.7 * math.tau)
        stray = swing * waves * math.sin(math.pi * each / steps)
        at = along(start, stop, reach)
        points.append((at[0] + over[0] * stray, at[1] + over[1] * stray))
    return points


@dataclass(frozen=True)
class Callout:
    """A label in a column, with a leader to its target."""

    target: Point
    lines: tuple[str, ...]
    end: str = "arrow"
    """`arrow` at an edge, `dot` within an area, `none` at a line."""
    wish: float | None = None
    """Height it would like to stand at; by default the target's."""


def spread(
    wishes: Sequence[float], sizes: Sequence[float], *, gap: float, within: tuple[float, float] | None = None
) -> list[float]:
    """Middles of labels that do not touch, each as near its own wish as can be.

    Args:
        wishes: Where each middle would like to be, in rising order.
        sizes: Length of each along the row.
        gap: Least distance between neighbors.
        within: Bounds that the row must keep, wide enough for it.

    Returns:
        As many middles, in the same order.
    """
    # Measured from where each would be with all packed from nought, the middles need
    # only not fall; runs that would are moved as one, to the mean of their wishes.
    packed: list[float] = []
    reach = 0.0
    for size in sizes:
        packed.append(reach + size / 2)
        reach += size + gap
    runs: list[tuple[float, int]] = []
    for wish, place in zip(wishes, packed, strict=True):
        mean, count = wish - place, 1
        while runs and runs[-1][0] > mean:
            other, more = runs.pop()
            mean, count = (mean * count + other * more) / (count + more), count + more
        runs.append((mean, count))
    shifts = [mean for mean, count in runs for _ in range(count)]
    if within is not None:
        low, high = within[0], within[1] - (reach - gap)
        shifts = [min(max(shift, low), high) for shift in shifts]
    return [shift + place for shift, place in zip(shifts, packed, strict=True)]


def callouts(canvas: Canvas, items: Sequence[Callout], *, x: float, side: str) -> None:
    """A column of labels beside a drawing, in the order of their wishes so that leaders do not cross.

    Args:
        canvas: To draw on.
        items: The labels.
        x: Edge of the column that faces the drawing, in mm.
        side: Side of the drawing it stands on: `left` or `right`.
    """
    way = 1 if side == "right" else -1
    rows = sorted(items, key=lambda item: item.target[1] if item.wish is None else item.wish)
    heights = spread(
        [item.target[1] if item.wish is None else item.wish for item in rows],
        [tall(item.lines) for item in rows],
        gap=1.8,
    )
    for item, y in zip(rows, heights, strict=True):
        # The leader leaves the label level, then goes straight to its target.
        leader(canvas, [(x - way * 0.8, y), (x - way * 3.0, y), item.target], end=item.end)
    # Last, each with its gap: a leader that has no way around another's label is broken there.
    for item, y in zip(rows, heights, strict=True):
        block(canvas, (x, y), item.lines, align="left" if side == "right" else "right")
