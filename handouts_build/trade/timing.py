"""How long a show takes: three-point estimates, recorded runs, and the chance of running over.

This module owns the arithmetic of durations. Minutes go in and come out as plain
numbers; which step is estimated how, and what to leave out, is for others.

The method, which the papers repeat: a step's guess has a mean (a + 4 m + b) / 6 and a
variance ((b − a) / 6)². Means and variances add up over the steps, which are taken
as independent; the total is taken as normal. As runs are recorded, the guess counts
as one more run with a spread of its own, so it matters less with every run.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import NormalDist

__all__ = ["NOTHING", "Estimate", "certain", "chance_within", "deviations", "three_point", "total", "with_runs"]


@dataclass(frozen=True)
class Estimate:
    """A duration that is not known exactly."""

    mean: float
    """Minutes."""
    variance: float
    """Square minutes."""

    @property
    def sd(self) -> float:
        """Standard deviation, minutes."""
        return math.sqrt(self.variance)


NOTHING = Estimate(0.0, 0.0)
"""No time at all."""


def certain(minutes: float) -> Estimate:
    """A duration that is kept to, such as a break."""
    return Estimate(minutes, 0.0)


def three_point(least: float, likely: float, most: float) -> Estimate:
    """The PERT estimate from three guesses.

    Args:
        least: Minutes if all goes well.
        likely: Minutes most often.
        most: Minutes if it goes badly.

    Raises:
        ValueError: If they are not in this order.
    """
    if not 0 <= least <= likely <= most:
        raise ValueError(f"{least}, {likely} and {most} minutes are not in order")
    return Estimate((least + 4 * likely + most) / 6, ((most - least) / 6) ** 2)


def with_runs(guess: Estimate, runs: Sequence[float]) -> Estimate:
    """A guess corrected by recorded times.

    The guess stands as one more run with its own spread: mean and variance of the
    mixture of the guess and the runs, each of weight 1 / (1 + n). With no run it is
    the guess; with many it is their mean and spread.

    Args:
        guess: The estimate before any run.
        runs: Minutes that the step took.
    """
    weight = 1 + len(runs)
    mean = (guess.mean + sum(runs)) / weight
    spread = guess.variance + (guess.mean - mean) ** 2 + sum((run - mean) ** 2 for run in runs)
    return Estimate(mean, spread / weight)


def total(estimates: Iterable[Estimate]) -> Estimate:
    """One after the other, each taken as independent of the rest."""
    known = tuple(estimates)
    return Estimate(math.fsum(estimate.mean for estimate in known), math.fsum(estimate.variance for estimate in known))


def chance_within(estimate: Estimate, minutes: float) -> float:
    """The chance that it takes no longer than `minutes`, by the normal law.

    Args:
        estimate: Mean and variance of the time, minutes and minutes².
        minutes: The time there is.

    Returns:
        A number from 0 to 1: Φ((minutes − mean) / standard deviation), the cumulative normal distribution.
    """
    if estimate.sd == 0:
        return 1.0 if estimate.mean <= minutes else 0.0
    return 0.5 * (1 + math.erf((minutes - estimate.mean) / (estimate.sd * math.sqrt(2))))


def deviations(confidence: float) -> float:
    """Standard deviations above the mean that hold with this confidence.

    Args:
        confidence: A chance of at least 0.5 and under 1.

    Raises:
        ValueError: If it is not.
    """
    if not 0.5 <= confidence < 1:
        raise ValueError(f"a confidence of {confidence} is not between 0.5 and 1")
    return NormalDist().inv_cdf(confidence)
