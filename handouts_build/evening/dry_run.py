"""A dry run in the terminal: keys to the stopwatch, and the run to disk after every key.

This module owns the loop, and that nothing of a run is lost: every key saves all of
it by replacing the file whole, a lock keeps a second stopwatch off, and whatever
ends the loop saves once more. A run that was left is taken up again.
"""

from __future__ import annotations

import contextlib
import copy
import itertools
import os
import signal
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from handouts_build.disk.clock import wall_clock
from handouts_build.disk.files import write_all
from handouts_build.disk.interrupts import uninterrupted
from handouts_build.disk.locks import locked
from handouts_build.disk.reading import read_plain
from handouts_build.evening.keyboard import NoTerminal, Screen, terminal
from handouts_build.outputs.evening.stopwatch_screen import lines
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.records.runs import run_files
from handouts_build.records.showings import RUNS, Records, legs_of
from handouts_build.sheet.stopwatch import Lap, Leg, Pause, Stopwatch

if TYPE_CHECKING:
    from handouts_build.schema import RunKeys

__all__ = ["rehearse", "take_in"]

_LOCK = ".stopwatch.lock"
_LOOK = 0.2
"""Seconds between two looks at the screen."""
_MOST_BYTES = 2**20
"""Far more than any run takes."""
_SAVE = 10.0
"""Seconds after which it is saved even if no key is pressed."""


def rehearse(
    records: Records,
    *,
    name: str = "",
    kind: str = "dry run",
    afresh: bool = False,
    clock: Callable[[], float] = time.monotonic,
    today: Callable[[], datetime] = wall_clock,
    screen: Screen | None = None,
) -> Path:
    """Run the stopwatch until it is left or finished.

    Args:
        records: Of the project.
        name: The demonstration it is for; empty for none.
        kind: `dry run` or `demonstration`.
        afresh: Begin a new run even where one could be taken up.
        clock: Seconds that only grow; one that does not is seen through.
        today: The wall clock, for the name of a new file.
        screen: Where to draw; the terminal if not given.

    Returns:
        The file of the run.

    Raises:
        ProjectError: If there is no terminal, another stopwatch runs, or the run could not be saved.
    """
    folder = records.home / RUNS
    folder.mkdir(parents=True, exist_ok=True)
    try:
        with contextlib.ExitStack() as stack:
            stack.enter_context(locked(folder / _LOCK))
            path, watch = _taken_up(records, name, kind) if not afresh else (None, None)
            if path is None or watch is None:
                path, watch = _new(folder, legs_of(records, name), kind, name, today())
            shown = screen or stack.enter_context(terminal())
            run = _Rehearsal(watch, path, records.sheet.title, shown, clock)
            stack.callback(run.save)
            stack.enter_context(_ends_gently())
            run.loop()
    except BlockingIOError as busy:
        message = f"another stopwatch is running on this project ({busy.strerror})"
        raise _refused(folder, message, "leave that one first: press q") from None
    except NoTerminal:
        raise _refused(folder, "the stopwatch needs a terminal", "run it in one, or use the stopwatch page") from None
    if run.fault:
        raise _refused(path, f"the run could not be saved ({run.fault})", _rescued(watch))
    return path


def _refused(path: Path, message: str, hint: str) -> ProjectError:
    return ProjectError([Problem(Place(path.as_posix()), message, hint)])


def _rescued(watch: Stopwatch) -> str:
    """The run put somewhere else, or into words."""
    try:
        handle, name = tempfile.mkstemp(prefix="stopwatch-", suffix=".yml")
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(watch.text())
    except OSError:
        return f"make room, and put this into the file by hand:\n{watch.text()}"
    return f"it is kept in {name}; make room, then: handouts dry-run NAME --import {name}"


@contextlib.contextmanager
def _ends_gently() -> Iterator[None]:
    """A terminal that is closed, or a polite kill, ends the loop like Ctrl-C."""

    def end(*_: Any) -> None:
        raise KeyboardInterrupt

    before = {}
    # A closed window is SIGHUP, and on Windows SIGBREAK.
    for which in ("SIGTERM", "SIGHUP", "SIGBREAK"):
        number = getattr(signal, which, None)
        if number is not None:
            with contextlib.suppress(ValueError):
                before[number] = signal.signal(number, end)
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


class _Rehearsal:
    """The loop's state."""

    def __init__(self, watch: Stopwatch, path: Path, title: str, screen: Screen, clock: Callable[[], float]) -> None:
        self.watch, self.path, self.title, self.screen, self.clock = watch, path, title, screen, clock
        self.fault = ""
        self._kept = ""
        """What was put on disk last."""
        self.typing: str | None = None
        self._came = watch.here
        """When and where the thought being typed came."""
        self._last = clock()
        self._saved_at = self._last

    def loop(self) -> None:
        """Until the run is left or finished."""
        self.save()
        with contextlib.suppress(KeyboardInterrupt, EOFError):
            while True:
                self._draw()
                pressed = self.screen.key(_LOOK)
                self._pass()
                if pressed and not self._does(pressed):
                    break
                if pressed or self.clock() - self._saved_at > _SAVE:
                    self.save()
                if self.watch.finished and self.typing is None and pressed in ("n", " ", "\r", "\n", "s"):
                    break
        self._pass()
        if self.typing is not None:
            # However it ended, what was typed was meant.
            self.watch.note(self.typing, self._came)
            self.typing = None

    def _pass(self) -> None:
        now = self.clock()
        self.watch.passed(now - self._last)
        self._last = now

    def save(self) -> None:
        """Put the whole run on disk in place of what was there; a fault is shown and tried again."""
        self._saved_at = self.clock()
        # The record must not be broken off half-way by a second Ctrl-C.
        with uninterrupted():
            text = self._so_far()
            if text == self._kept and not self.fault and self.path.is_file():
                # Nothing to write: a disk that has filled up since takes nothing from it.
                return
            try:
                write_all({self.path: text.encode()})
                self.fault, self._kept = "", text
            except OSError as error:
                self.fault = error.strerror or str(error)

    def _so_far(self) -> str:
        """The run's text, with a thought that is still being typed: whatever ends this, it was meant."""
        if not self.typing:
            return self.watch.text()
        watch = copy.copy(self.watch)
        watch.notes = [*self.watch.notes]
        watch.note(self.typing, self._came)
        return watch.text()

    def _draw(self) -> None:
        saved = (
            f"NOT SAVED: {self.fault}. Go on; it is tried again." if self.fault else f"kept in {self.path.as_posix()}"
        )
        self.screen.show(lines(self.watch, title=self.title, size=self.screen.size(), saved=saved, typing=self.typing))

    def _does(self, pressed: str) -> bool:
        """Act on a key; False when the run is left."""
        if self.typing is not None:
            self._type(pressed)
            return True
        watch = self.watch
        match pressed.lower():
            case "n" | " " | "\r" | "\n":
                watch.forward() if watch.running or watch.now else watch.start()
            case "p":
                watch.toggle()
            case "b":
                watch.back()
            case "s":
                watch.skip()
            case "t":
                self.typing, self._came = "", watch.here
            case "q":
                return False
        return True

    def _type(self, pressed: str) -> None:
        assert self.typing is not None
        if pressed in ("\r", "\n"):
            self.watch.note(self.typing, self._came)
            self.typing = None
        elif pressed == "\x1b":
            self.typing = None
        elif pressed in ("\x7f", "\b"):
            self.typing = self.typing[:-1]
        elif pressed.isprintable():
            self.typing += pressed


def _new(folder: Path, legs: tuple[Leg, ...], kind: str, evening: str, now: datetime) -> tuple[Path, Stopwatch]:
    """A run in a file of its own: what was recorded before is never touched."""
    return _free(folder, f"{now:%Y-%m-%d}"), Stopwatch(legs, f"{now:%Y-%m-%d %H:%M}", kind, evening)


def _free(folder: Path, day: str) -> Path:
    path, number = folder / f"{day}.yml", 1
    while path.exists():
        number += 1
        path = folder / f"{day}-{number}.yml"
    return path


def _taken_up(records: Records, name: str, kind: str) -> tuple[Path | None, Stopwatch | None]:
    """The newest run of this kind for this demonstration, where it was left unfinished; else none."""
    from handouts_build.schema import RunsKeys, load_file

    called = records.called(name) if name else ("",)
    for path in reversed(run_files(records.home)):
        try:
            runs, _ = load_file(RunsKeys, path, path.as_posix())
        except ProjectError:
            # What is wrong with it is told by `check`; a stopwatch must start all the same.
            continue
        if len(runs.runs) == 1 and runs.runs[0].kind == kind and (runs.runs[0].for_ or name) in called:
            run = runs.runs[0]
            return (None, None) if run.finished else (path, _resumed(run, _legs(run, records, path, name), name))
    return None, None


def _legs(run: RunKeys, records: Records, path: Path, name: str) -> tuple[Leg, ...]:
    """What a run goes over: what it was begun with, or what there is without it where it does not say."""
    if run.plan:
        return tuple(Leg(leg.name, leg.shown, float(leg.planned), leg.number or 0) for leg in run.plan)
    return legs_of(replace(records, recorded=records.recorded.without(path)), name)


def _resumed(run: RunKeys, legs: tuple[Leg, ...], evening: str) -> Stopwatch:
    watch = Stopwatch(legs, run.began, run.kind, evening)
    between = {leg.shown: leg.name for leg in reversed(legs) if not leg.is_step}
    watch.laps = sorted(
        (
            *(Lap(timing.step, timing.shown, float(timing.from_), float(timing.to)) for timing in run.times),
            *(
                Lap(between.get(rest.what, rest.what.capitalize()), rest.what, float(rest.from_), float(rest.to))
                for rest in run.breaks
            ),
        ),
        key=lambda lap: (lap.start, lap.end),
    )
    watch.skipped = list(run.skipped)
    watch.notes = [(float(note.at), note.step or "", note.says) for note in run.notes]
    watch.pauses = [Pause(float(pause.at), float(pause.for_)) for pause in run.pauses]
    watch.now = max((lap.end for lap in watch.laps), default=0.0)
    names = [leg.name for leg in legs]
    if watch.laps and watch.laps[-1].step in names:
        watch.at = names.index(watch.laps[-1].step)
    while watch.leg is not None and watch.leg.name in watch.skipped:
        watch.at += 1
    return watch


def take_in(records: Records, file: Path) -> Path:
    """Take a run that the stopwatch page has exported, or that was rescued, into the project's records.

    Where the same run is there already and this one holds more of it, this one takes its place and the other is
    kept beside it.

    Args:
        records: Of the project.
        file: The file.

    Returns:
        The file that the run is kept in.

    Raises:
        ProjectError: If it is not a sound file of runs of this project, or there is nothing new in it.
    """
    from handouts_build.compute.evening.demonstration import check_runs
    from handouts_build.schema import RunsKeys, load_file

    try:
        content = read_plain(file, most_bytes=_MOST_BYTES)
    except OSError as error:
        raise _refused(file, f"this file cannot be read ({error.strerror})", "name the file itself") from None
    runs, document = load_file(RunsKeys, file, file.as_posix())
    check_runs(records.sheet, runs, document)
    for index, run in enumerate(runs.runs):
        for there in records.recorded.files:
            same = [kept for kept in there.runs if (run.began, run.kind) == (kept.began, kept.kind)]
            if not same:
                continue
            alone = len(there.runs) == len(runs.runs) == 1
            if alone and _holds_more(run, same[0]):
                kept = read_plain(there.path, most_bytes=_MOST_BYTES)
                write_all({there.path: content, _beside(there.path): kept})
                return there.path
            raise ProjectError(
                [
                    Problem(
                        document.place(("runs", index, "began")),
                        f"the run that began at {run.began} has been taken in already, and this one holds no more",
                        f"it is in {there.path.as_posix()}; delete that file if this one is to take its place",
                    )
                ]
            )
    day = runs.runs[0].began[:10] if runs.runs else ""
    try:
        datetime.strptime(day, "%Y-%m-%d")
    except ValueError:
        raise _refused(file, "the run does not say on which day it began", "write began: 2026-03-14 10:05") from None
    path = _free(records.home / RUNS, day)
    write_all({path: content})
    return path


def _holds_more(run: RunKeys, other: RunKeys) -> bool:
    """Whether a run went on for longer than the same as it was kept before, or was noted more at."""
    return (_seconds(run), len(run.notes)) > (_seconds(other), len(other.notes))


def _seconds(run: RunKeys) -> int:
    return sum(timing.to - timing.from_ for timing in run.times) + sum(rest.to - rest.from_ for rest in run.breaks)


def _beside(path: Path) -> Path:
    """A name beside a file of runs that is not read as one."""
    names = (path.with_name(f"{path.name}.kept{f'-{number}' if number > 1 else ''}") for number in itertools.count(1))
    return next(name for name in names if not name.exists())
