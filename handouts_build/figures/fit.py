"""The drawing of a tenon in its hole.

This module owns what it shows and says. It leaves the numbers to the sheet. The gap
is drawn wider than it is wherever it would not be seen, and the drawing says so.
"""

from __future__ import annotations

from dataclasses import dataclass

from handouts_build.figures.canvas import Canvas, Point
from handouts_build.figures.dimensioning import (
    Callout,
    arrows_between,
    block,
    callouts,
    horizontal,
    tall,
    torn,
    vertical,
)
from handouts_build.figures.drawing import Numbers, Scale, change, finished, noted
from handouts_build.figures.figure import Figure
from handouts_build.figures.labels import label
from handouts_build.figures.style import CENTER, DIMENSION, OUTLINE, Pen, Role, some
from handouts_build.language import tr, tr_later
from handouts_build.sheet import Group

__all__ = ["joint"]

_WIDE = tr_later("The gap is drawn wider than it is, so that it can be seen.")


@dataclass(frozen=True)
class _Words:
    """What is said of what goes into the hole, by what the trade calls it."""

    name: str
    section: str
    pressed: str
    shoulder: str
    long: str


_TENON = _Words(
    name=tr_later("tenon"),
    section=tr_later(
        "A section along the joint: a tenon {tenon} across in a hole {hole} across, on a part {part} across."
    ),
    pressed=tr_later("Between the two there is no gap: the tenon is pressed or snapped in."),
    shoulder=tr_later("The shoulder around the tenon is {shoulder} wide."),
    long=tr_later("The tenon is {tenon_long} long in a hole {depth} deep, with {end_gap} left free at its end."),
)
_SPIGOT = _Words(
    name=tr_later("spigot"),
    section=tr_later(
        "A section along the joint: a spigot {tenon} across in a recess {hole} across, on a part {part} across."
    ),
    pressed=tr_later("Between the two there is no gap: the spigot is pressed or snapped in."),
    shoulder=tr_later("The shoulder around the spigot is {shoulder} wide."),
    long=tr_later("The spigot is {tenon_long} long in a recess {depth} deep, with {end_gap} left free at its end."),
)
_SEEN_MM = 1.0
"""Least gap on one side that is seen."""

_LETTERED_MM = 21.0
"""Length at which a dimension along the joint surely has its lettering within."""

_BEYOND_MM = 6.5
"""Wood drawn around the part, before it is broken off."""


def joint(group: Group) -> Figure:
    """The section along the axis of the joint."""
    known = Numbers(group)
    words = _SPIGOT if group.called == "spigot" else _TENON
    lettered = {"tenon": words.name, "part": tr_later("part")}
    deep = known.mm("depth") if known.more_than_nought("depth") else 0.0
    wood = known.mm("wood_length") if deep and known.more_than_nought("wood_length") else 0.0
    scale = Scale.fitting((known.mm("part"), 27.0), (deep, 23.0), (wood, 30.0))
    part, hole = known.mm("part") / 2 * scale, known.mm("hole") / 2 * scale
    true = known.mm("allowance") / 2 * scale
    # A tenon that is pressed in is drawn as wide as its hole.
    gap = max(true, min(_SEEN_MM, hole * 0.3)) if true > 0 else 0.0
    tenon = hole - gap
    bottom = -deep * scale if deep else -19.0
    end = -known.mm("tenon_long") * scale if deep and "tenon_long" in known else bottom
    left = -wood * scale if wood else (bottom - 7.0 if deep else bottom)
    outer, right = max(part, hole) + _BEYOND_MM, 14.5
    canvas = Canvas(f"{group.name}-fit")

    # The wood with the hole, broken off where it goes on.
    top_edge, low_edge = torn((left, outer), (0, outer)), torn((left, -outer), (0, -outer))
    left_edge = [(left, -outer), (left, outer)] if wood else torn((left, -outer), (left, outer))
    body = [*low_edge, (0, outer), *reversed(top_edge), *reversed(left_edge)]
    canvas.face(body)
    canvas.hatch(body, apart=2.2)
    opening: list[Point] = [(bottom, -hole), (0, -hole), (0, hole), (bottom, hole)]
    canvas.face(opening, fill=Role.PAPER)
    # The part with the tenon; its hatching leans the other way.
    right_edge = torn((right, -part), (right, part))
    piece = [(end, -tenon), (0, -tenon), (0, -part), *right_edge, (0, part), (0, tenon), (end, tenon)]
    canvas.face(piece)
    canvas.hatch(piece, angle=-45.0, apart=2.2)
    for edge in (top_edge, low_edge):
        canvas.line(edge, DIMENSION)
    canvas.line(left_edge, OUTLINE if wood else DIMENSION)
    canvas.line(right_edge, DIMENSION)
    for way in (-1, 1):
        canvas.line([(bottom, way * hole), (0, way * hole), (0, way * outer)], OUTLINE)
        canvas.line([(end, way * tenon), (0, way * tenon), (0, way * part), (right, way * part)], OUTLINE)
    if deep:
        canvas.line([(bottom, -hole), (bottom, hole)], OUTLINE)
        canvas.line([(end, -tenon), (end, tenon)], OUTLINE)
    canvas.line([(left - 2.5, 0), (right + 2.5, 0)], CENTER)

    labels = []
    if gap:
        around = tr("gap, all\naround")
        labels.append(Callout((-4.0, gap / 2 - hole), label(known["glue_gap"], around), "none", -outer + 1.0))
    # Diameters stand within their own piece where there is room for them.
    inside: list[tuple[float, tuple[str, ...]]] = []
    across = tall(("tenon", "Ø", "()")) + 7.0
    for x, half, name in ((end * 0.5, tenon, "tenon"), (right * 0.58, part, "part")):
        arrows_between(canvas, (x, -half), (x, half))
        if 2 * half >= across and (name == "part" or -end >= 17.0):
            inside.append((x, label(known[name], tr(lettered[name]), before="Ø")))
        else:
            wish = -half - (4.0 if name == "part" else 9.0)
            labels.append(Callout((x, -half * 0.5), label(known[name], tr(lettered[name]), before="Ø"), "none", wish))
    if known.more_than_nought("shoulder") and part - tenon > 0.6:
        arrows_between(canvas, (2.6, tenon), (2.6, part), pen=Pen(0.9, Role.ACCENT))
        labels.append(Callout((2.6, (tenon + part) / 2), label(known["shoulder"], tr("shoulder")), "none", part * 0.55))
    callouts(canvas, labels, x=right + 3.6, side="right")
    # Last, so that a leader that passes behind them is broken by them.
    for x, lines in inside:
        block(canvas, (x, 0), lines, ground=Role.WOOD)
    vertical(canvas, (left, -hole), (left, hole), x=left - 7.1, printed=known["hole"], name=tr("hole"), before="Ø")

    alt = [
        tr(words.section, tenon=known["tenon"], hole=known["hole"], part=known["part"]),
        (
            tr("Between the two a gap of {glue_gap} is left all around.", glue_gap=some(known["glue_gap"]))
            if gap
            else tr(words.pressed)
        ),
        tr("It is roughed to {rough} first, and turned to fit by calipers.", rough=known["rough"]),
    ]
    if known.more_than_nought("shoulder"):
        alt.append(tr(words.shoulder, shoulder=known["shoulder"]))
    if deep and "tenon_long" in known:
        _along(
            canvas, known, left=left, bottom=bottom, end=end, low=-outer, tenon=tenon, hole=hole, name=tr(words.name)
        )
        alt.append(tr(words.long, tenon_long=known["tenon_long"], depth=known["depth"], end_gap=known["end_gap"]))
        if wood and "floor" in known:
            alt.append(
                tr(
                    "Of {wood_length} of wood {floor} is left beyond the bottom of the hole.",
                    wood_length=known["wood_length"],
                    floor=known["floor"],
                )
            )
    if "fit_change" in known:
        alt.append(
            change(
                known,
                "fit_change",
                more=tr_later("From where it is made to where it is kept the fit opens by {amount}."),
                less=tr_later("From where it is made to where it is kept the fit closes by {amount}."),
                none=tr_later("From where it is made to where it is kept the fit stays as it is."),
            )
        )
    wide = [tr(_WIDE)] if gap > true * 1.01 and gap else []
    noted(canvas, *wide, scale=scale)
    return finished(canvas, group, "fit", tr("{title}: section", title=group.title), [*alt, *wide])


def _along(
    canvas: Canvas,
    known: Numbers,
    *,
    left: float,
    bottom: float,
    end: float,
    low: float,
    tenon: float,
    hole: float,
    name: str,
) -> None:
    """Dimensions along the axis, the shortest nearest the joint. Places are in mm of paper."""
    # Lettering that the tenon is too short for stands beside its line: then below the labels at the right.
    first = low - 6.5 if -end >= _LETTERED_MM else min(low - 6.5, canvas.extent.bottom - 5.0)
    second, third = first - 11.5, first - 21.0
    horizontal(canvas, (end, -tenon), (0, low), y=first, printed=known["tenon_long"], name=name)
    if end - bottom > 0.3:
        canvas.line([(bottom, -hole - 0.9), (bottom, first - 1.4)], DIMENSION)
        arrows_between(canvas, (bottom, first), (end, first))
    horizontal(canvas, (bottom, first - 1.4), (0, first - 1.4), y=second, printed=known["depth"], name=tr("hole"))
    if "wood_length" in known and "floor" in known and known.more_than_nought("floor"):
        horizontal(
            canvas, (left, low), (bottom, first - 1.4), y=second, printed=known["floor"], name=tr("floor"), spill="left"
        )
        horizontal(
            canvas, (left, second - 1.4), (0, second - 1.4), y=third, printed=known["wood_length"], name=tr("wood")
        )
    if end - bottom > 0.3:
        block(canvas, (bottom - 4.6, first), label(known["end_gap"], tr("end gap")), align="right")
