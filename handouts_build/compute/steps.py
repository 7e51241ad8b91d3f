"""Steps by the names that demonstrations and stopwatches call them by.

This module owns those names: a step's own, or `part: name` where two parts have a
step of one name. It also owns how long each step takes, guess and runs together.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from handouts_build.schema import Run
from handouts_build.sheet import Sheet, Step
from handouts_build.trade.timing import Estimate, three_point, with_runs

__all__ = ["UNSAID", "Timed", "step_names", "timed"]

UNSAID = (1.0, 3.0, 8.0)
"""Least, likely and most minutes of a step that says none: a guess of this tool's, and it says so."""

_LEAST, _MOST = 0.75, 1.5
"""Where the author gives only the likely minutes: common practice, no published source."""


@dataclass(frozen=True)
class Timed:
    """How long a step takes."""

    live: Estimate
    told: Estimate
    live_runs: int
    told_runs: int


def step_names(sheet: Sheet) -> dict[str, Step]:
    """Every step by the name it is called by, in order."""
    often = Counter(step.name for step in sheet.steps)
    return {step.name if often[step.name] == 1 else f"{step.part}: {step.name}": step for step in sheet.steps}


def timed(names: Mapping[str, Step], runs: Iterable[Run]) -> dict[str, Timed]:
    """How long each step takes, by name: the author's guess, corrected by the runs.

    Args:
        names: From `step_names`.
        runs: All that were recorded.
    """
    live: dict[str, list[float]] = {name: [] for name in names}
    told: dict[str, list[float]] = {name: [] for name in names}
    for run in runs:
        spent: dict[tuple[str, bool], int] = {}
        for one in run.times:
            key = (one.step, one.shown == "live")
            spent[key] = spent.get(key, 0) + one.to - one.from_
        # A step that was broken off tells nothing of its length.
        broken = {*run.skipped, *(() if run.finished else (one.step for one in run.times[-1:]))}
        for (name, was_live), seconds in spent.items():
            if name in names and name not in broken and seconds:
                (live if was_live else told)[name].append(seconds / 60)
    made = {}
    for name, step in names.items():
        telling = step.telling
        made[name] = Timed(
            with_runs(_guess(step), live[name]),
            with_runs(three_point(_LEAST * telling, telling, _MOST * telling), told[name]),
            len(live[name]),
            len(told[name]),
        )
    return made


def _guess(step: Step) -> Estimate:
    likely = _minutes(step.minutes)
    if likely is None:
        return three_point(*UNSAID)
    least, most = _minutes(step.least_minutes), _minutes(step.most_minutes)
    return three_point(_LEAST * likely if least is None else least, likely, _MOST * likely if most is None else most)


def _minutes(quantity: object) -> float | None:
    magnitude = getattr(quantity, "magnitude", None)
    return None if magnitude is None else float(magnitude)
