"""The unit that leads is the one that a file is written in, unless it says another."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.schema import load_project
from handouts_build.site.build import read_projects

PART = """\
parts:
  rod:
    wood: walnut, black
    blank: {round: 50 mm, long: 120 mm}
    steps:
      - name: Turn it
        say: Turn it.
        hold: {by: [between centers]}
        cut: [cylinder: {diameter: 45 mm}]
        abrasive: [paper]
        finish: [oil and varnish blend]
"""
HEAD = "title: A piece\nsummary: One piece.\n"


@pytest.mark.parametrize(
    ("text", "metric"),
    [
        ("sizes: {a: {is: 2 in, says: A}}\n", False),
        ("sizes: {a: {is: 57 mm, says: A}}\n", True),
        ("sizes: {a: {is: 5.7 cm, says: A}}\n", True),
        ('sizes: {a: {is: "2½″", says: A}}\n', False),
        ("sizes: {a: {is: 57 mm, says: A}, b: {is: 1/8 in, says: B}, c: {is: 1 in, says: C}}\n", False),
        ("sizes: {a: {is: 57 mm, says: A}, b: {is: 1/8 in, says: B}}\n", False),
        ("sizes: {a: {is: 6, says: Ribs}}\n", False),
        ("measure: inches\nsizes: {a: {is: 57 mm, says: A}}\n", False),
        ("measure: millimetres\nsizes: {a: {is: 2 in, says: A}}\n", True),
    ],
)
def test_most_of_its_lengths_say_it(tmp_path: Path, text: str, metric: bool) -> None:
    (tmp_path / "piece.yml").write_text(HEAD + text, encoding="utf-8")
    project, _ = load_project(tmp_path / "piece.yml", "piece.yml")
    assert project.metric is metric


def test_what_is_inferred_takes_no_caution_away(tmp_path: Path) -> None:
    """A file in millimeters that leaves the unit out has every box that it has with either unit said."""

    def boxes(said: str) -> set[str]:
        (tmp_path / "piece.yml").write_text(f"{HEAD}{said}{PART}", encoding="utf-8")
        (sheet,) = read_projects((tmp_path / "piece.yml",), base=tmp_path).sheets
        return {box.id for step in sheet.steps for box in step.boxes} | {box.id for box in sheet.boxes}

    assert boxes("") >= boxes("measure: inches\n") | boxes("measure: millimeters\n")
