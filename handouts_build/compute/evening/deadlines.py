"""Counting back from the date: what must be done by when.

This module owns the days. How long each thing is done beforehand is common practice,
no published source; how long green wood dries is for the drying to say (a bowl is
weighed until it loses no more), so months are a guess that says so.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from handouts_build.compute.evening.moments import before_start, later
from handouts_build.compute.step_facts import DRYING
from handouts_build.schema import DemonstrationKeys, ProjectKeys
from handouts_build.sheet import Sheet
from handouts_build.sheet.evening import Deadline, Plan, StockPlan

__all__ = ["deadlines", "drying_before"]

_DRY = timedelta(days=180)
"""Half a year for a rough-turned bowl: common practice, no published source."""
_ROUGH = timedelta(days=14)
"""From buying wood to needing it: common practice, no published source."""
_READY = timedelta(days=7)
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
            if DRYING & set(model.work):
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
    first = starts - _READY
    for piece in dried:
        day = starts - _READY - _DRY
        first = min(first, day)
        title = f"Rough {piece.title[:1].lower()}{piece.title[1:]}, seal it and put it away to dry"
        yield Deadline(
            f"rough-{piece.part}-{piece.step}",
            title,
            day,
            "half a year is a guess: it is dry when it loses no more weight",
        )
    if brought:
        yield Deadline("ready-made", "Turn the ready-made pieces", starts - _READY, "; ".join(map(str, brought)))
    if stock.missing:
        told = "; ".join(f"{count} × {part}" for part, count, _ in stock.missing)
        yield Deadline("buy", "Buy wood", first - _ROUGH, told)
    if stock.lines:
        yield Deadline("saw", "Saw the blanks", starts - _READY, "see the stock list")


def _papers(asked: DemonstrationKeys, starts: datetime) -> Iterator[Deadline]:
    if asked.how != "in the room":
        yield Deadline("send", "Send handout and link", starts - _SEND, "so that there is time to print it")
    if asked.how != "by video":
        yield Deadline("print", "Print the handouts", starts - _PRINT, "and hand them out with the command 'hand-out'")
    yield Deadline("pack", "Pack", starts - _PACK, "see the packing list")


def _leaving(asked: DemonstrationKeys, starts: datetime) -> Iterator[Deadline]:
    if asked.travel is None:
        return
    ready = _SET_UP
    if asked.arrive is not None:
        ready = (starts - before_start(starts, asked.arrive)).total_seconds() / 60
    way = float(asked.travel.magnitude)
    yield Deadline("leave", "Leave home", later(starts, -ready - way), f"{way:g} min on the way", timed=True)
