"""Clock times that exist: date, time and zone to one instant.

This module owns the two days of the year on which a clock lies: an hour that is
skipped does not exist, an hour that comes twice must be told apart.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

__all__ = ["MomentFault", "before_start", "instant", "later"]


class MomentFault(ValueError):
    """A clock time that is no instant, or two.

    Attributes:
        message: What is wrong.
        hint: What would be right.
        key: The key it is about.
    """

    def __init__(self, message: str, hint: str, key: str = "start") -> None:
        super().__init__(message)
        self.message, self.hint, self.key = message, hint, key


def later(moment: datetime, minutes: float) -> datetime:
    """So many minutes later, as a stopwatch counts them: over a change of the clock too.

    Args:
        moment: Aware; the result is in its zone.
        minutes: How many; earlier where they are less than nought.
    """
    return (moment.astimezone(UTC) + timedelta(minutes=minutes)).astimezone(moment.tzinfo)


def before_start(starts: datetime, clock: time) -> datetime:
    """The last time a clock shows something before a start: that day, or the evening before.

    Args:
        starts: The start, aware.
        clock: What the clock there shows.
    """
    there = starts.replace(hour=clock.hour, minute=clock.minute)
    return there if there <= starts else there - timedelta(days=1)


def instant(day: date, clock: time, zone: ZoneInfo, which: str | None) -> datetime:
    """The instant a clock shows, in its zone.

    Args:
        day: The day there.
        clock: The time there.
        zone: The zone.
        which: `first` or `second`, for a time that comes twice.

    Raises:
        MomentFault: If the clock never shows it, or shows it twice and `which` does not say
            which is meant, or says so without need.
    """
    naive = datetime.combine(day, clock)
    first, second = naive.replace(tzinfo=zone, fold=0), naive.replace(tzinfo=zone, fold=1)
    told = f"{clock:%H:%M} on {day.isoformat()} in {zone.key}"
    if first.utcoffset() == second.utcoffset():
        if which is not None:
            raise MomentFault(f"{told} comes once only", "leave 'which' out", "which")
        return first
    if first.astimezone(UTC).astimezone(zone).replace(tzinfo=None) != naive:
        before, after = (naive.replace(tzinfo=zone, fold=fold).astimezone(UTC).astimezone(zone) for fold in (1, 0))
        raise MomentFault(
            f"there is no {told}: the clock is put forward over it",
            f"write a time that exists, such as {before:%H:%M} or {after:%H:%M}",
        )
    if which is None:
        raise MomentFault(
            f"{told} comes twice: the clock is set back that night",
            f"add which: first (UTC{_offset(first)}) or which: second (UTC{_offset(second)})",
        )
    return first if which == "first" else second


def _offset(at: datetime) -> str:
    text = f"{at:%z}"
    return f"{text[:3]}:{text[3:]}"
