"""Drawings of a ball from a cylinder: the octagon, the further facets, the end view.

This module owns what these three show and say. It leaves the numbers to the sheet.
"""

from __future__ import annotations

import itertools
import math

from handouts_build.figures.canvas import Canvas, Point, along, around
from handouts_build.figures.dimensioning import (
    Callout,
    arrows_between,
    block,
    horizontal,
    leader,
    spread,
    tall,
    torn,
    vertical,
    wide,
)
from handouts_build.figures.drawing import Numbers, Scale, adding_up, finished, noted
from handouts_build.figures.figure import Figure
from handouts_build.figures.labels import DISC_MM, HALF_MM, hugging, label
from handouts_build.figures.style import (
    CENTER,
    CUT,
    DIMENSION,
    EDGE,
    HATCH,
    HIDDEN,
    MARK,
    NOTE_PT,
    OUTLINE,
    Pen,
    Role,
    both,
    some,
)
from handouts_build.language import tr
from handouts_build.quantities import Printed
from handouts_build.sheet import Group

__all__ = ["end_view", "further_facets", "octagon"]

_TENON_MM = 8.0
"""Most paper a tenon takes along the axis; a longer one is drawn broken off."""


def octagon(group: Group) -> Figure:
    """The cylinder from the side: lines to draw, corners to cut, and the ball within."""
    known = Numbers(group)
    has_tenon = known.more_than_nought("tenon") and known.more_than_nought("tenon_long")
    scale = Scale.fitting((known.mm("diameter"), DISC_MM))
    radius, half = known.mm("diameter") / 2 * scale, known.mm("side") / 2 * scale
    canvas = Canvas(f"{group.name}-octagon")

    square = [(-radius, -radius), (radius, -radius), (radius, radius), (-radius, radius)]
    end = radius
    if has_tenon:
        high = known.mm("tenon") / 2 * scale
        end += min(known.mm("tenon_long") * scale, _TENON_MM)
        whole = known.mm("tenon_long") * scale <= _TENON_MM
        face = [(end, -high), (end, high)] if whole else torn((end, -high), (end, high))
        canvas.face([(radius, -high), *face, (radius, high)])
        canvas.line(face, OUTLINE if whole else DIMENSION)
        canvas.lines([[(radius, way * high), (end, way * high)] for way in (-1, 1)], OUTLINE)
    canvas.face(square)
    corners = [(x, y) for x in (-1.0, 1.0) for y in (-1.0, 1.0)]
    for x, y in corners:
        waste = [(x * radius, y * radius), (x * half, y * radius), (x * radius, y * half)]
        canvas.hatch(waste, angle=45.0, apart=1.5)
    canvas.circle((0, 0), radius, HIDDEN)
    canvas.line([(-radius - 3.5, 0), (end + 3.5, 0)], CENTER)
    canvas.line([(0, -radius - 3.5), (0, radius + 3.5)], CENTER)
    for x in (-half, half):
        canvas.line([(x, -radius), (x, radius)], MARK)
    canvas.line(square, OUTLINE, closed=True)
    for x, y in corners:
        canvas.line([(x * half, y * radius), (x * radius, y * half)], CUT)
        deep = radius - half
        middle = (x * (radius - deep * 0.34), y * (radius - deep * 0.27))
        block(canvas, middle, [tr("waste")], size_pt=NOTE_PT, ground=Role.WOOD)
    block(canvas, (0, radius * 0.55), [tr("equator")], size_pt=NOTE_PT, ground=Role.WOOD)
    block(canvas, (-(radius + half) / 2, 0), [tr("axis")], size_pt=NOTE_PT, ground=Role.WOOD)
    edge = around((0, 0), radius, 292, 292)[0]
    block(canvas, (0, -radius * 0.5), [tr("ball")], size_pt=NOTE_PT, ground=Role.WOOD)
    leader(canvas, [(3.4, -radius * 0.5), edge])

    _marks_row(canvas, known, radius=radius, half=half, y=radius + 5.0)
    bottom = -radius - 6.5
    horizontal(canvas, (-radius, -radius), (radius, -radius), y=bottom, printed=known["diameter"], name=tr("ball"))
    vertical(
        canvas,
        (-radius, -half),
        (-radius, half),
        x=-radius - 7.3,
        printed=known["side"],
        name=tr("end circle"),
        before="Ø",
    )
    alt = [
        tr(
            "Seen from the side: the cylinder, {diameter} across, with the ball of the same diameter in it.",
            diameter=known["diameter"],
        ),
        (
            tr(
                "A pencil line is drawn around it {setback} in from each end of the ball; between the lines the band "
                "is {band} wide.",
                setback=known["setback"],
                band=band,
            )
            if str(band := _band(known))
            else tr(
                "A pencil line is drawn around it {setback} in from each end of the ball; between the lines a band is "
                "left.",
                setback=known["setback"],
            )
        ),
        tr(
            "On each end stands a circle {side} across. Straight cuts from line to circle take "
            "the four corners seen here as waste, and touch the ball.",
            side=known["side"],
        ),
    ]
    if has_tenon:
        vertical(canvas, (end, -high), (end, high), x=end + 5.2, printed=known["tenon"], name=tr("tenon"), before="Ø")
        if whole:
            _tenon_long(canvas, known, left=radius, right=end, low=-high, y=bottom)
        alt.append(
            tr(
                "At one end a tenon {tenon} across and {tenon_long} long is kept.",
                tenon=known["tenon"],
                tenon_long=known["tenon_long"],
            )
        )
    alt.append(
        tr(
            "The blank is at least {blank_diameter} across and {blank_long} long.",
            blank_diameter=known["blank_diameter"],
            blank_long=known["blank_long"],
        )
    )
    noted(
        canvas,
        *([tr("Tenon {tenon_long} long", tenon_long=both(known["tenon_long"]))] if has_tenon and not whole else []),
        scale=scale,
    )
    return finished(canvas, group, "octagon", tr("{title}: octagon", title=group.title), alt)


def _marks_row(canvas: Canvas, known: Numbers, *, radius: float, half: float, y: float) -> None:
    """The band and the two setbacks above the cylinder, their labels over the line. Lengths are in mm of paper."""
    ends = (-radius, -half, half, radius)
    for x in ends:
        canvas.line([(x, radius + 0.9), (x, y + 1.2)], DIMENSION)
    setback = label(known["setback"], tr("setback"))
    band = tuple(line for line in label(_band(known), tr("band")) if line)
    labels = [setback, band, setback]
    spans = list(itertools.pairwise(ends))
    for left, right in spans:
        arrows_between(canvas, (left, y), (right, y))
    middles = spread([(left + right) / 2 for left, right in spans], [wide(label) for label in labels], gap=1.2)
    for x, lines in zip(middles, labels, strict=True):
        block(canvas, (x, y + 1.8 + tall(lines) / 2), lines, ground=None)


def _band(known: Numbers) -> Printed:
    """The width of the band, without its number in a unit in which it does not come to the ball with both setbacks."""
    setback, side = known["setback"], known["side"]
    lead = "in" if side.lead.endswith("in") else "mm"
    return adding_up([setback, side, setback], known["diameter"], lead)[1]


def _tenon_long(canvas: Canvas, known: Numbers, *, left: float, right: float, low: float, y: float) -> None:
    """The tenon's length below its end, its label under the line. Lengths are in mm of paper."""
    canvas.line([(right, low - 0.9), (right, y - 1.2)], DIMENSION)
    arrows_between(canvas, (left, y), (right, y))
    first, *rest = label(known["tenon_long"])
    lines = (tr("tenon {long}", long=first), *rest)
    block(canvas, ((left + right) / 2, y - 2.2 - tall(lines) / 2), lines)


def _at(center: Point, degrees: float, distance: float) -> Point:
    """A point so many degrees clockwise from the top, as the corner's own view needs it."""
    return center[0] + distance * math.sin(math.radians(degrees)), center[1] + distance * math.cos(
        math.radians(degrees)
    )


def further_facets(group: Group) -> Figure:
    """One corner of the 8 flats, enlarged: the marks for 16 and 32, and what stands over the ball."""
    known = Numbers(group)
    scale = Scale.fitting((known.mm("diameter") / 2, 88.0))
    radius = known.mm("diameter") / 2 * scale
    center = (0.0, -radius)
    corner = _at(center, 0, known.mm("corner_8") * scale)
    left_end, right_end = (_at(center, way * 24.5, radius / math.cos(math.radians(2.0))) for way in (-1, 1))
    low = left_end[1] - 14.0
    canvas = Canvas(f"{group.name}-facets")

    rough = torn((left_end[0], low), (right_end[0], low))
    canvas.face([left_end, corner, right_end, *reversed(rough)])
    mark_16 = {way: along(corner, left_end if way < 0 else right_end, known.mm("mark_16") * scale) for way in (-1, 1)}
    quarter = {
        way: along(corner, left_end if way < 0 else right_end, known.mm("quarter_16") * scale) for way in (-1, 1)
    }
    canvas.hatch([mark_16[-1], corner, mark_16[1]], apart=1.5)
    # The corner of the 16 flats on the right is taken again, for 32.
    near = along(mark_16[1], mark_16[-1], known.mm("mark_32") * scale)
    far = along(mark_16[1], right_end, known.mm("mark_32") * scale)
    canvas.hatch([near, mark_16[1], far], angle=-45.0, apart=1.1, pen=Pen(HATCH.width_pt, Role.ACCENT))
    canvas.line(around(center, radius, 114.5, 65.5), HIDDEN)
    canvas.line([left_end, corner, right_end], OUTLINE)
    canvas.line(rough, DIMENSION)
    canvas.line([mark_16[-1], mark_16[1]], CUT)
    canvas.line([near, far], Pen(1.1, Role.ACCENT))
    canvas.line([(0, corner[1] + 3.0), (0, -6.0)], CENTER)

    # Distances along the left flat stand off it square, one beyond the other.
    slope = math.radians(22.5)
    out = (-math.sin(slope), math.cos(slope))

    def off(point: Point, distance: float) -> Point:
        return point[0] + out[0] * distance, point[1] + out[1] * distance

    middles = []
    for stop, distance in ((quarter[-1], 3.4), (mark_16[-1], 7.4)):
        canvas.line([off(stop, 0.9), off(stop, distance + 1.2)], DIMENSION)
        arrows_between(canvas, off(corner, distance), off(stop, distance))
        middles.append(along(off(corner, distance), off(stop, distance), math.dist(corner, stop) * 0.8))
    canvas.line([off(corner, 0.9), off(corner, 8.6)], DIMENSION)
    words = tuple(tr("for 16 flats\nexact mark {mark}", mark=both(known["mark_16"])).splitlines())
    room = block(canvas, (-2.5 - wide(words), corner[1] + 12.5), words, align="left", ground=None)
    start = (middles[1][0], room.bottom - 0.4)
    leader(canvas, [start, middles[1]], end="none")
    words = label(known["quarter_16"], tr("quarter\nmark"))
    aside = mark_16[-1][0] - 6.0
    # Clear of the flat, which falls away to the left.
    level = max(corner[1] - 3.2, corner[1] + aside * math.tan(slope) + 1.2 + tall(words) / 2)
    block(canvas, (aside, level), words, align="right", ground=None)
    leader(canvas, [(aside + 0.8, level), (aside + 2.4, level), middles[0]], end="none")
    _proud(canvas, known, [corner, mark_16[1], far], level=corner[1] + 5.0)
    arrows_between(canvas, (near[0], -4.0), (mark_16[1][0], -4.0))
    for x in (near[0], mark_16[1][0]):
        canvas.line([(x, -0.9), (x, -5.4)], DIMENSION)
    middle = (near[0] + mark_16[1][0]) / 2
    words = tuple(
        tr(
            "for 32 flats\nexact mark {mark}\nquarter mark {quarter}",
            mark=both(known["mark_32"]),
            quarter=both(known["quarter_32"]),
        ).splitlines()
    )
    high = tall(words)
    block(canvas, (middle - 4.0, low + 1.4 + high / 2), words, ground=Role.WOOD)
    canvas.line([(middle, -4.0), (middle, low + 2.0 + high)], DIMENSION)
    ball = _at(center, -15, radius)
    block(canvas, (ball[0] - 2.0, ball[1] - 8.0), [tr("ball")], size_pt=NOTE_PT, ground=None)
    leader(canvas, [(ball[0] - 2.0, ball[1] - 6.2), ball])
    noted(
        canvas,
        tr("The quarter mark for 16 leaves {mark_left_16} over the ball.", mark_left_16=some(known["mark_left_16"])),
        scale=scale,
    )
    alt = [
        tr("One corner of the octagon, enlarged, with the ball's circle below it touching every flat."),
        tr(
            "For 16 flats the quarter mark lies {quarter_16} from the corner along each flat; it "
            "leaves {mark_left_16} over the ball. The exact mark lies {mark_16} from it.",
            quarter_16=known["quarter_16"],
            mark_left_16=some(known["mark_left_16"]),
            mark_16=known["mark_16"],
        ),
        tr(
            "For 32 flats the quarter mark lies {quarter_32} from each new corner and leaves "
            "{mark_left_32}; the exact mark lies {mark_32} from it.",
            quarter_32=known["quarter_32"],
            mark_left_32=some(known["mark_left_32"]),
            mark_32=known["mark_32"],
        ),
        tr(
            "The corners stand proud of the ball by {proud_8} after 8 flats, {proud_16} after 16 "
            "and {proud_32} after 32.",
            proud_8=known["proud_8"],
            proud_16=known["proud_16"],
            proud_32=known["proud_32"],
        ),
    ]
    return finished(canvas, group, "facets", tr("{title}: 8, 16 and 32 flats", title=group.title), alt)


def _proud(canvas: Canvas, known: Numbers, corners: list[Point], *, level: float) -> None:
    """A row of labels above the right-hand flat: how far the corners stand proud after 8, 16 and 32 flats.

    Args:
        canvas: To draw on.
        known: The numbers.
        corners: What the three labels point at.
        level: Lower edge of the row, in mm.
    """
    labels = [label(known[f"proud_{count}"], tr("{count} flats", count=count)) for count in (8, 16, 32)]
    middles = spread([8.5, 21.0, 33.0], [wide(label) for label in labels], gap=1.2, within=(1.5, HALF_MM))
    for x, lines, corner in zip(middles, labels, corners, strict=True):
        room = block(canvas, (x, level + tall(lines) / 2), lines, ground=None)
        leader(canvas, [(x, room.bottom - 0.4), corner])
    heading = (tr("corner stands proud by, after"),)
    block(canvas, (HALF_MM, room.top + 0.9 + tall(heading) / 2), heading, align="right", ground=None)


def end_view(group: Group) -> Figure:
    """The end grain with the circle that the corner cuts run to."""
    known = Numbers(group)
    scale = Scale.fitting((known.mm("diameter"), DISC_MM))
    radius, circle = known.mm("diameter") / 2 * scale, known.mm("side") / 2 * scale
    canvas = Canvas(f"{group.name}-end")
    canvas.circle((0, 0), radius, None, fill=Role.WOOD)
    # Growth rings, so that end grain is known at sight: arcs about a pith off the axis.
    pith = (-radius * 0.3, -radius * 1.25)
    for each in range(1, 11):
        ring = [p for p in around(pith, radius * (0.2 + 0.22 * each), 10, 170) if math.hypot(*p) < radius * 0.99]
        if len(ring) > 1:
            canvas.line(ring, HATCH)
    canvas.circle((0, 0), radius, OUTLINE)
    canvas.circle((0, 0), circle, CUT)
    reach = radius + 3.5
    canvas.line([(-reach, 0), (reach, 0)], CENTER)
    canvas.line([(0, -reach), (0, reach)], CENTER)
    items = [
        Callout(
            around((0, 0), circle, 40, 40)[0],
            label(known["side"], tr("circle\nto draw"), before="Ø"),
            wish=radius * 0.8,
        ),
        Callout(
            around((0, 0), radius, -38, -38)[0],
            label(known["diameter"], tr("cylinder"), before="Ø"),
            wish=-radius * 0.8,
        ),
    ]
    alt = [
        tr(
            "Seen from the end: the cylinder, {diameter} across, and on its end grain the circle "
            "to draw, {side} across, about the same center.",
            diameter=known["diameter"],
            side=known["side"],
        )
    ]
    if known.more_than_nought("tenon"):
        tenon = known.mm("tenon") / 2 * scale
        canvas.circle((0, 0), tenon, Pen(EDGE.width_pt, Role.INK, HIDDEN.dashes_mm))
        target = around((0, 0), tenon, -14, -14)[0]
        items.append(Callout(target, label(known["tenon"], tr("tenon at\none end"), before="Ø"), wish=-radius * 0.05))
        alt.append(tr("A dashed circle is the tenon kept at one end, {tenon} across.", tenon=known["tenon"]))
    hugging(canvas, items, clear=radius + 3.6, side="right", half=radius + 18.0)
    noted(canvas, scale=scale)
    return finished(canvas, group, "end", tr("{title}: end view", title=group.title), alt)
