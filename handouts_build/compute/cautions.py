"""Which safety boxes a project and its steps call for.

This module owns gathering the facts that the safety rules ask about, from what the
author says and from what was worked out. The rules themselves are a table; how a
box looks is for the outputs.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from handouts_build.compute.blanks import across, by_formula, is_glued, worked
from handouts_build.compute.workings import source_of
from handouts_build.quantities import UNITS, Quantity
from handouts_build.schema import Project
from handouts_build.sheet import Blank, Box, Condition, Group
from handouts_build.tables.caution_facts import WORDS, Fact
from handouts_build.tables.cautions import Rule, Where, fired, waiting
from handouts_build.tables.finishes import lookup_finish
from handouts_build.tables.woods import lookup_wood

__all__ = ["boxes_at_other_sizes", "boxes_of_piece", "boxes_of_step"]

Facts = dict[str, Any]

_OF_A_WOOD = frozenset({"wood", "condition", "wood_reaction", "wood_listed", "wood_known"})
"""What is told of a part for its wood's sake."""


def boxes_of_piece(project: Project) -> tuple[Box, ...]:
    """The boxes that stand once, for the whole piece."""
    facts = _project(project)
    for part in project.parts.values():
        for name, words in _part(part).items():
            facts[name] = [*facts.get(name, ()), *words]
    facts["operation"] = list(
        dict.fromkeys(word for part in project.parts.values() for step in part.steps for word in step.work)
    )
    return tuple(_named(rule, project, facts) for rule in fired(facts) if rule.where is Where.HANDOUT)


def _named(rule: Rule, project: Project, facts: Facts) -> Box:
    """The box of a rule; where it is called for by one of several woods, its title says by which."""
    whole = {name: words for name, words in facts.items() if name not in _OF_A_WOOD}
    woods = dict.fromkeys(part.wood for part in project.parts.values())
    meant = dict.fromkeys(part.wood for part in project.parts.values() if rule in fired(whole | _part(part)))
    box = _box(rule)
    # A rule that every wood calls for, or that none calls for by itself, speaks of the piece.
    return box if not meant or meant.keys() == woods.keys() else replace(box, title=f"{box.title}: {'; '.join(meant)}")


def boxes_of_step(
    project: Project, part: Any, step: Any, *, blank: Blank, groups: Sequence[Group], solid: Facts
) -> tuple[Box, ...]:
    """The boxes that one step calls for, gravest first.

    Args:
        project: The project's model.
        part: The part's model.
        step: The step's model.
        blank: The part's blank, worked out.
        groups: The workings whose drawings the step names.
        solid: What the solid says of the step; it goes before what the blank lets one guess.
    """
    numbers = {name: [value for value, _ in all_] for name, all_ in _numbers(step, blank, groups).items()}
    facts = _project(project) | _part(part) | _step(step) | numbers | solid
    if is_glued(blank):
        facts["shape"] = [*facts["shape"], "segmented"]
    return tuple(_box(rule) for rule in fired(facts) if rule.where is Where.STEP)


def boxes_at_other_sizes(
    project: Project, part: Any, step: Any, *, blank: Blank, groups: Sequence[Group]
) -> Iterator[tuple[str, str, Condition]]:
    """The boxes that the step would call for if a number of the blank or of a bit were otherwise.

    Args:
        project: The project's model.
        part: The part's model.
        step: The step's model.
        blank: The part's blank, worked out.
        groups: The workings whose drawings the step names.

    Yields:
        The rule's id, its title, and the condition that holds as long as the box is not called for.
    """
    numbers = _numbers(step, blank, groups)
    facts = _project(project) | _part(part) | _step(step)
    for rule, one in waiting(facts, numbers.keys()):
        limit = one.over if one.over is not None else one.under
        assert limit is not None
        for value, tree in numbers[str(one.fact)]:
            # A number that is there already at the written sizes is for the solid to judge.
            if not one.holds(frozenset({value})):
                met = ["<=" if one.over is not None else ">=", tree, ["num", limit, f"{limit:g}"]]
                yield rule.id, rule.title, Condition(met, str(rule.signal), rule.hurts, " ".join(rule.do))


def _project(project: Project) -> Facts:
    return {
        "always": True,
        "piece": list(project.piece),
        "audience": list(project.audience),
        "setting": list(project.setting),
    }


def _part(part: Any) -> Facts:
    # A branch has its pith in it.
    conditions = frozenset(part.condition) | ({"pith"} if part.blank.branch is not None else frozenset())
    facts: Facts = {"wood": [part.wood], "material": ["wood"], "condition": list(conditions)}
    wood = lookup_wood(part.wood)
    facts["wood_known"] = [wood is not None]
    if wood is not None:
        facts["wood_reaction"] = list(wood.reaction_words(conditions=conditions))
        facts["wood_listed"] = [bool(wood.reactions)]
    return facts


def _step(step: Any) -> Facts:
    facts: Facts = {
        "operation": list(step.work),
        "tool": [tool for tool in step.tools if tool in WORDS[Fact.TOOL]],
        "shape": list(step.shape),
        "abrasive": list(step.abrasive),
        "adhesive": list(step.adhesive),
        "finish": list(step.finish),
        "on_lathe": step.hold is None or not {"bench", "hand"}.issuperset(step.hold.by),
    }
    found = [lookup_finish(name) for name in step.finish]
    facts["finish_trait"] = [trait for finish in found if finish is not None for trait in finish.traits]
    if step.hold is not None:
        facts["hold"] = list(step.hold.by)
        if step.hold.tailstock is not None:
            facts["tailstock"] = step.hold.tailstock
    return facts


def _numbers(step: Any, blank: Blank, groups: Sequence[Group]) -> dict[str, list[tuple[float, list[Any]]]]:
    """What follows from the blank and the workings, in the facts' units: each number with its formula."""
    known = by_formula(blank)
    swings, thin = across(blank)
    facts = {"diameter_mm": [worked(swings, known)]}
    if step.hold is not None and "between centers" in step.hold.by:
        facts["length_to_diameter"] = [worked(f"length / {thin}", known)]
    if step.speed is not None:
        rpm = float(step.speed.magnitude)
        facts["rim_speed_m_min"] = [worked(f"pi * {swings} / 1000 * rpm", known | {"rpm": (rpm, ["num", rpm, ""])})]
    for group in groups:
        if "bit" not in group.values:
            continue
        told = {
            name: (_mm(group.values[full]), ["name", f"{group.name}.{full}"])
            for name, full in (("bit", "bit"), ("deep", "depth"), ("deep", "depth_to_bore"), ("deep", "depth_to_stop"))
            if full in group.values
        }
        facts.setdefault("drill_mm", []).append(worked("bit", told))
        if "deep" in told:
            facts.setdefault("drill_depth_to_diameter", []).append(worked("deep / bit", told))
    return facts


def _mm(value: Quantity) -> float:
    return float(value.m_as(UNITS["mm"]))


def _box(rule: Rule) -> Box:
    return Box(rule.id, str(rule.signal), rule.title, rule.hurts, rule.do, source_of(rule.source))
