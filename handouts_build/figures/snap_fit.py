"""The drawing of a snap fit: lid and box in section beside the bead, one side of the axis.

This module owns what it shows and says. Width and height of the bead are drawn to scales of their own, so that
a bead of some tenths of a millimeter is seen, and the drawing says so. It leaves the numbers to the sheet.
"""

from __future__ import annotations

import math

from handouts_build.figures.canvas import Canvas, Point
from handouts_build.figures.dimensioning import Callout, block, horizontal, torn
from handouts_build.figures.drawing import Numbers, finished, noted
from handouts_build.figures.figure import Figure
from handouts_build.figures.labels import hugging, label
from handouts_build.figures.style import DIMENSION, OUTLINE, Role
from handouts_build.language import tr
from handouts_build.sheet import Group

__all__ = ["section"]

_BEAD_WIDE_MM, _BEAD_HIGH_MM = 14.0, 6.0
"""Paper that a bead takes."""
_BESIDE_MM, _WOOD_MM = 7.0, 6.0
"""Wall on each side of the bead, and wood above and below."""
_STEPS = 24


def section(group: Group) -> Figure:
    """The lid's groove over the bead of the box, the mouth at the right; the axis lies far below."""
    known = Numbers(group)
    high = _BEAD_HIGH_MM / known.mm("stands")
    play, groove = known.mm("play") / 2 * high, known.mm("groove_deep") * high
    half, end = _BEAD_WIDE_MM / 2, _BEAD_WIDE_MM / 2 + _BESIDE_MM
    canvas = Canvas(f"{group.name}-section")
    # Nought is the spigot; the wall of the lid's hole stands a play above it.
    bead = [
        (-half * math.cos(math.pi * each / _STEPS), _BEAD_HIGH_MM * math.sin(math.pi * each / _STEPS))
        for each in range(_STEPS + 1)
    ]
    box: list[Point] = [(-end, 0.0), *bead, (end, 0.0)]
    wall = half + 1.0
    lid: list[Point] = [
        (-end, play), (-wall, play), (-wall, play + groove), (wall, play + groove), (wall, play), (end, play),
    ]  # fmt: skip
    top, low = play + max(groove, 0.0) + _WOOD_MM, -_WOOD_MM
    for edge, level, angle in ((lid, top, 45.0), (box, low, -45.0)):
        far = torn((-end, level), (end, level))
        body = [*edge, *reversed(far)]
        canvas.face(body)
        canvas.hatch(body, angle=angle, apart=2.2)
        canvas.line(far, DIMENSION)
        canvas.line(edge, OUTLINE)
    block(canvas, (0.0, play + max(groove, 0.0) + _WOOD_MM / 2), (tr("lid"),), ground=Role.WOOD)
    block(canvas, (0.0, 0.0), (tr("box"),), ground=Role.WOOD)
    horizontal(canvas, (-half, 0.0), (half, 0.0), y=low - 4.5, printed=known["wide"], name=tr("bead"))
    right = [
        Callout((end - 2.0, play), label(known["mouth"], tr("mouth"), before="Ø"), "arrow", top),
        Callout((end - 1.0, 0.0), label(known["spigot"], tr("spigot"), before="Ø"), "arrow", low - 2.0),
    ]
    left = [
        Callout((-half * 0.4, play + groove), label(known["groove"], tr("groove"), before="Ø"), "arrow", top),
        Callout((-half * 0.3, _BEAD_HIGH_MM * 0.95), label(known["bead"], tr("bead"), before="Ø"), "arrow", low - 2.0),
    ]
    hugging(canvas, right, clear=end + 2.0, side="right")
    hugging(canvas, left, clear=end + 2.0, side="left")
    noted(canvas, tr("Across the axis it is drawn far larger than along it."))
    alt = [
        tr(
            "A bead {wide} wide, {bead} over it, on a spigot of {spigot}.",
            wide=known["wide"],
            bead=known["bead"],
            spigot=known["spigot"],
        ),
        tr(
            "The lid's mouth is {mouth}: its rim widens by {over}, {stretch} percent, to pass.",
            mouth=known["mouth"],
            over=known["over"],
            stretch=known["stretch"],
        ),
        tr("It meets the bead at {entry}.", entry=known["entry"]),
        tr(
            "Its groove is {groove} across, {groove_deep} deep.",
            groove=known["groove"],
            groove_deep=known["groove_deep"],
        ),
    ]
    if "behind" in known:
        alt.append(tr("Behind the groove {behind} of the lid is left.", behind=known["behind"]))
    return finished(canvas, group, "section", tr("{title}: bead and groove in section", title=group.title), alt)
