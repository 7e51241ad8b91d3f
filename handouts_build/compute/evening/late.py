"""Looks at the clock: how late one may be, and what can then be told instead of turned.

This module owns when they stand and what they offer. What rests on what is the
chain's: nothing is offered that a later live step lacks.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from datetime import datetime

from handouts_build.compute.evening.chain import Chain, ShownStep
from handouts_build.compute.evening.moments import later
from handouts_build.sheet.evening import Checkpoint, Drop, PlanLine
from handouts_build.trade.timing import certain, deviations, total

__all__ = ["checkpoints"]

_MOST_DROPS = 3
_AFTER = ("hands-on", "questions")
"""What stands after the room for the steps."""
_SHARES = (0.25, 0.5, 0.75)


def checkpoints(
    steps: Sequence[ShownStep], lines: Sequence[PlanLine], chain: Chain, *, room_end: datetime, confidence: float
) -> tuple[Checkpoint, ...]:
    """Looks at the clock where the plan can still be changed: about a quarter, half and three quarters through.

    Args:
        steps: Those that are shown.
        lines: The plan's, in order.
        chain: What rests on what.
        room_end: When questions must begin.
        confidence: The chance that was asked for.
    """
    z = deviations(confidence)
    shown = {step.name: step for step in steps}
    whole = sum(line.minutes for line in lines if line.kind not in _AFTER)
    made: dict[str, Checkpoint] = {}
    for share in _SHARES:
        gone, best = 0.0, (whole, -1)
        for index, line in enumerate(lines):
            if line.kind == "step" and index:
                best = min(best, (abs(gone - share * whole), index))
            gone += line.minutes
        index = best[1]
        if index < 0:
            continue
        rest = [line for line in lines[index:] if line.kind not in _AFTER]
        left = total(shown[line.name].estimate if line.kind == "step" else certain(line.minutes) for line in rest)
        made[lines[index].name] = Checkpoint(
            lines[index].name,
            lines[index].starts,
            later(room_end, -(left.mean + z * left.sd)),
            _drops([shown[line.name] for line in rest if line.kind == "step"], chain),
            sum(line.minutes for line in rest if line.kind == "break"),
        )
    return tuple(made.values())


def _drops(rest: Sequence[ShownStep], chain: Chain) -> tuple[Drop, ...]:
    """What may be dropped, what is worth least first: a step only together with those that rest on it.

    Where some other step would gain more than any of these, it is offered last.
    """
    live = {step.name: step for step in rest if step.live}
    gone: set[str] = set()
    made: list[Drop] = []
    while len(made) < _MOST_DROPS and (groups := _groups(live, chain, gone)):
        made.append(_drop(min(groups, key=_by_worth), live, chain))
        gone.update(made[-1].names)
    if groups := _groups(live, chain, gone):
        most = max(groups, key=_saves)
        if _saves(most) > max((drop.saves for drop in made), default=0.0):
            made.append(_drop(most, live, chain))
    return tuple(made)


def _groups(live: Mapping[str, ShownStep], chain: Chain, gone: Set[str]) -> list[list[ShownStep]]:
    """What may still be dropped together, where that saves a minute and nothing of it must be seen."""
    found = []
    for name, step in live.items():
        if name in gone:
            continue
        group = [step, *(live[other] for other in live if other in chain.resting[name] - gone)]
        if _saves(group) >= 1 and not any(each.must for each in group):
            found.append(group)
    return found


def _saves(group: Sequence[ShownStep]) -> float:
    return sum(step.saves for step in group)


def _by_worth(group: Sequence[ShownStep]) -> tuple[int, float]:
    return sum(step.step.worth for step in group), -_saves(group)


def _drop(group: Sequence[ShownStep], live: Mapping[str, ShownStep], chain: Chain) -> Drop:
    dropped = {step.name for step in group}
    names = tuple(name for name in live if name in dropped)
    piece = chain.following.get(names[-1])
    return Drop(names, _saves(group), str(piece) if piece is not None else "")
