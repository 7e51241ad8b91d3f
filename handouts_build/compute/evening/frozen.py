"""The plan as it was when its run sheet was printed: what is kept of it, and how it is found again.

This module owns which facts a plan follows from besides times, and a checksum of them:
where one of them changed, the plan is made anew. Times and what is live are kept, so
that stopwatch, page and paper say the same however many runs come after.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping

from handouts_build.compute.steps import Timed
from handouts_build.schema import DemonstrationKeys, FrozenPlanKeys, FrozenStepKeys
from handouts_build.sheet import Step
from handouts_build.sheet.evening import PlannedStep
from handouts_build.trade.timing import Estimate

__all__ = ["checksum", "frozen_steps", "live_steps", "planned_steps", "times"]

_ASKED = {
    "opening", "safety_talk", "hands_on", "slot", "break_", "break_after", "questions", "confidence", "must_see",
    "ready_made", "left_out", "order",
}  # fmt: skip
"""The keys of a demonstration's file that its plan follows from. Its day and hour only shift it."""


def checksum(names: Mapping[str, Step], asked: DemonstrationKeys) -> str:
    """A checksum of all that a plan follows from but times and the day.

    Args:
        names: Steps by name.
        asked: What the demonstration's file says.
    """
    steps = [(name, step.number, step.part, step.show, step.worth) for name, step in names.items()]
    said = {key: str(getattr(asked, key)) for key in sorted(_ASKED)}
    return hashlib.sha256(json.dumps([steps, said]).encode()).hexdigest()[:16]


def times(frozen: FrozenPlanKeys) -> dict[str, Timed]:
    """How long each step was expected to take when the plan was printed."""
    return {
        step.step: Timed(
            Estimate(step.live, step.live_spread**2),
            Estimate(step.told, step.told_spread**2),
            step.live_runs,
            step.told_runs,
        )
        for step in frozen.steps
    }


def live_steps(frozen: FrozenPlanKeys) -> frozenset[str]:
    """Names of the steps that were to be turned before the audience."""
    return frozenset(step.step for step in frozen.steps if step.shown == "live")


def planned_steps(live: Mapping[str, bool], times: Mapping[str, Timed]) -> tuple[PlannedStep, ...]:
    """The steps that are shown as they are to be frozen.

    Args:
        live: For each by name, whether it is turned before the audience.
        times: How long each takes.
    """
    return tuple(
        PlannedStep(
            name,
            shown,
            (times[name].live.mean, times[name].live.sd, times[name].live_runs),
            (times[name].told.mean, times[name].told.sd, times[name].told_runs),
        )
        for name, shown in live.items()
    )


def frozen_steps(steps: Iterable[PlannedStep]) -> list[FrozenStepKeys]:
    """The same as they are written down."""
    return [
        FrozenStepKeys.model_validate(
            {
                "step": step.name,
                "shown": "live" if step.live else "told",
                **dict(zip(("live", "live spread", "live runs"), step.turned, strict=True)),
                **dict(zip(("told", "told spread", "told runs"), step.telling, strict=True)),
            }
        )
        for step in steps
    ]
