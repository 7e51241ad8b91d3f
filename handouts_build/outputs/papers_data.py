"""What a handout and a dimensions sheet show, taken from the sheet as plain data.

This module owns the choice and the order of what is printed and the fixed words of
the papers. It leaves looks to the `.typ` templates and templates at true size to
`papers_templates`.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from handouts_build.figures.figure import Figure
from handouts_build.outputs.papers_typeset import PaperSize
from handouts_build.outputs.papers_words import Pieces, Sources, joined, paragraphs, pieces, plain
from handouts_build.quantities import Err, Printed
from handouts_build.sheet import Blank, Finding, Group, Level, Part, Sheet, Size, Step

__all__ = ["Drawings", "common", "dimensions_data", "handout_data"]

_MARGIN = 18.0
_GUTTER = 6.0
_INDENT = 8.0
_LEAST_SCALE = 0.88
"""Figures shrink at most to this share of the size their text is made for, to stand side by side."""

_SIDES = {Err.OVER: "not under", Err.UNDER: "not over", Err.NEAREST: ""}
_LEVELS = {Level.STOP: "Stop", Level.MIND: "Mind", Level.NOTE: "Note"}
_SHOWN = {"talk": "told, not turned", "ready-made": "brought ready-made"}

_LAST_WORD = (
    "The lathe's manual, local codes and your club's rules come first, before anything on these pages. "
    "Teaching beginners is for those approved to do it.",
    "The cautions here are the usual ones. They do not know your lathe, your tools, your wood or your hands, and "
    "following them does not make the work free of danger. If a hold, a cut or a speed does not look right to you, "
    "stop the lathe and ask.",
)


class Drawings:
    """The drawings of a paper: SVG by id, and what the template needs to place each."""

    def __init__(self) -> None:
        self.svgs: dict[str, str] = {}

    def add(self, figure: Figure) -> dict[str, Any]:
        """A figure's entry in the data."""
        name = f"drawing-{len(self.svgs) + 1}"
        self.svgs[name] = figure.svg
        return {
            "id": name,
            "alt": figure.alt,
            "title": pieces(figure.title),
            "width": figure.width_mm,
            "height": figure.height_mm,
        }


def common(sheet: Sheet, paper: PaperSize) -> dict[str, Any]:
    """What every paper's data holds."""
    lead = sheet.rule.lead
    return {
        "title": sheet.title,
        "club": sheet.club,
        "author": [name for name in (sheet.by or sheet.club,) if name],
        "keywords": [word for word in (sheet.kind, *sheet.techniques) if word],
        "summary_text": plain(sheet.summary),
        "paper": paper.name,
        "words": {
            "what": "What",
            "lead": "Inches" if lead == "in" else "Millimeters",
            "other": "Millimeters" if lead == "in" else "Inches",
            "note": "Note",
            "sides": "“Not over”: make it this size or a little less. “Not under”: this size or a little more. "
            "Each unit is rounded by itself, so work in one of them.",
        },
    }


def handout_data(sheet: Sheet, figures: Sequence[Figure], paper: PaperSize) -> tuple[dict[str, Any], dict[str, str]]:
    """The handout's data, and its drawings by id.

    Args:
        sheet: The project, worked out.
        figures: Its drawings.
        paper: What it is printed on.
    """
    drawings, sources = Drawings(), Sources()
    room = paper.width - 2 * _MARGIN
    placing = _Placing(figures, drawings, room)
    data = common(sheet, paper)
    data["summary"] = paragraphs(sheet.summary)
    data["glance"] = list(_glance(sheet))
    data["need"] = list(_need(sheet))
    data["sizes"] = list(_sizes(sheet))
    data["parts"] = [_part(part, number, len(sheet.parts), placing) for number, part in enumerate(sheet.parts, start=1)]
    data["stops"] = [_finding(one) for one in sheet.findings if one.level is Level.STOP]
    data["minds"] = [
        _finding(one) for level in (Level.MIND, Level.NOTE) for one in sheet.findings if one.level is level
    ]
    careful = [str(step.number) for step in sheet.steps if step.care]
    data["care_steps"] = _careful(careful)
    data["last_word"] = list(_LAST_WORD)
    data["workings"] = [found for group in sheet.groups if (found := _workings(group, sources, placing))]
    data["sources"] = sources.listed()
    data["words"]["workings"] = (
        "How each dimension was found, so that it can be checked by hand. Values are exact until they are rounded for "
        "print. Numbers in brackets name the sources listed at the end."
    )
    return data, drawings.svgs


def dimensions_data(sheet: Sheet, figures: Sequence[Figure], paper: PaperSize, *, page_url: str) -> tuple[dict[str, Any], dict[str, str]]:
    """The dimensions sheet's data, and its drawings by id.

    Args:
        sheet: The project, worked out.
        figures: Its drawings; the first two that steps call for are shown where there is room.
        paper: What it is printed on.
        page_url: Address of the project's page; empty for none.
    """
    drawings = Drawings()
    data = common(sheet, paper)
    wanted = [name for step in sheet.steps for name in step.figures]
    keyed = sorted(figures, key=lambda one: wanted.index(one.group) if one.group in wanted else len(wanted))
    shown: list[Figure] = []
    for figure in keyed:
        if len(shown) < 2 and figure.group not in {one.group for one in shown}:
            shown.append(figure)
    data["key_figures"] = [drawings.add(figure) for figure in shown]
    data["room"] = paper.width - 2 * 14.0
    data["sizes"] = list(_sizes(sheet))
    data["url"] = page_url
    # A long address may break after each of its parts.
    data["url_shown"] = page_url.removeprefix("https://").removeprefix("http://").rstrip("/").replace("/", "/\u200b")
    data["qr"] = bool(page_url)
    svgs = dict(drawings.svgs)
    if page_url:
        svgs["qr"] = _qr(page_url)
    return data, svgs


def _qr(address: str) -> str:
    """A QR code as SVG."""
    import segno

    drawn = io.BytesIO()
    segno.make(address, error="m", micro=False).save(drawn, kind="svg", border=2, xmldecl=False)
    return drawn.getvalue().decode("utf-8")


def _careful(numbers: list[str]) -> str:
    """Where the author's cautions are."""
    if not numbers:
        return ""
    if len(numbers) == 1:
        return f"Read the caution at step {numbers[0]} before you switch on."
    return f"Read the cautions at steps {', '.join(numbers[:-1])} and {numbers[-1]} before you switch on."


def _glance(sheet: Sheet) -> Iterator[dict[str, Any]]:
    """The piece in a few words: what there is to say, and nothing that is empty."""
    shown_by = ", ".join(name for name in (sheet.by, sheet.club) if name)
    lines: tuple[tuple[str, list[Pieces]], ...] = (
        ("Blanks", [pieces(f"{part.title}: {_stock(part.blank)}") for part in sheet.parts]),
        ("Woods", [pieces("; ".join(sheet.woods))] if sheet.woods else []),
        ("Kind and level", [joined((sheet.kind, sheet.level))] if sheet.kind or sheet.level else []),
        ("Techniques", [joined(sheet.techniques)] if sheet.techniques else []),
        ("Planned time", [pieces(_hours(sheet.minutes))] if sheet.minutes else []),
        ("Shown by", [pieces(shown_by)] if shown_by else []),
    )
    for label, told in lines:
        if told:
            yield {"label": label, "lines": told}


def _hours(minutes: float) -> str:
    """A time in hours and minutes."""
    hours, rest = divmod(round(minutes), 60)
    parts = (f"{hours}\u00a0h" if hours else "", f"{rest}\u00a0min" if rest or not hours else "")
    return " ".join(part for part in parts if part)


def _stock(blank: Blank) -> str:
    """A blank's measures, such as `round, diameter 2 1/2 in (64 mm), length 3 in (76 mm)`."""
    return ", ".join([blank.shape, *(f"{what} {printed}" for what, _, printed in blank.sides)])


def _need(sheet: Sheet) -> Iterator[dict[str, Any]]:
    """Lists of what to have ready: tools in two columns, then supplies."""
    tools = list(sheet.tools)
    half = (len(tools) + 1) // 2 if len(tools) > 6 else len(tools)
    for title, entries in (
        ("Tools", tools[:half]),
        ("More tools", tools[half:]),
        ("Supplies", list(sheet.supplies)),
        ("Wood", [": ".join(word for word in (part.title, part.wood) if word) for part in sheet.parts]),
    ):
        if entries:
            yield {"title": title, "entries": [pieces(entry) for entry in entries]}


def _sizes(sheet: Sheet) -> Iterator[dict[str, Any]]:
    """Sizes and main dimensions in groups of rows."""
    if sheet.sizes:
        yield {"title": pieces("Sizes you choose"), "rows": [_size(size) for size in sheet.sizes]}
    for group in sheet.groups:
        rows = [_row(one.says, one.printed, _SIDES[one.err]) for one in group.dimensions if one.main]
        if rows:
            yield {"title": pieces(group.title or "Dimensions"), "rows": rows}


def _row(says: str, printed: Printed, note: str) -> dict[str, Any]:
    """One row of a table of sizes. A value that fell on a mark has nothing to be missed."""
    return {"says": pieces(says), "lead": pieces(printed.lead), "other": pieces(printed.other), "note": pieces(note)}


def _size(size: Size) -> dict[str, Any]:
    """A size with what else it may be."""
    bounds = ""
    if size.choices:
        bounds = "or ".join(f"{one} " for one in size.choices).strip()
    elif size.least and size.most:
        bounds = f"{size.least.lead} to {size.most.lead}"
    elif size.least:
        bounds = f"{size.least.lead} or more"
    elif size.most:
        bounds = f"{size.most.lead} or less"
    return _row(size.says, size.printed, bounds)


def _finding(finding: Finding) -> dict[str, Any]:
    """A verdict in words: sentences begin with a capital and end with a stop."""
    return {
        "level": _LEVELS[finding.level],
        "about": pieces(finding.about),
        "message": pieces(_sentence(finding.message)),
        "remedy": pieces(_sentence(finding.remedy)) if finding.remedy else pieces(""),
    }


def _sentence(text: str) -> str:
    """Text as a sentence."""
    text = text.strip()
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")


def _wide(row: Sequence[Figure]) -> float:
    """Width of figures side by side, in mm."""
    return sum(figure.width_mm for figure in row) + _GUTTER * (len(row) - 1)


class _Placing:
    """Each figure once, where it is first called for."""

    def __init__(self, figures: Iterable[Figure], drawings: Drawings, room: float) -> None:
        self._left = list(figures)
        self._drawings = drawings
        self.room = room

    def take(self, group: str) -> list[Figure]:
        """The figures of a group that have no place yet."""
        found = [figure for figure in self._left if figure.group == group]
        self._left = [figure for figure in self._left if figure.group != group]
        return found

    def rows(self, figures: Sequence[Figure], room: float) -> list[list[dict[str, Any]]]:
        """Figures in rows that are no wider than `room` mm, each at or near the size its text is made for."""
        rows: list[list[Figure]] = []
        for figure in figures:
            if rows and _wide([*rows[-1], figure]) <= room / _LEAST_SCALE:
                rows[-1].append(figure)
            else:
                rows.append([figure])
        cells = []
        for row in rows:
            scale = min(1.0, (room - _GUTTER * (len(row) - 1)) / sum(figure.width_mm for figure in row))
            cells.append([self.cell(figure, figure.width_mm * scale) for figure in row])
        return cells

    def cell(self, figure: Figure, width: float) -> dict[str, Any]:
        """A figure's entry with the width it is given, in mm."""
        return {**self._drawings.add(figure), "cell": width}


def _part(part: Part, number: int, count: int, placing: _Placing) -> dict[str, Any]:
    """A part with its steps."""
    stock = [part.wood, f"grain {part.grain}" if part.grain else "", f"blank {_stock(part.blank)}"]
    told = ", ".join(word for word in stock if word)
    return {
        "title": f"Part {number} of {count}: {part.title}" if count > 1 else f"Steps: {part.title}",
        "stock": pieces(_sentence(told)),
        "steps": [_step(step, placing) for step in part.steps],
    }


def _step(step: Step, placing: _Placing) -> dict[str, Any]:
    """A step with its figures beside or below it."""
    meta = (
        ("Hold:", step.hold),
        ("Speed:", step.speed),
        ("Tools:", ", ".join(step.tools)),
        ("Shown:", _SHOWN.get(step.show, "")),
    )
    found = [figure for name in step.figures for figure in placing.take(name)]
    room = placing.room - _INDENT
    beside = None
    # Beside the text only where the text keeps the better half.
    if len(found) == 1 and found[0].width_mm <= 0.46 * room:
        beside = placing.cell(found[0], found[0].width_mm)
        found = []
    return {
        "number": step.number,
        "name": pieces(step.name),
        "minutes": f"{round(float(step.minutes.magnitude))}\u00a0min" if step.minutes is not None else "",
        "meta": [{"label": label, "text": pieces(text)} for label, text in meta if text],
        "say": paragraphs(step.say),
        "care": paragraphs(step.care),
        "beside": beside,
        "rows": placing.rows(found, room),
    }


def _workings(group: Group, sources: Sources, placing: _Placing) -> dict[str, Any] | None:
    """How a group's dimensions were found, with the figures that no step called for."""
    rows = []
    for one in group.dimensions:
        working = one.working
        chain = list(dict.fromkeys(part for part in (working.formula, working.numbers, working.result) if part))
        rows.append(
            {
                "says": pieces(one.says),
                "symbol": pieces(working.symbol),
                "chain": [pieces(part) for part in chain],
                "rounding": pieces(working.rounding) if working.rounding else [],
                "source": sources.number(working.source),
            }
        )
    figures = placing.rows(placing.take(group.name), placing.room)
    if not rows and not group.remarks and not figures:
        return None
    return {
        "title": pieces(group.title or "Dimensions"),
        "givens": [pieces(f"{given.symbol} = {given.printed}, {given.says[:1].lower()}{given.says[1:]}") for given in group.givens],
        "rows": rows,
        "remarks": [{"text": pieces(remark.text), "source": sources.number(remark.source)} for remark in group.remarks],
        "figures": figures,
    }
