"""Looks at the clock: how late one may be, and what can then be told instead of turned.

This module owns when they stand and what they offer. What rests on what is the
chain's: nothing is offered that a later live step lacks.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from handouts_build.compute.evening.chain import Chain, ShownStep
from handouts_build.compute.evening.moments import later
from handouts_build.sheet.evening import Checkpoint, Drop, PlanLine
from handouts_build.trade.timing import certain, deviations, total

__all__ = ["checkpoints"]

_MOST_DROPS = 3
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
    shown = {one.name: one for one in steps}
    whole = sum(line.minutes for line in lines if line.kind != "questions")
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
        rest = [line for line in lines[index:] if line.kind != "questions"]
        left = total(shown[line.name].estimate if line.kind == "step" else certain(line.minutes) for line in rest)
        made[lines[index].name] = Checkpoint(
            lines[index].name,
            lines[index].starts,
            later(room_end, -(left.mean + z * left.sd)),
            _drops([shown[line.name] for line in rest if line.kind == "step"], chain),
        )
    return tuple(made.values())


def _drops(rest: Sequence[ShownStep], chain: Chain) -> tuple[Drop, ...]:
    """What may be dropped, what is worth least first: a step only together with those that rest on it."""
    live = {one.name: one for one in rest if one.live}
    gone: set[str] = set()
    made: list[Drop] = []
    while len(made) < _MOST_DROPS:
        groups = []
        for name, one in live.items():
            if name in gone:
                continue
            group = [one, *(live[other] for other in live if other in chain.resting[name] - gone)]
            saves = sum(each.saves for each in group)
            if saves >= 1 and not any(each.must for each in group):
                groups.append((sum(each.step.worth for each in group), -saves, group))
        if not groups:
            break
        _, saves, group = min(groups, key=lambda one: one[:2])
        names = tuple(one.name for one in live.values() if one in group)
        piece = chain.following.get(names[-1])
        made.append(Drop(names, -saves, str(piece) if piece is not None else ""))
        gone.update(names)
    return tuple(made)
