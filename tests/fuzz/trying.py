"""Changed projects tried, each in a process of its own: what comes of them is counted.

This module owns the processes, their limits, and what counts as a fault.
"""

from __future__ import annotations

import importlib
import json
import os
import resource
import signal
import tempfile
import threading
import time
import traceback
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from handouts_build.disk.cache import Cache
from handouts_build.outputs.output import NOWHERE
from handouts_build.problems import ProjectError
from handouts_build.site.publish import Papers, publish, survey
from tests.fuzz.mutated import bases, case

CPU_S = 120
"""Seconds of processor time after which a case hangs."""
WALL_S = 300
MEMORY = 8 * 2**30
LARGE_MB = 1024
SLOW_S = 20.0
"""What no accepted file is to take."""
_LOADED = (
    "handouts_build.compute", "handouts_build.compute.solid.carry", "handouts_build.schema",
    "handouts_build.outputs.papers.render",
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
    seed: int, cases: range, *, jobs: int = 2, publish_each: int = 8, seconds: float = float("inf")
) -> Iterator[Outcome]:
    """Try cases, some at a time. To be called in a process that has worked nothing out yet.

    Args:
        seed: Of the run.
        cases: Their numbers.
        jobs: How many processes there may be.
        publish_each: One in so many of those that hold together is published too, papers and all.
        seconds: Time after which no further case is begun.
    """
    end = time.monotonic() + seconds
    with tempfile.TemporaryDirectory(prefix="handouts-fuzz-") as folder:
        home = Path(folder)
        _warm(home)
        running: dict[int, int] = {}
        waiting = list(reversed(cases))
        while waiting or running:
            if time.monotonic() > end:
                waiting.clear()
            while waiting and len(running) < jobs:
                number = waiting.pop()
                child = os.fork()
                if child == 0:
                    _work(home, seed, number, full=number % publish_each == 0)
                running[child] = number
            if not running:
                return
            pid, status, used = os.wait4(-1, 0)
            if pid in running:
                yield _outcome(home, running.pop(pid), status, used)


def _warm(home: Path) -> None:
    """Load what every case loads, and keep what an unchanged project is made of.

    The project is worked out in a process of its own too: the kernel and the typesetter start threads, of which a copy
    of this process would have none and wait for them for ever.
    """
    for name in _LOADED:
        importlib.import_module(name)
    _write(home / "warm", dict(bases())["lantern"])
    # One with a fault of form is read here, and not by every case anew: it gets to neither kernel nor typesetter.
    unsound = dict(bases())["lantern"]
    _write(home / "unsound", {**unsound, "piece.yml": unsound["piece.yml"] + b"\nno such key: 1\n"})
    assert _tried(home / "unsound", Cache(), full=False)[0] == "refused"
    assert threading.active_count() == 1
    child = os.fork()
    if child == 0:
        found = survey((home / "warm" / "piece.yml",), base=home, cache=Cache(home / "cache"))
        os._exit(0 if found.makeable else 1)
    _, status = os.waitpid(child, 0)
    assert status == 0, "an unchanged project cannot be made"


def _write(home: Path, files: dict[str, bytes]) -> None:
    for name, content in files.items():
        (home / name).parent.mkdir(parents=True, exist_ok=True)
        (home / name).write_bytes(content)


def _work(home: Path, seed: int, number: int, *, full: bool) -> None:
    """Try one case, leave what came of it in a file, and end this process."""
    status = 1
    try:
        resource.setrlimit(resource.RLIMIT_CPU, (CPU_S, CPU_S + 5))
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        # One that waits for ever takes no processor time.
        signal.alarm(WALL_S)
        _write(home / str(number), case(seed, number).files)
        kind, told = _tried(home / str(number), Cache(home / "cache"), full=full)
        (home / f"{number}.json").write_text(json.dumps([kind, told]), encoding="utf-8")
        status = 0
    finally:
        os._exit(status)


def _tried(home: Path, cache: Cache, *, full: bool) -> tuple[str, str]:
    path = home / "piece.yml"
    try:
        found = survey((path,), base=home, cache=cache)
        if found.problems:
            lost = [str(problem) for problem in found.problems if not (problem.place.file and problem.message)]
            return ("no place", lost[0]) if lost else ("refused", str(found.problems[0]))
        if not found.makeable:
            return "stopped", ""
        if not full:
            return "checked", ""
        try:
            publish((path,), base=home, cache=cache, address=NOWHERE, papers=Papers.MADE)
        except ProjectError as error:
            # `check` said that it is well.
            return "wrong exit status", str(error)
    except Exception:
        return "fault", traceback.format_exc()
    return "published", ""


def _outcome(home: Path, number: int, status: int, used: resource.struct_rusage) -> Outcome:
    cpu, peak = used.ru_utime + used.ru_stime, used.ru_maxrss // 1024
    told = home / f"{number}.json"
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
    slow = sum(outcome.cpu_s > SLOW_S for outcome in outcomes)
    worst = max(outcomes, key=lambda outcome: outcome.cpu_s)
    largest = max(outcome.peak_mb for outcome in outcomes)
    named = ", ".join(f"{kinds[kind]} {kind}" for kind in ("refused", "stopped", "checked", "published", *FAULTS))
    return (
        f"{len(outcomes)} cases: {named}; {slow} over {SLOW_S:g} s of processor time, "
        f"the longest {worst.cpu_s:.0f} s (case {worst.number}), the largest {largest} MB"
    )
