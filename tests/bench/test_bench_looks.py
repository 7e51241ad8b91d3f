"""What the bench sees of a file: its steps' lines, what is wrong at which line, and what a remedy would change."""

from __future__ import annotations

import json
import threading
from pathlib import Path

import pytest

from handouts_build.bench.looks import Looker, ProjectLook, said_of
from handouts_build.bench.watcher import Watcher

TUBE = """\
title: Tube
summary: A thin tube.
sizes:
  across: {is: 2 in, says: Outside}
parts:
  tube:
    wood: walnut, black
    blank: {round: 2 1/4 in, long: 4 in}
    steps:
      - name: Turn it round
        say: |
          Turn it round.

        hold: {by: [chuck], deep: 1 in}
        cut:
          - cylinder: {diameter: across, start: 1 1/4 in}

      # The hole comes last.
      - {name: Bore it, say: Bore it., hold: {by: [chuck], deep: 1 in}, cut: [bore: {diameter: 1 15/16 in, deep: 1 in,
         end: right}]}
"""


@pytest.fixture
def looker(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Looker:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return Looker(tmp_path)


def written(folder: Path, text: str) -> Path:
    path = folder / "tube.yml"
    path.write_text(text, encoding="utf-8")
    return path


def of_level(looked: ProjectLook, level: str) -> list[dict[str, object]]:
    return [note for note in said_of(looked, 1)["notes"] if note["level"] == level]


def test_each_step_has_its_lines_and_no_others(tmp_path: Path, looker: Looker) -> None:
    looked = looker.look(written(tmp_path, TUBE))
    assert [(step["first"], step["last"]) for step in said_of(looked, 1)["steps"]] == [(10, 16), (19, 20)]
    assert [looked.step_of(line) for line in (1, 9, 10, 16, 17, 18, 19, 20)] == [0, 0, 1, 1, 0, 0, 2, 2]


def test_all_that_is_said_is_plain_and_the_step_wanted_is_told(tmp_path: Path, looker: Looker) -> None:
    looked = looker.look(written(tmp_path, TUBE))
    said = json.loads(json.dumps(said_of(looked, 2)))
    assert said["step"]["name"] == "Bore it"
    assert said["file"] == "tube.yml"
    assert said["lines"] == TUBE.splitlines()
    names = {row["name"]: (row["lead"], row["other"]) for group in said["names"] for row in group["rows"]}
    assert names["across"] == ("2\N{NO-BREAK SPACE}in", "51\N{NO-BREAK SPACE}mm")
    # What the first step leaves is there to be named.
    assert "cylinder" in names
    # One of no such number is the nearest there is.
    assert said_of(looked, 9)["step"]["number"] == 2


def test_a_finding_stands_at_its_line_with_the_line_that_accepts_it(tmp_path: Path, looker: Looker) -> None:
    looked = looker.look(written(tmp_path, TUBE))
    (note,) = of_level(looked, "mind")
    assert (note["line"], note["step"]) == (19, 2)
    (change,) = note["changes"]  # type: ignore[misc]
    assert 'accept: {thin web: "why it may stay"}' in change["new"][-1]


def test_a_broken_file_keeps_what_it_last_came_to_with_its_problems(tmp_path: Path, looker: Looker) -> None:
    first = looker.look(written(tmp_path, TUBE))
    broken = looker.look(written(tmp_path, TUBE.replace("cylinder:", "cylnder:")), first)
    assert broken.broken
    assert broken.sheet is first.sheet
    (problem,) = of_level(broken, "problem")
    assert (problem["line"], problem["step"]) == (16, 1)
    (change,) = problem["changes"]  # type: ignore[misc]
    assert "- cylinder: {diameter: across" in change["new"][0]
    assert said_of(broken, 1)["solid"] is not None
    # The line that differs is the one that was changed.
    assert (broken.changed, broken.step_of(broken.changed)) == (16, 1)
    torn = looker.look(written(tmp_path, TUBE.replace("summary:", "summary: [")), broken)
    assert torn.broken
    assert torn.spans == broken.spans
    assert not looker.look(written(tmp_path, TUBE), torn).broken


@pytest.mark.parametrize("wrong", ["is: 2, says: Outside, least: 1 in", "is: 2 in, says: Outside, least: 3 in"])
def test_a_file_that_is_well_formed_and_cannot_be_worked_out_keeps_its_wood(
    wrong: str, tmp_path: Path, looker: Looker
) -> None:
    """Its numbers are refused after some of the new solids were asked for, if there are any."""
    first = looker.look(written(tmp_path, TUBE))
    shown = said_of(first, 2)["solid"]
    broken = looker.look(written(tmp_path, TUBE.replace("is: 2 in, says: Outside", wrong)), first)
    assert broken.broken
    assert said_of(broken, 2)["solid"] == shown
    torn = looker.look(written(tmp_path, TUBE.replace("summary:", "summary: [")), broken)
    assert said_of(torn, 2)["solid"] == shown


def test_a_file_that_is_gone_is_told_and_nothing_is_lost(tmp_path: Path, looker: Looker) -> None:
    path = written(tmp_path, TUBE)
    first = looker.look(path)
    path.unlink()
    gone = looker.look(path, first)
    assert gone.broken
    assert gone.sheet is first.sheet


@pytest.mark.parametrize(
    ("after", "line"),
    [
        (TUBE, 0),
        (TUBE.replace("1 15/16", "1 7/8"), 19),
        (TUBE + "# more\n", 21),
        (TUBE.replace("title: Tube\n", ""), 1),
    ],
)
def test_the_line_that_was_changed_is_the_first_that_differs(
    tmp_path: Path, looker: Looker, after: str, line: int
) -> None:
    first = looker.look(written(tmp_path, TUBE))
    assert looker.look(written(tmp_path, after), first).changed == line


def test_the_cuts_own_dimensions_lie_where_the_wood_is_cut(tmp_path: Path, looker: Looker) -> None:
    looked = looker.look(written(tmp_path, TUBE))
    turned, bored = (said_of(looked, number)["solid"]["dimensions"] for number in (1, 2))
    told = {(row["cut"], row["word"]): row for row in (*turned, *bored)}
    assert set(told) == {("cylinder", "diameter"), ("cylinder", "start"), ("bore", "diameter"), ("bore", "deep")}
    assert told["cylinder", "diameter"]["radius"] == pytest.approx(25.4)
    assert told["bore", "diameter"]["lead"] == "1\N{NO-BREAK SPACE}15/16\N{NO-BREAK SPACE}in"
    for name, long_mm in ((("cylinder", "start"), 31.75), (("bore", "deep"), 25.4)):
        row = told[name]
        ends = zip(row["start"], row["end"], strict=True)
        assert sum((start - end) ** 2 for start, end in ends) ** 0.5 == pytest.approx(long_mm, abs=0.01)
    # The bore goes in from the right end, which lies half the blank's length from its middle.
    assert abs(told["bore", "deep"]["start"][2]) == pytest.approx(50.8, abs=0.01)


def test_a_write_up_of_words_has_a_file_and_no_steps(tmp_path: Path, looker: Looker) -> None:
    said = said_of(looker.look(written(tmp_path, "title: Words\ntext: Nothing but words.\n")), 1)
    assert (said["steps"], said["step"], said["solid"], said["broken"]) == ([], None, None, False)


def test_a_fault_of_our_own_is_told_and_the_next_save_is_looked_at(
    tmp_path: Path, looker: Looker, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = looker.look(written(tmp_path, TUBE))
    with monkeypatch.context() as broken:
        broken.setattr("handouts_build.bench.looks.read_projects", lambda *_, **__: 1 // 0)
        second = looker.look(written(tmp_path, TUBE + "# more\n"), first)
    assert second.sheet is first.sheet
    assert "handouts has a fault of its own: ZeroDivisionError" in str(of_level(second, "problem")[0]["message"])
    assert not looker.look(written(tmp_path, TUBE), second).broken


def test_a_file_that_is_still_being_written_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An editor that writes in pieces: three sizes follow each other before it stays, and it is looked at once."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    file = tmp_path / "words.yml"
    file.write_text("title: Words\ntext: Nothing but words.\n", encoding="utf-8")
    sizes = iter(["before", "before", "empty", "a half", "a half and more"])
    monkeypatch.setattr("handouts_build.bench.watcher.look", lambda _: [next(sizes, "whole")])
    watcher = Watcher(lambda: [file], base=tmp_path)
    watcher.said("words", 0)
    following = threading.Thread(target=watcher.follow, daemon=True)
    following.start()
    assert watcher.wait(0, 60) == 1
    watcher.end()
    following.join(60)
    assert watcher.wait(1, 0) == 1
    assert next(sizes, "none left") == "none left"
