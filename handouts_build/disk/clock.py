"""The clock: what day it is, for what is over and for what is stamped.

This module is the only one that asks the clock for the day. Where SOURCE_DATE_EPOCH is
set, as the specification of reproducible builds has it, that is the time instead, so
that a build can be made again on another day.
"""

from __future__ import annotations

import contextlib
import os
from datetime import UTC, date, datetime, timedelta

__all__ = ["now", "today", "wall_clock"]

_LAST = timedelta(hours=12)
"""How far the last of all clocks is behind UTC: the zones of the IANA list end at Etc/GMT+12."""


def now() -> datetime:
    """The time, aware, to the second."""
    with contextlib.suppress(KeyError, ValueError, OverflowError, OSError):
        return datetime.fromtimestamp(int(os.environ["SOURCE_DATE_EPOCH"]), UTC)
    return datetime.now(UTC).replace(microsecond=0)


def wall_clock() -> datetime:
    """The time that a clock on the wall shows here: for whoever reads it now, not for what is published."""
    return datetime.now()


def today() -> date:
    """The day it is where the clock is last: every day before this one is over everywhere."""
    return (now() - _LAST).date()
