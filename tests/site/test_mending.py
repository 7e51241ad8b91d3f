"""What is put right without asking: only what the message names, and only where it stands."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.site.build import read_archive
from handouts_build.site.mending import mended
from tests.projects import PARTS, project


def put_right(path: Path) -> str:
    """The text after as many rounds as change something."""
    for _ in range(4):
        try:
            read_archive(path.parent, base=path.parent)
        except ProjectError as error:
            here = [
                Problem(
                    Place(path.as_posix(), *(problem.place.line, problem.place.column)), problem.message, problem.hint
                )
                for problem in error.problems
            ]
            found = mended(here, [path])
            if not found:
                break
            path.write_text(found[path][1], encoding="utf-8")
    return path.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("ball: {is: 2 in, says: Ball}", "ball: {is: 2 in, sayz: Ball}"),
        ("ball: {is: 2.5 in, says: Ball}", "ball: {is: 2,5 in, says: Ball}"),
        ("ball:\n    is: 2.5 in # mine\n    says: Ball", "ball:\n    is: 2,5 in # mine\n    says: Ball"),
        ("ball: {is: 2 in, says: Ball}", "ball: {is: 2 inches, says: Ball}"),
        ('ball: {is: "57 mm", says: Ball}', 'ball: {is: "57 millimeters", says: Ball}'),
        ("ball: {is: 1 1/4 in, says: Ball}", "ball: {is: 1 1/4, says: Ball}"),
        # Every length of the file is in inches.
        ("ball: {is: 3 in, says: Ball, least: 2 in}", "ball: {is: 3, says: Ball, least: 2 in}"),
    ],
)
def test_a_mechanical_fault_is_put_right_where_it_stands(right: str, wrong: str, tmp_path: Path) -> None:
    """Each pair is (what is right, what the file says); all else in the file stays to the letter."""
    sound = project(tmp_path, sizes=right).read_text(encoding="utf-8")
    path = project(tmp_path, sizes=wrong)
    assert put_right(path) == sound


def test_a_speed_without_its_unit_is_turns_a_minute(tmp_path: Path) -> None:
    """A lathe's speed has one unit in a shop: common practice, no published source."""
    sound = PARTS.replace("say: Turn it.}", "say: Turn it., speed: 800 rpm}")
    path = project(tmp_path, parts=sound.replace("800 rpm", "800"))
    assert put_right(path) == project(tmp_path, name="piece", parts=sound).read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "text",
    ["ball: {is: 3, says: Ball, least: 2 in, most: 90 mm}", "ball: {is: about 2 in, says: Ball}", "ball: {is: 2 in}"],
)
def test_what_an_author_must_say_is_left_to_the_author(text: str, tmp_path: Path) -> None:
    path = project(tmp_path, sizes=text)
    before = path.read_text(encoding="utf-8")
    assert put_right(path) == before


def test_a_place_where_other_text_stands_is_left_alone(tmp_path: Path) -> None:
    path = project(tmp_path)
    there = Place(path.as_posix(), 1, 1)
    assert mended([Problem(there, "'titel' is not a key here", "did you mean 'title'?")], [path]) == {}
    assert mended([Problem(Place("other.yml", 1, 1), "'title' is not a key", "did you mean 'kind'?")], [path]) == {}
