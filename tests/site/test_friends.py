"""Archives that know of each other by a plain file: its form by jsonschema, its page of links, and what is refused."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from html import unescape
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from handouts_build.disk.cache import Cache
from handouts_build.outputs.output import Address
from handouts_build.outputs.pages.exchange import archive_schema
from handouts_build.problems import Problem
from handouts_build.records.friends import friend_files, read_friend
from handouts_build.site.gathering import project_files
from handouts_build.site.publish import Papers, publish, survey
from tests.projects import ROOT, project
from tests.site.test_follow import EVENING

SCHEMA = json.loads(archive_schema())
DEMO = ROOT / "projects" / "friends" / "hollowbeck.json"


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """An archive of one piece that is to be shown."""
    folder = tmp_path / "projects"
    project(_made(folder), name="knob", extra="by: Alder\nclub: North Club\n")
    evening = _made(folder / "knob" / "demonstrations") / "2099-05-01-north.yml"
    evening.write_text(EVENING.format(day="2099-05-01", how="both"), encoding="utf-8")
    return folder


def _made(folder: Path) -> Path:
    folder.mkdir(parents=True)
    return folder


def made(home: Path, address: str = "https://club.example/") -> dict[str, str]:
    outputs = publish(
        project_files(home), base=home.parent, cache=Cache(), address=Address(address), papers=Papers.NONE
    )
    texts = (".md", ".json", ".html", ".xml")
    return {output.path: output.read().decode() for output in outputs if output.path.endswith(texts)}


def valid(told: Any) -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    jsonschema.Draft202012Validator(SCHEMA).validate(told)


def test_what_an_archive_tells_of_itself_keeps_to_the_schema_that_it_publishes(home: Path) -> None:
    files = made(home)
    told = json.loads(files["archive.json"])
    valid(told)
    assert json.loads(files["schemas/archive.schema.json"]) == SCHEMA
    assert [piece["address"] for piece in told["pieces"]] == ["https://club.example/projects/knob/"]
    (evening,) = told["evenings"]
    assert evening["starts"].startswith("2099-05-01T19:30:00-04:00")
    assert evening["address"] == "https://club.example/projects/knob/shown/#shown-2099-05-01-north"
    assert 'id="shown-2099-05-01-north"' in files["projects/knob/shown.md"]


def test_where_nobody_could_be_led_there_is_none(home: Path) -> None:
    assert "archive.json" not in made(home, "")


def test_one_archive_s_file_is_read_by_another(home: Path, tmp_path: Path) -> None:
    (_made(home / "friends") / "own.json").write_text(made(home)["archive.json"], encoding="utf-8")
    page = made(home)["friends.md"]
    assert re.findall(r'<a href="([^"]*)" rel="noreferrer">', page) == [
        "https://club.example/",
        "https://club.example/projects/knob/shown/#shown-2099-05-01-north",
        "https://club.example/projects/knob/",
    ]
    assert "[Other archives](friends.md)" in made_with_two(home)["index.md"]


def made_with_two(home: Path) -> dict[str, str]:
    project(home, name="bowl")
    return made(home)


def test_the_demo_s_friend_keeps_to_the_schema_and_is_read() -> None:
    valid(json.loads(DEMO.read_text(encoding="utf-8")))
    assert friend_files(ROOT / "projects") == (DEMO,)
    assert not isinstance(read_friend(DEMO, "hollowbeck.json"), Problem)


def test_without_friends_there_is_no_page(home: Path) -> None:
    files = made(home)
    assert "friends.md" not in files
    assert "friends.md" not in files["index.md"]


def test_what_a_stranger_wrote_stays_text(home: Path) -> None:
    told = json.loads(DEMO.read_text(encoding="utf-8"))
    evil = '<script>x</script>"&[a](javascript:b)\u00a0**'
    told["title"] = told["pieces"][0]["title"] = told["pieces"][0]["by"] = told["evenings"][0]["place"] = evil
    told["evenings"][0]["starts"] = "2099-01-01T10:00:00+00:00"
    (_made(home / "friends") / "x.json").write_text(json.dumps(told), encoding="utf-8")
    page = made(home)["friends.md"]
    assert "<script" not in page
    assert not re.search(r"^## .*[\[<*]", page, re.MULTILINE)
    assert unescape(page).count("<script>x</script>") == 4


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda told: told.update(format="handouts archive 9"), "this is not what an archive tells of itself"),
        (lambda told: told["pieces"][1].update(address="javascript:alert(1)"), "pieces[1].address: this cannot be led"),
        (lambda told: told.update(address="https://a:b@x.example/"), "there is a name or password in it"),
        (lambda told: told["evenings"][0].update(starts="soon"), "evenings[0].starts: this is no moment"),
        (lambda told: told.update(pieces={}), "pieces: this is no list"),
        (lambda told: told.update(pieces=[1]), "pieces[0]: this is no map"),
        (lambda told: told.update(title="a\u202eb"), "title: this is no text"),
        (lambda told: told.update(title=" "), "title: this is empty"),
        (lambda told: told["pieces"][0].update(title="x" * 301), "pieces[0].title: this is no text, or a longer one"),
        (lambda told: told.update(pieces=told["pieces"] * 2000), "at most 5,000"),
    ],
)
def test_a_file_that_cannot_be_read_is_one_message_and_ends_nothing(
    home: Path, change: Callable[[dict[str, Any]], None], said: str
) -> None:
    told = json.loads(DEMO.read_text(encoding="utf-8"))
    change(told)
    (_made(home / "friends") / "x.json").write_text(json.dumps(told), encoding="utf-8")
    found = survey(project_files(home), base=home.parent, cache=Cache())
    (problem,) = found.problems
    assert said in str(problem)
    assert [path.stem for path in found.makeable] == ["knob"]
    assert "friends.md" not in made(home)


@pytest.mark.parametrize("content", [b"", b"[", b"\xff", b"[" * 100_000, b"null"])
def test_what_is_no_json_is_told(home: Path, content: bytes) -> None:
    (_made(home / "friends") / "x.json").write_bytes(content)
    assert len(survey(project_files(home), base=home.parent, cache=Cache()).problems) == 1


def test_a_link_is_not_followed(home: Path) -> None:
    (_made(home / "friends") / "x.json").symlink_to(DEMO)
    (problem,) = survey(project_files(home), base=home.parent, cache=Cache()).problems
    assert "it is a link" in str(problem)
