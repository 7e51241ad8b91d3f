"""Moments in which Ctrl-C is not heard.

This module owns them: they are short, and being broken off there would leave half of
a thing that is only worth something as a whole.
"""

from __future__ import annotations

import contextlib
import signal
import threading
from collections.abc import Iterator

__all__ = ["uninterrupted"]


@contextlib.contextmanager
def uninterrupted() -> Iterator[None]:
    """Let Ctrl-C pass unheard in here, by this process and by those it starts."""
    if threading.current_thread() is not threading.main_thread():
        # Only the main thread is ever interrupted.
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
