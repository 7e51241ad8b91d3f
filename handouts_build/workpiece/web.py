"""A web: the least wood between two cuts, or between a cut and the outside.

This module owns what one is. How it is found is in `gaps` and `felt`; whether it is meant,
or too little, is for `findings`.
"""

from __future__ import annotations

from dataclasses import dataclass

from handouts_build.workpiece.axes import Vector

__all__ = ["MEETS_MM", "OUTSIDE", "Web"]

OUTSIDE = "the outside"
"""What is not of any cut: the blank's own surface, and the air around it."""
MEETS_MM = 1e-4
"""Bodies closer than this meet."""


@dataclass(frozen=True)
class Web:
    """The least wood between two cuts, or a cut and the outside."""

    names: tuple[str, str]
    """The two cuts; `the outside` for the blank's own surface."""
    left_mm: float
    at_mm: Vector | None
    """Where, in part coordinates; none where the wood is ample."""
    places: int = 1
    """In how many like places of a ring of holes it stands."""
