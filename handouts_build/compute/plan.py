"""The show against the clock: what is live, when each step starts, when it is too late.

This module owns the plan of one demonstration. The arithmetic is the trade's
(`timing`, `choosing`); what the words on paper look like is for the outputs.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import pairwise

from handouts_build.compute.steps import UNSAID, Timed
from handouts_build.demonstration import Checkpoint, Plan, PlanLine
from handouts_build.quantities import decimal
from handouts_build.schema import Demonstration
from handouts_build.sheet import Sheet, Step
from handouts_build.trade.choosing import Candidate, Choice, choose
from handouts_build.trade.timing import NOTHING, Estimate, certain, chance_within, deviations, total

__all__ = ["planned"]

_METHOD = (
    (
        "Each step has a least, likely and most time. Its mean is (least + 4 × likely + most) / 6 and its variance "
        "((most − least) / 6)², as PERT has it; where only the likely time is given, least is 3/4 and most 3/2 of it."
    ),
    (
        "A recorded run corrects the guess: the guess counts as one more run with a spread of its own, so after n "
        "runs it weighs 1 / (n + 1). Means and variances are added up, and the chance comes from the normal law. "
        "Steps are taken as independent; a bad evening, on which everything goes slowly, is worse than that."
    ),
)
_MOST_DROPS = 3


@dataclass(frozen=True)
class _Shown:
    """A step as it will be shown."""

    name: str
    step: Step
    live: bool
    shown: str
    why: str
    estimate: Estimate
    runs: int
    saves: float
    """Minutes saved by telling it instead; nought where that is not open."""


def planned(
    sheet: Sheet, asked: Demonstration, *, starts: datetime, names: Mapping[str, Step], times: Mapping[str, Timed]
) -> Plan:
    """The plan of a demonstration whose names and times have been checked.

    Args:
        sheet: The project.
        asked: What the demonstration's file says.
        starts: When it starts, aware.
        names: Steps by name.
        times: How long each takes.
    """
    pause, questions = (0.0 if one is None else float(one.magnitude) for one in (asked.break_, asked.questions))
    slot = float(asked.slot.magnitude)
    room = slot - pause - questions
    confidence = asked.confidence / 100
    kept = {name: names[name] for name in _in_order(names, asked.order) if name not in asked.left_out}
    candidates = [_candidate(name, step, times[name], asked) for name, step in kept.items()]
    choice = choose(candidates, room, confidence)
    steps = [
        _shown(name, step, times[name], candidate, live, asked)
        for (name, step), candidate, live in zip(kept.items(), candidates, choice.live, strict=True)
    ]
    lines = _lines(sheet, steps, asked, starts=starts, pause=pause, questions=questions)
    whole = total((choice.estimate, certain(pause + questions)))
    return Plan(
        lines=lines,
        checkpoints=_checkpoints(steps, lines, room_end=_later(starts, slot - questions), confidence=confidence),
        ends=_later(starts, slot),
        slot=slot,
        mean=whole.mean,
        sd=whole.sd,
        chance=chance_within(whole, slot),
        confidence=confidence,
        fits=choice.fits,
        says=tuple(_says(steps, candidates, choice, room, asked)),
        method=(*_METHOD, *_unsaid(steps)),
    )


def _later(moment: datetime, minutes: float) -> datetime:
    """So many minutes later, as a stopwatch counts them: over a change of the clock too."""
    return (moment.astimezone(UTC) + timedelta(minutes=minutes)).astimezone(moment.tzinfo)


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


def _shown(name: str, step: Step, time: Timed, candidate: Candidate, live: bool, asked: Demonstration) -> _Shown:
    shown = "live" if live else "talk" if step.show == "talk" and name not in asked.ready_made else "ready-made"
    saves = time.live.mean - time.told.mean
    if live:
        why = "must be seen" if candidate.fixed else ""
    elif candidate.fixed is None:
        why = f"so that the show fits: saves {decimal(saves, 0)} min, worth {step.worth} of 5"
    else:
        why = "as this demonstration asks" if name in asked.ready_made else ""
    return _Shown(
        name,
        step,
        live,
        shown,
        why,
        time.live if live else time.told,
        time.live_runs if live else time.told_runs,
        saves if live and candidate.fixed is None and saves > 0 else 0.0,
    )


def _lines(
    sheet: Sheet, steps: Sequence[_Shown], asked: Demonstration, *, starts: datetime, pause: float, questions: float
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
                starts=_later(starts, gone),
                minutes=one.estimate.mean,
                sd=one.estimate.sd,
                shown=one.shown,
                why=one.why,
                step=one.step,
                camera=_camera(one.step.camera, asked),
                cue=_cue(one.step),
                caution=_caution(one.step) if one.live else "",
                swap=_swap(sheet, steps, index),
                runs=one.runs,
            )
        )
        gone += one.estimate.mean
        if index == rest_after:
            lines.append(PlanLine("break", "Break", _later(starts, gone), pause, 0.0))
            gone += pause
    if questions:
        lines.append(PlanLine("questions", "Questions", _later(starts, gone), questions, 0.0))
    return tuple(lines)


def _break_after(steps: Sequence[_Shown], asked: Demonstration) -> int:
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


def _swap(sheet: Sheet, steps: Sequence[_Shown], index: int) -> str:
    """The ready-made piece to take up at a step: at the last of several ready-made ones in a row."""
    one = steps[index]
    following = steps[index + 1] if index + 1 < len(steps) else None
    if one.shown != "ready-made":
        return ""
    if following is not None and following.shown == "ready-made" and following.step.part == one.step.part:
        return ""
    part = next(part for part in sheet.parts if part.name == one.step.part)
    return f"{part.title}, done up to and with step {one.step.number}"


def _checkpoints(
    steps: Sequence[_Shown], lines: Sequence[PlanLine], *, room_end: datetime, confidence: float
) -> tuple[Checkpoint, ...]:
    """Looks at the clock where the plan can still be changed: about a quarter, half and three quarters through."""
    z = deviations(confidence)
    shown = {one.name: one for one in steps}
    whole = sum(line.minutes for line in lines if line.kind != "questions")
    made: dict[str, Checkpoint] = {}
    for share in (0.25, 0.5, 0.75):
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
        drops = sorted(
            (one for line in rest if line.kind == "step" and (one := shown[line.name]).saves >= 1),
            key=lambda one: (one.step.worth, -one.saves),
        )
        made[lines[index].name] = Checkpoint(
            lines[index].name,
            lines[index].starts,
            _later(room_end, -(left.mean + z * left.sd)),
            tuple((one.name, one.saves) for one in drops[:_MOST_DROPS]),
        )
    return tuple(made.values())


def _percent(chance: float) -> str:
    if chance >= 0.995:
        return "over 99 percent"
    return "under 1 percent" if chance < 0.005 else f"{chance * 100:.0f} percent"


def _says(
    steps: Sequence[_Shown], candidates: Sequence[Candidate], choice: Choice, room: float, asked: Demonstration
) -> list[str]:
    """How the plan came about."""
    openly = total(one.told if one.fixed is False else one.live for one in candidates) if candidates else NOTHING
    said = [
        (
            f"{decimal(room, 0)} minutes are left for the steps once break and questions are taken off. "
            f"With every step live that can be, they take {decimal(openly.mean, 0)} minutes, give or take "
            f"{decimal(openly.sd, 0)}, and fit with {_percent(chance_within(openly, room))}."
        )
    ]
    brought = [one.name for one in steps if not one.live and one.why.startswith("so that the show fits")]
    if not brought and choice.fits:
        said.append("Nothing more has to be brought ready-made.")
    elif choice.fits:
        said.append(
            f"Bring ready-made: {'; '.join(brought)}. It then takes {decimal(choice.estimate.mean, 0)} minutes, "
            f"give or take {decimal(choice.estimate.sd, 0)}, and fits with {_percent(choice.chance)}, where "
            f"{asked.confidence} was asked. Of all choices that fit and keep what must be seen, none shows more that "
            "is worth seeing."
        )
    else:
        said.append(
            f"It does not fit as surely as asked: even with everything told that may be told, it takes "
            f"{decimal(choice.estimate.mean, 0)} minutes and fits with {_percent(choice.chance)}, where "
            f"{asked.confidence} was asked."
        )
    return said


def _unsaid(steps: Sequence[_Shown]) -> tuple[str, ...]:
    silent = [one.name for one in steps if one.step.minutes is None and not one.runs]
    if not silent:
        return ()
    least, likely, most = (decimal(one, 0) for one in UNSAID)
    return (f"No minutes are given for: {'; '.join(silent)}. Each is taken as {likely}, from {least} to {most}.",)
