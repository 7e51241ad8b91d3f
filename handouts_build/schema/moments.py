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

from pydantic import AfterValidator, BeforeValidator, PlainSerializer, WithJsonSchema

from handouts_build.problems import near_miss
from handouts_build.quantities import Kind, Quantity
from handouts_build.schema.fields import fault, measure_of

__all__ = ["ClockTime", "Day", "Duration", "Elapsed", "Wait", "Zone", "elapsed_seconds", "elapsed_text"]

_DAY = re.compile(r"(\d{4})-(\d{2})-(\d{2})")
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})")
_ELAPSED = re.compile(r"(?:(\d{1,2}):(?=[0-5]\d:))?(\d{1,4}):([0-5]\d)")
_SPAN = re.compile(r"(\d+(?:\.\d+)?) ?h(?:(?:ou)?rs?)?(?: ?(?:and )?(\d{1,2}) ?min(?:utes?)?\.?)?")

_DAYS = re.compile(r"(\d{1,4}(?:\.\d+)?) ?d(?:ays?)?")
_BARE = re.compile(r"\d+(?:\.\d+)?")
_LONGEST_WAIT = 365 * 24 * 60
"""Minutes in a year: what waits longer is laid down, not waited for."""

_NO_SUMMER = {
    "GMT": "Europe/London",
    "EST": "America/New_York",
    "MST": "America/Denver",
    "HST": "Pacific/Honolulu",
}
"""Names of the IANA list that stand for one offset the whole year round, and a place where a club might mean it."""
_SHORT = {
    "BST": "Europe/London", "WET": "Europe/Lisbon", "CET": "Europe/Paris", "CEST": "Europe/Paris",
    "EET": "Europe/Helsinki", "EEST": "Europe/Helsinki", "ET": "America/New_York", "EDT": "America/New_York",
    "CT": "America/Chicago", "CST": "America/Chicago", "CDT": "America/Chicago", "MDT": "America/Denver",
    "PT": "America/Los_Angeles", "PST": "America/Los_Angeles", "PDT": "America/Los_Angeles",
    "AKST": "America/Anchorage", "NST": "America/St_Johns", "AEST": "Australia/Sydney", "AEDT": "Australia/Sydney",
    "NZST": "Pacific/Auckland", "NZDT": "Pacific/Auckland",
}  # fmt: skip
"""Short names in use, which no list settles, and a place where a club might mean it: common practice, no published
source."""


def _day(value: object) -> date:
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


def _clock(value: object) -> time:
    found = _CLOCK.fullmatch(value) if isinstance(value, str) else None
    if found is None:
        fault(f"'{value}' is not a time of day", "write hours and minutes of the 24-hour clock: 19:30")
    hour, minute = map(int, found.groups())
    if hour > 23 or minute > 59:
        fault(f"there is no time {value} on the clock", "hours go from 0 to 23, minutes from 00 to 59")
    return time(hour, minute)


def _elapsed(value: object) -> int:
    seconds = elapsed_seconds(value) if isinstance(value, str) else None
    if seconds is None:
        fault(f"'{value}' is not a time on the stopwatch", "write minutes and seconds: 4:05, or 72:30; or 1:12:30")
    return seconds


def elapsed_seconds(text: str) -> int | None:
    """The seconds of a time as a stopwatch writes it: `4:05`, `72:30` or `1:12:30`; None if it is none."""
    found = _ELAPSED.fullmatch(text)
    return None if found is None else int(found[1] or 0) * 3600 + int(found[2]) * 60 + int(found[3])


def elapsed_text(seconds: int) -> str:
    """Seconds as a stopwatch writes them: `72:05`."""
    return f"{seconds // 60}:{seconds % 60:02d}"


@cache
def _zones() -> frozenset[str]:
    return frozenset(available_timezones())


def _zone(value: object) -> ZoneInfo:
    found = None
    if isinstance(value, str) and ("/" in value or value == "UTC"):
        # The whole list is slow to find; it is asked for only when the name is wrong.
        with contextlib.suppress(ZoneInfoNotFoundError, ValueError, OSError):
            found = ZoneInfo(value)
    if found is None and isinstance(value, str) and value in _NO_SUMMER:
        fault(f"{value} does not follow summer time", f"write the place, such as {_NO_SUMMER[value]}")
    if found is None and isinstance(value, str) and value in _SHORT:
        fault(f"'{value}' does not say where: short names differ", f"write the place, such as {_SHORT[value]}")
    if found is None and isinstance(value, str) and value in _zones():
        fault(f"'{value}' does not say where", "write the zone by a place in it, such as America/New_York")
    if found is None:
        city = str(value).rpartition("/")[2].replace(" ", "_").casefold()
        alike = sorted(zone for zone in _zones() if zone.rpartition("/")[2].casefold() == city and "/" in zone)
        nearest = near_miss(str(value), (zone for zone in _zones() if "/" in zone))
        hint = f"did you mean '{alike[0]}'?" if alike else nearest or "write the zone's name: America/New_York"
        fault(f"'{value}' is not a time zone of the IANA list", hint)
    return found


def _wait(value: object) -> object:
    """Days as minutes, for `Duration` to read; anything else as it is."""
    said = str(value).strip() if isinstance(value, str | int | float) and not isinstance(value, bool) else None
    if said is None:
        return value
    if _BARE.fullmatch(said):
        fault(f"'{said}' has no unit", f"write {said} h, {said} min or {said} days")
    if not any(map(str.isdigit, said)):
        fault(f"'{said}' is not a time", "write how long it waits: 24 h, 40 min or 3 days")
    found = _DAYS.fullmatch(said)
    return value if found is None else f"{float(found[1]) * 24 * 60:.0f} min"


def _not_too_long(value: Quantity) -> Quantity:
    if value.magnitude > _LONGEST_WAIT:
        fault("a wait is at most 365 days", "say how long it waits until the next step: 24 h, or 3 days")
    return value


def _span(value: object) -> object:
    """Hours and minutes together, and hours written out, as minutes; anything else as it is."""
    found = _SPAN.fullmatch(value.strip()) if isinstance(value, str) else None
    if found is None:
        return value
    return f"{float(found[1]) * 60 + int(found[2] or 0):g} min"


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
    PlainSerializer(lambda clock_time: f"{clock_time:%H:%M}", return_type=str),
]
"""A time on the 24-hour clock: `19:30`."""
Elapsed = Annotated[
    int,
    BeforeValidator(_elapsed),
    WithJsonSchema({"type": "string", "pattern": r"^(\d{1,2}:[0-5]\d|\d{1,4}):[0-5]\d$"}),
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
    Any,
    measure_of(Kind.TIME),
    BeforeValidator(_span),
    WithJsonSchema({"type": "string"}),
    PlainSerializer(str, return_type=str),
]
"""A span of time: `90 min`, `1.5 h`, `1 h 30 min`. Holds a `Quantity`."""
Wait = Annotated[Duration, AfterValidator(_not_too_long), BeforeValidator(_wait)]
"""A span of time that may be days: `24 h`, `3 days`. Holds a `Quantity`."""
