"""What the solid refuses, and how large a job it takes on.

This module owns the fault raised for a cut or a hold that means nothing, and the
bounds that keep time and memory in hand. What a turner should mind, though it can
be cut, is a verdict and lives in `verdicts`.
"""

from __future__ import annotations

import math
from typing import Any

from handouts_build.problems import HandoutsError
from handouts_build.quantities import exact, millimetres

__all__ = [
    "MOST_BODIES",
    "MOST_CUTS",
    "MOST_DOVETAIL_DEG",
    "MOST_FLATS",
    "MOST_HOLES",
    "MOST_MM",
    "MOST_POINTS",
    "MOST_TRIANGLES",
    "WorkpieceFault",
    "count_within",
    "positive",
    "said",
    "within",
]

MOST_MM = 5000.0
"""No size or place is larger, mm: longer than any wood lathe's bed."""
MOST_CUTS = 120
"""Cuts in one part, a cut repeated over several holds counted each time."""
MOST_HOLES = 180
"""Holes in one cut; two degrees apart."""
MOST_BODIES = 256
"""Cuts and holes in one part, all counted."""
MOST_FLATS = 64
"""Flats in one cut."""
MOST_DOVETAIL_DEG = 30.0
"""No jaws lean more."""
MOST_POINTS = 4000
"""Points in one profile."""
MOST_TRIANGLES = 400_000
"""Triangles of one stage."""


class WorkpieceFault(HandoutsError):
    """A step that cannot be carried out on the solid.

    Attributes:
        message: What is wrong, in the author's words.
        hint: What would be right.
        step: Which step, counting from 0, or None for the blank.
        cut: Which of the step's cuts, counting from 0, or None for its hold.
        done: The stages before that step, with all that was found on them.
    """

    def __init__(self, message: str, hint: str, *, step: int | None = None, cut: int | None = None) -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint
        self.step = step
        self.cut = cut
        self.done: tuple[Any, ...] = ()

    def at(self, *, step: int | None, cut: int | None) -> WorkpieceFault:
        """The same fault with its place; a place already known stays.

        Args:
            step: Which step, counting from 0; None for the blank.
            cut: Which of the step's cuts, counting from 0; None for its hold.
        """
        return WorkpieceFault(
            self.message,
            self.hint,
            step=self.step if self.step is not None else step,
            cut=self.cut if self.cut is not None else cut,
        )


def said(value_mm: float) -> str:
    """A length as a message says it, in both units."""
    value = millimetres(value_mm)
    return f"{exact(value, 'in')} ({exact(value, 'mm')})"


def positive(value_mm: float, called: str) -> None:
    """Refuse a size that is not more than nought, not a number, or beyond bounds.

    Args:
        value_mm: The size, mm.
        called: What a message calls it.

    Raises:
        WorkpieceFault: With the reason.
    """
    within(value_mm, called)
    if value_mm <= 0:
        raise WorkpieceFault(f"{called} is {said(value_mm)}", "give a length of more than nought")


def within(value_mm: float, called: str) -> None:
    """Refuse a place that is no number or beyond bounds.

    Args:
        value_mm: The place, mm.
        called: What a message calls it.

    Raises:
        WorkpieceFault: With the reason.
    """
    if not math.isfinite(value_mm):
        raise WorkpieceFault(f"{called} is not a number", "give a length")
    if abs(value_mm) > MOST_MM:
        raise WorkpieceFault(f"{called} is {said(value_mm)}", f"{said(MOST_MM)} is the most that is drawn here")


def count_within(value: int, called: str, *, least: int, most: int) -> None:
    """Refuse a count beyond bounds.

    Args:
        value: The count.
        called: What is counted, as a message has it after the number.
        least: The fewest there may be.
        most: The most there may be.

    Raises:
        WorkpieceFault: If there are fewer or more.
    """
    if not least <= value <= most:
        raise WorkpieceFault(f"{value} {called}", f"give from {least} to {most}")
