"""Drill bits by kind: how far the point goes deeper than the hole is wide.

This module owns the table. How deep a bit must go is a chapter of the trade; which bits a
shop has is for the shop.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from handouts_build.tables.loading import Standing, read_rows, source

__all__ = ["BitKind", "bits"]


@dataclass(frozen=True)
class BitKind:
    """A kind of bit and its point, which is as long as both parts together."""

    point_share: float
    """Of its diameter."""
    point_stands_mm: float
    """Whatever its diameter."""
    says: str
    standing: Standing
    source: str
    """A source id."""


@cache
def bits() -> dict[str, BitKind]:
    """Every kind of bit by its name in the trade."""
    return {
        row["id"]: BitKind(
            float(row["point_share"]),
            float(row["point_stands_mm"]),
            row["says"],
            Standing(row["standing"]),
            source(row["source"]).id,
        )
        for row in read_rows("bits.csv")
    }
