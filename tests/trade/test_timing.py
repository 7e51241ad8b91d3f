"""Durations against published PERT examples and against simulation."""

from __future__ import annotations

import math
import random
from statistics import fmean, pvariance

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.trade.timing import Estimate, certain, chance_within, deviations, three_point, total, with_runs

# A textbook's example of seven activities: optimistic, most likely, pessimistic (a chapter on PERT, flylib.com).
SEVEN = {1: (5, 8, 17), 2: (7, 10, 13), 3: (3, 5, 7), 4: (1, 3, 5), 5: (4, 6, 8), 6: (3, 3, 3), 7: (3, 4, 5)}
CRITICAL = (1, 3, 5, 7)


def test_the_published_example_of_seven_activities_comes_out():
    """Mean 24 on the critical path, and 0.9633 that it is done by 28; the table rounds Z to 1.79."""
    path = total(three_point(*SEVEN[one]) for one in CRITICAL)
    assert path.mean == pytest.approx(24)
    assert chance_within(path, 28) == pytest.approx(0.9633, abs=0.0005)


def test_the_published_example_of_three_on_a_path_comes_out():
    """Means 3, 8, 6 and deviations 1, 2, 2: mean 17, deviation 3, 0.8413 by 20 (a published PERT exercise)."""
    path = total(Estimate(mean, sd**2) for mean, sd in ((3, 1), (8, 2), (6, 2)))
    assert (path.mean, path.sd) == (17, 3)
    assert chance_within(path, 20) == pytest.approx(0.8413, abs=0.00005)


def test_a_sum_runs_over_as_often_as_a_simulation_says():
    """Twelve steps drawn from beta laws with the same means and variances, 40,000 shows."""
    steps = [(3, 4, 8), (5, 8, 12), (2, 4, 5), (6, 10, 20), (1, 2, 3), (4, 5, 9)] * 2
    draw = random.Random(20260311)
    estimates = [three_point(*step) for step in steps]

    def shown(step: tuple[float, float, float], estimate: Estimate) -> float:
        low, _, high = step
        mean, variance = (estimate.mean - low) / (high - low), estimate.variance / (high - low) ** 2
        common = mean * (1 - mean) / variance - 1
        return low + (high - low) * draw.betavariate(mean * common, (1 - mean) * common)

    shows = [sum(map(shown, steps, estimates)) for _ in range(40_000)]
    whole = total(estimates)
    assert fmean(shows) == pytest.approx(whole.mean, rel=0.005)
    assert math.sqrt(pvariance(shows)) == pytest.approx(whole.sd, rel=0.02)
    for slot in (whole.mean - whole.sd, whole.mean, whole.mean + whole.sd, whole.mean + 2 * whole.sd):
        within = sum(show <= slot for show in shows) / len(shows)
        assert chance_within(whole, slot) == pytest.approx(within, abs=0.015)


def test_without_runs_the_guess_stands_and_with_many_it_is_gone():
    guess = three_point(4, 6, 10)
    assert with_runs(guess, []) == guess
    runs = [8.0, 9.0, 10.0] * 200
    assert with_runs(guess, runs).mean == pytest.approx(9, abs=0.01)
    assert with_runs(guess, runs).variance == pytest.approx(pvariance(runs), abs=0.05)


def test_runs_and_guess_mix_as_a_simulated_mixture_does():
    """Law of total variance: draw the guess or a run, each as often as the other, and measure."""
    guess, runs = Estimate(5, 1), [7.0, 8.5]
    draw = random.Random(7)
    drawn = [
        draw.gauss(guess.mean, guess.sd) if (which := draw.randrange(3)) == 2 else runs[which] for _ in range(60_000)
    ]
    mixed = with_runs(guess, runs)
    assert mixed.mean == pytest.approx(fmean(drawn), abs=0.03)
    assert mixed.variance == pytest.approx(pvariance(drawn), rel=0.02)


# Standard normal table: 1.2816 holds with 0.90, 1.6449 with 0.95, 2.3263 with 0.99.
@pytest.mark.parametrize(("confidence", "z"), [(0.5, 0), (0.9, 1.2816), (0.95, 1.6449), (0.99, 2.3263)])
def test_deviations_are_those_of_the_normal_table(confidence, z):
    assert deviations(confidence) == pytest.approx(z, abs=0.00005)
    assert chance_within(Estimate(10, 4), 10 + 2 * z) == pytest.approx(confidence, abs=0.00001)


def test_what_is_kept_to_runs_over_never_or_always():
    assert chance_within(certain(10), 10) == 1
    assert chance_within(certain(10), 9.9) == 0


@pytest.mark.parametrize("wrong", [(5, 4, 6), (4, 7, 6), (-1, 2, 3)])
def test_guesses_out_of_order_are_refused(wrong):
    with pytest.raises(ValueError, match="not in order"):
        three_point(*wrong)


@given(st.lists(st.floats(0.5, 60), min_size=1, max_size=30), st.floats(1, 20))
def test_the_mean_lies_between_the_guess_and_the_runs(runs, likely):
    guess = three_point(likely / 2, likely, likely * 2)
    found = with_runs(guess, runs)
    ends = [guess.mean, *runs]
    assert min(ends) - 1e-9 <= found.mean <= max(ends) + 1e-9
    assert found.variance >= 0
