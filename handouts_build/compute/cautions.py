"""Which safety boxes a project and its steps call for.

This module owns gathering the facts that the safety rules ask about, from what the
author says and from what was worked out. The rules themselves are a table; how a
box looks is for the outputs.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from handouts_build.compute.workings import source_of
from handouts_build.quantities import UNITS, Quantity
from handouts_build.schema import Project
from handouts_build.sheet import Blank, Box, Group
from handouts_build.tables.caution_facts import WORDS, Fact
from handouts_build.tables.cautions import Rule, Where, fired
from handouts_build.tables.finishes import lookup_finish
from handouts_build.tables.woods import lookup_wood

__all__ = ["boxes_of_piece", "boxes_of_step"]

Facts = dict[str, Any]


def boxes_of_piece(project: Project) -> tuple[Box, ...]:
    """The boxes that stand once, for the whole piece."""
    facts = _project(project)
    for part in project.parts.values():
        for name, words in _part(part).items():
            facts[name] = [*facts.get(name, ()), *words] if isinstance(words, list) else words
    facts["operation"] = list(
        dict.fromkeys(word for part in project.parts.values() for step in part.steps for word in step.work)
    )
    return tuple(_box(rule) for rule in fired(facts) if rule.where is Where.HANDOUT)


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
    facts = _project(project) | _part(part) | _step(step) | _numbers(step, blank, groups) | solid
    return tuple(_box(rule) for rule in fired(facts) if rule.where is Where.STEP)


def _project(project: Project) -> Facts:
    return {
        "always": True,
        "piece": list(project.piece),
        "audience": list(project.audience),
        "setting": list(project.setting),
    }


def _part(part: Any) -> Facts:
    conditions = frozenset(part.condition)
    facts: Facts = {"wood": [part.wood], "material": ["wood"], "condition": list(conditions)}
    wood = lookup_wood(part.wood)
    if wood is not None:
        facts["wood_reaction"] = list(wood.reaction_words(conditions=conditions))
        facts["wood_listed"] = bool(wood.reactions)
    return facts


def _step(step: Any) -> Facts:
    facts: Facts = {
        "operation": list(step.work),
        "tool": [tool for tool in step.tools if tool in WORDS[Fact.TOOL]],
        "shape": list(step.shape),
        "abrasive": list(step.abrasive),
        "adhesive": list(step.adhesive),
        "finish": list(step.finish),
    }
    found = [lookup_finish(name) for name in step.finish]
    facts["finish_trait"] = [trait for finish in found if finish is not None for trait in finish.traits]
    if step.hold is not None:
        facts["hold"] = list(step.hold.by)
        if step.hold.tailstock is not None:
            facts["tailstock"] = step.hold.tailstock
    return facts


def _numbers(step: Any, blank: Blank, groups: Sequence[Group]) -> Facts:
    """What follows from the blank and the workings, as plain numbers in the facts' units."""
    sides = {what: _mm(value) for what, value, _ in blank.sides}
    long = sides.pop("length")
    # A square or a board swings on its diagonal until it is round.
    across = (
        math.hypot(*sides.values())
        if len(sides) == 2
        else max(sides.values()) * (math.sqrt(2) if "side" in sides else 1)
    )
    facts: Facts = {"diameter_mm": across}
    if step.hold is not None and "between centers" in step.hold.by:
        facts["length_to_diameter"] = long / min(sides.values())
    if step.speed is not None:
        facts["rim_speed_m_min"] = math.pi * across / 1000 * float(step.speed.magnitude)
    bits = [group.values for group in groups if "bit" in group.values]
    if bits:
        facts["drill_mm"] = [_mm(values["bit"]) for values in bits]
        depths = [(values.get("depth_to_stop") or values.get("depth_to_bore"), values["bit"]) for values in bits]
        facts["drill_depth_to_diameter"] = [_mm(depth) / _mm(bit) for depth, bit in depths if depth is not None]
    return facts


def _mm(value: Quantity) -> float:
    return float(value.m_as(UNITS["mm"]))


def _box(rule: Rule) -> Box:
    return Box(rule.id, str(rule.signal), rule.title, rule.hurts, rule.do, source_of(rule.source))
