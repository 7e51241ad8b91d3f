"""A wood that the tables do not have is told, and nothing is claimed of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.outputs.papers.safety import findings
from handouts_build.schema import reference_pages
from handouts_build.sheet import Sheet
from handouts_build.sheet.findings import Level
from handouts_build.tables import woods
from tests.projects import worked

TWO = """\
parts:
  top:
    wood: {top}
    blank: {{round: 2 in, long: 2 in}}
    steps:
      - {{name: Turn it, say: Turn it., hold: {{by: [between centers]}}, cut: [{{cylinder: {{diameter: 1 in}}}}]}}
  bottom:
    wood: {bottom}
    blank: {{round: 2 in, long: 2 in}}
    steps: [{{name: Turn that, say: Turn it.}}]
"""


def told(folder: Path, *, top: str, bottom: str) -> Sheet:
    return worked(folder, parts=TWO.format(top=top, bottom=bottom))


@pytest.mark.parametrize(
    ("written", "meant"),
    [("walnut", "'walnut, black' or 'walnut, European'"), ("ash", "'ash, white'"), ("oak, whiet", "'oak, white'")],
)
def test_a_short_or_misspelled_wood_is_minded_at_its_line_with_the_likely_names(
    tmp_path: Path, written: str, meant: str
) -> None:
    sheet = told(tmp_path, top="pear", bottom=written)
    (found,) = (one for one in sheet.findings if written in one.message)
    assert (found.level, found.place.path) == (Level.MIND, "parts.bottom.wood")
    assert "no weight, no movement and no reported reaction is looked up" in found.message
    assert "did you mean" in str(found)
    assert meant in str(found)


def test_no_reader_is_asked_what_the_author_meant(tmp_path: Path) -> None:
    (minded,) = findings(told(tmp_path, top="pear", bottom="walnut"), Level.MIND)
    assert "did you mean" not in str(minded)


def test_of_an_unknown_wood_no_box_says_that_no_reaction_was_found(tmp_path: Path) -> None:
    boxes = {one.id: one.title for one in told(tmp_path, top="walnut", bottom="walnut").boxes}
    assert "wood-not-listed" not in boxes
    assert boxes["wood-not-known"] == "A wood that is not in the table of woods"


def test_a_box_that_one_of_two_woods_calls_for_says_which(tmp_path: Path) -> None:
    boxes = {one.id: one.title for one in told(tmp_path, top="ash, white", bottom="walnut, black").boxes}
    # Chart in American Woodturner, June 1990: black walnut is a sensitizer, ash is not listed.
    assert boxes["wood-sensitizer"] == "Wood reported to sensitize: black walnut"
    assert boxes["wood-not-listed"] == "No reaction listed for this wood: white ash"
    assert ":" not in boxes["wood-dust"]


def test_why_a_known_wood_has_no_weight_is_told_where_steps_would_tell_it(tmp_path: Path) -> None:
    sheet = told(tmp_path, top="beech, European", bottom="oak, European")
    (noted,) = (one for one in sheet.findings if "no weight" in one.message)
    assert (noted.level, noted.place.path) == (Level.NOTE, "parts.top.wood")
    assert "European beech" in noted.message


def test_the_reference_page_lists_every_wood_with_what_is_known_of_it() -> None:
    rows = [row.split("|") for row in reference_pages()["reference/woods.md"].splitlines() if row.startswith("| `")]
    listed = {row[1].strip(" `"): row[3].strip() for row in rows if len(row) == 6}
    assert listed.keys() >= {wood.name for wood in woods()}
    # Wood Handbook, tables 4-1, 5-3 and 13-5: all is published of white ash, and nothing there of European ash.
    assert listed["ash, white"] == "weight, green weight, shrinkage, movement"
    assert listed["ash, European"] == "its name"
