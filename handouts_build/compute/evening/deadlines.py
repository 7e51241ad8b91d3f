"""Counting back from the date: what must be done by when.

This module owns the days. How long each thing is done beforehand is common practice,
no published source; how long green wood dries is for the drying to say (a bowl is
weighed until it loses no more), so months are a guess that says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from handouts_build.compute.evening.moments import before_start, later
from handouts_build.compute.step_facts import DRYING
from handouts_build.language import phrases_in_a_row, tr
from handouts_build.schema import DemonstrationKeys, ProjectKeys
from handouts_build.sheet import Part, Sheet, Step
from handouts_build.sheet.evening import Brought, Deadline, Plan, StockPlan
from handouts_build.sheet.span import told_span

__all__ = ["deadlines", "drying_before"]

_DRY = timedelta(days=180)
"""Half a year for a rough-turned bowl: common practice, no published source."""
_ROUGH = timedelta(days=14)
"""From buying wood to needing it: common practice, no published source."""
_READY = timedelta(days=7)
_JIGS = timedelta(days=1)
"""Before the first thing that is made with them."""
_SEND = timedelta(days=5)
_PRINT = timedelta(days=3)
_PACK = timedelta(days=1)
_SET_UP = 60.0
"""Minutes to set up, where nothing says when one may come in: common practice, no published source."""


def drying_before(sheet: Sheet, project: ProjectKeys) -> dict[str, int]:
    """Of each part that dries between two of its steps, the number of the step after which it is put away.

    Args:
        sheet: The project.
        project: Its model, for the work of each step.
    """
    found = {}
    for part in sheet.parts:
        models = project.parts[part.name].steps
        for step, model in zip(part.steps, models, strict=True):
            # How long it dries is known where the author says it.
            if DRYING & set(model.work) and step.wait is None:
                found[part.name] = step.number
                break
    return found


def deadlines(
    sheet: Sheet, project: ProjectKeys, asked: DemonstrationKeys, *, starts: datetime, plan: Plan, stock: StockPlan
) -> tuple[Deadline, ...]:
    """What must be done by when, in order.

    Args:
        sheet: The project.
        project: Its model.
        asked: What the demonstration's file says.
        starts: When it starts, aware.
        plan: Its plan.
        stock: The blanks it asks for.
    """
    made = [*_making(sheet, project, starts, plan, stock), *_papers(asked, starts), *_leaving(asked, starts)]
    return tuple(sorted(made, key=lambda deadline: (deadline.on.date(), deadline.on)))


def _making(sheet: Sheet, project: ProjectKeys, starts: datetime, plan: Plan, stock: StockPlan) -> Iterator[Deadline]:
    brought = [piece for line in plan.lines for piece in line.brought]
    dries = drying_before(sheet, project)
    dried = [piece for piece in brought if piece.part in dries and piece.step >= dries[piece.part]]
    waiting = [*_drying(dried, starts - _READY), *_waiting(sheet, starts - _READY, plan)]
    first = min([starts - _READY, *(deadline.on for deadline in waiting)])
    if stock.lines:
        # Whatever is made beforehand is made of them.
        yield Deadline("saw", tr("Saw the blanks"), first, tr("see the stock list"))
    yield from waiting
    if sheet.jigs:
        made = phrases_in_a_row(jig.title for jig in sheet.jigs)
        day = first - _JIGS - timedelta(minutes=max(sum(step.waits for step in jig.steps) for jig in sheet.jigs))
        yield Deadline(
            "jigs", tr("Make the jigs"), day, tr("{made}; the pieces that are made beforehand need them", made=made)
        )
    if brought:
        yield Deadline(
            "ready-made", tr("Turn the ready-made pieces"), starts - _READY, phrases_in_a_row(map(str, brought))
        )
    if stock.missing:
        phrases = phrases_in_a_row(f"{count} × {part}" for part, count, _ in stock.missing)
        yield Deadline("buy", tr("Buy wood"), first - _ROUGH, phrases)


def _drying(dried: Sequence[Brought], ready: datetime) -> Iterator[Deadline]:
    """By when each piece must be roughed that dries for months."""
    for piece in dried:
        part = f"{piece.title[:1].lower()}{piece.title[1:]}"
        title = tr("Rough {part}, seal it and put it away to dry", part=part)
        why = tr("half a year is a guess: it is dry when it loses no more weight")
        yield Deadline(f"rough-{piece.part}-{piece.step}", title, ready - _DRY, why)


def _waiting(sheet: Sheet, ready: datetime, plan: Plan) -> Iterator[Deadline]:
    """By when each step must be done after which the work waits, so that what is brought is ready in time.

    The finished piece has waited at all of its steps, a piece that is brought at those up to its own last one; a step
    is due for whichever must have it done first. Several alike wait together.

    Args:
        sheet: The project.
        ready: When the pieces must be ready.
        plan: The plan, for the pieces that are brought.
    """
    through: dict[str, set[int]] = {part.name: {part.steps[-1].number} for part in sheet.parts}
    for piece in (piece for line in plan.lines for piece in line.brought):
        through[piece.part].add(piece.step)
    due: dict[int, tuple[datetime, Part, Step]] = {}
    # What is joined to a part, or falls off it, waits with it: the parts come one after another.
    after = 0.0
    for part in reversed(sheet.parts):
        for last in through[part.name]:
            finished = last == part.steps[-1].number
            left = after if finished else 0.0
            for step in reversed(part.steps):
                if step.number > last or step.wait is None:
                    continue
                left += step.waits
                on = ready - timedelta(minutes=left)
                if step.number not in due or on < due[step.number][0]:
                    due[step.number] = (on, part, step)
        after += sum(step.waits for step in part.steps)
    for number, (on, part, step) in sorted(due.items()):
        if len(sheet.parts) > 1:
            title = f"{part.title[:1].lower()}{part.title[1:]}"
            what = tr("{name} (step {number}, {part})", name=step.name, number=number, part=title)
        else:
            what = tr("{name} (step {number})", name=step.name, number=number)
        why = tr("then it waits {waits}", waits=told_span(step.waits))
        yield Deadline(f"wait-{part.name}-{number}", what, on, why)


def _papers(asked: DemonstrationKeys, starts: datetime) -> Iterator[Deadline]:
    if asked.how != "in the room":
        yield Deadline("send", tr("Send handout and link"), starts - _SEND, tr("so that there is time to print it"))
    if asked.how != "by video":
        yield Deadline(
            "print",
            tr("Print the handouts"),
            starts - _PRINT,
            tr("and hand them out with the command '{command}'", command="hand-out"),
        )
    yield Deadline("pack", tr("Pack"), starts - _PACK, tr("see the packing list"))


def _leaving(asked: DemonstrationKeys, starts: datetime) -> Iterator[Deadline]:
    if asked.travel is None:
        return
    ready = _SET_UP
    if asked.arrive is not None:
        ready = (starts - before_start(starts, asked.arrive)).total_seconds() / 60
    way = float(asked.travel.magnitude)
    yield Deadline(
        "leave", tr("Leave home"), later(starts, -ready - way), tr("{way} min on the way", way=f"{way:g}"), timed=True
    )
