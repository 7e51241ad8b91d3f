"""The demo pieces as a stranger follows them: words, tools, holds and numbers agree.

What a step needs and how a piece is held is common practice, no published source.
"""

from __future__ import annotations

import math
import re
from pathlib import Path
from typing import Any

import pytest

from handouts_build.compute.solid.measured import carried
from handouts_build.outputs.words import cut_from
from handouts_build.schema import load_project
from handouts_build.sheet import Sheet, Step
from handouts_build.workpiece import CUTS
from tests.projects import demo_archive, worked

PROJECTS = Path(__file__).parents[2] / "projects"
NAMES = tuple(sorted(path.stem for path in PROJECTS.glob("*.yml") if path.stem != "shop"))
NEEDED = {"sanding": r"abrasives|sanding", "sawing": r"saw\b", "drilling": r"^bit for", "roughing": r"gouge"}
"""A word of `work`, and what the tools of that step must name."""


def _sheet(name: str) -> Sheet:
    return next(one for one in demo_archive().sheets if one.name == name)


def _steps(name: str) -> list[tuple[Step, Any]]:
    """Every step as worked out, and as written."""
    project, _ = load_project(PROJECTS / f"{name}.yml", name)
    # Jigs are told after the piece, wherever they stand in the file.
    parts = sorted(project.parts.values(), key=lambda part: part.jig)
    sheet = _sheet(name)
    worked_out = [*sheet.steps, *(step for jig in sheet.jigs for step in jig.steps)]
    return list(zip(worked_out, [step for part in parts for step in part.steps], strict=True))


def _text(step: Step) -> str:
    return " ".join("".join(run.text for run in one) for one in (*step.say, *step.care))


def _number(sheet: Sheet, name: str) -> float:
    """A size's or dimension's value, in base units: mm."""
    values = {one.name: one.value for one in (*sheet.sizes, *sheet.dimensions)}
    return float(values[name].to_base_units().magnitude)


def _radius(wood: Any, place: float) -> float:
    """Of the wood around its axis at a place, mm."""
    return max(math.hypot(x, y) for x, y in wood.section(place)[:, 0])


@pytest.mark.parametrize("name", NAMES)
def test_what_a_step_does_it_has_the_tools_for(name: str) -> None:
    for step, written in _steps(name):
        for word, tools in NEEDED.items():
            if word in written.work:
                assert any(re.search(tools, tool) for tool in step.tools), (step.number, step.name, word)


@pytest.mark.parametrize("name", NAMES)
def test_no_length_is_typed_in_two_units(name: str) -> None:
    """A value that is put in follows the size; one that is typed does not."""
    for _, written in _steps(name):
        assert not re.search(r"\bin \(\d", written.say), written.name


@pytest.mark.parametrize("name", NAMES)
def test_abrasives_are_called_one_thing(name: str) -> None:
    told = [*_sheet(name).supplies, *(tool for step in _sheet(name).steps for tool in step.tools)]
    papers = [one for one in told if "abrasives" in one]
    assert all(re.fullmatch(r"abrasives P\d+( to P\d+|(, P\d+)*)", one) for one in papers), papers


@pytest.mark.parametrize("name", NAMES)
def test_every_recorded_step_is_one_of_the_pieces(name: str) -> None:
    called = {known for step in _sheet(name).steps for known in (step.name, *step.formerly)}
    for path in (PROJECTS / name).glob("dry-runs/*.yml"):
        assert set(re.findall(r'step: "([^"]+)"', path.read_text(encoding="utf-8"))) <= called, path.name


@pytest.mark.parametrize("name", NAMES)
def test_a_square_is_roughed_with_the_roughing_caution(name: str) -> None:
    """The first cut that turns the outside of a square or a board takes its corners off."""
    turned = {
        step.number
        for step, written in _steps(name)
        if any(kind.turned and kind.shapes_outside() for kind in (CUTS[item.only[0]] for item in written.cut))
    }
    for part in _sheet(name).parts:
        if part.blank.shape in ("square", "board"):
            # A board that is sawn to shape is never turned.
            for first in [step for step in part.steps if step.number in turned][:1]:
                assert "roughing" in {box.id for box in first.boxes}, first.name


@pytest.mark.parametrize("name", NAMES)
def test_a_piece_that_is_parted_is_not_caught(name: str) -> None:
    for step in _sheet(name).steps:
        assert not re.search(r"into your (open )?hand|catch the (ball|disk) (loosely|in)", _text(step), re.IGNORECASE)


def test_the_boxs_tenon_serves_until_everything_that_needs_it_is_done() -> None:
    names = [step.name for step in _sheet("lidded-box").steps]
    last = names.index("Turn the bottom")
    assert names[last:] == ["Turn the bottom", "Finish"]
    holds = [str(step.hold) for step in _sheet("lidded-box").steps]
    assert not [one for one in holds[last:] if "tenon" in one]
    assert holds[last - 1].startswith("chuck: box's tenon")


def test_the_box_needs_no_second_blank_and_its_lid_no_glue() -> None:
    sheet = _sheet("lidded-box")
    lid, box = sheet.parts
    assert cut_from(sheet, lid) == ""
    assert lid.title.lower().removeprefix("the ") in cut_from(sheet, box)
    told = [one.says for group in sheet.groups for one in (*group.givens, *group.dimensions)]
    assert not [one for one in told if "glue" in one.casefold()]


def test_the_rough_bowl_weighs_what_its_solid_does_at_every_ready_size() -> None:
    sheet = _sheet("twice-turned-bowl")
    for one in (sheet, *(ready.sheet for ready in sheet.ready)):
        rough = next(step for step in one.steps if step.name == "Hollow the rough bowl")
        assert rough.stage is not None
        weight = next(fact for fact in rough.stage.facts if fact.name == "weight")
        by_solid = float(weight.value.to_base_units().magnitude)
        assert _number(one, "rough_weight") == pytest.approx(by_solid, rel=0.05)
        loss = 1 - _number(one, "drying.weight_loss") / 100
        assert _number(one, "drying.dry_weight") == pytest.approx(_number(one, "rough_weight") * loss, rel=1e-6)


@pytest.mark.parametrize("name", NAMES)
def test_no_speed_is_over_its_window_at_a_ready_size(name: str) -> None:
    for ready in _sheet(name).ready:
        assert not [one.message for one in ready.sheet.findings if "rpm" in one.message], ready.sheet.name


def test_green_wood_is_dry_after_the_step_that_dries_it() -> None:
    boxes = {step.name: {box.id for box in step.boxes} for step in _sheet("twice-turned-bowl").steps}
    assert "green-wood" in boxes["Hollow the rough bowl"]
    assert "green-wood" not in boxes["True the tenon on the dry bowl"] | boxes["Oil"]
    assert "green-splits" in boxes["True the tenon on the dry bowl"]


GREEN = """\
parts:
  body:
    wood: ash, white
    condition: [green, spalted]
    blank: {round: ball, long: 4 in}
    steps:
      - {name: Turn it, say: Turn it., work: [reverse turning]}
      - {name: Dry it, say: Dry it., work: [drying]}
      - {name: Turn it again, say: Turn it., work: [reverse turning]}
"""


def test_drying_takes_the_green_and_leaves_what_else_is_said(tmp_path: Path) -> None:
    first, drying, again = worked(tmp_path, parts=GREEN).steps
    told = [{box.id for box in step.boxes} for step in (first, drying, again)]
    assert ["green-wood" in one for one in told] == [True, True, False]
    assert ["green-splits" in one for one in told] == [False, False, True]


def test_the_lanterns_end_circle_lies_on_the_ends_of_the_ball() -> None:
    """Octagon about a circle of diameter D: its corner circle on the end is D(√2 − 1) across."""
    archive = demo_archive()
    solids = archive.session.solids["lantern"]
    part = solids.parts["lantern"]
    roughed, marked, cut = carried(part.plan, solids.shop, part.limits)[1:4]
    sheet = _sheet("lantern")
    ball, middle = _number(sheet, "ball"), _number(sheet, "middle")
    for step in (roughed, marked):
        for end in (middle - ball / 2 - 1, middle + ball / 2 + 1):
            assert 2 * _radius(step.wood, end) < ball * (2**0.5 - 1)
    # Nothing of the waste is left beside the ball to keep the tool from the end circle.
    assert 2 * _radius(cut.wood, middle + ball / 2 + 1) == pytest.approx(_number(sheet, "neck"), rel=1e-2)


def test_pins_stand_in_holes_that_face_each_other() -> None:
    sheet = _sheet("lantern")
    ribs = round(_number(sheet, "ribs"))
    told = " ".join(step.hold + _text(step) for step in sheet.steps if "groove" in step.name.lower())
    pairs = {tuple(map(int, one)) for one in re.findall(r"holes? (\d+) and (\d+)", told)}
    assert pairs == {(one, one + ribs // 2) for one in range(1, ribs // 2 + 1)}
