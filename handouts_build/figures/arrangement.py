"""The general arrangement: the finished piece from the side, one half opened, with its main dimensions.

This module owns how its dimensions find room: lengths on one side and everything else on
the others, in the order of their places, so that no line runs through lettering and no
two leaders cross; for paper, and once more for a narrow screen. What is dimensioned is for
the sheet to say.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from handouts_build.figures.canvas import Canvas, Point, width_of
from handouts_build.figures.dimensioning import GAP_MM, OVER_MM, arrows_between, block, leader, spread, tall, wide
from handouts_build.figures.drawing import Scale, adding_up
from handouts_build.figures.figure import ARRANGEMENT, Figure
from handouts_build.figures.style import (
    ARROW_MM,
    CENTER,
    DIMENSION,
    EDGE,
    LINE_STEP,
    MM_PER_POINT,
    OUTLINE,
    Role,
    lettered,
)
from handouts_build.language import listed, tr, tr_later
from handouts_build.quantities import Printed
from handouts_build.sheet import Sheet
from handouts_build.sheet.arrangement import Arrangement, AxialLength, InsideCallout, OutsideDiameter

__all__ = ["general_arrangement"]

_PT = 10.0
"""Lettering: its figures stand 2.5 mm high where the drawing is set at its own width."""
_HAIR = 0.03
"""As near the axis as this is on it, mm of wood."""
_BETWEEN_MM = 1.8
"""Least room between labels in a row or column."""
_STEP_MM = LINE_STEP * _PT * MM_PER_POINT


@dataclass(frozen=True)
class _LayoutRoom:
    """Most that is taken, in mm of paper."""

    wide: float
    """By the whole drawing, across."""
    lying: tuple[float, float]
    """By a lying piece, along and across."""
    standing: tuple[tuple[float, float], ...]
    """By a standing piece, across and up: the first of these at which the whole drawing keeps within its own."""
    rows: int
    """How many rows of labels may stand above a lying piece, and below it: one or two."""


_PAPER = _LayoutRoom(wide=166.0, lying=(140.0, 64.0), standing=((96.0, 72.0),), rows=1)
"""The text of a page."""
_PHONE = _LayoutRoom(
    wide=92.0,
    lying=(84.0, 64.0),
    standing=tuple((broad, 72.0) for broad in (64.0, 54.0, 46.0, 38.0, 32.0, 26.0)),
    rows=2,
)
"""A screen 390 px wide, on which its lettering comes to the size of the text about it: 1 mm to 3.78 px."""
_LEADER_MM = 2.4
"""Room that a leader takes between labels."""

_SEEN = {
    (True, True): tr_later("{title}, finished, from the side, its right half cut open along the axis."),
    (True, False): tr_later("{title}, finished, from the side."),
    (False, True): tr_later(
        "{title}, finished, from the side, lying, the headstock's end at the left, its upper half cut open along the "
        "axis."
    ),
    (False, False): tr_later("{title}, finished, from the side, lying, the headstock's end at the left."),
}
"""What is seen, by whether the piece stands and whether it is opened."""

_SIZES = {
    (True, True): tr_later("It is {whole} high overall and {largest} at its largest diameter."),
    (True, False): tr_later("It is {whole} high overall."),
    (False, True): tr_later("It is {whole} long overall and {largest} at its largest diameter."),
    (False, False): tr_later("It is {whole} long overall."),
}
"""How large it is, by whether it stands and whether it is round anywhere."""


def general_arrangement(sheet: Sheet) -> Figure | None:
    """The finished piece as a workshop drawing.

    Args:
        sheet: A project, worked out.

    Returns:
        The drawing; None where the piece is not carried as a solid.
    """
    arranged = sheet.whole.arrangement if sheet.whole is not None else None
    if arranged is None:
        return None
    chain = [each for each in arranged.lengths if not each.overall]
    whole = next(each for each in arranged.lengths if each.overall)
    if len(chain) > 1:
        values = adding_up([each.printed for each in chain], whole.printed, sheet.rule.lead)
        chain = [replace(each, printed=printed) for each, printed in zip(chain, values, strict=True)]
        arranged = replace(arranged, lengths=(*chain, whole))
    else:
        # A part as long as the whole is told once.
        arranged = replace(arranged, lengths=tuple(each for each in (*chain, whole) if not _twice(each, whole)))
    svg, width, height = _laid_out(sheet, arranged, _PAPER)
    narrow = _laid_out(sheet, arranged, _PHONE)[0] if width > _PHONE.wide else ""
    title = tr("{title}: general arrangement", title=sheet.title)
    return Figure(ARRANGEMENT, "", title, svg, _alt(sheet, arranged), round(width, 2), round(height, 2), narrow)


def _laid_out(sheet: Sheet, arranged: Arrangement, room: _LayoutRoom) -> tuple[str, float, float]:
    """The drawing in a room: its SVG, width and height in mm."""
    views = _upright_views(sheet, arranged, room) if arranged.up else [_LevelView(sheet, arranged, room)]
    for view in views:
        view.draw()
        if view.canvas.extent.right - view.canvas.extent.left <= room.wide:
            break
    return view.canvas.svg()


def _upright_views(sheet: Sheet, arranged: Arrangement, room: _LayoutRoom) -> Iterator[_View]:
    """The largest first; no two of one size."""
    scales = [_upright_scale(arranged, most) for most in room.standing]
    yield from (_UprightView(sheet, arranged, room, scale) for scale in dict.fromkeys(scales))


def _upright_scale(arranged: Arrangement, most: tuple[float, float]) -> Scale:
    """How large a standing piece is drawn that takes so much, across and up, in mm of paper."""
    (low, _), (high, _) = _span(arranged)
    return Scale.fitting((_across(arranged), most[0]), (high - low, most[1]))


def _twice(each: AxialLength, whole: AxialLength) -> bool:
    """Whether a length is the whole once more."""
    return each is not whole and each.printed == whole.printed


@dataclass(frozen=True)
class _PlacedLabel:
    """Something told at a point of the drawing."""

    target: Point
    lines: tuple[str, ...]
    weight: float
    """What is told first where there is no room for all."""
    end: str = "dot"


class _View:
    """What a lying and a standing piece have in common."""

    def __init__(self, sheet: Sheet, arranged: Arrangement, room: _LayoutRoom, scale: Scale) -> None:
        self.sheet, self.arranged, self.room, self.scale = sheet, arranged, room, scale
        self.lead = sheet.rule.lead
        self.canvas = Canvas(f"{sheet.name}-arrangement-{room.wide:g}")
        (self.low, _), (self.high, _) = _span(arranged)

    def at(self, place: Point) -> Point:
        """A place of the piece, in mm of paper."""
        raise NotImplementedError

    def draw(self) -> None:
        """All of it."""
        raise NotImplementedError

    def rings(self, lines: Sequence[Sequence[Point]]) -> list[list[Point]]:
        return [[self.at(point) for point in line] for line in lines]

    def wood(self) -> None:
        """The piece: wood, what is cut through, edges and outline."""
        canvas, arranged = self.canvas, self.arranged
        canvas.region(self.rings(arranged.outline))
        for number, part in enumerate(arranged.cut):
            if part:
                canvas.hatch_region(self.rings(part), angle=-45.0 if number % 2 else 45.0, apart=1.7)
        # Where the opened half begins there is the center line, and no edge.
        canvas.lines(self.rings([line for line in arranged.edges if any(abs(y) > _HAIR for _, y in line)]), EDGE)
        canvas.lines(self.rings([run for part in arranged.cut for ring in part for run in _off_axis(ring)]), OUTLINE)
        canvas.region(self.rings(arranged.outline), fill=None, pen=OUTLINE)
        canvas.line([self.at((self.low - 4.0 / self.scale, 0)), self.at((self.high + 4.0 / self.scale, 0))], CENTER)

    def notes(self) -> None:
        """Units, below all. It says no scale: pages and papers set it as large as there is room."""
        drawn = self.canvas.extent
        units = tr("Sizes in inches (millimeters)") if self.lead == "in" else tr("Sizes in millimeters (inches)")
        lines = _filled([*alike_words(self.sheet), units], self.room.wide)
        at = (drawn.left + drawn.right) / 2, drawn.bottom - 1.6 - tall(lines, _PT) / 2
        block(self.canvas, at, lines, size_pt=_PT, ground=None, role=Role.FAINT)

    def labels(self) -> list[_PlacedLabel]:
        """What is told of the inside and of what is left square, each thing once."""
        seen: set[tuple[str, ...]] = set()
        made = []
        side = -1 if self.arranged.lower else 1
        for callout in self.arranged.callouts:
            lines = _callout(callout)
            if lines in seen:
                continue
            seen.add(lines)
            target = self.at((callout.at[0], side * callout.at[1]))
            made.append(_PlacedLabel(target, lines, 1e6, "arrow" if callout.edge else "dot"))
        for square in self.arranged.squares:
            target = self.at((square.at[0], side * square.at[1]))
            made.append(_PlacedLabel(target, (tr("square"), *_bare(square.printed)), 1e7, "arrow"))
        return made

    def extent_line(self, start: Point, stop: Point) -> None:
        """An extension line, clear of the piece."""
        self.canvas.line([start, stop], DIMENSION)


class _LevelView(_View):
    """A piece with its axis level, the headstock at the left."""

    def __init__(self, sheet: Sheet, arranged: Arrangement, room: _LayoutRoom) -> None:
        (low, _), (high, _) = _span(arranged)
        across = _across(arranged)
        long, broad = room.lying
        super().__init__(sheet, arranged, room, Scale.fitting((high - low, long), (across, broad)))
        self.long = (self.high - self.low) * self.scale
        self.half = across / 2 * self.scale
        over = max(0.0, room.wide - self.long) / 2
        self.bounds = (-over, self.long + over)

    def at(self, place: Point) -> Point:
        return (place[0] - self.low) * self.scale, place[1] * self.scale

    def draw(self) -> None:
        self.wood()
        diameters = [
            _PlacedLabel(self.at(each.at), _diameter(each), 1e7 if each.largest else 2 * each.at[1])
            for each in self.arranged.diameters
        ]
        self._row([*diameters, *self.labels()])
        self._lengths()
        self.notes()

    def _row(self, labels: list[_PlacedLabel]) -> None:
        """Everything but lengths, above: in one row, or in two by turns where one has no room for all."""
        labels = sorted(labels, key=lambda label: (label.target[0], -label.target[1]))
        rows, labels = _rows_for(labels, self.bounds, self.room.rows)
        if not labels:
            return
        targets = _apart([label.target[0] for label in labels])
        level = self.half + 8.0
        sizes = [wide(label.lines, _PT) for label in labels]
        middles = _in_rows(targets, sizes, rows, self.bounds)
        lowest = max(tall(label.lines, _PT) for label in labels[::rows])
        for number, (label, x, target) in enumerate(zip(labels, middles, targets, strict=True)):
            foot = level + (lowest + _BETWEEN_MM if number % rows else 0.0)
            block(self.canvas, (x, foot + tall(label.lines, _PT) / 2), label.lines, size_pt=_PT, ground=None)
            knee = level - 5.0
            end = (target, label.target[1])
            down = [(x, foot - 0.6), *([(x, level - 0.6)] if number % rows else [])]
            leader(self.canvas, [*down, (target, knee), end], end=label.end)

    def _lengths(self) -> None:
        """A chain of lengths below, and the whole below that."""
        chain = [each for each in self.arranged.lengths if not each.overall]
        whole = next(each for each in self.arranged.lengths if each.overall)
        level = -self.half - 6.0
        if len(chain) > 1:
            level = self._chain(chain, level)
        self._one(whole, level - 1.0 - _STEP_MM)

    def _chain(self, chain: Sequence[AxialLength], level: float) -> float:
        """Lengths in a row; gives the lower edge of their lettering."""
        places = [self.at((each.start[0], -each.start[1])) for each in chain]
        places.append(self.at((chain[-1].end[0], -chain[-1].end[1])))
        # Of two radii at one place the extension line begins at the greater.
        for number, each in enumerate(chain[:-1]):
            reach = max(each.end[1], chain[number + 1].start[1])
            places[number + 1] = self.at((each.end[0], -reach))
        for x, y in places:
            self.extent_line((x, y - GAP_MM), (x, level - OVER_MM))
        labels = []
        for each, (left, _), (right, _) in zip(chain, places, places[1:], strict=False):
            if right - left >= 2 * ARROW_MM + 1.0:
                arrows_between(self.canvas, (left, level), (right, level))
            else:
                # A dot stands for the arrowheads where the length is too short for them.
                self.canvas.line([(left, level), (right, level)], DIMENSION)
                for x in (left, right):
                    self.canvas.circle((x, level), 0.45, None, fill=Role.INK)
            lines = (*((each.says,) if each.says else ()), *_bare(each.printed))
            labels.append(_PlacedLabel(((left + right) / 2, level), lines, right - left))
        inner = (1.2, self.long - 1.2)
        rows, labels = _rows_for(labels, inner, self.room.rows)
        sizes = [wide(label.lines, _PT) for label in labels]
        middles = _in_rows([label.target[0] for label in labels], sizes, rows, inner)
        top = level - 4.2
        highest = max((tall(label.lines, _PT) for label in labels[::rows]), default=0.0)
        low = top
        for number, (label, x) in enumerate(zip(labels, middles, strict=True)):
            head = top - (highest + _BETWEEN_MM if number % rows else 0.0)
            block(self.canvas, (x, head - tall(label.lines, _PT) / 2), label.lines, size_pt=_PT, ground=None)
            up = [(x, head + 0.6), *([(x, top + 0.6)] if number % rows else [])]
            leader(self.canvas, [*up, label.target], end="none")
            low = min(low, head - tall(label.lines, _PT))
        return low

    def _one(self, whole: AxialLength, level: float) -> None:
        left, right = self.at((whole.start[0], -whole.start[1])), self.at((whole.end[0], -whole.end[1]))
        for x, y in (left, right):
            self.extent_line((x, y - GAP_MM), (x, level - OVER_MM))
        arrows_between(self.canvas, (left[0], level), (right[0], level))
        text = f"{whole.says} {' '.join(_bare(whole.printed))}"
        block(self.canvas, ((left[0] + right[0]) / 2, level), [text], size_pt=_PT)


class _UprightView(_View):
    """A piece with its axis upright, the opened half at the right."""

    def __init__(self, sheet: Sheet, arranged: Arrangement, room: _LayoutRoom, scale: Scale) -> None:
        super().__init__(sheet, arranged, room, scale)
        self.half = _across(arranged) / 2 * self.scale
        self.top = (self.high - self.low) * self.scale
        self.corners = [point for ring in self.rings(arranged.outline) for point in ring]

    def at(self, place: Point) -> Point:
        along, across = (place[0] - self.low) * self.scale, place[1] * self.scale
        # Turned about, not mirrored: the opened half comes to lie at the right.
        return (-across, along) if self.arranged.up == "right" else (across, self.top - along)

    def draw(self) -> None:
        self.wood()
        inside = sorted(self.labels(), key=lambda label: label.target[1])
        sizes = [tall(label.lines, _PT) for label in inside]
        heights = spread([label.target[1] for label in inside], sizes, gap=_BETWEEN_MM)
        ends = [y + way * size / 2 for y, size in zip(heights, sizes, strict=True) for way in (-1, 1)]
        self._diameters((min(ends, default=0.0), max(ends, default=0.0)))
        self._column(inside, heights)
        self._heights()
        self.notes()

    def _diameters(self, column: tuple[float, float]) -> None:
        """Above and below, the smallest nearest.

        Args:
            column: Lower and upper end of what is told of the inside.
        """
        seen: set[str] = set()
        above: list[tuple[Point, OutsideDiameter]] = []
        below: list[tuple[Point, OutsideDiameter]] = []
        for each in self.arranged.diameters:
            if each.printed.lead in seen:
                continue
            here = self.at(each.at)
            up = here[1] >= self.top / 2
            # Where the piece is wider farther out, an extension line would run through it.
            if any(abs(x) > each.at[1] * self.scale + 0.1 and (y > here[1]) is up for x, y in self.corners):
                continue
            seen.add(each.printed.lead)
            (above if up else below).append((here, each))
        for rows, way, edge, end in ((above, 1, self.top, column[1]), (below, -1, 0.0, column[0])):
            level = edge + way * 5.0
            outer = max((abs(x) for (x, _), _ in rows), default=0.0)
            if (
                any(self._reach(*row, outer) > self._column_at - 4.0 for row in rows)
                and way * (end - level) > -_STEP_MM
            ):
                # What stands beside its line would stand in the column.
                level = end + way * _STEP_MM
            for here, each in sorted(rows, key=lambda row: row[1].at[1]):
                text = _in_a_line(each)
                radius = abs(here[0])
                for x in (-radius, radius):
                    self.extent_line((x, here[1] + way * GAP_MM), (x, level + way * OVER_MM))
                arrows_between(self.canvas, (-radius, level), (radius, level))
                if self._within(radius, text):
                    block(self.canvas, (0, level), [text], size_pt=_PT)
                else:
                    # Clear of the extension lines of those farther out.
                    if outer > radius:
                        self.canvas.line([(radius, level), (outer + 1.8, level)], DIMENSION)
                    block(self.canvas, (outer + 2.4, level), [text], size_pt=_PT, align="left")
                level += way * (_STEP_MM + 2.4)

    @staticmethod
    def _within(radius: float, text: str) -> bool:
        """Whether lettering finds room between the arrowheads of a diameter."""
        return width_of(text, _PT) <= 2 * radius - 2 * (ARROW_MM + 1.8)

    def _reach(self, here: Point, each: OutsideDiameter, outer: float) -> float:
        """How far to the right a diameter's line and lettering go, where the largest of its side goes to `outer`."""
        radius, text = abs(here[0]), _in_a_line(each)
        return radius if self._within(radius, text) else outer + 2.4 + width_of(text, _PT)

    @property
    def _column_at(self) -> float:
        """Where what is told of the inside begins."""
        return self.half + 9.0

    def _column(self, labels: Sequence[_PlacedLabel], heights: Sequence[float]) -> None:
        """What is told of the inside, at the right."""
        x = self._column_at
        for label, y in zip(labels, heights, strict=True):
            block(self.canvas, (x, y), label.lines, size_pt=_PT, align="left", ground=None)
            leader(self.canvas, [(x - 0.8, y), (x - 3.0, y), label.target], end=label.end)

    def _heights(self) -> None:
        """At the left: of the parts, then of the whole farther out."""
        parts = [each for each in self.arranged.lengths if not each.overall and each.says]
        whole = next(each for each in self.arranged.lengths if each.overall)
        x = -self.half - 5.0
        lined = [(each, (*((each.says,) if each.says else ()), *_bare(each.printed))) for each in parts]
        broad = max((wide(lines, _PT) for _, lines in lined), default=0.0)
        roomy = all(tall(lines, _PT) <= self._ends(each)[1][1] - self._ends(each)[0][1] - 7.0 for each, lines in lined)
        out = (broad + 3.0 if roomy else 4.8 + broad + 3.0) if lined else 0.0
        # First, for labels of the parts may stand in a gap of its extension lines.
        lines = (whole.says, *_bare(whole.printed))
        self._upright(whole, lines, x - out - wide(lines, _PT) / 2)
        if roomy:
            for each, own in lined:
                self._upright(each, own, x - broad / 2)
        else:
            self._crowded(lined, x)

    def _crowded(self, lined: Sequence[tuple[AxialLength, tuple[str, ...]]], x: float) -> None:
        """Heights in a column, of which one is too short for its lettering."""
        # All stand beside the line, in one order.
        rows = sorted(lined, key=lambda row: self._ends(row[0])[0][1])
        middles = [sum(y for _, y in self._ends(each)) / 2 for each, _ in rows]
        sizes = [tall(lines, _PT) for _, lines in rows]
        # Between the extension lines of the whole, where there is room.
        within = (1.6, self.top - 1.6) if sum(sizes) + _BETWEEN_MM * len(sizes) <= self.top - 3.2 else None
        heights = spread(middles, sizes, gap=_BETWEEN_MM, within=within)
        for each, _ in rows:
            self._upright(each, (), x)
        for (_, lines), middle, y in zip(rows, middles, heights, strict=True):
            leader(self.canvas, [(x - 4.2, y), (x, middle)], end="none")
            block(self.canvas, (x - 4.8, y), lines, size_pt=_PT, align="right")

    def _ends(self, each: AxialLength) -> list[Point]:
        """Both ends of a height, the lower first."""
        return sorted((self.at(each.start), self.at(each.end)), key=lambda end: end[1])

    def _upright(self, each: AxialLength, lines: tuple[str, ...], x: float) -> None:
        """One height, its lettering in a gap of its line."""
        ends = self._ends(each)
        for place, y in ends:
            self.extent_line((-abs(place) - GAP_MM, y), (x - OVER_MM, y))
        (_, low), (_, high) = ends
        if high - low >= 2 * ARROW_MM + 1.0:
            arrows_between(self.canvas, (x, low), (x, high))
        else:
            # A dot stands for the arrowheads where the height is too short for them.
            self.canvas.line([(x, low), (x, high)], DIMENSION)
            for y in (low, high):
                self.canvas.circle((x, y), 0.45, None, fill=Role.INK)
        if lines:
            block(self.canvas, (x, (low + high) / 2), lines, size_pt=_PT)


def _off_axis(ring: Sequence[Point]) -> list[list[Point]]:
    """A closed outline without its stretches along the axis."""
    runs: list[list[Point]] = []
    for start, stop in zip(ring, [*ring[1:], ring[0]], strict=True):
        if abs(start[1]) <= _HAIR and abs(stop[1]) <= _HAIR:
            continue
        if runs and runs[-1][-1] == start:
            runs[-1].append(stop)
        else:
            runs.append([start, stop])
    return runs


def _span(arranged: Arrangement) -> tuple[Point, Point]:
    """Where the piece begins and ends."""
    whole = next(each for each in arranged.lengths if each.overall)
    return whole.start, whole.end


def _across(arranged: Arrangement) -> float:
    """Twice the greatest distance of the outline from the axis."""
    return 2 * max(abs(y) for line in arranged.outline for _, y in line)


def _apart(places: list[float], least: float = 1.1) -> list[float]:
    """Places in rising order moved apart so that leaders to them can be told from one another."""
    return spread(places, [0.0] * len(places), gap=least)


def _rows_for(labels: Sequence[_PlacedLabel], within: tuple[float, float], most: int) -> tuple[int, list[_PlacedLabel]]:
    """How many rows labels take, and those that fit, in their order: where not all do, those that weigh most."""
    kept = list(labels)
    while True:
        sizes = [wide(label.lines, _PT) for label in kept]
        for rows in range(1, most + 1):
            if _least(sizes, rows)[-1] + sizes[-1] / 2 <= within[1] - within[0] if kept else True:
                return rows, kept
        kept.remove(min(reversed(kept), key=lambda label: label.weight))


def _least(sizes: Sequence[float], rows: int) -> list[float]:
    """Least middles of labels that stand by turns in some rows, so that none touches another or a leader beside it."""
    middles: list[float] = []
    for number, size in enumerate(sizes):
        middle = size / 2
        for back in range(1, min(rows, number) + 1):
            middle = max(middle, middles[-back] + _between(sizes, number - back, number, rows))
        middles.append(middle)
    return middles


def _between(sizes: Sequence[float], first: int, second: int, rows: int) -> float:
    """Least distance of the middles of two labels; one in the row farther out is a leader beside the nearer row."""
    if (second - first) % rows == 0:
        return (sizes[first] + sizes[second]) / 2 + _BETWEEN_MM
    near = sizes[first if first % rows == 0 else second]
    return (near + _LEADER_MM) / 2


def _in_rows(wishes: Sequence[float], sizes: Sequence[float], rows: int, within: tuple[float, float]) -> list[float]:
    """Middles of labels that stand by turns in some rows, each near its own wish."""
    if rows == 1:
        return spread(wishes, sizes, gap=_BETWEEN_MM, within=within)
    count = len(sizes)
    low = [within[0] + place for place in _least(sizes, rows)]
    high = [within[1] - size / 2 for size in sizes]
    for number in reversed(range(count)):
        for beyond in range(number + 1, min(number + rows + 1, count)):
            high[number] = min(high[number], high[beyond] - _between(sizes, number, beyond, rows))
    wished = [min(max(wish, least), most) for wish, least, most in zip(wishes, low, high, strict=True)]
    # Moved to the right where they touch, and to the left; halfway between the two none touches either.
    right, left = wished[:], wished[:]
    for number in range(count):
        for before in range(max(0, number - rows), number):
            right[number] = max(right[number], right[before] + _between(sizes, before, number, rows))
    for number in reversed(range(count)):
        for beyond in range(number + 1, min(number + rows + 1, count)):
            left[number] = min(left[number], left[beyond] - _between(sizes, number, beyond, rows))
    return [(farthest + nearest) / 2 for farthest, nearest in zip(right, left, strict=True)]


def _filled(sentences: Sequence[str], room: float) -> list[str]:
    """Sentences in as few lines as they take, a sentence begun on a line of its own where it would be broken."""
    lines: list[str] = []
    for sentence in sentences:
        if lines and width_of(f"{lines[-1]} {sentence}", _PT) <= room:
            lines[-1] += f" {sentence}"
            continue
        line = ""
        for word in sentence.split():
            if line and width_of(f"{line} {word}", _PT) > room:
                lines.append(line)
                line = word
            else:
                line = f"{line} {word}".strip()
        lines.append(line)
    return lines


def _bare(printed: Printed) -> tuple[str, ...]:
    """Both numbers without their units, which a note says once."""
    lead, other = (lettered(text.rpartition("\u00a0")[0] or text) for text in (printed.lead, printed.other))
    return (*((lead,) if lead else ()), *((f"({other})",) if other else ()))


def _diameter(each: OutsideDiameter) -> tuple[str, ...]:
    lead, *rest = _bare(each.printed)
    return (*((tr("largest"),) if each.largest else ()), f"Ø {lead}", *rest)


def _in_a_line(each: OutsideDiameter) -> str:
    return ("Ø " + " ".join(_bare(each.printed))).strip()


def _callout(callout: InsideCallout) -> tuple[str, ...]:
    """What is lettered of a place inside."""
    size = " ".join(_bare(callout.printed))
    if callout.kind in ("wall", "floor"):
        return (callout.says, size)
    deep = " ".join(_bare(callout.deep)) if callout.deep is not None else ""
    if callout.kind == "ring":
        return (callout.says, f"Ø {size}", tr("hole Ø {size}", size=deep))
    if not deep:
        return (callout.says, f"Ø {size}")
    last = tr("{size} long", size=deep) if callout.kind == "joint" else tr("{size} deep", size=deep)
    return (callout.says, f"Ø {size}", last)


def alike_words(sheet: Sheet) -> list[str]:
    """How many are made of what is drawn once, as sentences; none where each is made once."""
    alike = [part for part in sheet.parts if part.count > 1]
    if len(sheet.parts) == 1 and alike:
        return [tr("Make {count}, all alike.", count=alike[0].count)]
    return [tr("{part}: make {count}, all alike.", part=part.title, count=part.count) for part in alike]


def _alt(sheet: Sheet, arranged: Arrangement) -> str:
    """What the drawing shows, with its numbers."""
    whole = next(each for each in arranged.lengths if each.overall)
    largest = next((each for each in arranged.diameters if each.largest), None)
    seen = _SEEN[bool(arranged.up), any(arranged.cut)]
    size = _SIZES[bool(arranged.up), largest is not None]
    said = [
        tr(seen, title=sheet.title),
        *alike_words(sheet),
        tr(size, whole=whole.printed, largest=largest.printed if largest is not None else ""),
    ]
    said += [tr("It is left square at one place, {side} on a side.", side=each.printed) for each in arranged.squares]
    parts = [f"{each.says} {each.printed}".strip() for each in arranged.lengths if each.says and not each.overall]
    if parts:
        said.append(tr("Lengths: {lengths}.", lengths=listed(parts)))
    others = [str(each.printed) for each in arranged.diameters if not each.largest]
    if others:
        diameters = listed(others)
        said.append(
            tr("Other diameters, in order: {diameters}.", diameters=diameters)
            if arranged.up
            else tr("Other diameters, from the headstock end: {diameters}.", diameters=diameters)
        )
    said += _inside(arranged)
    return " ".join(said)


def _inside(arranged: Arrangement) -> Iterator[str]:
    seen: set[str] = set()
    for callout in arranged.callouts:
        if callout.kind in ("wall", "floor"):
            text = tr("The {wood} is {thick} thick.", wood=callout.says, thick=callout.printed)
        else:
            what = f"{callout.says[:1].upper()}{callout.says[1:]}"
            text = tr(_sentence(callout), what=what, across=callout.printed, deep=callout.deep)
        if text not in seen:
            seen.add(text)
            yield text


def _sentence(callout: InsideCallout) -> str:
    """The sentence that a hole, a loose ring or a joint is told in."""
    if callout.kind == "ring":
        several = callout.says[:1].isdigit()
        return (
            tr_later("{what}: {across} across, their holes {deep}.")
            if several
            else tr_later("{what}: {across} across, its hole {deep}.")
        )
    if callout.deep is None:
        return tr_later("{what}: {across} across.")
    if callout.kind == "joint":
        return tr_later("{what}: {across} across, {deep} long.")
    return tr_later("{what}: {across} across, {deep} deep.")
