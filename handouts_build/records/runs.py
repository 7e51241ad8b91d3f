"""Recorded runs as they lie below a project's own folder: found, read, and put in order.

This module owns their files' names and which of them is the newest. A file that cannot
be read is told beside those that can: it must not keep a stopwatch from starting.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from handouts_build.disk.folders import RUNS
from handouts_build.disk.reading import plain_files
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.sheet import Finding, Sheet

if TYPE_CHECKING:
    from handouts_build.outputs.evening.recorded_chapters import RecordedChapter
    from handouts_build.schema import RunKeys

__all__ = ["RecordedRuns", "RunFile", "read_runs", "recorded_chapters", "run_files"]

_NAME = re.compile(r"(\d{4}-\d{2}-\d{2})(?:-(\d{1,3}))?")
_DEMONSTRATION = "demonstration"


@dataclass(frozen=True)
class RunFile:
    """One file of recorded runs, read."""

    path: Path
    runs: tuple[RunKeys, ...]

    @property
    def day(self) -> str:
        """The day its name says."""
        return self.path.stem[:10]


@dataclass(frozen=True)
class RecordedRuns:
    """The files that could be read, oldest first, and what is to be said of them and of the others."""

    files: tuple[RunFile, ...] = ()
    notes: tuple[Finding, ...] = ()
    broken: tuple[Problem, ...] = ()

    @property
    def runs(self) -> tuple[RunKeys, ...]:
        """Every run, oldest first."""
        return tuple(run for file in self.files for run in file.runs)

    def without(self, path: Path) -> RecordedRuns:
        """The same without one file."""
        return replace(self, files=tuple(file for file in self.files if file.path != path))

    def of(self, called: Sequence[str]) -> tuple[tuple[Path, RunKeys], ...]:
        """The runs that are a demonstration itself, each with its file, oldest first.

        Args:
            called: The demonstration's name, its day and club, and those it had before.
        """
        return tuple(
            (file.path, run)
            for file in self.files
            for run in file.runs
            if run.kind == _DEMONSTRATION and (run.for_ in called if run.for_ else file.day == called[0][:10])
        )

    def before(self, called: Sequence[str]) -> tuple[RunKeys, ...]:
        """The runs that a demonstration is planned from: those of no later day, its own left out.

        Args:
            called: The demonstration's name, and those it had before.
        """
        own = {id(run) for _, run in self.of(called)}
        return tuple(
            run for file in self.files if file.day <= called[0][:10] for run in file.runs if id(run) not in own
        )


def run_files(home: Path) -> tuple[Path, ...]:
    """The files of recorded runs below a project's own folder, by day and number of the day; others last."""
    return tuple(sorted(plain_files(home, RUNS, ".yml"), key=_order))


def _order(path: Path) -> tuple[bool, str, int, str]:
    named = _NAME.fullmatch(path.stem)
    return (named is None, named[1] if named else "", int(named[2] or 1) if named else 0, path.name)


def read_runs(home: Path, shown: str, sheet: Sheet) -> RecordedRuns:
    """Read every file of runs of a project.

    Args:
        home: The project's own folder.
        shown: How messages name that folder.
        sheet: The project, worked out.
    """
    files: list[RunFile] = []
    notes: list[Finding] = []
    broken: list[Problem] = []
    for path in run_files(home):
        try:
            runs, noted = _read(path, f"{shown}/{RUNS}/{path.name}", sheet)
        except ProjectError as error:
            broken.extend(error.problems)
        else:
            files.append(RunFile(path, runs))
            notes += noted
    return RecordedRuns(tuple(files), tuple(notes), tuple(broken))


def _read(path: Path, shown: str, sheet: Sheet) -> tuple[tuple[RunKeys, ...], Sequence[Finding]]:
    from handouts_build.compute.formerly import another_piece, current_runs, of_another_piece
    from handouts_build.schema import RunsKeys, load_file

    if not _NAME.fullmatch(path.stem):
        raise ProjectError(
            [Problem(Place(shown), f"'{path.name}' is not named by its day", "name it by the day: 2026-03-14.yml")]
        )
    runs, document = load_file(RunsKeys, path, shown)
    if of_another_piece(sheet, runs):
        raise ProjectError([Problem(document.place(("runs",)), *another_piece(sheet.title))])
    return current_runs(sheet, runs, document)


def recorded_chapters(run: RunKeys, *, watch_started: int = 0) -> tuple[RecordedChapter, ...]:
    """The chapters of a recording, from the run that was timed meanwhile.

    Args:
        run: The run.
        watch_started: Second of the recording at which the watch was started; negative where it was started earlier.
    """
    from handouts_build.outputs.evening.recorded_chapters import chapters_of

    stretches = [
        *((timing.from_, timing.to, timing.step) for timing in run.times),
        *((between.from_, between.to, between.what.capitalize()) for between in run.breaks),
    ]
    pauses = [(pause.at, pause.for_) for pause in run.pauses]
    return chapters_of(stretches, pauses=pauses, watch_started=watch_started)
