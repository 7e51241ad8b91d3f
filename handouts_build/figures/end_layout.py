"""The drawing of what is laid out on an end: centers off the axis, and holes around it, each with its number.

This module owns what it shows and says. Places and numbers come from the sheet.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from handouts_build.figures.canvas import Canvas, Point, along, width_of
from handouts_build.figures.dimensioning import Callout, angle_between, arrows_between, block
from handouts_build.figures.drawing import Scale, noted
from handouts_build.figures.figure import Figure
from handouts_build.figures.labels import DISC_MM, hugging, label
from handouts_build.figures.style import CENTER, CUT, HIDDEN, MARK, NOTE_PT, OUTLINE, Pen, Role
from handouts_build.language import listed, tr, tr_later
from handouts_build.sheet.layouts import EndLayout, LaidOut, LayoutHole

__all__ = ["end_layout"]

_CROSS_MM = 1.7
_SEEN_FROM = tr_later("Seen from the tailstock's end. On the other end the numbers run the other way around.")
_HOLES_FROM = tr_later("Seen from the tailstock's end.")
_PRICK = Pen(1.0, Role.ACCENT)


def end_layout(layout: EndLayout) -> Figure:
    """The end with its centers or holes.

    Args:
        layout: What is laid out.
    """
    scale = Scale.fitting((_reach(layout) * 2, DISC_MM))
    canvas = Canvas(layout.name)
    half = layout.across_mm / 2 * scale
    if layout.corners:
        canvas.face([(x * scale, y * scale) for x, y in layout.corners], pen=OUTLINE)
    else:
        canvas.circle((0, 0), half, OUTLINE, fill=Role.WOOD)
    reach = _reach(layout) * scale
    for end in ((reach + 2.5, 0.0), (0.0, reach + 2.5)):
        canvas.line([(-end[0], -end[1]), end], CENTER)
    if layout.circle_mm:
        canvas.circle((0, 0), layout.circle_mm / 2 * scale, MARK)
    if layout.bore_mm:
        canvas.circle((0, 0), layout.bore_mm / 2 * scale, HIDDEN)
    several = sum(len(ring.holes) for ring in layout.rings) > 1
    numbers = _numbers(layout)
    placed = [
        (_hole(canvas, hole, scale, layout.bore_mm / 2 * scale), str(numbers[hole]))
        for ring in layout.rings
        for hole in ring.holes
    ]
    if layout.circle_mm:
        right = _off_axis(canvas, layout.rings[0], scale)
    else:
        few = len(layout.rings) == 1
        right = [_callout(ring, index, scale, numbers, reach, few=few) for index, ring in enumerate(layout.rings)]
    corner = (-half, half * 0.6) if layout.corners else (-half * math.cos(0.9), half * math.sin(0.9))
    before, word = ("", tr("side")) if layout.corners else ("Ø", tr("across"))
    left = [Callout(corner, label(layout.across, word, before=before), "arrow", half * 0.8)]
    clear = reach + 5.0
    hugging(canvas, right, clear=clear, side="right", half=clear + 20.0)
    hugging(canvas, left, clear=clear, side="left", half=clear + 14.0)
    # Last, each with its gap, so that leaders are broken by them.
    if several:
        for at, number in placed:
            block(canvas, at, [number], size_pt=NOTE_PT, ground=Role.WOOD if math.hypot(*at) < half else Role.PAPER)
    note = tr(_SEEN_FROM if layout.circle_mm else _HOLES_FROM)
    noted(canvas, *_wrapped(note, 2 * reach + 40.0), scale=scale)
    svg, width, height = canvas.svg()
    alt = f"{_alt(layout)} {note}"
    return Figure(layout.name, layout.name, layout.title, svg, alt, round(width, 2), round(height, 2))


def _reach(layout: EndLayout) -> float:
    """How far the drawing reaches from the true center, in mm of wood."""
    return max([layout.across_mm / 2, *(math.hypot(*corner) for corner in layout.corners)])


def _numbers(layout: EndLayout) -> dict[LayoutHole, int]:
    """Centers are numbered as they are used; holes in one row around, whatever ring they are of."""
    holes = [hole for ring in layout.rings for hole in ring.holes]
    if not layout.circle_mm:
        holes.sort(key=lambda hole: round(math.degrees(math.atan2(-hole.at[0], hole.at[1])), 3) % 360)
    return {hole: number for number, hole in enumerate(holes, start=1)}


def _off_axis(canvas: Canvas, ring: LaidOut, scale: Scale) -> list[Callout]:
    """Dimensions of centers: from the true one, from one to the next, and the angle between two."""
    marks = [(hole.at[0] * scale, hole.at[1] * scale) for hole in ring.holes]
    first, *others = ring.sizes
    # The last center stands at the right, next to the labels; the first is above.
    arrows_between(canvas, (0.0, 0.0), marks[-1])
    away = along(marks[-1], (0.0, 0.0), math.dist(marks[-1], (0.0, 0.0)) * 0.4)
    found = [Callout(away, label(first[2], *first[0]), "none", 2.0)]
    if others:
        arrows_between(canvas, marks[-2], marks[-1])
        chord = along(marks[-1], marks[-2], math.dist(marks[-1], marks[-2]) * 0.3)
        found.append(Callout(chord, label(others[0][2], *others[0][0]), "none", chord[1] - 9.0))
        start, stop = (math.degrees(math.atan2(y, x)) for x, y in (marks[-1], marks[0]))
        radius = math.dist(marks[0], (0.0, 0.0)) * 0.55
        middle = angle_between(canvas, (0.0, 0.0), radius, start, stop if stop > start else stop + 360.0)
        found.append(Callout(middle, label(others[1][2], *others[1][0]), "none", marks[0][1] + 6.0))
    return found


def _hole(canvas: Canvas, hole: LayoutHole, scale: Scale, bore: float) -> Point:
    """One center or hole; gives the place for its number."""
    at = hole.at[0] * scale, hole.at[1] * scale
    far = math.hypot(*at) or 1.0
    out = at[0] / far, at[1] / far
    if hole.deep_mm:
        radius = hole.wide_mm / 2 * scale
        aside = -out[1] * radius, out[0] * radius
        inner = along(at, (0.0, 0.0), min(hole.deep_mm * scale, far - bore))
        for way in (1, -1):
            canvas.line(
                [(end[0] + way * aside[0], end[1] + way * aside[1]) for end in (at, inner)],
                HIDDEN,
            )
        if hole.deep_mm * scale < far - bore:
            canvas.line([(inner[0] + way * aside[0], inner[1] + way * aside[1]) for way in (1, -1)], HIDDEN)
        canvas.line([along(at, (0.0, 0.0), -1.2), along(at, (0.0, 0.0), 1.2)], _PRICK)
        return along(at, (0.0, 0.0), -3.6)
    if hole.wide_mm:
        canvas.circle(at, hole.wide_mm / 2 * scale, CUT)
        return along(at, (0.0, 0.0), -(hole.wide_mm / 2 * scale + 2.6))
    canvas.line([(at[0] - _CROSS_MM, at[1]), (at[0] + _CROSS_MM, at[1])], _PRICK)
    canvas.line([(at[0], at[1] - _CROSS_MM), (at[0], at[1] + _CROSS_MM)], _PRICK)
    return along(at, (0.0, 0.0), -4.2)


def _callout(
    ring: LaidOut, index: int, scale: Scale, numbers: dict[LayoutHole, int], reach: float, *, few: bool
) -> Callout:
    """What is told of one ring, at one of its holes at the right."""
    lines: list[str] = []
    if not few:
        each = ", ".join(str(number) for number in sorted(numbers[hole] for hole in ring.holes))
        lines += [ring.name, *_wrapped(each, 19.0)]
    for words, before, printed in ring.sizes:
        lines += label(printed, *words, before=before)
    hole = max(ring.holes, key=lambda each: (each.at[0], each.at[1] * (1 if index == 0 else -1)))
    at = hole.at[0] * scale, hole.at[1] * scale
    target = along(at, (0.0, 0.0), 1.6) if hole.deep_mm else at
    end = "dot" if hole.deep_mm or not hole.wide_mm else "arrow"
    wish = 0.0 if few else reach * (0.7 - 1.4 * index)
    return Callout(target, tuple(lines), end, wish)


def _wrapped(text: str, room: float) -> list[str]:
    """A text in lines that fit a width, in mm."""
    lines: list[str] = []
    for word in text.split():
        if lines and width_of(f"{lines[-1]} {word}", NOTE_PT) <= room:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(word)
    return lines


def _alt(layout: EndLayout) -> str:
    """What is seen, with its numbers."""
    numbers = _numbers(layout)
    said = [tr("The end of the wood, {across} across.", across=layout.across)]
    for ring in layout.rings:
        phrases = [f"{' '.join(words)} {printed}" for words, _, printed in ring.sizes]
        each: Sequence[str] = [str(number) for number in sorted(numbers[hole] for hole in ring.holes)]
        name = tr("Centers") if layout.circle_mm else ring.name[:1].upper() + ring.name[1:]
        said.append(tr("{name} {numbers}: {told}.", name=name, numbers=listed(each), told=listed(phrases)))
    return " ".join(said)
