"""A demonstration as a calendar file (RFC 5545).

This module is the only home of icalendar. An event keeps its name when the evening is
moved, so that a calendar moves it too, and says how often it was revised. When it was
revised is for the caller to say: no clock is read here.
"""

from __future__ import annotations

import contextlib
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from handouts_build.sheet.evening import Demonstration

__all__ = ["Event", "calendar", "read_event"]

_OURS = "-//handouts-build//demonstration//EN"
_MOST = 2**31 - 1
"""The largest whole number of RFC 5545, 3.3.8."""


@dataclass(frozen=True)
class Event:
    """What a calendar file of ours says of its event, to tell whether it is the same."""

    uid: str
    sequence: int
    revised: datetime
    rest: bytes
    """The file without its stamp and its sequence number."""


def calendar(shown: Demonstration, *, uid: str, now: datetime, before: Event | None = None) -> bytes:
    """The demonstration as one event, with its zone's rules and a reminder to pack.

    Args:
        shown: The demonstration; link and contacts go into the event, so the file is private.
        uid: What it is called whatever its day (RFC 5545, 3.8.4.7).
        now: When it is written, aware.
        before: The event as it was written last, if that is known: one that says the same keeps its stamp.
    """
    if before is not None and before.uid == uid:
        same = _written(shown, uid, before.revised, before.sequence)
        found = read_event(same)
        if found is not None and found.rest == before.rest:
            return same
    # It must grow with every revision (3.8.7.4), from whichever folder the last one was sent: minutes do.
    sequence = max(int(now.timestamp()) // 60, before.sequence + 1 if before is not None else 0)
    return _written(shown, uid, now, min(sequence, _MOST))


def read_event(content: bytes) -> Event | None:
    """What a calendar file of ours says; None of a file that is not ours."""
    from icalendar import Calendar

    with contextlib.suppress(ValueError, KeyError, IndexError, AttributeError, UnicodeDecodeError):
        found = Calendar.from_ical(content)
        (event,) = found.walk("VEVENT")
        if str(found["prodid"]) == _OURS:
            lines = content.split(b"\r\n")
            rest = b"\r\n".join(one for one in lines if not one.startswith((b"DTSTAMP", b"SEQUENCE")))
            stamp = event.decoded("dtstamp").astimezone(UTC)
            return Event(str(event["uid"]), int(event.get("sequence", 0)), stamp, rest)
    return None


def _written(shown: Demonstration, uid: str, revised: datetime, sequence: int) -> bytes:
    from icalendar import Alarm, Calendar
    from icalendar import Event as Entry

    made = Calendar()
    made.add("prodid", _OURS)
    made.add("version", "2.0")
    event = Entry()
    event.add("uid", uid)
    # Without a METHOD the stamp is when it was last revised (3.8.7.2).
    event.add("dtstamp", revised.astimezone(UTC))
    event.add("sequence", sequence)
    starts, ends = shown.starts, shown.plan.ends
    twice = any(_comes_twice(at) for at in (starts, ends))
    if twice:
        # A local time that comes twice means the first (3.3.5), so such an evening is written in UTC.
        starts, ends = starts.astimezone(UTC), ends.astimezone(UTC)
    event.add("dtstart", starts)
    event.add("dtend", ends)
    event.add("summary", f"Demonstration: {shown.sheet.title} ({shown.club})")
    event.add("status", "CANCELLED" if shown.cancelled else "CONFIRMED")
    if shown.place:
        event.add("location", shown.place)
    event.add("description", "\n".join(_lines(shown)))
    if not shown.cancelled:
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", f"Pack for {shown.sheet.title}: see the packing list")
        alarm.add("trigger", timedelta(days=-1))
        event.add_component(alarm)
    made.add_component(event)
    if not twice:
        day = shown.starts.date()
        # The rules of the year around it: calendars that know the zone by its name do not need them.
        made.add_missing_timezones(day.replace(month=1, day=1), day.replace(year=day.year + 1, month=1, day=1))
    written: bytes = made.to_ical()
    return written


def _lines(shown: Demonstration) -> list[str]:
    how = "in the room and by video" if shown.how == "both" else shown.how
    lines = [f"Cancelled: {shown.cancelled}"] if shown.cancelled else []
    lines.append(f"Shown {how}")
    lines += [f"{what} {at}" for what, at in (("Arrive", shown.arrive), ("Doors", shown.doors)) if at]
    return [*lines, *shown.private.contact, *((shown.private.link,) if shown.private.link else ())]


def _comes_twice(at: datetime) -> bool:
    """Whether the clock shows this time twice, because it is set back."""
    return at.replace(fold=0).utcoffset() != at.replace(fold=1).utcoffset()
