"""Whatever is done to a project, it is refused with a place, stopped or published: within limits, without a fault."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from handouts_build.site.starter import starter_kinds
from tests.effort import tries
from tests.fuzz import trying
from tests.fuzz.mutated import bases, case

ROOT = Path(__file__).parents[2]
SEED = 1
CASES = tries(12, 5000)
MOST_S = int(os.environ.get("HANDOUTS_FUZZ_S", "480"))
"""After which no further case is begun: a machine in heavy use tries fewer, and tells how many."""


def test_a_case_can_be_made_again_and_differs_from_what_it_was_made_of() -> None:
    whole = dict(bases())
    # So many that none of the projects is likely to be left out, however many are added.
    made = [case(SEED, number) for number in range(12 * len(whole))]
    assert made == [case(SEED, number) for number in range(12 * len(whole))]
    assert sum(made_of.files != whole[made_of.of] for made_of in made) > 0.75 * len(made)
    assert {made_of.of for made_of in made} == set(whole)


def test_every_demo_piece_every_starter_and_every_call_is_changed() -> None:
    demo = {path.stem for path in (ROOT / "projects").glob("*.yml")} - {"shop"}
    calls = {f"call {path.parent.name}" for path in (ROOT / "projects" / "calls").glob("*/call.yml")}
    assert {name for name, _ in bases()} == demo | calls | {f"starter {kind}" for kind in starter_kinds()}


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot hold a process to its limits")
def test_a_run_whose_time_is_up_ends(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(trying, "_warm", lambda _: None)
    assert list(trying.run(SEED, range(5), seconds=-1.0)) == []


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot hold a process to its limits")
@pytest.mark.long
def test_changed_projects_are_refused_stopped_or_published_and_nothing_else() -> None:
    # In a process of its own: this one has worked things out already.
    asked = ["--cases", str(CASES), "--seed", str(SEED), "--seconds", str(MOST_S)]
    ended = subprocess.run([sys.executable, "-m", "tests.fuzz", *asked], cwd=ROOT, capture_output=True, text=True)
    print(ended.stdout)
    assert ended.returncode == 0, ended.stdout + ended.stderr
