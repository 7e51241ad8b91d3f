"""How fast the wood of a step may turn: what it swings, the window for that, and a speed that is over it.

This module owns the swing of a step, taken in one place for all that is said of it, and
where wood is out of balance: not yet round, or held off its axis. Such wood starts slow,
by the law of the trade's chapter on speed; where it drills, the bit asks for less than
the wood. What a lathe can turn is the workpiece's to judge.
"""

from __future__ import annotations

from dataclasses import dataclass

from handouts_build import workpiece as kernel
from handouts_build.compute.blanks import measures, round_mm, swing_mm
from handouts_build.compute.solid.facts import bears_bark
from handouts_build.compute.solid.measured import Measured
from handouts_build.quantities import Quantity, Rule, decimal, exact, millimetres, print_quantity, quantity
from handouts_build.schema import Step
from handouts_build.sheet import Blank
from handouts_build.sheet.findings import Level
from handouts_build.tables import MANUAL, speed_row
from handouts_build.trade import CHAPTERS

__all__ = ["Turning", "turning"]

_CORNERS_LEFT = 0.25
"""Of a blank's corners more than this share stands as long as it is not round: common practice, no published source."""
_HAIR_MM = 0.1


@dataclass(frozen=True)
class Turning:
    """The wood of one step, while it turns."""

    swing_mm: float
    unbalanced: str
    """Why it is out of balance, as a sentence has it; empty where it is round and centered."""
    square: bool
    """Whether all that is the matter is the corners of a square about its own middle."""
    bit_mm: float | None
    """The largest bit that drills along the axis."""
    turned: bool
    """Whether a tool on the rest cuts it."""
    sanded: bool
    """Whether the step takes no wood away."""

    def window(self, rule: Rule) -> str:
        """Speeds for it, in words."""
        low, high, start = (self._law(name) for name in ("low", "high", "start"))
        if self.unbalanced:
            told = f"start at {_rpm(start, rule)} or slower"
        elif self.sanded:
            # The low end is no bound for sanding and finishing.
            told = f"up to {_rpm(high, rule)}"
        else:
            told = f"{decimal(float(low.magnitude), 0)} to {_rpm(high, rule)}"
        if self.bit_mm is None:
            return told
        bit = _law("drilling", "speed", bit=millimetres(self.bit_mm))
        drill = f"drill at {_rpm(min(bit, start if self.unbalanced else high), rule)} or slower"
        return f"{told}; {drill}" if self.turned else drill

    def too_fast(self, speed: Quantity, rule: Rule) -> tuple[Level, str, str] | None:
        """Gravity, message and remedy where a speed is over what the wood allows."""
        high = self._law("high")
        swing = print_quantity(millimetres(self.swing_mm), rule, fine=True)
        level = Level.STOP if speed >= 2 * high else Level.MIND
        if self.unbalanced:
            start = self._law("start")
            if speed <= self._bearable(start):
                return None
            over = f"{self.unbalanced} and swings {swing} here, and {_rpm(speed, rule)} is over the "
            over += f"{_rpm(start, rule)} that an unbalanced blank starts at"
            return level, over, "start at that or slower, and go faster only once it runs round and quietly"
        if speed <= high:
            return None
        over = f"the wood swings {swing} here, and {_rpm(speed, rule)} is over the {_rpm(high, rule)} that diameter "
        over += "times rpm allows it"
        return level, over, "choose a slower speed, unless the lathe's manual allows it for this diameter"

    def _bearable(self, start: Quantity) -> Quantity:
        """What nobody need be told of: a square about its own middle is roughed at what a lathe's manual prints too."""
        row = speed_row(MANUAL, diameter_mm=self.swing_mm, operation="roughing") if self.square else None
        return start if row is None or row.rpm_high is None else max(start, quantity(row.rpm_high, "rpm"))

    def _law(self, name: str) -> Quantity:
        return _law("speed", name, diameter=millimetres(self.swing_mm))


def turning(blank: Blank, step: Step, plan: kernel.Step, before: Measured, now: Measured, segments: int) -> Turning:
    """The wood of a step, while it turns.

    Args:
        blank: The part's, worked out.
        step: The step's model.
        plan: The step as the workpiece takes it.
        before: The stage that the step finds.
        now: The stage that it leaves.
        segments: Sides that a circle is drawn with.
    """
    off, rough = _off_axis(plan), "" if _in_jaws(plan, before) else _not_round(blank, before)
    drills = "drilling" in step.work or "drill bit" in step.tools
    bits = [cut.bit_mm for cut in plan.cuts if cut.needs_lathe and cut.bit_mm is not None] if drills else []
    return Turning(
        swing_mm=_swing_mm(blank, now, segments, off=bool(off)),
        unbalanced=off or rough,
        square=bool(rough) and not off and blank.shape == "square",
        bit_mm=max(bits, default=None),
        turned=now.turned,
        sanded=not plan.cuts,
    )


def _swing_mm(blank: Blank, now: Measured, segments: int, *, off: bool) -> float:
    """What the wood swings as the step begins."""
    swings = 2 * now.radius_before_mm
    # About another axis than its own, the corners that a circle is drawn with count in: they stand out by its factor.
    return round(swings - (1 - 1 / kernel.round_factor(segments)) * swing_mm(blank), 3) if off else swings


def _off_axis(plan: kernel.Step) -> str:
    """How a step's own hold takes the wood off its axis, as a sentence has it; empty where it does not."""
    if any(isinstance(hold, kernel.OffsetCenters) for hold in plan.holds):
        return "the wood turns off its own axis"
    if any(isinstance(hold, kernel.BetweenHoles) for hold in plan.holds):
        return "the wood turns across its own axis"
    return ""


def _in_jaws(plan: kernel.Step, before: Measured) -> bool:
    """Whether all that stands out is the end that the jaws close on."""
    hold = plan.holds[0] if plan.holds else None
    if not isinstance(hold, kernel.JawsOnBlank) or hold.deep_mm is None:
        return False
    left, right = before.widest_mm
    return (left if hold.end is kernel.End.LEFT else right) <= hold.deep_mm + _HAIR_MM


def _not_round(blank: Blank, before: Measured) -> str:
    """That corners or bark of the blank stand as the step begins, as a sentence has it; empty where it is round."""
    least, most = round_mm(blank), swing_mm(blank)
    if blank.shape == "branch":
        # Without bark nothing stands out: it is as it grew until it is turned.
        bark = "bark" in measures(blank)
        rough = bears_bark(least, before.across_mm) if bark else before.across_mm > least - _HAIR_MM
        return ("the wood still bears its bark" if bark else "the branch is not yet round") if rough else ""
    if blank.shape != "round" and before.across_mm > least + _CORNERS_LEFT * (most - least):
        return "the wood is not yet round"
    return ""


def _rpm(speed: Quantity, rule: Rule) -> str:
    return exact(speed, rule.lead)


def _law(chapter: str, name: str, **given: Quantity) -> Quantity:
    """A result of a chapter of the trade."""
    return CHAPTERS[chapter].work(**given)[name]
