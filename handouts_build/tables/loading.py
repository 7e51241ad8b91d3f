"""Published values kept as data files, a standing and a source on every row.

This module owns reading the tables into frozen records. What the values mean in
a formula is for the trade's chapters; the tables know nothing of either.
"""

from __future__ import annotations

import csv
import enum
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from types import MappingProxyType

__all__ = ["IndexWheel", "Movement", "Source", "Standing", "index_wheels", "movement", "movements", "sources"]


class Standing(enum.StrEnum):
    """How far a value can be relied on."""

    VERIFIED = "VERIFIED"
    """Seen in the published text or a copy of it."""
    MEMORY = "MEMORY"
    """Recalled from the named publication: print it as approximate."""
    COMMON_PRACTICE = "COMMON PRACTICE"
    """A rule of the trade that no authority has published."""
    DERIVED = "DERIVED"
    """Follows by mathematics, shown where it is used."""


@dataclass(frozen=True)
class Source:
    """Where a formula, a limit or a table comes from."""

    id: str
    text: str
    """As the page says it."""
    standing: Standing
    reference: str
    """The publication, or that there is none."""


@dataclass(frozen=True)
class Movement:
    """How much a wood swells for one percent of moisture, as a share of its size."""

    species: str
    """As the table names it, such as `Walnut, black`."""
    also: tuple[str, ...]
    """Other names it goes by here."""
    group: str
    radial: float
    """From the pith outward."""
    tangential: float
    """Along the growth rings."""
    standing: Standing
    source: str


@dataclass(frozen=True)
class IndexWheel:
    """A ring of equally spaced holes on a lathe's index."""

    holes: int
    standing: Standing
    source: str


@cache
def sources() -> Mapping[str, Source]:
    """Every source by its id."""
    return MappingProxyType(
        {
            row["id"]: Source(row["id"], row["text"], Standing(row["standing"]), row["reference"])
            for row in _rows("sources.csv")
        }
    )


@cache
def movements() -> tuple[Movement, ...]:
    """The movement of every wood in the table, as it is ordered there."""
    return tuple(
        Movement(
            species=row["species"],
            also=tuple(name for name in row["also"].split(";") if name),
            group=row["group"],
            radial=float(row["c_radial"]),
            tangential=float(row["c_tangential"]),
            standing=Standing(row["standing"]),
            source=row["source"],
        )
        for row in _rows("wood_movement.csv")
    )


def movement(wood: str) -> Movement | None:
    """The movement of a wood, or None when the table has not got it.

    Args:
        wood: Its name in either order and any case: `walnut, black` or `Black walnut`.
    """
    return _by_name().get(_plain(wood))


@cache
def index_wheels() -> tuple[IndexWheel, ...]:
    """Usual index wheels, fewest holes first."""
    rows = _rows("index_wheels.csv")
    return tuple(IndexWheel(int(row["holes"]), Standing(row["standing"]), row["source"]) for row in rows)


@cache
def _by_name() -> dict[str, Movement]:
    """Every name a wood may be called by, plainly written."""
    return {_plain(name): one for one in movements() for name in (one.species, *one.also)}


def _plain(wood: str) -> str:
    """A wood's name in small letters, its last word last: `Walnut, black` is `black walnut`."""
    last, _, first = wood.casefold().partition(",")
    return " ".join(f"{first} {last}".split())


def _rows(name: str) -> list[dict[str, str]]:
    """The rows of a table by column."""
    with (resources.files(__package__) / name).open(encoding="utf-8") as file:
        return list(csv.DictReader(file))
