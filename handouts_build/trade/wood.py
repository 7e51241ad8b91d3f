"""What a piece of wood weighs, and the moisture it settles at.

This module owns specific gravity, density and weight at a moisture content. How
wood moves as it dries is for `movement` and `drying`.

Basic specific gravity G is ovendry weight on green volume. Drying under the fiber
saturation point, taken as 30 percent, the wood shrinks by S (1 - M/30) percent of
its volume (eq. 4-9), so that on its volume at M the specific gravity is
G / (1 - that share) (eq. 4-11), and the weight with its water 1 + M/100 as much.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.language import tr, tr_later
from handouts_build.quantities import Kind, Quantity
from handouts_build.trade.demands import more_than_nought, percent
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Demand, Law
from handouts_build.trade.moisture import TEMPERATURE, humidity_demands, settling, temperature_demands
from handouts_build.trade.wood_words import WoodField, wood_word

__all__ = ["WOOD"]

shrunk = Law(
    "shrunk", "S_M", "shrink_volume * (1 - min(moisture, 30) / 30)",
    "How much its volume has shrunk from green, percent", "wood-handbook-4-9", main=False,
)  # fmt: skip
gravity = Law(
    "gravity", "G_M", "specific_gravity / (1 - shrunk / 100)",
    "Specific gravity on the volume at that moisture", "wood-handbook-4-11", main=False,
)  # fmt: skip
density = Law(
    "density", "ρ", "1 g / (1 cm ^ 3) * gravity * (1 + moisture / 100)",
    "Density at that moisture", "wood-handbook-4-14",
)  # fmt: skip
weight = Law(
    "weight", "m", "density * volume", "Weight of the piece at that moisture", "wood-handbook-4-14"
)  # fmt: skip
green_density = Law(
    "green_density", "ρ_g", "1 g / (1 cm ^ 3) * specific_gravity * (1 + green_moisture / 100)",
    "Density when green", "wood-handbook-4-14",
)  # fmt: skip
green_weight = Law(
    "green_weight", "m_g", "green_density * volume",
    "Weight of a piece of that size when green", "wood-handbook-4-14",
)  # fmt: skip
most_water = Law(
    "most_water", "M_m", "100 * (1.54 - specific_gravity) / (1.54 * specific_gravity)",
    "Most water there is room for, percent of the dry wood", "wood-handbook-4-3", main=False,
)  # fmt: skip
_EMC = settling(main=True)


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """What the numbers are worth."""
    remarks = []
    if "density" in known:
        remarks.append(
            ChapterRemark(
                tr("Specific gravities are averages of a species: one tree is easily a tenth over or under."),
                "wood-handbook-4-11",
            )
        )
    if "emc" in known:
        remarks.append(
            ChapterRemark(
                tr("Wood kept long in such air settles at {emc} percent: typical, not exact."), "moisture-caution"
            )
        )
    return tuple(remarks)


WOOD = Chapter(
    name="wood",
    about="What wood weighs at a moisture content and when green, and the moisture it settles at.",
    words=(
        wood_word(
            "wood",
            "The wood",
            WoodField("specific_gravity", ("sg_basic",), tr_later("specific gravity on green volume")),
            WoodField(
                "specific_gravity_12",
                ("sg_12",),
                tr_later("specific gravity on the volume at 12 percent"),
                stands_in_for="specific_gravity",
            ),
            WoodField(
                "shrink_volume",
                ("shrinkage_volumetric_pct",),
                tr_later("shrinkage of volume"),
                tr_later("percent"),
                without=tr_later(
                    "give {given} if you know it; 26.5 times the specific gravity is taken where that is known"
                ),
            ),
            WoodField(
                "green_moisture",
                ("green_heartwood_mc_pct", "green_sapwood_mc_pct"),
                tr_later("average green moisture"),
                tr_later("percent"),
            ),
        ),
    ),
    givens=(
        ChapterInput(
            "specific_gravity_12",
            "G_12",
            Kind.NUMBER,
            "Specific gravity, ovendry weight on the volume at 12 percent",
            optional=True,
        ),
        ChapterInput(
            "specific_gravity",
            "G",
            Kind.NUMBER,
            "Basic specific gravity, ovendry weight on green volume",
            optional=True,
            default="specific_gravity_12 * (1 - 0.6 * shrink_volume / 100)",
        ),
        ChapterInput(
            "shrink_volume",
            "S",
            Kind.NUMBER,
            "Shrinkage of volume from green to ovendry, percent",
            optional=True,
            default="26.5 * specific_gravity",
        ),
        ChapterInput("moisture", "M", Kind.NUMBER, "Moisture of the wood, percent", optional=True, default="12"),
        ChapterInput("green_moisture", "M_g", Kind.NUMBER, "Moisture of the wood when green, percent", optional=True),
        ChapterInput("diameter", "D", Kind.LENGTH, "Diameter of a round piece", optional=True),
        ChapterInput("long", "L", Kind.LENGTH, "Length of a round piece", optional=True),
        ChapterInput(
            "volume", "V", Kind.VOLUME, "Volume of the piece", optional=True, default="pi / 4 * diameter ^ 2 * long"
        ),
        ChapterInput("humidity", "H", Kind.NUMBER, "Humidity of the air where it is kept, percent", optional=True),
        TEMPERATURE,
    ),
    laws=(shrunk, gravity, density, weight, green_density, green_weight, most_water, *_EMC),
    demands=(
        Demand(
            "specific_gravity > 0",
            "problem",
            "a specific gravity of {specific_gravity}",
            "give a number from 0.1 to 1.3",
            "specific_gravity",
        ),
        Demand(
            "specific_gravity < 1.54",
            "problem",
            "a specific gravity of {specific_gravity} is more than that of wood without pores, 1.54",
            "give a number from 0.1 to 1.3",
            "specific_gravity",
            "wood-handbook-4-3",
        ),
        *percent("shrink_volume", "a shrinkage of volume", most=50),
        *percent("moisture", "a moisture", most=400),
        *percent("green_moisture", "a green moisture", most=400),
        more_than_nought("diameter", "the diameter"),
        more_than_nought("long", "the length"),
        *humidity_demands(),
        *temperature_demands(),
        Demand(
            "moisture <= most_water",
            "mind",
            "wood so heavy has room for {most_water} percent of water, and {moisture} is given",
            "measure again, or look the specific gravity up again",
            "moisture",
            "wood-handbook-4-3",
        ),
        Demand(
            "green_moisture >= 30",
            "note",
            "at {green_moisture} percent the wood has begun to shrink, and is not green",
            "give what it held when it was cut",
            "green_moisture",
            "wood-handbook-4-9",
        ),
    ),
    remarks=_remarks,
)
