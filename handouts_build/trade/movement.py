"""How wood moves across the grain between two places or two seasons.

This module owns dry wood that takes up and gives off moisture with the air. Green
wood on its way to dry is for `drying`, a tenon in its hole for `fit`.

Within 6 to 14 percent the change is size × coefficient × change of moisture. Where
only shrinkage is published, the coefficient is S / (3000 - 20 S): that is eq. 13-3,
and the table's own figures come from it. A round with its grain across the axis, as most
bowls have it, moves along the rings one way; the other way is lengthwise, taken as nought.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.language import tr, tr_later
from handouts_build.quantities import Kind, Quantity
from handouts_build.trade.demands import more_than_nought, percent
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Demand, Law
from handouts_build.trade.moisture import (
    TWO_AIRS,
    humidity_demands,
    settling,
    temperature_demands,
    within_movement_range,
)
from handouts_build.trade.wood_words import (
    SHRINKAGES,
    WoodField,
    end_grain,
    end_grain_demands,
    grain_word,
    wood_word,
)

__all__ = ["MOVEMENT"]

_WAYS = (tr_later("{amount} wider"), tr_later("{amount} narrower"))
_FROM = settling("from", "where it is made")
_TO = settling("to", "where it is kept")
along_rings = Law(
    "along_rings", "ΔT", "wide * tangential * (emc_to - emc_from)",
    "Width of a flat-sawn board, along the growth rings", "wood-handbook-13-2", fine=True, ways=_WAYS,
)  # fmt: skip
across_rings = Law(
    "across_rings", "ΔR", "wide * radial * (emc_to - emc_from)",
    "Width of a quarter-sawn board, across the growth rings", "wood-handbook-13-2", fine=True, ways=_WAYS,
)  # fmt: skip
other_way = Law(
    "other_way", "ΔO", "end_grain * across_rings",
    "Diameter of a round the other way: across the rings in end grain, next to nothing along the grain",
    "lengthwise", fine=True, ways=_WAYS,
)  # fmt: skip
oval = Law(
    "oval", "o", "abs(along_rings - other_way)",
    "Out of round: the one diameter less the other", "oval", fine=True,
)  # fmt: skip
wide_then = Law(
    "wide_then", "W'", "wide + along_rings", "Width along the growth rings, where it is kept",
    "wood-handbook-13-2", fine=True, main=False,
)  # fmt: skip


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """What the numbers are worth."""
    if not {"emc_from", "emc_to"} <= known.keys():
        return ()
    return (
        ChapterRemark(
            tr("From {emc_from} to {emc_to} percent moisture. Typical, not exact; under a finish it takes longer."),
            "moisture-caution",
        ),
        ChapterRemark(tr("Along the grain wood hardly moves."), "lengthwise"),
        *_from_shrinkage(known),
    )


def _from_shrinkage(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """Where the movement comes from, if no table has it."""
    if not {"shrink_tangential", "shrink_radial"} & known.keys():
        return ()
    return (
        ChapterRemark(tr("Where no movement is published it is worked out from the shrinkage."), "wood-handbook-13-3"),
    )


MOVEMENT = Chapter(
    name="movement",
    about="How much a width or a diameter across the grain changes between two humidities.",
    words=(
        wood_word(
            "wood",
            "The wood",
            WoodField("tangential", ("c_tangential",), tr_later("movement along the rings for 1 percent of moisture")),
            WoodField("radial", ("c_radial",), tr_later("movement across the rings for 1 percent of moisture")),
            WoodField(
                "shrink_tangential",
                ("shrinkage_tangential_pct",),
                tr_later("shrinkage along the rings"),
                tr_later("percent"),
                stands_in_for="tangential",
            ),
            WoodField(
                "shrink_radial",
                ("shrinkage_radial_pct",),
                tr_later("shrinkage across the rings"),
                tr_later("percent"),
                stands_in_for="radial",
            ),
        ),
        grain_word("grain", "How the grain of a round lies to its axis", "end_grain"),
    ),
    givens=(
        ChapterInput("wide", "W", Kind.LENGTH, "Width of a board or diameter of a round, across the grain"),
        *SHRINKAGES,
        ChapterInput(
            "tangential",
            "C_T",
            Kind.NUMBER,
            "Movement along the rings for 1 percent of moisture, as a share",
            optional=True,
            default="shrink_tangential / (3000 - 20 * shrink_tangential)",
        ),
        ChapterInput(
            "radial",
            "C_R",
            Kind.NUMBER,
            "Movement across the rings for 1 percent of moisture, as a share",
            optional=True,
            default="shrink_radial / (3000 - 20 * shrink_radial)",
        ),
        end_grain("end_grain", "e", "the round"),
        *TWO_AIRS,
    ),
    laws=(*_FROM, *_TO, along_rings, across_rings, other_way, oval, wide_then),
    demands=(
        more_than_nought("wide", "the width"),
        *percent("shrink_tangential", "a shrinkage along the rings", most=30),
        *percent("shrink_radial", "a shrinkage across the rings", most=30),
        *end_grain_demands("end_grain"),
        *humidity_demands("from"),
        *humidity_demands("to"),
        *temperature_demands(),
        *within_movement_range("from"),
        *within_movement_range("to"),
        Demand(
            "abs(along_rings) <= 1/32 in",
            "note",
            "the wood gets {along_rings}, enough to bind or to gape where something is fitted to it",
            "where nothing is fitted to it, nothing; else leave room, or use quarter-sawn wood or one that moves less",
            source="wood-handbook-13-2",
        ),
    ),
    remarks=_remarks,
)
