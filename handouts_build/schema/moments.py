"""Dates, clock times and zones as a demonstration's file writes them.

This module owns single values of time. Whether a clock time exists on its day is
asked where a demonstration is worked out, for that takes date and zone together.
"""

from __future__ import annotations

import contextlib
import re
from datetime import date, time
from functools import cache
from typing import Annotated, Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from pydantic import BeforeValidator, PlainSerializer, WithJsonSchema

from handouts_build.problems import near_miss
from handouts_build.quantities import Kind
from handouts_build.schema.fields import fault, measure_of

__all__ = ["ClockTime", "Day", "Duration", "Elapsed", "Zone", "elapsed_text"]

_DAY = re.compile(r"(\d{4})-(\d{2})-(\d{2})")
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})")
_ELAPSED = re.compile(r"(\d{1,4}):([0-5]\d)")


def _day(value: Any) -> date:
    found = _DAY.fullmatch(value) if isinstance(value, str) else None
    if found is None:
        fault(f"'{value}' is not a date", "write year, month and day: 2026-03-21")
    year, month, day = map(int, found.groups())
    if not 1970 <= year <= 2199:
        fault(f"'{value}' is not a year of this tool's", "years from 1970 to 2199 are read")
    try:
        return date(year, month, day)
    except ValueError:
        fault(f"there is no day {value} in the calendar", "write year, month and day: 2026-03-21")


def _clock(value: Any) -> time:
    found = _CLOCK.fullmatch(value) if isinstance(value, str) else None
    if found is None:
        fault(f"'{value}' is not a time of day", "write hours and minutes of the 24-hour clock: 19:30")
    hour, minute = map(int, found.groups())
    if hour > 23 or minute > 59:
        fault(f"there is no time {value} on the clock", "hours go from 0 to 23, minutes from 00 to 59")
    return time(hour, minute)


def _elapsed(value: Any) -> int:
    found = _ELAPSED.fullmatch(value) if isinstance(value, str) else None
    if found is None:
        fault(f"'{value}' is not a time on the stopwatch", "write minutes and seconds: 4:05, or 72:30")
    return int(found[1]) * 60 + int(found[2])


def elapsed_text(seconds: int) -> str:
    """Seconds as a stopwatch writes them: `72:05`."""
    return f"{seconds // 60}:{seconds % 60:02d}"


@cache
def _zones() -> frozenset[str]:
    return frozenset(available_timezones())


def _zone(value: Any) -> ZoneInfo:
    found = None
    if isinstance(value, str) and ("/" in value or value == "UTC"):
        # The whole list is slow to find; it is asked for only when the name is wrong.
        with contextlib.suppress(ZoneInfoNotFoundError, ValueError, OSError):
            found = ZoneInfo(value)
    if found is None:
        city = str(value).rpartition("/")[2].replace(" ", "_").casefold()
        alike = sorted(one for one in _zones() if one.rpartition("/")[2].casefold() == city and "/" in one)
        nearest = near_miss(str(value), (one for one in _zones() if "/" in one))
        hint = f"did you mean '{alike[0]}'?" if alike else nearest or "write the zone's name: America/New_York"
        fault(f"'{value}' is not a time zone of the IANA list", hint)
    return found


Day = Annotated[
    date,
    BeforeValidator(_day),
    WithJsonSchema({"type": "string", "format": "date"}),
    PlainSerializer(date.isoformat, return_type=str),
]
"""A day of the calendar: `2026-03-21`."""
ClockTime = Annotated[
    time,
    BeforeValidator(_clock),
    WithJsonSchema({"type": "string", "pattern": r"^\d{1,2}:\d{2}$"}),
    PlainSerializer(lambda one: f"{one:%H:%M}", return_type=str),
]
"""A time on the 24-hour clock: `19:30`."""
Elapsed = Annotated[
    int,
    BeforeValidator(_elapsed),
    WithJsonSchema({"type": "string", "pattern": r"^\d{1,4}:[0-5]\d$"}),
    PlainSerializer(elapsed_text, return_type=str),
]
"""Minutes and seconds on a stopwatch; holds seconds."""
Zone = Annotated[
    Any,
    BeforeValidator(_zone),
    WithJsonSchema({"type": "string"}),
    PlainSerializer(str, return_type=str),
]
"""A time zone by its IANA name; holds a `ZoneInfo`."""
Duration = Annotated[
    Any, measure_of(Kind.TIME), WithJsonSchema({"type": "string"}), PlainSerializer(str, return_type=str)
]
"""A span of time: `90 min`, `1.5 h`. Holds a `Quantity`."""
