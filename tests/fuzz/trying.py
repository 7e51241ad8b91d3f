"""Changed projects tried, each in a copy of a process that knows what they were made of: what comes is counted.

This module owns the processes, their limits, and what counts as a fault. Of each project that is changed a process
works out the unchanged one and then copies itself for every case: what the change leaves as it was, steps of solids
among it, is not worked out again. A copy may allocate no more than `MEMORY`, write no file over `LARGEST`, and takes
what its like holds into its own peak, so that what is told of memory is rather too much.
"""

from __future__ import annotations

import contextlib
import gc
import importlib
import json
import os
import resource
import shutil
import signal
import tempfile
import threading
import time
import traceback
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from multiprocessing import connection
from pathlib import Path
from typing import TYPE_CHECKING

from handouts_build.disk.cache import Cache
from handouts_build.disk.workers import one_thread
from handouts_build.outputs.output import NOWHERE
from handouts_build.problems import ProjectError
from handouts_build.site.calls import survey_calls
from handouts_build.site.publish import Papers, publish, survey
from tests.fuzz.mutated import base_of, bases, case

if TYPE_CHECKING:
    from handouts_build.compute.solid.session import SolidSession

CPU_S = 120
"""Seconds of processor time after which a case hangs."""
WALL_S = 900
MEMORY = 8 * 2**30
LARGEST = 2**28
LARGE_MB = 1024
SLOW_S = 20.0
"""What no accepted file is to take."""
_LOADED = (
    "handouts_build.compute", "handouts_build.compute.solid.carry", "handouts_build.schema", "handouts_build.figures",
    "handouts_build.outputs.papers.render", "handouts_build.outputs.pages.render", "handouts_build.outputs.photographs",
    "handouts_build.site.picturing",
)  # fmt: skip
FAULTS = ("fault", "hang", "no place", "wrong exit status", "over 1 GB")


@dataclass(frozen=True)
class Outcome:
    """What came of one case."""

    number: int
    kind: str
    """`refused`, `stopped`, `checked`, `published`, or one of `FAULTS`."""
    told: str
    cpu_s: float
    peak_mb: int


def run(
    seed: int, cases: range, *, jobs: int = 2, publish_each: int = 100, seconds: float = float("inf")
) -> Iterator[Outcome]:
    """Try cases, those of one project after each other. To be called in a process that has worked nothing out yet.

    Args:
        seed: Of the run.
        cases: Their numbers.
        jobs: How many projects are changed at a time.
        publish_each: One in so many of those that hold together is published too, papers and all.
        seconds: Time after which no further case is begun.
    """
    end = time.monotonic() + seconds
    of_base: dict[str, list[int]] = {}
    for number in cases:
        of_base.setdefault(base_of(seed, number), []).append(number)
    waiting = sorted(of_base.items(), key=lambda group: len(group[1]))
    running: dict[connection.Connection, int] = {}
    with tempfile.TemporaryDirectory(prefix="handouts-fuzz-") as folder:
        home = Path(folder)
        _warm(home)
        while True:
            while waiting and len(running) < jobs and time.monotonic() < end:
                name, numbers = waiting.pop()
                reader, child = _forked(home / f"of-{len(waiting)}", seed, name, numbers, publish_each, end)
                running[reader] = child
            if not running:
                return
            for ready in connection.wait(list(running)):
                assert isinstance(ready, connection.Connection)
                try:
                    yield ready.recv()
                except EOFError:
                    _, status = os.waitpid(running.pop(ready), 0)
                    ready.close()
                    assert status == 0, "what changes a project ended before its time"


def _warm(home: Path) -> None:
    """Load what every case loads; numpy among it, which begins its threads as it is loaded."""
    gc.set_threshold(100_000)
    one_thread()
    with _one_core(0):
        for name in _LOADED:
            importlib.import_module(name)
    # One with a fault of form is read here, and not by every case anew: it gets to neither kernel nor typesetter.
    unsound = dict(bases())["lantern"]
    _write(home / "unsound", {**unsound, "piece.yml": unsound["piece.yml"] + b"\nno such key: 1\n"})
    assert _tried(home / "unsound", Cache(), full=False)[0] == "refused"
    assert threading.active_count() == 1


@contextlib.contextmanager
def _one_core(which: int) -> Iterator[None]:
    """Let this process, where a system can do that, find one core alone; of several each has its turn by number."""
    if not hasattr(os, "sched_setaffinity"):
        yield
        return
    cores = sorted(os.sched_getaffinity(0))
    os.sched_setaffinity(0, {cores[which % len(cores)]})
    try:
        yield
    finally:
        os.sched_setaffinity(0, cores)


def _forked(
    home: Path, seed: int, name: str, numbers: Sequence[int], publish_each: int, end: float
) -> tuple[connection.Connection, int]:
    """A process that tries the cases of one project and sends what comes of each."""
    reader, writer = connection.Pipe(duplex=False)
    child = os.fork()
    if child:
        writer.close()
        return reader, child
    status = 1
    try:
        session = _worked_out(home / "unchanged", dict(bases())[name])
        for number in numbers:
            if time.monotonic() > end:
                break
            case_home = home / str(number)
            case_child = os.fork()
            if case_child == 0:
                _work(case_home, seed, number, session, full=number % publish_each == 0)
            _, ended, used = os.wait4(case_child, 0)
            writer.send(_outcome(case_home, number, ended, used))
            shutil.rmtree(case_home, ignore_errors=True)
        status = 0
    except BaseException:
        traceback.print_exc()
    finally:
        # Closed by the end of the process, which whoever reads takes for the end of the cases.
        os._exit(status)


def _worked_out(home: Path, files: dict[str, bytes]) -> SolidSession:
    """What carries solids, and knows those of an unchanged project.

    A copy of a process has none of its threads, and waits for them for ever. The kernel starts none where it is let
    on one core alone; where a process cannot be kept to one, as on macOS, nothing is worked out before.
    """
    from handouts_build.site.build import read_projects

    known = Cache()
    if hasattr(os, "sched_setaffinity"):
        _write(home, files)
        with _one_core(os.getpid()):
            kind, told = _tried(home, known, full=False)
        assert kind == "checked", f"an unchanged project cannot be made: {told}"
        threads = len(list(Path("/proc/self/task").iterdir()))
        assert threads == 1, f"{threads} threads, of which a copy has one"
        # What is there now is not looked through again in each copy.
        gc.freeze()
    return read_projects((), base=home, cache=known).session


def _write(home: Path, files: dict[str, bytes]) -> None:
    for name, content in files.items():
        (home / name).parent.mkdir(parents=True, exist_ok=True)
        (home / name).write_bytes(content)


def _work(home: Path, seed: int, number: int, session: SolidSession, *, full: bool) -> None:
    """Try one case, leave what came of it in a file, and end this process."""
    status = 1
    try:
        resource.setrlimit(resource.RLIMIT_CPU, (CPU_S, CPU_S + 5))
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        resource.setrlimit(resource.RLIMIT_FSIZE, (LARGEST, LARGEST))
        # One that waits for ever takes no processor time.
        signal.alarm(WALL_S)
        _write(home, case(seed, number).files)
        # What it makes lies on the disk, as that of a command does; what the unchanged project left in memory it finds.
        cache = Cache(home / "cache")
        cache.hold("session", lambda: session)
        kind, told = _tried(home, cache, full=full)
        (home / "told.json").write_text(json.dumps([kind, told]), encoding="utf-8")
        status = 0
    finally:
        os._exit(status)


def _tried(home: Path, cache: Cache, *, full: bool) -> tuple[str, str]:
    path = home / "piece.yml"
    try:
        found = survey((path,), base=home, cache=cache)
        calls = survey_calls(home, (path,), tuple(found.sound.values()), base=home, cache=cache)
        if problems := (*found.problems, *calls.problems):
            lost = [str(problem) for problem in problems if not (problem.place.file and problem.message)]
            return ("no place", lost[0]) if lost else ("refused", str(problems[0]))
        if not found.makeable:
            return "stopped", ""
        if not full:
            return "checked", ""
        try:
            publish((path,), base=home, cache=cache, address=NOWHERE, papers=Papers.MADE, calls=calls.sound)
        except ProjectError as error:
            # `check` said that it is well.
            return "wrong exit status", str(error)
    except Exception:
        return "fault", traceback.format_exc()
    return "published", ""


def _outcome(home: Path, number: int, status: int, used: resource.struct_rusage) -> Outcome:
    cpu, peak = used.ru_utime + used.ru_stime, used.ru_maxrss // 1024
    told = home / "told.json"
    kind, words = json.loads(told.read_text(encoding="utf-8")) if told.exists() else ("fault", f"status {status}")
    ended = os.waitstatus_to_exitcode(status)
    if ended in (-signal.SIGXCPU, -signal.SIGKILL, -signal.SIGALRM):
        kind, words = "hang", f"{cpu:.0f} s"
    elif kind not in FAULTS and peak > LARGE_MB:
        kind, words = "over 1 GB", f"{peak} MB"
    return Outcome(number, kind, words, cpu, peak)


def counted(outcomes: list[Outcome]) -> str:
    """How many came to what, in a line."""
    kinds = Counter(outcome.kind for outcome in outcomes)
    spent = sorted(outcome.cpu_s for outcome in outcomes)
    slow = sum(outcome.cpu_s > SLOW_S for outcome in outcomes)
    worst = max(outcomes, key=lambda outcome: outcome.cpu_s)
    largest = max(outcome.peak_mb for outcome in outcomes)
    named = ", ".join(f"{kinds[kind]} {kind}" for kind in ("refused", "stopped", "checked", "published", *FAULTS))
    return (
        f"{len(outcomes)} cases: {named}; {slow} over {SLOW_S:g} s of processor time, "
        f"the longest {worst.cpu_s:.0f} s (case {worst.number}), the middle {spent[len(spent) // 2]:.2f} s, "
        f"all {sum(spent):.0f} s; the largest {largest} MB"
    )
