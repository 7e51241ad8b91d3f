"""The calendar file of an evening that is moved, added to, cancelled, or in the hour that comes twice.

Read with two calendar readers of the registries: icalendar and vobject.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import icalendar
import pytest
import vobject

from handouts_build.disk.files import write_all
from handouts_build.evening.folder import evening_kit, stale
from handouts_build.outputs.output import Address
from handouts_build.problems import ProjectError
from tests.evening.conftest import EVENING
from tests.evening.test_outside import text_of

NAME = "2026-06-06-saltmarsh"
AT = datetime(2026, 5, 1, 12, tzinfo=UTC)
TWICE = EVENING.replace("2026-06-06", "2026-11-01").replace("19:30", "01:30")
"""America/New_York is set back at 02:00 on 2026-11-01 (IANA tz database): 01:30 is at 05:30Z and at 06:30Z."""


def event_of(content: bytes) -> dict[str, str]:
    """The lines of the evening's event, unfolded (RFC 5545, 3.1), by name."""
    text = content.replace(b"\r\n ", b"").decode()
    lines = text[text.index("BEGIN:VEVENT") :].partition("END:VEVENT")[0].partition("BEGIN:VALARM")[0].split("\r\n")
    return {line.partition(":")[0]: line.partition(":")[2] for line in lines}


def printed(read, projects, name, at=AT, **more):
    """An evening printed into the folder `kit`, as the command does it, and its calendar file."""
    kit = evening_kit(read(), name, at=at, **more)
    folder = projects.parent / "kit"
    write_all({**{folder / file: content for file, content in kit.files.items()}, **kit.kept})
    return kit, kit.files[f"piece-{name}-calendar.ics"]


def change(projects, name, *, to="", **replaced):
    """A demonstration's file edited as its author does it, and renamed."""
    path = projects / "piece" / "demonstrations" / f"{name}.yml"
    text = path.read_text(encoding="utf-8")
    for old, new in replaced.get("words", ()):
        assert old in text
        text = text.replace(old, new)
    path.unlink()
    path.with_name(f"{to or name}.yml").write_text(text + replaced.get("more", ""), encoding="utf-8")


def by_vobject(content: bytes):
    return vobject.readOne(content.decode()).vevent_list


def by_icalendar(content: bytes):
    return icalendar.Calendar.from_ical(content).walk("VEVENT")


def test_a_history_of_moves_additions_and_a_cancellation_is_one_event_throughout(read, projects):
    """RFC 5545, 3.8.4.7: the UID is lasting; 3.8.7.4: SEQUENCE grows; 3.8.7.2: DTSTAMP is of the last revision."""
    read({NAME: EVENING + "place: Mill Lane Hall\n"})
    _, first = printed(read, projects, NAME)
    moved = "2026-06-13-saltmarsh"
    change(projects, NAME, to=moved, words=[("2026-06-06", "2026-06-13")])
    _, second = printed(read, projects, moved, AT + timedelta(days=1))
    # Another evening at the same club, before the first: it has a name of its own.
    read({"2026-05-30-saltmarsh": EVENING.replace("06-06", "05-30")})
    _, other = printed(read, projects, "2026-05-30-saltmarsh", AT + timedelta(days=2))
    _, third = printed(read, projects, moved, AT + timedelta(days=2))
    again = "2026-06-20-saltmarsh"
    change(projects, moved, to=again, words=[("2026-06-13", "2026-06-20"), ("19:30", "19:00")])
    _, fourth = printed(read, projects, again, AT + timedelta(days=3))
    change(projects, again, more="cancelled: The hall is flooded\n")
    _, fifth = printed(read, projects, again, AT + timedelta(days=4))
    history = (first, second, third, fourth, fifth)
    for read_events in (by_icalendar, by_vobject):
        said = [
            [str(getattr(value, "value", value)) for value in (of(event, "uid"), of(event, "sequence"))]
            for event, of in ((read_events(content)[0], _field) for content in history)
        ]
        assert len({uid for uid, _ in said}) == 1
        assert [int(sequence) for _, sequence in said] == [0, 1, 1, 2, 3]
    assert third == second
    assert event_of(other)["UID"] != event_of(first)["UID"]
    starts = [by_vobject(content)[0].dtstart.value.astimezone(UTC) for content in history]
    assert [f"{start:%m-%d %H:%M}" for start in starts] == [
        "06-06 23:30", "06-13 23:30", "06-13 23:30", "06-20 23:00", "06-20 23:00",
    ]  # fmt: skip
    assert [event_of(content)["STATUS"] for content in history] == ["CONFIRMED"] * 4 + ["CANCELLED"]
    assert event_of(fifth)["DTSTAMP"] == "20260505T120000Z"
    assert b"VALARM" not in fifth
    assert event_of(fifth)["DESCRIPTION"].startswith("Cancelled: The hall is flooded")


def _field(event, name):
    return event[name] if isinstance(event, icalendar.Event) else getattr(event, name)


def test_the_folder_may_be_another_one_and_it_grows_all_the_same(read, projects):
    read({NAME: EVENING})
    _, first = printed(read, projects, NAME)
    for path in (projects.parent / "kit").iterdir():
        path.unlink()
    change(projects, NAME, words=[("19:30", "19:00")])
    _, second = printed(read, projects, NAME, AT - timedelta(days=1))
    assert int(event_of(second)["SEQUENCE"]) == int(event_of(first)["SEQUENCE"]) + 1
    # A clock that was put back takes nothing back.
    assert event_of(second)["DTSTAMP"] == event_of(first)["DTSTAMP"]


def test_the_id_is_written_once_and_everything_else_of_the_file_stays(read, projects):
    text = "# Ours.\n" + EVENING + "must see: [Sand it]   # why\n"
    read({NAME: text})
    printed(read, projects, NAME)
    path = projects / "piece" / "demonstrations" / f"{NAME}.yml"
    once = path.read_text(encoding="utf-8")
    assert once.startswith(text)
    assert once.removeprefix(text).count("\n") == 1
    printed(read, projects, NAME, AT + timedelta(days=1))
    assert path.read_text(encoding="utf-8") == once


def test_a_copy_of_an_evening_is_told_to_be_one(read, projects):
    read({NAME: EVENING})
    printed(read, projects, NAME)
    folder = projects / "piece" / "demonstrations"
    text = (folder / f"{NAME}.yml").read_text(encoding="utf-8")
    (folder / "2026-09-05-saltmarsh.yml").write_text(text.replace("06-06", "09-05"), encoding="utf-8")
    with pytest.raises(ProjectError, match=r"2026-09-05-saltmarsh.yml:\d+:\d+: calendar id: this calendar id is alr"):
        read()


def test_what_must_be_done_before_it_is_in_the_calendar_with_ids_of_its_own(read, projects):
    read({NAME: EVENING + "arrive: 18:15\ntravel: 45 min\n"})
    kit, content = printed(read, projects, NAME)
    for events in (by_icalendar(content), by_vobject(content)):
        assert len({str(getattr(uid, "value", uid)) for uid in (_field(event, "uid") for event in events)}) == len(
            events
        )
    said = {event.summary.value.partition(":")[0]: event for event in by_vobject(content)}
    assert said["Pack"].dtstart.value == date(2026, 6, 5)
    assert said["Leave home"].dtstart.value.astimezone(UTC) == datetime(2026, 6, 6, 21, 30, tzinfo=UTC)
    assert [deadline.on for deadline in kit.demonstration.deadlines] == sorted(
        d.on for d in kit.demonstration.deadlines
    )
    # What is no longer to be done is cancelled: it is in the calendar of whoever took the file in before.
    change(projects, NAME, words=[("travel: 45 min\n", "")])
    _, later = printed(read, projects, NAME, AT + timedelta(days=1))
    leave = {event.uid.value: event for event in by_vobject(later)}[said["Leave home"].uid.value]
    assert leave.status.value == "CANCELLED"


def test_counting_back_from_the_day_is_told_alike_in_the_calendar_on_the_page_and_on_paper(read, projects):
    piece = projects / "piece.yml"
    text = piece.read_text(encoding="utf-8")
    piece.write_text(text.replace("work: [roughing]", "work: [roughing, drying]"), encoding="utf-8")
    shop = projects / "shop.yml"
    shop.write_text(shop.read_text(encoding="utf-8").replace("long: 24 in", "long: 6 in"), encoding="utf-8")
    read({NAME: EVENING.replace("60 min", "90 min") + "ready made: [Rough it]\narrive: 18:15\ntravel: 45 min\n"})
    kit, content = printed(read, projects, NAME)
    told = [deadline.title for deadline in kit.demonstration.deadlines]
    assert told == [
        "Buy wood", "Saw the blanks", "Rough the body, seal it and put it away to dry",
        "Turn the ready-made pieces", "Print the handouts", "Pack", "Leave home",
    ]  # fmt: skip
    for events in (by_icalendar(content), by_vobject(content)):
        said = [str(getattr(what, "value", what)) for what in (_field(event, "summary") for event in events)]
        assert [what.partition(": Test piece")[0] for what in said[1:]] == told
    page = kit.files[f"piece-{NAME}-run-sheet.html"].decode()
    paper = text_of(kit.files[f"piece-{NAME}-packing-list-letter.pdf"])
    for text in (page, paper):
        listed = text[text.index("Before the evening") :]
        places = [listed.index(title) for title in told]
        assert places == sorted(places)


def test_place_address_and_reminder_stand_in_the_event(read, projects):
    read({NAME: EVENING + "place: Mill Lane Hall\n"})
    _, content = printed(read, projects, NAME, address=Address("https://turners.example/"))
    event = event_of(content)
    assert event["LOCATION"] == "Mill Lane Hall"
    assert event["URL"] == "https://turners.example/projects/piece/"
    alarm = by_vobject(content)[0].valarm
    assert alarm.trigger.value == timedelta(days=-1)
    change(projects, NAME, more="listed: false\n")
    _, unlisted = printed(read, projects, NAME, address=Address("https://turners.example/"))
    assert "URL" not in event_of(unlisted)


def test_old_files_go_and_nothing_else(read, projects):
    read({NAME: EVENING})
    printed(read, projects, NAME)
    folder = projects.parent / "kit"
    moved = "2026-06-13-saltmarsh"
    change(projects, NAME, to=moved, words=[("2026-06-06", "2026-06-13")])
    (folder / f"piece-{NAME}-run-sheet.html").write_text("mine")
    (folder / "holiday.ics").write_bytes(b"BEGIN:VCALENDAR\r\nPRODID:-//other//EN\r\nEND:VCALENDAR\r\n")
    kit, _ = printed(read, projects, moved)
    gone = stale(folder, kit, read())
    assert len(gone) == 7
    assert {path.name[:23] for path in gone} == {f"piece-{NAME}"[:23]}
    for path in gone:
        path.unlink()
    # From Letter to A4 the old set goes.
    change(projects, moved, more="paper: a4\n")
    kit, _ = printed(read, projects, moved)
    assert {path.name.rpartition("-")[2] for path in stale(folder, kit, read())} == {"letter.pdf"}


def test_two_evenings_share_a_folder_and_neither_loses_a_file(read, projects):
    read({NAME: EVENING, "2026-06-06-mill-lane": EVENING.replace("Saltmarsh Lathe Circle", "Mill Lane Turners")})
    first, _ = printed(read, projects, NAME)
    second, _ = printed(read, projects, "2026-06-06-mill-lane")
    assert not set(first.files) & set(second.files)
    assert not stale(projects.parent / "kit", second, read())


@pytest.mark.parametrize(("which", "starts", "ends"), [("first", "0530", "0630"), ("second", "0630", "0730")])
def test_an_evening_in_the_hour_that_comes_twice_is_written_in_utc(read, projects, which, starts, ends):
    """RFC 5545, 3.3.5: a local time that comes twice means the first."""
    read({"2026-11-01-saltmarsh": f"{TWICE}which: {which}\n"})
    event = event_of(printed(read, projects, "2026-11-01-saltmarsh")[1])
    assert (event["DTSTART"], event["DTEND"]) == (f"20261101T{starts}00Z", f"20261101T{ends}00Z")


def test_when_to_come_stands_in_the_calendar_and_on_the_run_sheet(read, projects):
    read({NAME: EVENING + "arrive: 18:15\ndoors: 19:00\n"})
    kit, content = printed(read, projects, NAME)
    assert "Arrive 6:15 pm\\nDoors 7:00 pm" in event_of(content)["DESCRIPTION"]
    assert "Arrive 6:15 pm; doors 7:00 pm" in kit.files[f"piece-{NAME}-run-sheet.html"].decode()
