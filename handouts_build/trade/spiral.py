"""Laying out a spiral: strands that climb around a cylinder, on a grid of lengthwise lines and rings.

This module owns the grid and the way of a strand. A strand that climbs one pitch in one turn
runs straight on the surface unrolled: across it lies the way around, up it the pitch. It leaves
carving the strands to the author.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.language import tr, tr_later
from handouts_build.quantities import Kind, Quantity
from handouts_build.trade.demands import more_than_nought, whole
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Demand, Law

__all__ = ["SPIRAL"]

angle = Law(
    "angle", "λ", "atan(pitch / (pi * diameter))",
    "Angle between a strand and a ring around the work", "lead-angle", main=False,
)  # fmt: skip
turns = Law("turns", "N", "long / pitch", "Turns that each strand makes", "helix", main=False)
line = Law(
    "line", "b", "pi * diameter / lines",
    "Distance between two lengthwise lines, along the surface", "circle", fine=True,
)  # fmt: skip
ring = Law("ring", "h", "pitch / lines", "Distance between two rings of the grid", "helix", fine=True)
between = Law(
    "between", "a", "pitch / strands",
    "Distance from one strand to the next, along the axis", "helix", fine=True,
)  # fmt: skip
across = Law(
    "across", "w", "between * pi * diameter / sqrt((pi * diameter) ^ 2 + pitch ^ 2)",
    "Distance from one strand to the next, square to them: bead and hollow together", "helix", fine=True,
)  # fmt: skip
strip = Law(
    "strip", "S", "turns * sqrt((pi * diameter) ^ 2 + pitch ^ 2)",
    "Length of one strand, as of a paper strip wound along it", "helix", main=False,
)  # fmt: skip


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """How a strand is drawn on the grid."""
    remarks = [
        ChapterRemark(
            tr(
                "Draw {lines} lengthwise lines and a ring every {ring}. A strand goes from one crossing to the "
                "next: one line around for every ring along."
            ),
            "helix",
        )
    ]
    if "strands" in known and "lines" in known:
        lines, strands = (round(float(known[name].magnitude)) for name in ("lines", "strands"))
        if strands > 1 and lines % strands == 0:
            # The count of strands is put in with the other values of the chapter.
            sentence = (
                tr_later("The {strands} strands begin at every line.")
                if lines == strands
                else tr(
                    "The {strands} strands begin at every {nth} line.",
                    strands="{strands}",
                    nth=_ordinal(lines // strands),
                )
            )
            remarks.append(ChapterRemark(sentence, "helix"))
    return tuple(remarks)


def _ordinal(number: int) -> str:
    """Such as `2nd`; up to 360."""
    ends = {1: "st", 2: "nd", 3: "rd"}
    return f"{number}{'th' if number % 100 in (11, 12, 13) else ends.get(number % 10, 'th')}"


SPIRAL = Chapter(
    name="spiral",
    about="A spiral on a cylinder: the grid it is drawn on, how steep it climbs, and the room from strand to strand.",
    givens=(
        ChapterInput("diameter", "D", Kind.LENGTH, "Diameter of the cylinder"),
        ChapterInput("long", "L", Kind.LENGTH, "Length of the spiral along the axis"),
        ChapterInput("pitch", "p", Kind.LENGTH, "What one strand climbs along the axis in one turn"),
        ChapterInput("strands", "n", Kind.NUMBER, "Number of strands"),
        ChapterInput("lines", "m", Kind.NUMBER, "Number of lengthwise lines around the work"),
    ),
    laws=(angle, turns, line, ring, between, across, strip),
    demands=(
        more_than_nought("diameter", "the diameter"),
        more_than_nought("long", "the length"),
        more_than_nought("pitch", "the pitch"),
        *whole("strands", least=1, most=60),
        *whole("lines", least=2),
        Demand(
            "round_down(lines / max(1, strands), 1) >= lines / max(1, strands)",
            "mind",
            "{strands} strands do not all begin on one of {lines} lines",
            "give a number of lines that the strands divide",
            "lines",
        ),
    ),
    remarks=_remarks,
)
