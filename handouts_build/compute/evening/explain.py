"""How a plan came about, in sentences, and what is to be minded about it.

This module owns the words of the plan's reckoning: how it fits, by how much it does
not, which times are not known. It works nothing out again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handouts_build.compute.evening.chain import ShownStep
from handouts_build.compute.steps import UNSAID, Stray
from handouts_build.language import in_a_row, phrases_in_a_row, tr, tr_count, tr_later
from handouts_build.quantities import decimal
from handouts_build.schema import DemonstrationKeys, Document
from handouts_build.sheet import Finding, Level
from handouts_build.sheet.evening import Plan
from handouts_build.sheet.stopwatch import elapsed_words
from handouts_build.trade.choosing import Candidate, Choice
from handouts_build.trade.timing import NOTHING, chance_within, total

__all__ = ["METHOD", "plan_findings", "says", "stray_findings", "unsaid"]

METHOD = (
    tr_later(
        "Each step has a least, likely and most time. Its mean is (least + 4 × likely + most) / 6 and its variance "
        "((most − least) / 6)², as PERT has it; where only the likely time is given, least is 3/4 and most 3/2 of it."
    ),
    tr_later(
        "A recorded run corrects the guess: the guess counts as one more run with a spread of its own, so after n "
        "runs it weighs 1 / (n + 1). Means and variances are added up, and the chance comes from the normal law. "
        "Steps are taken as independent; a bad evening, on which everything goes slowly, is worse than that."
    ),
    tr_later(
        "Minutes beside an entry are the time from its clock time to the next; clock times are cut to the minute."
    ),
)
"""How times and chances come about, in sentences to be said by `tr`."""
_ABOUT = tr_later("The time")


def _minutes(minutes: float) -> str:
    return tr_count("{minutes} minute", "{minutes} minutes", round(minutes), minutes=decimal(minutes, 0))


def _percent(chance: float) -> str:
    if chance >= 0.995:
        return tr("over 99 percent")
    return tr("under 1 percent") if chance < 0.005 else tr("{chance} percent", chance=f"{chance * 100:.0f}")


def _odds(chance: float) -> str:
    """How surely it fits, as people say it."""
    if chance < 0.005:
        return tr("It will not fit.")
    if chance >= 0.995:
        return tr("It will fit.")
    return tr("It fits on {chance} evenings in 100.", chance=f"{chance * 100:.0f}")


def _odds_against(chance: float, asked: DemonstrationKeys) -> str:
    """The same, with the chance that was asked for."""
    if chance < 0.005:
        return tr("It will not fit; you asked for {asked} in 100.", asked=asked.confidence)
    if chance >= 0.995:
        return tr("It will fit; you asked for {asked} in 100.", asked=asked.confidence)
    return tr(
        "It fits on {chance} evenings in 100; you asked for {asked} in 100.",
        chance=f"{chance * 100:.0f}", asked=asked.confidence,
    )  # fmt: skip


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
    sentence = tr(
        "Turning everything live takes about {minutes}, and you have {room} once break and questions are taken off.",
        minutes=_minutes(openly.mean), room=decimal(room, 0),
    )  # fmt: skip
    yield sentence if silent else f"{sentence} {_odds(chance_within(openly, room))}"
    if silent:
        least, likely, most = (decimal(minutes, 0) for minutes in UNSAID)
        yield tr_count(
            "{count} of {steps} steps says no minutes. Assumed for each: {likely}, from {least} to {most}, or 1 where "
            "it is told. How surely the show fits is not known.",
            "{count} of {steps} steps say no minutes. Assumed for each: {likely}, from {least} to {most}, or 1 where "
            "it is told. How surely the show fits is not known.",
            silent,
            steps=len(steps), likely=likely, least=least, most=most,
        )  # fmt: skip
    chance = [] if silent else [_odds_against(choice.chance, asked)]
    yield " ".join(_chosen(_spared(steps, candidates), choice, chance))
    if asked.left_out:
        yield tr(
            "Left out: {steps}. Do these at home, and bring a piece with them done for the steps that follow.",
            steps=phrases_in_a_row(asked.left_out),
        )


def _spared(steps: Sequence[ShownStep], candidates: Sequence[Candidate]) -> list[str]:
    """The steps that are not turned there so that the show fits."""
    pairs = zip(steps, candidates, strict=True)
    return [shown.name for shown, candidate in pairs if not shown.live and candidate.fixed is None]


def _chosen(brought: Sequence[str], choice: Choice, chance: Sequence[str]) -> Iterator[str]:
    """What was chosen, in sentences.

    Args:
        brought: The steps that are not turned there so that the show fits.
        choice: What was chosen.
        chance: How surely it fits; nothing where that is not known.
    """
    minutes = _minutes(choice.estimate.mean)
    if not brought and choice.fits:
        yield tr("Nothing more has to be brought ready-made.")
    elif choice.fits:
        yield tr(
            "Bring ready-made: {steps}. It then takes about {minutes}, give or take {spread}.",
            steps=phrases_in_a_row(brought), minutes=minutes, spread=decimal(choice.estimate.sd, 0),
        )  # fmt: skip
        yield from chance
        yield tr("This keeps the steps most worth seeing live.")
    else:
        yield tr(
            "It is too long: even with everything told that may be told, it takes about {minutes}.", minutes=minutes
        )
        yield from chance


def unsaid(steps: Sequence[ShownStep]) -> tuple[str, ...]:
    """Which times are assumed, and how."""
    silent = [shown.name for shown in steps if not shown.known]
    if not silent:
        return ()
    least, likely, most = (decimal(minutes, 0) for minutes in UNSAID)
    return (
        tr(
            "No minutes are given for: {silent}. Each is taken as {likely}, from {least} to {most}.",
            silent=phrases_in_a_row(silent),
            likely=likely,
            least=least,
            most=most,
        ),
    )


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
        least, likely, most = (decimal(minutes, 0) for minutes in UNSAID)
        sentence = (
            tr(
                "'{step}' says no minutes; assumed: {least} at least; {likely} likely; {most} at most",
                step=line.name, least=least, likely=likely, most=most,
            )
            if line.shown == "live"
            else tr("'{step}' says no minutes; assumed: a minute to tell it", step=line.name)
        )  # fmt: skip
        remedy = tr("write '{key}' to the step, or time it with the stopwatch", key="minutes")
        yield Finding(Level.MIND, tr(_ABOUT), sentence, remedy, place)
    if plan.mean > plan.slot:
        # Where the times are made up, the show may be shorter than reckoned.
        surely = plan.mean - sum(line.minutes for line in silent) > plan.slot
        yield Finding(Level.STOP if surely else Level.MIND, tr(_ABOUT), *_too_long(plan, asked), place)
    elif not plan.fits:
        sentence = (
            tr("the show fits its slot less surely than you asked")
            if silent
            else tr(
                "the show fits its slot on {percent} of evenings; you asked for {asked}",
                percent=_percent(plan.chance), asked=asked.confidence,
            )
        )  # fmt: skip
        remedy = tr("leave steps out, ask for a longer slot, or be content with less certainty")
        yield Finding(Level.MIND, tr(_ABOUT), sentence, remedy, place)


def _too_long(plan: Plan, asked: DemonstrationKeys) -> tuple[str, str]:
    """Message and remedy where the show is over its slot."""
    sentence = tr(
        "the show is over its slot of {slot} min by {over} min, even with everything told that may be told",
        slot=decimal(plan.slot, 0), over=decimal(max(1, plan.mean - plan.slot), 0),
    )  # fmt: skip
    must = [line for line in plan.lines if line.name in asked.must_see]
    if not must:
        return sentence, tr("leave steps out, or ask for a longer slot")
    sentence = tr(
        "{told}; what must be seen takes {seen} of the {room} there are: {each}",
        told=sentence,
        seen=_minutes(sum(line.minutes for line in must)),
        room=decimal(plan.room, 0),
        each=in_a_row(tr("'{step}' {minutes} min", step=line.name, minutes=decimal(line.minutes, 0)) for line in must),
    )
    return sentence, tr("ask for less that must be seen, leave steps out, or ask for a longer slot")


def stray_findings(strays: Sequence[Stray], document: Document) -> Iterator[Finding]:
    """Recorded times that are far from what the author guessed, run by run.

    Args:
        strays: The times.
        document: The demonstration's file.
    """
    for began in dict.fromkeys(stray.began for stray in strays):
        phrases = phrases_in_a_row(
            tr(
                "'{step}' {took} against {guess}",
                step=stray.step,
                took=elapsed_words(stray.seconds),
                guess=elapsed_words(60 * stray.likely),
            )
            for stray in strays
            if stray.began == began
        )
        yield Finding(
            Level.MIND,
            tr(_ABOUT),
            tr("the run of {began} is far from the guess, and is counted: {told}", began=began, told=phrases),
            tr("delete the run if it was a trial"),
            document.place(()),
        )
