"""Drawings of a bowl laid out in half a log: the end of the log, and the curve of the rim.

This module owns what the two show and say. It leaves the numbers to the sheet; the bowl's own
profile is drawn elsewhere, and stands here as a phantom between its rim and the sawn face.
"""

from __future__ import annotations

import math

from handouts_build.figures.canvas import Canvas, around
from handouts_build.figures.dimensioning import block, horizontal, vertical
from handouts_build.figures.drawing import Numbers, Scale, finished, noted
from handouts_build.figures.figure import Figure
from handouts_build.figures.style import CENTER, CUT, EDGE, HIDDEN, OUTLINE, PHANTOM, both
from handouts_build.language import tr
from handouts_build.sheet import Group

__all__ = ["end_view", "rim"]

_ACROSS_MM = 51.0
_CURVE_MM, _TALL_MM = 74.0, 32.0
_FOOT = 0.3
"""Of the bowl's width, where it stands in the phantom."""
_STEPS = 96


def end_view(group: Group) -> Figure:
    """The end of the log: saw line, pith, the wood that is left, and the bowl in it."""
    known = Numbers(group)
    scale = Scale.fitting((known.mm("diameter"), _ACROSS_MM))
    radius, face = known.mm("diameter") / 2 * scale, known.mm("face") * scale
    reach, saddle = known.mm("across") / 2 * scale, known.mm("saddle") * scale
    other, pith = face - known.mm("kerf") * scale, known.mm("pith_off") * scale
    half, low = known.mm("face_wide") / 2 * scale, face + saddle
    canvas = Canvas(f"{group.name}-end")

    canvas.circle((0, 0), radius, HIDDEN)
    begins = math.degrees(math.atan2(face, half))
    canvas.face(around((0, 0), radius, begins, 180 - begins), pen=OUTLINE)
    if known.more_than_nought("kerf"):
        edge = math.sqrt(max(0.0, radius**2 - other**2))
        canvas.line([(-edge, other), (edge, other)], EDGE)
    canvas.line([(0, -radius * 0.32), (0, radius + 4.0)], CENTER)
    canvas.line([(-3.0, pith), (3.0, pith)], CENTER)
    canvas.circle((0, pith), 1.0, EDGE)
    bowl = _bowl(reach, low, face)
    canvas.line(bowl, CUT)
    ends = math.degrees(math.atan2(low, reach))
    canvas.line(around((0, 0), radius, ends, 180 - ends), CUT)

    horizontal(canvas, (-reach, low), (reach, low), y=radius + 8.0, printed=known["across"], name=tr("bowl"))
    horizontal(canvas, (-radius, 0), (radius, 0), y=-radius - 6.0, printed=known["diameter"], name=tr("log"))
    inner = reach * 0.86
    vertical(canvas, (inner, face), (reach, low), x=inner, printed=known["saddle"], name=tr("low side"), side="left")
    vertical(canvas, (0, face), (0, radius), x=-radius - 6.0, printed=known["height"], name=tr("wing"), side="left")
    block(canvas, (0, pith - 4.2), [tr("pith")])
    noted(
        canvas,
        tr("Saw line {saw_line} from the middle of the log", saw_line=both(known["saw_line"])),
        tr("The sawn face clears the pith by {pith_clear}", pith_clear=both(known["pith_clear"])),
        scale=scale,
    )
    alt = [
        tr(
            "The end of a log {diameter} across, sawn along a line {saw_line} from its middle.",
            diameter=known["diameter"],
            saw_line=known["saw_line"],
        ),
        tr(
            "{height} of wood is left above the sawn face, which is {face_wide} wide.",
            height=known["height"],
            face_wide=known["face_wide"],
        ),
        tr(
            "A bowl {across} across stands in it, its rim in the bark: {saddle} above the face "
            "at its two low sides, and {height} at the wings.",
            across=known["across"],
            saddle=known["saddle"],
            height=known["height"],
        ),
        tr("The sawn face clears the pith by {pith_clear}.", pith_clear=known["pith_clear"]),
        tr("The largest bowl that this log gives is {largest} across.", largest=known["largest"]),
    ]
    if "weight" in known:
        alt.append(tr("The half log weighs {weight} green.", weight=known["weight"]))
    if "start" in known:
        alt.append(tr("Started no faster than {start}.", start=known["start"]))
    return finished(canvas, group, "end", tr("{title}: the bowl in the end of the log", title=group.title), alt)


def _bowl(reach: float, low: float, face: float) -> list[tuple[float, float]]:
    """A phantom of the bowl: from its low rim down to the face in a quarter of an oval on each side."""
    foot = _FOOT * reach
    turns = [index / 24 * math.pi / 2 for index in range(25)]
    right = [(foot + (reach - foot) * math.cos(turn), low + (face - low) * math.sin(turn)) for turn in turns]
    return [*right, *((-x, y) for x, y in reversed(right))]


def rim(group: Group) -> Figure:
    """The rim unrolled: its height above the sawn face, once around."""
    known = Numbers(group)
    radius, reach, face = known.mm("diameter") / 2, known.mm("across") / 2, known.mm("face")
    scale = min(_TALL_MM / max(known.mm("height"), 1e-9), 1.0)
    canvas = Canvas(f"{group.name}-rim")

    def spot(degrees: float) -> tuple[float, float]:
        square = radius**2 - (reach * math.sin(math.radians(degrees))) ** 2
        return degrees / 360 * _CURVE_MM, (math.sqrt(max(0.0, square)) - face) * scale

    curve = [spot(360 * index / _STEPS) for index in range(_STEPS + 1)]
    canvas.face([(0, 0), *curve, (_CURVE_MM, 0)])
    canvas.line([(0, 0), (_CURVE_MM, 0)], OUTLINE)
    canvas.line(curve, CUT)
    for degrees in range(0, 361, 45):
        x, y = spot(degrees)
        if degrees not in (90, 180):
            canvas.line([(x, 0), (x, y)], EDGE if degrees % 90 else PHANTOM)
        block(canvas, (x, -3.4), [f"{degrees}°"], ground=None)
    for degrees, name, words in ((180, "height", tr("wing")), (90, "saddle", tr("low side"))):
        x, y = spot(degrees)
        vertical(canvas, (x, 0), (x, y), x=x, printed=known[name], name=words)
    block(canvas, (spot(270)[0], spot(270)[1] / 2), [tr("low side")])
    noted(
        canvas,
        tr("The rim once around, from the grain: its height above the sawn face."),
        tr("Halfway, at 45°, it is {halfway} high", halfway=both(known["halfway"])),
    )
    alt = [
        tr(
            "The rim unrolled, height against the angle from the grain: {height} at 0 and 180 "
            "degrees, {halfway} at 45 degrees and {saddle} at 90 and 270 degrees.",
            height=known["height"],
            halfway=known["halfway"],
            saddle=known["saddle"],
        ),
        tr("The wings stand {drop} above the low sides.", drop=known["drop"]),
    ]
    return finished(canvas, group, "rim", tr("{title}: the curve of the rim", title=group.title), alt)
