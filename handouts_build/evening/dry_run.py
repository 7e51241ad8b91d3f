"""A dry run in the terminal: keys to the stopwatch, and the run to disk after every key.

This module owns the loop, and that nothing of a run is lost: every key saves all of
it by replacing the file whole, a lock keeps a second stopwatch off, and whatever
ends the loop saves once more. A run that was left is taken up again.
"""

from __future__ import annotations

import contextlib
import os
import signal
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from handouts_build.disk.clock import wall_clock
from handouts_build.disk.files import write_all
from handouts_build.disk.interrupts import uninterrupted
from handouts_build.disk.locks import locked
from handouts_build.evening.keyboard import NoTerminal, Screen, terminal
from handouts_build.outputs.evening.stopwatch_screen import lines
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.records.showings import RUNS, Records, legs_of, run_files
from handouts_build.sheet.stopwatch import BREAK, Leg, Stopwatch, Stretch

if TYPE_CHECKING:
    from handouts_build.schema import Run

__all__ = ["rehearse", "take_in"]

_LOCK = ".stopwatch.lock"
_LOOK = 0.2
"""Seconds between two looks at the screen."""
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
            legs = legs_of(records, name)
            path, watch = _taken_up(records.home, legs, kind) if not afresh else (None, None)
            if path is None or watch is None:
                path, watch = _new(folder, legs, kind, today())
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
            try:
                write_all({self.path: self.watch.text().encode()})
                self.fault = ""
            except OSError as error:
                self.fault = error.strerror or str(error)

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


def _new(folder: Path, legs: tuple[Leg, ...], kind: str, now: datetime) -> tuple[Path, Stopwatch]:
    """A run in a file of its own: what was recorded before is never touched."""
    return _free(folder, f"{now:%Y-%m-%d}"), Stopwatch(legs, f"{now:%Y-%m-%d %H:%M}", kind)


def _free(folder: Path, day: str) -> Path:
    path, number = folder / f"{day}.yml", 1
    while path.exists():
        number += 1
        path = folder / f"{day}-{number}.yml"
    return path


def _taken_up(home: Path, legs: tuple[Leg, ...], kind: str) -> tuple[Path | None, Stopwatch | None]:
    """The newest run, where it was left unfinished and goes over these steps; else none."""
    from handouts_build.schema import load_runs

    for path in run_files(home)[-1:]:
        runs, _ = load_runs(path, path.as_posix())
        if len(runs.runs) == 1 and not runs.runs[0].finished and runs.runs[0].kind == kind:
            return path, _resumed(runs.runs[0], legs)
    return None, None


def _resumed(run: Run, legs: tuple[Leg, ...]) -> Stopwatch:
    watch = Stopwatch(legs, run.began, run.kind)
    rest = next((leg.name for leg in legs if leg.shown == BREAK), "Break")
    watch.stretches = sorted(
        (
            *(Stretch(one.step, one.shown, float(one.from_), float(one.to)) for one in run.times),
            *(Stretch(rest, BREAK, float(one.from_), float(one.to)) for one in run.breaks),
        ),
        key=lambda one: (one.start, one.end),
    )
    watch.skipped = list(run.skipped)
    watch.notes = [(float(one.at), one.step or "", one.says) for one in run.notes]
    watch.now = max((one.end for one in watch.stretches), default=0.0)
    names = [leg.name for leg in legs]
    if watch.stretches and watch.stretches[-1].step in names:
        watch.at = names.index(watch.stretches[-1].step)
    while watch.leg is not None and watch.leg.name in watch.skipped:
        watch.at += 1
    return watch


def take_in(records: Records, file: Path) -> Path:
    """Take a run that the stopwatch page has exported into the project's records.

    Args:
        records: Of the project.
        file: The exported file.

    Raises:
        ProjectError: If it is not a sound file of runs of this project.
    """
    from handouts_build.compute.evening.demonstration import check_runs
    from handouts_build.schema import load_runs

    runs, document = load_runs(file, file.as_posix())
    check_runs(records.sheet, runs, document)
    for index, run in enumerate(runs.runs):
        if any((run.began, run.kind) == (one.began, one.kind) for one in records.runs):
            place = document.place(("runs", index, "began"))
            hint = f"delete it below {records.home.as_posix()}/{RUNS}/ if this one is to take its place"
            raise ProjectError([Problem(place, f"the run that began at {run.began} has been taken in already", hint)])
    day = runs.runs[0].began[:10] if runs.runs else ""
    try:
        datetime.strptime(day, "%Y-%m-%d")
    except ValueError:
        raise _refused(file, "the run does not say on which day it began", "write began: 2026-03-14 10:05") from None
    path = _free(records.home / RUNS, day)
    write_all({path: file.read_bytes()})
    return path
