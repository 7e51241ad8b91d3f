"""A round turned green: the oval it dries to, and the wall that leaves a round in it.

This module owns shrinkage from one moisture to another, the twice-turned wall and
the weight lost on the way. Dry wood in changing air is for `movement`.

From green to M a size shrinks by S (1 - M/30) percent of what it was green, nothing
over 30 (eq. 4-9). Between two moistures the sizes are therefore as 1 - S(M)/100 at
the one to the other. A round turned with the grain along the axis shows end grain:
it shrinks along the rings one way and across them the other. With the grain across
the axis, as in most bowls, it shrinks along the rings one way and, lengthwise,
hardly at all the other.

The rough bowl, D across with a wall u, dries to an oval ring about the axis. Outside,
the largest round in it is its short diameter. Inside, the round of the finished bowl,
2w less across, must clear the long half-axis of the hollow, (D/2 - u)(1 - l) with l
the shrinkage along it. So u is at least D/2 - (short/2 - w) / (1 - l).
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.language import tr, tr_later
from handouts_build.quantities import Err, Kind, Quantity
from handouts_build.trade.demands import more_than_nought, percent
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Demand, Law
from handouts_build.trade.wood_words import (
    SHRINKAGES,
    WoodField,
    end_grain,
    end_grain_demands,
    grain_word,
    wood_word,
)

__all__ = ["DRYING"]


def _between(shrinkage: str) -> str:
    """Percent shrunk from one moisture to the other."""
    was, is_ = (f"{shrinkage} / 100 * (1 - min({moisture}, 30) / 30)" for moisture in ("moisture_from", "moisture_to"))
    return f"100 * (1 - (1 - {is_}) / (1 - {was}))"


along_rings = Law(
    "along_rings", "s_T", _between("shrink_tangential"),
    "Shrinkage along the rings, percent", "wood-handbook-4-9", main=False,
)  # fmt: skip
across_rings = Law(
    "across_rings", "s_R", _between("shrink_radial"),
    "Shrinkage across the rings, percent", "wood-handbook-4-9", main=False,
)  # fmt: skip
other_way = Law(
    "other_way", "s_l", "end_grain * across_rings",
    "Shrinkage the way it shrinks least, percent", "lengthwise", main=False,
)  # fmt: skip
short = Law(
    "short", "D_s", "diameter * (1 - along_rings / 100)",
    "Short diameter when dry: the largest round it can be turned to", "oval", Err.UNDER,
)  # fmt: skip
long = Law("long", "D_l", "diameter * (1 - other_way / 100)", "Long diameter when dry", "oval", Err.OVER)
out_of_round = Law(
    "out_of_round", "o", "long - short", "Out of round when dry: the long diameter less the short", "oval", Err.OVER
)
least_wall = Law(
    "least_wall", "u_0", "diameter / 2 - (short / 2 - wall) / (1 - other_way / 100)",
    "Least rough wall that leaves the finished wall all around", "oval", Err.OVER,
)  # fmt: skip
tenth = Law("tenth", "u_10", "diameter / 10", "Rough wall by the rule of a tenth", "tenth-wall", Err.OVER)
weight_loss = Law(
    "weight_loss", "Δm", "100 * (moisture_from - moisture_to) / (100 + moisture_from)",
    "Weight lost in drying, percent of what it weighed when turned", "moisture-content",
)  # fmt: skip
dry_weight = Law(
    "dry_weight", "m_d", "weight * (1 - weight_loss / 100)",
    "What it weighs when it is dry enough", "moisture-content",
)  # fmt: skip


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """What the numbers are worth, and when it is dry."""
    remarks = []
    if "short" in known:
        remarks.append(
            ChapterRemark(
                tr(
                    "Shrinkage is counted evenly from 30 percent down, for straight grain. Crotches, burls and "
                    "wood near the pith warp more, and in other ways."
                ),
                "wood-handbook-4-9",
            )
        )
    if "tenth" in known and "least_wall" in known:
        remarks.append(
            ChapterRemark(
                tr(
                    "The tenth, {tenth}, allows for warp that no figure tells. Much thicker dries slowly and may crack."
                ),
                "tenth-wall",
            )
        )
    if "dry_weight" in known:
        remarks.append(
            ChapterRemark(
                tr(
                    "Write the weight and the date on it. It is dry when it weighs about {dry_weight} and gets "
                    "no lighter."
                ),
                "moisture-content",
            )
        )
    return tuple(remarks)


DRYING = Chapter(
    name="drying",
    about="A round turned from green wood: the oval it dries to, the rough wall for turning it twice, weight lost.",
    words=(
        wood_word(
            "wood",
            "The wood",
            WoodField(
                "shrink_tangential",
                ("shrinkage_tangential_pct",),
                tr_later("shrinkage along the rings"),
                tr_later("percent"),
            ),
            WoodField(
                "shrink_radial", ("shrinkage_radial_pct",), tr_later("shrinkage across the rings"), tr_later("percent")
            ),
            WoodField(
                "moisture_from",
                ("green_heartwood_mc_pct", "green_sapwood_mc_pct"),
                tr_later("average green moisture"),
                tr_later("percent"),
                without=tr_later(
                    "give {given} if you know it; 30 percent is taken, and green wood holds more: it will lose more "
                    "weight than is said"
                ),
            ),
        ),
        grain_word("grain", "How the grain lies to the lathe's axis", "end_grain"),
    ),
    givens=(
        ChapterInput("diameter", "D", Kind.LENGTH, "Diameter it is turned to green"),
        *SHRINKAGES,
        ChapterInput(
            "moisture_from",
            "M_1",
            Kind.NUMBER,
            "Moisture when it is turned green, percent; from 30 up it has not begun to shrink",
            optional=True,
            default="30",
        ),
        ChapterInput(
            "moisture_to", "M_2", Kind.NUMBER, "Moisture when it is dry, percent", optional=True, default="12"
        ),
        end_grain("end_grain", "e", "the round"),
        ChapterInput("wall", "w", Kind.LENGTH, "Wall of the finished bowl", optional=True),
        ChapterInput("rough_wall", "u", Kind.LENGTH, "Wall it is turned to green", optional=True),
        ChapterInput("weight", "m", Kind.MASS, "Weight when it is turned green", optional=True),
    ),
    laws=(
        along_rings,
        across_rings,
        other_way,
        short,
        long,
        out_of_round,
        least_wall,
        tenth,
        weight_loss,
        dry_weight,
    ),
    demands=(
        more_than_nought("diameter", "the diameter"),
        *percent("shrink_tangential", "a shrinkage along the rings", most=30),
        *percent("shrink_radial", "a shrinkage across the rings", most=30),
        *percent("moisture_from", "a moisture", most=400),
        *percent("moisture_to", "a moisture", most=400),
        *end_grain_demands("end_grain"),
        more_than_nought("wall", "the finished wall"),
        more_than_nought("rough_wall", "the rough wall"),
        Demand("weight > 0 g", "problem", "the weight is {weight}", "give a weight such as 900 g or 2 lb", "weight"),
        Demand(
            "moisture_to <= moisture_from",
            "problem",
            "it does not dry from {moisture_from} to {moisture_to} percent",
            "give less moisture when it is dry",
            "moisture_to",
        ),
        Demand(
            "wall < diameter / 2",
            "problem",
            "a wall of {wall} leaves nothing to hollow in {diameter}",
            "make the wall thinner",
            "wall",
        ),
        Demand(
            "rough_wall < diameter / 2",
            "problem",
            "a rough wall of {rough_wall} leaves nothing to hollow in {diameter}",
            "make the rough wall thinner",
            "rough_wall",
        ),
        Demand(
            "least_wall < diameter / 2",
            "problem",
            "it would have to stay solid: {diameter} green shrinks too far for a wall of {wall}",
            "make the wall thinner or the blank larger",
            "wall",
        ),
        Demand(
            "rough_wall >= least_wall",
            "stop",
            "a rough wall of {rough_wall} dries out of round by more than it holds: {least_wall} is the least",
            "turn the rough wall thicker, or the finished wall thinner",
            "rough_wall",
            "oval",
        ),
        Demand(
            "rough_wall <= 1.5 * tenth",
            "mind",
            "a rough wall of {rough_wall} is half as thick again as a tenth of the diameter, and apt to crack",
            "turn it to about {tenth}",
            "rough_wall",
            "tenth-wall",
        ),
        Demand(
            "least_wall <= tenth",
            "mind",
            "the rule of a tenth, {tenth}, would leave too little: {least_wall} is the least",
            "leave more than the tenth, or make the finished wall thinner",
            "wall",
            "oval",
        ),
    ),
    remarks=_remarks,
)
