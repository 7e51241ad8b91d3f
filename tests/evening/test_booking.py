"""A demonstration that was just agreed on: what its file has of an earlier evening, and what it never has."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml
from click.testing import CliRunner

from handouts_build.cli.run import cli
from handouts_build.evening.booking import book
from handouts_build.schema import DemonstrationKeys, load_file

HELD = """\
# The evening before the clocks are put forward.
date: 2026-03-07
# Their doors are the barn's.
start: 19:30
zone: America/Chicago
club: Saltmarsh Lathe Circle
calendar id: 1234567890abcdef
place: "The old cannery: door B"
slot: 100 min
break: 10 min
break after: Shape it
lathe:
  swing: 12 in
  # Measured, not read off.
  between: 20 in
must see: [Shape it]
private:
  contact: ["Ask for the key"]
  link: https://meeting.example/saltmarsh
share: [link]
afterwards: {attended: 31}
"""


@pytest.fixture
def projects(tmp_path: Path) -> Path:
    """Two pieces; one was shown to a club."""
    held = tmp_path / "projects" / "other" / "demonstrations"
    held.mkdir(parents=True)
    for name in ("piece", "other"):
        steps = "{name: 'Rough: it', say: Rough it.}, {name: Shape it, say: Shape it.}"
        (tmp_path / "projects" / f"{name}.yml").write_text(
            f"title: {name.title()}\nsummary: Small.\nkind: ornament\nlevel: improver\ntechniques: [bead]\n"
            f"sizes: {{ball: {{is: 2 in, says: Ball}}}}\n"
            f"parts: {{body: {{wood: 'maple, sugar', blank: {{round: 3 in, long: 4 in}}, steps: [{steps}]}}}}\n",
            encoding="utf-8",
        )
    (held / "2026-03-07-saltmarsh.yml").write_text(HELD, encoding="utf-8")
    return tmp_path / "projects"


def values(path: Path) -> dict[str, Any]:
    """As another reader of YAML has it."""
    read: dict[str, Any] = yaml.safe_load(path.read_text(encoding="utf-8"))
    return read


def test_what_is_the_hosts_goes_over_as_it_was_written_and_nothing_else(projects: Path) -> None:
    made = book(projects / "piece.yml", date(2027, 3, 13), "saltmarsh  LATHE circle", projects=projects)
    assert made.path == projects / "piece" / "demonstrations" / "2027-03-13-saltmarsh.yml"
    assert made.like == projects / "other" / "demonstrations" / "2026-03-07-saltmarsh.yml"
    assert made.missing == ()
    before, now = values(made.like), values(made.path)
    kept = ("start", "zone", "place", "slot", "break", "lathe")
    assert now == {"date": date(2027, 3, 13), "club": before["club"], **{key: before[key] for key in kept}}
    text = made.path.read_text(encoding="utf-8")
    assert "# Their doors are the barn's.\nstart: 19:30" in text
    assert "  # Measured, not read off.\n  between: 20 in" in text
    assert "put forward" not in text
    for private in ("key", "meeting.example/saltmarsh", "1234567890", "attended", "share"):
        assert private not in text.replace("# Of the host", ""), private
    load_file(DemonstrationKeys, made.path, made.path.name)


def test_of_several_evenings_the_last_is_taken_and_a_broken_one_is_passed_over(projects: Path) -> None:
    held = projects / "piece" / "demonstrations"
    held.mkdir(parents=True)
    (held / "2026-11-07-barn.yml").write_text(HELD.replace("2026-03-07", "2026-11-07").replace("100 min", "80 min"))
    (held / "2026-12-07-saltmarsh.yml").write_text("date: [")
    made = book(projects / "other.yml", date(2027, 3, 13), "Saltmarsh Lathe Circle", projects=projects)
    assert made.path.name == "2027-03-13-barn.yml"
    assert values(made.path)["slot"] == "80 min"


@pytest.mark.parametrize(
    ("club", "name"),
    [
        ("Null: & 'Void' #1 Turners", "2027-05-01-null-void-1-turners.yml"),
        ("木", "2027-05-01-club.yml"),
        ("A very long name of a club of many turners of many towns", "2027-05-01-a-very-long-name-of-a-club-of.yml"),
    ],
)
def test_of_a_club_that_nobody_knows_it_asks_what_every_evening_needs(projects: Path, club: str, name: str) -> None:
    made = book(projects / "piece.yml", date(2027, 5, 1), club, projects=projects)
    assert made.path.name == name
    assert made.missing == ("start", "zone", "slot")
    assert values(made.path) == {"date": date(2027, 5, 1), "club": club}
    # With the signs taken away it is a demonstration.
    text = made.path.read_text(encoding="utf-8")
    for key in ("start", "zone", "slot", "must see", "ready made", "private"):
        text = text.replace(f"# {key}:", f"{key}:")
    made.path.write_text(text, encoding="utf-8")
    keys, _ = load_file(DemonstrationKeys, made.path, made.path.name)
    assert keys.must_see == ["Shape it"]
    assert keys.ready_made == ["Rough: it"]


def test_nothing_is_written_over_and_a_day_is_a_day(projects: Path) -> None:
    asked = ["book", "piece", "2027-05-01", "--club", "North Club", "--projects", str(projects)]
    assert CliRunner().invoke(cli, asked).exit_code == 0
    (made,) = (projects / "piece" / "demonstrations").iterdir()
    made.write_text("mine", encoding="utf-8")
    for again in (asked, [*asked[:2], "1.5.2027", *asked[3:]]):
        assert CliRunner().invoke(cli, again).exception is not None
    assert made.read_text(encoding="utf-8") == "mine"
    assert list((projects / "piece" / "demonstrations").iterdir()) == [made]
