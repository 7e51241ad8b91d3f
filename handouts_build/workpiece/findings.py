"""What a cut does to the wood between cuts, judged.

This module owns the verdicts on webs, break-throughs, meetings, bits and loose
pieces. The distances come from `gaps`; the limits are told.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from handouts_build.workpiece.breach import breaches
from handouts_build.workpiece.cut import Hook, Made, Nature
from handouts_build.workpiece.cuts.hollow import Hollow
from handouts_build.workpiece.gaps import gaps_between, gaps_within, outer_webs
from handouts_build.workpiece.holds import End
from handouts_build.workpiece.solid import Solid
from handouts_build.workpiece.verdicts import Code, Limits, ShopLimits, Subject, Thing, Verdict, cut_named
from handouts_build.workpiece.web import MEETS_MM, OUTSIDE, Web

__all__ = ["Meetings", "StepFindings", "bit_too_short", "missing_meetings", "narrow_mouth", "unreached", "walls"]

Meetings = dict[frozenset[str], float]
"""Least gap, mm, between two cuts by the author's names, as far as it is known."""

_ENOUGH = 5
"""Break-throughs of one step after which its walls are no longer looked at."""
NOTHING_MM3 = 0.01
"""Less than this is no cut, but two faces that are one."""


@dataclass
class StepFindings:
    """What one step finds, gathered cut by cut."""

    meetings: Meetings
    breached: set[str]
    """Holes whose walls were found broken, so that each is told once."""
    webs: list[Web] = field(default_factory=list)
    verdicts: list[Verdict] = field(default_factory=list)

    @property
    def enough(self) -> bool:
        """Whether so much is broken that the author has more than enough to put right before the rest is looked at."""
        return sum(verdict.code is Code.UNMEANT_BREAK_THROUGH for verdict in self.verdicts) >= _ENOUGH


def bit_too_short(new: Made, *, bit_mm: float, depth_mm: float, shop: ShopLimits) -> Iterator[Verdict]:
    """Whether the longest bit of a hole's diameter reaches its floor.

    Args:
        new: The hole as made.
        bit_mm: Diameter of the bit, mm.
        depth_mm: How far the bit has to reach, mm.
        shop: What the shop has.

    Returns:
        A verdict where the shop has bits of that diameter and none is long enough.
    """
    reaches = [bit.reach_mm for bit in shop.bits if abs(bit.diameter_mm - bit_mm) < 0.05]
    if reaches and max(reaches) < depth_mm - 1e-6:
        numbers = {"need_mm": depth_mm, "have_mm": max(reaches), "bit_mm": bit_mm}
        yield Verdict(Code.BIT_TOO_SHORT, (cut_named(new.name),), numbers, new.step, new.cut)


def narrow_mouth(cut: Hollow, new: Made, limits: Limits) -> Iterator[Verdict]:
    """Whether a tool strong enough for a hollow's depth passes its mouth.

    A tool that reaches d past its rest is to be d / 15 thick at least, and one that undercuts
    is bent and needs half as much room again. Common practice, no published source.

    Args:
        cut: The hollow as planned.
        new: The same as made.
        limits: Where minding begins.
    """
    outline = cut.outline_mm
    mouth = 2 * (outline[0] if cut.end is End.LEFT else outline[-1])[1]
    deep, wide = outline[-1][0] - outline[0][0], 2 * max(radius for _, radius in outline)
    need = max(limits.mouth_mm, deep / limits.reach) * (1.5 if wide > mouth + MEETS_MM else 1.0)
    if mouth < need:
        numbers = {"mouth_mm": mouth, "deep_mm": deep, "wide_mm": wide, "need_mm": need}
        yield Verdict(Code.NARROW_MOUTH, (cut_named(new.name),), numbers, new.step, new.cut)


def unreached(hook: Hook, new: Made, limits: Limits) -> Iterator[Verdict]:
    """Whether a bent tool passes a mouth that reaches as far out behind it as a cut goes.

    Its bar stands against one side of the mouth, and what is bent out of it has to pass as well. A bar
    that reaches d in is to be d / 15 thick at least, and no thinner than 3 mm. Common practice, no published source.

    Args:
        hook: What the cut asks of a tool.
        new: The cut as made.
        limits: Where minding begins.
    """
    need = hook.out_mm + max(limits.hook_mm, hook.deep_mm / limits.reach)
    if need > hook.mouth_mm:
        numbers = {"mouth_mm": hook.mouth_mm, "need_mm": need, "out_mm": hook.out_mm, "deep_mm": hook.deep_mm}
        yield Verdict(Code.NO_TOOL_REACHES, (cut_named(new.name),), numbers, new.step, new.cut)


def walls(new: Made, made: Sequence[Made], wood: Solid, *, seen: StepFindings, limits: Limits) -> None:
    """ColoredSolid at all the wood that a new cut leaves between itself and the others.

    Args:
        new: The cut just made.
        made: Those before it.
        wood: What is left.
        seen: Added to.
        limits: Where minding begins.
    """
    if seen.enough:
        return
    if new.nature is Nature.INSIDE:
        for old, web in gaps_between(new, made, wood, near_mm=limits.near_mm, ample_mm=limits.web_mm):
            _note(seen.meetings, new, old, web.left_mm)
            seen.webs.append(web)
            meant = new.may_meet(old) if web.left_mm <= MEETS_MM else new.means(old)
            if not meant:
                seen.verdicts += _judged(new, web, limits)
        within = gaps_within(new, wood, near_mm=limits.near_mm, ample_mm=limits.web_mm)
        if within is not None:
            _note(seen.meetings, new, new, within.left_mm)
            seen.webs.append(within)
            if not (new.means(new) or (new.converge and within.left_mm <= MEETS_MM)):
                seen.verdicts += _judged(new, within, limits)
    near = min(limits.near_mm, 2 * limits.web_mm)
    for web in outer_webs(new, made, wood, near_mm=near, ample_mm=limits.web_mm):
        seen.webs.append(web)
        other = next((old for old in made if old.name == web.names[1]), None)
        meant = new.means(other) if other is not None else OUTSIDE in new.meets
        if not meant:
            seen.verdicts += _judged(new, web, limits)
    seen.verdicts += _broken(new, made, wood, seen)


def _note(meetings: Meetings, new: Made, old: Made, gap: float) -> None:
    pair = frozenset({new.base, old.base})
    meetings[pair] = min(gap, meetings.get(pair, gap))


def _judged(new: Made, web: Web, limits: Limits) -> Iterator[Verdict]:
    if web.left_mm <= MEETS_MM:
        yield Verdict(Code.UNMEANT_BREAK_THROUGH, _things(web.names), _places(web), new.step, new.cut, web.at_mm)
    elif web.left_mm < limits.web_mm:
        numbers = {"left_mm": web.left_mm, "limit_mm": limits.web_mm, **_places(web)}
        yield Verdict(Code.THIN_WEB, _things(web.names), numbers, new.step, new.cut, web.at_mm)


def _places(web: Web) -> dict[str, float]:
    """In how many like places a web stands, where it is more than one."""
    return {"places": float(web.places)} if web.places > 1 else {}


def _things(names: tuple[str, str]) -> tuple[Thing, ...]:
    """Cuts, or the outside, which no cut may be called."""
    return tuple(Thing(Subject.OUTSIDE) if name == OUTSIDE else cut_named(name) for name in names)


def _broken(new: Made, made: Sequence[Made], wood: Solid, seen: StepFindings) -> Iterator[Verdict]:
    """Walls of holes that come out where the author did not say so; a cut's holes are told as one."""
    inside = [cut.body for cut in (*made, new) if cut.nature is Nature.INSIDE]
    looked = (new,) if new.nature is Nature.INSIDE else made
    for old in looked:
        other = OUTSIDE if old is new else new.name
        found = [
            breach
            for probe in old.probes
            if probe.name not in seen.breached
            and (breach := breaches(probe, wood, inside, sides=old is not new)) is not None
        ]
        if not found:
            continue
        seen.breached |= {breach.name for breach in found}
        if OUTSIDE in old.meets or (old is not new and old.means(new)):
            continue
        numbers = {"holes": float(len(found))}
        yield Verdict(
            Code.UNMEANT_BREAK_THROUGH, _things((found[0].name, other)), numbers, new.step, new.cut, found[0].at_mm
        )


def missing_meetings(fresh: Sequence[Made], made: Sequence[Made], meetings: Meetings) -> Iterator[Verdict]:
    """Pairs of which a step made one, that are said to meet and do not.

    A name that stands for several cuts is met when one of them is.

    Args:
        fresh: Cuts that the step made.
        made: All cuts so far, those of the step too.
        meetings: Least wood between pairs of cuts that are near each other, mm, by their names.
    """
    seen: set[frozenset[str]] = set()
    for new in fresh:
        for old in made:
            pair = frozenset({new.base, old.base})
            if pair in seen or Nature.OUTSIDE in (new.nature, old.nature) or not new.means(old):
                continue
            if (new is old and len(new.apart) < 2) or new.of in old.features or old.of in new.features:
                continue
            seen.add(pair)
            gap = meetings.get(pair)
            if (gap is not None and gap <= MEETS_MM) or _runs_through(new, old):
                continue
            numbers = {} if gap is None else {"gap_mm": gap}
            first, second = (new, old) if new.says(old) else (old, new)
            yield Verdict(
                Code.MEANT_MEETING_MISSING, _things((first.base, second.base)), numbers, first.step, first.cut
            )


def _runs_through(first: Made, second: Made) -> bool:
    """Whether the later of two cuts goes where the earlier took wood, though a third took the wall between them."""
    earlier, later = sorted((first, second), key=lambda cut: cut.serial)
    return earlier is not later and (later.body & earlier.chips).volume_mm3 > NOTHING_MM3
