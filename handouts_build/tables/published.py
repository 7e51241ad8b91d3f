"""A published number, and who published it.

This module owns the form of a number with its standing and source, the reading
of this folder's CSV files into such numbers, and the texts behind source ids. It
leaves what the numbers mean to the tables that hold them.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from handouts_build.tables.loading import Standing

__all__ = ["COMMON_PRACTICE", "Published", "published", "read_rows", "source_text"]

COMMON_PRACTICE = "common practice, no published source"
"""Stands in place of a source id where the trade agrees and nobody has published."""

_FOLDER = Path(__file__).parent
_SOURCE_FILES = ("woods_sources.csv", "bench_sources.csv")


@dataclass(frozen=True)
class Published:
    """A number as it was published. Its unit is in the name of the field that holds it."""

    value: float
    standing: Standing
    source: str
    """A source id, or `COMMON_PRACTICE`."""

    def __post_init__(self) -> None:
        source_text(self.source)

    @property
    def approximate(self) -> bool:
        """Whether print should show the number as approximate, because nobody has read it again."""
        return self.standing is not Standing.VERIFIED


def read_rows(file: str) -> tuple[dict[str, str], ...]:
    """The rows of a CSV file in this folder, every cell stripped.

    Args:
        file: Its name.

    Raises:
        ValueError: A row has more or fewer cells than the head.
    """
    with (_FOLDER / file).open(encoding="utf-8", newline="") as lines:
        head, *body = list(csv.reader(lines))
    for number, cells in enumerate(body, start=2):
        if len(cells) != len(head):
            raise ValueError(f"{file}: row {number} has {len(cells)} cells where the head has {len(head)}")
    return tuple({key: cell.strip() for key, cell in zip(head, cells, strict=True)} for cells in body)


def published(row: Mapping[str, str], field: str) -> Published | None:
    """The number in a row's field, or None where no published value was found.

    Args:
        row: A row with the columns `field`, `field_standing` and `field_source`.
        field: Name of the column.
    """
    cell, standing, source = row[field], row[f"{field}_standing"], row[f"{field}_source"]
    if not cell:
        if standing or source:
            raise ValueError(f"{field}: a standing or source without a value")
        return None
    return Published(float(cell), standing=Standing(standing), source=source)


@cache
def _sources() -> dict[str, str]:
    return {row["id"]: row["text"] for file in _SOURCE_FILES for row in read_rows(file)}


def source_text(source: str) -> str:
    """What a source id stands for, as a reader should see it.

    Args:
        source: An id, or `COMMON_PRACTICE`, which stands for itself.

    Raises:
        ValueError: There is no such source.
    """
    if source == COMMON_PRACTICE:
        return source
    try:
        return _sources()[source]
    except KeyError:
        raise ValueError(f"no source '{source}' in {' or '.join(_SOURCE_FILES)}") from None
