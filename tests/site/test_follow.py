"""Following an archive: feeds and calendar are read by other people's parsers, and data keeps to its vocabulary."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import feedparser
import pytest
import vobject

from handouts_build.disk.cache import Cache
from handouts_build.outputs.output import Address
from handouts_build.outputs.pages.feeds import feeds
from handouts_build.site import publish as publishing
from handouts_build.site.gathering import project_files
from handouts_build.site.publish import Papers, publish
from tests.outputs.test_browsing import card
from tests.projects import project

ADDRESS = Address("https://club.example/a/")

EVENING = """\
date: {day}
start: "19:30"
zone: America/New_York
club: North Club
place: Mill Lane Hall
how: {how}
slot: 90 min
"""

HOW_TO = {"@type", "@context", "name", "description", "url", "inLanguage", "step", "image", "totalTime", "tool",
          "supply", "author", "publisher", "license", "teaches"}  # fmt: skip
KNOWN = {
    "HowTo": HOW_TO,
    "HowToStep": {"@type", "position", "name", "text", "url", "image"},
    "HowToTool": {"@type", "name"},
    "HowToSupply": {"@type", "name"},
    "Person": {"@type", "name"},
    "Organization": {"@type", "name"},
    "CreativeWork": {"@type", "name"},
    "Event": {"@type", "name", "description", "startDate", "endDate", "eventStatus", "eventAttendanceMode", "location",
              "organizer", "performer", "url", "image"},
    "Place": {"@type", "name", "address"},
    "VirtualLocation": {"@type", "url"},
}  # fmt: skip
"""Properties of schema.org's types that are used here; from memory, release 29."""

NEEDED = {"HowTo": {"name", "step"}, "Event": {"name", "startDate", "location"}, "HowToStep": {"name", "url"}}
"""What those who read it ask for at the least; from memory."""


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An archive of two pieces and three evenings, on 1 March 2026."""
    monkeypatch.setattr(publishing, "today", lambda: date(2026, 3, 1))
    folder = tmp_path / "projects"
    folder.mkdir()
    (folder / "shop.yml").write_text("by: Wren & Co\nclub: Fernhollow\nlicense: CC BY 4.0\n", encoding="utf-8")
    project(folder, name="knob", extra="formerly: [pull]\n")
    project(folder, name="bowl", extra="by: Alder\ndate: 2011-04-02\n")
    demonstrations = folder / "knob" / "demonstrations"
    demonstrations.mkdir(parents=True)
    for day, how, more in (
        ("2026-02-20", "in the room", ""),
        ("2026-03-20", "both", ""),
        ("2026-03-27", "by video", 'cancelled: "The hall & yard < 1 m deep"\n'),
        ("2026-11-20", "in the room", ""),
    ):
        text = EVENING.format(day=day, how=how) + more
        (demonstrations / f"{day}-north.yml").write_text(text, encoding="utf-8")
    return folder


def made(home: Path, address: Address = ADDRESS) -> dict[str, str]:
    outputs = publish(project_files(home), base=home.parent, cache=Cache(), address=address, papers=Papers.NONE)
    return {
        output.path: output.read().decode()
        for output in outputs
        if output.path.endswith((".md", ".xml", ".ics", ".html"))
    }


def test_another_parser_reads_the_feed_and_what_is_new_stands_first(home: Path) -> None:
    told = feedparser.parse(made(home)["feed.xml"])
    assert not told.bozo
    assert told.version == "atom10"
    assert [(entry.title, entry.updated) for entry in told.entries] == [
        ("Knob", "2026-02-20T00:00:00Z"),
        ("Cancelled: Knob, Friday, 27 March 2026: North Club", "2026-01-26T00:00:00Z"),
        ("Knob, Friday, 20 March 2026: North Club", "2026-01-19T00:00:00Z"),
        ("Knob, Friday, 20 February 2026: North Club", "2025-12-23T00:00:00Z"),
        ("Bowl", "2011-04-02T00:00:00Z"),
    ], "what is more than two months off has not been announced"
    assert told.entries[0].link == "https://club.example/a/projects/knob/"
    assert told.entries[0].author == "Wren & Co"
    assert told.entries[1].summary.startswith("The hall & yard < 1 m deep, Mill Lane Hall, by video, 7:30 pm")
    assert len({entry.id for entry in told.entries}) == len(told.entries)
    assert told.entries[0].id == "https://club.example/a/p/pull", "renamed, it is still the same entry"
    assert told.feed.id == told.feed.links[0].href == "https://club.example/a/feed.xml"


def test_a_maker_and_a_club_have_feeds_of_their_own(home: Path) -> None:
    pages = made(home)
    assert {entry.title for entry in feedparser.parse(pages["feeds/maker-alder.xml"]).entries} == {"Bowl"}
    assert "feeds/maker-wren-co.xml" in pages
    assert {"feeds/club-fernhollow.xml", "feeds/club-north-club.xml"} <= set(pages)


def test_letters_that_no_feed_can_have_are_left_out() -> None:
    (feed,) = (
        output
        for output in feeds([card("a", "Bo\x00wl & <co>")], ADDRESS, date(2026, 1, 1))
        if output.path == "feed.xml"
    )
    assert not feedparser.parse(feed.read()).bozo


def test_another_parser_reads_the_calendar_with_the_right_instants(home: Path) -> None:
    events = {event.uid.value: event for event in vobject.readOne(made(home)["evenings.ics"]).vevent_list}
    assert set(events) == {
        f"pull-{day}-north@club.example" for day in ("2026-02-20", "2026-03-20", "2026-03-27", "2026-11-20")
    }
    shown = events["pull-2026-03-20-north@club.example"]
    # By the clock of New York, which is four hours behind by then: daylight saving began on 8 March.
    assert shown.dtstart.value == datetime(2026, 3, 20, 23, 30, tzinfo=UTC)
    assert shown.dtend.value == datetime(2026, 3, 21, 1, 0, tzinfo=UTC)
    assert shown.location.value == "Mill Lane Hall"
    assert shown.status.value == "CONFIRMED"
    assert events["pull-2026-11-20-north@club.example"].dtstart.value == datetime(2026, 11, 21, 0, 30, tzinfo=UTC)
    assert events["pull-2026-03-27-north@club.example"].status.value == "CANCELLED"


def data(text: str) -> Any:
    (found,) = re.findall(r'<script type="application/ld\+json">(.*?)</script>', text)
    return json.loads(found)


def things(told: Any) -> Iterator[dict[str, Any]]:
    if isinstance(told, dict):
        if "@type" in told:
            yield told
        for below in told.values():
            yield from things(below)
    elif isinstance(told, list):
        for below in told:
            yield from things(below)


def test_data_keeps_to_its_vocabulary_and_says_what_readers_ask_for(home: Path) -> None:
    pages = made(home)
    for path in ("projects/knob.md", "projects/bowl.md", "projects/knob/shown.md"):
        told = data(pages[path])
        assert told["@context"] == "https://schema.org"
        for thing in things(told):
            assert set(thing) <= KNOWN[thing["@type"]], path
            assert NEEDED.get(thing["@type"], set()) <= set(thing), path
            for name, value in thing.items():
                if name in ("url", "image"):
                    assert value.startswith("https://club.example/a/")


def test_the_data_says_what_the_page_says(home: Path) -> None:
    pages = made(home)
    how_to = data(pages["projects/knob.md"])
    assert how_to["name"] == "Knob"
    assert how_to["step"] == [
        {"@type": "HowToStep", "position": 1, "name": "Turn it",
         "url": "https://club.example/a/projects/knob/at-the-lathe/#step-1"}
    ]  # fmt: skip
    coming = {event["startDate"]: event for event in data(pages["projects/knob/shown.md"])["@graph"]}
    assert set(coming) == {"2026-03-20T19:30:00-04:00", "2026-03-27T19:30:00-04:00", "2026-11-20T19:30:00-05:00"}
    both, flooded, _ = (coming[when] for when in sorted(coming))
    assert both["eventAttendanceMode"] == "https://schema.org/MixedEventAttendanceMode"
    assert both["endDate"] == "2026-03-20T21:00:00-04:00"
    assert [place["@type"] for place in both["location"]] == ["Place", "VirtualLocation"]
    assert flooded["eventStatus"] == "https://schema.org/EventCancelled"


def test_no_word_of_an_author_ends_the_data(home: Path) -> None:
    path = home / "bowl.yml"
    text = path.read_text(encoding="utf-8").replace("title: Bowl", 'title: "Bowl </script> 5 < 6 & 7"')
    path.write_text(text.replace("</script>", "/script"), encoding="utf-8")
    page = made(home)["projects/bowl.md"]
    assert data(page)["name"] == "Bowl /script 5 < 6 & 7"
    assert "\\u003c 6" in page


def test_without_an_address_there_is_nothing_to_follow(home: Path) -> None:
    pages = made(home, Address())
    assert not [path for path in pages if path.endswith((".xml", ".ics"))]
    assert "ld+json" not in "".join(pages.values())
    assert "feed.xml" not in pages["index.md"]
