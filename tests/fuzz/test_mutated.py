"""Whatever is done to a project, it is refused with a place, stopped or published: within limits, without a fault."""

from __future__ import annotations

import os

import pytest

from tests.effort import tries
from tests.fuzz.mutated import bases, case

if hasattr(os, "fork"):
    from tests.fuzz.trying import FAULTS, counted, run

SEED = 1
CASES = tries(12, 120)


def test_a_case_can_be_made_again_and_differs_from_what_it_was_made_of() -> None:
    made = [case(SEED, number) for number in range(40)]
    assert made == [case(SEED, number) for number in range(40)]
    whole = dict(bases())
    assert sum(made_of.files != whole[made_of.of] for made_of in made) > 30
    assert {made_of.of for made_of in made} == set(whole)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot hold a process to its limits")
@pytest.mark.long
def test_changed_projects_are_refused_stopped_or_published_and_nothing_else() -> None:
    outcomes = list(run(SEED, range(CASES)))
    print(f"seed {SEED}: {counted(outcomes)}")
    assert not [outcome for outcome in outcomes if outcome.kind in FAULTS]
