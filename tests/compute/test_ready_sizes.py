"""Ready sizes: the same project once more, and what is wrong with one told at its own place."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.sheet import Level
from tests.projects import problems, worked

SIZES = "ball: {is: 2 in, says: Ball, least: 1 in, most: 3 in}\nribs: {is: 6, says: Ribs, choices: [6, 8]}"
DIMENSIONS = "half: {formula: ball / 2, says: Half of it}"


def _ready(below: str) -> str:
    return f"ready sizes:\n  large: {{says: Large, sizes: {{{below}}}}}\n"


def test_a_ready_size_is_the_project_as_if_it_were_written_so(tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    sheet = worked(tmp_path / "a", sizes=SIZES, dimensions=DIMENSIONS, extra=_ready("ball: 3 in, ribs: 8"))
    as_written = worked(
        tmp_path / "b", sizes=SIZES.replace("is: 2 in", "is: 3 in").replace("is: 6", "is: 8"), dimensions=DIMENSIONS
    )
    (ready,) = sheet.ready
    assert (ready.name, ready.says, ready.sizes) == ("piece-large", "Large", ("ball", "ribs"))
    assert ready.sheet.title == "Piece (large)"
    assert ready.sheet.sizes == as_written.sizes
    assert ready.sheet.groups == as_written.groups
    assert ready.sheet.parts == as_written.parts


def test_a_size_that_is_not_named_stays_as_written(tmp_path: Path) -> None:
    (ready,) = worked(tmp_path, sizes=SIZES, extra=_ready("ball: 3 in")).ready
    assert [size.printed.lead for size in ready.sheet.sizes] == ["3\u00a0in", "6"]


@pytest.mark.parametrize(
    ("below", "path", "message"),
    [
        ("bal: 3 in", "ready sizes.large.sizes.bal", "'bal' is not one of the sizes"),
        ("ball: 4 in", "ready sizes.large.sizes.ball", "'ball' is outside its own bounds: most is 3\u00a0in"),
        ("ribs: 7", "ready sizes.large.sizes.ribs", "'ribs' is not one of its own choices"),
        ("ball: 3", "ready sizes.large.sizes.ball", "'ball' measures something else here than under 'sizes'"),
    ],
)
def test_what_is_wrong_with_a_ready_size_is_told_where_it_stands(
    tmp_path: Path, below: str, path: str, message: str
) -> None:
    found = problems(tmp_path, sizes=SIZES, extra=_ready(below))
    assert (found[0].place.path, found[0].message) == (path, message)


def test_a_problem_that_follows_names_the_ready_size(tmp_path: Path) -> None:
    (found,) = problems(
        tmp_path, sizes=SIZES, dimensions="rest: {formula: 5/2 in - ball, says: Rest}", extra=_ready("ball: 3 in")
    )
    assert found.place.path == "ready sizes.large"
    assert found.message.startswith("at ready size large: 'rest' is −1/2\u00a0in")
    assert found.message.endswith("(dimensions.rest.formula)")


def test_a_ready_size_that_cannot_be_made_stops_the_project(tmp_path: Path) -> None:
    sheet = worked(
        tmp_path, sizes=SIZES, extra=_ready("ball: 3 in") + "keep:\n  - {that: ball < 5/2 in, says: Too large.}\n"
    )
    assert sheet.stopped
    assert sheet.findings[0].level is Level.STOP
    assert "at ready size large" in sheet.findings[0].about


def test_no_more_than_six_are_worked_out(tmp_path: Path) -> None:
    many = "".join(f"  r{n}: {{says: R, sizes: {{ball: {n}/4 in}}}}\n" for n in range(4, 11))
    found = problems(tmp_path, sizes=SIZES, extra=f"ready sizes:\n{many}")
    assert [one.message for one in found] == ["7 ready sizes; at most 6 are worked out"]


def test_what_is_accepted_in_vain_is_told_to_the_author_and_not_to_readers_of_a_ready_size(tmp_path: Path) -> None:
    parts = """\
parts:
  body:
    wood: maple, sugar
    blank: {round: ball, long: 4 in}
    steps:
      - name: Turn it
        say: Turn it.
        hold: {by: [between centers]}
        accept: {thin web: It is meant so.}
        cut: [{cylinder: {diameter: ball - 1/4 in}}]
"""
    sheet = worked(tmp_path, sizes=SIZES, parts=parts, extra=_ready("ball: 3 in"))
    vain = "'thin web' is accepted here, and the solid does not find it"
    assert [one.message for one in sheet.findings] == [vain]
    assert [one.message for one in sheet.ready[0].sheet.findings] == []


def test_what_is_minded_at_a_ready_size_alone_is_told_to_the_author_with_its_name(tmp_path: Path) -> None:
    """A lathe manual has 850 rpm for roughing to 150 mm and 360 over it (S-LATHE): 800 does for 3 in, not for 7."""
    parts = """\
parts:
  body:
    wood: maple, sugar
    blank: {round: ball, long: 4 in}
    steps:
      - name: Turn it
        say: Turn it.
        hold: {by: [between centers]}
        speed: 800 rpm
        work: [roughing]
        cut: [{cylinder: {diameter: ball - 1/4 in}}]
"""
    sheet = worked(tmp_path, sizes="ball: {is: 3 in, says: Ball}", parts=parts, extra=_ready("ball: 7 in"))
    (told,) = sheet.findings
    assert told.level is Level.MIND
    assert told.message.startswith("at ready size large: 800\u00a0rpm is over the 360\u00a0rpm")
    # On the page it stands beside the table of that size.
    assert sheet.told == ()
    assert [one.message for one in sheet.ready[0].sheet.told] == [told.message.removeprefix("at ready size large: ")]
