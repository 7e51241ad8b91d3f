"""Waiting until files change.

This module owns the waiting: what they look like is asked of the disk a few times a second, by size
and times, and nothing is read. Which files, is for who waits.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Hashable, Iterator

__all__ = ["changes"]

_PAUSE_S = 0.3
"""Between two looks: soon enough for who saves and turns to the screen, and no load on the machine."""


def changes(look: Callable[[], Hashable], *, pause: Callable[[float], object] = time.sleep) -> Iterator[None]:
    """Yields at once, and then each time that something looks otherwise than it did.

    What is changed while the caller is busy is seen at the next look.

    Args:
        look: Tells what changes whenever the files do.
        pause: Waits for so many seconds.

    Yields:
        Nothing; without end.
    """
    seen = look()
    yield
    while True:
        pause(_PAUSE_S)
        now = look()
        if now != seen:
            seen = now
            yield
