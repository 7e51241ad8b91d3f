"""Work done in several processes at once, its results left in the cache.

This module owns the processes. They are only there to be quick: whoever wants a result
takes it from the cache or makes it, so that nothing is lost where a process fails, and
a problem is met again, and told, where it belongs.
"""

from __future__ import annotations

import contextlib
import os
import signal
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from handouts_build.disk.cache import Cache
from handouts_build.disk.interrupts import uninterrupted
from handouts_build.language import speaking, spoken

__all__ = ["is_worker", "one_thread", "side_by_side"]

_MOST = 4
"""Each of these processes carries solids, and may take half a gigabyte."""


def side_by_side(tasks: Sequence[Callable[[Cache], None]], folder: Path | None, *, jobs: int, fewest: int = 2) -> None:
    """Fill the cache by several tasks at once; do nothing where that would not be quicker.

    Args:
        tasks: Each is sent to another process, so it and what it is bound to can be pickled.
        folder: Of the cache; without one, nothing could be handed back.
        jobs: How many processes there may be.
        fewest: Tasks from which a process is worth its start: one, where it is to give back much memory at its end.
    """
    count = min(jobs, _MOST, len(tasks))
    if folder is None or len(tasks) < fewest or not count:
        return
    # Here, so that a site in which nothing changed does not wait for them.
    import multiprocessing
    from concurrent.futures import ProcessPoolExecutor, as_completed
    from concurrent.futures.process import BrokenProcessPool

    # Started afresh everywhere alike: a copy of a process with threads may hang. Some machines let none be started.
    with contextlib.suppress(BrokenProcessPool, OSError, NotImplementedError, ImportError):
        fresh = multiprocessing.get_context("spawn")
        with _thrifty(), ProcessPoolExecutor(count, mp_context=fresh, initializer=_begin) as pool:
            # None of them hears Ctrl-C before it knows what to do with it.
            with uninterrupted():
                doing = [pool.submit(_done, task, folder, spoken()) for task in tasks]
            if not all(job.result() for job in as_completed(doing)):
                # The author waits to hear what is wrong; the rest can wait for that.
                pool.shutdown(wait=False, cancel_futures=True)


_THRIFT = {"MALLOC_ARENA_MAX": "1", "MALLOC_MMAP_THRESHOLD_": str(2**25), "MALLOC_TRIM_THRESHOLD_": str(2**26)}
"""Has the GNU C library give large blocks back to the system at once, where they would otherwise be kept in pieces:
mallopt(3). Other systems take no notice. Blocks as small as the layers of a picture are kept: to ask the system for
each anew costs a fifth of the drawing."""

_THREADS = "OPENBLAS_NUM_THREADS"
"""How many threads numpy's linear algebra begins with, read as it is loaded."""


def one_thread() -> None:
    """Have numpy's linear algebra work in one thread, here and in processes started from here.

    Our matrices are long and three columns wide: over such, threads wait for each other, each at full speed, for longer
    than they work. It has no effect once numpy is loaded, and none against who has said how many there are to be.
    """
    os.environ.setdefault(_THREADS, "1")


@contextlib.contextmanager
def _thrifty() -> Iterator[None]:
    """Processes started here are sparing with memory, unless whoever called says how they are to be."""
    ours = {name: value for name, value in _THRIFT.items() if name not in os.environ}
    os.environ.update(ours)
    try:
        yield
    finally:
        for name in ours:
            os.environ.pop(name, None)


def is_worker() -> bool:
    """Whether this process works beside others, so that more threads of its own would only wait."""
    import multiprocessing

    return multiprocessing.parent_process() is not None


def _begin() -> None:
    """Let Ctrl-C end this process without a word: the first one says what there is to say."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def _done(task: Callable[[Cache], None], folder: Path, language: str) -> bool:
    """Do a task; whether it went well."""
    try:
        with speaking(language):
            task(Cache(folder))
    except Exception:
        return False
    return True
