"""The show against the clock: what is live, when each step starts.

This module owns the plan of one demonstration. The arithmetic is the trade's
(`timing`, `choosing`); which piece is in hand is for `evening.chain`, when it is too late
for `evening.late`, and how it came about, in sentences, for `evening.explain`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence, Set
from datetime import datetime
from itertools import pairwise

from handouts_build.compute.evening.chain import LEFT_OUT, Chain, ShownStep, chained
from handouts_build.compute.evening.explain import METHOD, says, unsaid
from handouts_build.compute.evening.late import checkpoints
from handouts_build.compute.evening.moments import later
from handouts_build.compute.steps import Timed
from handouts_build.quantities import decimal
from handouts_build.schema import Demonstration
from handouts_build.sheet import Sheet, Step
from handouts_build.sheet.evening import Plan, PlanLine
from handouts_build.trade.choosing import Candidate, choose
from handouts_build.trade.timing import certain, chance_within, total

__all__ = ["planned"]


def planned(
    sheet: Sheet,
    asked: Demonstration,
    *,
    starts: datetime,
    names: Mapping[str, Step],
    times: Mapping[str, Timed],
    makes: Set[int] = frozenset(),
) -> Plan:
    """The plan of a demonstration whose names and times have been checked.

    Args:
        sheet: The project.
        asked: What the demonstration's file says.
        starts: When it starts, aware.
        names: Steps by name.
        times: How long each takes.
        makes: Numbers of the steps that take wood away.
    """
    pause, questions = (0.0 if one is None else float(one.magnitude) for one in (asked.break_, asked.questions))
    slot = float(asked.slot.magnitude)
    room = slot - pause - questions
    confidence = asked.confidence / 100
    every = {name: names[name] for name in _in_order(names, asked.order)}
    kept = {name: step for name, step in every.items() if name not in asked.left_out}
    candidates = [_candidate(name, step, times[name], asked) for name, step in kept.items()]
    choice = choose(candidates, room, confidence)
    by_name = {
        name: _shown(name, step, times[name], candidate, live, asked)
        for (name, step), candidate, live in zip(kept.items(), candidates, choice.live, strict=True)
    }
    steps = list(by_name.values())
    # What is left out is not shown, but it has been done to the piece that the next step is shown on.
    chain = chained(
        sheet, [by_name.get(name) or ShownStep(name, step, LEFT_OUT) for name, step in every.items()], makes
    )
    lines = _lines(steps, chain, asked, starts=starts, pause=pause, questions=questions)
    whole = total((choice.estimate, certain(pause + questions)))
    return Plan(
        lines=lines,
        checkpoints=checkpoints(steps, lines, chain, room_end=later(starts, slot - questions), confidence=confidence),
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
        method=(*METHOD, *unsaid(steps)),
    )


def _in_order(names: Iterable[str], wanted: Sequence[str]) -> list[str]:
    """Every name, each of those wanted right after the one wanted before it."""
    made = [name for name in names if name not in wanted[1:]]
    for before, name in pairwise(wanted):
        made.insert(made.index(before) + 1, name)
    return made


def _candidate(name: str, step: Step, time: Timed, asked: Demonstration) -> Candidate:
    fixed: bool | None = None
    if name in asked.must_see:
        fixed = True
    elif name in asked.ready_made or step.show != "live":
        fixed = False
    return Candidate(time.live, time.told, float(step.worth), fixed)


def _shown(name: str, step: Step, time: Timed, candidate: Candidate, live: bool, asked: Demonstration) -> ShownStep:
    shown = "live" if live else "talk" if step.show == "talk" and name not in asked.ready_made else "ready-made"
    saves = time.live.mean - time.told.mean
    if live:
        why = "must be seen" if candidate.fixed else ""
    elif candidate.fixed is None:
        why = f"so that the show fits: saves {decimal(saves, 0)} min, worth {step.worth} of 5"
    else:
        why = "as this demonstration asks" if name in asked.ready_made else ""
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
    steps: Sequence[ShownStep], chain: Chain, asked: Demonstration, *, starts: datetime, pause: float, questions: float
) -> tuple[PlanLine, ...]:
    """Steps, break and questions one after the other."""
    rest_after = _break_after(steps, asked) if pause else -1
    lines: list[PlanLine] = []
    gone = 0.0
    for index, one in enumerate(steps):
        lines.append(
            PlanLine(
                kind="step",
                name=one.name,
                starts=later(starts, gone),
                minutes=one.estimate.mean,
                sd=one.estimate.sd,
                shown=one.shown,
                why=one.why,
                step=one.step,
                camera=_camera(one.step.camera, asked),
                cue=_cue(one.step),
                caution=_caution(one.step) if one.live else "",
                brought=chain.brought.get(one.name, ()),
                told_on=one.name in chain.told_on,
                runs=one.runs,
                known=one.known,
            )
        )
        gone += one.estimate.mean
        if index == rest_after:
            lines.append(PlanLine("break", "Break", later(starts, gone), pause, 0.0))
            gone += pause
    if questions:
        lines.append(PlanLine("questions", "Questions", later(starts, gone), questions, 0.0))
    return tuple(lines)


def _break_after(steps: Sequence[ShownStep], asked: Demonstration) -> int:
    """The step the break follows: the one asked for, or the one that ends nearest the middle."""
    for index, one in enumerate(steps):
        if one.name == asked.break_after:
            return index
    whole = sum(one.estimate.mean for one in steps)
    ends = [sum(one.estimate.mean for one in steps[: index + 1]) for index in range(len(steps) - 1)]
    return min(range(len(ends)), key=lambda index: abs(ends[index] - whole / 2), default=-1)


def _camera(wanted: str, asked: Demonstration) -> str:
    return wanted if not asked.cameras or wanted in asked.cameras or not wanted else asked.cameras[0]


def _text(paragraphs: Sequence[Sequence[object]]) -> str:
    return " ".join("".join(getattr(run, "text", "") for run in one) for one in paragraphs)


def _cue(step: Step) -> str:
    """The first sentence of every paragraph of what is said: a paragraph is one thing to do."""
    # Spaces that hold a number and its unit together stay.
    return " ".join(_first(re.sub(r"[ \t\n]+", " ", _text([one])).strip()) for one in step.say)


def _first(text: str) -> str:
    """A text's first sentence."""
    for at, sign in enumerate(text):
        if sign in ".:!?" and at > 20 and text[at + 1 : at + 2] in ("", " "):
            return text[:at] + ("." if sign == ":" else sign)
    return text


def _caution(step: Step) -> str:
    """What to say aloud: the author's caution for the step, or what the gravest box says to do."""
    if step.care:
        return _text(step.care)
    fresh = [box for box in step.boxes if box.id in step.new_boxes] or list(step.boxes)
    return f"{fresh[0].title}: {fresh[0].do[0]}" if fresh and fresh[0].do else ""
