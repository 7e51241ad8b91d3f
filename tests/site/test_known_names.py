"""The names a project may use: all of them, and each with what it stands for."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handouts_build.problems import ProjectError
from handouts_build.site.build import Archive, read_archive
from handouts_build.site.known_names import known_names, names_at_step, table_of_names
from handouts_build.site.starter import start_project
from tests.projects import project, worked


@pytest.fixture
def knob(tmp_path: Path) -> Archive:
    start_project("knob", tmp_path)
    return read_archive(tmp_path, base=tmp_path)


def test_every_name_that_is_listed_may_be_used_and_none_is_forgotten(knob: Archive, tmp_path: Path) -> None:
    names = [row.name for rows in known_names(knob.sheets[0]).values() for row in rows]
    assert len(names) == len(set(names))
    assert {"knob", "neck", "tenon.tenon", "tenon.allowance", "knob_shape.length", "rule", "pi"} <= set(names)
    path = tmp_path / "knob.yml"
    text = path.read_text(encoding="utf-8")
    uses = "".join(f"  - {{that: {name} <= {name}, says: It}}\n" for name in names)
    path.write_text(f"{text}\nkeep:\n{uses}", encoding="utf-8")
    (again,) = read_archive(tmp_path, base=tmp_path).sheets
    assert len(again.conditions) == len(names)


def test_values_stand_in_both_units_and_say_what_they_are(knob: Archive) -> None:
    lines = "\n".join(table_of_names(known_names(knob.sheets[0]))).replace("\N{NO-BREAK SPACE}", " ")
    assert re.search(r"knob +1 1/4 in +32 mm +Diameter of the knob", lines)
    assert re.search(r"rule +1/32 in +1 mm +the finest mark", lines)


def test_a_step_tells_what_it_can_hold_by(knob: Archive) -> None:
    (rows,) = names_at_step(knob, "knob/2").values()
    (tenon,) = (row for row in rows if row.name == "chuck tenon")
    assert tenon.lead.split() == ["1", "in", "×", "3/8", "in"]
    assert not [row for row in next(iter(names_at_step(knob, "knob/1").values())) if row.name == "chuck tenon"]
    assert names_at_step(knob, "knob/turn the tenon") == names_at_step(knob, "knob/2")


def test_what_it_can_hold_by_is_as_large_as_the_dimension_it_is_turned_to(knob: Archive) -> None:
    """25.4 mm are told as 25 where the tenon is made under: on the wood they are not 25.5."""
    known = {row.name: row for rows in known_names(knob.sheets[0]).values() for row in rows}
    (rows,) = names_at_step(knob, "knob/2").values()
    (tenon,) = (row for row in rows if row.name == "chuck tenon")
    assert tenon.other == f"{known['jaw_tenon'].other} × {known['jaw_long'].other}"


@pytest.mark.parametrize(
    ("where", "said"), [("knub/1", "knob"), ("knob/9", "knob/3  Sand"), ("knob", "PART/STEP"), ("2", "knob/2")]
)
def test_a_step_that_is_not_there_is_answered_with_those_that_are(knob: Archive, where: str, said: str) -> None:
    with pytest.raises(ProjectError) as caught:
        names_at_step(knob, where)
    problem = caught.value.problems[0]
    assert said in problem.message + problem.hint


def test_a_part_without_cuts_has_nothing_to_name(tmp_path: Path) -> None:
    project(tmp_path)
    archive = read_archive(tmp_path, base=tmp_path)
    (title,) = names_at_step(archive, "body/1")
    assert "nothing to name" in title


def test_a_metric_piece_leads_with_millimeters(tmp_path: Path) -> None:
    sheet = worked(tmp_path, extra="measure: millimeters\n")
    (rule,) = (row for row in known_names(sheet)["Always there"] if row.name == "rule")
    assert rule.lead.split() == ["0.5", "mm"]
