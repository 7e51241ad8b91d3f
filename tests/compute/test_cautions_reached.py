"""Every safety rule can be called for by a project file, and is shown by a demo or by a worked case."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from handouts_build.compute.cautions import boxes_of_piece, boxes_of_step
from handouts_build.compute.solid.facts import FINDINGS
from handouts_build.schema import load_project
from handouts_build.site.build import read_archive
from handouts_build.tables.caution_facts import Fact, FactKind
from handouts_build.tables.cautions import CautionRule, Criterion, Where, rules
from handouts_build.tables.finishes import finishes
from handouts_build.tables.woods import woods
from tests.projects import ROOT, demo_archive, project

CASES = yaml.safe_load((ROOT / "tests" / "tables" / "caution_cases.yml").read_text(encoding="utf-8"))
OF_A_STEP = {Fact.SHAPE: "shape", Fact.ABRASIVE: "abrasive", Fact.ADHESIVE: "adhesive"}
ROUGHED = """\
      - {name: Rough, say: Rough., hold: {by: [faceplate]}, work: [faceplate turning]}
      - {name: Dry, say: Dry., hold: {by: [hand]}, work: [drying]}
"""


def _hold(asked: dict[Fact, Criterion], words: dict[Fact, str]) -> str:
    """What holds the work as a rule wants it: on the lathe where it says so, else in the hand."""
    if Fact.TAILSTOCK in asked:
        return f"{{by: [chuck], tailstock: {str(asked[Fact.TAILSTOCK].flag).lower()}}}"
    lathe = any(asked[fact].flag for fact in (Fact.TURNING, Fact.ON_LATHE) if fact in asked)
    numbers = any(fact.kind is FactKind.NUMBER for fact in asked)
    return f"{{by: [{words.get(Fact.HOLD, 'between centers' if lathe or numbers else 'hand')}]}}"


def _wood(asked: dict[Fact, Criterion], words: dict[Fact, str]) -> str:
    if Fact.WOOD_LISTED in asked:
        return next(one.name for one in woods() if bool(one.reactions) is asked[Fact.WOOD_LISTED].flag)
    if Fact.WOOD_REACTION in words:
        return next(one.name for one in woods() if words[Fact.WOOD_REACTION] in one.reaction_words())
    if Fact.WOOD_KNOWN in asked:
        return "a wood of no table"
    if words.get(Fact.MATERIAL, "wood") != "wood":
        return f"cast {words[Fact.MATERIAL]}"
    return words.get(Fact.WOOD, "maple, sugar")


def _finish(words: dict[Fact, str]) -> list[str]:
    trait = words.get(Fact.FINISH_TRAIT)
    if trait == "sprayed":
        return ["finish: [lacquer]", "tools: [spray gun]"]
    named = words.get(Fact.FINISH) or next((one.id for one in finishes() if trait in one.traits), None)
    return [f"finish: ['{named}']"] if named else []


def _reached(rule: CautionRule, case: tuple[Criterion, ...], folder: Path) -> set[str]:
    """The rules of a piece that is and does what a rule asks for."""
    asked = {condition.fact: condition for condition in case}
    words = {fact: min(one.words) for fact, one in asked.items() if one.words}
    work = [words[Fact.OPERATION]] if Fact.OPERATION in words else []
    turned = any(fact.kind is FactKind.NUMBER for fact in asked) or {Fact.TURNING, Fact.TURNED_AFTER} & asked.keys()
    if turned:
        work.append("spindle turning")
    hold = "{by: [chuck]}" if turned and Fact.HOLD not in words and Fact.TAILSTOCK not in asked else _hold(asked, words)
    keys = [f"hold: {hold}", f"work: [{', '.join(work)}]", *_finish(words)]
    keys += [f"tools: [{words[Fact.TOOL]}]"] if Fact.TOOL in words else []
    keys += [f"{key}: [{words[fact]}]" for fact, key in OF_A_STEP.items() if fact in words]
    condition, before = words.get(Fact.CONDITION, "dry"), ""
    if condition == "dried after roughing":
        condition, before = "green", ROUGHED
    keys += ["adhesive: [epoxy]"] if Fact.GLUED_AFTER in asked and Fact.ADHESIVE not in words else []
    heads = (f"{fact}: [{words[fact]}]\n" for fact in (Fact.PIECE, Fact.AUDIENCE, Fact.SETTING) if fact in words)
    step = f"      - {{name: Do it, say: Do it., {', '.join(keys)}}}\n"
    parts = (
        f"parts:\n  body:\n    wood: '{_wood(asked, words)}'\n    condition: [{condition}]\n"
        f"    blank: {{round: 2 in, long: 5 in}}\n    steps:\n{before}{step}"
    )
    extra = "".join(heads) + ("measure: millimeters\n" if Fact.METRIC in asked else "")
    model, _ = load_project(project(folder, extra=extra, parts=parts), "piece.yml")
    if rule.where is Where.HANDOUT:
        return {box.id for box in boxes_of_piece(model)}
    (sheet,) = read_archive(folder, base=folder).sheets
    # The solid's own part: findings it has words for, what holds a part that is put on, and numbers.
    solid: dict[str, object] = {
        str(fact): one.over * 1.01 if one.over is not None else (one.under or 0) / 2
        for fact, one in asked.items()
        if fact.kind is FactKind.NUMBER
    }
    solid |= {str(fact): [words[fact]] for fact in (Fact.FINDING, Fact.PUT_ON) if fact in words}
    body = model.parts["body"]
    made = boxes_of_step(model, body, body.steps[-1], blank=sheet.parts[0].blank, groups=(), solid=solid)
    return {box.id for box in made}


@pytest.mark.parametrize(
    ("rule", "case"),
    [pytest.param(rule, case, id=f"{rule.id}-{at}") for rule in rules() for at, case in enumerate(rule.when)],
)
def test_a_project_file_can_call_for_every_rule(rule: CautionRule, case: tuple[Criterion, ...], tmp_path: Path) -> None:
    assert rule.id in _reached(rule, case, tmp_path)


def test_every_finding_that_a_rule_asks_for_is_one_the_solid_makes() -> None:
    asked = {
        word for rule in rules() for case in rule.when for one in case if one.fact is Fact.FINDING for word in one.words
    }
    assert asked == {*FINDINGS.values(), "cuts meet", "out of balance"}


def test_a_rule_that_no_demo_calls_for_has_a_worked_case() -> None:
    """The message says which rules no demo shows; each of them must be seen at work somewhere."""
    shown = {box.id for sheet in demo_archive().sheets for box in sheet.boxes}
    shown |= {box.id for sheet in demo_archive().sheets for step in sheet.steps for box in step.boxes}
    unseen = {rule.id for rule in rules()} - shown
    lacking = unseen - {id_ for case in CASES for id_ in case["fires"]}
    assert not lacking, f"no demo calls for {sorted(unseen)}; of these, {sorted(lacking)} have no case either"
