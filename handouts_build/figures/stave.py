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
from handouts_build.language import tr
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
    vertical(canvas, (-foot, 0), (-top, tall), x=-top - 9.0, printed=known["long"], name=tr("along the face"))
    horizontal(canvas, (-foot, 0), (foot, 0), y=-6.0, printed=known["narrow_end"], name=tr("narrow end"))
    # From above: the outer face below, so that the tilt closes toward the inside.
    thick, tilt = known.mm("thick") * scale, math.radians(known.degrees("tilt"))
    base, run = tall + 17.0, thick * math.tan(tilt)
    section = [(-top, base), (top, base), (top - run, base + thick), (-top + run, base + thick)]
    canvas.face(section, pen=OUTLINE)
    canvas.hatch(section, apart=1.6)
    canvas.line([(top, base), (top, base + thick + 3.0)], EDGE)
    horizontal(canvas, (-top, base), (top, base), y=base - 8.0, printed=known["wide_end"], name=tr("wide end"))
    edge = ((top + foot) / 2, tall / 2)
    for target, y, words in (
        (
            (top - run / 2, base + thick / 2),
            base + thick / 2,
            tr("blade tilted {tilt}\non both edges", tilt=known["tilt"].lead),
        ),
        (edge, tall / 2, tr("taper {taper}\nfrom the center line", taper=known["taper"].lead)),
    ):
        leader(canvas, [(top + 8.0, y), (top + 5.0, y), target])
        block(canvas, (top + 8.8, y), words.splitlines(), align="left")
    noted(
        canvas,
        tr("Both ends are sawn at {slope}, so that the tube stands flat.", slope=known["slope"].lead),
        scale=scale,
    )
    alt = [
        tr("One of {pieces} staves, {long} long on its face.", pieces=known.whole("pieces"), long=known["long"]),
        tr(
            "It is {wide_end} wide at one end and {narrow_end} at the other.",
            wide_end=known["wide_end"],
            narrow_end=known["narrow_end"],
        ),
        tr(
            "Its edges taper {taper} from the center line, the blade tilted {tilt}.",
            taper=known["taper"].lead,
            tilt=known["tilt"].lead,
        ),
        tr("Its ends are sawn at {slope}.", slope=known["slope"].lead),
        tr("A board {board} wide gives all of them, laid head to tail.", board=known["board"]),
    ]
    if "base" in known:
        alt.append(tr("The floor of the groove for the base is {base} from flat to flat.", base=known["base"]))
    if "base_wide" in known:
        alt.append(
            tr(
                "The base is {base_wide} from flat to flat: it has {room} of room to swell.",
                base_wide=known["base_wide"],
                room=known["room"],
            )
        )
    return finished(canvas, group, "stave", tr("{title}: a stave", title=group.title), alt)
