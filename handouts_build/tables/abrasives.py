"""Grits and the mean size of their grains, in the two scales a shop mixes.

This module owns the published grain sizes. It leaves gaps in a sequence to the
trade. FEPA grades wear a P; CAMI grades are bare numbers: P320 is not 320.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from handouts_build.tables.loading import read_rows
from handouts_build.tables.published import Published, published

__all__ = ["CAMI", "FEPA", "Grit", "grit", "grits"]

FEPA = "FEPA P"
CAMI = "CAMI"


@dataclass(frozen=True)
class Grit:
    """One grade of one scale."""

    scale: str
    """`FEPA` or `CAMI`."""
    grade: str
    """As it is printed on the back: P240, or 240."""
    mean_um: Published
    """Mean grain size, micrometers."""


@cache
def grits(scale: str) -> tuple[Grit, ...]:
    """The grades of a scale, coarse to fine.

    Args:
        scale: `FEPA` or `CAMI`.
    """
    found = []
    for row in read_rows("abrasives.csv"):
        size = published(row, "mean_um")
        if size is None:
            raise ValueError(f"abrasives.csv: {row['grade']} has no grain size")
        if row["scale"] == scale:
            found.append(Grit(scale, grade=row["grade"], mean_um=size))
    return tuple(sorted(found, key=lambda each: -each.mean_um.value))


def grit(grade: str) -> Grit | None:
    """The grade as printed on the back, or None where no size was found.

    Args:
        grade: P240 for FEPA, 240 for CAMI.
    """
    wanted = grade.strip().upper()
    return next((each for scale in (FEPA, CAMI) for each in grits(scale) if each.grade == wanted), None)
