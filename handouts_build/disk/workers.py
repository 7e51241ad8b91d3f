"""Work done in several processes at once, its results left in the cache.

This module owns the processes. They are only there to be quick: whoever wants a result
takes it from the cache or makes it, so that nothing is lost where a process fails, and
a problem is met again, and told, where it belongs.
"""

from __future__ import annotations

import contextlib
import signal
from collections.abc import Callable, Sequence
from pathlib import Path

from handouts_build.disk.cache import Cache
from handouts_build.disk.interrupts import uninterrupted

__all__ = ["side_by_side"]

_MOST = 4
"""Each of these processes carries solids, and may take half a gigabyte."""


def side_by_side(tasks: Sequence[Callable[[Cache], None]], folder: Path | None, *, jobs: int) -> None:
    """Fill the cache by several tasks at once; do nothing where that would not be quicker.

    Args:
        tasks: Each is sent to another process, so it and what it is bound to can be pickled.
        folder: Of the cache; without one, nothing could be handed back.
        jobs: How many processes there may be.
    """
    count = min(jobs, _MOST, len(tasks))
    if folder is None or count < 2:
        return
    # Here, so that a site in which nothing changed does not wait for them.
    import multiprocessing
    from concurrent.futures import ProcessPoolExecutor, as_completed
    from concurrent.futures.process import BrokenProcessPool

    # Started afresh everywhere alike: a copy of a process with threads may hang. Some machines let none be started.
    with contextlib.suppress(BrokenProcessPool, OSError, NotImplementedError, ImportError):
        fresh = multiprocessing.get_context("spawn")
        with ProcessPoolExecutor(count, mp_context=fresh, initializer=_begin) as pool:
            # None of them hears Ctrl-C before it knows what to do with it.
            with uninterrupted():
                doing = [pool.submit(_done, task, folder) for task in tasks]
            if not all(job.result() for job in as_completed(doing)):
                # The author waits to hear what is wrong; the rest can wait for that.
                pool.shutdown(wait=False, cancel_futures=True)


def _begin() -> None:
    """Let Ctrl-C end this process without a word: the first one says what there is to say."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def _done(task: Callable[[Cache], None], folder: Path) -> bool:
    """Do a task; whether it went well."""
    try:
        task(Cache(folder))
    except Exception:
        return False
    return True
