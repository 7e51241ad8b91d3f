"""Templates for segmented rings: the wedge that sets two fences, one segment, and the stop-block's settings.

This module owns their drawing at true size from the exact values of a group.
"""

from __future__ import annotations

import math

from handouts_build.figures.figure import Figure
from handouts_build.figures.templates.draw import LETTER_MM, TemplateDrawing, spread
from handouts_build.figures.templates.frame import Room, Template
from handouts_build.language import in_a_row, labelled, phrases_in_a_row, tr
from handouts_build.sheet import Group

__all__ = ["segment", "stave", "stop_settings", "wedge"]

_WEDGE_MM = 130.0
"""Length of the wedge's sides, where a page has room for it: the longer, the truer the fences are set by it."""
_LEAST_MM = 46.0
"""A drawing with lettering is at least this wide."""
_BAR_MM = 14.0
_ROOM_MM = 60.0
"""For the lettering beside the marks of the bar."""


def wedge(group: Group, room: Room) -> Template | None:
    """The wedge between two fences of a sled: its angle is that of one segment.

    Args:
        group: Of the chapter of rings and staves.
        room: What a page takes.
    """
    half = math.radians(180.0 / _pieces(group))
    side = min(_WEDGE_MM, (room.width - 2) / (2 * math.sin(half)), (room.height - 12) / math.cos(half))
    wide, high = side * math.sin(half), side * math.cos(half)
    across = max(2 * wide, _LEAST_MM)
    canvas = TemplateDrawing()
    middle = across / 2
    canvas.line([(middle, 0.0), (middle - wide, high), (middle + wide, high)], kind="cut", closed=True)
    canvas.line([(middle, high * 0.25), (middle, high)], kind="axis")
    angle = f"{2 * math.degrees(half):.4g}°"
    canvas.text(middle, high + LETTER_MM * 1.1, tr("{angle} between the fences", angle=angle), anchor="middle")
    below = high + LETTER_MM * 1.9
    alt = tr("A wedge whose two sides, {side} mm long, meet at {angle}.", side=f"{side:.0f}", angle=angle)
    svg = canvas.svg(-0.1, -0.1, across + 0.2, below)
    figure = Figure(f"{group.name}-wedge", group.name, tr("Wedge for the fences"), svg, alt, across + 0.2, below)
    use = tr(
        "Glue it to a stiff card and cut it true. Set the two fences of a sled against its "
        "sides: {angle} between them is {miter} on each end of a segment. A trial ring "
        "decides, not the paper.",
        angle=angle,
        miter=group.printed["miter"].lead,
    )
    return Template(tr("Wedge for the fences"), use, (figure,))


def segment(group: Group, room: Room) -> Template | None:
    """One piece of the ring from above; None where a page has no room for it.

    Args:
        group: Of the chapter of rings and staves.
        room: What a page takes.
    """
    outer, inner, thick = (_mm(group, name) for name in ("outer_edge", "inner_edge", "thick"))
    wide = max(outer, _LEAST_MM)
    if wide > room.width - 1 or thick > room.height - 20:
        return None
    canvas = TemplateDrawing()
    middle = wide / 2
    canvas.line(
        [(middle - outer / 2, thick), (middle + outer / 2, thick), (middle + inner / 2, 0), (middle - inner / 2, 0)],
        kind="cut", closed=True,
    )  # fmt: skip
    lines = (
        tr("outer edge {outer_edge}", outer_edge=group.printed["outer_edge"].lead),
        tr("{thick} wide", thick=group.printed["thick"].lead),
    )
    for number, line in enumerate(lines, start=1):
        canvas.text(middle, thick + number * LETTER_MM * 1.3, line, anchor="middle")
    high = thick + LETTER_MM * 3.4
    alt = tr(
        "One segment: {outer_edge} on its outer edge, {inner_edge} on its inner one, {thick} wide.",
        outer_edge=group.printed["outer_edge"],
        inner_edge=group.printed["inner_edge"],
        thick=group.printed["thick"],
    )
    svg = canvas.svg(-0.1, -0.1, wide + 0.2, high)
    figure = Figure(f"{group.name}-segment", group.name, tr("One segment"), svg, alt, wide + 0.2, high)
    return Template(
        tr("One segment"), tr("Lay the first piece off the saw on it. Both slants must be covered."), (figure,)
    )


def stave(group: Group, room: Room) -> Template | None:
    """A tapered stave's outer face; None where a page has no room for it.

    Args:
        group: Of the chapter of tapered staves.
        room: What a page takes.
    """
    long, top, foot = (_mm(group, name) for name in ("long", "wide_end", "narrow_end"))
    wide = max(top, _LEAST_MM)
    if wide > room.width - 1 or long > room.height - 12:
        return None
    canvas = TemplateDrawing()
    middle = wide / 2
    corners = [(middle - top / 2, 0.0), (middle + top / 2, 0.0), (middle + foot / 2, long), (middle - foot / 2, long)]
    canvas.line(corners, kind="cut", closed=True)
    canvas.line([(middle, 0.0), (middle, long)], kind="axis")
    canvas.text(
        middle, long + LETTER_MM * 1.1, tr("blade tilted {tilt}", tilt=group.printed["tilt"].lead), anchor="middle"
    )
    high = long + LETTER_MM * 1.9
    svg = canvas.svg(-0.1, -0.1, wide + 0.2, high)
    alt = tr(
        "The outer face of a stave: {wide} and {narrow} wide, with its center line.",
        wide=group.printed["wide_end"],
        narrow=group.printed["narrow_end"],
    )
    figure = Figure(f"{group.name}-face", group.name, tr("One stave"), svg, alt, wide + 0.2, high)
    use = tr("Its outer face. Lay out the board with it, head to tail, a saw cut between any two.")
    return Template(tr("One stave"), use, (figure,))


def stop_settings(group: Group, room: Room) -> Template | None:
    """A bar with the outer edge of every ring's segment from its end: what the stop is set to.

    Args:
        group: A stack.
        room: What a page takes.
    """
    assert group.stack is not None
    edges: dict[float, list[str]] = {}
    printed: dict[float, str] = {}
    for ring in group.stack.rings:
        if ring.edge is None or ring.edge_printed is None:
            continue
        place = round(float(ring.edge.m_as("mm")), 2)
        edges.setdefault(place, []).append(ring.says)
        printed[place] = str(ring.edge_printed)
    if not edges or max(edges) > room.height - 8:
        return None
    places = sorted(edges)
    canvas = TemplateDrawing()
    long = places[-1] + 6.0
    canvas.line([(0, 0), (_BAR_MM, 0), (_BAR_MM, long), (0, long)], kind="cut", closed=True)
    heights = spread(places, low=LETTER_MM, high=max(long, len(places) * LETTER_MM * 1.3))
    sentences = []
    for place, height in zip(places, heights, strict=True):
        canvas.line([(_BAR_MM * 0.35, place), (_BAR_MM, place), (_BAR_MM + 3, height)])
        words = labelled(in_a_row(edges[place]), printed[place])
        canvas.text(_BAR_MM + 4, height, words)
        sentences.append(words)
    high = max(long, heights[-1] + LETTER_MM)
    wide = _BAR_MM + 4 + _ROOM_MM
    svg = canvas.svg(-0.1, -0.1, wide, high + 0.2)
    alt = tr("A bar with a mark for each ring, from its end: {told}.", told=phrases_in_a_row(sentences))
    figure = Figure(f"{group.name}-stops", group.name, tr("Stop-block settings"), svg, alt, wide, high + 0.2)
    use = tr(
        "Lay its end against the blade at the long point of the cut and bring the stop to a "
        "ring's mark: outer edges, long point to long point. Saw one, measure it, then saw "
        "the ring."
    )
    return Template(tr("Stop-block settings"), use, (figure,))


def _pieces(group: Group) -> int:
    return round(float(group.values["pieces"].magnitude))


def _mm(group: Group, name: str) -> float:
    return float(group.values[name].m_as("mm"))
