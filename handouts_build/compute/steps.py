"""Steps by the names that demonstrations and stopwatches call them by.

This module owns those names: a step's own, or `part: name` where two parts have a
step of one name. It also owns how long each step takes, guess and runs together.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from handouts_build.schema import RunKeys
from handouts_build.sheet import Sheet, Step
from handouts_build.trade.timing import Estimate, three_point, with_runs

__all__ = ["UNSAID", "Stray", "Timed", "step_names", "strays", "timed"]

UNSAID = (1.0, 3.0, 8.0)
"""Least, likely and most minutes of a step that says none: a guess of this tool's, and it says so."""

_LEAST, _MOST = 0.75, 1.5
"""Where the author gives only the likely minutes: common practice, no published source."""

_FAR = 2.0
"""How many times under the least or over the most a run is taken for a trial: common practice, no published source."""


@dataclass(frozen=True)
class Timed:
    """How long a step takes."""

    live: Estimate
    told: Estimate
    live_runs: int
    told_runs: int


@dataclass(frozen=True)
class Stray:
    """A recorded time that is far outside what the author says of its step."""

    began: str
    """Of the run, as its file has it."""
    step: str
    seconds: int
    likely: float
    """Minutes, by the author."""


def step_names(sheet: Sheet) -> dict[str, Step]:
    """Every step by the name it is called by, in order."""
    often = Counter(step.name for step in sheet.steps)
    return {step.name if often[step.name] == 1 else f"{step.part}: {step.name}": step for step in sheet.steps}


def timed(names: Mapping[str, Step], runs: Iterable[RunKeys]) -> dict[str, Timed]:
    """How long each step takes, by name: the author's guess, corrected by the runs.

    Args:
        names: From `step_names`.
        runs: All that were recorded.
    """
    live: dict[str, list[float]] = {name: [] for name in names}
    minutes: dict[str, list[float]] = {name: [] for name in names}
    for run in runs:
        for name, was_live, seconds in _spent(run):
            if name in names:
                (live if was_live else minutes)[name].append(seconds / 60)
    made = {}
    for name, step in names.items():
        telling = step.telling
        made[name] = Timed(
            with_runs(_guess(step), live[name]),
            with_runs(three_point(_LEAST * telling, telling, _MOST * telling), minutes[name]),
            len(live[name]),
            len(minutes[name]),
        )
    return made


def strays(names: Mapping[str, Step], runs: Iterable[RunKeys]) -> tuple[Stray, ...]:
    """The recorded times of live steps that are far outside the author's least and most, in order of the runs.

    Args:
        names: From `step_names`.
        runs: All that were recorded.
    """
    found = []
    for run in runs:
        for name, was_live, seconds in _spent(run):
            likely = _minutes(names[name].minutes) if name in names and was_live else None
            if likely is None:
                continue
            least, _, most = _bounds(names[name], likely)
            if not 60 * least / _FAR <= seconds <= 60 * most * _FAR:
                found.append(Stray(run.began, name, seconds, likely))
    return tuple(found)


def _spent(run: RunKeys) -> Iterator[tuple[str, bool, int]]:
    """Steps that a run came to the end of, whether they were live, and their seconds."""
    spent: dict[tuple[str, bool], int] = {}
    for leg in run.times:
        key = (leg.step, leg.shown == "live")
        spent[key] = spent.get(key, 0) + leg.to - leg.from_
    # A step that was broken off tells nothing of its length.
    broken = {*run.skipped, *(() if run.finished else (leg.step for leg in run.times[-1:]))}
    for (name, was_live), seconds in spent.items():
        if name not in broken and seconds:
            yield name, was_live, seconds


def _guess(step: Step) -> Estimate:
    likely = _minutes(step.minutes)
    if likely is None:
        return three_point(*UNSAID)
    return three_point(*_bounds(step, likely))


def _bounds(step: Step, likely: float) -> tuple[float, float, float]:
    """Least, likely and most minutes of a step that says how long it takes."""
    least, most = _minutes(step.least_minutes), _minutes(step.most_minutes)
    return _LEAST * likely if least is None else least, likely, _MOST * likely if most is None else most


def _minutes(quantity: object) -> float | None:
    magnitude = getattr(quantity, "magnitude", None)
    return None if magnitude is None else float(magnitude)
