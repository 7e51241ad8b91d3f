"""Rounding to a rule's marks, on the side that is safe to err on.

This module owns the choice of mark. A tenon is made under and fitted, a blank is
cut over, a depth stops short: whoever asks says which side, and the mark is
never on the other one by more than a hundredth of a step.
"""

from __future__ import annotations

import enum
import math
from fractions import Fraction

__all__ = ["HALF", "ON_THE_MARK", "Err", "to_mark"]

ON_THE_MARK = 0.01
"""A value within this share of a step from a mark is on it: nobody cuts to less."""

HALF = 1e-6
"""A value this near to half a step (a share of it) is half: binary floats carry shop fractions only almost exactly."""


class Err(enum.StrEnum):
    """The side on which a rounded value may lie."""

    OVER = "over"
    """At or above the exact value: a blank, a hole's waste."""
    UNDER = "under"
    """At or below the exact value: a tenon, a depth that must stop short."""
    NEAREST = "nearest"
    """The nearest mark; halves go up."""


def to_mark(value: float, step: Fraction, err: Err) -> Fraction:
    """The mark that a value is rounded to.

    Args:
        value: The exact value, in the same unit as the step.
        step: Distance between marks, more than nought.
        err: The side that is safe.

    Returns:
        An exact multiple of `step`.

    Raises:
        ValueError: If the step is not more than nought or the value is not finite.
    """
    if step <= 0:
        raise ValueError("the step between marks must be more than nought")
    if not math.isfinite(value):
        raise ValueError("only a finite value can be rounded")
    marks = value / float(step)
    near = round(marks)
    if abs(marks - near) <= ON_THE_MARK:
        return near * step
    if err is Err.OVER:
        return math.ceil(marks) * step
    if err is Err.UNDER:
        return math.floor(marks) * step
    # A value a hair under half counts as half, so that a sine that should be 0.5 goes up everywhere alike.
    return math.floor(marks + 0.5 + HALF) * step
