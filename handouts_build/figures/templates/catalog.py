"""Full-size templates: what a sheet gives to cut out, drawn at exactly 1:1.

This module owns which template each group of dimensions yields and the frame it is
handed on in; the drawings themselves are in `templates.round_work` (strips, circles, the
octagon gauge) and `templates.along_axis` (profiles and story sticks). It leaves their place
on paper to `outputs`. Nothing here may be scaled after it is drawn.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from handouts_build.figures.templates.along_axis import profile_card, story_stick
from handouts_build.figures.templates.draw import LETTER_MM, TemplateDrawing
from handouts_build.figures.templates.frame import PIECE, Room, Template
from handouts_build.figures.templates.ring_work import segment, stave, stop_settings, wedge
from handouts_build.figures.templates.round_work import (
    ball_circles,
    division_circle,
    octagon_gauge,
    paper_strip,
    shared,
)
from handouts_build.language import tr
from handouts_build.sheet import Sheet
from handouts_build.sheet.stages import Side

__all__ = ["BARS", "BAR_INCH_MM", "BAR_MM", "Room", "Template", "bar", "drawn", "templates"]

BAR_MM = 100.0
"""Length of the upper bar to measure, in mm."""

BAR_INCH_MM = 4 * 25.4
"""Length of the lower bar to measure: 4 in, in mm."""

BARS = ((BAR_MM, 10, "100 mm"), (BAR_INCH_MM, 16, "4 in"))
"""The two bars: length in mm, parts it is marked in, and its words."""


def drawn() -> dict[str, Any]:
    """Measures and words that a page draws the same templates with, in the language that is spoken."""
    bar_words = tr("Bar to measure: {metric} above, {inch} below.", metric=BARS[0][2], inch=BARS[1][2])
    return {**shared(), "bars": BARS, "bar": bar_words, "piece": tr(PIECE)}


def templates(sheet: Sheet, room: Room) -> tuple[Template, ...]:
    """Every template the sheet's groups yield, in their order.

    Args:
        sheet: The project, worked out.
        room: The largest drawing that fits on a page, in mm; longer ones are cut into pieces.
    """
    return tuple(_drawn(sheet, room))


def _drawn(sheet: Sheet, room: Room) -> Iterator[Template]:
    """The templates there are; a group yields none where the drawing would not be of use."""
    for group in sheet.groups:
        values = group.values
        found: tuple[Template | None, ...] = ()
        if group.chapter == "sphere by facets" and values.keys() >= {"diameter", "setback", "side"}:
            found = (octagon_gauge(group, room), ball_circles(group, room))
        elif group.chapter == "divisions" and values.keys() >= {"divisions", "diameter"}:
            found = (paper_strip(group, sheet.rule, room), division_circle(group, room))
        elif group.chapter == "rings and staves":
            found = (wedge(group, room), segment(group, room))
        elif group.chapter == "tapered staves":
            found = (stave(group, room),)
        elif group.stack is not None:
            found = (stop_settings(group, room),)
        elif group.shape is not None:
            found = (
                profile_card(group, sheet.rule, room, side=_side(sheet, group.name)),
                story_stick(group, sheet.rule, room),
            )
        yield from (template for template in found if template is not None)


def _side(sheet: Sheet, name: str) -> tuple[int, Side] | None:
    """The solid from the side where a profile was first cut, with the number of the step."""
    sides = ((step.number, side) for step in sheet.every_step if step.stage is not None for side in step.stage.sides)
    return next(((number, side) for number, side in sides if side.profile == name), None)


def bar() -> tuple[str, float, float]:
    """The bar to measure before anything is cut: 100 mm above, 4 in below.

    Returns:
        SVG, width and height in mm.
    """
    canvas = TemplateDrawing()
    for (length, parts, words), y in zip(BARS, (0.0, 4.0), strict=True):
        way = -1 if y == 0.0 else 1
        for part in range(parts + 1):
            x = length * part / parts
            whole = part % (10 if parts == 10 else 4) == 0
            half = part % (5 if parts == 10 else 2) == 0
            tall = 3.0 if whole else 2.2 if half else 1.4
            canvas.line([(x, y), (x, y + way * tall)])
        canvas.line([(0, y), (length, y)])
        canvas.text(length + 2.0, y + way * LETTER_MM * 0.45, words, bold=True)
    # Half a line's width to the left, so that the first mark is not cut in two.
    width, height = BAR_INCH_MM + 14.0, 10.4
    return canvas.svg(-0.2, -3.2, width, height), width, height
