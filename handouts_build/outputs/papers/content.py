"""What every paper of a project is told, and what several of them say alike.

This module owns those words and rows: title and units, blanks, times, the address and its code. It leaves what one
paper alone shows to that paper's module, and looks to the `.typ` templates.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import Any

from handouts_build.language import tr
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
from handouts_build.sheet import Blank, Part, Sheet, Step
from handouts_build.sheet.blank import ToldSide
from handouts_build.sheet.span import told_span

__all__ = ["MARGIN", "address", "blank", "common", "jig_title", "minutes", "stock", "time_rows"]

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
        "credits": "; ".join(sheet.credits),
        "license": sheet.license,
        "errata": [[f"Corrected {day(erratum.day)}: ", plain((erratum.wrong,))] for erratum in sheet.errata[:_ERRATA]],
        "paper": paper.typst,
        "paper_width": paper.width,
        "gutter": GUTTER,
        "words": {
            "what": "What",
            "lead": tr(UNIT_NAMES[lead]),
            "other": tr(UNIT_NAMES["mm" if lead == "in" else "in"]),
            "note": "Note",
            "sides": tr(SIDES_SAY),
        },
    }


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
    """A part's wood, how many are made, and the stock it is cut from."""
    told = (part.told_wood, alike(part), cut_from(sheet, part) or stock(part.blank, grain=part.grain), sawn_from(part))
    return "; ".join(word for word in told if word)


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
    return ", ".join([wood.shape, *(_side(side) for side in wood.told_sides(grain))])


def _side(side: ToldSide) -> str:
    told = (side.before, str(side.printed), side.after, "at most" if side.most else "")
    return " ".join(word for word in told if word)


def minutes(step: Step, part: Part) -> str:
    """How long a step takes, and how long the work waits after it.

    Of one that is brought ready-made it is said that this is the time to make it, of several alike that it is for each.

    Args:
        step: The step.
        part: The part it is done to.
    """
    waits = f"then wait {told_span(step.waits)}" if step.wait is not None else ""
    if step.minutes is None:
        return waits
    each = " each" if part.count > 1 else ""
    told = f"{round(float(step.minutes.magnitude))}\u00a0min{each}{' to make' if step.show == 'ready-made' else ''}"
    return ", ".join(word for word in (told, waits) if word)


def jig_title(part: Part) -> str:
    """How the steps of a jig are headed."""
    return f"Jig, made beforehand: {part.title}"


def time_rows(sheet: Sheet) -> Iterator[tuple[str, str]]:
    """How long it takes: in all, for each of several, and what it waits besides."""
    for label, told in times(sheet):
        yield label, hours(told)
    for label, each, setup in set_times(sheet):
        yield label, f"{hours(each)}, after {hours(setup)} of setting up once" if setup else hours(each)
    if told_wait := waiting(sheet):
        yield "Waiting besides", told_wait
