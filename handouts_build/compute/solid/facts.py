"""What the solid tells the safety rules of a step.

This module owns these facts: findings in the rules' words, numbers, and what in the
shape of the wood matters to fingers and tools. What follows from them is in the rules.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from handouts_build import workpiece as kernel
from handouts_build.compute.solid.measured import Measured
from handouts_build.compute.solid.plan import PartPlan
from handouts_build.schema import StepKeys
from handouts_build.workpiece import Code

__all__ = ["FINDINGS", "NO_WOOD_MM", "SOME_AIR", "solid_facts"]

FINDINGS: Mapping[Code, str] = {
    Code.NOTHING_TO_HOLD: "nothing to hold",
    Code.CUTS_ITS_HOLD: "nothing to hold",
    Code.PARTED_FROM_ITS_CENTER: "nothing to hold",
    Code.BEARS_ON_NOTHING: "nothing to hold",
    Code.SHORT_GRIP: "hold too small",
    Code.THIN_WEB: "thin wood",
    Code.UNMEANT_BREAK_THROUGH: "breaks through",
    Code.BIT_TOO_SHORT: "bit too short",
    Code.LOOSE_FIT: "nothing to hold",
    Code.FLIES_OFF: "nothing to hold",
    Code.OVERHANG: "overhang",
    Code.THIN_NECK: "overhang",
    Code.SPEED_OUTSIDE_LATHE: "speed too high",
}
"""The safety rules' word for a finding."""
SOME_AIR = 0.1
"""Less air than this in a turn is not told; wood that is out of round by less is called round."""
NO_WOOD_MM = 0.01
"""Less between two cuts than this is nothing: they meet."""
_OFF_CENTER = 0.1
"""A center of gravity off the axis by less of the radius is on it: common practice, no published source."""


def solid_facts(
    plan: PartPlan,
    stages: Sequence[Measured],
    densities: Sequence[float | None],
    step: StepKeys,
    *,
    index: int,
    swing_mm: float | None = None,
) -> dict[str, Any]:
    """What the safety rules ask for.

    Args:
        plan: The part.
        stages: Its stages, the blank's first.
        densities: Grams in a cubic millimetre at each stage.
        step: The step's model.
        index: Which step, counting from 0.
        swing_mm: How wide the wood turns as the step begins, mm; None where the lathe stands.
    """
    now, before = stages[index + 1], stages[index]
    made: dict[str, Any] = {"shape": list(_shapes(plan, stages, index))}
    if now.parted:
        made["operation"] = ["parting"]
    # What the author accepts goes on being a danger.
    words = {word for found in now.verdicts if (word := _word(found))}
    words |= {"breaks through"} if any(cut.comes_out for cut in plan.steps[index].cuts) else set()
    words |= {"out of balance"} if now.unbalance > _OFF_CENTER else set()
    if words:
        made["finding"] = sorted(words)
    if swing_mm or now.radius_before_mm:
        made["diameter_mm"] = swing_mm or 2 * now.radius_before_mm
        if step.speed is not None:
            made["rim_speed_m_min"] = math.pi * made["diameter_mm"] / 1000 * float(step.speed.magnitude)
    if now.air:
        made["air_share"] = max(last for _, _, last in now.air)
    if now.overhang_mm and now.held_mm and step.cut:
        made["overhang_to_diameter"] = now.overhang_mm / now.held_mm
    if now.slender is not None:
        made["length_to_diameter"] = now.slender
    if now.deep:
        made["drill_mm"] = [bit for bit, _ in now.deep]
        made["drill_depth_to_diameter"] = [deep / bit for bit, deep in now.deep]
    walls = list(_walls(plan, now))
    if walls:
        made["wall_mm"] = min(walls)
    if now.lid is not None:
        made["put_on"] = [now.lid.kind]
    # What is put on weighs as it does at the step's end, and fills what it did at its start.
    density, lid = densities[index + 1 if now.lid is not None else index], now.lid.begun_mm3 if now.lid else 0.0
    if density is not None:
        made["mass_kg"] = (before.volume_mm3 + lid) * density / 1000
    return made


def _word(found: kernel.Verdict) -> str | None:
    """The safety rules' word for a finding; None where they have none."""
    if found.code is Code.UNMEANT_BREAK_THROUGH and found.about[1].subject is not kernel.Subject.OUTSIDE:
        return "cuts meet"
    if "least_rpm" in found.numbers:
        return None
    return FINDINGS.get(found.code)


def _shapes(plan: PartPlan, stages: Sequence[Measured], index: int) -> Iterator[str]:
    now, earlier = stages[index + 1], stages[1 : index + 1]
    whole = max((share for _, share, _ in now.air), default=0.0)
    last = max((last for _, _, last in now.air), default=0.0)
    # What fell off another part was turned with it. A round blank is out of true until it is turned the first time.
    bare = now.bare and not isinstance(plan.blank, kernel.Offcut)
    if bare and (whole > SOME_AIR or not any(stage.bare for stage in earlier)):
        yield "not yet round"
    elif now.uneven > SOME_AIR and last <= SOME_AIR:
        yield "square edge"
    if now.loose:
        yield "loose ring"
    if stages[index].bark:
        yield "natural edge"


def _walls(plan: PartPlan, now: Measured) -> Iterator[float]:
    """Wood left between a hollow and another cut, of what this step cuts."""
    hollows = {cut.name for step in plan.steps for cut in step.cuts if cut.hollows}
    for first, second, left in now.webs:
        if left > NO_WOOD_MM and not hollows.isdisjoint((first, second)):
            yield left
