"""A demonstration as a calendar file (RFC 5545).

This module is the only home of icalendar. The same demonstration gives the same
bytes: its stamp is its own start, for no clock is read here.
"""

from __future__ import annotations

from datetime import UTC, timedelta

from handouts_build.demonstration import Demonstration

__all__ = ["calendar"]


def calendar(shown: Demonstration) -> bytes:
    """The demonstration as one event, with its zone's rules and a reminder to pack.

    Args:
        shown: The demonstration; link and contacts go into the event, so the file is private.
    """
    from icalendar import Alarm, Calendar, Event

    made = Calendar()
    made.add("prodid", "-//handouts-build//demonstration//EN")
    made.add("version", "2.0")
    event = Event()
    event.add("uid", f"{shown.sheet.name}.{shown.name}@handouts-build")
    event.add("dtstamp", shown.starts.astimezone(UTC))
    event.add("dtstart", shown.starts)
    event.add("dtend", shown.plan.ends)
    event.add("summary", f"Demonstration: {shown.sheet.title} ({shown.club})")
    if shown.place:
        event.add("location", shown.place)
    how = "in the room and by video" if shown.how == "both" else shown.how
    lines = [f"Shown {how}", *shown.private.contact, *((shown.private.link,) if shown.private.link else ())]
    event.add("description", "\n".join(lines))
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", f"Pack for {shown.sheet.title}: see the packing list")
    alarm.add("trigger", timedelta(days=-1))
    event.add_component(alarm)
    made.add_component(event)
    day = shown.starts.date()
    # The rules of the year around it: calendars that know the zone by its name do not need them.
    made.add_missing_timezones(day.replace(month=1, day=1), day.replace(year=day.year + 1, month=1, day=1))
    written: bytes = made.to_ical()
    return written
