"""How a plan came about, in sentences, and what is to be minded about it.

This module owns the words of the plan's reckoning: how it fits, by how much it does
not, which times are not known. It works nothing out again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handouts_build.compute.evening.chain import ShownStep
from handouts_build.compute.steps import UNSAID, Stray
from handouts_build.quantities import decimal
from handouts_build.schema import DemonstrationKeys, Document
from handouts_build.sheet import Finding, Level
from handouts_build.sheet.evening import Plan
from handouts_build.sheet.stopwatch import elapsed_words
from handouts_build.trade.choosing import Candidate, Choice
from handouts_build.trade.timing import NOTHING, chance_within, total

__all__ = ["METHOD", "plan_findings", "says", "stray_findings", "unsaid"]

METHOD = (
    (
        "Each step has a least, likely and most time. Its mean is (least + 4 × likely + most) / 6 and its variance "
        "((most − least) / 6)², as PERT has it; where only the likely time is given, least is 3/4 and most 3/2 of it."
    ),
    (
        "A recorded run corrects the guess: the guess counts as one more run with a spread of its own, so after n "
        "runs it weighs 1 / (n + 1). Means and variances are added up, and the chance comes from the normal law. "
        "Steps are taken as independent; a bad evening, on which everything goes slowly, is worse than that."
    ),
    ("Minutes beside an entry are the time from its clock time to the next; clock times are cut to the minute."),
)
_ABOUT = "The time"
_BOUNDS = ("at least", "likely", "at most")
"""What each of the assumed minutes is."""


def _minutes(minutes: float) -> str:
    told = decimal(minutes, 0)
    return f"{told} minute" if told == "1" else f"{told} minutes"


def _percent(chance: float) -> str:
    if chance >= 0.995:
        return "over 99 percent"
    return "under 1 percent" if chance < 0.005 else f"{chance * 100:.0f} percent"


def _odds(chance: float) -> str:
    """How surely it fits, as people say it."""
    if chance < 0.005:
        return "It will not fit."
    if chance >= 0.995:
        return "It will fit."
    return f"It fits on {chance * 100:.0f} evenings in 100."


def says(
    steps: Sequence[ShownStep], candidates: Sequence[Candidate], choice: Choice, room: float, asked: DemonstrationKeys
) -> Iterator[str]:
    """How the plan came about.

    Args:
        steps: Those that are shown.
        candidates: The same as they might be shown.
        choice: What was chosen.
        room: Minutes for the steps.
        asked: What the demonstration's file says.
    """
    openly = (
        total(chosen.told if chosen.fixed is False else chosen.live for chosen in candidates) if candidates else NOTHING
    )
    silent = sum(1 for shown in steps if not shown.known)
    fit = "" if silent else f" {_odds(chance_within(openly, room))}"
    yield (
        f"Turning everything live takes about {_minutes(openly.mean)}, and you have {decimal(room, 0)} once break and "
        f"questions are taken off.{fit}"
    )
    if silent:
        least, likely, most = (decimal(minutes, 0) for minutes in UNSAID)
        verb = "says" if silent == 1 else "say"
        yield (
            f"{silent} of {len(steps)} steps {verb} no minutes. Assumed for each: {likely}, from {least} to {most}, or "
            "1 where it is told. How surely the show fits is not known."
        )
    brought = [shown.name for shown in steps if not shown.live and shown.why.startswith("so that the show fits")]
    asked_for = f"you asked for {asked.confidence} in 100"
    chance = "" if silent else f" {_odds(choice.chance)[:-1]}; {asked_for}."
    if not brought and choice.fits:
        yield "Nothing more has to be brought ready-made."
    elif choice.fits:
        yield (
            f"Bring ready-made: {'; '.join(brought)}. It then takes about {_minutes(choice.estimate.mean)}, give or "
            f"take {decimal(choice.estimate.sd, 0)}.{chance} This keeps the steps most worth seeing live."
        )
    else:
        yield (
            "It is too long: even with everything told that may be told, it takes about "
            f"{_minutes(choice.estimate.mean)}.{chance}"
        )
    if asked.left_out:
        yield (
            f"Left out: {'; '.join(asked.left_out)}. Do these at home, and bring a piece with them done for the steps "
            "that follow."
        )


def unsaid(steps: Sequence[ShownStep]) -> tuple[str, ...]:
    """Which times are assumed, and how."""
    silent = [shown.name for shown in steps if not shown.known]
    if not silent:
        return ()
    least, likely, most = (decimal(minutes, 0) for minutes in UNSAID)
    return (f"No minutes are given for: {'; '.join(silent)}. Each is taken as {likely}, from {least} to {most}.",)


def plan_findings(plan: Plan, asked: DemonstrationKeys, document: Document) -> Iterator[Finding]:
    """What is to be minded about the time, and what will not do.

    Args:
        plan: The plan.
        asked: What the demonstration's file says.
        document: That file.
    """
    place = document.place(("slot",))
    silent = [line for line in plan.lines if not line.known]
    for line in silent:
        assumed = "; ".join(f"{decimal(minutes, 0)} {bound}" for minutes, bound in zip(UNSAID, _BOUNDS, strict=True))
        yield Finding(
            Level.MIND,
            _ABOUT,
            f"'{line.name}' says no minutes; assumed: {assumed if line.shown == 'live' else 'a minute to tell it'}",
            "write 'minutes' to the step, or time it with the stopwatch",
            place,
        )
    beyond = plan.mean - plan.slot
    if beyond > 0:
        # Where the times are made up, the show may be shorter than reckoned.
        surely = plan.mean - sum(line.minutes for line in silent) > plan.slot
        must = [line for line in plan.lines if line.name in asked.must_see]
        each = ", ".join(f"'{line.name}' {decimal(line.minutes, 0)} min" for line in must)
        seen = _minutes(sum(line.minutes for line in must))
        alone = f"; what must be seen takes {seen} of the {decimal(plan.room, 0)} there are: {each}" if must else ""
        yield Finding(
            Level.STOP if surely else Level.MIND,
            _ABOUT,
            f"the show is over its slot of {decimal(plan.slot, 0)} min by {decimal(max(1, beyond), 0)} min, even with "
            f"everything told that may be told{alone}",
            f"{'ask for less that must be seen, ' if must else ''}leave steps out, or ask for a longer slot",
            place,
        )
    elif not plan.fits:
        chance = "less surely than you asked" if silent else f"on {_percent(plan.chance)} of evenings"
        yield Finding(
            Level.MIND,
            _ABOUT,
            f"the show fits its slot {chance}{'' if silent else f'; you asked for {asked.confidence}'}",
            "leave steps out, ask for a longer slot, or be content with less certainty",
            place,
        )


def stray_findings(strays: Sequence[Stray], document: Document) -> Iterator[Finding]:
    """Recorded times that are far from what the author guessed, run by run.

    Args:
        strays: The times.
        document: The demonstration's file.
    """
    for began in dict.fromkeys(stray.began for stray in strays):
        told = "; ".join(
            f"'{stray.step}' {elapsed_words(stray.seconds)} against {elapsed_words(60 * stray.likely)}"
            for stray in strays
            if stray.began == began
        )
        yield Finding(
            Level.MIND,
            _ABOUT,
            f"the run of {began} is far from the guess, and is counted: {told}",
            "delete the run if it was a trial",
            document.place(()),
        )
