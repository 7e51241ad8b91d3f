"""The drawing of a turned part from the side, with its diameters and lengths.

This module owns which stations and lengths are told and how they find room. It
leaves the outline and the stations to the sheet.
"""

from __future__ import annotations

import bisect
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from handouts_build.figures.canvas import Canvas, Point, covers
from handouts_build.figures.dimensioning import (
    GAP_MM,
    OVER_MM,
    arrows_between,
    block,
    horizontal,
    leader,
    spread,
    tall,
    wide,
)
from handouts_build.figures.drawing import Numbers, Scale, adding_up, finished, mm, noted
from handouts_build.figures.figure import Figure
from handouts_build.figures.labels import HALF_MM
from handouts_build.figures.style import (
    ARROW_MM,
    CENTER,
    DIMENSION,
    EDGE,
    NOTE_PT,
    OUTLINE,
    Role,
    both,
    lettered,
)
from handouts_build.language import listed, tr
from handouts_build.quantities import Printed, Rule, print_quantity
from handouts_build.sheet import Group, Shape, Station

__all__ = ["side_view"]

_LONG_MM, _HIGH_MM, _HIGH_OF_FLAT_MM = 100.0, 40.0, 57.0
"""Most paper that the part itself takes, along and across; the last where it is far wider than long."""

_BETWEEN_MM = 1.3
"""Least room between labels in a row."""


@dataclass(frozen=True)
class _Label:
    """Something told at a place along the axis."""

    target: Point
    lines: tuple[str, ...]
    one_line: str
    keep: bool = True
    """Whether it stays when there is no room for all."""


def side_view(group: Group, rule: Rule) -> Figure:
    """The part from the side, its first end at the left.

    Args:
        group: A profile.
        rule: Marks that the elements' lengths are rounded to.
    """
    assert group.shape is not None
    shape = group.shape
    length, widest = shape.points_mm[-1][0], 2 * max(r for _, r in shape.points_mm)
    scale = Scale.fitting((length, _LONG_MM), (widest, _HIGH_MM if length >= 0.6 * widest else _HIGH_OF_FLAT_MM))
    outline = _thinned([(x * scale, r * scale) for x, r in shape.points_mm])
    long, high = length * scale, widest / 2 * scale
    canvas = Canvas(f"{group.name}-profile")

    canvas.face([*outline, *((x, -r) for x, r in reversed(outline))], pen=OUTLINE)
    for x, radius in _edges(outline):
        canvas.line([(x, -radius), (x, radius)], EDGE)
    canvas.line([(-4.0, 0), (long + 4.0, 0)], CENTER)

    whole = _length(group, shape, rule)
    values = adding_up([segment.printed for segment in shape.segments], whole, rule.lead)
    lengths = list(zip(shape.segments, values, strict=True))
    units = f"{rule.lead} ({'mm' if rule.lead == 'in' else 'in'})"
    _row(
        canvas,
        _diameters(shape, outline, scale),
        long=long,
        level=high + 6.5,
        upward=True,
        header=tr("diameters, {units}", units=units),
    )
    spans = [(mm(segment.start) * scale, mm(segment.end) * scale) for segment, _ in lengths]
    chain = -high - 5.0
    _chain(canvas, spans, outline, chain)
    below = [
        _Label(((left + right) / 2, chain), _bare(printed), _bare_line(printed), right - left > long / 30)
        for (left, right), (_, printed) in zip(spans, lengths, strict=True)
    ]
    named = [
        replace(label, lines=(*label.lines, segment.says)) if covers(segment.says) else label
        for label, (segment, _) in zip(below, lengths, strict=True)
    ]
    room = _room_of(named, long)
    if room is not None and all(len(segment.says) <= 24 for segment, _ in lengths):
        below = named
    low = _row(canvas, below, long=long, level=chain - 4.0, upward=False, header=tr("lengths, {units}", units=units))
    notes = []
    if _room_of(below, long) is not None:
        left, right = (0.0, chain - OVER_MM + GAP_MM), (long, chain - OVER_MM + GAP_MM)
        horizontal(canvas, left, right, y=low - 3.6, printed=whole, name=tr("in all"))
    else:
        notes.append(tr("Length in all {whole}", whole=both(whole)))
    noted(canvas, *notes, scale=scale)
    return finished(canvas, group, "profile", tr("{title}: side view", title=group.title), _alt(group, shape, rule))


def _length(group: Group, shape: Shape, rule: Rule) -> Printed:
    """The whole length as the sheet prints it."""
    return group.printed.get("length") or print_quantity(shape.segments[-1].end, rule)


def _thinned(points: list[Point], near: float = 0.008) -> list[Point]:
    """The outline with no more points than it needs to look the same.

    Args:
        points: In mm of paper.
        near: How far the outline may move, in mm.
    """
    kept = {0, len(points) - 1}
    waiting = [(0, len(points) - 1)]
    while waiting:
        first, last = waiting.pop()
        (x0, y0), (x1, y1) = points[first], points[last]
        span = math.hypot(x1 - x0, y1 - y0) or 1.0
        off = [
            (abs((x - x0) * (y1 - y0) - (y - y0) * (x1 - x0)) / span, first + 1 + each)
            for each, (x, y) in enumerate(points[first + 1 : last])
        ]
        if off and max(off)[0] > near:
            middle = max(off)[1]
            kept.add(middle)
            waiting += [(first, middle), (middle, last)]
    return [points[index] for index in sorted(kept)]


def _edges(outline: Sequence[Point]) -> list[Point]:
    """Places within the part where the outline breaks, so that an edge is seen around it."""
    found: dict[float, float] = {}
    for before, here, after in zip(outline, outline[1:], outline[2:], strict=False):
        turn = math.atan2(after[1] - here[1], after[0] - here[0]) - math.atan2(here[1] - before[1], here[0] - before[0])
        if abs(turn) > math.radians(14):
            x = round(here[0], 3)
            found[x] = max(found.get(x, 0.0), here[1])
    end = outline[-1][0]
    return [(x, radius) for x, radius in found.items() if 0.01 < x < end - 0.01]


def _radius_at(outline: Sequence[Point], x: float) -> float:
    """Radius of the outline at a place along it."""
    places = [place for place, _ in outline]
    after = min(max(bisect.bisect_right(places, x), 1), len(outline) - 1)
    (x0, r0), (x1, r1) = outline[after - 1], outline[after]
    return r0 if x1 <= x0 else r0 + (r1 - r0) * min(1.0, max(0.0, (x - x0) / (x1 - x0)))


def _diameters(shape: Shape, outline: Sequence[Point], scale: Scale) -> list[_Label]:
    """The stations to tell, from the left; those that say nothing new are left out."""
    kept: list[tuple[Station, float]] = []
    for station in shape.stations:
        if station.printed.rounded.magnitude <= 0:
            continue
        place = mm(station.at) * scale
        if station.edge == "ends" and kept:
            begun = (station.element, "starts")
            start = next((index for index, (each, _) in enumerate(kept) if (each.element, each.edge) == begun), None)
            if start is not None and kept[start][0].printed == station.printed:
                # The same at both ends. Where nothing lies between, it is told once, in the middle.
                if start == len(kept) - 1:
                    kept[start] = (kept[start][0], (kept[start][1] + place) / 2)
                continue
        kept.append((station, place))
    places = [place for _, place in kept]
    labels = []
    for index, (station, place) in enumerate(kept):
        # Of two at one place, each is told a little way into its own element.
        shift = 0.7 if index and abs(places[index - 1] - place) < 0.8 else 0.0
        if index + 1 < len(kept) and abs(places[index + 1] - place) < 0.8:
            shift -= 0.7
        x = min(max(place + shift, 0.0), outline[-1][0])
        turning = not station.edge or index in (0, len(kept) - 1)
        labels.append(_Label((x, _radius_at(outline, x)), _bare(station.printed), _bare_line(station.printed), turning))
    return labels


def _bare(printed: Printed) -> tuple[str, ...]:
    """The two numbers without their units, which the row's header says once."""
    lead, other = (lettered(text.rpartition("\u00a0")[0]) for text in (printed.lead, printed.other))
    return (*((lead,) if lead else ()), *((f"({other})",) if other else ())) or ("",)


def _bare_line(printed: Printed) -> str:
    return " ".join(_bare(printed))


def _room_of(labels: Sequence[_Label], long: float) -> tuple[float, float] | None:
    """The part's own length, if the labels fit within it, for a row that its end lines pass."""
    need = sum(wide(label.lines) + _BETWEEN_MM for label in labels)
    turned = len(labels) * (tall(("",)) + 0.6)
    return (0.9, long - 0.9) if min(need, turned if long >= 60 else need) <= long - 1.8 else None


def _row(canvas: Canvas, labels: Sequence[_Label], *, long: float, level: float, upward: bool, header: str) -> float:
    """A row of labels, each with a leader to its target; gives the row's far edge.

    Args:
        canvas: To draw on.
        labels: From the left.
        long: Length of the part on paper, in mm.
        level: Edge of the row that faces the part.
        upward: Whether the row stands above the part.
        header: What the row tells, and in which units.
    """
    way = 1 if upward else -1
    bounds = (0.9, long - 0.9)
    if upward or _room_of(labels, long) is None:
        bounds = (min(-3.0, long / 2 - HALF_MM), max(long + 3.0, long / 2 + HALF_MM))
    sizes = [wide(label.lines) for label in labels]
    turned = sum(sizes) + _BETWEEN_MM * (len(sizes) - 1) > bounds[1] - bounds[0]
    if turned:
        pitch = tall(("",))
        most = int((bounds[1] - bounds[0]) / (pitch + 0.6))
        labels = _fewer(labels, most)
        sizes = [pitch] * len(labels)
    gap = 0.6 if turned else _BETWEEN_MM
    middles = spread([label.target[0] for label in labels], sizes, gap=gap, within=bounds)
    deep = max((wide((label.one_line,)) if turned else tall(label.lines) for label in labels), default=0.0)
    knee = level - way * 3.0
    for label, x in zip(labels, middles, strict=True):
        if turned:
            canvas.text((x, level + (0 if upward else -deep)), label.one_line, align="left", turned=True)
        else:
            high = tall(label.lines)
            block(canvas, (x, level + way * high / 2), label.lines, ground=None)
        leader(canvas, [(x, level - way * 0.5), (label.target[0], knee), label.target], end="dot" if upward else "none")
    edge = level + way * deep
    if not labels:
        return edge
    # Beyond the row, so that the drawing is no wider than its labels; below, clear of the whole length's end line.
    start = min(middles[0] - sizes[0] / 2, 0.0) if upward else 1.4
    if not upward and wide((header,), NOTE_PT) > long - 2.8:
        start = long + 1.4
    room = block(
        canvas,
        (start, edge + way * (0.8 + tall((header,), NOTE_PT) / 2)),
        (header,),
        align="left",
        size_pt=NOTE_PT,
        ground=None,
        role=Role.FAINT,
    )
    return room.top if upward else room.bottom


def _fewer(labels: Sequence[_Label], most: int) -> list[_Label]:
    """No more labels than there is room for: those to keep, then the rest from the left."""
    if len(labels) <= most:
        return list(labels)
    order = sorted(range(len(labels)), key=lambda index: (not labels[index].keep, index))[: max(0, most)]
    return [labels[index] for index in sorted(order)]


def _chain(canvas: Canvas, spans: Sequence[tuple[float, float]], outline: Sequence[Point], level: float) -> None:
    """The elements' lengths as a chain of dimension lines below the part."""
    places = [spans[0][0], *(right for _, right in spans)]
    for place in places:
        under = -max(_radius_at(outline, place - 0.01), _radius_at(outline, place + 0.01))
        canvas.line([(place, under - 0.9), (place, level - OVER_MM)], DIMENSION)
    roomy = [right - left >= 2 * ARROW_MM + 1.0 for left, right in spans]
    for (left, right), room in zip(spans, roomy, strict=True):
        if room:
            arrows_between(canvas, (left, level), (right, level))
        else:
            # A dot stands for the arrowheads where the lengths are too short for them.
            canvas.line([(left, level), (right, level)], DIMENSION)
            for x in (left, right):
                canvas.circle((x, level), 0.45, None, fill=Role.INK)


def _alt(group: Group, shape: Shape, rule: Rule) -> list[str]:
    """What is seen, element by element, then the diameters."""
    known = Numbers(group)
    whole = _length(group, shape, rule)
    size = [tr("{whole} long", whole=whole)]
    if "widest" in known:
        size.append(tr("{widest} across at its widest", widest=known["widest"]))
    if "neck" in known:
        size.append(tr("{neck} at its thinnest", neck=known["neck"]))
    lengths = adding_up([segment.printed for segment in shape.segments], whole, rule.lead)
    parts = [
        f"{segment.says or tr(segment.kind)} {long}".strip()
        for segment, long in zip(shape.segments, lengths, strict=True)
    ]
    phrases = [
        f"{station.what}, {station.printed}" for station in shape.stations if station.printed.rounded.magnitude > 0
    ]
    return [
        tr("Seen from the side, axis level: a part {size}.", size=listed(size)),
        tr("Lengths from its first end: {parts}.", parts=listed(parts)),
        tr("Diameters: {told}.", told=listed(phrases)) if phrases else "",
    ]
