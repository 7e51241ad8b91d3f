"""Published values kept as data files, a standing and a source on every row.

This module owns reading the CSV files of this folder, the sources behind their
ids, and the small tables. What the values mean in a formula is for the trade's
chapters; the tables know nothing of either.
"""

from __future__ import annotations

import csv
import enum
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from types import MappingProxyType

__all__ = ["COMMON_PRACTICE", "IndexWheel", "Source", "Standing", "index_wheels", "read_rows", "source", "sources"]

COMMON_PRACTICE = "common practice, no published source"
"""Id of the source that there is none: the trade agrees and nobody has published."""


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
    """Where a formula, a limit or a number comes from."""

    id: str
    text: str
    """As the page says it."""
    standing: Standing
    reference: str
    """The publication, or that there is none; empty where the text names it."""


@dataclass(frozen=True)
class IndexWheel:
    """A ring of equally spaced holes on a lathe's index."""

    holes: int
    standing: Standing
    source: str


def read_rows(file: str) -> tuple[dict[str, str], ...]:
    """The rows of a CSV file in this folder, every cell stripped.

    Args:
        file: Its name.

    Raises:
        ValueError: A row has more or fewer cells than the head.
    """
    text = (resources.files(__package__) / file).read_text(encoding="utf-8")
    head, *body = csv.reader(text.splitlines())
    for number, cells in enumerate(body, start=2):
        if len(cells) != len(head):
            raise ValueError(f"{file}: row {number} has {len(cells)} cells where the head has {len(head)}")
    return tuple({key: cell.strip() for key, cell in zip(head, cells, strict=True)} for cells in body)


@cache
def sources() -> Mapping[str, Source]:
    """Every source by its id."""
    found: dict[str, Source] = {}
    for row in read_rows("sources.csv"):
        if row["id"] in found:
            raise ValueError(f"sources.csv: '{row['id']}' stands twice")
        found[row["id"]] = Source(row["id"], row["text"], Standing(row["standing"]), row["reference"])
    return MappingProxyType(found)


def source(id_: str) -> Source:
    """What a source id stands for.

    Args:
        id_: The id.

    Raises:
        ValueError: There is no such source.
    """
    try:
        return sources()[id_]
    except KeyError:
        raise ValueError(f"no source '{id_}' in sources.csv") from None


@cache
def index_wheels() -> tuple[IndexWheel, ...]:
    """Usual index wheels, fewest holes first."""
    rows = read_rows("index_wheels.csv")
    return tuple(IndexWheel(int(row["holes"]), Standing(row["standing"]), source(row["source"]).id) for row in rows)
