"""How loosely a round tenon may sit in its hole.

This module owns the limits, each with its standing. What a tenon is turned to is a
chapter of the trade; which joint a limit is held against is for whoever puts parts
together.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from handouts_build.tables.loading import Standing, read_rows, source

__all__ = ["JointLimit", "joint_limits"]


@dataclass(frozen=True)
class JointLimit:
    """A difference between hole and tenon at which something is said."""

    value_mm: float
    """Across, not on one side."""
    says: str
    standing: Standing
    source: str


@cache
def joint_limits() -> dict[str, JointLimit]:
    """The limits by name: `play`, over which a tenon is loose, and `glue room`, under which there is none."""
    return {
        row["id"]: JointLimit(float(row["mm"]), row["says"], Standing(row["standing"]), source(row["source"]).id)
        for row in read_rows("joints.csv")
    }
