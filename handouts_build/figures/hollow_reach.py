"""The drawing of a bar in a hollow form: mouth, widest place and depth, the rest, and how far the tip reaches.

This module owns what it shows and says. It leaves the numbers to the sheet.
"""

from __future__ import annotations

import math

from handouts_build.figures.canvas import Canvas, Point
from handouts_build.figures.dimensioning import block, horizontal, leader, vertical
from handouts_build.figures.drawing import Numbers, Scale, finished, noted
from handouts_build.figures.figure import Figure
from handouts_build.figures.labels import label
from handouts_build.figures.style import CENTER, CUT, HIDDEN, OUTLINE
from handouts_build.language import tr
from handouts_build.sheet import Group

__all__ = ["bar"]

_WIDE_MM, _TALL_MM = 40.0, 46.0
_STEPS = 24


def bar(group: Group) -> Figure:
    """The inside cut through its axis, the mouth at the right, and the tool at its widest place."""
    known = Numbers(group)
    deep, rest, thick = known.mm("deep"), known.mm("rest"), known.mm("bar")
    mouth, inside, reach = known.mm("mouth") / 2, known.mm("inside") / 2, known.mm("reach")
    tail = max(0.2 * deep, thick)
    scale = Scale.fitting((deep + rest + tail, _WIDE_MM), (2 * max(inside, mouth), _TALL_MM))
    canvas = Canvas(f"{group.name}-bar")

    half = [(place * scale, out * scale) for place, out in _inside(deep, mouth, inside)]
    canvas.line([*half, *((place, -out) for place, out in reversed(half))], OUTLINE)
    canvas.line([(-deep * scale - 2.0, 0), ((rest + tail) * scale, 0)], CENTER)
    canvas.line([(0, mouth * scale), (0, -mouth * scale)], HIDDEN)
    # The bar lies against the rim of the mouth on the side that it cuts.
    middle, half_bar, at = mouth - thick / 2, thick / 2, -deep / 2
    shank = [
        (rest + tail, middle - half_bar), (at - half_bar, middle - half_bar),
        (at - half_bar, middle + reach - thick / 4),
        (at, middle + reach), (at + half_bar / 2, middle + half_bar), (rest + tail, middle + half_bar),
    ]  # fmt: skip
    canvas.face([(x * scale, y * scale) for x, y in shank], pen=CUT)
    # The rest, under the bar.
    low = (middle - half_bar) * scale
    canvas.face([(rest * scale - 1.6, low), (rest * scale + 1.6, low), (rest * scale + 1.6, low - 6.0),
                 (rest * scale - 1.6, low - 6.0)], pen=OUTLINE)  # fmt: skip

    under = -max(inside, mouth) * scale - 5.0
    horizontal(canvas, (-deep * scale, 0), (0, -mouth * scale), y=under, printed=known["deep"], name=tr("deep"))
    horizontal(canvas, (-deep * scale, 0), (rest * scale, low - 6.0), y=under - 9.0, printed=known["overhang"],
               name=tr("overhang"))  # fmt: skip
    vertical(canvas, (-deep / 2 * scale, -inside * scale), (-deep / 2 * scale, inside * scale), x=-deep * scale - 4.0,
             printed=known["inside"], name=tr("widest"), before="Ø", side="left")  # fmt: skip
    beside = (rest + tail) * scale + 3.0
    lines, at_y = label(known["mouth"], tr("mouth"), before="Ø"), -max(inside, mouth) * scale * 0.8
    leader(canvas, [(beside + 1.0, at_y), (beside - 1.0, at_y), (0, -mouth * scale)])
    block(canvas, (beside + 1.6, at_y), lines, align="left")
    vertical(canvas, ((rest + tail) * scale, middle * scale), (at * scale, (middle + reach) * scale), x=beside,
             printed=known["reach"], name=tr("reach"), side="right")  # fmt: skip
    noted(canvas, tr("The curve of the inside is free; mouth,\nwidest place and depth are to scale."), scale=scale)
    alt = [
        tr(
            "The inside of a hollow form, {deep} deep, mouth {mouth}, widest {inside}.",
            deep=known["deep"],
            mouth=known["mouth"],
            inside=known["inside"],
        ),
        tr(
            "A bar {bar} thick lies against the mouth's rim; its tip reaches {reach} from its middle.",
            bar=known["bar"],
            reach=known["reach"],
        ),
        tr("Tip and bar together are {tool_wide} wide.", tool_wide=known["tool_wide"]),
        tr("At the bottom the bar stands {overhang} over the rest.", overhang=known["overhang"]),
    ]
    return finished(canvas, group, "bar", tr("{title}: the bar in the mouth", title=group.title), alt)


def _inside(deep: float, mouth: float, widest: float) -> list[Point]:
    """Half of a free curve from the rim over the widest place, halfway down, to the middle of the bottom."""
    upper = [
        (-deep / 2 * each / _STEPS, mouth + (widest - mouth) * math.sin(math.pi / 2 * each / _STEPS))
        for each in range(_STEPS + 1)
    ]
    lower = [
        (-deep / 2 * (1 + math.sin(math.pi / 2 * each / _STEPS)), widest * math.cos(math.pi / 2 * each / _STEPS))
        for each in range(1, _STEPS + 1)
    ]
    return upper + lower
