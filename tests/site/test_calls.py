"""Calls for pieces: what is wrong is said with its place, and nothing is told before its day."""

from __future__ import annotations

import json
import os
import re
import shutil
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import feedparser
import icalendar
import pytest
from PIL import Image

from handouts_build.disk.cache import Cache
from handouts_build.disk.clock import today
from handouts_build.disk.folders import call_files_in
from handouts_build.outputs.output import Address
from handouts_build.problems import ProjectError
from handouts_build.sheet.call import CallForPieces, CallState
from handouts_build.site import publish as publishing
from handouts_build.site.calls import CallSurvey, line_of, survey_calls
from handouts_build.site.gathering import project_files
from handouts_build.site.leaks import leaks
from handouts_build.site.publish import Papers, publish
from handouts_build.site.starter import MeasuredIn, start_call
from tests.harness import differences, expected_in

HERE = Path(__file__).parents[1]
CASES = sorted(path for path in (HERE / "bad_calls").iterdir() if path.is_dir())
ADDRESS = Address("https://club.example/a/")
PIECE = "title: {title}\nsummary: Words alone.\nkind: piece\nby: Wren Tarrow\nclub: North Club\ntext: Words.\n"

CALL = """\
title: The offcut challenge
club: North Club
place: Mill Lane Hall
words: Out of the *scrap* box.
dates: {opens: 2026-01-01, closes: 2026-02-28, shown: 2026-03-14, results: 2026-03-20}
rules: [Turned by you]
pieces: {largest: {diameter: 4 in}, woods: Any wood}
write to: The desk by the door
judges: [Linnet Marsh]
criteria: [Form]
results:
  - {entry: scoop, prize: First place, says: A wall like paper.}
"""
ENTRY = """\
maker: Quill Sedge
title: "Scoop & ladle"
sent: 2026-01-17
woods: ["maple, sugar"]
size: {diameter: 2 1/2 in, length: 7 in}
words: Hollowed by hand.
inspired by: piece
pictures: [{file: photos/scoop.jpg, shows: A pale scoop, by: B. Fern}]
"""


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """An archive of two pieces and one call with an entry, whose photograph has a camera's notes in it."""
    folder = tmp_path / "projects"
    entries = folder / "calls" / "offcuts" / "entries"
    (entries / "scoop" / "photos").mkdir(parents=True)
    for name in ("piece", "other"):
        (folder / f"{name}.yml").write_text(PIECE.format(title=name.title()), encoding="utf-8")
    (entries.parent / "call.yml").write_text(CALL, encoding="utf-8")
    (entries / "scoop.yml").write_text(ENTRY, encoding="utf-8")
    photograph(entries / "scoop" / "photos" / "scoop.jpg")
    return folder


def photograph(path: Path) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    notes = Image.Exif()
    notes[0x010E] = "taken at home"
    Image.new("RGB", (900, 600), "tan").save(path, exif=notes)


def surveyed(home: Path) -> CallSurvey:
    return survey_calls(home, project_files(home), (), base=home.parent, cache=Cache())


def made(home: Path, day: date, monkeypatch: pytest.MonkeyPatch, address: Address = ADDRESS) -> dict[str, bytes]:
    monkeypatch.setattr(publishing, "today", lambda: day)
    found = surveyed(home)
    assert not found.problems
    outputs = publish(
        project_files(home), base=home.parent, cache=Cache(), address=address, papers=Papers.NONE, calls=found.sound
    )
    return {output.path: output.read() for output in outputs}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_bad_call_has_exactly_the_problems_it_says(case: Path, tmp_path: Path) -> None:
    folder = tmp_path / "projects"
    folder.mkdir()
    (folder / "piece.yml").write_text(PIECE.format(title="Piece"), encoding="utf-8")
    target = folder / "calls" / "a-call"
    shutil.copytree(case, target)
    expected = []
    for file in sorted(target.rglob("*.yml")):
        expected += expected_in(file, file.relative_to(tmp_path).as_posix())
        if file.parent.name == "entries":
            photograph(file.with_suffix("") / "one.jpg")
    assert expected, "the case says nothing of what is wrong with it"
    found = surveyed(folder)
    assert not differences(expected, found.problems)
    assert found.sound == ()


def test_calls_are_no_projects_and_no_folder_of_them_goes_unread_without_a_word(home: Path) -> None:
    assert [path.stem for path in project_files(home)] == ["other", "piece"]
    assert [path.parent.name for path in call_files_in(home)] == ["offcuts"]
    (home / "calls" / "lost" / "entries").mkdir(parents=True)
    (home / "calls" / "lost" / "entries" / "cup.yml").write_text(ENTRY, encoding="utf-8")
    (home / "calls" / "spring.yml").write_text(CALL, encoding="utf-8")
    told = {problem.place.file: problem for problem in surveyed(home).problems}
    assert set(told) == {"projects/calls/lost", "projects/calls/spring.yml"}
    assert "nothing in this folder is read" in told["projects/calls/lost"].message
    assert "calls/spring/call.yml" in told["projects/calls/spring.yml"].hint
    assert [path.stem for path in project_files(home)] == ["other", "piece"]


@pytest.mark.parametrize(
    ("day", "state", "entries", "awards"),
    [
        (date(2025, 12, 31), CallState.COMING, 0, 0),
        (date(2026, 1, 1), CallState.OPEN, 0, 0),
        (date(2026, 2, 28), CallState.OPEN, 0, 0),
        (date(2026, 3, 1), CallState.CLOSED, 1, 0),
        (date(2026, 3, 19), CallState.CLOSED, 1, 0),
        (date(2026, 3, 20), CallState.OVER, 1, 1),
    ],
)
def test_a_call_opens_closes_and_tells_its_results_by_the_day(
    home: Path, day: date, state: CallState, entries: int, awards: int
) -> None:
    (call,) = surveyed(home).sound
    told = call.as_of(day)
    assert (call.state(day), len(told.entries), len(told.awards)) == (state, entries, awards)
    assert CallForPieces.from_json(call.to_json()) == call


def test_nothing_of_entries_or_results_is_published_before_its_day(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for day, entries, results in (
        (date(2025, 12, 31), False, False),
        (date(2026, 2, 28), False, False),
        (date(2026, 3, 1), True, False),
        (date(2026, 3, 19), True, False),
        (date(2026, 3, 20), True, True),
    ):
        files = made(home, day, monkeypatch)
        everything = b"\n".join(files.values())
        assert (b"Quill Sedge" in everything) is entries, day
        assert (b"wall like paper" in everything) is results, day
        assert any("/scoop/photographs/" in path for path in files) is entries, day


def test_the_gallery_leads_to_the_project_and_the_project_to_the_gallery(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    files = made(home, date(2026, 3, 25), monkeypatch)
    page = files["calls/offcuts.md"].decode()
    assert "[Piece](../projects/piece.md)" in page
    assert 'alt="A pale scoop"' in page
    assert "Photograph: B. Fern" in page
    assert "sugar maple" in page
    assert "Scoop &#38; ladle" in page
    beside = files["projects/piece.md"].decode()
    assert "Made after this piece" in beside
    assert "../calls/offcuts.md#entry-scoop" in beside
    assert "Made after this piece" not in files["projects/other.md"].decode()
    # Every picture that a page names is there, from the page's own address.
    for where, text in (("calls/offcuts/", page), ("projects/piece/", beside)):
        for source in re.findall(r'(?:src|href)="((?!https?:|#)[^"]+\.(?:jpg|webp))"', text):
            assert os.path.normpath(where + source) in files, source


def test_a_photograph_goes_out_without_what_the_camera_noted(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    files = made(home, date(2026, 3, 25), monkeypatch)
    pictures = [content for path, content in files.items() if path.startswith("calls/offcuts/scoop/")]
    assert len(pictures) == 2
    assert all(b"taken at home" not in content and b"Exif" not in content for content in pictures)


def test_a_project_that_was_renamed_is_still_what_a_piece_was_made_after(home: Path) -> None:
    (home / "piece.yml").rename(home / "knob.yml")
    (problem,) = surveyed(home).problems
    assert "there is no project 'piece'" in problem.message
    paths = project_files(home)
    summaries = publishing.summarize(paths, base=home.parent, cache=Cache())
    with (home / "knob.yml").open("a", encoding="utf-8") as file:
        file.write("formerly: [piece]\n")
    summaries = publishing.summarize(paths, base=home.parent, cache=Cache())
    (call,) = survey_calls(home, paths, summaries, base=home.parent, cache=Cache()).sound
    assert call.entries[0].inspired_by == "knob"


@pytest.mark.parametrize("address", [ADDRESS, Address("https://club.example/a/", ".html")])
def test_feed_and_calendar_know_the_days_of_a_call(
    home: Path, monkeypatch: pytest.MonkeyPatch, address: Address
) -> None:
    files = made(home, date(2026, 3, 25), monkeypatch, address)
    for path in ("feed.xml", "feeds/club-north-club.xml"):
        told = feedparser.parse(files[path])
        assert not told.bozo
        assert [(entry.title, entry.updated[:10]) for entry in told.entries] == [
            ("Results: The offcut challenge", "2026-03-20"),
            ("Pieces can be sent now: The offcut challenge", "2026-01-01"),
            ("Call for pieces: The offcut challenge", "2025-11-02"),
        ], "sixty days before it opens"
        assert told.entries[0].link == f"https://club.example/a/calls/offcuts{address.ending}"
    events = list(icalendar.Calendar.from_ical(files["evenings.ics"]).walk("VEVENT"))
    assert [(str(event["summary"]).partition(": ")[2], event.decoded("dtstart")) for event in events] == [
        ("opens", date(2026, 1, 1)),
        ("last day to send a piece", date(2026, 2, 28)),
        ("pieces shown", date(2026, 3, 14)),
        ("results", date(2026, 3, 20)),
    ]
    assert len({str(event["uid"]) for event in events}) == 4
    # RFC 5545, 3.6.1: the end of a whole day is the day after it, and it is not part of the event.
    assert all((event.decoded("dtend") - event.decoded("dtstart")).days == 1 for event in events)


KNOWN = {
    "Event": {"@type", "name", "description", "startDate", "endDate", "eventStatus", "eventAttendanceMode", "location",
              "organizer", "url"},
    "Place": {"@type", "name", "address"},
    "Organization": {"@type", "name"},
    "Person": {"@type", "name"},
    "VisualArtwork": {"@type", "name", "creator", "material", "url", "image", "description", "isBasedOn", "award"},
}  # fmt: skip
"""Properties of schema.org's types that are used here; from memory, release 29."""


def things(told: Any) -> Iterator[dict[str, Any]]:
    if isinstance(told, dict):
        if "@type" in told:
            yield told
        for value in told.values():
            yield from things(value)
    elif isinstance(told, list):
        for value in told:
            yield from things(value)


def test_data_keeps_to_its_vocabulary(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    kinds = {}
    for day in (date(2026, 2, 1), date(2026, 3, 25)):
        files = made(home, day, monkeypatch)
        (text,) = re.findall(r'<script type="application/ld\+json">(.*?)</script>', files["calls/offcuts.md"].decode())
        told = json.loads(text)
        for thing in things(told):
            assert set(thing) <= KNOWN[thing["@type"]]
        kinds[day] = [thing["@type"] for thing in told["@graph"]]
        for picture in (picture for thing in told["@graph"] for picture in thing.get("image", ())):
            assert picture.removeprefix("https://club.example/a/") in files
    assert list(kinds.values()) == [["Event"], ["VisualArtwork"]]


def test_a_contact_that_is_private_cannot_stand_in_a_call(home: Path) -> None:
    demonstrations = home / "piece" / "demonstrations"
    demonstrations.mkdir(parents=True)
    (demonstrations / "2026-03-20-north.yml").write_text(
        "date: 2026-03-20\nstart: '19:30'\nzone: America/New_York\nclub: North Club\nslot: 90 min\n"
        "private: {contact: [Host 555 0100 200]}\n",
        encoding="utf-8",
    )
    call = home / "calls" / "offcuts" / "call.yml"
    call.write_text(CALL.replace("The desk by the door", "Ring 555-0100-200"), encoding="utf-8")
    (problem,) = leaks((call,), project_files(home), home.parent)
    assert problem.place.file == "projects/calls/offcuts/call.yml"


def test_a_link_or_something_that_is_no_picture_is_no_photograph_of_an_entry(home: Path) -> None:
    picture = home / "calls" / "offcuts" / "entries" / "scoop" / "photos" / "scoop.jpg"
    picture.write_bytes(b"no picture")
    (problem,) = surveyed(home).problems
    assert "cannot be read as a picture" in problem.message
    picture.unlink()
    picture.symlink_to("/etc/hostname")
    assert surveyed(home).problems


def test_an_unchanged_call_is_not_read_again(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    cache = Cache(home.parent / "cache")
    paths = project_files(home)
    first = survey_calls(home, paths, (), base=home.parent, cache=cache)

    def never(*_: object, **__: object) -> None:
        pytest.fail("it is read again")

    monkeypatch.setattr("handouts_build.site.calls._read", never)
    assert survey_calls(home, paths, (), base=home.parent, cache=cache) == first
    assert line_of(first.sound[0], date(2026, 2, 1)).endswith(
        "Open: pieces can be sent until 28 February 2026. 1 entry, shown from the day after 2026-02-28"
    )


@pytest.mark.parametrize("measure", MeasuredIn)
def test_a_call_that_was_just_begun_is_whole_and_so_is_an_entry_as_it_asks_for(
    tmp_path: Path, measure: MeasuredIn
) -> None:
    (path,) = start_call("spring-2028", tmp_path / "projects", measure=measure)
    text = path.read_text(encoding="utf-8")
    entry = "".join(f"{line[4:]}\n" for line in text.splitlines() if line.startswith("#   "))
    assert "maker:" in entry
    (path.parent / "entries").mkdir()
    (path.parent / "entries" / "bowl.yml").write_text(entry, encoding="utf-8")
    photograph(path.parent / "entries" / "bowl" / "side.jpg")
    (tmp_path / "projects" / "piece.yml").write_text(PIECE.format(title="Piece"), encoding="utf-8")
    found = surveyed(tmp_path / "projects")
    assert found.problems == ()
    (call,) = found.sound
    assert call.title == "Spring 2028"
    assert call.state(today()) is CallState.COMING
    assert [entry.title for entry in call.entries] == ["What the piece is called"]
    with pytest.raises(ProjectError, match="there is a call of this name already"):
        start_call("spring-2028", tmp_path / "projects")
