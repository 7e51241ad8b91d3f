"""House form: other spaces, and nothing else."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.problems import ProjectError
from handouts_build.schema import house_form
from handouts_build.site.starter import MeasuredIn, starter_kinds, starter_text

ROOT = Path(__file__).parents[2]

UNTIDY = """\
# The first line.

title:    "A piece"   # its name
sizes:
    ball:   {is: 2 in,   says: The ball}   # of wood
    ribs: {is: 6, says: 'Ribs'}
techniques:
- one
-   two
rule: 1/32 in
count: 010
amount: 1.50
empty:
say: |
    First line.

      Second line.
folded: >-
  one
  two
"""
TIDY = """\
# The first line.

title: "A piece"   # its name
sizes:
  ball: {is: 2 in, says: The ball}   # of wood
  ribs: {is: 6, says: 'Ribs'}
techniques:
  - one
  - two
rule: 1/32 in
count: 010
amount: 1.50
empty:
say: |
  First line.

    Second line.
folded: >-
  one
  two
"""


def form(folder: Path, text: str) -> str:
    path = folder / "piece.yml"
    path.write_text(text, encoding="utf-8")
    return house_form(path, "piece.yml")[1]


def squeezed(text: str) -> str:
    return "".join(text.split())


def test_spaces_are_set_alike_and_all_else_stays(tmp_path: Path) -> None:
    made = form(tmp_path, UNTIDY)
    assert [" ".join(line.split()) for line in made.splitlines()] == [
        " ".join(line.split()) for line in TIDY.splitlines()
    ]
    assert [len(line) - len(line.lstrip()) for line in made.splitlines()] == [
        len(line) - len(line.lstrip()) for line in TIDY.splitlines()
    ]
    assert squeezed(made) == squeezed(UNTIDY)


def test_what_is_in_house_form_is_left_alone(tmp_path: Path) -> None:
    made = form(tmp_path, UNTIDY)
    assert form(tmp_path, made) == made


@pytest.mark.parametrize("path", sorted((ROOT / "projects").glob("*.yml")), ids=lambda path: path.stem)
def test_a_demo_piece_is_in_house_form(path: Path) -> None:
    before, made = house_form(path, path.name)
    assert made == before


@pytest.mark.parametrize("kind", starter_kinds())
def test_a_starter_is_in_house_form(kind: str, tmp_path: Path) -> None:
    text = starter_text(kind, title="Piece", measure=MeasuredIn.MILLIMETERS)
    assert form(tmp_path, text) == text


@pytest.mark.parametrize("text", ["a: [1, 2", "a: 1\na: 2\n", "- a\n", "a: &x 1\nb: *x\n", ""])
def test_a_file_that_cannot_be_read_is_refused_as_ever(text: str, tmp_path: Path) -> None:
    with pytest.raises(ProjectError):
        form(tmp_path, text)
