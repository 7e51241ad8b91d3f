"""Fixed words that every output says alike.

This module owns words that stand on a page and on a paper; what only one of them
says stays there.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time

from handouts_build.quantities import Err
from handouts_build.sheet import Level, Part, Sheet
from handouts_build.sheet.span import told_span

__all__ = [
    "ACTUAL_SIZE",
    "BOUNDS",
    "LAST_WORD",
    "LEVELS",
    "MUST",
    "REMEDY",
    "SHOW_WORDS",
    "SIDES",
    "SIDES_SAY",
    "SIGNALS",
    "UNIT_NAMES",
    "alike",
    "cut_from",
    "day",
    "said_time",
    "said_zone",
    "sawn_from",
    "set_times",
    "times",
    "waiting",
]

SIDES = {Err.OVER: "≥", Err.UNDER: "≤", Err.NEAREST: ""}
"""How a table says that a size is the least or the most it may be, by the side it was rounded to."""

SIDES_SAY = (
    "≤ at most: this size or a little less. ≥ at least: this size or a little more. "
    "Inches and millimeters are rounded separately; stay with one."
)

LEVELS = {Level.STOP: "Stop", Level.MIND: "Mind", Level.NOTE: "Note"}
"""The word a finding opens with."""

SIGNALS = ("danger", "warning", "caution", "notice")
"""Signal words of safety boxes, gravest first, as ANSI Z535 orders them."""

REMEDY = "What to do:"
"""What comes before a finding's remedy."""

UNIT_NAMES = {"in": "Inches", "mm": "Millimeters"}
"""What a column of values in a unit is called."""

BOUNDS = {"both": "{least} to {most}", "least": "at least {least}", "most": "at most {most}"}
"""What a size may be: between two values, or on one side of one."""

MUST = {
    ">=": "must be at least {bound}",
    ">": "must be more than {bound}",
    "<=": "must be at most {bound}",
    "<": "must be less than {bound}",
}
"""What an author's own rule asks of a value, by the sign of its comparison."""

ACTUAL_SIZE = "Print at actual size (100 %), not fit to page; measure the bar before use."
"""How full-size templates are printed."""

SHOW_WORDS = {"talk": "told, not turned", "ready-made": "brought ready-made"}
"""How a step is shown, where it is not turned live."""

LAST_WORD = (
    (
        "The lathe's manual, local codes and your club's rules come first, before anything on these pages. "
        "Teaching beginners is for those approved to do it."
    ),
    (
        "The cautions here are the usual ones. They do not know your lathe, your tools, your wood or your hands, and "
        "following them does not make the work free of danger. If a hold, a cut or a speed does not look right to you, "
        "stop the lathe and ask."
    ),
)
"""How every handout closes."""


def cut_from(sheet: Sheet, part: Part) -> str:
    """Whose blank a part is cut from, such as `cut from the box's blank`; empty where it has one of its own.

    Args:
        sheet: The project.
        part: One of its parts.
    """
    if not part.falls_off:
        return ""
    title = next(other.title for other in sheet.parts if other.name == part.falls_off)
    article = "" if title.lower().startswith(("the ", "a ", "an ")) else "the "
    return f"cut from {article}{title[:1].lower()}{title[1:]}'s blank"


def alike(part: Part) -> str:
    """How many are made of a part, such as `make 4, all alike`; empty of a part that is made once."""
    return f"make {part.count}, all alike" if part.count > 1 else ""


def sawn_from(part: Part) -> str:
    """The lengths that several blanks of a part are sawn from; empty where each is sawn by itself."""
    if part.stick is None:
        return ""
    lengths, rest = divmod(part.count, part.per_stick)
    whole = f"{lengths} lengths of {part.stick}" if lengths > 1 else f"one length of {part.stick}"
    left = f", and {rest} more" if rest else ""
    return f"sawn {part.per_stick} to a length, end to end: {whole}{left}"


def set_times(sheet: Sheet) -> Iterator[tuple[str, float, float]]:
    """Of each part that is made several times: how its time is called, minutes for each, and of setting up once."""
    for part in sheet.parts:
        each = sum(step.each for step in part.steps)
        if part.count > 1 and each:
            of = f", {part.title[:1].lower()}{part.title[1:]}" if len(sheet.parts) > 1 else ""
            yield f"Time for each of {part.count}{of}", each, sum(step.setup for step in part.steps)


def waiting(sheet: Sheet) -> str:
    """How long the work waits in all, beside the minutes; empty where it never does."""
    return told_span(sheet.waits) if sheet.waits else ""


def times(sheet: Sheet) -> Iterator[tuple[str, float]]:
    """The minutes to make the piece, and those to show it where some steps are told or brought ready-made."""
    if not sheet.minutes:
        return
    made, shown_as = ("them", "one") if len(sheet.parts) == 1 and sheet.parts[0].count > 1 else ("it", "it")
    yield f"Time to make {made}", sheet.minutes
    live = sum(
        float(step.minutes.magnitude) for step in sheet.steps if step.show == "live" and step.minutes is not None
    )
    shown = live + sum(step.telling for step in sheet.steps if step.show != "live")
    if round(shown) != round(sheet.minutes):
        yield f"Time to show {shown_as}", shown


def said_time(moment: datetime | time) -> str:
    """A time of day as people say it, such as `7:30 pm`."""
    return f"{moment.hour % 12 or 12}:{moment:%M} {'am' if moment.hour < 12 else 'pm'}"


def said_zone(zone: str) -> str:
    """A time zone by its place, such as `London time`; one that names no place stays as it is.

    Args:
        zone: Its name in the IANA database, such as `Europe/London`.
    """
    place = zone.rpartition("/")[2].replace("_", " ")
    return f"{place} time" if "/" in zone else place


def day(moment: date) -> str:
    """A day in full, in English whatever the machine's own language is; that of the week where there is a time of day.

    Args:
        moment: The day, or a moment of it.
    """
    week = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
    year = (
        "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
        "December",
    )  # fmt: skip
    said = f"{moment.day} {year[moment.month - 1]} {moment.year}"
    return f"{week[moment.weekday()]}, {said}" if isinstance(moment, datetime) else said
