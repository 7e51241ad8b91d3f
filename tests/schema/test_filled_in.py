"""What a file leaves unsaid of kit and hold, and what is told of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.quantities import Quantity
from handouts_build.schema import StepKeys, filled_in, load_project, stands_for
from handouts_build.schema.unsaid_kit import OTHER_GRITS, SHINY_GRITS
from handouts_build.site.starter import starter_text
from handouts_build.trade.abrasive import GRIT_SEQUENCE

PIECE = """\
title: Test piece
summary: A small piece for testing.
kind: ornament
{more}
parts:
  small_cap:
    wood: maple, sugar
    blank: {{square: 2 in, long: 4 in}}
    steps:
      - name: Rough it
        hold: {{by: [between centers]}}
        cut: [cylinder: {{diameter: 1 3/4 in}}]
        say: Rough it.
        tools: [spindle roughing gouge]
      - name: Finish it
        hold: {{by: [chuck]}}
        cut: [part off: {{at: 1 in, keep: right}}]
        finish: [{finish}]
        adhesive: [wood glue, cyanoacrylate]
        say: Sand it and part it off.
        tools: [abrasives, {parter}]
"""


def written(folder: Path, *, more: str = "", finish: str = "shellac", parter: str = "parting tool") -> Path:
    path = folder / "piece.yml"
    path.write_text(PIECE.format(more=more, finish=finish, parter=parter), encoding="utf-8")
    return path


def last(path: Path) -> StepKeys:
    project, _ = load_project(path, path.name)
    return project.parts["small_cap"].steps[-1]


@pytest.mark.parametrize(("finish", "grits"), [("shellac", SHINY_GRITS), ("tung oil", OTHER_GRITS)])
def test_abrasives_get_the_grits_that_go_with_the_finish(tmp_path: Path, finish: str, grits: str) -> None:
    """No step of either row is too wide for the chapter that judges sequences, by the grains of its table."""
    assert last(written(tmp_path, finish=finish)).tools[0] == f"abrasives {grits}"
    look_up = GRIT_SEQUENCE.words[0].look_up
    no_givens: dict[str, Quantity] = {}
    assert not look_up(tuple(grits.split(", ")), no_givens).verdicts


def test_the_files_own_grit_sequence_goes_before(tmp_path: Path) -> None:
    one = "workings:\n  papers: {chapter: grit sequence, grits: [P150, P220]}"
    assert last(written(tmp_path, more=one)).tools[0] == "abrasives P150, P220"
    two = one + "\n  others: {chapter: grit sequence, grits: [P180, P240]}"
    assert last(written(tmp_path, more=two)).tools[0] == "abrasives"


def test_glues_and_finishes_are_supplies_unless_one_stands_for_them(tmp_path: Path) -> None:
    project, _ = load_project(written(tmp_path), "piece.yml")
    assert project.supplies == ["wood glue", "cyanoacrylate glue", "shellac"]
    project, _ = load_project(written(tmp_path, more="supplies: [thin CA glue, shellac flakes]"), "piece.yml")
    assert project.supplies == ["thin CA glue", "shellac flakes", "wood glue"]


@pytest.mark.parametrize(
    ("supply", "kind", "stands"),
    [
        ("finishing oil", "oil and varnish blend", True),
        ("danish oil", "oil and varnish blend", True),
        ("two-part epoxy", "epoxy", True),
        ("medium CA glue", "cyanoacrylate", True),
        ("medium CA glue", "wood glue", False),
        ("glue", "hide glue", True),
        ("glue block", "wood glue", False),
        ("shellac", "lacquer", False),
    ],
)
def test_which_supply_is_which_glue_or_finish(supply: str, kind: str, *, stands: bool) -> None:
    assert stands_for(supply, kind) is stands


def test_a_part_between_centers_has_its_tailstock_and_its_title(tmp_path: Path) -> None:
    project, _ = load_project(written(tmp_path), "piece.yml")
    part = project.parts["small_cap"]
    holds = [step.hold for step in part.steps]
    assert part.says == "The small cap"
    assert [hold.tailstock if hold else "" for hold in holds] == [True, None]


def test_what_is_parted_with_a_parting_tool_turns_and_what_is_sawn_does_not(tmp_path: Path) -> None:
    """So that sanding and finish at that step get their cautions without a word of work."""
    assert "sanding" in last(written(tmp_path)).work
    assert "sanding" not in last(written(tmp_path, parter="fine saw")).work


def test_everything_that_is_filled_in_is_told_with_where_it_comes_from(tmp_path: Path) -> None:
    told = filled_in(written(tmp_path), "piece.yml")
    said = {(row.where, row.key): (row.what, row.why) for row in told}
    assert said["", "measure"][0] == "inches"
    assert said["", "supplies"][0].startswith("wood glue, cyanoacrylate glue")
    assert said["small_cap", "says"][0] == "The small cap"
    assert said["small_cap/1", "tailstock"] == ("true", "from what holds it")
    assert said["small_cap/2", "tools"] == (f"abrasives {SHINY_GRITS}", "from the grit sequence or the finish")
    assert "sanding" in said["small_cap/2", "work"][0]
    assert all(row.what and row.why for row in told)


def test_a_file_that_says_all_of_it_is_told_nothing(tmp_path: Path) -> None:
    path = tmp_path / "piece.yml"
    path.write_text(starter_text("knob", title="Knob"), encoding="utf-8")
    keys = {row.key for row in filled_in(path, path.name)}
    assert {"measure", "says", "tailstock", "tools", "supplies", "work"} <= keys
    text = path.read_text(encoding="utf-8").replace("kind: knob", "kind: knob\nmeasure: inches", 1)
    text = text.replace("tools: [abrasives,", 'tools: ["abrasives P120, P180",', 1) + "\nsupplies: [finishing oil]\n"
    path.write_text(text, encoding="utf-8")
    assert not {"measure", "tools", "supplies"} & {row.key for row in filled_in(path, path.name)}


def test_the_tool_of_a_texture_is_told_to_come_from_the_texture() -> None:
    path = Path(__file__).parents[2] / "projects" / "threaded-box.yml"
    assert [(row.key, row.what) for row in filled_in(path, path.name) if row.why == "from its texture"] == [
        ("tools", "texturing wheel"),
        ("work", "texturing"),
    ]


DRAWN = """\
title: Test piece
summary: A small piece for testing.
sizes:
  ball: {is: 2 in, says: Diameter of the ball}
workings:
  rim: {chapter: divisions, divisions: 12, diameter: ball}
  octagon: {chapter: sphere by facets, diameter: ball}
parts:
  body:
    wood: maple, sugar
    blank: {square: ball + 1/4 in, long: 4 in}
    steps:
      - {name: Turn it, say: "Turn the octagon. Then look."}
      - {name: Mark it, say: "Mark {octagon.setback} in.", mark: [points: {count: rim.divisions, at: 1 in}]}
      - {name: Mark it again, say: "Mark {rim.strip}."}
"""


def drawings(folder: Path, text: str) -> list[list[str]]:
    path = folder / "piece.yml"
    path.write_text(text, encoding="utf-8")
    project, _ = load_project(path, path.name)
    return [list(step.drawings) for step in project.parts["body"].steps]


def test_a_workings_drawing_stands_at_the_step_that_first_uses_its_numbers(tmp_path: Path) -> None:
    assert drawings(tmp_path, DRAWN) == [[], ["rim", "octagon"], []]


def test_a_drawing_that_a_step_names_stands_there_alone(tmp_path: Path) -> None:
    named = DRAWN.replace('{rim.strip}."}', '{rim.strip}.", drawings: [rim]}')
    assert drawings(tmp_path, named) == [[], ["octagon"], ["rim"]]
    none = DRAWN.replace('{octagon.setback} in.",', '{octagon.setback} in.", drawings: [],')
    assert drawings(tmp_path, none) == [[], [], []]


@pytest.mark.parametrize(
    ("short", "long"), [("minutes: 4", "minutes: {likely: 4}"), ("show: talk", "show: {as: talk}")]
)
def test_a_map_that_says_one_thing_may_be_written_as_that(tmp_path: Path, short: str, long: str) -> None:
    def read(keys: str) -> StepKeys:
        path = tmp_path / "piece.yml"
        path.write_text(DRAWN.replace("name: Turn it,", f"name: Turn it, {keys},"), encoding="utf-8")
        return load_project(path, path.name)[0].parts["body"].steps[0]

    assert read(short) == read(long)
