"""The calendar file of an evening that is moved, cancelled, or in the hour that comes twice."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from handouts_build.evening.folder import evening_files, stale
from tests.evening.conftest import EVENING

NAME = "2026-06-06-saltmarsh"
AT = datetime(2026, 5, 1, 12, tzinfo=UTC)
TWICE = EVENING.replace("2026-06-06", "2026-11-01").replace("19:30", "01:30")
"""America/New_York is set back at 02:00 on 2026-11-01 (IANA tz database): 01:30 is at 05:30Z and at 06:30Z."""


def event_of(content: bytes) -> dict[str, str]:
    """The lines of the event, unfolded (RFC 5545, 3.1), by name."""
    text = content.replace(b"\r\n ", b"").decode()
    lines = text[text.index("BEGIN:VEVENT") :].partition("BEGIN:VALARM")[0].split("\r\n")
    return {line.partition(":")[0]: line.partition(":")[2] for line in lines}


def written(read, projects, name, text, at=AT):
    """The calendar file as it is written to the private folder, and its event."""
    kit = projects.parent / "kit"
    kit.mkdir(exist_ok=True)
    records = read({name: text})
    made = evening_files(records.demonstration(name), records, folder=kit, at=at)
    (kit / f"piece-{name}.ics").write_bytes(made[f"piece-{name}.ics"])
    return records, event_of(made[f"piece-{name}.ics"])


def moved(projects, name=NAME):
    (projects / "piece" / "demonstrations" / f"{name}.yml").unlink()


@pytest.mark.parametrize("same_minute", [True, False])
def test_a_moved_evening_is_the_same_event_revised(read, projects, same_minute):
    """RFC 5545, 3.8.4.7: the UID is lasting; 3.8.7.4: SEQUENCE grows; 3.8.7.2: DTSTAMP is of the last revision."""
    _, first = written(read, projects, NAME, EVENING)
    moved(projects)
    later = AT if same_minute else AT + timedelta(days=3)
    records, second = written(read, projects, "2026-06-13-saltmarsh", EVENING.replace("06-06", "06-13"), later)
    assert second["UID"] == first["UID"]
    assert "2026" not in first["UID"]
    assert int(second["SEQUENCE"]) > int(first["SEQUENCE"])
    assert second["DTSTAMP"] == f"{later:%Y%m%dT%H%M%SZ}"
    kit = projects.parent / "kit"
    (kit / "holiday.ics").write_bytes(b"BEGIN:VCALENDAR\r\nPRODID:-//other//EN\r\nEND:VCALENDAR\r\n")
    assert [path.name for path in stale(kit, records)] == [f"piece-{NAME}.ics"]


def test_it_grows_from_a_new_folder_too(read, projects):
    _, first = written(read, projects, NAME, EVENING)
    (projects.parent / "kit" / f"piece-{NAME}.ics").unlink()
    _, second = written(read, projects, NAME, EVENING.replace("19:30", "19:00"), AT + timedelta(hours=1))
    assert int(first["SEQUENCE"]) < int(second["SEQUENCE"]) < 2**31


def test_what_says_the_same_keeps_its_stamp(read, projects):
    _, first = written(read, projects, NAME, EVENING)
    _, second = written(read, projects, NAME, EVENING, AT + timedelta(days=3))
    assert first == second


def test_two_evenings_at_one_club_are_two_events(read, projects):
    _, first = written(read, projects, NAME, EVENING)
    records, second = written(read, projects, "2026-09-05-saltmarsh", EVENING.replace("06-06", "09-05"))
    assert first["UID"] != second["UID"]
    assert (
        event_of(evening_files(records.demonstration(NAME), records, at=AT)[f"piece-{NAME}.ics"])["UID"] == first["UID"]
    )
    assert not stale(projects.parent / "kit", records)


def test_a_cancelled_evening_is_said_to_be_and_reminds_of_nothing(read, projects):
    """RFC 5545, 3.8.1.11."""
    _, first = written(read, projects, NAME, EVENING)
    _, second = written(read, projects, NAME, EVENING + "cancelled: The hall is flooded\n")
    assert (first["STATUS"], second["STATUS"]) == ("CONFIRMED", "CANCELLED")
    assert second["UID"] == first["UID"]
    assert int(second["SEQUENCE"]) > int(first["SEQUENCE"])
    assert second["DESCRIPTION"].startswith("Cancelled: The hall is flooded")
    assert b"VALARM" not in (projects.parent / "kit" / f"piece-{NAME}.ics").read_bytes()


@pytest.mark.parametrize(("which", "starts", "ends"), [("first", "0530", "0630"), ("second", "0630", "0730")])
def test_an_evening_in_the_hour_that_comes_twice_is_written_in_utc(read, projects, which, starts, ends):
    """RFC 5545, 3.3.5: a local time that comes twice means the first."""
    _, event = written(read, projects, "2026-11-01-saltmarsh", f"{TWICE}which: {which}\n")
    assert (event["DTSTART"], event["DTEND"]) == (f"20261101T{starts}00Z", f"20261101T{ends}00Z")


def test_when_to_come_stands_in_the_calendar_and_on_the_run_sheet(read, projects):
    text = EVENING + "arrive: 18:15\ndoors: 19:00\n"
    records, event = written(read, projects, NAME, text)
    assert "Arrive 18:15\\nDoors 19:00" in event["DESCRIPTION"]
    page = evening_files(records.demonstration(NAME), records, at=AT)["piece-run-sheet.html"].decode()
    assert "; arrive 18:15; doors 19:00" in page
