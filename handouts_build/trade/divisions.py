"""Dividing a circle: dividers, index wheel, paper strip.

This module owns equal steps around a diameter and how an error adds up over them.
It leaves drilling at the marks to `cross_holes`.

Dividers set to s step off an angle of 2 arcsin(s/D) each time. After n steps they
close to within 360° - 2 n arcsin(s/D), told here as an arc on the circle.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.language import in_a_row, tr, tr_later
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
    ways=(tr_later("{amount} short of the first mark"), tr_later("{amount} past the first mark")),
)  # fmt: skip
_SHORT = tr_later(
    "Dividers at {setting} stop short by {|closing|} after {divisions} steps: use a paper strip. Wrap it once around, "
    "{strip}, and divide its length by {divisions}: {arc} for each, measured from one end of the strip. Or trim the "
    "dividers until the steps close."
)
_OVER = tr_later(
    "Dividers at {setting} overshoot by {|closing|} after {divisions} steps: use a paper strip. Wrap it once around, "
    "{strip}, and divide its length by {divisions}: {arc} for each, measured from one end of the strip. Or trim the "
    "dividers until the steps close."
)
"""What is said of dividers that do not close, by the side they miss the first mark on."""


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """Whether to trust the dividers, and which index wheels serve."""
    remarks = []
    if "closing" in known and abs(known["closing"].magnitude) > known["rule"].magnitude / 2:
        remarks.append(ChapterRemark(tr(_SHORT if known["closing"].magnitude > 0 else _OVER), "dividers-closing"))
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
        tr("{holes} holes (every one)", holes=wheel.holes)
        if wheel.holes == divisions
        else tr("{holes} holes (count {step})", holes=wheel.holes, step=wheel.holes // divisions)
        for wheel in index_wheels()
        if divisions > 0 and wheel.holes % divisions == 0
    ]
    # The count is put in with the other values of the chapter.
    divided = f"{{{name}}}"
    if serve:
        sentence = tr(
            "Index wheels that give {divisions} divisions: {wheels}.", divisions=divided, wheels=in_a_row(serve)
        )
        return ChapterRemark(sentence, "index-wheels")
    usual = in_a_row(str(wheel.holes) for wheel in index_wheels())
    sentence = tr(
        "None of the usual index wheels ({wheels} holes) gives {divisions} divisions: use the paper strip.",
        divisions=divided,
        wheels=usual,
    )
    return ChapterRemark(sentence, "index-wheels")


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
