"""One evening from its announcement to the archive: wherever it is told, it is told alike."""

from __future__ import annotations

import itertools
import json
import re
from datetime import UTC, date, datetime, timedelta

import icalendar

from handouts_build.disk.files import write_all
from handouts_build.evening.folder import evening_kit
from handouts_build.evening.hand_out import hand_out
from handouts_build.outputs.output import Address
from handouts_build.records.showings import legs_of
from handouts_build.site.build import read_archive
from handouts_build.site.publish import Papers
from tests.evening.conftest import EVENING
from tests.evening.test_calendar import change
from tests.evening.test_outside import text_of
from tests.evening.test_rehearsal import Hands, only, run
from tests.projects import site

DAYS = ("2026-06-06", "2026-06-13", "2026-06-20")
SAYS = EVENING.replace("60 min", "75 min") + "break: 5 min\nopening: 2 min\nshare: [run sheet]\n"
AT = datetime(2026, 5, 1, 12, tzinfo=UTC)


WORDS = {"live": "LIVE", "talk": "TOLD", "ready-made": "READY-MADE"}
"""How the page to hang up tells each step to be shown; what is no step has no word."""


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ").strip()


def hung_up(paper: str, names: list[str]) -> list[tuple[str, int, str, str]]:
    """The rows of a run sheet's first page: when, its number, what, and how it is shown."""
    first = plain(paper).partition("Over by plan")[0]
    row = re.compile(
        rf"(\d+:\d\d [ap]m) (?:(\d+)\. )?({'|'.join(map(re.escape, names))})\b(?: — ({'|'.join(WORDS.values())}))?"
    )
    return [(when, int(number or 0), what, how) for when, number, what, how in row.findall(first)]


def test_moved_twice_rehearsed_thrice_broken_off_once_and_shown_it_is_told_alike(read, projects):
    name = f"{DAYS[0]}-saltmarsh"
    read({name: SAYS})
    calendars = []
    for later, day in enumerate(DAYS):
        if later:
            moved = f"{day}-saltmarsh"
            change(projects, name, to=moved, words=[(DAYS[later - 1], day)])
            name = moved
        # A dry run before each printing: five steps, each time a little slower.
        run(read(), Hands(*"nnnnnn", step=300.0 + 60 * later), afresh=True)
        kit = evening_kit(read(), name, at=AT + timedelta(days=later))
        write_all(kit.kept)
        calendars.append(icalendar.Calendar.from_ical(kit.files[f"piece-{name}-calendar.ics"]).walk("VEVENT")[0])
    assert len(read().runs) == 3
    archive = read_archive(projects, base=projects.parent)
    hand_out(archive, DAYS[-1], address=Address("https://a.example/"))

    # The evening: left after the second entry, and gone on with.
    path = run(read(), Hands(*"nn", "q", step=240.0), name=name, kind="demonstration")
    run(read(), Hands("p", *"nnnnnnn", step=240.0), name=name, kind="demonstration")
    change(projects, name, more="afterwards: {attended: 19}\n")
    records = read()

    plan = [(leg.name, leg.shown, leg.number) for leg in legs_of(records, name)]
    names = [leg for leg, _, _ in plan]
    assert {"Opening", "Break", "Questions", "Rough it", "Oil it"} <= set(names)
    # The stopwatch's page, and the stopwatch's record.
    page = json.loads(re.search(rb'id="data">(.*?)</script>', kit.files[f"piece-{name}-stopwatch.html"]).group(1))
    assert [(leg["name"], leg["shown"], leg["number"]) for leg in page["legs"]] == plan
    held = only(path)
    assert held.finished
    assert [(leg.name, leg.shown, leg.number or 0) for leg in held.plan] == plan
    # The run sheet on its page and on paper: in this order, and at the times of the calendar.
    sheet = kit.files[f"piece-{name}-run-sheet.html"].decode()
    rows = [(row, int(number or 0)) for number, row in re.findall(r"<h3>(?:(\d+)\. )?([^<]+)</h3>", sheet)]
    assert rows[: len(plan)] == [(leg, number) for leg, _, number in plan]
    paper = text_of(kit.files[f"piece-{name}-run-sheet-letter.pdf"])
    # To the minute at which each begins: the calendar's start, and what the stopwatch plans until then.
    start = calendars[-1].decoded("dtstart")
    assert start.date() == date.fromisoformat(DAYS[-1])
    assert f"{start.day} June 2026" in sheet
    assert f"{start.day} June 2026" in paper
    before = itertools.accumulate((leg["planned"] for leg in page["legs"]), initial=0)
    planned = [
        (f"{start + timedelta(seconds=seconds):%-I:%M %p}".lower(), number, leg, WORDS.get(shown, ""))
        for seconds, (leg, shown, number) in zip(before, plan, strict=False)
    ]
    assert hung_up(paper, names) == planned
    times = re.findall(r'class="time">(?:<[^>]*>)*([^<]+)<', sheet)
    assert [plain(told) for told in times[: len(plan)]] == [told for told, *_ in planned]
    assert page["ends"] == calendars[-1].decoded("dtend").timestamp() * 1000
    # Each rehearsal has told how long a step takes.
    assert {line.runs for line in kit.demonstration.plan.lines if line.step} == {3}
    # One event, moved twice.
    assert len({str(event["uid"]) for event in calendars}) == 1
    assert [int(event["sequence"]) for event in calendars] == [0, 1, 2]
    # The archive: the plan as it was printed, the papers as they were handed out, what it took.
    (shown,) = records.public(date(2026, 7, 1))
    assert (shown.name, shown.held, shown.attended) == (name, True, 19)
    assert [(plain(row["there"]), row["name"]) for row in shown.run_sheet["rows"]] == [
        (told, leg) for told, _, leg, _ in planned
    ]
    assert shown.minutes == round(sum(timing.to - timing.from_ for timing in held.times) / 60)
    assert shown.handed_out
    assert shown.changed == ()
    published = site(projects, papers=Papers.MADE)
    of_the_piece = published["projects/piece/shown.md"].decode()
    assert f"19 people, {shown.minutes} minutes at the lathe" in of_the_piece
    assert f"19 people, {shown.minutes} minutes at the lathe" in published["demonstrations.md"].decode()
    assert all(f"handed-out/{name}/{file}" in of_the_piece for file in shown.handed_out if file.endswith(".pdf"))
    shared = text_of(published[f"projects/piece/shown/{name}/run-sheet-letter.pdf"])
    assert hung_up(shared, names) == planned
    # Printed once more, it says what it said.
    again = evening_kit(records, name, at=AT + timedelta(days=90))
    lines = again.demonstration.plan.lines
    assert [line.name for line in lines] == names
    assert [line.shown for line in lines if line.step] == [how for _, how, number in plan if number]


def test_a_watch_that_was_tried_out_for_seconds_tells_no_minutes_at_the_lathe(read):
    name = f"{DAYS[0]}-saltmarsh"
    run(read({name: SAYS}), Hands(*"nnnn", "q", step=4.0), name=name, kind="demonstration")
    (shown,) = read().public(date(2026, 7, 1))
    assert shown.minutes is None


def test_a_run_of_an_evening_that_is_moved_or_called_otherwise_afterwards_stays_its_run(read, projects):
    names = [f"{day}-saltmarsh" for day in DAYS]
    read({names[0]: SAYS})
    write_all(evening_kit(read(), names[0], at=AT).kept)
    left = run(read(), Hands(*"nnn", "q"), name=names[0])
    for later, (old, new) in enumerate(itertools.pairwise(names), start=1):
        change(projects, old, to=new, words=[(DAYS[later - 1], DAYS[later])])
        write_all(evening_kit(read(), new, at=AT + timedelta(days=later)).kept)
    assert run(read(), Hands(*"nnnnnnnn"), name=names[-1]) == left
    assert only(left).for_ == names[-1]

    held = run(read(), Hands(*"nnnnnnnnn"), name=names[-1], kind="demonstration")
    renamed = f"{DAYS[-1]}-salt-marsh"
    change(projects, names[-1], to=renamed)
    (shown,) = read().public(date(2026, 7, 1))
    minutes = round(sum(timing.to - timing.from_ for timing in only(held).times) / 60)
    assert shown.minutes == minutes
    # Another evening that takes an old name has no part in it.
    read({names[-1]: SAYS.replace(DAYS[0], DAYS[-1]).replace("19:30", "10:00")})
    told = {shown.name: shown.minutes for shown in read().public(date(2026, 7, 1))}
    assert told == {names[-1]: minutes, renamed: None}
