"""Laying a natural-edge bowl out in half a log: the saw line, the rim's curve, weight, balance and start.

This module owns the end view of a half log and what follows from it. The log is a cylinder; the bowl's
axis is square to its pith, its rim toward the bark. The largest round that starts a blank slowly enough
is the speed chapter's rule.

With R half the log's diameter and f the distance of the sawn face from its middle, the face is a chord
2 √(R² − f²) wide, and the wood above it R − f high. A rim d across meets the bark, at an angle θ from the
grain, at √(R² − (d/2 sin θ)²) − f above the face: the curve in which a cylinder meets a smaller one that
crosses it. The end grain's area is the circular segment R² acos(f/R) − f √(R² − f²), and its centroid
lies 2/3 (R² − f²)^(3/2) / area from the middle of the log, which is 4R/3π for a half.

A mass m that lies e off the axis pulls sideways m e ω², which is e ω²/g of its own weight.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from handouts_build.language import tr
from handouts_build.quantities import Err, Kind, Quantity
from handouts_build.trade.demands import more_than_nought
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Demand, Law
from handouts_build.trade.speed import SPEED

__all__ = ["LOG_LAYOUT"]

_G = 9806.65
"""Standard gravity, mm/s² (ISO 80000-3)."""
_PULL = (2 * math.pi / 60) ** 2 / _G
"""Of its own weight, what a mass pulls that turns once a minute, 1 mm off the axis."""

_start = next(law for law in SPEED.laws if law.name == "start")

face = Law(
    "face", "f", "pith_off + pith_clear",
    "From the middle of the log to the sawn face", "log-segment", main=False,
)  # fmt: skip
saw_line = Law(
    "saw_line", "s", "face - kerf / 2",
    "Saw line: how far from the middle of the log to lay it out", "log-segment",
)  # fmt: skip
height = Law(
    "height", "H", "diameter / 2 - face",
    "Height of the blank, from the sawn face to the highest bark", "log-segment", Err.UNDER,
)  # fmt: skip
face_wide = Law(
    "face_wide", "W", "2 * sqrt((diameter / 2) ^ 2 - face ^ 2)",
    "Width of the sawn face", "log-segment", Err.UNDER, main=False,
)  # fmt: skip
largest = Law(
    "largest", "d_1",
    "min(long, 2 * sqrt((diameter / 2) ^ 2 - (face + low) ^ 2))",
    "Largest bowl whose rim keeps its bark and is at least so high at its low sides", "log-segment", Err.UNDER,
)  # fmt: skip
saddle = Law(
    "saddle", "h_2", "sqrt((diameter / 2) ^ 2 - (across / 2) ^ 2) - face",
    "Height of the rim at its two low sides, across the grain", "crossed-cylinders", Err.UNDER,
)  # fmt: skip
halfway = Law(
    "halfway", "h_45", "sqrt((diameter / 2) ^ 2 - across ^ 2 / 8) - face",
    "Height of the rim halfway between wing and low side", "crossed-cylinders", Err.UNDER, main=False,
)  # fmt: skip
drop = Law(
    "drop", "Δh", "height - saddle",
    "How far the two wings, along the grain, stand above the low sides", "crossed-cylinders", Err.OVER,
)  # fmt: skip
end_grain = Law(
    "end_grain", "A",
    "(diameter / 2) ^ 2 * acos(2 * face / diameter) / (180 deg / pi) - face * face_wide / 2",
    "Area of the end of the half log", "log-segment", main=False,
)  # fmt: skip
weight = Law(
    "weight", "m", "density * end_grain * long",
    "Weight of the half log, green, as it comes off the saw", "log-segment", Err.OVER,
)  # fmt: skip
centroid = Law(
    "centroid", "c", "2 / 3 * (face_wide / 2) ^ 3 / end_grain - face",
    "Its center of gravity: height above the sawn face", "log-segment", main=False,
)  # fmt: skip
corners = Law(
    "corners", "D_1", "sqrt(long ^ 2 + face_wide ^ 2) + 2 * off_center",
    "What the half log swings on its corners", "log-segment", Err.OVER, main=False,
)  # fmt: skip
swing = Law(
    "swing", "D_0", "sawn_round + 2 * off_center",
    "What the blank swings, sawn round", "log-segment", Err.OVER, main=False,
)  # fmt: skip
start = Law(
    "start", "n_0", _start.formula.replace("diameter", "swing"),
    "Start the blank no faster than", "start-slow", Err.UNDER,
)  # fmt: skip
corner_start = Law(
    "corner_start", "n_1", _start.formula.replace("diameter", "corners"),
    "Not sawn round, on its corners: no faster than", "start-slow", Err.UNDER, main=False,
)  # fmt: skip
pull = Law(
    "pull", "F/m", f"{_PULL:.12f} * (off_center / (1 mm)) * (start / (1 rpm)) ^ 2",
    "How hard it pulls sideways at that speed, times its own weight", "centripetal", main=False,
)  # fmt: skip


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """How the log is laid out, and what the numbers are worth."""
    remarks = [ChapterRemark(tr("Lay the log out on the end that shows the pith nearer to the bark."), "log-segment")]
    if "saw_line" in known and known["saw_line"].magnitude >= 0:
        remarks.append(
            ChapterRemark(
                tr("The saw line lies {saw_line} from the middle of the log, on the side of the bowl."), "log-segment"
            )
        )
    if {"pith_clear", "kerf"} <= known.keys() and known["pith_clear"] >= known["kerf"]:
        remarks.append(
            ChapterRemark(tr("The pith stays in the other half: clear it there too, if you turn that."), "log-segment")
        )
    remarks.append(
        ChapterRemark(
            tr(
                "A log is no cylinder: its bark swells and tapers. Level the wings by measuring down from a bar "
                "across the rim, and shift the centers until they agree and the low sides agree."
            ),
            "log-segment",
        )
    )
    if "start" in known:
        remarks.append(
            ChapterRemark(
                tr(
                    "Sapwood and bark hold more water than heartwood: a blank on its middle is still out of balance. "
                    "{start} is a bound to stay below; begin at the lathe's slowest."
                ),
                "start-slow",
            )
        )
    return tuple(remarks)


LOG_LAYOUT = Chapter(
    name="log layout",
    about="A natural-edge bowl in half a log: the saw line clear of the pith, the rim's curve, weight, balance, start.",
    givens=(
        ChapterInput("diameter", "D", Kind.LENGTH, "Diameter of the log, over the bark"),
        ChapterInput("long", "L", Kind.LENGTH, "Length of the log section, along the grain"),
        ChapterInput("across", "d", Kind.LENGTH, "Diameter of the bowl at its rim"),
        ChapterInput("pith_clear", "a", Kind.LENGTH, "How far the sawn face is to clear the pith", signed=True),
        ChapterInput(
            "pith_off", "p", Kind.LENGTH, "How far the pith lies from the middle of the log, toward the bowl",
            optional=True, default="0 in", signed=True,
        ),
        ChapterInput(
            "kerf", "k", Kind.LENGTH, "Width of the chain saw's cut", optional=True, default="3/8 in", signed=True
        ),
        ChapterInput(
            "low", "h_0", Kind.LENGTH, "Least height of the rim above the sawn face, at its low sides", optional=True,
            default="0 in", signed=True,
        ),
        ChapterInput("high", "h", Kind.LENGTH, "Height of the bowl with its tenon", optional=True),
        ChapterInput("density", "ρ", Kind.DENSITY, "Density of the green wood", optional=True),
        ChapterInput("sawn_round", "D_r", Kind.LENGTH, "Diameter that the blank is sawn round to", optional=True),
        ChapterInput(
            "off_center", "e", Kind.LENGTH, "How far its center of gravity lies off the axis as it is mounted",
            optional=True, default="0 in", signed=True,
        ),
    ),
    laws=(
        face, saw_line, height, face_wide, largest, saddle, halfway, drop, end_grain, weight, centroid, corners, swing,
        start, corner_start, pull,
    ),
    demands=(
        more_than_nought("diameter", "the log's diameter"),
        more_than_nought("long", "the log's length"),
        more_than_nought("across", "the bowl's diameter"),
        more_than_nought("high", "the bowl's height"),
        more_than_nought("sawn_round", "the blank's diameter"),
        *(
            Demand(f"{name} >= 0 in", "problem", f"{called} is {{{name}}}", "give 0 in or more", name)
            for name, called in (
                ("pith_clear", "the distance from the pith"), ("pith_off", "the pith's distance from the middle"),
                ("kerf", "the kerf"), ("low", "the least height of the rim"),
                ("off_center", "the distance off center"),
            )
        ),
        Demand(
            "pith_off + pith_clear + low < 0.499 * diameter", "problem",
            "a face that clears the pith by {pith_clear}, with {low} of rim above it, does not lie in a log {diameter} "
            "across",
            "choose a larger log, or one whose pith lies nearer to its middle", "pith_clear",
        ),
        Demand(
            "across < diameter", "problem", "a bowl {across} across is as wide as its log, {diameter}, or wider",
            "choose a larger log, or a smaller bowl", "across",
        ),
        Demand(
            "saw_line >= 0 in", "mind",
            "half the kerf is more than the pith is to be cleared by: the saw line lies past the middle",
            "clear the pith by at least half the kerf", "pith_clear",
        ),
        Demand(
            "pith_clear > 0 in", "mind",
            "the pith lies in the sawn face: wood with its pith in it cracks as it dries",
            "saw so far from it that the bowl is clear of it", "pith_clear", "pith-cracks",
        ),
        Demand(
            "across <= long", "stop", "a bowl {across} across does not come out of a log section {long} long",
            "cut the section longer", "across",
        ),
        Demand(
            "across <= 2 * sqrt((diameter / 2) ^ 2 - (face + low) ^ 2)", "stop",
            "the log is too small: a rim {across} across would be {saddle} high at its low sides, or run out of the "
            "wood, and it is to be {low}",
            "choose a larger log, or a smaller bowl: {largest} at the most", "across", "crossed-cylinders",
        ),
        Demand(
            "high <= height", "stop", "a bowl {high} high with its tenon does not come out of {height} of wood",
            "choose a larger log, or a lower bowl", "high",
        ),
        Demand(
            "across <= sawn_round", "stop", "a rim {across} across does not come out of a round of {sawn_round}",
            "saw the blank larger", "sawn_round",
        ),
        Demand(
            "sawn_round <= min(long, face_wide)", "stop",
            "a round of {sawn_round} does not come out of a half log {long} long and {face_wide} wide",
            "saw a smaller round, or choose a larger log", "sawn_round",
        ),
        Demand(
            "pull <= 1", "mind",
            "{off_center} off center, at {start} it pulls sideways harder than it weighs, and the lathe walks",
            "shift the centers, or screw a weight to the light side, and start slower", "off_center", "walks",
        ),
    ),
    remarks=_remarks,
)  # fmt: skip
