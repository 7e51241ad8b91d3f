"""How much of a finish a surface takes, how many coats, and how long it cures.

This module owns the sum. The figures are the table's, by kind of finish and never by
brand, and every one is common practice: the maker's tin comes first. Rags, vapors
and skin are for the cautions.

A finish that covers 12 square meters by the liter lies 1/12 mm thick while it is
wet, because a liter on a square meter is a millimeter. The quantity is the area
times that film, for each coat, and what stays in rag, brush and tin besides.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.language import tr, tr_later
from handouts_build.quantities import Err, Kind, Quantity, count
from handouts_build.tables import COMMON_PRACTICE, Finish, lookup_finish, suggest_finish
from handouts_build.trade.demands import percent
from handouts_build.trade.law import (
    Chapter,
    ChapterInput,
    ChapterRemark,
    Demand,
    Law,
    LookupResult,
    Word,
    WordFault,
    WordVerdict,
)

__all__ = ["FINISH"]

film = Law("film", "f", "1 mm / coverage", "Thickness of a wet coat", "finish-film", fine=True, main=False)
one_coat = Law(
    "one_coat", "q", "area * film * (1 + waste / 100)",
    "Quantity for one coat; 1 cm³ is 1 ml", "finish-waste", Err.OVER,
)  # fmt: skip
all_coats = Law("all_coats", "Q", "one_coat * coats", "Quantity for all coats; 1 cm³ is 1 ml", "finish-waste", Err.OVER)
cured = Law("cured", "t", "cure_days", "Days to wait after the last coat", COMMON_PRACTICE, Err.OVER)


def _look_up(said: tuple[str, ...], givens: Mapping[str, Quantity]) -> LookupResult:
    """What the table has for a kind of finish."""
    (name,) = said
    found = lookup_finish(name)
    if found is None:
        hint = suggest_finish(name) or "leave the finish out and give coverage, coats and cure days from its tin"
        raise WordFault(f"'{name}' is not in the table of finishes", hint)
    numbers = {"coverage": found.coverage_m2_per_l, "coats": found.coats, "cure_days": found.cure_days}
    values = {given: count(number.value) for given, number in numbers.items() if number is not None}
    verdicts = [
        WordVerdict("note", tr(missing, finish=tr(found.title.lower())), tr(_FROM_THE_TIN, given=given))
        for given, missing in _MISSING.items()
        if given not in values and given not in givens
    ]
    return LookupResult(values, tuple(_remarks_on(found)), tuple(verdicts))


_MISSING = {
    "coverage": tr_later("no coverage is known here for {finish}"),
    "coats": tr_later("no number of coats is known here for {finish}"),
}
"""What is said where the table has not got a given."""
_FROM_THE_TIN = tr_later("give {given} from its tin; what needs it is left out")


def _remarks_on(finish: Finish) -> list[ChapterRemark]:
    """Whose word the figures are, food and allergens on whose word."""
    remarks = [
        ChapterRemark(
            tr("{finish}: the figures are usual ones. The maker's tin comes first.", finish=tr(finish.title)),
            COMMON_PRACTICE,
        ),
        ChapterRemark(tr(finish.food.text), finish.food.source),
    ]
    if finish.allergen is not None:
        remarks.append(ChapterRemark(tr(finish.allergen.text), finish.allergen.source))
    if finish.cure_days is None:
        remarks.append(
            ChapterRemark(tr("It does not cure. Wipe off all that the wood does not take."), COMMON_PRACTICE)
        )
    return remarks


FINISH = Chapter(
    name="finish",
    about="How much finish a surface takes, in how many coats, and how long it cures.",
    words=(Word("finish", "The kind of finish", "a finish", _look_up),),
    givens=(
        ChapterInput("area", "A", Kind.AREA, "Surface to cover, such as a profile's `surface`"),
        ChapterInput("coverage", "c", Kind.NUMBER, "Area that a liter covers once, square meters", optional=True),
        ChapterInput("coats", "n", Kind.NUMBER, "Number of coats", optional=True),
        ChapterInput("cure_days", "t_c", Kind.NUMBER, "Days until the last coat has cured", optional=True),
        ChapterInput(
            "waste",
            "w",
            Kind.NUMBER,
            "What stays in rag, brush and tin, percent of what is on the wood",
            optional=True,
            default="25",
        ),
    ),
    laws=(film, one_coat, all_coats, cured),
    demands=(
        Demand("area > 0 in * 1 in", "problem", "the area is {area}", "give an area of more than nought", "area"),
        Demand("coverage > 0", "problem", "a coverage of {coverage}", "give a number of more than nought", "coverage"),
        Demand("coats >= 1", "problem", "{coats} coats leave the wood bare", "give 1 or more", "coats"),
        Demand(
            "round_down(coats, 1) >= coats", "problem", "{coats} is no number of coats", "give a whole number", "coats"
        ),
        Demand("cure_days >= 0", "problem", "{cure_days} days to cure", "give a number of days", "cure_days"),
        *percent("waste", "waste", most=400),
    ),
)
