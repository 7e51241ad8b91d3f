"""The wood of a step while it turns, as the solid shows it.

This module owns the swing of a step, taken in one place for all that is said of it, where
the solid shows wood out of balance, not round, or weakly held, and which bits drill. What
a speed must not exceed then is in `compute.speed_limits`; what a lathe can turn is the
workpiece's to judge.
"""

from __future__ import annotations

from handouts_build import workpiece as kernel
from handouts_build.compute.blanks import measures, round_mm, shape_of, swing_mm
from handouts_build.compute.solid.measured import Measured
from handouts_build.compute.speed_limits import Turning, declared_uneven, declared_weak, operations
from handouts_build.compute.step_facts import off_axis, operations_of, standing
from handouts_build.language import tr_later
from handouts_build.schema import PartKeys, StepKeys
from handouts_build.sheet import Blank

__all__ = ["turning"]

_CORNERS_LEFT = 0.25
"""Of a blank's corners more than this share stands as long as it is not round: common practice, no published source."""
_HAIR_MM = 0.1
_LARGEST_BIT_MM = 105.0
"""A hole that is wider is bored with a tool on the rest, and no bit: common practice, no published source."""
_WEAK = {
    kernel.Code.OVERHANG: tr_later("the work stands far out of its hold"),
    kernel.Code.THIN_NECK: tr_later("the work stands on a thin neck"),
    kernel.Code.SLENDER: tr_later("the work is slender"),
    kernel.Code.SHORT_GRIP: tr_later("little of the work is held"),
}
"""Findings of the solid that call for a slower speed, accepted or not."""


def turning(
    blank: Blank,
    part: PartKeys,
    step: StepKeys,
    plan: kernel.WorkStep,
    *,
    before: Measured,
    now: Measured,
    segments: int,
    lathe_rpm: float | None = None,
) -> Turning:
    """The wood of a step, while it turns.

    Args:
        blank: The part's, worked out.
        part: The part's keys.
        step: The step's keys.
        plan: The step as the workpiece takes it.
        before: The stage that the step finds.
        now: The stage that it leaves.
        segments: Sides that a circle is drawn with.
        lathe_rpm: The lathe's fastest speed, turns a minute.
    """
    stands = standing(part, step)
    said = declared_uneven(step, stands)
    shown = "" if _in_jaws(plan, before) else _not_round(blank, before)
    bits = [cut.bit_mm for cut in plan.cuts if cut.needs_lathe and cut.bit_mm is not None]
    beside = off_axis(stands.hold) or (stands.hold is not None and bool(stands.hold.written("in")))
    return Turning(
        swing_mm=_swing_mm(blank, now, segments, beside=beside),
        operations=operations(step, roughs=bool(shown) and now.turned, turns=now.turned),
        uneven=said or shown,
        square=bool(shown) and not said and shape_of(blank).is_square,
        weak=declared_weak(step, stands, blank)
        or (tr_later("one part turns on the other by their fit alone") if now.lid and now.lid.kind != "thread" else "")
        or next((_WEAK[verdict.code] for verdict in now.verdicts if verdict.code in _WEAK), ""),
        chases="threading" in operations_of(part, step),
        bit_mm=max((bit for bit in bits if bit <= _LARGEST_BIT_MM), default=None),
        lathe_rpm=lathe_rpm,
    )


def _swing_mm(blank: Blank, now: Measured, segments: int, *, beside: bool) -> float:
    """What the wood swings as the step begins."""
    swings = 2 * now.radius_before_mm
    # About another axis than its own, the corners that a circle is drawn with count in: they stand out by its factor.
    return round(swings - (1 - 1 / kernel.round_factor(segments)) * swing_mm(blank), 3) if beside else swings


def _in_jaws(plan: kernel.WorkStep, before: Measured) -> bool:
    """Whether all that stands out is the end that the jaws close on."""
    hold = plan.holds[0] if plan.holds else None
    if not isinstance(hold, kernel.JawsOnBlank) or hold.deep_mm is None:
        return False
    left, right = before.widest_mm
    return (left if hold.end is kernel.End.LEFT else right) <= hold.deep_mm + _HAIR_MM


def _not_round(blank: Blank, before: Measured) -> str:
    """That corners or bark of the blank stand as the step begins, as a sentence to be said has it; empty if round."""
    least, most = round_mm(blank), swing_mm(blank)
    shape = shape_of(blank)
    if shape.as_grown:
        # Without bark nothing stands out: it is as it grew until it is turned.
        if "bark" in measures(blank):
            return tr_later("the wood still bears its bark") if before.bark else ""
        return tr_later("the wood is not yet round") if before.across_mm > least - _HAIR_MM else ""
    if not shape.is_round and before.across_mm > least + _CORNERS_LEFT * (most - least):
        return tr_later("the wood is not yet round")
    return ""
