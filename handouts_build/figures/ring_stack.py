"""The drawings of glued-up work: plan of a ring, a stack in section with the profile in it, its pattern unrolled.

This module owns what they show and say. Woods are told apart by their hatching, never by
color alone. It leaves the numbers to the sheet.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator

from handouts_build.figures.canvas import Canvas, Point, width_of
from handouts_build.figures.dimensioning import Callout, block, horizontal, tall, vertical
from handouts_build.figures.drawing import Numbers, Scale, finished, mm, noted
from handouts_build.figures.figure import Figure
from handouts_build.figures.labels import DISC_MM, hugging, label
from handouts_build.figures.style import CENTER, CUT, DIMENSION, EDGE, HIDDEN, NOTE_PT, OUTLINE, Role, both, stacked
from handouts_build.language import in_a_row, listed, phrases_in_a_row, tr, tr_about, tr_later
from handouts_build.sheet import Course, Group, Stack, Strip
from handouts_build.sheet.blank import told_wood

__all__ = ["cut_list", "pattern", "plan", "section"]

_TALL_MM, _WIDE_MM = 52.0, 60.0
"""Most paper that a stack in section takes."""
_AROUND_MM, _HIGH_MM = 96.0, 70.0
"""Paper that a pattern takes: all around, and most of its height."""
_LEAST_MM = 3.2
"""A course no thinner than this has its name beside it."""
_HATCHES: tuple[tuple[tuple[float, float], ...], ...] = (
    (), ((45.0, 1.0),), ((135.0, 1.0), (45.0, 1.8)), ((90.0, 1.1),), ((0.0, 1.1),), ((135.0, 1.4),),
)  # fmt: skip
"""Angle and distance of the lines of each wood, that of the most pieces plain; past the last they come again."""
_SAID = (
    tr_later("plain"), tr_later("slanted lines"), tr_later("crossed lines"), tr_later("upright lines"),
    tr_later("level lines"), tr_later("lines that fall"),
)  # fmt: skip


def plan(group: Group) -> Figure:
    """One ring from above, as it is glued: its joints, its flats, and the largest round within it.

    Args:
        group: Of the chapter of rings and staves.
    """
    known = Numbers(group)
    pieces = known.whole("pieces")
    across, inside, corners = (known.mm(name) / 2 for name in ("across", "inside", "corners"))
    scale = Scale.fitting((2 * corners, DISC_MM))
    canvas = Canvas(f"{group.name}-plan")
    # A flat lies at the bottom, where the piece that is told of is.
    first = -90.0 + 180.0 / pieces
    outer, inner = (_polygon(pieces, radius * scale, first) for radius in (across, inside))
    canvas.region([outer, list(reversed(inner))], pen=OUTLINE)
    canvas.lines([[corner, within] for corner, within in zip(outer, inner, strict=True)], EDGE)
    canvas.circle((0, 0), across * scale, HIDDEN)
    canvas.circle((0, 0), known.mm("opening") / 2 * scale, HIDDEN)
    for way in ((1.0, 0.0), (0.0, 1.0)):
        reach = corners * scale + 3.0
        canvas.line([(-reach * way[0], -reach * way[1]), (reach * way[0], reach * way[1])], CENTER)
    edge = outer[-1], outer[0]
    level = -corners * scale - 5.0
    horizontal(canvas, edge[0], edge[1], y=level, printed=known["outer_edge"], name=tr("outer edge"))
    joint = outer[pieces // 4], inner[pieces // 4]
    middle = ((joint[0][0] + joint[1][0]) / 2, (joint[0][1] + joint[1][1]) / 2)
    right = [
        Callout(middle, label(known["miter"], tr("miter, each end")), wish=corners * scale * 0.9),
        Callout((across * scale * math.cos(0.3), across * scale * math.sin(0.3)),
                label(known["across"], tr("width, flat to flat"))),
    ]  # fmt: skip
    left = [
        Callout((-inside * scale, 0.2), label(known["inside"], tr("opening,\nflat to flat")), wish=-4.0),
        Callout(
            (-corners * scale * math.cos(math.radians(50)), corners * scale * math.sin(math.radians(50))),
            label(known["corners"], tr("across the corners")), wish=corners * scale * 0.9, end="none",
        ),
    ]  # fmt: skip
    hugging(canvas, right, clear=corners * scale + 1.5, side="right")
    hugging(canvas, left, clear=corners * scale + 1.5, side="left")
    noted(canvas, tr("Dashed: the largest round outside, and the least that cleans up inside."), scale=scale)
    alt = [
        tr(
            "A ring of {pieces} pieces from above, {across} from flat to flat outside, {inside} inside.",
            pieces=pieces,
            across=known["across"],
            inside=known["inside"],
        ),
        tr(
            "Each piece is {outer_edge} on its outer edge, cut at {miter} at both ends.",
            outer_edge=known["outer_edge"],
            miter=known["miter"].lead,
        ),
        tr("A strip {thick} wide and {strip} long gives all of them.", thick=known["thick"], strip=known["strip"]),
        tr("Across the corners it is {corners}.", corners=known["corners"]),
        tr(
            "Turned round, it cleans up inside at {opening}, and {wall} of wall is the most left.",
            opening=known["opening"],
            wall=known["wall"],
        ),
    ]
    return finished(canvas, group, "plan", tr("{title}: plan of the ring", title=group.title), alt)


def section(group: Group) -> Figure:
    """A stack cut through its axis, the left end below, with the finished profile in it."""
    stack = _stack(group)
    known = Numbers(group)
    height, swing = mm(stack.courses[-1].end), max(mm(course.across) for course in stack.courses)
    scale = Scale.fitting((height, _TALL_MM), (swing, _WIDE_MM))
    half, hatches = swing / 2 * scale, _hatches(_ranked(stack))
    canvas = Canvas(f"{group.name}-section")
    for course in stack.courses:
        low, high = mm(course.start) * scale, mm(course.end) * scale
        out, into = mm(course.across) / 2 * scale, mm(course.inside) / 2 * scale if course.inside is not None else 0.0
        # Cut in the plane of the drawing: each side shows one wood of a pattern.
        woods = (course.woods[0], course.woods[len(course.woods) // 2])
        for way, wood in zip((1, -1), woods, strict=True):
            corners = [(way * into, low), (way * out, low), (way * out, high), (way * into, high)]
            canvas.face(corners)
            for angle, apart in hatches[wood]:
                canvas.hatch(corners, angle=angle, apart=apart)
        for way in (1, -1):
            canvas.line([(way * into, low), (way * out, low), (way * out, high), (way * into, high)],
                        OUTLINE, closed=bool(into))  # fmt: skip
        if not into:
            canvas.lines([[(-out, low), (out, low)], [(-out, high), (out, high)]], OUTLINE)
    for outline in (stack.outside_mm, stack.inside_mm):
        for way in (1, -1):
            canvas.line([(way * radius * scale, place * scale) for place, radius in outline], CUT)
    for outline, end in ((stack.outside_mm, 0), (stack.inside_mm, 0)):
        if outline:
            place, radius = outline[end][0] * scale, outline[end][1] * scale
            canvas.line([(-radius, place), (radius, place)], CUT)
    canvas.line([(0, -4.0), (0, height * scale + 4.0)], CENTER)
    top = height * scale
    _column(canvas, stack, scale, x=half + 4.0, side="right")
    _column(canvas, stack, scale, x=-half - 4.0, side="left")
    block(canvas, (half + 4.0, top + 5.0), (tr("width"),), align="left", size_pt=NOTE_PT, ground=None, role=Role.FAINT)
    block(
        canvas, (-half - 4.0, top + 5.0), (tr("opening"),), align="right", size_pt=NOTE_PT, ground=None, role=Role.FAINT
    )
    vertical(canvas, (-half - 32.0, 0), (-half - 32.0, top), x=-half - 34.0, printed=known["height"])
    noted(canvas, tr("Widths from flat to flat. Heavy: the finished outside and inside."), *_legend(stack), scale=scale)
    alt = [
        tr(
            "A stack {height} high, cut through its axis, with the finished profile inside every course.",
            height=known["height"],
        ),
        *(_told(course) for course in stack.courses),
    ]
    return finished(canvas, group, "section", tr("{title}: section", title=group.title), alt)


def cut_list(group: Group) -> Figure:
    """What is sawn for every course, as a table."""
    stack = _stack(group)
    heads = (
        tr("Course"), tr("Wood"), tr_about("of wood, in a course", "Pieces"),
        tr("Miter"), tr("Outer edge"), tr("Strip, wide"), tr("Strip, long"),
    )  # fmt: skip
    rows = [heads, *_sawn(stack)]
    wide_each = [max(width_of(row[column]) for row in rows) + 3.2 for column in range(len(heads))]
    starts = [sum(wide_each[:column]) for column in range(len(heads))]
    whole, step = sum(wide_each) - 3.2, 4.6
    canvas = Canvas(f"{group.name}-strips")
    before = ""
    for number, row in enumerate(rows):
        y = -number * step
        role = Role.FAINT if number == 0 else Role.INK
        for column, text in enumerate(row):
            if text and not (column == 0 and text == before):
                canvas.text((starts[column], y), text, align="left", role=role)
        if row[0] != before:
            canvas.line([(0, y + step / 2), (whole, y + step / 2)], EDGE if number < 2 else DIMENSION)
        before = row[0]
    end = -len(rows) * step + step / 2
    canvas.line([(0, end), (whole, end)], EDGE)
    how = (
        tr("Strips turned over after each cut, saw cuts and trimmed ends counted.")
        if stack.flip
        else tr("Strips not turned over, saw cuts and trimmed ends counted.")
    )
    noted(canvas, how)
    alt = [tr("What is sawn for each course.")]
    alt += [_strip(course, strip) for course in stack.courses for strip in course.strips]
    return finished(canvas, group, "strips", tr("{title}: what to saw", title=group.title), alt)


def _sawn(stack: Stack) -> Iterator[tuple[str, ...]]:
    """The rows of the cut list."""
    for course in stack.courses:
        says = course.says.removeprefix("the ")
        for strip in course.strips:
            wide = both(strip.wide_printed)
            if course.miter_printed is None or course.edge_printed is None:
                yield says, told_wood(strip.wood), "1", "", "", tr("{wide} square", wide=wide), ""
            else:
                edge, long = both(course.edge_printed), both(strip.long_printed)
                yield says, told_wood(strip.wood), str(strip.pieces), course.miter_printed.lead, edge, wide, long


def _strip(course: Course, strip: Strip) -> str:
    """What is sawn for one wood of a course, as a sentence."""
    said = {
        "course": _capital(course.says),
        "pieces": strip.pieces,
        "wood": told_wood(strip.wood),
        "wide": strip.wide_printed,
    }
    if not course.pieces:
        return tr("{course}: {pieces} of {wood}, {wide} square.", **said)
    return tr(
        "{course}: {pieces} of {wood}, {edge} on the outer edge, from a strip {wide} wide and {long} long.",
        edge=course.edge_printed,
        long=strip.long_printed,
        **said,
    )


def pattern(group: Group) -> Figure:
    """The courses unrolled, one above another, each segment in its wood."""
    stack = _stack(group)
    height = mm(stack.courses[-1].end)
    scale = min(_HIGH_MM / height, 1.0)
    hatches = _hatches(_ranked(stack))
    canvas = Canvas(f"{group.name}-pattern")
    for course in stack.courses:
        low, high = mm(course.start) * scale, mm(course.end) * scale
        for left, right, wood in _spans(course):
            corners = [(left, low), (right, low), (right, high), (left, high)]
            canvas.face(corners)
            for angle, apart in hatches[wood]:
                canvas.hatch(corners, angle=angle, apart=apart)
            if course.pieces:
                canvas.lines([[(x, low), (x, high)] for x in (left, right) if 0.01 < x < _AROUND_MM - 0.01], EDGE)
        canvas.line([(0, low), (_AROUND_MM, low), (_AROUND_MM, high), (0, high)], OUTLINE, closed=True)
        if high - low >= _LEAST_MM:
            block(canvas, (-2.0, (low + high) / 2), (course.says.removeprefix("the "),), align="right", ground=None)
    noted(canvas, tr("Once around, from left to right; heights to scale, widths not."), *_legend(stack))
    alt = [
        tr("The courses unrolled, the lowest below: each ring is turned by half a segment against the one below it."),
        *(tr("{label}: {value}.", label=_capital(course.says), value=_pieces(course)) for course in stack.courses),
    ]
    return finished(canvas, group, "pattern", tr("{title}: the pattern, unrolled", title=group.title), alt)


def _stack(group: Group) -> Stack:
    assert group.stack is not None
    return group.stack


def _polygon(sides: int, flat: float, first: float) -> list[Point]:
    """Corners of a regular polygon.

    Args:
        sides: How many.
        flat: From the middle to a flat, mm.
        first: Where the first corner lies, in degrees.
    """
    radius = flat / math.cos(math.pi / sides)
    angles = [math.radians(first + 360.0 * corner / sides) for corner in range(sides)]
    return [(radius * math.cos(angle), radius * math.sin(angle)) for angle in angles]


def _hatches(woods: Iterable[str]) -> dict[str, tuple[tuple[float, float], ...]]:
    return {wood: _HATCHES[index % len(_HATCHES)] for index, wood in enumerate(woods)}


def _ranked(stack: Stack) -> list[str]:
    """Its woods, that of the most pieces first."""
    counts = Counter(wood for course in stack.courses for wood in course.woods)
    return sorted(stack.woods, key=lambda wood: -counts[wood])


def _legend(stack: Stack) -> Iterator[str]:
    """Which hatching is which wood; nothing where there is one wood."""
    if len(stack.woods) > 1:
        yield phrases_in_a_row(
            in_a_row((told_wood(wood), tr(_SAID[index % len(_SAID)]))) for index, wood in enumerate(_ranked(stack))
        )


def _spans(course: Course) -> Iterator[tuple[float, float, str]]:
    """The pieces of a course unrolled, each with its wood; what runs over the edge comes in again."""
    pieces = max(1, course.pieces)
    wide = _AROUND_MM / pieces
    start = course.turn_deg / 360.0 * _AROUND_MM
    for index, wood in enumerate(course.woods):
        left, right = start + index * wide, start + (index + 1) * wide
        if right > _AROUND_MM + 1e-9:
            if left < _AROUND_MM:
                yield left, _AROUND_MM, wood
            yield max(0.0, left - _AROUND_MM), right - _AROUND_MM, wood
        else:
            yield left, right, wood


def _column(canvas: Canvas, stack: Stack, scale: float, *, x: float, side: str) -> None:
    """The widths or the openings of the courses, beside them."""
    for course in stack.courses:
        printed = course.across_printed if side == "right" else course.inside_printed
        if printed is None:
            continue
        value = " ".join(stacked(printed))
        line = f"{course.says.removeprefix('the ')}, {value}" if side == "right" else value
        if tall((line,)) <= mm(course.high) * scale + 1.0:
            middle = (mm(course.start) + mm(course.end)) / 2 * scale
            block(canvas, (x, middle), (line,), align="left" if side == "right" else "right", ground=None)


def _told(course: Course) -> str:
    said = {"course": _capital(course.says), "high": course.high_printed, "across": course.across_printed}
    if course.inside_printed is None:
        return tr("{course}, {high} high: {across} across.", **said)
    return tr("{course}, {high} high: {across} across, its opening {opening}.", opening=course.inside_printed, **said)


def _pieces(course: Course) -> str:
    if not course.pieces:
        return tr("one piece of {wood}", wood=told_wood(course.woods[0]))
    counts = [tr("{count} of {wood}", count=course.woods.count(wood), wood=told_wood(wood)) for wood in course.mixed]
    return (
        tr("{count} segments, {woods}", count=course.pieces, woods=listed(counts))
        if len(counts) > 1
        else tr("{count} segments of {wood}", count=course.pieces, wood=told_wood(course.woods[0]))
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
