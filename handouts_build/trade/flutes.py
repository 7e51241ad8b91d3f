"""Laying out flutes: their spacing around, how wide each opens, the land between two, and the way of twisted ones.

This module owns flutes of a round section on a cylinder. A bit of diameter b that goes d deep stands with its middle
a = D/2 − d + b/2 from the axis, and its circle meets that of the work at θ on either side, cos θ = (D²/4 + a² −
b²/4) / (D a). Twisted flutes are cut square to their own way: there the surface curves as a larger circle does, of
D / cos²σ (Euler: the curvature of a cylinder across a line that leans by σ from its axis). It leaves their grid,
where strands fill the whole surface, to `spiral`, and where around the marks fall to `divisions`.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.language import tr
from handouts_build.quantities import Err, Kind, Quantity
from handouts_build.trade.demands import more_than_nought, whole
from handouts_build.trade.divisions import wheels
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Demand, Law

__all__ = ["FLUTES"]

chord = Law(
    "chord", "c", "diameter * sin(180 deg / count)",
    "From the middle of one flute to the middle of the next, straight across", "chord-table", fine=True,
)  # fmt: skip
aside = Law(
    "aside", "e", "pi * diameter * turns",
    "How far around the surface a flute's far end lies from its near end", "helix", fine=True, main=False,
)  # fmt: skip
steep = Law(
    "steep", "σ", "atan(aside / long)", "Angle between a flute and the axis, on the surface unrolled", "lead-angle",
    main=False,
)  # fmt: skip
way = Law(
    "way", "l", "sqrt(long ^ 2 + aside ^ 2)", "Length of a flute along its own way", "helix", main=False,
)  # fmt: skip
curve = Law(
    "curve", "E", "diameter / cos(steep) ^ 2", "Diameter that the surface curves with, square to a flute",
    "curvature-across", main=False, fine=True,
)  # fmt: skip
middle = Law(
    "middle", "a", "curve / 2 - deep + bit / 2", "From the axis of that curve to the middle of the bit",
    "two-circles", main=False, fine=True,
)  # fmt: skip
half = Law(
    "half", "θ", "acos(max(-1, min(1, (curve ^ 2 / 4 + middle ^ 2 - bit ^ 2 / 4) / (curve * middle))))",
    "Half the angle that a flute opens over", "two-circles", main=False,
)  # fmt: skip
wide = Law("wide", "w", "curve * sin(half)", "Width of a flute at the surface", "two-circles", fine=True)
land = Law(
    "land", "f", "pi * diameter * cos(steep) / count - pi * curve * half / (180 deg)",
    "Land left between two flutes, along the surface", "circle", Err.UNDER, fine=True, left=True,
)  # fmt: skip
floor = Law("floor", "F", "diameter - 2 * deep", "Diameter over the floors of the flutes", "circle", left=True)


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """How the lines are laid out, and which wheels serve."""
    remarks = []
    if "turns" in known and known["turns"].magnitude > 0 and "aside" in known:
        remarks.append(
            ChapterRemark(
                tr(
                    "Mark both ends alike, then move the marks of the far end around by {aside}. Join each pair with a "
                    "strip of paper laid along the surface: its edge runs at {steep} to the axis."
                ),
                "helix",
            )
        )
    if "count" in known:
        remarks.append(wheels(round(float(known["count"].magnitude)), "count"))
    return tuple(remarks)


FLUTES = Chapter(
    name="flutes",
    about="Flutes along a round: their spacing, how wide they open, the land between, and how twisted ones run.",
    givens=(
        ChapterInput("count", "n", Kind.NUMBER, "Number of flutes"),
        ChapterInput("diameter", "D", Kind.LENGTH, "Diameter where they are cut"),
        ChapterInput("bit", "b", Kind.LENGTH, "Diameter of the bit, or of the gouge's sweep", exact=True),
        ChapterInput("deep", "d", Kind.LENGTH, "How deep they are"),
        ChapterInput("long", "L", Kind.LENGTH, "How long they are along the axis"),
        ChapterInput("turns", "N", Kind.NUMBER, "Turns that each makes over its length", default="0"),
    ),
    laws=(chord, aside, steep, way, curve, middle, half, wide, land, floor),
    demands=(
        *whole("count", least=1),
        more_than_nought("diameter", "the diameter"),
        more_than_nought("bit", "the bit"),
        more_than_nought("deep", "the depth"),
        more_than_nought("long", "the length"),
        Demand(
            "2 * deep < diameter",
            "problem",
            "flutes {deep} deep leave nothing of {diameter}",
            "cut them shallower",
            "deep",
        ),
        Demand("turns >= 0", "problem", "{turns} turns", "give none or more: left and right are for the cut", "turns"),
        Demand(
            "deep <= bit / 2",
            "mind",
            "flutes {deep} deep go deeper than half a bit of {bit}: their sides stand straight",
            "cut them shallower, or take a larger bit",
            "deep",
        ),
        Demand(
            "land > 0 in",
            "mind",
            "{count} flutes {wide} wide run into each other on {diameter}",
            "cut fewer or narrower ones, or say that sharp edges are meant",
            "count",
        ),
    ),
    remarks=_remarks,
)
