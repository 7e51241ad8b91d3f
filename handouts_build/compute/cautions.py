"""Which safety boxes a project and its steps call for.

This module owns gathering the facts that the safety rules ask about, from what the
author says and from what was worked out. How the work stands at a step is in
`step_facts`. The rules themselves are a table; how a box looks is for the outputs.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from handouts_build.compute.blanks import across, along, by_formula, is_glued, woods_of, worked
from handouts_build.compute.chapters import source_of
from handouts_build.compute.step_facts import StepState, operations_of, standing, tools_of
from handouts_build.language import in_a_row, tr, tr_later
from handouts_build.quantities import UNITS, Quantity
from handouts_build.schema import PartKeys, ProjectKeys, StepKeys
from handouts_build.sheet import Blank, Condition, Group, SafetyBox
from handouts_build.tables.cautions import CautionRule, Where, fired, waiting
from handouts_build.tables.finishes import lookup_finish
from handouts_build.tables.woods import lookup_wood, said_wood

__all__ = ["boxes_at_other_sizes", "boxes_of_piece", "boxes_of_step"]

Facts = dict[str, Any]

_OF_TURNING_WOOD = frozenset(
    {"diameter_mm", "rim_speed_m_min", "length_to_diameter", "overhang_to_diameter", "air_share", "wall_mm"}
)
"""Numbers that mean something only while the work turns."""
_SPRAYED = re.compile(r"\b(spray|aerosol|airbrush)")
_MATERIALS = {
    "metal": "brass|aluminum|aluminium|steel|pewter|metal",
    "resin": "resin|acrylic|plastic|polyester|epoxy",
    "bone": "bone|antler|horn|ivory",
    "shell": "shell|tagua|corozo",
}
"""Words in a part's `wood` that say that it is none, or not alone."""
_OF_A_BIT = frozenset({"drill_mm", "drill_depth_to_diameter"})
_NO_RULE, _UNKNOWN_TOOL = "other powered tool", "powered-tool-unknown"
"""The word for a powered tool that no rule knows, and the rule that says so."""
_NO_CAUTIONS = tr_later("No cautions are known here for {tools}")
"""That rule's title, with the tools' names."""
_OF_A_WOOD = frozenset({"wood", "condition", "wood_reaction", "wood_listed", "wood_known"})
"""What is told of a part for its wood's sake."""


def boxes_of_piece(project: ProjectKeys) -> tuple[SafetyBox, ...]:
    """The boxes that stand once, for the whole piece."""
    facts = _project(project)
    for part in project.parts.values():
        # What state the wood is in at first: what is found out of it while it is turned stands at the steps.
        for name, words in _part(part, project, frozenset(part.condition)).items():
            facts[name] = [*facts.get(name, ()), *words]
    steps = [step for part in project.parts.values() for step in part.steps]
    done = (
        word for part in project.parts.values() for step in part.steps for word in sorted(operations_of(part, step))
    )
    facts["operation"] = list(dict.fromkeys(done))
    facts["finish_trait"] = list(dict.fromkeys(trait for step in steps for trait in _traits(step)))
    # What one wood calls for by itself, with all else that the piece is.
    whole = {name: words for name, words in facts.items() if name not in _OF_A_WOOD}
    by_wood: dict[str, frozenset[str]] = {}
    for part in project.parts.values():
        for word in woods_of(part, project):
            called_for = frozenset(rule.id for rule in fired(whole | _of_wood(word, frozenset(part.condition))))
            by_wood[word] = by_wood.get(word, frozenset()) | called_for
    return tuple(_named(rule, by_wood) for rule in fired(facts) if rule.where is Where.HANDOUT)


def _named(rule: CautionRule, by_wood: Mapping[str, frozenset[str]]) -> SafetyBox:
    """The box of a rule; where it is called for by one of several woods, its title says by which."""
    meant = [wood for wood, called_for in by_wood.items() if rule.id in called_for]
    box = _box(rule)
    # A rule that every wood calls for, or that none calls for by itself, speaks of the piece.
    return (
        box
        if len(meant) in (0, len(by_wood))
        else replace(box, title=tr("{title}: {woods}", title=box.title, woods=in_a_row(map(said_wood, meant))))
    )


def boxes_of_step(
    project: ProjectKeys, part: PartKeys, step: StepKeys, *, blank: Blank, groups: Sequence[Group], solid: Facts
) -> tuple[SafetyBox, ...]:
    """The boxes that one step calls for, gravest first.

    Args:
        project: The project's model.
        part: The part's model.
        step: The step's model.
        blank: The part's blank, worked out.
        groups: The workings whose drawings the step names.
        solid: What the solid says of the step; it goes before what the blank lets one guess.
    """
    now = standing(part, step)
    numbers = {name: [value for value, _ in all_] for name, all_ in _numbers(step, now, blank, groups).items()}
    facts = _project(project) | _part(part, project, now.conditions) | _step(project, part, step, now) | numbers | solid
    parted = not solid or "parting" in solid.get("operation", ())
    facts["operation"] = sorted(operations_of(part, step, parted=parted))
    facts["shape"] = [*step.shape, *_shapes(part, now, blank, solid)]
    # Bits that the workings name and bits that the solid meets are all bits.
    for name in _OF_A_BIT & numbers.keys() & solid.keys():
        facts[name] = [*numbers[name], *solid[name]]
    if not now.turning:
        facts = {name: value for name, value in facts.items() if name not in _OF_TURNING_WOOD}
    unknown = tools_of(step).get(_NO_RULE, [])
    return tuple(_box(rule, tools=unknown) for rule in fired(facts) if rule.where is Where.STEP)


def _shapes(part: PartKeys, now: StepState, blank: Blank, solid: Facts) -> Iterator[str]:
    """What in the shape of the work the blank and the solid show, whatever the author says."""
    yield from solid.get("shape", ())
    if is_glued(blank):
        yield "segmented"
    if part.blank.shape.is_round or now.turned_before:
        yield "round blank"
    if not solid and now.first_turned:
        yield "not yet round"


def boxes_at_other_sizes(
    project: ProjectKeys, part: PartKeys, step: StepKeys, *, blank: Blank, groups: Sequence[Group]
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
    now = standing(part, step)
    numbers = {
        name: all_
        for name, all_ in _numbers(step, now, blank, groups).items()
        if now.turning or name not in _OF_TURNING_WOOD
    }
    facts = _project(project) | _part(part, project, now.conditions) | _step(project, part, step, now)
    for rule, criterion in waiting(facts, numbers.keys()):
        limit = criterion.over if criterion.over is not None else criterion.under
        assert limit is not None
        for value, tree in numbers[str(criterion.fact)]:
            # A number that is there already at the written sizes is for the solid to judge.
            if not criterion.holds(frozenset({value})):
                met = ["<=" if criterion.over is not None else ">=", tree, ["num", limit, f"{limit:g}"]]
                do = " ".join(tr(what) for what in rule.do)
                yield rule.id, tr(rule.title), Condition(met, str(rule.signal), tr(rule.hurts), do)


def _project(project: ProjectKeys) -> Facts:
    return {
        "always": True,
        "piece": list(project.piece),
        # Who is named is there besides those who always are: a handout is of what is shown to people.
        "audience": ["onlookers", *project.audience],
        "setting": ["demonstration", *project.setting],
        "metric": project.metric,
    }


def _part(part: PartKeys, project: ProjectKeys, conditions: frozenset[str]) -> Facts:
    """What its woods bring with them: of one that is glued up from several, what any of them brings."""
    facts: dict[str, Any] = {}
    for word in woods_of(part, project):
        for name, words in _of_wood(word, conditions).items():
            facts[name] = list(dict.fromkeys([*facts.get(name, ()), *words]))
    return facts


def _of_wood(word: str, conditions: frozenset[str]) -> dict[str, Any]:
    wood = lookup_wood(word)
    other = [name for name, words in _MATERIALS.items() if re.search(rf"\b({words})\b", word.lower())]
    facts: dict[str, Any] = {"wood": [word], "material": ["wood", *other], "condition": list(conditions)}
    facts["wood_known"] = [wood is not None]
    if wood is not None:
        facts["material"] = ["wood"]
        facts["wood_reaction"] = list(wood.reaction_words(conditions=conditions))
        facts["wood_listed"] = [bool(wood.reactions)]
    return facts


def _step(project: ProjectKeys, part: PartKeys, step: StepKeys, now: StepState) -> Facts:
    facts: Facts = {
        "on_lathe": now.on_lathe,
        "turning": now.turning,
        "turned_after": now.turned_after,
        "glued_after": _glued_after(project, step),
        "operation": sorted(operations_of(part, step)),
        "tool": sorted(tools_of(step)),
        "shape": list(step.shape),
        "abrasive": list(step.abrasive),
        "adhesive": list(step.adhesive),
        "finish": list(step.finish),
    }
    facts["finish_trait"] = list(_traits(step))
    if now.hold is not None:
        facts["hold"] = list(now.hold.by)
        if now.hold.tailstock is not None and now.on_lathe:
            facts["tailstock"] = now.hold.tailstock
    return facts


def _traits(step: StepKeys) -> Iterator[str]:
    """What its finishes bring with them, and whether they are sprayed."""
    for finish in map(lookup_finish, step.finish):
        yield from finish.traits if finish is not None else ()
    if step.finish and any(_SPRAYED.search(tool.lower()) for tool in step.tools):
        yield "sprayed"


def _numbers(
    step: StepKeys, now: StepState, blank: Blank, groups: Sequence[Group]
) -> dict[str, list[tuple[float, list[Any]]]]:
    """What follows from the blank and the workings, in the facts' units: each number with its formula."""
    known = by_formula(blank)
    swings, thin = across(blank)
    facts = {"diameter_mm": [worked(swings, known)]}
    if now.hold is not None and "between centers" in now.hold.by:
        facts["length_to_diameter"] = [worked(f"({along(blank)}) / {thin}", known)]
    if step.speed is not None:
        rpm = float(step.speed.magnitude)
        facts["rim_speed_m_min"] = [worked(f"pi * {swings} / 1000 * rpm", known | {"rpm": (rpm, ["num", rpm, ""])})]
    for group in groups:
        if "bit" not in group.values:
            continue
        trees = {
            name: (_mm(group.values[full]), ["name", f"{group.name}.{full}"])
            for name, full in (("bit", "bit"), ("deep", "depth"), ("deep", "depth_to_bore"), ("deep", "depth_to_stop"))
            if full in group.values
        }
        facts.setdefault("drill_mm", []).append(worked("bit", trees))
        if "deep" in trees:
            facts.setdefault("drill_depth_to_diameter", []).append(worked("deep / bit", trees))
    return facts


def _mm(value: Quantity) -> float:
    return float(value.m_as(UNITS["mm"]))


def _glued_after(project: ProjectKeys, step: StepKeys) -> bool:
    """Whether something is glued in the step or in a later one, of whichever part."""
    steps = [each for part in project.parts.values() for each in part.steps]
    at = next(index for index, each in enumerate(steps) if each is step)
    return any(each.adhesive or "gluing" in each.work for each in steps[at:])


def _box(rule: CautionRule, *, tools: Sequence[str] = ()) -> SafetyBox:
    """The box of a rule; that no rule knows a tool is said with its name."""
    title = tr(rule.title)
    if rule.id == _UNKNOWN_TOOL and tools:
        title = tr(_NO_CAUTIONS, tools=in_a_row(tools))
    do = tuple(tr(what) for what in rule.do)
    return SafetyBox(rule.id, str(rule.signal), title, tr(rule.hurts), do, source_of(rule.source))
