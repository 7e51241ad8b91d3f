"""`python -m tests.fuzz --cases 5000 --seed 1`: prints each find, and at the end the counts."""

from __future__ import annotations

import argparse
import sys
import time

from tests.fuzz.mutated import case
from tests.fuzz.trying import FAULTS, counted, run


def main() -> None:
    """Try as many as are asked for."""
    asked = argparse.ArgumentParser(prog="python -m tests.fuzz")
    asked.add_argument("--cases", type=int, default=5000)
    asked.add_argument("--first", type=int, default=0, help="number of the first case")
    asked.add_argument("--seed", type=int, default=int(time.time()))
    asked.add_argument("--jobs", type=int, default=2)
    asked.add_argument("--publish-each", type=int, default=100)
    asked.add_argument("--seconds", type=float, default=float("inf"), help="after which no further case is begun")
    said = asked.parse_args()
    print(f"seed {said.seed}", flush=True)
    outcomes = []
    numbers = range(said.first, said.first + said.cases)
    for outcome in run(said.seed, numbers, jobs=said.jobs, publish_each=said.publish_each, seconds=said.seconds):
        outcomes.append(outcome)
        if len(outcomes) % 250 == 0:
            print(counted(outcomes), flush=True)
        if outcome.kind in FAULTS:
            made = case(said.seed, outcome.number)
            print(
                f"\ncase {outcome.number} of {made.of}: {outcome.kind}\n  {'; '.join(made.done)}\n{outcome.told}",
                flush=True,
            )
    print(counted(outcomes) if outcomes else "no case was begun")
    sys.exit(any(outcome.kind in FAULTS for outcome in outcomes))


if __name__ == "__main__":
    main()
