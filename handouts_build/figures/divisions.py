"""The drawing of a circle divided: marks, the angle, dividers and paper strip.

This module owns what it shows and says. It leaves the numbers to the sheet.
"""

from __future__ import annotations

import math

from handouts_build.figures.canvas import Canvas, Point, around
from handouts_build.figures.dimensioning import Callout, angle_between, block
from handouts_build.figures.drawing import Numbers, Scale, change, finished, noted
from handouts_build.figures.figure import Figure
from handouts_build.figures.labels import hugging, label
from handouts_build.figures.style import CENTER, CUT, DIMENSION, NOTE_PT, OUTLINE, Pen, Role, both
from handouts_build.language import tr, tr_later
from handouts_build.sheet import Group

__all__ = ["marks"]

_RADIUS_MM = 23.0

# The step that is dimensioned lies about this angle, so that its leaders run out to
# the labels between the numbers of its two marks.
_TOWARD = 25.0


def marks(group: Group) -> Figure:
    """The end view with its marks numbered, and one step told in every way it is set off."""
    known = Numbers(group)
    count = known.whole("divisions")
    scale = Scale.fitting((known.mm("diameter"), 2 * _RADIUS_MM))
    radius = known.mm("diameter") / 2 * scale
    step = 360.0 / count
    first, second = _TOWARD + step / 2, _TOWARD - step / 2
    canvas = Canvas(f"{group.name}-marks")

    canvas.circle((0, 0), radius, OUTLINE, fill=Role.WOOD)
    reach = radius * 0.1
    canvas.line([(-reach, 0), (reach, 0)], CENTER)
    canvas.line([(0, -reach), (0, reach)], CENTER)
    tick = 1.6 if count <= 24 else 1.1
    places = [first - step * each for each in range(count)]
    canvas.lines([(_at(place, radius - tick), _at(place, radius + tick)) for place in places], Pen(1.0))
    every = _every(count)

    beyond = radius + 7.0
    for edge in (first, second):
        clear = 5.6 if edge == first or every == 1 else 2.0
        canvas.line([_at(edge, radius + clear), _at(edge, beyond + 1.2)], DIMENSION)
        canvas.line([_at(edge, reach * 1.3), _at(edge, radius - tick - 0.6)], DIMENSION)
    angle_between(canvas, (0, 0), beyond, second, first)
    start, stop = _at(first, radius), _at(second, radius)
    canvas.line([start, stop], CUT)
    # Where the straight way cuts deep into the circle, the angle stands nearer the center than it.
    _angle(canvas, known["angle"].lead, radius * (0.58 if count > 4 else 0.36), second, first)

    chord = ((start[0] + stop[0]) / 2, (start[1] + stop[1]) / 2)
    # The label of the diameter points in between two numbers, low on the same side.
    low = first - step * every * (max(1, round((first + 44.0) / (step * every) - 0.5)) + 0.5) if count > 3 else -60.0
    labels = [
        Callout(
            _at(_TOWARD + min(step / 4, 20.0), beyond), label(known["arc"], tr("along the\nsurface")), "none", beyond
        ),
        Callout(chord, label(known["setting"], tr("dividers,\npoint to point")), "arrow", 0.0),
        Callout(_at(low, radius), label(known["diameter"], tr("circle"), before="Ø"), "arrow", -beyond),
    ]
    hugging(canvas, labels, clear=beyond + 1.6, side="right", half=radius + 25.0)
    # Last, each with its gap, so that leaders are broken by them.
    for each in range(0, count - every + 1, every):
        block(canvas, _at(places[each], radius + 3.6), [str(each + 1)], size_pt=NOTE_PT)
    noted(canvas, tr("Paper strip once around: {strip}", strip=both(known["strip"])), scale=scale)
    alt = [
        tr(
            "Seen from the end: a circle {diameter} across with {count} marks, numbered clockwise.",
            diameter=known["diameter"],
            count=count,
        ),
        tr(
            "From one mark to the next is {angle}, {arc} along the surface, and {setting} "
            "straight across, to set dividers to.",
            angle=known["angle"].lead,
            arc=known["arc"],
            setting=known["setting"],
        ),
        tr("A paper strip once around is {strip} long.", strip=known["strip"]),
        _closing(known, count),
    ]
    return finished(canvas, group, "marks", tr("{title}: {count} marks", title=group.title, count=count), alt)


def _at(degrees: float, distance: float) -> Point:
    """A point about the center."""
    return distance * math.cos(math.radians(degrees)), distance * math.sin(math.radians(degrees))


def _every(count: int) -> int:
    """Number every how many marks, so that no more than two dozen numbers stand around."""
    return next(each for each in (1, 2, 3, 4, 5, 10, 20, 50, count) if count / each <= 24)


def _angle(canvas: Canvas, said: str, radius: float, low: float, high: float) -> None:
    """The angle of the step: in its sector where there is room, else just past its lower side."""
    if high - low >= 58:
        angle_between(canvas, (0, 0), radius, low, high)
        block(canvas, _at(low + (high - low) * 0.28, radius), [said], ground=Role.WOOD)
        return
    angle_between(canvas, (0, 0), radius, low, high)
    # Past the lower side, with the arc drawn on to it.
    past = 14.0
    canvas.line(around((0, 0), radius, low, low - past), DIMENSION)
    block(canvas, (_at(low - past, radius)[0], _at(low - past, radius)[1] - 2.4), [said], ground=Role.WOOD)


def _closing(known: Numbers, count: int) -> str:
    """How dividers set to the nearest mark close, in words."""
    return change(
        known,
        "closing",
        more=tr_later("Stepped off {count} times, dividers set so end short of the first mark by {amount}."),
        less=tr_later("Stepped off {count} times, dividers set so end past the first mark by {amount}."),
        none=tr_later("Stepped off {count} times, dividers set so close exactly."),
        count=count,
    )
