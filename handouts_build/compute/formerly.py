"""Names that steps had before, and names of none: how what is over still counts.

This module owns that a step may be renamed or dropped. A recorded run and a
demonstration that is over say what was then; what of it no step answers to any more is
left out and said in a note. What is still to come must name steps that are there.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from handouts_build.compute.steps import step_names
from handouts_build.problems import near_miss
from handouts_build.schema import DemonstrationKeys, Document, Key, ProjectKeys, RunKeys, RunsKeys
from handouts_build.sheet import Finding, Level, Sheet

__all__ = [
    "LISTS",
    "another_piece",
    "clashes",
    "current_demonstration",
    "current_runs",
    "of_another_piece",
    "old_names",
]

LISTS = ("must see", "ready made", "left out", "order")
"""The keys of a demonstration that list steps."""


def old_names(sheet: Sheet) -> dict[str, str]:
    """What each step is called now, by every name it had before."""
    names = step_names(sheet)
    found: dict[str, list[str]] = {}
    for called, step in names.items():
        for old in step.formerly:
            for former in (old, f"{step.part}: {old}"):
                found.setdefault(former, []).append(called)
        # A step that had its name to itself once may share it now.
        if called != step.name and f"{step.part}: {step.name}" != called:
            found.setdefault(step.name, []).append(called)
    return {old: called[0] for old, called in found.items() if len(called) == 1 and old not in names}


def clashes(project: ProjectKeys) -> Iterator[tuple[Key, str, str]]:
    """Old names that say nothing: place, message and hint of each."""
    present = {step.name for part in project.parts.values() for step in part.steps}
    for name, part in project.parts.items():
        taken: dict[str, str] = {}
        for index, step in enumerate(part.steps):
            for at, old in enumerate(step.formerly):
                key = ("parts", name, "steps", index, "formerly", at)
                if old in present:
                    yield key, f"'{old}' is the name of a step now", "write only names that no step has any more"
                elif taken.setdefault(old, step.name) != step.name:
                    yield key, f"'{old}' was '{taken[old]}' already", "a name is that of one step"


def of_another_piece(sheet: Sheet, runs: RunsKeys) -> bool:
    """Whether a file of runs names several steps and none of them is, or was, one of the project's.

    Args:
        sheet: The project.
        runs: As they were read.
    """
    known = step_names(sheet).keys() | old_names(sheet).keys()
    named = {timing.step for run in runs.runs for timing in run.times}
    named |= {leg.name for run in runs.runs for leg in run.plan if leg.number is not None}
    return len(named) > 1 and not named & known


def another_piece(title: str) -> tuple[str, str]:
    """What is wrong with such a file, and what would be right.

    Args:
        title: Of the project.
    """
    return f"these are runs of another piece: none of their steps is one of {title}", "move the file to that piece"


def current_runs(sheet: Sheet, runs: RunsKeys, document: Document) -> tuple[tuple[RunKeys, ...], tuple[Finding, ...]]:
    """Recorded runs by the names that steps have now, and a note on what is not counted.

    Args:
        sheet: The project.
        runs: As they were read.
        document: The file they came from.
    """
    names = _Names(sheet, document)
    made = []
    for index, run in enumerate(runs.runs):
        here: Key = ("runs", index)
        times = [
            timing.model_copy(update={"step": name})
            for at, timing in enumerate(run.times)
            if (name := names.find(timing.step, (*here, "times", at, "step")))
        ]
        plan = [leg.model_copy(update={"name": names.known.get(leg.name, leg.name)}) for leg in run.plan]
        skipped = [
            name for at, name_then in enumerate(run.skipped) if (name := names.find(name_then, (*here, "skipped", at)))
        ]
        made.append(run.model_copy(update={"times": times, "skipped": skipped, "plan": plan}))
    return tuple(made), tuple(names.notes())


def current_demonstration(
    sheet: Sheet, asked: DemonstrationKeys, document: Document, *, over: bool
) -> tuple[DemonstrationKeys, tuple[Finding, ...]]:
    """A demonstration by the names that steps have now; of one that is over, without those of no step.

    Args:
        sheet: The project.
        asked: As it was read.
        document: The file it came from.
        over: Whether it is over: then names of no step are noted, and else left for the check to refuse.
    """
    names = _Names(sheet, document)

    def find(name: str, key: Key) -> str | None:
        return names.find(name, key) if over else names.known.get(name, name)

    changed: dict[str, Any] = {}
    for key in LISTS:
        field = key.replace(" ", "_")
        found = (find(name_then, (key, at)) for at, name_then in enumerate(getattr(asked, field)))
        changed[field] = (
            list(dict.fromkeys(name_then for name_then in found if name_then))
            if over
            else [name_then for name_then in found if name_then]
        )
    if asked.break_after is not None:
        changed["break_after"] = find(asked.break_after, ("break after",))
    return asked.model_copy(update=changed), tuple(names.notes())


class _Names:
    """Names looked up, and those that are of no step."""

    def __init__(self, sheet: Sheet, document: Document) -> None:
        self.sheet, self.document = sheet, document
        self.known: Mapping[str, str] = {name: name for name in step_names(sheet)} | old_names(sheet)
        self._lost: dict[str, Key] = {}

    def find(self, name: str, key: Key) -> str | None:
        """The step's name now; None, noted, if there is none."""
        if name not in self.known:
            self._lost.setdefault(name, key)
        return self.known.get(name)

    def notes(self) -> Iterator[Finding]:
        """One note for each name of no step."""
        for name, key in self._lost.items():
            nearest = near_miss(name, self.known) if len(self.known) else ""
            renamed = f"if a step was renamed, write formerly: [{name}] at that step"
            yield Finding(
                Level.NOTE,
                "What is recorded",
                f"'{name}' is not a step of {self.sheet.title} any more: not counted",
                f"{nearest} {renamed}" if nearest.startswith("did you mean") else renamed,
                self.document.place(key),
            )
