"""Templates for work along the axis: profile card and story stick.

This module owns their drawing at true size: the card's edge from the solid that the
profile was cut from, or from the profile's elements where there is none, its labels and
the stick's marks from the stations. It leaves round work to `templates.round_work`.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

from handouts_build.figures.templates.draw import (
    LETTER_MM,
    TAB_MM,
    GlueLine,
    TemplateDrawing,
    TurnedDrawing,
    cuts,
    joints_at,
    pieces,
    shortened,
    spread,
)
from handouts_build.figures.templates.frame import Room, Template, as_figures
from handouts_build.language import phrases_in_a_row, tr, tr_later
from handouts_build.quantities import Rule, millimetres, print_quantity
from handouts_build.sheet import Group, Shape, Station
from handouts_build.sheet.stages import Side

__all__ = ["profile_card", "story_stick"]

_MOST_PIECES = 16
_LABELS = 36.0
"""Room for a diameter in both units, in mm."""
_STICK_WIDTH = 84.0
_TICK = 8.0
_LEADER = 6.0
ON_CURVE = tr_later("on the curve")
_APART = 11.0
"""Least distance along the axis between marks on a curve, in mm."""
_BULGE = 1.0
"""A curve is marked where it leaves the straight line between two stations by more than this across, in mm."""
_STUB_MM = 2.0
"""By how much the end of a solid is wider than its profile where a stub was left standing."""


def _labels(
    canvas: TemplateDrawing,
    stations: tuple[Station, ...],
    words: list[str],
    start: float,
    *,
    room: float,
    ends: tuple[float, float],
) -> list[float]:
    """A leader and a label for every station, none touching another; their places in mm.

    Args:
        canvas: To draw on.
        stations: In order along the axis.
        words: What each label says.
        start: Where leaders begin, across, in mm.
        room: Room for a label, in mm.
        ends: Upper and lower end of the card, in mm.
    """
    half = LETTER_MM * 0.65
    marks = [float(station.at.m_as("mm")) for station in stations]
    places = spread(marks, low=ends[0] + half, high=ends[1] - half)
    for station, place, said in zip(stations, places, words, strict=True):
        at = float(station.at.m_as("mm"))
        canvas.line([(start, at), (start + _LEADER, place), (start + _LEADER + 1.2, place)])
        canvas.text(start + _LEADER + 2, place, shortened(said, room), anchor="start")
    return places


def _left_standing(shape: Shape, rule: Rule) -> Shape:
    """The same with the diameters of its two ends as the outline has them, where wood is left standing there."""
    stations = list(shape.stations)
    for index, (_, radius) in ((0, shape.points_mm[0]), (len(stations) - 1, shape.points_mm[-1])):
        across = millimetres(2 * radius)
        if stations and across - stations[index].diameter > millimetres(_STUB_MM):
            stations[index] = replace(stations[index], diameter=across, printed=print_quantity(across, rule))
    return replace(shape, stations=tuple(stations))


def _distinct(shape: Shape) -> tuple[Station, ...]:
    """The stations along the axis in order; two at one place stay two where the diameter steps."""
    return tuple(sorted(shape.stations, key=lambda station: float(station.at.m_as("mm"))))


_USE = {
    False: tr_later(
        "Cut along the curved line and keep the lettered side. Stop the lathe, then hold the "
        "card to the work, on the center line."
    ),
    True: tr_later(
        "Cut along the curved line and the center line, and keep what lies between. Stop the "
        "lathe, then hold it in the hollow, on the center line."
    ),
}
"""How the card is used on an outside, and in a hollow."""

_STRIPS = tr_later("It is in strips: tape them edge to edge, line on line.")


def profile_card(group: Group, rule: Rule, room: Room, *, side: tuple[int, Side] | None = None) -> Template | None:
    """A card whose edge is the profile, to hold against the turned work.

    Args:
        group: With a shape.
        rule: To print what the solid has otherwise.
        room: What a page takes.
        side: The solid from the side, over the profile, and the number of the step that leaves it so.

    Returns:
        The card, in pieces where it is larger than a page, laid on its side where it is too wide; None where it would
        be of more pieces than anyone joins.
    """
    shape = group.shape
    if shape is None or len(shape.points_mm) < 2:
        return None
    if side is not None:
        shape = replace(shape, points_mm=side[1].points_mm)
    outline = [(radius, along) for along, radius in shape.points_mm]
    top, bottom = outline[0][1], outline[-1][1]
    widest = max(radius for radius, _ in outline)
    right = widest + 4 + _LEADER + 2 + _LABELS
    aside = right > room.width
    longest, across = (room.width, room.height) if aside else (room.height, room.width)
    if -(-(bottom - top) // longest) * -(-right // across) > _MOST_PIECES or bottom <= top:
        return None
    canvas = TurnedDrawing(far=bottom) if aside else TemplateDrawing()
    canvas.line([*outline, (right, bottom), (right, top)], kind="cut", closed=True)
    canvas.line([(0, top), (0, bottom)], kind="axis")
    for y, radius in ((top, outline[0][0]), (bottom, outline[-1][0])):
        if radius > 0:
            canvas.line([(0, y), (radius, y)], kind="fold")
    stations = _distinct(_left_standing(shape, rule))
    for station in stations:
        at = float(station.at.m_as("mm"))
        edge = max(float(station.diameter.m_as("mm")) / 2, _radius(shape, at))
        canvas.line([(edge, at), (widest + 4, at)])
    places = _labels(
        canvas,
        stations,
        [str(station.printed) for station in stations],
        widest + 4,
        room=_LABELS - 1,
        ends=(top, bottom),
    )
    named = _wide_place(shape, half=9.0, wide=2 * LETTER_MM)
    if named is not None:
        canvas.text(LETTER_MM, named, tr("center line"), anchor="middle", turned=True)
    if aside:
        cut, wide, strips = _laid_aside(canvas, long=bottom - top, right=right, lettered=widest + 2, room=room)
    else:
        seams = cuts(
            bottom - top, room.height - TAB_MM - 1.0, clear=[place - top for place in places], margin=LETTER_MM
        )
        joints = joints_at([top + seam for seam in seams], left=lambda y: _radius(shape, y), right=right)
        cut, wide, strips = pieces(canvas, left=0, width=right, top=top, bottom=bottom, joints=joints), right, 1
    phrases = phrases_in_a_row(
        tr("{what}, {across} at {place}", what=station.what, across=station.printed, place=station.at_printed)
        for station in stations
    )
    after = [tr("The edge is the shape after step {number}.", number=side[0])] if side is not None else []
    alt = [
        tr("Card with one edge cut to the profile {profile}.", profile=group.title),
        *after,
        tr("Diameters along it: {diameters}.", diameters=phrases),
    ]
    use = [tr(_USE[side is not None and side[1].hollow]), *([tr(_STRIPS)] if strips > 1 else []), *after]
    return Template(
        tr("Profile card: {title}", title=group.title),
        " ".join(use),
        as_figures(f"{group.name}-profile", group, tr("Profile card"), cut, wide, " ".join(alt)),
    )


def _laid_aside(
    canvas: TemplateDrawing, *, long: float, right: float, lettered: float, room: Room
) -> tuple[list[tuple[str, float]], float, int]:
    """A card laid on its side: strips along the axis where it is too long too, each in pieces from the axis outward.

    Args:
        canvas: The card, drawn on its side.
        long: Its length along the axis, in mm.
        right: From the axis to its far edge, in mm.
        lettered: From the axis to where its lettering begins, in mm; it is not cut through.
        room: What a page takes.

    Returns:
        The pieces, the width of each in mm, and how many strips there are.
    """
    strips = math.ceil(long / room.width - 1e-9)
    wide = long / strips
    for strip in range(1, strips):
        TemplateDrawing.line(canvas, [(strip * wide, 0), (strip * wide, right)], kind="cut")
    clear = [lettered + LETTER_MM * each for each in range(int((right - lettered) / LETTER_MM) + 2)]
    joints = joints_at(
        cuts(right, room.height - TAB_MM - 1.0, clear=clear, margin=LETTER_MM), left=lambda _: 0.0, right=wide
    )
    cut: list[tuple[str, float]] = []
    for strip in range(strips):
        moved = [GlueLine(joint.at, strip * wide, (strip + 1) * wide, joint.letter) for joint in joints]
        cut += pieces(canvas, left=strip * wide, width=wide, top=0, bottom=right, joints=moved)
    return cut, wide, strips


def _radius(shape: Shape, at: float) -> float:
    """The outline's radius at a distance along the axis, in mm."""
    for (x0, r0), (x1, r1) in zip(shape.points_mm, shape.points_mm[1:], strict=False):
        if x0 <= at <= x1 and x1 > x0:
            return r0 + (r1 - r0) * (at - x0) / (x1 - x0)
    return shape.points_mm[-1][1]


def _wide_place(shape: Shape, *, half: float, wide: float) -> float | None:
    """The first place along the axis where the outline is at least `wide` mm from it for `half` mm either way."""
    first, last = shape.points_mm[0][0], shape.points_mm[-1][0]
    for each in range(int(last - first - 2 * half) + 1):
        at = first + half + each
        if all(_radius(shape, at + step) >= wide for step in range(-int(half), int(half) + 1)):
            return at
    return None


def _along_curves(shape: Shape, rule: Rule) -> tuple[Station, ...]:
    """The stations, and between two of them that are far apart, places along the curve: on marks of the rule.

    Args:
        shape: The profile.
        rule: Its marks.
    """
    stations = _distinct(shape)
    found: list[Station] = []
    for before, after in pairwise(stations):
        start, end = (float(station.at.m_as("mm")) for station in (before, after))
        parts = math.floor((end - start) / _APART)
        for part in range(1, parts):
            printed = print_quantity(millimetres(start + (end - start) * part / parts), rule)
            at = float(printed.rounded.m_as("mm"))
            share = (at - start) / (end - start)
            straight = before.diameter.m_as("mm") * (1 - share) + after.diameter.m_as("mm") * share
            across = 2 * _radius(shape, at)
            if abs(across - straight) > _BULGE:
                diameter = millimetres(across)
                found.append(Station(tr(ON_CURVE), printed.rounded, printed, diameter, print_quantity(diameter, rule)))
    return tuple(sorted((*stations, *found), key=lambda station: float(station.at.m_as("mm"))))


def story_stick(group: Group, rule: Rule, room: Room) -> Template | None:
    """A stick with a mark at every station and along every long curve, each with its name and diameter.

    Args:
        group: With a shape.
        rule: To print the places along curves.
        room: What a page takes.
    """
    shape = group.shape
    if shape is None or len(shape.points_mm) < 2 or not shape.stations:
        return None
    top, bottom = shape.points_mm[0][0], shape.points_mm[-1][0]
    if bottom - top > room.height * _MOST_PIECES or bottom <= top:
        return None
    canvas = TemplateDrawing()
    canvas.line([(0, top), (_STICK_WIDTH, top), (_STICK_WIDTH, bottom), (0, bottom)], kind="cut", closed=True)
    stations = _along_curves(shape, rule)
    for station in stations:
        at = float(station.at.m_as("mm"))
        canvas.line([(0, at), (_TICK, at)])
    words = [
        tr("{what}: {across}, at {place}", what=station.what, across=station.printed, place=station.at_printed)
        for station in stations
    ]
    places = _labels(canvas, stations, words, _TICK, room=_STICK_WIDTH - _TICK - _LEADER - 3, ends=(top, bottom))
    marks = [float(station.at.m_as("mm")) - top for station in stations]
    clear = [*marks, *(place - top for place in places)]
    seams = cuts(bottom - top, room.height - TAB_MM - 1.0, clear=clear, margin=LETTER_MM)
    joints = joints_at([top + seam for seam in seams], left=lambda _: 0.0, right=_STICK_WIDTH)
    cut = pieces(canvas, left=0, width=_STICK_WIDTH, top=top, bottom=bottom, joints=joints)
    phrases = phrases_in_a_row(
        tr("{what} at {place}, {across} across", what=station.what, across=station.printed, place=station.at_printed)
        for station in stations
    )
    alt = tr("Stick with a mark at every station of {title}: {told}.", title=group.title, told=phrases)
    return Template(
        tr("Story stick: {title}", title=group.title),
        tr(
            "Glue it to a thin strip of wood. Stop the lathe, lay the ticked edge along the work "
            "and mark; the labels give diameters."
        ),
        as_figures(f"{group.name}-stick", group, tr("Story stick"), cut, _STICK_WIDTH, alt),
    )
