"""The show against the clock: what is live, when each step starts.

This module owns the plan of one demonstration. The arithmetic is the trade's
(`timing`, `choosing`); which piece is in hand is for `evening.chain`, when it is too late
for `evening.late`, and how it came about, in sentences, for `evening.explain`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence, Set
from datetime import datetime
from itertools import pairwise

from handouts_build.compute.evening.chain import LEFT_OUT, Chain, ShownStep, chained
from handouts_build.compute.evening.cues import cue, joined
from handouts_build.compute.evening.explain import METHOD, says, unsaid
from handouts_build.compute.evening.frozen import checksum, planned_steps
from handouts_build.compute.evening.late import checkpoints
from handouts_build.compute.evening.moments import later
from handouts_build.compute.steps import Timed
from handouts_build.language import tr, tr_later
from handouts_build.quantities import decimal
from handouts_build.schema import DemonstrationKeys
from handouts_build.sheet import Sheet, Step
from handouts_build.sheet.evening import Plan, PlanLine
from handouts_build.trade.choosing import Candidate, as_settled, choose
from handouts_build.trade.timing import certain, chance_within, total

__all__ = ["planned"]

_SIGNALS = ("danger", "warning", "caution", "notice")
"""Gravest first, as ANSI Z535 orders them."""
_TOLD = 4
"""Cautions that a safety talk can hold: common practice, no published source."""
_CALLED = {
    "opening": tr_later("Opening"),
    "safety talk": tr_later("Safety talk"),
    "break": tr_later("Break"),
    "hands-on": tr_later("Hands-on"),
    "questions": tr_later("Questions"),
}
"""What a line is called that is no step: recorded runs know it by that, and `tr` says it where it is shown."""


def planned(
    sheet: Sheet,
    asked: DemonstrationKeys,
    *,
    starts: datetime,
    names: Mapping[str, Step],
    times: Mapping[str, Timed],
    makes: Set[int] = frozenset(),
    live: Set[str] | None = None,
) -> Plan:
    """The plan of a demonstration whose names and times have been checked.

    Args:
        sheet: The project.
        asked: What the demonstration's file says.
        starts: When it starts, aware.
        names: Steps by name.
        times: How long each takes.
        makes: Numbers of the steps that take wood away.
        live: Names of the steps to be turned, where that is settled; None where it is to be chosen.
    """
    opening, talk, pause, hands_on, questions = (
        0.0 if time is None else float(time.magnitude)
        for time in (asked.opening, asked.safety_talk, asked.break_, asked.hands_on, asked.questions)
    )
    slot = float(asked.slot.magnitude)
    beside = opening + talk + pause + hands_on + questions
    room = slot - beside
    confidence = asked.confidence / 100
    every = {name: names[name] for name in _in_order(names, asked.order)}
    kept = {name: step for name, step in every.items() if name not in asked.left_out}
    candidates = [_candidate(name, step, times[name], asked) for name, step in kept.items()]
    if live is None:
        choice = choose(candidates, room, confidence)
    else:
        choice = as_settled(candidates, [name in live for name in kept], room, confidence)
    by_name = {
        name: _shown(name, step, times[name], candidate, live, asked)
        for (name, step), candidate, live in zip(kept.items(), candidates, choice.live, strict=True)
    }
    steps = list(by_name.values())
    # What is left out is not shown, but it has been done to the piece that the next step is shown on.
    chain = chained(
        sheet, [by_name.get(name) or ShownStep(name, step, LEFT_OUT) for name, step in every.items()], makes
    )
    lines = _lines(steps, chain, asked, starts=starts, before=(opening, talk), pause=pause, after=(hands_on, questions))
    whole = total((choice.estimate, certain(beside)))
    return Plan(
        lines=lines,
        checkpoints=checkpoints(
            steps, lines, chain, room_end=later(starts, slot - hands_on - questions), confidence=confidence
        ),
        ends=later(starts, slot),
        slot=slot,
        mean=whole.mean,
        sd=whole.sd,
        chance=chance_within(whole, slot),
        confidence=confidence,
        fits=choice.fits,
        over=later(starts, whole.mean),
        room=room,
        says=tuple(says(steps, candidates, choice, room, asked)),
        method=(*map(tr, METHOD), *unsaid(steps)),
        steps=planned_steps({name: step.live for name, step in by_name.items()}, times),
        checksum=checksum(names, asked),
    )


def _in_order(names: Iterable[str], wanted: Sequence[str]) -> list[str]:
    """Every name, each of those wanted right after the one wanted before it."""
    made = [name for name in names if name not in wanted[1:]]
    for before, name in pairwise(wanted):
        made.insert(made.index(before) + 1, name)
    return made


def _candidate(name: str, step: Step, time: Timed, asked: DemonstrationKeys) -> Candidate:
    fixed: bool | None = None
    if name in asked.must_see:
        fixed = True
    elif name in asked.ready_made or step.show != "live":
        fixed = False
    return Candidate(time.live, time.told, float(step.worth), fixed)


def _shown(name: str, step: Step, time: Timed, candidate: Candidate, live: bool, asked: DemonstrationKeys) -> ShownStep:
    shown = "live" if live else "talk" if step.show == "talk" and name not in asked.ready_made else "ready-made"
    saves = time.live.mean - time.told.mean
    if live:
        why = tr("must be seen") if candidate.fixed else ""
    elif candidate.fixed is None:
        why = tr(
            "so that the show fits: saves {saves} min, worth {worth} of 5", saves=decimal(saves, 0), worth=step.worth
        )
    else:
        why = tr("as this demonstration asks") if name in asked.ready_made else ""
    runs = time.live_runs if live else time.told_runs
    return ShownStep(
        name,
        step,
        shown,
        why,
        estimate=time.live if live else time.told,
        runs=runs,
        saves=saves if live and candidate.fixed is None and saves > 0 else 0.0,
        must=name in asked.must_see,
        known=step.minutes is not None or runs > 0 or (not live and step.told_minutes is not None),
    )


def _lines(
    steps: Sequence[ShownStep],
    chain: Chain,
    asked: DemonstrationKeys,
    *,
    starts: datetime,
    before: tuple[float, float],
    pause: float,
    after: tuple[float, float],
) -> tuple[PlanLine, ...]:
    """Opening, safety talk, steps, break and questions one after the other."""
    rest_after = _break_after(steps, asked) if pause else -1
    lines: list[PlanLine] = []
    gone = 0.0
    for kind, minutes in zip(("opening", "safety talk"), before, strict=True):
        if minutes:
            says = _safety_talk(steps) if kind == "safety talk" else ""
            lines.append(PlanLine(kind, _CALLED[kind], later(starts, gone), minutes, 0.0, cue=says))
            gone += minutes
    for index, shown in enumerate(steps):
        lines.append(
            PlanLine(
                kind="step",
                name=shown.name,
                starts=later(starts, gone),
                minutes=shown.estimate.mean,
                sd=shown.estimate.sd,
                shown=shown.shown,
                why=shown.why,
                step=shown.step,
                camera=_camera(shown.step.camera, asked),
                cue=cue(shown.step),
                caution=_caution(shown.step) if shown.live else "",
                brought=chain.brought.get(shown.name, ()),
                told_on=shown.name in chain.told_on,
                runs=shown.runs,
                known=shown.known,
            )
        )
        gone += shown.estimate.mean
        if index == rest_after:
            lines.append(PlanLine("break", _CALLED["break"], later(starts, gone), pause, 0.0))
            gone += pause
    for kind, minutes in zip(("hands-on", "questions"), after, strict=True):
        if minutes:
            lines.append(PlanLine(kind, _CALLED[kind], later(starts, gone), minutes, 0.0))
            gone += minutes
    return tuple(lines)


def _safety_talk(steps: Sequence[ShownStep]) -> str:
    """What to say before anything turns: what the gravest boxes of the live steps say to do, each once."""
    boxes = {box.id: box for step in steps if step.live for box in step.step.boxes if box.do}
    gravest = sorted(boxes.values(), key=lambda box: _SIGNALS.index(box.signal))[:_TOLD]
    return " ".join(tr("{title}: {what}", title=box.title, what=box.do[0]) for box in gravest)


def _break_after(steps: Sequence[ShownStep], asked: DemonstrationKeys) -> int:
    """The step the break follows: the one asked for, or the one that ends nearest the middle."""
    for index, shown in enumerate(steps):
        if shown.name == asked.break_after:
            return index
    whole = sum(shown.estimate.mean for shown in steps)
    ends = [sum(shown.estimate.mean for shown in steps[: index + 1]) for index in range(len(steps) - 1)]
    return min(range(len(ends)), key=lambda index: abs(ends[index] - whole / 2), default=-1)


def _camera(wanted: str, asked: DemonstrationKeys) -> str:
    return wanted if not asked.cameras or wanted in asked.cameras or not wanted else asked.cameras[0]


def _caution(step: Step) -> str:
    """What to say aloud: the author's caution for the step, or what the gravest box says to do."""
    if step.care:
        return joined(step.care)
    fresh = [box for box in step.boxes if box.id in step.new_boxes] or list(step.boxes)
    return tr("{title}: {what}", title=fresh[0].title, what=fresh[0].do[0]) if fresh and fresh[0].do else ""
