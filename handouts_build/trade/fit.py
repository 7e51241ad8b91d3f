"""A tenon in a hole: how much smaller, how long, and how the seasons change it.

This module owns round joints turned and drilled by hand. It leaves the movement
coefficients to the table of woods and the moisture to `moisture`.

A round hole or tenon moves most along the growth rings. At right angles to that it moves
across the rings where it shows end grain, and hardly at all where its grain runs across the
axis. Turned a quarter, the most of the one therefore meets the least of the other.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from functools import partial

from handouts_build.language import tr, tr_later
from handouts_build.quantities import Err, Kind, Manner, Quantity
from handouts_build.trade.demands import more_than_nought, thin
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Demand, Law, LookupResult, Word
from handouts_build.trade.moisture import (
    TWO_AIRS,
    humidity_demands,
    settling,
    temperature_demands,
    within_movement_range,
)
from handouts_build.trade.wood_words import WoodField, end_grain, end_grain_demands, grain_word, wood_word

__all__ = ["FIT", "TENON"]

TENON = Manner(Err.UNDER, fine=True)
"""How the diameter of a tenon is printed that goes into a hole: by calipers, and under."""

tenon = Law(
    "tenon", "t", "hole - allowance", "Tenon diameter, by calipers", "fit-allowance", TENON.err,
    fine=TENON.fine, below="hole",
)  # fmt: skip
rough = Law("rough", "t_r", "tenon", "Rough the tenon to this mark, and no smaller", "fit-allowance", Err.OVER)
shoulder = Law(
    "shoulder", "s", "(part - tenon) / 2", "Width of the ledge around the tenon", "fit-allowance", Err.UNDER, main=False
)
glue_gap = Law("glue_gap", "g", "allowance / 2", "Gap all around the tenon", "fit-allowance", fine=True, main=False)
tenon_long = Law(
    "tenon_long",
    "l",
    "depth - end_gap",
    "Length of the tenon, which leaves the end gap free",
    "fit-end-gap",
    Err.UNDER,
)
floor = Law(
    "floor", "w", "wood_length - depth", "Wood left beyond the bottom of the hole", "fit-end-gap", Err.UNDER, left=True
)


_FIT = (tr_later("{amount} looser"), tr_later("{amount} tighter"))
_HOLE = (tr_later("{amount} wider"), tr_later("{amount} narrower"))
_TENON = (tr_later("{amount} thicker"), tr_later("{amount} thinner"))
_FROM = settling("from", "where it is made")
_TO = settling("to", "where it is kept")
emc_from, emc_to = _FROM[-1], _TO[-1]
hole_change = Law(
    "hole_change", "Δd", "hole * hole_movement * (emc_to - emc_from)",
    "The hole over the seasons, along the growth rings",
    "wood-handbook-13-2", fine=True, main=False, ways=_HOLE,
)  # fmt: skip
tenon_change = Law(
    "tenon_change", "Δt", "tenon * tenon_movement * (emc_to - emc_from)",
    "The tenon over the seasons, along the growth rings",
    "wood-handbook-13-2", fine=True, main=False, ways=_TENON,
)  # fmt: skip
fit_change = Law(
    "fit_change", "Δ", "hole_change - tenon_change",
    "The fit over the seasons", "wood-handbook-13-2", fine=True, main=False, ways=_FIT,
)  # fmt: skip
hole_other = Law(
    "hole_other", "Δd'", "hole * hole_end_grain * hole_across * (emc_to - emc_from)",
    "The hole over the seasons, at right angles to that",
    "wood-handbook-13-2", fine=True, main=False, ways=_HOLE,
)  # fmt: skip
tenon_other = Law(
    "tenon_other", "Δt'", "tenon * tenon_end_grain * tenon_across * (emc_to - emc_from)",
    "The tenon over the seasons, at right angles to that",
    "wood-handbook-13-2", fine=True, main=False, ways=_TENON,
)  # fmt: skip
quarter_change = Law(
    "quarter_change", "Δ'", "min(hole_other - tenon_change, hole_change - tenon_other)",
    "The fit over the seasons with one part turned a quarter, where it is tightest",
    "wood-handbook-13-2", fine=True, main=False, ways=_FIT,
)  # fmt: skip


_TURNED_TO_FIT = {
    "tenon": tr_later("Turn the tenon to fit the hole you drilled, trying it often: bits and woods differ."),
    "spigot": tr_later("Turn the spigot to fit the recess you turned, trying it often: woods differ."),
}
"""What goes into the hole, by the trade's names for it: on a box it is a spigot."""


def _remarks(known: Mapping[str, Quantity], called: str = "tenon") -> tuple[ChapterRemark, ...]:
    """What the numbers are worth."""
    remarks = [ChapterRemark(tr(_TURNED_TO_FIT[called]), "fit-allowance")]
    if "fit_change" in known:
        remarks.append(
            ChapterRemark(
                tr(
                    "Change of the fit from {emc_from} to {emc_to} percent moisture: {fit_change}. "
                    "Typical, not exact; under a finish it takes longer."
                ),
                "moisture-caution",
            )
        )
    return tuple(remarks)


_ALONG = (("c_tangential",), tr_later("movement along the rings for 1 percent of moisture"))
_ACROSS = (("c_radial",), tr_later("movement across the rings for 1 percent of moisture"))


def _movements(part: str, symbol: str) -> tuple[ChapterInput, ChapterInput, ChapterInput]:
    """How the wood of the hole or of the tenon moves, and how its grain lies."""
    return (
        ChapterInput(
            f"{part}_movement", f"C_{symbol}", Kind.NUMBER,
            f"How much the {part}'s wood moves along the rings for 1 percent of moisture, as a share", optional=True,
        ),
        ChapterInput(
            f"{part}_across", f"C'_{symbol}", Kind.NUMBER,
            f"How much the {part}'s wood moves across the rings for 1 percent of moisture, as a share", optional=True,
        ),
        end_grain(f"{part}_end_grain", f"e_{symbol}", f"the {part}"),
    )  # fmt: skip


_FIT_OF_A_TENON = Chapter(
    name="fit",
    about="A tenon turned to a hole: diameter, length, the wood around it, and how humidity changes the fit.",
    givens=(
        ChapterInput("hole", "d", Kind.LENGTH, "Diameter of the hole", exact=True),
        ChapterInput("part", "D", Kind.LENGTH, "Diameter of the part the tenon is turned on"),
        ChapterInput(
            "allowance",
            "a",
            Kind.LENGTH,
            "How much smaller than the hole the tenon is: 1/64 in slides; none or less is pressed or snapped in",
            optional=True,
            default="1/64 in",
            signed=True,
        ),
        ChapterInput("depth", "z", Kind.LENGTH, "Depth of the hole", optional=True),
        ChapterInput("wood_length", "L", Kind.LENGTH, "Length of wood there is along the hole", optional=True),
        ChapterInput(
            "end_gap",
            "e",
            Kind.LENGTH,
            "Gap at the tenon's end, so that the shoulder seats",
            optional=True,
            default="1/16 in",
        ),
        *_movements("hole", "d"),
        *_movements("tenon", "t"),
        *TWO_AIRS,
    ),
    words=(
        wood_word(
            "hole_wood", "Wood the hole is in", WoodField("hole_movement", *_ALONG), WoodField("hole_across", *_ACROSS)
        ),
        wood_word(
            "tenon_wood",
            "Wood the tenon is of",
            WoodField("tenon_movement", *_ALONG),
            WoodField("tenon_across", *_ACROSS),
        ),
        grain_word("hole_grain", "How the grain lies to the hole's axis", "hole_end_grain"),
        grain_word("tenon_grain", "How the grain lies to the tenon's axis", "tenon_end_grain"),
        Word(
            "called",
            "What the trade calls the part that goes into the hole; a tenon if nothing is said",
            "a name",
            lambda _said, _told: LookupResult({}),
            tuple(_TURNED_TO_FIT),
        ),
    ),
    laws=(
        tenon,
        rough,
        shoulder,
        glue_gap,
        tenon_long,
        floor,
        *_FROM,
        *_TO,
        hole_change,
        tenon_change,
        fit_change,
        hole_other,
        tenon_other,
        quarter_change,
    ),
    demands=(
        more_than_nought("hole", "the hole"),
        more_than_nought("part", "the part's diameter"),
        more_than_nought("depth", "the hole's depth"),
        more_than_nought("wood_length", "the length of wood"),
        Demand(
            "allowance > 0 in",
            "note",
            "with an allowance of {allowance} the tenon is pressed or snapped in, and there is no room for glue",
            "try it often as it comes near; leave it dry, or give an allowance such as 1/64 in for glue",
            "allowance",
            "fit-allowance",
        ),
        Demand(
            "allowance >= -1/100 in",
            "mind",
            "with an allowance of {allowance} the tenon is so much thicker than its hole that the wood may split",
            "give no less than -1/100 in",
            "allowance",
            "fit-play",
        ),
        Demand(
            "allowance < hole",
            "problem",
            "an allowance of {allowance} is as much as the hole of {hole}",
            "give a smaller allowance, such as 1/64 in",
            "allowance",
        ),
        Demand("end_gap >= 0 in", "problem", "the end gap is {end_gap}", "a length must be 0 or more", "end_gap"),
        Demand(
            "hole - allowance < part",
            "problem",
            "the tenon is wider than the part: the hole is {hole}, the part {part}",
            "drill a smaller hole, or turn the tenon on a thicker part",
            "hole",
        ),
        Demand(
            "depth < wood_length",
            "problem",
            "the hole is deeper than the wood: {depth} in {wood_length}",
            "drill less deep, or leave the wood longer",
            "depth",
        ),
        Demand(
            "end_gap < depth",
            "problem",
            "the end gap of {end_gap} is as long as the hole is deep, {depth}: no tenon is left",
            "drill deeper, or leave a smaller end gap",
            "end_gap",
        ),
        *end_grain_demands("hole_end_grain"),
        *end_grain_demands("tenon_end_grain"),
        *humidity_demands("from"),
        *humidity_demands("to"),
        *temperature_demands(),
        thin(
            "floor",
            limit=8,
            left="only {floor} of wood is left beyond the bottom of the hole",
            remedy="drill less deep, and allow for the bit's point",
        ),
        thin(
            "shoulder",
            limit=16,
            left="the ledge around the tenon is only {shoulder} wide and shows every gap",
            remedy="make the hole smaller or the part thicker",
        ),
        *within_movement_range("from"),
        *within_movement_range("to"),
        Demand(
            "fit_change >= -abs(allowance)",
            "mind",
            "from {humidity_from} to {humidity_to} percent humidity the fit closes by more than its {allowance}",
            "give more allowance, or use woods that move alike",
        ),
        Demand(
            "quarter_change >= -abs(allowance)",
            "note",
            "turned a quarter, from {humidity_from} to {humidity_to} percent humidity, one part closes on the other by "
            "more than its {allowance}, and binds",
            "mark how the two were turned and keep the marks together, or give more allowance",
            source="wood-handbook-13-2",
        ),
    ),
    remarks=_remarks,
)


def _of_a_spigot(words: str) -> str:
    """The same said of a spigot; names that stand for values stay."""
    return re.sub(r"(?<![{\w])([Tt])enon\b", lambda found: "Spigot" if found[1] == "T" else "spigot", words)


FIT = replace(
    _FIT_OF_A_TENON,
    called={
        "spigot": replace(
            _FIT_OF_A_TENON,
            givens=tuple(replace(given, says=_of_a_spigot(given.says)) for given in _FIT_OF_A_TENON.givens),
            laws=tuple(replace(law, says=_of_a_spigot(law.says)) for law in _FIT_OF_A_TENON.laws),
            demands=tuple(
                replace(demand, message=_of_a_spigot(demand.message), remedy=_of_a_spigot(demand.remedy))
                for demand in _FIT_OF_A_TENON.demands
            ),
            remarks=partial(_remarks, called="spigot"),
        )
    },
)
