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

    horizontal(canvas, (0, 0), (wide, 0), y=-7.0, printed=known["pitch"], name="pitch")
    horizontal(canvas, (0, tall), (wide / lines, tall), y=tall + 5.0, printed=known["ring"], name="ring to ring")
    vertical(
        canvas, (wide, 0), (wide, tall / lines), x=wide + 5.0, printed=known["line"], name="line to line", side="right"
    )
    noted(
        canvas,
        f"One pitch of the surface unrolled; a strand climbs at {known['angle'].lead}.",
        f"From strand to strand, square to them: {both(known['across'])}",
        scale=scale,
    )
    alt = [
        (
            f"One pitch of the surface unrolled: {known['pitch']} along the axis, with {lines} lines {known['line']}"
            f" apart and rings {known['ring']} apart."
        ),
        f"{_strands(strands)} the grid from corner to corner at {known['angle'].lead}.",
        f"From one strand to the next is {known['between']} along the axis, and {known['across']} square to them.",
    ]
    if every > 1:
        alt.append(f"One line and one ring in {every} is drawn.")
    return finished(canvas, group, "grid", f"{group.title}: the grid of the spiral", alt)


def _strands(count: int) -> str:
    return f"{count} strands cross" if count > 1 else "One strand crosses"
