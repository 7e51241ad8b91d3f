"""What every paper of a project is told, and what several of them say alike.

This module owns those words and rows: title and units, blanks, times, the address and its code. It leaves what one
paper alone shows to that paper's module, and looks to the `.typ` templates.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import Any

from handouts_build.language import in_a_row, phrases_in_a_row, tr, tr_about, tr_later
from handouts_build.outputs.papers.figure_rows import GUTTER, Drawings
from handouts_build.outputs.papers.runs import plain
from handouts_build.outputs.words import (
    SIDES_SAY,
    UNIT_NAMES,
    alike,
    cut_from,
    day,
    sawn_from,
    set_times,
    times,
    waiting,
)
from handouts_build.paper import PaperSize
from handouts_build.sheet import Blank, Erratum, Part, Sheet, Step
from handouts_build.sheet.blank import ToldSide
from handouts_build.sheet.span import told_span

__all__ = [
    "MARGIN",
    "address",
    "blank",
    "common",
    "jig_title",
    "minutes",
    "part_title",
    "stock",
    "time_rows",
    "told_grain",
    "told_level",
]

_ERRATA = 3
"""Corrections that a paper names: the newest."""

MARGIN = 18.0
"""At both sides, in mm. A hole for a binder reaches 16.25 mm into the sheet at the most: ISO 838, from memory, has
holes of 6 mm, 0.5 mm more at the most, whose centers are 12 mm from the edge, 1 mm more at the most."""


def common(sheet: Sheet, paper: PaperSize) -> dict[str, Any]:
    """What every paper's data holds.

    Args:
        sheet: The project, worked out.
        paper: What it is printed on.
    """
    lead = sheet.rule.lead
    return {
        "title": sheet.title,
        "club": sheet.club,
        "author": [name for name in (sheet.by or sheet.club,) if name],
        "keywords": [word for word in (sheet.kind, *sheet.techniques) if word],
        "summary_text": plain(sheet.summary),
        "credits": phrases_in_a_row(sheet.credits),
        "license": sheet.license,
        "errata": [[_corrected(erratum), plain((erratum.wrong,))] for erratum in sheet.errata[:_ERRATA]],
        "paper": paper.typst,
        "paper_width": paper.width,
        "gutter": GUTTER,
        "words": {
            "lead": tr(UNIT_NAMES[lead]),
            "other": tr(UNIT_NAMES["mm" if lead == "in" else "in"]),
            "note": tr_about("the head of a column", "Note"),
            "sides": tr(SIDES_SAY),
        },
    }


def _corrected(erratum: Erratum) -> str:
    return f"{tr('Corrected {day}:', day=day(erratum.day))} "


def address(page_url: str, drawings: Drawings, version: str) -> dict[str, Any]:
    """The address of the project's page and its code, as papers show them.

    Args:
        page_url: The address; empty for none.
        drawings: Where the code is kept.
        version: Of the piece: the code carries it, so that the page can say whether the paper still holds.
    """
    if page_url:
        drawings.svgs["qr"] = _qr(f"{page_url}#{version}")
    shown = page_url.removeprefix("https://").removeprefix("http://").rstrip("/")
    return {"url": page_url, "url_shown": shown, "qr": bool(page_url)}


def _qr(address: str) -> str:
    """A QR code as SVG."""
    import segno

    drawn = io.BytesIO()
    segno.make(address, error="m", micro=False).save(drawn, kind="svg", border=2, xmldecl=False)
    return drawn.getvalue().decode("utf-8")


def blank(sheet: Sheet, part: Part) -> str:
    """A part's wood, how many are made, and the stock it is cut from.

    Args:
        sheet: The project, worked out.
        part: One of its parts.
    """
    phrases = (
        part.told_wood,
        alike(part),
        cut_from(sheet, part) or stock(part.blank, grain=part.grain),
        sawn_from(part),
    )
    return phrases_in_a_row(word for word in phrases if word)


def hours(minutes: float) -> str:
    """A time in hours and minutes."""
    hours, rest = divmod(round(minutes), 60)
    parts = (f"{hours}\u00a0h" if hours else "", f"{rest}\u00a0min" if rest or not hours else "")
    return " ".join(part for part in parts if part)


def stock(wood: Blank, *, grain: str = "") -> str:
    """A blank's measures, such as `round, diameter 2 1/2 in (64 mm), length 3 in (76 mm)`.

    Args:
        wood: The blank.
        grain: How it lies.
    """
    return in_a_row([tr(wood.shape), *(_side(side) for side in wood.told_sides(grain))])


def _side(side: ToldSide) -> str:
    text = " ".join(word for word in (side.before, str(side.printed), side.after) if word)
    return tr("{side} at most", side=text) if side.most else text


def minutes(step: Step, part: Part) -> str:
    """How long a step takes, and how long the work waits after it.

    Of one that is brought ready-made it is said that this is the time to make it, of several alike that it is for each.

    Args:
        step: The step.
        part: The part it is done to.
    """
    waits = told_span(step.waits) if step.wait is not None else ""
    if step.minutes is None:
        return tr("then wait {span}", span=waits) if waits else ""
    text = tr(
        _MINUTES[part.count > 1, step.show == "ready-made"], time=f"{round(float(step.minutes.magnitude))}\u00a0min"
    )
    return tr("{time}, then wait {span}", time=text, span=waits) if waits else text


_MINUTES = {
    (False, False): tr_later("{time}"),
    (True, False): tr_later("{time} each"),
    (False, True): tr_later("{time} to make"),
    (True, True): tr_later("{time} each to make"),
}
"""How long a step takes: whether that is of each of several, and whether it is brought ready-made."""


def jig_title(part: Part) -> str:
    """How the steps of a jig are headed."""
    return tr("Jig, made beforehand: {part}", part=part.title)


def part_title(part: Part, number: int, count: int) -> str:
    """How the steps of one of several parts are headed.

    Args:
        part: The part.
        number: Its own, from 1.
        count: Of all parts.
    """
    return tr("Part {number} of {count}: {part}", number=number, count=count, part=part.title)


def told_grain(part: Part) -> str:
    """How a part's grain lies; empty where nobody says."""
    return tr("grain {way}", way=tr(part.grain)) if part.grain else ""


def told_level(sheet: Sheet) -> str:
    """Whom a piece suits; empty where nobody says."""
    return tr(sheet.level) if sheet.level else ""


def time_rows(sheet: Sheet) -> Iterator[tuple[str, str]]:
    """How long it takes: in all, for each of several, and what it waits besides."""
    for label, span in times(sheet):
        yield label, hours(span)
    for label, each, setup in set_times(sheet):
        once = tr("{each}, after {setup} of setting up once", each=hours(each), setup=hours(setup))
        yield label, once if setup else hours(each)
    if told_wait := waiting(sheet):
        yield tr("Waiting besides"), told_wait
