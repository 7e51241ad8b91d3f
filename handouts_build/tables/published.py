"""A published number, and who published it.

This module owns the form of a number with its standing and source, and finding
such numbers in a row. It leaves what the numbers mean to the tables that hold them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from handouts_build.tables.loading import Standing, source

__all__ = ["Published", "published"]


@dataclass(frozen=True)
class Published:
    """A number as it was published. Its unit is in the name of the field that holds it."""

    value: float
    standing: Standing
    source: str
    """A source id."""

    def __post_init__(self) -> None:
        source(self.source)

    @property
    def approximate(self) -> bool:
        """Whether print should show the number as approximate, because nobody has read it again."""
        return self.standing is not Standing.VERIFIED


def published(row: Mapping[str, str], field: str) -> Published | None:
    """The number in a row's field, or None where no published value was found.

    Args:
        row: A row with the columns `field`, `field_standing` and `field_source`.
        field: Name of the column.
    """
    cell, standing, origin = row[field], row[f"{field}_standing"], row[f"{field}_source"]
    if not cell:
        if standing or origin:
            raise ValueError(f"{field}: a standing or source without a value")
        return None
    return Published(float(cell), standing=Standing(standing), source=origin)
