"""Saying more never takes a caution away: every word of every vocabulary is added to every demo step, and watched."""

from __future__ import annotations

from functools import cache

import pytest

from handouts_build.compute.cautions import boxes_of_piece, boxes_of_step
from handouts_build.compute.solid.facts import solid_facts
from handouts_build.schema import ACCEPTED, PartKeys, ProjectKeys, StepKeys
from handouts_build.sheet import Part, Sheet
from handouts_build.tables.caution_facts import WORDS, Fact
from tests.projects import DEMO_PIECES, demo_archive, demo_project, demo_steps, vocabulary, with_word

OF_A_STEP = (
    Fact.OPERATION,
    Fact.TOOL,
    Fact.HOLD,
    Fact.SHAPE,
    Fact.ABRASIVE,
    Fact.ADHESIVE,
    Fact.FINISH,
    Fact.CONDITION,
)
OF_THE_STEP_ALONE = (Fact.TOOL, Fact.HOLD, Fact.SHAPE)
"""The boxes of the whole piece ask nothing of these."""
OF_THE_PIECE = {Fact.PIECE: "piece", Fact.AUDIENCE: "audience", Fact.SETTING: "setting"}


@cache
def _sheet(name: str) -> Sheet:
    return next(sheet for sheet in demo_archive().sheets if sheet.name == name)


def _boxes(
    sheet: Sheet, project: ProjectKeys, made: Part, part: PartKeys, step: StepKeys, number: int, *, whole: bool = True
) -> frozenset[str]:
    """The boxes of a step, and those of the piece if `whole`, with what the solid says of it as the demo has it."""
    solids = demo_archive().session.solids[sheet.name]
    carried, index = solids.parts[made.name], number - made.steps[0].number
    turning = solids.turning.get(number)
    solid = solid_facts(
        carried.plan, carried.stages, carried.densities, step, index=index,
        swing_mm=turning.swing_mm if turning else None,
    )  # fmt: skip
    drawn = [group for group in sheet.groups if group.name in step.drawings]
    found = boxes_of_step(project, part, step, blank=made.blank, groups=drawn, solid=solid)
    return frozenset(box.id for box in (*found, *(boxes_of_piece(project) if whole else ())))


def _with_part(project: ProjectKeys, name: str, part: PartKeys) -> ProjectKeys:
    return project.model_copy(update={"parts": {**project.parts, name: part}})


@pytest.mark.parametrize("name", DEMO_PIECES)
def test_no_word_takes_a_caution_away_from_its_step(name: str) -> None:
    sheet, project = _sheet(name), demo_project(name)
    numbers = iter(sheet.steps)
    checked = 0
    for part, step, made in demo_steps(sheet, project):
        number = next(numbers).number
        before = _boxes(sheet, project, made, part, step, number)
        of_step = _boxes(sheet, project, made, part, step, number, whole=False)
        for fact in OF_A_STEP:
            for word in sorted(vocabulary(fact)):
                wider, said = with_word(part, step, fact, word)
                whole = fact not in OF_THE_STEP_ALONE
                after = _boxes(sheet, _with_part(project, made.name, wider), made, wider, said, number, whole=whole)
                lost = (before if whole else of_step) - after
                assert not lost, (step.name, fact, word, lost)
                checked += 1
        for word in ACCEPTED:
            said = step.model_copy(update={"accept": {**step.accept, word: "It is so."}})
            wider = part.model_copy(update={"steps": [said if each is step else each for each in part.steps]})
            after = _boxes(sheet, _with_part(project, made.name, wider), made, wider, said, number, whole=False)
            assert of_step <= after, (step.name, word, of_step - after)
    assert checked > 100 * len(list(sheet.steps))


@pytest.mark.parametrize("name", DEMO_PIECES)
def test_no_word_of_a_step_takes_a_caution_from_another_step_but_that_it_dries_the_wood(name: str) -> None:
    """Wood that a later step finds dry is no longer green, and what was roughed before is: that is no word more."""
    sheet, project = _sheet(name), demo_project(name)
    for part in sheet.parts:
        keys = project.parts[part.name]
        solids = demo_archive().session.solids[sheet.name]
        before = {step.number: frozenset(box.id for box in step.boxes) for step in part.steps}
        for step in keys.steps:
            for word in sorted(WORDS[Fact.OPERATION] - {"drying", "heat drying"}):
                wider, _ = with_word(keys, step, Fact.OPERATION, word)
                said = _with_part(project, part.name, wider)
                for made, each in zip(part.steps, wider.steps, strict=True):
                    drawn = [group for group in sheet.groups if group.name in each.drawings]
                    solid = solids.facts.get(made.number, {})
                    found = boxes_of_step(said, wider, each, blank=part.blank, groups=drawn, solid=solid)
                    lost = before[made.number] - {box.id for box in found}
                    assert not lost, (step.name, word, made.name, lost)


@pytest.mark.parametrize("name", DEMO_PIECES)
@pytest.mark.parametrize("fact", OF_THE_PIECE)
def test_no_word_of_the_piece_takes_a_caution_away_though_it_was_left_to_a_default(name: str, fact: Fact) -> None:
    project = demo_project(name)
    before = frozenset(box.id for box in boxes_of_piece(project))
    key = OF_THE_PIECE[fact]
    # Where the file leaves it to the default, the first word that is said replaces the default.
    said = getattr(project, key) if key in project.model_fields_set else []
    for word in WORDS[fact]:
        wider = project.model_copy(update={key: [*said, word]})
        assert before <= frozenset(box.id for box in boxes_of_piece(wider)), word
