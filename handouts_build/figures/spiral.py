"""The drawing of a spiral's grid: one pitch of the surface unrolled, with its lines, rings and strands.

This module owns what it shows and says. It leaves the numbers to the sheet.
"""

from __future__ import annotations

import math

from handouts_build.figures.canvas import Canvas
from handouts_build.figures.dimensioning import horizontal, vertical
from handouts_build.figures.drawing import Numbers, Scale, finished, noted
from handouts_build.figures.figure import Figure
from handouts_build.figures.style import CUT, EDGE, OUTLINE, both
from handouts_build.language import tr, tr_count
from handouts_build.sheet import Group

__all__ = ["grid"]

_WIDE_MM, _TALL_MM = 60.0, 54.0
_MOST = 36
"""Lines that can be told apart at this size; of more, every second, third … is drawn."""


def grid(group: Group) -> Figure:
    """One pitch of the surface: the axis runs across, the way around goes up, a strand is straight."""
    known = Numbers(group)
    pitch_mm, around_mm = known.mm("pitch"), math.pi * known.mm("diameter")
    scale = Scale.fitting((pitch_mm, _WIDE_MM), (around_mm, _TALL_MM))
    wide, tall = pitch_mm * scale, around_mm * scale
    lines, strands = known.whole("lines"), known.whole("strands")
    every = math.ceil(lines / _MOST)
    canvas = Canvas(f"{group.name}-grid")

    canvas.face([(0, 0), (wide, 0), (wide, tall), (0, tall)], pen=OUTLINE)
    drawn = range(every, lines, every)
    canvas.lines([[(0, tall * each / lines), (wide, tall * each / lines)] for each in drawn], EDGE)
    canvas.lines([[(wide * each / lines, 0), (wide * each / lines, tall)] for each in drawn], EDGE)
    for strand in range(strands):
        begins = tall * strand / strands
        # It leaves at the top where the surface was cut open, and comes in again at the bottom.
        leaves = wide * (1 - strand / strands)
        canvas.line([(0, begins), (leaves, tall)], CUT)
        if strand:
            canvas.line([(leaves, 0), (wide, begins)], CUT)

    horizontal(canvas, (0, 0), (wide, 0), y=-7.0, printed=known["pitch"], name=tr("pitch"))
    horizontal(canvas, (0, tall), (wide / lines, tall), y=tall + 5.0, printed=known["ring"], name=tr("ring to ring"))
    vertical(
        canvas,
        (wide, 0),
        (wide, tall / lines),
        x=wide + 5.0,
        printed=known["line"],
        name=tr("line to line"),
        side="right",
    )
    noted(
        canvas,
        tr("One pitch of the surface unrolled; a strand climbs at {angle}.", angle=known["angle"].lead),
        tr("From strand to strand, square to them: {across}", across=both(known["across"])),
        scale=scale,
    )
    alt = [
        tr(
            "One pitch of the surface unrolled: {pitch} along the axis, with {lines} lines "
            "{line} apart and rings {ring} apart.",
            pitch=known["pitch"],
            lines=lines,
            line=known["line"],
            ring=known["ring"],
        ),
        tr_count(
            "One strand crosses the grid from corner to corner at {angle}.",
            "{count} strands cross the grid from corner to corner at {angle}.",
            strands,
            angle=known["angle"].lead,
        ),
        tr(
            "From one strand to the next is {between} along the axis, and {across} square to them.",
            between=known["between"],
            across=known["across"],
        ),
    ]
    if every > 1:
        alt.append(tr("One line and one ring in {every} is drawn.", every=every))
    return finished(canvas, group, "grid", tr("{title}: the grid of the spiral", title=group.title), alt)
