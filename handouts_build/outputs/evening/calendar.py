"""A demonstration as a calendar file (RFC 5545).

This module is the only home of icalendar. An event keeps its name when the evening is
moved, so that a calendar moves it too, and says how often it was revised. When it was
revised, and how often before, is for the caller to say: no clock is read here.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from handouts_build.language import in_a_row, labelled, tr, tr_later
from handouts_build.outputs.output import Address, Card
from handouts_build.outputs.words import said_time
from handouts_build.sheet.call import CallForPieces
from handouts_build.sheet.evening import Deadline, Demonstration

if TYPE_CHECKING:
    from icalendar import Event

__all__ = ["Revision", "calendar", "public_calendar"]

_OURS = "-//handouts-build//demonstration//EN"
_MOST = 2**31 - 1
"""The largest whole number of RFC 5545, 3.3.8."""

_SHOWN = {
    "in the room": tr_later("Shown in the room"),
    "by video": tr_later("Shown by video"),
    "both": tr_later("Shown in the room and by video"),
}
"""How people take part, by the word for it in the file."""


@dataclass(frozen=True)
class Revision:
    """How an evening's events stood when they were written last."""

    sequence: int
    """How often they were changed (RFC 5545, 3.8.7.4)."""
    revised: datetime
    """When (3.8.7.2)."""
    says: str
    """A checksum of what they say."""
    events: tuple[str, ...] = ()
    """Names of what had to be done before it, whenever that was written: what is no longer there is cancelled."""


def calendar(
    demonstration: Demonstration, *, calendar_id: str, now: datetime, before: Revision | None = None, page: str = ""
) -> tuple[bytes, Revision]:
    """The demonstration and what must be done before it as events, with the zone's rules and reminders.

    Args:
        demonstration: The demonstration; link and contacts go into the event, so the file is private.
        calendar_id: What it is known by whatever its day (RFC 5545, 3.8.4.7).
        now: When it is written, aware.
        before: How it was written last, if it was: where nothing else is said, that stays.
        page: Address of the piece's public page; empty where there is none.

    Returns:
        The file, and how it stands now.
    """
    nothing = Revision(0, datetime(1970, 1, 1, tzinfo=UTC), "")
    events = tuple(deadline.name for deadline in demonstration.deadlines)
    if before is not None:
        events = tuple(dict.fromkeys((*before.events, *events)))
    says = hashlib.sha256(_written(demonstration, calendar_id, replace(nothing, events=events), page)).hexdigest()[:32]
    if before is None:
        revision = Revision(0, now, says, events)
    elif before.says != says:
        # It grows with every change, and never sinks where a clock does.
        revision = Revision(min(before.sequence + 1, _MOST), max(now, before.revised), says, events)
    else:
        revision = before
    return _written(demonstration, calendar_id, revision, page), revision


def public_calendar(cards: Sequence[Card], address: Address, calls: Sequence[CallForPieces] = ()) -> bytes:
    """A calendar of every public evening and of the days of calls for pieces, to subscribe to.

    Args:
        cards: All pieces with their showings.
        address: Where the archive is published.
        calls: Calls for pieces.

    Returns:
        The file; the same for the same evenings.
    """
    from icalendar import Calendar, Event

    made = Calendar()
    made.add("prodid", _OURS)
    made.add("version", "2.0")
    host = urlsplit(address.site_url).hostname or "handouts-build"
    shown = [(card, showing) for card in cards for showing in card.showings]
    for card, showing in sorted(shown, key=lambda found: (found[1].at, found[0].name)):
        starts = datetime.fromisoformat(showing.starts).astimezone(UTC)
        event = Event()
        event.add("uid", f"{card.first_name}-{showing.name}@{host}")
        # Who subscribes reads it all anew each time, so that the stamp need not tell which is newer.
        event.add("dtstamp", starts)
        event.add("summary", f"{card.title} ({showing.club})")
        event.add("status", "CANCELLED" if showing.cancelled else "CONFIRMED")
        # In UTC, so that no calendar has to know the zone; each shows it by its own clock.
        event.add("dtstart", starts)
        if showing.ends:
            event.add("dtend", datetime.fromisoformat(showing.ends).astimezone(UTC))
        if place := showing.place or (tr("By video") if showing.how == "by video" else ""):
            event.add("location", place)
        event.add("url", address.of(f"projects/{card.name}/shown{address.ending}#shown-{showing.name}"))
        lines = [tr("Cancelled: {why}", why=showing.cancelled)] if showing.cancelled else []
        lines += [tr(_SHOWN[showing.how]), card.summary]
        event.add("description", "\n".join(lines))
        made.add_component(event)
    for call in sorted(calls, key=lambda call: (call.opens, call.name)):
        for event in _days_of(call, address, host):
            made.add_component(event)
    written: bytes = made.to_ical()
    return written


def _days_of(call: CallForPieces, address: Address, host: str) -> Iterator[Event]:
    """The days of a call, whole days that leave everybody free; those that fall together are one event."""
    from icalendar import Event

    days: dict[date, list[str]] = {}
    for word, when in (
        (tr("opens"), call.opens), (tr("last day to send a piece"), call.closes), (tr("pieces shown"), call.shown),
        (tr("results"), call.results_on),
    ):  # fmt: skip
        if when is not None:
            days.setdefault(when, []).append(word)
    for number, (when, words) in enumerate(days.items(), start=1):
        event = Event()
        event.add("uid", f"call-{call.name}-{number}@{host}")
        event.add("dtstamp", datetime.combine(when, time(), UTC))
        event.add("summary", labelled(call.title, in_a_row(words)))
        event.add("status", "CONFIRMED")
        event.add("dtstart", when)
        event.add("dtend", when + timedelta(days=1))
        event.add("transp", "TRANSPARENT")
        if call.place and when == call.shown:
            event.add("location", call.place)
        event.add("url", address.of(f"calls/{call.name}{address.ending}"))
        event.add("description", tr("Call for pieces, {club}", club=call.club))
        yield event


def _written(demonstration: Demonstration, calendar_id: str, revision: Revision, page: str) -> bytes:
    from icalendar import Calendar

    made = Calendar()
    made.add("prodid", _OURS)
    made.add("version", "2.0")
    made.add_component(_evening(demonstration, calendar_id, revision, page))
    by_name = {deadline.name: deadline for deadline in demonstration.deadlines}
    for name in revision.events:
        made.add_component(_before(demonstration, by_name.get(name), f"{calendar_id}-{name}", revision))
    if not _twice(demonstration):
        day = demonstration.starts.date()
        # The rules of the year around it: calendars that know the zone by its name do not need them.
        made.add_missing_timezones(day.replace(month=1, day=1), day.replace(year=day.year + 1, month=1, day=1))
    written: bytes = made.to_ical()
    return written


def _event(uid: str, revision: Revision, *, title: str, cancelled: bool) -> Event:
    from icalendar import Event

    event = Event()
    event.add("uid", f"{uid}@handouts-build")
    # Without a METHOD the stamp is when it was last revised (3.8.7.2).
    event.add("dtstamp", revision.revised.astimezone(UTC))
    event.add("sequence", revision.sequence)
    event.add("summary", title)
    event.add("status", "CANCELLED" if cancelled else "CONFIRMED")
    return event


def _evening(demonstration: Demonstration, calendar_id: str, revision: Revision, page: str) -> Event:
    title = tr("Demonstration: {piece} ({club})", piece=demonstration.sheet.title, club=demonstration.club)
    event = _event(calendar_id, revision, title=title, cancelled=bool(demonstration.cancelled))
    starts, ends = demonstration.starts, demonstration.plan.ends
    if _twice(demonstration):
        # A local time that comes twice means the first (3.3.5), so such an evening is written in UTC.
        starts, ends = starts.astimezone(UTC), ends.astimezone(UTC)
    event.add("dtstart", starts)
    event.add("dtend", ends)
    if place := demonstration.place or (tr("By video") if demonstration.how == "by video" else ""):
        event.add("location", place)
    if page and demonstration.listed:
        event.add("url", page)
    event.add("description", "\n".join(_lines(demonstration)))
    if not demonstration.cancelled:
        text = tr("Pack for {piece}: see the packing list", piece=demonstration.sheet.title)
        _remind(event, text, timedelta(days=-1))
    return event


def _before(demonstration: Demonstration, deadline: Deadline | None, uid: str, revision: Revision) -> Event:
    """Something that must be done beforehand, on a day or by an hour; None where that is no longer so."""
    if deadline is None:
        title = tr("No longer needed: {piece} ({club})", piece=demonstration.sheet.title, club=demonstration.club)
        event = _event(uid, revision, title=title, cancelled=True)
        event.add("dtstart", demonstration.starts.date())
        return event
    title = tr(
        "{what}: {piece} ({club})", what=deadline.title, piece=demonstration.sheet.title, club=demonstration.club
    )
    event = _event(uid, revision, title=title, cancelled=bool(demonstration.cancelled))
    own = deadline.on.astimezone(demonstration.speaker_zone)
    if deadline.timed:
        # It is done at home, by the clock there; in UTC, so that no second zone must be told.
        event.add("dtstart", deadline.on.astimezone(UTC))
        event.add("dtend", deadline.on.astimezone(UTC) + timedelta(minutes=15))
    else:
        event.add("dtstart", own.date())
        event.add("dtend", own.date() + timedelta(days=1))
        event.add("transp", "TRANSPARENT")
    if deadline.why:
        event.add("description", deadline.why)
    if deadline.timed and not demonstration.cancelled:
        _remind(event, deadline.title, timedelta(minutes=-30))
    return event


def _remind(event: Event, text: str, when: timedelta) -> None:
    from icalendar import Alarm

    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", text)
    alarm.add("trigger", when)
    event.add_component(alarm)


def _lines(demonstration: Demonstration) -> Iterator[str]:
    if demonstration.cancelled:
        yield tr("Cancelled: {why}", why=demonstration.cancelled)
    yield tr(_SHOWN[demonstration.how])
    yield from (
        event.format(time=said_time(at))
        for event, at in ((tr("Arrive {time}"), demonstration.arrives), (tr("Doors {time}"), demonstration.opens))
        if at
    )
    yield from demonstration.private.contact
    if demonstration.private.link:
        yield demonstration.private.link


def _twice(demonstration: Demonstration) -> bool:
    """Whether the clock shows start or end twice, because it is set back."""
    return any(
        at.replace(fold=0).utcoffset() != at.replace(fold=1).utcoffset()
        for at in (demonstration.starts, demonstration.plan.ends)
    )
