"""The drawing of flutes on the surface unrolled: three neighbors at most, their width, the land, and how far they lean.

This module owns what it shows and says. It leaves the numbers to the sheet.
"""

from __future__ import annotations

import math

from handouts_build.figures.canvas import Canvas, Point
from handouts_build.figures.dimensioning import horizontal, vertical
from handouts_build.figures.drawing import Numbers, Scale, finished, noted
from handouts_build.figures.figure import Figure
from handouts_build.figures.style import CENTER, CUT, OUTLINE, Role, both
from handouts_build.language import tr
from handouts_build.sheet import Group

__all__ = ["unrolled"]

_WIDE_MM, _TALL_MM = 44.0, 44.0
_MOST = 3
"""Flutes that are drawn; the others are like them."""


def unrolled(group: Group) -> Figure:
    """Some of the flutes: the axis runs across, the way around goes up."""
    known = Numbers(group)
    count = known.whole("count")
    drawn = min(count, _MOST)
    step = math.pi * known.mm("diameter") / count
    long_mm, aside_mm, wide_mm = known.mm("long"), known.mm("aside"), known.mm("wide")
    # Along the way around, a flute that leans is wider than square to itself.
    around = min(wide_mm * known.mm("way") / long_mm, step)
    scale = Scale.fitting((long_mm, _WIDE_MM), (step * drawn + aside_mm, _TALL_MM))
    across, up, half, rises = long_mm * scale, step * scale, around * scale / 2, aside_mm * scale
    canvas = Canvas(f"{group.name}-flutes")

    bottom, top = 0.0, up * drawn
    canvas.face([(0, bottom), (across, rises), (across, top + rises), (0, top)], pen=OUTLINE, fill=Role.WOOD)
    for flute in range(drawn):
        at = up * (flute + 0.5)
        edges: list[Point] = [(0, at - half), (across, at - half + rises), (across, at + half + rises), (0, at + half)]
        canvas.face(edges, pen=CUT)
        canvas.line([(0, at), (across, at + rises)], CENTER)

    opens, stays = known["wide"], known["land"]
    horizontal(canvas, (0, 0), (across, rises), y=-7.0, printed=known["long"], name=tr("length"))
    first = up / 2
    vertical(canvas, (0, first - half), (0, first + half), x=-5.0, printed=opens, name=tr("flute"), side="left")
    if drawn > 1 and known.more_than_nought("land"):
        low, high = (across, first + half + rises), (across, first + up - half + rises)
        vertical(canvas, low, high, x=across + 5.0, printed=stays, name=tr("land"), side="right")
    noted(
        canvas,
        tr("{drawn} of {count} on the surface unrolled.", drawn=drawn, count=count),
        *([tr("Each leans {steep}; sizes are square to it.", steep=known["steep"].lead)] if aside_mm else []),
        tr("From middle to middle, straight across: {chord}", chord=both(known["chord"])),
        scale=scale,
    )
    alt = [
        tr(
            "The surface unrolled: {drawn} of {count} flutes {long} long, each {wide} wide.",
            drawn=drawn,
            count=count,
            long=known["long"],
            wide=known["wide"],
        ),
        tr("From the middle of one to the middle of the next is {chord}, straight across.", chord=known["chord"]),
        tr("Over their floors the work is {floor} across.", floor=known["floor"]),
    ]
    if known.more_than_nought("land"):
        alt.append(tr("The land between two is {land} along the surface, square to them.", land=known["land"]))
    if aside_mm:
        alt.append(
            tr(
                "Each leans {steep} from the axis; its far end lies {aside} around.",
                steep=known["steep"].lead,
                aside=known["aside"],
            )
        )
    return finished(canvas, group, "flutes", tr("{title}: flutes on the surface unrolled", title=group.title), alt)
