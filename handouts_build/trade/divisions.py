"""Dividing a circle: dividers, index wheel, paper strip.

This module owns equal steps around a diameter and how an error adds up over them.
It leaves drilling at the marks to `cross_holes`.

Dividers set to s step off an angle of 2 arcsin(s/D) each time. After n steps they
close to within 360° - 2 n arcsin(s/D), told here as an arc on the circle.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.quantities import Kind, Quantity
from handouts_build.tables import index_wheels
from handouts_build.trade.demands import more_than_nought, whole
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Law

__all__ = ["DIVISIONS", "wheels"]

angle = Law("angle", "α", "360 deg / divisions", "Angle from one mark to the next", "regular-polygon")
chord = Law(
    "chord", "c", "diameter * sin(180 deg / divisions)",
    "Straight distance from one mark to the next", "chord-table", main=False,
)  # fmt: skip
arc = Law(
    "arc", "b", "pi * diameter / divisions",
    "Distance from one mark to the next along the surface, as on a paper strip", "circle", fine=True, main=False,
)  # fmt: skip
strip = Law("strip", "S", "pi * diameter", "Length of a paper strip once around", "circle")
setting = Law(
    "setting", "s", "round_down(chord + rule / 2, rule)",
    "Dividers set to the nearest mark of the rule", "chord-table", exact=True,
)  # fmt: skip
closing = Law(
    "closing", "g", "pi * diameter * (180 deg - divisions * asin(min(1, setting / diameter))) / (180 deg)",
    "Dividers so set, stepped once around, end", "dividers-closing", fine=True, main=False,
    ways=("short of the first mark", "past the first mark"),
)  # fmt: skip


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """Whether to trust the dividers, and which index wheels serve."""
    remarks = []
    if "closing" in known and abs(known["closing"].magnitude) > known["rule"].magnitude / 2:
        ends = "stop short by" if known["closing"].magnitude > 0 else "overshoot by"
        remarks.append(
            ChapterRemark(
                f"Dividers at {{setting}} {ends} {{|closing|}} after {{divisions}} steps: use a paper strip. Wrap it "
                "once around, {strip}, and divide its length by {divisions}: {arc} for each, measured from one end of "
                "the strip. Or trim the dividers until the steps close.",
                "dividers-closing",
            )
        )
    if "divisions" in known:
        remarks.append(wheels(round(float(known["divisions"].magnitude)), "divisions"))
    return tuple(remarks)


def wheels(divisions: int, name: str) -> ChapterRemark:
    """The common index wheels that give so many divisions.

    Args:
        divisions: How many.
        name: The chapter's given that says so.
    """
    serve = [
        f"{wheel.holes} holes (every one)"
        if wheel.holes == divisions
        else f"{wheel.holes} holes (count {wheel.holes // divisions})"
        for wheel in index_wheels()
        if divisions > 0 and wheel.holes % divisions == 0
    ]
    if serve:
        return ChapterRemark(f"Index wheels that give {{{name}}} divisions: " + ", ".join(serve) + ".", "index-wheels")
    usual = ", ".join(str(wheel.holes) for wheel in index_wheels())
    return ChapterRemark(
        f"None of the usual index wheels ({usual} holes) gives {{{name}}} divisions: use the paper strip.",
        "index-wheels",
    )


DIVISIONS = Chapter(
    name="divisions",
    about="Equal divisions around a diameter: angle, dividers and how they close, paper strip, index wheels.",
    givens=(
        ChapterInput("divisions", "n", Kind.NUMBER, "Number of equal divisions"),
        ChapterInput("diameter", "D", Kind.LENGTH, "Diameter at the marks"),
    ),
    laws=(angle, chord, arc, strip, setting, closing),
    demands=(*whole("divisions", least=2), more_than_nought("diameter", "the diameter")),
    remarks=_remarks,
)
