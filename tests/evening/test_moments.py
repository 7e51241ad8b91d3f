"""Clock times against the IANA rules on known days."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo

import pytest

from handouts_build.compute.evening.moments import MomentFault, instant
from tests.evening.conftest import EVENING

# Known days of the IANA time zone database: the United States put clocks forward on the second Sunday of March and
# back on the first Sunday of November (Energy Policy Act of 2005); the European Union and Britain on the last Sundays
# of March and October at 01:00 UTC (Directive 2000/84/EC); Lord Howe Island moves by half an hour.
KNOWN = [
    (date(2026, 3, 7), time(19, 30), "America/New_York", datetime(2026, 3, 8, 0, 30, tzinfo=UTC)),
    (date(2026, 3, 8), time(19, 30), "America/New_York", datetime(2026, 3, 8, 23, 30, tzinfo=UTC)),
    (date(2025, 11, 2), time(9, 30), "America/Denver", datetime(2025, 11, 2, 16, 30, tzinfo=UTC)),
    (date(2025, 11, 1), time(9, 30), "America/Denver", datetime(2025, 11, 1, 15, 30, tzinfo=UTC)),
    (date(2026, 3, 28), time(19, 30), "Europe/London", datetime(2026, 3, 28, 19, 30, tzinfo=UTC)),
    (date(2026, 3, 29), time(19, 30), "Europe/London", datetime(2026, 3, 29, 18, 30, tzinfo=UTC)),
    (date(2026, 7, 1), time(12, 0), "Australia/Lord_Howe", datetime(2026, 7, 1, 1, 30, tzinfo=UTC)),
    (date(2026, 7, 1), time(12, 0), "America/Phoenix", datetime(2026, 7, 1, 19, 0, tzinfo=UTC)),
]


@pytest.mark.parametrize(("day", "clock", "zone", "utc"), KNOWN)
def test_a_clock_shows_the_known_instant(day, clock, zone, utc):
    assert instant(day, clock, ZoneInfo(zone), None) == utc


@pytest.mark.parametrize(
    ("day", "clock", "zone"),
    [
        (date(2026, 3, 8), time(2, 30), "America/New_York"),
        (date(2026, 3, 29), time(1, 30), "Europe/London"),
        (date(2026, 10, 4), time(2, 15), "Australia/Lord_Howe"),
    ],
)
def test_a_time_the_clock_jumps_over_does_not_exist(day, clock, zone):
    with pytest.raises(MomentFault) as caught:
        instant(day, clock, ZoneInfo(zone), None)
    assert "put forward" in caught.value.message
    assert f"{clock:%H:%M}" not in caught.value.hint


@pytest.mark.parametrize(
    ("day", "clock", "zone", "apart"),
    [
        (date(2026, 11, 1), time(1, 30), "America/New_York", 60),
        (date(2026, 10, 25), time(1, 30), "Europe/London", 60),
        (date(2026, 4, 5), time(1, 45), "Australia/Lord_Howe", 30),
    ],
)
def test_a_time_that_comes_twice_must_be_told_apart(day, clock, zone, apart):
    with pytest.raises(MomentFault, match="comes twice"):
        instant(day, clock, ZoneInfo(zone), None)
    first, second = (instant(day, clock, ZoneInfo(zone), which).astimezone(UTC) for which in ("first", "second"))
    assert (second - first).total_seconds() == apart * 60


def test_which_is_refused_where_there_is_only_one():
    with pytest.raises(MomentFault, match="once only") as caught:
        instant(date(2026, 6, 6), time(19, 30), ZoneInfo("America/New_York"), "first")
    assert caught.value.key == "which"


def test_hours_on_a_stopwatch_and_in_a_slot_are_read(read):
    run = 'runs:\n  - {began: 2026-05-01 10:00, times: [{step: Rough it, from: "59:30", to: "1:02:00"}]}\n'
    records = read({"2026-06-06-saltmarsh": EVENING.replace("60 min", "1 h 30 min")}, {"2026-05-01": run})
    assert [(one.from_, one.to) for one in records.runs[0].times] == [(3570, 3720)]
    assert records.demonstration("2026-06-06-saltmarsh").plan.slot == 90
