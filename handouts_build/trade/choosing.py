"""Which steps to show live and which to bring ready-made, so that a show fits its time.

This module owns the choice: the most worth seeing live whose total still fits with
the confidence asked for. Few steps are tried out in all combinations; many go to
the solver, cut by cut, because the spread of a sum is the root of a sum.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from handouts_build.trade.solver import Constraint, least
from handouts_build.trade.timing import Estimate, chance_within, deviations, total

__all__ = ["Candidate", "Choice", "as_settled", "choose"]

_TRY_ALL = 12
"""Free steps up to which every combination is tried: 4096 of them."""
_SLACK = 1e-9
_BETTER = 0.001
"""Worth by which a choice must be better: well over what the solver takes for equal."""


@dataclass(frozen=True)
class Candidate:
    """One step as it might be shown."""

    live: Estimate
    told: Estimate
    """If it is brought ready-made and told."""
    worth: float = 1.0
    """What it is worth to see it live."""
    fixed: bool | None = None
    """True if it must be live, False if it cannot be, None if it is free."""


@dataclass(frozen=True)
class Choice:
    """How the steps are shown."""

    live: tuple[bool, ...]
    estimate: Estimate
    chance: float
    """That it takes no longer than the time there is."""
    worth: float
    fits: bool
    """Whether the chance is as high as was asked."""


def choose(candidates: Sequence[Candidate], minutes: float, confidence: float) -> Choice:
    """The choice worth most that fits; among equals, the one that fits with the higher chance.

    Args:
        candidates: The steps in order.
        minutes: The time there is.
        confidence: The chance it must fit with, from 0.5 to under 1.

    Returns:
        The choice. Where nothing fits, the one with every free step told, marked as not fitting.
    """
    free = [index for index, candidate in enumerate(candidates) if candidate.fixed is None]
    least_live = _made(candidates, _filled(candidates, free, [False] * len(free)), minutes, confidence)
    if not free:
        return least_live
    if len(free) <= _TRY_ALL:
        tried = (
            _made(candidates, _filled(candidates, free, which), minutes, confidence)
            for which in product((True, False), repeat=len(free))
        )
        fitting = [choice for choice in tried if choice.fits]
        return max(fitting, key=lambda choice: (choice.worth, choice.chance), default=least_live)
    which_live = _solved(candidates, free, minutes, confidence)
    if which_live is None:
        return least_live
    return _made(candidates, _filled(candidates, free, which_live), minutes, confidence)


def as_settled(candidates: Sequence[Candidate], live: Sequence[bool], minutes: float, confidence: float) -> Choice:
    """A choice that was made before, against the same time.

    Args:
        candidates: The steps in order.
        live: Whether each is shown live.
        minutes: The time there is.
        confidence: The chance it must fit with, from 0.5 to under 1.
    """
    return _made(candidates, tuple(live), minutes, confidence)


def _filled(candidates: Sequence[Candidate], free: Sequence[int], which: Sequence[bool]) -> tuple[bool, ...]:
    live = [bool(candidate.fixed) for candidate in candidates]
    for index, chosen in zip(free, which, strict=True):
        live[index] = chosen
    return tuple(live)


def _made(candidates: Sequence[Candidate], live: tuple[bool, ...], minutes: float, confidence: float) -> Choice:
    estimate = total(
        candidate.live if shown else candidate.told for candidate, shown in zip(candidates, live, strict=True)
    )
    worth = sum(candidate.worth for candidate, shown in zip(candidates, live, strict=True) if shown)
    fits = estimate.mean + deviations(confidence) * estimate.sd <= minutes + _SLACK
    return Choice(live, estimate, chance_within(estimate, minutes), worth, fits)


def _solved(
    candidates: Sequence[Candidate], free: Sequence[int], minutes: float, confidence: float
) -> list[bool] | None:
    """The free steps to show live, by branching on the mean.

    A choice with mean μ and variance v fits when v ≤ ((T − μ) / z)². That bound is
    convex in μ, so between two means its chord lies above it: a linear rule that
    forbids no fitting choice. The solver's best under the chord either fits, or the
    stretch is split at its mean, where both new chords touch the bound.
    """
    z = deviations(confidence)
    base = total(candidate.told if not candidate.fixed else candidate.live for candidate in candidates)
    means = [candidates[index].live.mean - candidates[index].told.mean for index in free]
    variances = [candidates[index].live.variance - candidates[index].told.variance for index in free]
    costs = [-candidates[index].worth for index in free]
    lowest = base.mean + sum(change for change in means if change < 0)

    def bound(mean: float) -> float:
        return ((minutes - mean) / z) ** 2 if z > 0 else float("inf")

    best: tuple[float, list[bool]] | None = None
    stretches = [(lowest, minutes)] if lowest <= minutes else []
    while stretches:
        low, high = stretches.pop()
        rows = [Constraint(means, low - base.mean - _SLACK, high - base.mean + _SLACK)]
        if z > 0:
            slope = (bound(high) - bound(low)) / (high - low) if high > low else 0.0
            chord = [variance - slope * mean for variance, mean in zip(variances, means, strict=True)]
            rows.append(Constraint(chord, high=bound(low) + slope * (base.mean - low) - base.variance + _SLACK))
        if best is not None:
            rows.append(Constraint(costs, high=best[0] - _BETTER))
        solved = least(costs, rows, [1] * len(free))
        if solved is None:
            continue
        found = solved.values
        mean = base.mean + sum(change for change, live in zip(means, found, strict=True) if live)
        variance = base.variance + sum(change for change, live in zip(variances, found, strict=True) if live)
        if variance <= bound(mean) + _SLACK:
            best = (
                sum(change for change, live in zip(costs, found, strict=True) if live),
                [bool(live) for live in found],
            )
            stretches.append((low, high))
        elif low < mean < high:
            stretches += [(low, mean), (mean, high)]
    return best[1] if best else None
