"""Finishes by kind, never by brand: how far they go, how long they take, what they give off.

This module owns the table of finishes. Its numbers are what the trade expects;
the maker's tin comes first. It leaves quantities to the trade and the wording of
warnings to the cautions.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from handouts_build.problems import near_miss
from handouts_build.tables.loading import Standing, read_rows, source
from handouts_build.tables.published import Published, published

__all__ = ["Finish", "SourcedNote", "finishes", "lookup_finish", "suggest_finish"]


@dataclass(frozen=True)
class SourcedNote:
    """A sentence and who stands behind it."""

    text: str
    source: str
    """A source id."""


@dataclass(frozen=True)
class Finish:
    """A kind of finish; None where nothing was found."""

    id: str
    title: str
    aliases: tuple[str, ...]
    coverage_m2_per_l: Published | None
    """Area that one liter covers once, square meters."""
    coats: Published | None
    """Usual number of coats."""
    cure_days: Published | None
    """Days until it is cured, not merely dry to the touch; None for what never cures."""
    vapor: str
    """What it gives off."""
    solvent: str
    traits: tuple[str, ...]
    """What the cautions ask about: words of the fact `finish_trait`."""
    oily_rag: bool
    """Whether rags wet with it can heat by themselves and catch fire."""
    oily_rag_standing: Standing
    oily_rag_source: str
    allergen: SourcedNote | None
    """A reported allergen. None says nothing about the finish."""
    food: SourcedNote
    """What can be said of food ware, and on whose word."""


@cache
def finishes() -> tuple[Finish, ...]:
    """Every kind of finish in the table."""
    return tuple(_finish(row) for row in read_rows("finishes.csv"))


def _finish(row: dict[str, str]) -> Finish:
    for column in ("oily_rag_source", "food_source"):
        source(row[column])
    if row["allergen"]:
        source(row["allergen_source"])
    return Finish(
        id=row["id"],
        title=row["title"],
        aliases=tuple(part for part in row["aliases"].split(";") if part),
        coverage_m2_per_l=published(row, "coverage_m2_per_l"),
        coats=published(row, "coats"),
        cure_days=published(row, "cure_days"),
        vapor=row["vapor"],
        solvent=row["solvent"],
        traits=tuple(part for part in row["traits"].split(";") if part),
        oily_rag={"yes": True, "no": False}[row["oily_rag"]],
        oily_rag_standing=Standing(row["oily_rag_standing"]),
        oily_rag_source=row["oily_rag_source"],
        allergen=SourcedNote(row["allergen"], source=row["allergen_source"]) if row["allergen"] else None,
        food=SourcedNote(row["food"], source=row["food_source"]),
    )


def _key(name: str) -> str:
    family, _, which = name.casefold().replace("-", " ").partition(",")
    return " ".join(f"{which} {family}".split())


@cache
def _index() -> dict[str, Finish]:
    index: dict[str, Finish] = {}
    for finish in finishes():
        for name in (finish.id, finish.title, *finish.aliases):
            if index.setdefault(_key(name), finish) is not finish:
                raise ValueError(f"finishes.csv: two finishes answer to '{name}'")
    return index


def lookup_finish(name: str) -> Finish | None:
    """The finish of that name, in either order and any case, or None.

    Args:
        name: Such as 'boiled linseed oil' or 'linseed oil, boiled'.
    """
    return _index().get(_key(name))


def suggest_finish(name: str) -> str:
    """A hint for a finish the table does not have; empty when nothing comes near.

    Args:
        name: What the author wrote.
    """
    return near_miss(_key(name), [finish.id for finish in finishes()] + list(_index()))
