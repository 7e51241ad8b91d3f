"""Lathe speeds as others have published them, each labelled for what it is.

This module owns two printed tables and two rules. They disagree, and none of
them knows the reader's lathe or blank: they are shown side by side. It leaves
rim speed and the choice of a speed to the trade.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from handouts_build.tables.loading import Standing, read_rows, source

__all__ = ["ANY", "MANUAL", "TEXTBOOK", "SpeedRow", "SpeedRule", "speed_row", "speed_rows", "speed_rules"]

MANUAL = "lathe manual"
"""Table from a bench lathe's operator manual: roughing, general and finishing cuts."""
TEXTBOOK = "textbook 1919"
"""Table from a school book of 1919: pulley steps, with a speed for the smallest work only."""
ANY = "any"
"""The operation of a table that does not tell operations apart."""


@dataclass(frozen=True)
class SpeedRow:
    """A line of a printed table."""

    table: str
    """`MANUAL` or `TEXTBOOK`."""
    operation: str
    """Roughing, general or finishing; `ANY` where the table does not say."""
    over_mm: float
    """The diameter is over this, millimeters."""
    to_mm: float | None
    """And up to this; None where the table is open above."""
    rpm_low: float | None
    """Revolutions per minute; None where the table names a pulley step only."""
    rpm_high: float | None
    says: str
    standing: Standing
    source: str


@dataclass(frozen=True)
class SpeedRule:
    """A rule that bounds the diameter in inches times the rpm."""

    id: str
    kind: str
    """What it is: published rule, or rule of thumb."""
    title: str
    product_low_in_rpm: float
    product_high_in_rpm: float
    says: str
    standing: Standing
    source: str

    def rpm(self, *, diameter_in: float) -> tuple[float, float]:
        """The slowest and the fastest speed it names.

        Args:
            diameter_in: Diameter, inches.
        """
        return self.product_low_in_rpm / diameter_in, self.product_high_in_rpm / diameter_in


def _number(cell: str) -> float | None:
    return float(cell) if cell else None


@cache
def speed_rows(table: str) -> tuple[SpeedRow, ...]:
    """The lines of a printed table.

    Args:
        table: `MANUAL` or `TEXTBOOK`.
    """
    rows = [row for row in read_rows("lathe_speeds.csv") if row["table"] == table]
    for row in rows:
        source(row["source"])
    return tuple(
        SpeedRow(
            table=table,
            operation=row["operation"],
            over_mm=float(row["over_mm"]),
            to_mm=_number(row["to_mm"]),
            rpm_low=_number(row["rpm_low"]),
            rpm_high=_number(row["rpm_high"]),
            says=row["says"],
            standing=Standing(row["standing"]),
            source=row["source"],
        )
        for row in rows
    )


def speed_row(table: str, *, diameter_mm: float, operation: str = ANY) -> SpeedRow | None:
    """The line of a table for a diameter, or None where the table stops short of it.

    Args:
        table: `MANUAL` or `TEXTBOOK`.
        diameter_mm: Diameter, millimeters; a line holds its upper bound, not its lower.
        operation: As the table tells them apart.
    """
    for row in speed_rows(table):
        fits = row.over_mm < diameter_mm and (row.to_mm is None or diameter_mm <= row.to_mm)
        if fits and row.operation == operation:
            return row
    return None


@cache
def speed_rules() -> tuple[SpeedRule, ...]:
    """The rules, each labelled for what it is."""
    rules = []
    for row in read_rows("speed_rules.csv"):
        source(row["source"])
        rules.append(
            SpeedRule(
                id=row["id"],
                kind=row["kind"],
                title=row["title"],
                product_low_in_rpm=float(row["product_low_in_rpm"]),
                product_high_in_rpm=float(row["product_high_in_rpm"]),
                says=row["says"],
                standing=Standing(row["standing"]),
                source=row["source"],
            )
        )
    return tuple(rules)
