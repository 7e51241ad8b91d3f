"""Tapered tubes of staves: the compound angle, the shape of a stave, and the board they are laid out on.

This module owns the pyramid that n sloping sides make. Straight tubes are in `rings`.

With α = 180°/n and θ the slope of a side from the axis, the normals of two neighbors stand at
δ to each other, cos δ = cos²θ cos 2α + sin²θ. Half of that is the blade's tilt, so that
sin β = sin α cos θ. Along its face a side grows by 2 tan α sin θ in width for each unit of
length, so that its edges lean from its center line by τ, tan τ = tan α sin θ. Upright sides
(θ = 0) have β = α and no taper; flat ones (θ = 90°) are a ring mitered at α.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.language import tr, tr_later
from handouts_build.quantities import Err, Kind, Quantity
from handouts_build.trade.demands import more_than_nought, whole
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Demand, Law
from handouts_build.trade.moisture import (
    TWO_AIRS,
    humidity_demands,
    settling,
    temperature_demands,
    within_movement_range,
)
from handouts_build.trade.wood_words import WoodField, wood_word

__all__ = ["DAMP_PERCENT", "DRY_PERCENT", "SLOPE", "STAVES", "TAPER", "TILT", "WIDE_END"]

DAMP_PERCENT, DRY_PERCENT = 4.0, 2.0
"""How much moister wood may get than it was worked, and how much drier, percent of moisture: from 8 percent to 12 in a
damp season and to 6 in a heated house. A base in its groove needs room for the one, and must not fall out by the other.
Common practice, no published source."""
_FROM = settling("from", "where it is made")
_TO = settling("to", "where it is kept")

SLOPE = Law(
    "slope", "θ", "atan(abs(top - bottom) / (2 * high))",
    "Slope of a stave from the axis: both its ends are sawn at this angle to stand flat", "compound-angle",
)  # fmt: skip
TILT = Law(
    "tilt", "β", "asin(sin(180 deg / pieces) * cos(slope))", "Tilt of the blade for both edges of a stave",
    "compound-angle", exact=True,
)  # fmt: skip
TAPER = Law(
    "taper", "τ", "atan(tan(180 deg / pieces) * sin(slope))", "Taper of each edge, from the stave's center line",
    "compound-angle", exact=True,
)  # fmt: skip
long = Law("long", "l", "high / cos(slope)", "Length of a stave along its face", "compound-angle", Err.OVER)
WIDE_END = Law(
    "wide_end", "s", "max(top, bottom) * tan(180 deg / pieces)", "Width of a stave at its wide end, outside",
    "regular-polygon", Err.OVER,
)  # fmt: skip
narrow_end = Law(
    "narrow_end", "i", "min(top, bottom) * tan(180 deg / pieces)", "Width of a stave at its narrow end, outside",
    "regular-polygon", Err.OVER, main=False,
)  # fmt: skip
board = Law(
    "board", "B", "pieces * ((wide_end + narrow_end) / 2 + kerf / cos(taper)) + (wide_end - narrow_end) / 2",
    "Width of board for all staves, laid head to tail", "segment-strip", Err.OVER,
)  # fmt: skip
opening = Law(
    "opening", "o", "bottom - 2 * thick / cos(slope)", "Opening at the lower end, from flat to flat", "regular-polygon",
    Err.UNDER, main=False, left=True,
)  # fmt: skip
base = Law(
    "base", "b", "bottom + (top - bottom) * up / high - 2 * thick / cos(slope) + 2 * deep",
    "Width of the groove's floor, from flat to flat", "regular-polygon", Err.UNDER, main=False,
)  # fmt: skip
room = Law(
    "room", "r", "max(0 in, base * base_movement * (emc_to - emc_from))",
    "Room that the base needs to swell in its groove, along the growth rings", "wood-handbook-13-2", Err.OVER,
    main=False,
)  # fmt: skip
base_wide = Law(
    "base_wide", "b'", "base - room", "Width to saw the base to, from flat to flat", "regular-polygon", Err.UNDER,
)  # fmt: skip


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """How the angles are set and proved, and why the base is loose."""
    remarks = []
    if "pieces" in known:
        remarks.append(
            ChapterRemark(
                tr(
                    "The two settings go together: try both on scrap, tape the trial staves edge to edge, and "
                    "fold them up. A gap outside asks for more tilt; ends that climb like a screw ask for "
                    "another taper."
                ),
                "common practice, no published source",
            )
        )
    if "deep" in known:
        remarks.append(
            ChapterRemark(
                tr(
                    "A base of solid wood moves across its grain, and the staves do not along theirs: leave it without "
                    "glue in its groove, with room to swell."
                ),
                "common practice, no published source",
            )
        )
    return tuple(remarks)


STAVES = Chapter(
    name="tapered staves",
    about="A tapered tube of staves: slope, blade tilt and taper, the shape of a stave, the board, a base in a groove.",
    givens=(
        ChapterInput("pieces", "n", Kind.NUMBER, "Number of staves"),
        ChapterInput("bottom", "d", Kind.LENGTH, "Width outside at the lower end, from flat to flat"),
        ChapterInput("top", "D", Kind.LENGTH, "Width outside at the upper end, from flat to flat"),
        ChapterInput("high", "h", Kind.LENGTH, "Height along the axis"),
        ChapterInput("thick", "t", Kind.LENGTH, "Thickness of a stave"),
        ChapterInput("kerf", "k", Kind.LENGTH, "Width of the saw cut", default="1/8 in"),
        ChapterInput("up", "u", Kind.LENGTH, "Height of the groove's middle above the lower end", optional=True),
        ChapterInput("deep", "g", Kind.LENGTH, "Depth of the groove, level", optional=True),
        ChapterInput(
            "base_movement",
            "C_b",
            Kind.NUMBER,
            "How much the base's wood moves along the rings for 1 percent of moisture, as a share",
            optional=True,
        ),
        *TWO_AIRS,
    ),
    words=(
        wood_word(
            "base_wood",
            "Wood of the base",
            WoodField(
                "base_movement", ("c_tangential",), tr_later("movement along the rings for 1 percent of moisture")
            ),
        ),
    ),
    laws=(SLOPE, TILT, TAPER, long, WIDE_END, narrow_end, board, opening, base, *_FROM, *_TO, room, base_wide),
    demands=(
        *whole("pieces", least=3, most=180),
        more_than_nought("bottom", "the lower width"),
        more_than_nought("top", "the upper width"),
        more_than_nought("high", "the height"),
        more_than_nought("thick", "the thickness"),
        more_than_nought("kerf", "the saw cut"),
        Demand(
            "opening > 0 in",
            "stop",
            "staves {thick} thick fill a tube {bottom} wide at its lower end",
            "make the tube wider or the staves thinner",
            "thick",
        ),
        Demand(
            "deep < thick",
            "stop",
            "a groove {deep} deep goes through staves {thick} thick",
            "make the groove shallower",
            "deep",
        ),
        Demand(
            "deep <= thick / 2",
            "mind",
            "a groove {deep} deep takes more than half of staves {thick} thick",
            "make it a third of their thickness",
            "deep",
        ),
        Demand(
            "base_movement > 0",
            "problem",
            "a movement of {base_movement} is none",
            "give a share such as 0.003, or the wood by its name",
            "base_movement",
        ),
        Demand(
            "base_movement <= 0.01",
            "problem",
            "a movement of {base_movement} for 1 percent of moisture is more than any wood has",
            "give a share such as 0.003, or the wood by its name",
            "base_movement",
        ),
        Demand(
            "room < deep",
            "stop",
            "the base gets {room} of room, and the groove is {deep} deep: pushed to one side it comes out at the other",
            "make the groove deeper, or the base of boards that move less, such as plywood",
            "deep",
        ),
        *humidity_demands("from"),
        *humidity_demands("to"),
        *temperature_demands(),
        *within_movement_range("from"),
        *within_movement_range("to"),
    ),
    remarks=_remarks,
)
