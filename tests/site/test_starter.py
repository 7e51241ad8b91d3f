"""The starter: builds as it is, and writes over nothing."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from handouts_build.problems import ProjectError
from handouts_build.schema import project_schema
from handouts_build.site.build import read_archive
from handouts_build.site.starter import start_archive, start_project


@pytest.mark.parametrize("name", ["my-piece", "a", "3-rings", "007", "1", "null", "true", "no", "yes", "12", "x" * 60])
def test_a_starter_of_any_name_is_sound_and_has_no_findings(name: str, tmp_path: Path) -> None:
    start_project(name, tmp_path / "projects")
    (sheet,) = read_archive(tmp_path / "projects", base=tmp_path).sheets
    assert sheet.name == name
    assert sheet.title == name.replace("-", " ").capitalize()
    assert not sheet.findings
    assert sheet.minutes > 0


def test_every_line_of_the_starter_that_opens_a_part_is_explained(tmp_path: Path) -> None:
    path, *_ = start_project("my-piece", tmp_path)
    text = path.read_text(encoding="utf-8")
    assert text.count("#") > 8
    assert text.startswith("# yaml-language-server: $schema=.schemas/project.schema.json\n")


def test_the_editors_schema_lies_where_the_starter_points(tmp_path: Path) -> None:
    _, schema, _ = start_project("my-piece", tmp_path)
    assert schema == tmp_path / ".schemas" / "project.schema.json"
    assert json.loads(schema.read_text(encoding="utf-8")) == json.loads(project_schema())


@pytest.mark.parametrize(
    ("name", "right"),
    [
        ("My Piece", "my-piece"),
        ("../out", "out"),
        ("", "my-piece"),
        ("été", "t"),
        ("-x", "x"),
        ("a/b", "a-b"),
        ("x" * 61, "x"),
    ],
)
def test_a_name_that_cannot_be_one_is_refused_with_one_that_can(name: str, right: str, tmp_path: Path) -> None:
    with pytest.raises(ProjectError) as caught:
        start_project(name, tmp_path)
    assert right in caught.value.problems[0].hint
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("ending", [".yml", ".yaml"])
def test_a_project_that_is_there_is_not_written_over(ending: str, tmp_path: Path) -> None:
    taken = tmp_path / f"my-piece{ending}"
    taken.write_text("mine")
    with pytest.raises(ProjectError, match="already"):
        start_project("my-piece", tmp_path)
    assert taken.read_text() == "mine"
    assert list(tmp_path.iterdir()) == [taken]


def test_a_started_archive_builds_strictly_and_needs_nothing_else(tmp_path: Path) -> None:
    start_archive(tmp_path / "fern-lane")
    done = subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "--strict", "-q"],
        cwd=tmp_path / "fern-lane",
        capture_output=True,
        text=True,
        env={**os.environ, "NO_MKDOCS_2_WARNING": "1"},
        check=False,
    )
    assert done.returncode == 0, done.stderr
    site = tmp_path / "fern-lane" / "site"
    assert "Fern lane" in (site / "index.html").read_text(encoding="utf-8")
    assert (site / "projects" / "my-piece" / "my-piece-handout-a4.pdf").is_file()


def test_starting_over_something_writes_nothing_and_names_what_is_there(tmp_path: Path) -> None:
    mine = tmp_path / "mkdocs.yml"
    mine.write_text("mine", encoding="utf-8")
    with pytest.raises(ProjectError, match="is here already"):
        start_archive(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["mkdocs.yml"]
    assert mine.read_text(encoding="utf-8") == "mine"


def test_every_line_that_the_shop_file_offers_is_sound_once_it_is_read(tmp_path: Path) -> None:
    """Lines that look like keys behind a '# '; the piece that comes with it then has no finding either."""
    start_archive(tmp_path / "archive")
    shop = tmp_path / "archive" / "projects" / "shop.yml"
    text = shop.read_text(encoding="utf-8")
    read = re.sub(r"(?m)^# (?=( {2})?[a-z]+( [a-z]+)*:( |$))", "", text)
    assert read.count("\n# ") < text.count("\n# ") - 12
    shop.write_text(read, encoding="utf-8")
    (sheet,) = read_archive(shop.parent, base=tmp_path).sheets
    assert not sheet.findings
    assert sheet.club == "Your club"
