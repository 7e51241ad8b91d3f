"""The choice of what to show live is the best there is: against trying everything."""

from __future__ import annotations

import random
from itertools import product

import pytest

from handouts_build.trade import choosing
from handouts_build.trade.choosing import Candidate, choose
from handouts_build.trade.timing import Estimate, certain, chance_within, deviations, three_point, total


def some(draw: random.Random, many: int) -> list[Candidate]:
    made = []
    for _ in range(many):
        likely = draw.uniform(2, 14)
        live = three_point(likely * draw.uniform(0.5, 1), likely, likely * draw.uniform(1, 3))
        fixed = draw.choice([None, None, None, None, True, False])
        made.append(Candidate(live, certain(draw.choice([0.5, 1, 2])), float(draw.randint(1, 5)), fixed))
    return made


def best_worth(candidates: list[Candidate], minutes: float, confidence: float) -> float | None:
    """By trying every way there is."""
    best = None
    for live in product((True, False), repeat=len(candidates)):
        if any(one.fixed is not None and one.fixed != shown for one, shown in zip(candidates, live, strict=True)):
            continue
        whole = total(one.live if shown else one.told for one, shown in zip(candidates, live, strict=True))
        if whole.mean + deviations(confidence) * whole.sd <= minutes + 1e-9:
            worth = sum(one.worth for one, shown in zip(candidates, live, strict=True) if shown)
            best = worth if best is None else max(best, worth)
    return best


@pytest.mark.parametrize("way", ["trying all", "the solver"])
@pytest.mark.parametrize("seed", range(12))
def test_nothing_worth_more_would_fit(way, seed, monkeypatch):
    if way == "the solver":
        monkeypatch.setattr(choosing, "_TRY_ALL", 0)
    draw = random.Random(seed)
    candidates = some(draw, 9)
    whole = sum(one.live.mean for one in candidates)
    for share, confidence in ((0.4, 0.9), (0.6, 0.8), (0.8, 0.95), (0.7, 0.5)):
        minutes = whole * share
        found = choose(candidates, minutes, confidence)
        best = best_worth(candidates, minutes, confidence)
        assert found.fits == (best is not None)
        if best is not None:
            assert found.worth == pytest.approx(best)
            assert found.chance >= confidence - 1e-9
            assert found.chance == pytest.approx(chance_within(found.estimate, minutes))
        for one, shown in zip(candidates, found.live, strict=True):
            assert one.fixed in (None, shown)


def test_forty_steps_go_to_the_solver_and_fit():
    candidates = some(random.Random(3), 40)
    found = choose(candidates, 200, 0.9)
    assert found.fits
    assert found.chance >= 0.9
    # No single free step more would fit.
    for index, one in enumerate(candidates):
        if one.fixed is None and not found.live[index]:
            more = total(
                other.live if shown or at == index else other.told
                for at, (other, shown) in enumerate(zip(candidates, found.live, strict=True))
            )
            assert more.mean + deviations(0.9) * more.sd > 200


def test_where_nothing_fits_all_that_is_free_is_told_and_it_says_so():
    must = Candidate(Estimate(50, 4), certain(1), 3, True)
    free = Candidate(Estimate(10, 1), certain(1), 3)
    found = choose([must, free], 30, 0.9)
    assert not found.fits
    assert found.live == (True, False)
    assert found.chance < 0.9


def test_of_two_worth_the_same_the_surer_is_shown():
    short, long = Candidate(Estimate(5, 1), certain(1), 3), Candidate(Estimate(9, 1), certain(1), 3)
    assert choose([long, short], 10.5, 0.9).live == (False, True)
