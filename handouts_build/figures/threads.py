"""The drawing of a thread: the lid's wall and the box's spigot in section, one side of the axis.

This module owns what it shows and says. It leaves the numbers to the sheet. The play between
the two is drawn wider than it is wherever it would not be seen, and the drawing says so.
"""

from __future__ import annotations

import math

from handouts_build.figures.canvas import Canvas, Point
from handouts_build.figures.dimensioning import (
    GAP_MM,
    OVER_MM,
    Callout,
    arrows_between,
    block,
    callouts,
    horizontal,
    torn,
)
from handouts_build.figures.drawing import Numbers, Scale, finished, noted
from handouts_build.figures.figure import Figure
from handouts_build.figures.labels import label
from handouts_build.figures.style import DIMENSION, OUTLINE, Role, both
from handouts_build.language import tr, tr_later
from handouts_build.sheet import Group

__all__ = ["section"]

_WIDE = tr_later("The play is drawn wider than it is, so that it can be seen.")
_PITCHES = 3
_PITCH_MM, _DEPTH_MM = 10.0, 7.0
"""Room on paper for one pitch, and for the depth."""
_SEEN_MM = 0.7
"""Least play that is seen."""
_DEPTH_AT_MM = -3.5
"""Where the depth is dimensioned."""
_WALL_MM, _LEAST_MM = 9.0, 4.0
"""Wood that is drawn on each side of the threads at the most, and at the least."""


def section(group: Group) -> Figure:
    """The two threads along the axis, which lies far below them."""
    known = Numbers(group)
    scale = Scale.fitting((known.mm("pitch"), _PITCH_MM), (known.mm("depth"), _DEPTH_MM))
    pitch, depth = known.mm("pitch") * scale, known.mm("depth") * scale
    true = known.mm("allowance") / 2 * scale
    play = max(true, _SEEN_MM)
    long = _PITCHES * pitch
    flat = (pitch - 2 * depth * math.tan(math.radians(30))) / 3
    canvas = Canvas(f"{group.name}-threads")

    # Nought is the wall of the lid's hole. Its thread goes up from there, the spigot's stands a play below it.
    root = _teeth(pitch, depth, flat, long, base=0.0)
    ridge = _teeth(pitch, depth, flat, long, base=-play)
    top = depth + _wall(known, "behind", scale)
    low = -play - _wall(known, "within", scale)
    for teeth, edge, angle, whole in ((root, top, 45.0, "behind"), (ridge, low, -45.0, "within")):
        far: list[Point] = [(0.0, edge), (long, edge)]
        shown = known.more_than_nought(whole) and abs(edge - teeth[0][1]) < _WALL_MM + depth
        outer = far if shown else torn(far[0], far[1])
        body = [*teeth, *reversed(outer)]
        canvas.face(body)
        canvas.hatch(body, angle=angle, apart=2.2)
        canvas.line(outer, OUTLINE if shown else DIMENSION)
        canvas.line(teeth, OUTLINE)
        for x in (0.0, long):
            ends = sorted((edge, teeth[0][1] if x == 0 else teeth[-1][1]))
            canvas.line(torn((x, ends[0]), (x, ends[1]), swing=0.25), DIMENSION)
    block(canvas, (pitch, (depth + top) / 2), (tr("lid"),), ground=Role.WOOD)
    block(canvas, (2 * pitch, (low - play) / 2), (tr("box"),), ground=Role.WOOD)

    horizontal(
        canvas,
        (0.5 * pitch, depth),
        (1.5 * pitch, depth),
        y=top + 5.0,
        printed=known["pitch"],
        name=tr("pitch"),
        spill="left",
    )
    canvas.line([(0.5 * pitch - flat / 2 - GAP_MM, depth), (_DEPTH_AT_MM - OVER_MM, depth)], DIMENSION)
    canvas.line([(-GAP_MM, 0), (_DEPTH_AT_MM - OVER_MM, 0)], DIMENSION)
    arrows_between(canvas, (_DEPTH_AT_MM, 0), (_DEPTH_AT_MM, depth))
    box = [
        Callout((_DEPTH_AT_MM, depth / 2), label(known["depth"], tr("depth")), "none", depth + 2.0),
        Callout((0.5 * pitch, depth - play), label(known["spigot"], tr("spigot"), before="Ø"), wish=-play - 3.0),
        Callout((pitch, -play), label(known["core"], tr("bottom of the\nbox's thread"), before="Ø"), wish=low - 6.0),
    ]
    lid = [
        Callout(
            ((_PITCHES - 0.5) * pitch, depth), label(known["diameter"], tr("bottom of the\nlid's thread"), before="Ø"),
            wish=top + 1.0,
        ),
        Callout(
            ((_PITCHES - 1) * pitch, 0.0), label(known["hole"], tr("hole in\nthe lid"), before="Ø"), wish=depth / 2
        ),
    ]  # fmt: skip
    callouts(canvas, box, x=_DEPTH_AT_MM - 3.0, side="left")
    callouts(canvas, lid, x=long + 4.0, side="right")
    widened = [tr(_WIDE)] if play > true * 1.01 else []
    noted(canvas, f"{tr('Flanks lean 30° each.')} {_lead(known)}", *widened, scale=scale)
    alt = [
        tr(
            "A section of one side: the lid's thread is {diameter} across at its bottom, its "
            "pitch is {pitch} and its depth {depth}.",
            diameter=known["diameter"],
            pitch=known["pitch"],
            depth=known["depth"],
        ),
        tr("The hole in the lid is turned to {hole} first.", hole=known["hole"]),
        tr(
            "The spigot on the box is turned to {spigot} first, and its thread is {core} across at its bottom.",
            spigot=known["spigot"],
            core=known["core"],
        ),
        tr("In one turn the lid goes {lead}.", lead=known["lead"]),
    ]
    if "turns" in known:
        alt.append(tr("It closes in {turns} turns.", turns=known["turns"]))
    if "behind" in known:
        alt.append(tr("Behind the lid's thread {behind} of wood is left.", behind=known["behind"]))
    if "within" in known:
        alt.append(tr("Within the box's thread {within} of wood is left.", within=known["within"]))
    alt.append(
        tr("Facing {facing} off the box's rim turns the closed lid an eighth of a turn on.", facing=known["facing"])
    )
    alt.append(tr("It is chased no faster than {chasing}.", chasing=known["chasing"]))
    return finished(
        canvas, group, "threads", tr("{title}: section of the threads", title=group.title), [*alt, *widened]
    )


def _teeth(pitch: float, depth: float, flat: float, long: float, *, base: float) -> list[Point]:
    """The section of a thread from valley to valley, the valleys at a height; mm of paper."""
    points: list[Point] = [(0.0, base)]
    for turn in range(_PITCHES):
        ridge = (turn + 0.5) * pitch
        foot = flat / 2 + depth * math.tan(math.radians(30))
        points += [
            (ridge - foot, base), (ridge - flat / 2, base + depth), (ridge + flat / 2, base + depth),
            (ridge + foot, base),
        ]  # fmt: skip
    return [*points, (long, base)]


def _wall(known: Numbers, name: str, scale: Scale) -> float:
    """How much wood is drawn on one side of the threads, mm of paper."""
    wood = known.mm(name) * scale if known.more_than_nought(name) else _WALL_MM
    return max(_LEAST_MM, min(wood, _WALL_MM))


def _lead(known: Numbers) -> str:
    """How the lid goes on, in a note."""
    sentence = tr("One turn: {lead}.", lead=both(known["lead"]))
    return (
        f"{sentence} {tr('It closes in {turns} turns.', turns=known['turns'].lead)}" if "turns" in known else sentence
    )
