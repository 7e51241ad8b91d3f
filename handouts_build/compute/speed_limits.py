"""What the speed of a step must not exceed: the least of all that bounds it, with its reason and its source.

This module owns the bounds: diameter times rpm, the row that a printed table has for that
very operation, the bit, the start of a blank that is out of balance or not round, work that
is weak or weakly held, and the lathe. What the author declares narrows, and what the solid
shows narrows; neither widens. What the wood of a step is like comes from the solid, or,
for a part that is carried as none, from its blank. No speed is ever advised: a step's
speed is its author's.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from handouts_build.compute.blanks import is_glued, swing_mm
from handouts_build.compute.chapters import source_of
from handouts_build.compute.step_facts import StepState, off_axis, standing
from handouts_build.language import tr, tr_later
from handouts_build.quantities import Quantity, Rule, exact, millimetres, print_quantity, quantity
from handouts_build.schema import PartKeys, StepKeys
from handouts_build.sheet import Blank, SpeedLimit
from handouts_build.sheet.findings import Level
from handouts_build.tables import COMMON_PRACTICE, MANUAL, speed_row
from handouts_build.trade import CHAPTERS

__all__ = ["Turning", "declared_uneven", "declared_weak", "drills", "operations", "speed_limit", "too_fast"]

_ROUGHED = frozenset({"roughing"})
_TURNED = frozenset(
    {
        "spindle turning", "faceplate turning", "off-axis turning", "cross-axis turning", "reverse turning",
        "hollowing", "boring", "grooving", "threading", "texturing",
    }
)  # fmt: skip
"""Work that a lathe manual's table calls a general cut, facing among it; parting, sanding and drilling have no row."""
_UNEVEN_SHAPES = {
    "out of balance": tr_later("the wood is out of balance"),
    "not yet round": tr_later("the wood is not yet round"),
    "natural edge": tr_later("the wood has a natural edge"),
}
_WEAK_SHAPES = {
    "slender": tr_later("the work is slender"),
    "thin wall": tr_later("the wall is thin"),
    "open work": tr_later("the work is open"),
    "broken edge": tr_later("the edge is broken"),
    "segmented": tr_later("the wood is glued up"),
}
_WEAK_CONDITIONS = {
    "green": tr_later("the wood is green"),
    "punky": tr_later("the wood is soft in places"),
    "spalted": tr_later("the wood is spalted"),
    "repaired": tr_later("the wood is repaired"),
    "bark inclusion": tr_later("there is bark in the wood"),
    "loose knots": tr_later("there are loose knots in the wood"),
    "burl": tr_later("the wood is a burl"),
}
_WEAK_HOLDS = {
    "jam chuck": tr_later("a jam chuck holds by friction"),
    "friction drive": tr_later("pressure alone drives the work"),
    "vacuum chuck": tr_later("a vacuum holds the work"),
    "wide jaws": tr_later("pads hold the work"),
    "double-sided tape": tr_later("tape holds the work"),
    "hot-melt glue": tr_later("hot-melt glue holds the work"),
}


@dataclass(frozen=True)
class Turning:
    """The wood of one step, while it turns."""

    swing_mm: float
    """How wide it turns as the step begins."""
    operations: frozenset[str]
    """The cuts that the lathe manual's table tells apart: roughing, general."""
    uneven: str = ""
    """Why it is out of balance or not round, to be said by `tr`; empty where it is round and centered."""
    square: bool = False
    """Whether all that is the matter is the corners of a square about its own middle."""
    weak: str = ""
    """Why the work or its hold is weak, to be said by `tr`."""
    chases: bool = False
    """Whether a thread is cut by hand."""
    bit_mm: float | None = None
    """The largest bit that drills along the axis."""
    lathe_rpm: float | None = None
    """The lathe's fastest speed, where the shop says it."""


@dataclass(frozen=True)
class _Bound:
    """One of the bounds."""

    rpm: Quantity
    because: str
    source: str
    """Id in the table of sources."""


def operations(step: StepKeys, *, roughs: bool = False, turns: bool = False) -> frozenset[str]:
    """The cuts of a step that the lathe manual's table has rows for.

    Args:
        step: Its keys.
        roughs: Whether the solid shows that it roughs.
        turns: Whether the solid shows that a tool on the rest cuts.
    """
    roughs = roughs or not _ROUGHED.isdisjoint(step.work)
    turns = turns or not _TURNED.isdisjoint(step.work)
    return frozenset({"roughing"} if roughs else ()) | frozenset({"general"} if turns else ())


def drills(step: StepKeys) -> bool:
    """Whether the step says that a bit drills along the axis."""
    return "drilling" in step.work or any("bit" in tool.lower().split() for tool in step.tools)


def declared_uneven(step: StepKeys, now: StepState) -> str:
    """Why the author's words call the wood out of balance or not round, as a sentence has it; empty if they do not.

    Args:
        step: Its keys.
        now: How the work stands.
    """
    said = [why for word, why in _UNEVEN_SHAPES.items() if word in step.shape]
    said += [tr_later("the wood is cracked")] if "cracked" in now.conditions else []
    said += [tr_later("the wood turns off its own axis")] if off_axis(now.hold) else []
    said += [tr_later("the wood turns across its own axis")] if now.hold is not None and now.hold.written("in") else []
    return said[0] if said else ""


def declared_weak(step: StepKeys, now: StepState, blank: Blank) -> str:
    """Why the author's words call the work or its hold weak, as a sentence has it; empty if they do not.

    Args:
        step: Its keys.
        now: How the work stands.
        blank: The part's, worked out: a glued-up one is weak whether that is said or not.
    """
    held = now.hold.by if now.hold is not None else ()
    said = [why for word, why in _WEAK_HOLDS.items() if word in held]
    shapes = {*step.shape, *(("segmented",) if is_glued(blank) else ())}
    said += [why for word, why in _WEAK_SHAPES.items() if word in shapes]
    said += [why for word, why in _WEAK_CONDITIONS.items() if word in now.conditions]
    return said[0] if said else ""


def of_blank(
    part: PartKeys, step: StepKeys, *, blank: Blank, bits_mm: Sequence[float], lathe_rpm: float | None
) -> Turning | None:
    """The wood of a step as its blank shows it, for a part that is carried as no solid; None where the lathe stands.

    Args:
        part: The part's keys.
        step: The step's keys.
        blank: The part's, worked out.
        bits_mm: Diameters of the bits that the step's workings name, mm.
        lathe_rpm: The lathe's fastest speed, turns a minute.
    """
    now = standing(part, step)
    if not now.turning:
        return None
    return Turning(
        swing_mm=swing_mm(blank),
        operations=operations(step),
        uneven=declared_uneven(step, now),
        weak=declared_weak(step, now, blank),
        chases="threading" in step.work,
        bit_mm=max(bits_mm, default=None) if drills(step) else None,
        lathe_rpm=lathe_rpm,
    )


def speed_limit(turning: Turning, rule: Rule) -> SpeedLimit:
    """The least of the bounds, as the sheet carries it.

    Args:
        turning: The wood of the step.
        rule: For printing.
    """
    least = _least(turning, rule)
    return SpeedLimit(least.rpm, exact(least.rpm, rule.lead), least.because, source_of(least.source))


def too_fast(turning: Turning, speed: Quantity, rule: Rule) -> tuple[Level, str, str] | None:
    """Gravity, message and remedy where a speed exceeds a bound; None where it does not.

    Args:
        turning: The wood of the step.
        speed: The author's, turns a minute.
        rule: For printing.
    """
    # What the lathe cannot turn is the workpiece's to judge.
    least = _least(turning, rule, lathe=False)
    if speed <= least.rpm:
        return None
    level = Level.STOP if speed >= 2 * _law("speed", "high", diameter=millimetres(turning.swing_mm)) else Level.MIND
    sentence = tr(
        "{speed} is over the {most} that this step must not exceed: {because}",
        speed=exact(speed, rule.lead), most=exact(least.rpm, rule.lead), because=least.because,
    )  # fmt: skip
    return level, sentence, tr("choose that speed or a slower one, and begin at the lathe's slowest")


def _least(turning: Turning, rule: Rule, *, lathe: bool = True) -> _Bound:
    """The bound that is least; of several alike the first, which says most of the wood."""
    return min(_bounds(turning, rule, lathe=lathe), key=lambda bound: float(bound.rpm.magnitude))


def _bounds(turning: Turning, rule: Rule, *, lathe: bool) -> Iterator[_Bound]:
    across = millimetres(turning.swing_mm)
    wide = print_quantity(across, rule)
    if turning.uneven and not turning.square:
        because = tr("{uneven} and swings {wide}", uneven=tr(turning.uneven), wide=wide)
        yield _Bound(_law("speed", "start", diameter=across), because, "start-slow")
    if turning.weak:
        because = tr("{weak}, and it swings {wide}", weak=tr(turning.weak), wide=wide)
        yield _Bound(_law("speed", "weak", diameter=across), because, "weak-work")
    if turning.bit_mm is not None:
        bit = millimetres(turning.bit_mm)
        because = tr("the bit is {wide}", wide=print_quantity(bit, rule))
        yield _Bound(_law("drilling", "speed", bit=bit), because, "bit-speed")
    if turning.chases:
        yield _Bound(_chasing(), tr("a thread is cut"), "thread-speed")
    for operation in sorted(turning.operations, reverse=True):
        row = speed_row(MANUAL, diameter_mm=turning.swing_mm, operation=operation)
        if row is not None and row.rpm_high is not None:
            because = (
                tr("one lathe's manual, for roughing where it swings {wide}", wide=wide)
                if operation == "roughing"
                else tr("one lathe's manual, for turning where it swings {wide}", wide=wide)
            )
            yield _Bound(quantity(row.rpm_high, "rpm"), because, "S-LATHE")
    high = tr("diameter times rpm, where it swings {wide}", wide=wide)
    yield _Bound(_law("speed", "high", diameter=across), high, "diameter-times-rpm")
    if lathe and turning.lathe_rpm is not None:
        yield _Bound(quantity(turning.lathe_rpm, "rpm"), tr("the lathe turns no faster"), COMMON_PRACTICE)


def _chasing() -> Quantity:
    """How fast a thread is chased at the most."""
    return next(law for law in CHAPTERS["threads"].laws if law.name == "chasing")()


def _law(chapter: str, name: str, **given: Quantity) -> Quantity:
    """A result of a chapter of the trade."""
    return CHAPTERS[chapter].work(**given)[name]
