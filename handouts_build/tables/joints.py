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
    """The limits by name.

    `play` is that over which a tenon is loose, `glue room` that under which there is no room for glue, and `press` how
    much thicker than its hole one may be that is pressed or snapped in.
    """
    return {
        row["id"]: JointLimit(float(row["mm"]), row["says"], Standing(row["standing"]), source(row["source"]).id)
        for row in read_rows("joints.csv")
    }
