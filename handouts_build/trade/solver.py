"""Whole-number problems handed to a solver library.

This module is the only home of scipy, and loads it when it is asked for the first
time. It owns how a problem is put; what it means is for those who ask.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["Constraint", "Solution", "least"]


_TIME_IS_UP = 1
"""The library's status where its time or its number of tries ran out."""


@dataclass(frozen=True)
class Constraint:
    """A demand on a weighted sum of the unknowns: low ≤ sum ≤ high."""

    weights: Sequence[float]
    low: float = float("-inf")
    high: float = float("inf")


@dataclass(frozen=True)
class Solution:
    """Whole numbers that meet every row."""

    values: tuple[int, ...]
    bound: float
    """No numbers that meet the rows cost less than this."""
    proven: bool
    """Whether they are those of least cost; if not, the time was up."""


def least(
    costs: Sequence[float], rows: Sequence[Constraint], most: Sequence[float], *, seconds: float = 5.0
) -> Solution | None:
    """The whole numbers of least cost that meet every row, or good ones with how good they are.

    Args:
        costs: Cost of one of each unknown.
        rows: What must hold.
        most: The largest value of each unknown; the smallest is 0.
        seconds: Time after which the best numbers so far are taken.

    Returns:
        The unknowns, or None where no numbers meet the rows.

    Raises:
        TimeoutError: If no numbers were found in that time.
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
        # Proven but for rounding: the default would stop within a share of 0.0001.
        options={"mip_rel_gap": 1e-7, "time_limit": seconds},
    )
    if found.status == 2:
        return None
    if found.status == _TIME_IS_UP and found.x is None:
        raise TimeoutError(found.message)
    if found.status not in (0, _TIME_IS_UP):
        raise RuntimeError(f"the solver gave up: {found.message}")
    values = tuple(round(value) for value in found.x)
    proven = found.status == 0
    return Solution(values, found.fun if proven else found.mip_dual_bound, proven)
