"""A wood's name, standing for its published numbers.

This module owns the step from a name to the givens of a chapter: which field of the
table fills which given, what is said of each number and its standing, and what is
said where nothing was published. The numbers are the table's.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from handouts_build.language import in_a_row, tr, tr_later
from handouts_build.quantities import Kind, Quantity, count
from handouts_build.tables import Published, Wood, lookup_wood, suggest_wood
from handouts_build.trade.law import ChapterInput, ChapterRemark, Demand, LookupResult, Word, WordFault, WordVerdict

__all__ = ["SHRINKAGES", "WoodField", "end_grain", "end_grain_demands", "grain_word", "wood_word"]

SHRINKAGES = (
    ChapterInput(
        "shrink_tangential", "S_T", Kind.NUMBER, "Shrinkage along the rings from green to ovendry, percent",
        optional=True,
    ),
    ChapterInput(
        "shrink_radial", "S_R", Kind.NUMBER, "Shrinkage across the rings from green to ovendry, percent",
        optional=True,
    ),
)  # fmt: skip
"""What a wood's name gives of its shrinkage, or an author who has measured it."""

_GRAIN = {"along the axis": 1.0, "across the axis": 0.0}


def end_grain(name: str, symbol: str, called: str) -> ChapterInput:
    """Whether a round shows end grain, as a number that a law multiplies by; it does if nothing is said.

    A round with the grain along its axis moves along the rings one way and across them the other. With the grain
    across the axis it moves along the rings one way and hardly at all the other.

    Args:
        name: The given.
        symbol: Its letter.
        called: What it is, such as `the round`.
    """
    return ChapterInput(
        name, symbol, Kind.NUMBER,
        f"1 where {called} shows end grain, the grain along the axis; 0 where the grain runs across the axis",
        optional=True, default="1",
    )  # fmt: skip


def end_grain_demands(name: str) -> tuple[Demand, Demand]:
    """What such a number may be.

    Args:
        name: The given.
    """
    message, remedy = f"end grain is {{{name}}}", "give 1 or 0, or say how the grain lies"
    return (
        Demand(f"{name} >= 0", "problem", message, remedy, name),
        Demand(f"{name} <= 1", "problem", message, remedy, name),
    )


def grain_word(name: str, says: str, given: str) -> Word:
    """How the grain lies to the axis, as something a chapter may be told.

    Args:
        name: The word's name.
        says: What it is of, for the reference page.
        given: The `end_grain` that it fills.
    """

    def look_up(said: tuple[str, ...], _told: Mapping[str, Quantity]) -> LookupResult:
        (way,) = said
        return LookupResult({given: count(_GRAIN[way])})

    return Word(name, says, "a way of the grain", look_up, tuple(_GRAIN))


@dataclass(frozen=True)
class WoodField:
    """A given that the table can fill."""

    given: str
    columns: tuple[str, ...]
    """Fields of the table's `Wood`: the first that has a number is taken."""
    says: str
    """What the number is, for the remark: `shrinkage of volume`."""
    unit: str = ""
    """What it is counted in, such as `percent`."""
    stands_in_for: str = ""
    """The given it is looked up for when the table has not got that one; empty for a given of its own right."""
    without: str = tr_later("give {given} if you know it; what needs it is left out")
    """What to do when it is missing, and what happens; `{given}` is its key."""


def wood_word(name: str, says: str, *fields: WoodField) -> Word:
    """The name of a wood as something a chapter may be told.

    Args:
        name: The word's name.
        says: What it names, for the reference page.
        *fields: What it fills.
    """

    def look_up(said: tuple[str, ...], givens: Mapping[str, Quantity]) -> LookupResult:
        (called,) = said
        wood = lookup_wood(called)
        if wood is None:
            hint = suggest_wood(called) or "leave the wood out and give the numbers you have"
            raise WordFault(f"'{called}' is not in the table of woods", hint)
        return _looked(wood, fields, givens)

    return Word(name, says, "a wood", look_up)


def _looked(wood: Wood, fields: tuple[WoodField, ...], givens: Mapping[str, Quantity]) -> LookupResult:
    found: dict[str, Published] = {}
    for field in fields:
        number = _number(wood, field)
        if (
            number is not None
            and field.given not in givens
            and field.stands_in_for not in (found.keys() | givens.keys())
        ):
            found[field.given] = number
    by_source: dict[str, list[str]] = {}
    for field in fields:
        if field.given in found:
            number = found[field.given]
            by_source.setdefault(number.source, []).append(_told(field, number))
    served = {field.stands_in_for or field.given for field in fields if field.given in found} | givens.keys()
    verdicts = [
        WordVerdict(
            "note",
            tr("no {what} is published here for {wood}", what=tr(field.says), wood=tr(wood.spoken)),
            tr(field.without, given=field.given.replace("_", " ")),
        )
        for field in fields
        if not field.stands_in_for and field.given not in served
    ]
    spoken = tr(wood.spoken)
    spoken = f"{spoken[:1].upper()}{spoken[1:]}"
    remarks = [
        ChapterRemark(tr("{label}: {value}.", label=spoken, value=in_a_row(said)), source)
        for source, said in by_source.items()
    ]
    if remarks and wood.notes:
        remarks[-1] = ChapterRemark(f"{remarks[-1].text} {tr(wood.notes)}", remarks[-1].source)
    return LookupResult(
        {given: count(number.value) for given, number in found.items()}, tuple(remarks), tuple(verdicts)
    )


def _told(field: WoodField, number: Published) -> str:
    """A number of the table with what it is."""
    what, value = tr(field.says), f"{number.value:g} {tr(field.unit) if field.unit else ''}".strip()
    return tr("{what} about {value}", what=what, value=value) if number.approximate else f"{what} {value}"


def _number(wood: Wood, field: WoodField) -> Published | None:
    return next((number for column in field.columns if (number := getattr(wood, column)) is not None), None)
