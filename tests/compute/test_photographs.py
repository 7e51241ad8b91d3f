"""Photographs named by a step stand at it; what lacks its words or is shown nowhere is told, and not refused."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from handouts_build.problems import ProjectError
from handouts_build.sheet import Sheet
from handouts_build.site.build import read_projects

PROJECT = """\
title: Two knobs
summary: A pair.
kind: knob
level: first steps
techniques: [spindle turning]
{pictures}parts:
  left:
    wood: walnut, black
    blank: {round: 2 in, long: 3 in}
    steps:
      - {name: Rough the blank, say: Rough it., hold: {by: [between centers]}}
      - {name: Sand it, say: Sand it., hold: {by: [between centers]}}
  right:
    wood: walnut, black
    blank: {round: 2 in, long: 3 in}
    steps:
      - {name: Turn a côve (2 of them), say: Turn it., hold: {by: [between centers]}}
      - {name: Sand it, say: Sand it., hold: {by: [between centers]}}
"""


def worked_out(folder: Path, *photographs: str, pictures: str = "") -> Sheet:
    (folder / "knobs.yml").write_text(PROJECT.replace("{pictures}", pictures), encoding="utf-8")
    (folder / "knobs").mkdir()
    for name in photographs:
        Image.new("RGB", (40, 30), "sienna").save(folder / "knobs" / name, "JPEG")
    (sheet,) = read_projects((folder / "knobs.yml",), base=folder).sheets
    return sheet


def at_steps(sheet: Sheet) -> dict[int, list[str]]:
    return {step.number: [picture.file for picture in step.photographs] for step in sheet.steps if step.photographs}


@pytest.mark.parametrize(
    ("name", "step"),
    [
        ("rough-the-blank.jpg", 1),
        ("Rough the blank.JPG", 1),
        ("rough_the_blank-2.jpeg", 1),
        ("left-sand-it.jpg", 2),
        ("turn-a-cove-2-of-them.jpg", 3),
        ("right-sand-it-12.jpg", 4),
    ],
)
def test_a_photograph_named_by_a_step_stands_at_it(tmp_path: Path, name: str, step: int) -> None:
    sheet = worked_out(tmp_path, name)
    assert at_steps(sheet) == {step: [name]}
    assert sheet.pictures == ()
    (note,) = [found for found in sheet.findings if found.about == "The photographs"]
    assert (note.level, note.private) == ("note", True)
    assert note.message == f"'{name}' has no words for those who cannot see it"


def test_a_name_that_two_steps_share_is_asked_for_its_part(tmp_path: Path) -> None:
    sheet = worked_out(tmp_path, "sand-it.jpg")
    assert at_steps(sheet) == {}
    (note,) = [found for found in sheet.findings if found.about == "The photographs"]
    assert note.remedy == "call it left-sand-it.jpg or right-sand-it.jpg"


def test_one_that_is_named_by_nothing_is_told_of_with_the_step_it_is_like(tmp_path: Path) -> None:
    sheet = worked_out(tmp_path, "ruogh-the-blank.jpg")
    assert sheet.photographs == ()
    (note,) = [found for found in sheet.findings if found.about == "The photographs"]
    assert note.message == "'ruogh-the-blank.jpg' is shown nowhere"
    assert "rough-the-blank" in note.advice


def test_a_listed_one_says_what_it_shows_and_stands_at_its_step_once(tmp_path: Path) -> None:
    listed = "pictures:\n  - {file: left-sand-it.jpg, shows: The gray dust}\n  - {file: whole.jpg, shows: Both knobs}\n"
    sheet = worked_out(tmp_path, "left-sand-it.jpg", "whole.jpg", pictures=listed)
    assert at_steps(sheet) == {2: ["left-sand-it.jpg"]}
    assert [picture.shows for picture in sheet.photographs] == ["Both knobs", "The gray dust"]
    assert not [found for found in sheet.findings if found.about == "The photographs"]
    # Each is published under a number of its own.
    assert len({picture.published for picture in sheet.photographs}) == 2


def test_there_are_no_more_than_are_shown(tmp_path: Path) -> None:
    with pytest.raises(ProjectError, match=r"41 photographs .* at most 40 are shown"):
        worked_out(tmp_path, *(f"rough-the-blank-{number}.jpg" for number in range(41)))
