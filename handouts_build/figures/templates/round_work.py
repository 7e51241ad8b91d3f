"""Templates for round work: paper strip, end circles, octagon gauge.

This module owns their drawing at true size from the exact values of a group. It
leaves profiles and story sticks to `templates.along_axis`.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

from handouts_build.figures.figure import Figure
from handouts_build.figures.templates.draw import (
    DASHES,
    DROP,
    GLUE,
    LETTER_MM,
    LINE_MM,
    TAB_MM,
    WIDTHS,
    WIDTHS_OF_OTHERS,
    TemplateDrawing,
    cuts,
    fits,
    joints_at,
    pieces,
)
from handouts_build.figures.templates.frame import Room, Template, as_figures
from handouts_build.language import labelled, tr, tr_later
from handouts_build.quantities import Quantity, Rule, print_quantity
from handouts_build.sheet import Group

__all__ = ["WORDS", "ball_circles", "division_circle", "octagon_gauge", "paper_strip", "shared"]

_STRIP_WIDTH = 16.0
_CLOSEST_MARKS = 1.0
"""Marks nearer than this, in mm, are of no use on paper."""
_MOST_PIECES = 16
_LINE_ROOM = LETTER_MM * 1.3
_LEAST_WIDTH = 46.0
"""A drawing with lettering below it is at least this wide, in mm."""
_CARD = 30.0
"""What is left of a gauge's card beside the wood."""
_NUMBERED = (1, 2, 5, 10, 20, 50)
"""Every mark has its number, or every second, and so on, as there is room."""

WORDS = {
    "strip": {
        "title": tr_later("Paper strip for {count}"),
        "use": tr_later(
            "Wrap it around; the end line meets mark 1. It is {around} long. "
            "Paper about 0.1 mm thick makes it close about 0.3 mm short."
        ),
        "alt": tr_later(
            "Paper strip {around} long, to wrap around {diameter}, with {count} numbered marks {step} apart "
            "and a glue tab beyond the end."
        ),
        "long": tr_later("{count} divisions around {diameter}"),
        "short": tr_later("{count} divisions"),
        "tab": tr_later("glue"),
    },
    "rays": {
        "title": tr_later("End circle for {count}"),
        "use": tr_later("Center it on the end grain and mark where the {count} rays meet the edge, {angle} apart."),
        "alt": tr_later("Circle {diameter} across with a center cross and {count} numbered rays, {angle} apart."),
        "below": tr_later("{diameter} across"),
    },
    "circles": {
        "title": tr_later("End circles"),
        "use": tr_later(
            "Center it on the end grain and prick the inner circle, {inner} across: the corner cuts end there."
        ),
        "alt": tr_later(
            "Two circles about one center: the ball, {outer} across, "
            "and the circle to draw on the end grain, {inner} across."
        ),
        "outer": tr_later("outer circle {outer}"),
        "inner": tr_later("inner circle {inner}"),
    },
    "gauge": {
        "title": tr_later("Octagon gauge"),
        "use": tr_later(
            "Lay the straight edge along the cylinder; mark both ends, and the corners {corner} in. "
            "The cut-out edge fits half the octagon."
        ),
        "alt": tr_later(
            "Card {long} long. Its straight edge has marks at both ends and {corner} in from each end. "
            "Its other edge is half the outline of an octagon about a circle of {long}, with sides of {side}."
        ),
        "end": tr_later("end"),
        "corner": tr_later("corner {corner}"),
        "far": tr_later("end {long}"),
        "wood": tr_later("wood: cut away"),
        "card": tr_later("card: keep"),
    },
}
"""What stands on each template and beside it; a name in curly brackets stands for a printed value."""


def shared() -> dict[str, Any]:
    """The measures, in mm, and the words a page draws the same templates with, in the language that is spoken."""
    return {
        "strip": _STRIP_WIDTH, "closest": _CLOSEST_MARKS, "pieces": _MOST_PIECES, "line": _LINE_ROOM,
        "least": _LEAST_WIDTH, "card": _CARD, "letter": LETTER_MM, "drop": DROP, "tab": TAB_MM, "pen": LINE_MM,
        "numbered": _NUMBERED, "dashes": DASHES, "widths": WIDTHS, "others": WIDTHS_OF_OTHERS,
        "glue": [tr(said) for said in GLUE],
        "words": {name: {key: tr(said) for key, said in words.items()} for name, words in WORDS.items()},
    }  # fmt: skip


def _mm(value: Quantity) -> float:
    """A length in mm."""
    return float(value.m_as("mm"))


def paper_strip(group: Group, rule: Rule, room: Room) -> Template | None:
    """A strip as long as the way around, with its divisions numbered.

    Args:
        group: Of the chapter `divisions`.
        rule: The marks lengths are told to.
        room: What a page takes.

    Returns:
        The strip, or None where its marks would run together or its pieces be too many.
    """
    count = round(float(group.values["divisions"].magnitude))
    diameter = group.values["diameter"]
    length = math.pi * _mm(diameter)
    step = length / count if count > 0 else 0.0
    most = room.height - TAB_MM - 1.0
    if step < _CLOSEST_MARKS or length > most * _MOST_PIECES:
        return None
    every = next((each for each in _NUMBERED if each * step >= LETTER_MM * 1.15), _NUMBERED[-1])
    marks = [each * step for each in range(count + 1)]
    words = WORDS["strip"]
    values = {
        "count": str(count),
        "diameter": str(group.printed["diameter"]),
        "around": str(print_quantity(diameter * math.pi, rule)),
        "step": str(group.printed["arc"]),
    }
    joints = cuts(length, most, clear=marks, margin=min(4.0, step / 3))
    canvas = TemplateDrawing()
    for number, y in enumerate(marks[:-1], start=1):
        canvas.line([(0, y), (_STRIP_WIDTH - 6, y)])
        if (number - 1) % every == 0:
            canvas.text(1.2, y + LETTER_MM * 0.62, str(number), bold=True)
    canvas.line([(0, 0), (0, length)], kind="cut")
    canvas.line([(_STRIP_WIDTH, 0), (_STRIP_WIDTH, length)], kind="cut")
    canvas.line([(0, 0), (_STRIP_WIDTH, 0)], kind="cut")
    edges = [0.0, *joints, length]
    for start, end in pairwise(edges):
        sayings = (tr(words[key], **values) for key in ("long", "short"))
        said = next((saying for saying in sayings if fits(saying, end - start - 6)), "")
        canvas.text(_STRIP_WIDTH - 3, (start + end) / 2, said, anchor="middle", turned=True)
    # The end of the strip is its own beginning: the tab goes under mark 1.
    canvas.line(
        [(0, length), (0, length + TAB_MM), (_STRIP_WIDTH, length + TAB_MM), (_STRIP_WIDTH, length)], kind="fold"
    )
    canvas.line([(0, length), (_STRIP_WIDTH, length)], kind="fold")
    canvas.text(_STRIP_WIDTH / 2, length + TAB_MM / 2, tr(words["tab"]), anchor="middle")
    cut = pieces(
        canvas, left=0, width=_STRIP_WIDTH, top=0, bottom=length + TAB_MM,
        joints=joints_at(joints, left=lambda _: 0.0, right=_STRIP_WIDTH),
    )  # fmt: skip
    return Template(
        labelled(tr(words["title"], **values), group.title),
        tr(words["use"], **values),
        as_figures(f"{group.name}-strip", group, tr("Paper strip"), cut, _STRIP_WIDTH, tr(words["alt"], **values)),
    )


def _disc(radius: float, lines: tuple[str, ...], room: Room) -> tuple[TemplateDrawing, float, float] | None:
    """A canvas with a circle to cut out, a center cross and lettering below; None where too large."""
    width = max(2 * radius + 1.0, _LEAST_WIDTH)
    height = 2 * radius + 1.0 + len(lines) * _LINE_ROOM
    if width > room.width or height > room.height:
        return None
    canvas = TemplateDrawing()
    canvas.circle(0, 0, radius, kind="cut")
    arm = min(4.0, radius / 2)
    canvas.line([(-arm, 0), (arm, 0)])
    canvas.line([(0, -arm), (0, arm)])
    for number, words in enumerate(lines):
        canvas.text(0, radius + 0.5 + (number + 0.55) * _LINE_ROOM, words, anchor="middle")
    return canvas, width, height


def division_circle(group: Group, room: Room) -> Template | None:
    """A disc with a ray for every division.

    Args:
        group: Of the chapter `divisions`.
        room: What a page takes.

    Returns:
        The disc, or None where it is larger than a page or its rays run together.
    """
    count = round(float(group.values["divisions"].magnitude))
    radius = _mm(group.values["diameter"]) / 2
    words = WORDS["rays"]
    printed = group.printed
    values = {"count": str(count), "diameter": str(printed["diameter"]), "angle": printed["angle"].lead}
    made = _disc(radius, (tr(words["below"], **values),), room)
    if made is None or count < 1 or 2 * math.pi * radius / count < _CLOSEST_MARKS:
        return None
    canvas, width, height = made
    # Rays stop where they would blot the center, and numbers where they would touch.
    inner = max(min(5.0, radius / 2), _CLOSEST_MARKS * count / (2 * math.pi))
    number_at = radius - LETTER_MM
    gap = 2 * math.pi * max(number_at, 0.1) / count
    every = next((each for each in _NUMBERED[:4] if each * gap > 2.2 * LETTER_MM), 0)
    for each in range(count):
        turn = 2 * math.pi * each / count
        x, y = math.sin(turn), -math.cos(turn)
        canvas.line([(inner * x, inner * y), (radius * x, radius * y)])
        if every and each % every == 0:
            # Beside its ray, on the clockwise side.
            canvas.text(number_at * x - 1.7 * y, number_at * y + 1.7 * x, str(each + 1), anchor="middle")
    svg = canvas.svg(-width / 2, -radius - 0.5, width, height)
    return Template(
        labelled(tr(words["title"], **values), group.title),
        tr(words["use"], **values),
        (Figure(f"{group.name}-circle", group.name, tr("End circle"), svg, tr(words["alt"], **values), width, height),),
    )


def ball_circles(group: Group, room: Room) -> Template | None:
    """The ball's own circle with the circle to draw on the end grain inside it.

    Args:
        group: Of the chapter `sphere by facets`.
        room: What a page takes.
    """
    ball, side = group.values["diameter"], group.values["side"]
    words = WORDS["circles"]
    values = {"outer": str(group.printed["diameter"]), "inner": str(group.printed["side"])}
    made = _disc(_mm(ball) / 2, (tr(words["outer"], **values), tr(words["inner"], **values)), room)
    if made is None:
        return None
    canvas, width, height = made
    canvas.circle(0, 0, _mm(side) / 2)
    return Template(
        labelled(tr(words["title"]), group.title),
        tr(words["use"], **values),
        (
            Figure(
                f"{group.name}-end", group.name, tr("End circles"),
                canvas.svg(-width / 2, -_mm(ball) / 2 - 0.5, width, height),
                tr(words["alt"], **values), width, height,
            ),
        ),
    )  # fmt: skip


def octagon_gauge(group: Group, room: Room) -> Template | None:
    """A card that carries the octagon's marks on one edge and fits its half outline on the other.

    Args:
        group: Of the chapter `sphere by facets`.
        room: What a page takes.

    Returns:
        The card, in pieces where the ball is longer than a page; None where it is too wide.
    """
    ball, back, side = (_mm(group.values[name]) for name in ("diameter", "setback", "side"))
    words = WORDS["gauge"]
    long, corner = group.printed["diameter"], group.printed["setback"]
    values = {"long": str(long), "corner": str(corner), "side": str(group.printed["side"])}
    right = ball / 2 + _CARD
    if right > room.width or ball > room.height * _MOST_PIECES:
        return None
    canvas = TemplateDrawing()
    outline = [(side / 2, 0.0), (ball / 2, back), (ball / 2, ball - back), (side / 2, ball)]
    canvas.line([*outline, (right, ball), (right, 0.0)], kind="cut", closed=True)
    canvas.line([(0, 0), (side / 2, 0)], kind="fold")
    canvas.line([(0, ball), (side / 2, ball)], kind="fold")
    canvas.line([(0, 0), (0, ball)], kind="axis")
    at_corner = tr(words["corner"], corner=corner.lead)
    marks = [
        (0.0, tr(words["end"])), (back, at_corner), (ball - back, at_corner), (ball, tr(words["far"], long=long.lead)),
    ]  # fmt: skip
    for y, said in marks:
        canvas.line([(right - 6, y), (right, y)])
        inside = y + (LETTER_MM * 0.7 if y == 0.0 else -LETTER_MM * 0.7 if y == ball else 0.0)
        canvas.text(right - 7, inside, said, anchor="end")
    for said, x in ((tr(words["wood"]), ball / 4), (tr(words["card"]), ball / 2 + 3)):
        if fits(said, ball - 2 * back - 2):
            canvas.text(x, ball / 2, said, anchor="middle", turned=True)
    places = cuts(ball, room.height - TAB_MM - 1.0, clear=[y for y, _ in marks], margin=4.0)
    joints = joints_at(places, left=lambda y: _edge(outline, y), right=right)
    cut = pieces(canvas, left=0, width=right, top=0, bottom=ball, joints=joints)
    return Template(
        labelled(tr(words["title"]), group.title),
        tr(words["use"], **values),
        as_figures(f"{group.name}-octagon", group, tr("Octagon gauge"), cut, right, tr(words["alt"], **values)),
    )


def _edge(outline: list[tuple[float, float]], y: float) -> float:
    """Where the outline is at y, in mm from the axis."""
    for (x0, y0), (x1, y1) in pairwise(outline):
        if y0 <= y <= y1 and y1 > y0:
            return x0 + (x1 - x0) * (y - y0) / (y1 - y0)
    return outline[-1][0]
