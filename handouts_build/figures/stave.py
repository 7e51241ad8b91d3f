"""The drawing of a tapered stave: its face with the taper, its edge from the end with the tilt, the tube's slope.

This module owns what it shows and says. It leaves the numbers to the sheet.
"""

from __future__ import annotations

import math

from handouts_build.figures.canvas import Canvas
from handouts_build.figures.dimensioning import block, horizontal, leader, vertical
from handouts_build.figures.drawing import Numbers, Scale, finished, noted
from handouts_build.figures.figure import Figure
from handouts_build.figures.style import CENTER, EDGE, OUTLINE
from handouts_build.sheet import Group

__all__ = ["face"]

_TALL_MM, _WIDE_MM = 52.0, 30.0


def face(group: Group) -> Figure:
    """A stave's outer face, its wide end above, and its wide end from above.

    Args:
        group: Of the chapter of tapered staves.
    """
    known = Numbers(group)
    long, wide, narrow = (known.mm(name) for name in ("long", "wide_end", "narrow_end"))
    scale = Scale.fitting((long, _TALL_MM), (wide, _WIDE_MM))
    tall, top, foot = long * scale, wide / 2 * scale, narrow / 2 * scale
    canvas = Canvas(f"{group.name}-stave")
    canvas.face([(-foot, 0), (foot, 0), (top, tall), (-top, tall)], pen=OUTLINE)
    canvas.line([(0, -3.0), (0, tall + 3.0)], CENTER)
    vertical(canvas, (-foot, 0), (-top, tall), x=-top - 9.0, printed=known["long"], name="along the face")
    horizontal(canvas, (-foot, 0), (foot, 0), y=-6.0, printed=known["narrow_end"], name="narrow end")
    # From above: the outer face below, so that the tilt closes toward the inside.
    thick, tilt = known.mm("thick") * scale, math.radians(known.degrees("tilt"))
    base, run = tall + 17.0, thick * math.tan(tilt)
    section = [(-top, base), (top, base), (top - run, base + thick), (-top + run, base + thick)]
    canvas.face(section, pen=OUTLINE)
    canvas.hatch(section, apart=1.6)
    canvas.line([(top, base), (top, base + thick + 3.0)], EDGE)
    horizontal(canvas, (-top, base), (top, base), y=base - 8.0, printed=known["wide_end"], name="wide end")
    edge = ((top + foot) / 2, tall / 2)
    for target, y, words in (
        ((top - run / 2, base + thick / 2), base + thick / 2, (f"blade tilted {known['tilt'].lead}", "on both edges")),
        (edge, tall / 2, (f"taper {known['taper'].lead}", "from the center line")),
    ):
        leader(canvas, [(top + 8.0, y), (top + 5.0, y), target])
        block(canvas, (top + 8.8, y), words, align="left")
    noted(canvas, f"Both ends are sawn at {known['slope'].lead}, so that the tube stands flat.", scale=scale)
    alt = [
        f"One of {known.whole('pieces')} staves, {known['long']} long on its face.",
        f"It is {known['wide_end']} wide at one end and {known['narrow_end']} at the other.",
        f"Its edges taper {known['taper'].lead} from the center line, the blade tilted {known['tilt'].lead}.",
        f"Its ends are sawn at {known['slope'].lead}.",
        f"A board {known['board']} wide gives all of them, laid head to tail.",
    ]  # fmt: skip
    if "base" in known:
        alt.append(f"The floor of the groove for the base is {known['base']} from flat to flat.")
    if "base_wide" in known:
        alt.append(f"The base is {known['base_wide']} from flat to flat: it has {known['room']} of room to swell.")
    return finished(canvas, group, "stave", f"{group.title}: a stave", alt)
