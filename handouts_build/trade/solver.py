"""Whole-number problems handed to a solver library.

This module is the only home of scipy, and loads it when it is asked for the first
time. It owns how a problem is put; what it means is for those who ask.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["Row", "least"]


@dataclass(frozen=True)
class Row:
    """A demand on a weighted sum of the unknowns: low ≤ sum ≤ high."""

    weights: Sequence[float]
    low: float = float("-inf")
    high: float = float("inf")


def least(costs: Sequence[float], rows: Sequence[Row], most: Sequence[float]) -> tuple[int, ...] | None:
    """The whole numbers of least cost that meet every row.

    Args:
        costs: Cost of one of each unknown.
        rows: What must hold.
        most: The largest value of each unknown; the smallest is 0.

    Returns:
        The unknowns, or None where no numbers meet the rows.

    Raises:
        RuntimeError: If the solver gives up, which it says why.
    """
    # Loaded only when there is something to solve: the library is large.
    from scipy.optimize import Bounds, LinearConstraint, milp

    found = milp(
        costs,
        constraints=LinearConstraint(
            [row.weights for row in rows], [row.low for row in rows], [row.high for row in rows]
        ),
        integrality=[1] * len(costs),
        bounds=Bounds([0] * len(costs), most),
        # Proven to the last: the default would stop within a share of 0.0001.
        options={"mip_rel_gap": 0},
    )
    if found.status == 2:
        return None
    if found.status != 0:
        raise RuntimeError(f"the solver gave up: {found.message}")
    return tuple(round(value) for value in found.x)
