"""Whole-number problems handed to a solver library.

This module is the only home of scipy, and loads it when it is asked for the first
time. It owns how a problem is put; what it means is for those who ask.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["Constraint", "Solution", "in_parts", "least"]


_NONE_MEETS = 2
"""The library's status where no numbers meet the rows."""
_ENOUGH = (1, 4)
"""Those where it left off after as many tries as it was allowed. Work is counted and no clock asked: the same
problem has the same answer on every machine."""


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
    """Whether they are those of least cost; if not, the tries were used up."""


def least(
    costs: Sequence[float], rows: Sequence[Constraint], most: Sequence[float], *, tries: int = 400
) -> Solution | None:
    """The whole numbers of least cost that meet every row, or good ones with how good they are.

    Args:
        costs: Cost of one of each unknown.
        rows: What must hold.
        most: The largest value of each unknown; the smallest is 0.
        tries: Branches looked into, after which the best numbers so far are taken. Each takes longer, the more
            unknowns there are; for thousands of them ask `in_parts`.

    Returns:
        The unknowns, or None where no numbers meet the rows or none were found.

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
        # Proven but for rounding: the default would stop within a share of 0.0001.
        options={"mip_rel_gap": 1e-7, "node_limit": tries},
    )
    if found.status == _NONE_MEETS or (found.status in _ENOUGH and found.x is None):
        return None
    if found.status not in (0, *_ENOUGH):
        raise RuntimeError(f"the solver gave up: {found.message}")
    values = tuple(round(value) for value in found.x)
    proven = found.status == 0
    return Solution(values, found.fun if proven else found.mip_dual_bound, proven)


def in_parts(
    costs: Sequence[float], rows: Sequence[Constraint], most: Sequence[float]
) -> tuple[tuple[float, ...], float] | None:
    """The numbers of least cost that meet every row, whole or not: quick however many unknowns there are.

    Args:
        costs: Cost of one of each unknown.
        rows: What must hold.
        most: The largest value of each unknown; the smallest is 0.

    Returns:
        The unknowns and their cost, which no whole numbers go below; None where no numbers meet the rows.
    """
    from scipy.optimize import linprog

    above = [[-weight for weight in row.weights] for row in rows if row.low > float("-inf")]
    below = [list(row.weights) for row in rows if row.high < float("inf")]
    limits = [-row.low for row in rows if row.low > float("-inf")] + [
        row.high for row in rows if row.high < float("inf")
    ]
    found = linprog(costs, A_ub=above + below, b_ub=limits, bounds=[(0, limit) for limit in most], method="highs")
    return (tuple(map(float, found.x)), float(found.fun)) if found.status == 0 else None
