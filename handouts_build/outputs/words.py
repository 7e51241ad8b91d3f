"""Fixed words that every output says alike.

This module owns words that stand on a page and on a paper; what only one of them
says stays there.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time

from handouts_build.language import tr, tr_count, tr_later
from handouts_build.quantities import Err
from handouts_build.sheet import Level, Part, Sheet
from handouts_build.sheet.span import told_span

__all__ = [
    "ACTUAL_SIZE",
    "BOUNDS",
    "HOW",
    "LAST_WORD",
    "LEVELS",
    "MONTHS",
    "MUST",
    "REMEDY",
    "SHOW_WORDS",
    "SIDES",
    "SIDES_SAY",
    "SIGNALS",
    "SIGNAL_WORDS",
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

SIDES_SAY = tr_later(
    "≤ at most: this size or a little less. ≥ at least: this size or a little more. "
    "Inches and millimeters are rounded separately; stay with one."
)

LEVELS = {Level.STOP: tr_later("Stop"), Level.MIND: tr_later("Mind"), Level.NOTE: tr_later("Note")}
"""The word a finding opens with."""

SIGNALS = ("danger", "warning", "caution", "notice")
"""Signals of safety boxes, gravest first, as ANSI Z535 orders them."""

SIGNAL_WORDS = {
    "danger": tr_later("Danger"),
    "warning": tr_later("Warning"),
    "caution": tr_later("Caution"),
    "notice": tr_later("Notice"),
}
"""The word that a safety box opens with, by its signal."""

REMEDY = tr_later("What to do:")
"""What comes before a finding's remedy."""

UNIT_NAMES = {"in": tr_later("Inches"), "mm": tr_later("Millimeters")}
"""What a column of values in a unit is called."""

BOUNDS = {
    "both": tr_later("{least} to {most}"),
    "least": tr_later("at least {least}"),
    "most": tr_later("at most {most}"),
}
"""What a size may be: between two values, or on one side of one."""

MUST = {
    ">=": tr_later("must be at least {bound}"),
    ">": tr_later("must be more than {bound}"),
    "<=": tr_later("must be at most {bound}"),
    "<": tr_later("must be less than {bound}"),
}
"""What an author's own rule asks of a value, by the sign of its comparison."""

ACTUAL_SIZE = tr_later("Print at actual size (100 %), not fit to page; measure the bar before use.")
"""How full-size templates are printed."""

HOW = {
    "in the room": tr_later("in the room"),
    "by video": tr_later("by video"),
    "both": tr_later("in the room and by video"),
}
"""How people take part in a demonstration, by the word for it in the file."""

SHOW_WORDS = {"talk": tr_later("told, not turned"), "ready-made": tr_later("brought ready-made")}
"""How a step is shown, where it is not turned live."""

LAST_WORD = (
    tr_later(
        "The lathe's manual, local codes and your club's rules come first, before anything on these pages. "
        "Teaching beginners is for those approved to do it."
    ),
    tr_later(
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
    return tr("cut from {part}'s blank", part=f"{article}{title[:1].lower()}{title[1:]}")


def alike(part: Part) -> str:
    """How many are made of a part, such as `make 4, all alike`; empty of a part that is made once."""
    return tr("make {count}, all alike", count=part.count) if part.count > 1 else ""


def sawn_from(part: Part) -> str:
    """The lengths that several blanks of a part are sawn from; empty where each is sawn by itself."""
    if part.stick is None:
        return ""
    lengths, rest = divmod(part.count, part.per_stick)
    whole = tr_count("one length of {long}", "{count} lengths of {long}", lengths, long=part.stick)
    if rest:
        return tr(
            "sawn {each} to a length, end to end: {whole}, and {rest} more", each=part.per_stick, whole=whole, rest=rest
        )
    return tr("sawn {each} to a length, end to end: {whole}", each=part.per_stick, whole=whole)


def set_times(sheet: Sheet) -> Iterator[tuple[str, float, float]]:
    """Of each part that is made several times: how its time is called, minutes for each, and of setting up once."""
    for part in sheet.parts:
        each = sum(step.each for step in part.steps)
        if part.count > 1 and each:
            title = f"{part.title[:1].lower()}{part.title[1:]}"
            said = (
                tr("Time for each of {count}, {part}", count=part.count, part=title)
                if len(sheet.parts) > 1
                else tr("Time for each of {count}", count=part.count)
            )
            yield said, each, sum(step.setup for step in part.steps)


def waiting(sheet: Sheet) -> str:
    """How long the work waits in all, beside the minutes; empty where it never does."""
    return told_span(sheet.waits) if sheet.waits else ""


def times(sheet: Sheet) -> Iterator[tuple[str, float]]:
    """The minutes to make the piece, and those to show it where some steps are told or brought ready-made."""
    if not sheet.minutes:
        return
    several = len(sheet.parts) == 1 and sheet.parts[0].count > 1
    yield tr("Time to make them") if several else tr("Time to make it"), sheet.minutes
    live = sum(
        float(step.minutes.magnitude) for step in sheet.steps if step.show == "live" and step.minutes is not None
    )
    shown = live + sum(step.telling for step in sheet.steps if step.show != "live")
    if round(shown) != round(sheet.minutes):
        yield tr("Time to show one") if several else tr("Time to show it"), shown


def said_time(moment: datetime | time) -> str:
    """A time of day as people say it, such as `7:30 pm`."""
    said = {"hour": f"{moment:%H}", "hour12": moment.hour % 12 or 12, "minute": f"{moment:%M}"}
    # A language of 24 hours takes {hour}.
    return tr("{hour12}:{minute} am", **said) if moment.hour < 12 else tr("{hour12}:{minute} pm", **said)


def said_zone(zone: str) -> str:
    """A time zone by its place, such as `London time`; one that names no place stays as it is.

    Args:
        zone: Its name in the IANA database, such as `Europe/London`.
    """
    place = zone.rpartition("/")[2].replace("_", " ")
    return tr("{place} time", place=place) if "/" in zone else place


def day(moment: date) -> str:
    """A day in full, whatever the machine's own language is; that of the week where there is a time of day.

    Args:
        moment: The day, or a moment of it.
    """
    said = {"day": moment.day, "month": tr(MONTHS[moment.month - 1]), "year": moment.year}
    if isinstance(moment, datetime):
        return tr("{weekday}, {day} {month} {year}", weekday=tr(_WEEK[moment.weekday()]), **said)
    return tr("{day} {month} {year}", **said)


_WEEK = (
    tr_later("Monday"), tr_later("Tuesday"), tr_later("Wednesday"), tr_later("Thursday"), tr_later("Friday"),
    tr_later("Saturday"), tr_later("Sunday"),
)  # fmt: skip
MONTHS = (
    tr_later("January"), tr_later("February"), tr_later("March"), tr_later("April"), tr_later("May"),
    tr_later("June"), tr_later("July"), tr_later("August"), tr_later("September"), tr_later("October"),
    tr_later("November"), tr_later("December"),
)  # fmt: skip
