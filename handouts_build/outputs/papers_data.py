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
from handouts_build.outputs.papers_safety import Safety, findings, sentence
from handouts_build.outputs.papers_typeset import PaperSize
from handouts_build.outputs.papers_words import Pieces, Sources, joined, paragraphs, pieces, plain
from handouts_build.quantities import Err, Printed
from handouts_build.sheet import Blank, Group, Level, Part, Sheet, Size, Step

__all__ = ["Drawings", "common", "dimensions_data", "handout_data"]

_MARGIN = 18.0
_GUTTER = 6.0
_INDENT = 8.0

_SIDES = {Err.OVER: "not\u00a0under", Err.UNDER: "not\u00a0over", Err.NEAREST: ""}
_SHOWN = {"talk": "told, not turned", "ready-made": "brought ready-made"}

_LINE_OF_HALF = 30
"""Letters in a line of what a row says, where the page has two columns."""


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
            "sides": "“Not over”: rounded down, so never over the exact size. “Not under”: rounded up. "
            "Each unit is rounded by itself: work in one of them.",
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
    placing, safety = _Placing(figures, drawings, room), Safety(sheet, sources)
    data = common(sheet, paper)
    data["summary"] = paragraphs(sheet.summary)
    data["glance"] = list(_glance(sheet))
    data["need"] = list(_need(sheet))
    data["sizes"] = list(_sizes(sheet))
    data["safety"] = safety.whole()
    data["parts"] = [
        _part(part, number, len(sheet.parts), placing, safety) for number, part in enumerate(sheet.parts, start=1)
    ]
    data["more"] = placing.rows(placing.rest(), room)
    data["stops"] = findings(sheet, Level.STOP)
    data["minds"] = findings(sheet, Level.MIND, Level.NOTE)
    data["care_steps"] = safety.careful_steps()
    data["last_word"] = safety.last_word()
    data["workings"] = [found for group in sheet.groups if (found := _workings(group, sources))]
    data["sources"] = sources.listed()
    data["words"]["workings"] = (
        "How the main dimensions were found, so that they can be checked by hand. Values are exact until they are "
        "rounded for print. Numbers in brackets name the sources listed at the end; the project's page works everything."
    )
    return data, drawings.svgs


def dimensions_data(
    sheet: Sheet, figures: Sequence[Figure], paper: PaperSize, *, page_url: str
) -> tuple[dict[str, Any], dict[str, str]]:
    """The dimensions sheet's data, and its drawings by id.

    Args:
        sheet: The project, worked out.
        figures: Its drawings; one or two that steps call for are shown where there is room.
        paper: What it is printed on.
        page_url: Address of the project's page; empty for none.
    """
    drawings = Drawings()
    data = common(sheet, paper)
    wanted = [name for step in sheet.steps for name in step.figures]
    keyed = sorted(figures, key=lambda one: wanted.index(one.group) if one.group in wanted else len(wanted))
    # Drawings may say their scale, so they are shown at their own size or not at all.
    shown: list[Figure] = []
    for figure in keyed:
        if (
            len(shown) < 2
            and figure.group not in {one.group for one in shown}
            and _wide([*shown, figure]) <= paper.width - 28.0
        ):
            shown.append(figure)
    data["key_figures"] = [drawings.add(figure) for figure in shown]
    data["sizes"] = list(_sizes(sheet))
    data["split"] = _split(data["sizes"])
    data["url"] = page_url
    data["url_shown"] = page_url.removeprefix("https://").removeprefix("http://").rstrip("/")
    data["qr"] = bool(page_url)
    svgs = dict(drawings.svgs)
    if page_url:
        svgs["qr"] = _qr(page_url)
    return data, svgs


def _split(groups: list[dict[str, Any]]) -> int:
    """After how many rows to begin a second column: between groups where that is nearly the middle."""
    lines: list[float] = []
    between: set[int] = set()
    for group in groups:
        between.add(len(lines))
        for number, row in enumerate(group["rows"]):
            said = row["says"] + (row["note"] if row["side"] else [])
            title = 1.8 if number == 0 else 0.0
            lines.append(sum(len(str(piece["t"])) for piece in said) // _LINE_OF_HALF + 1.2 + title)
    whole = sum(lines)
    best, cost = len(lines), whole
    for place in range(1, len(lines)):
        uneven = abs(2 * sum(lines[:place]) - whole)
        if uneven + (0.0 if place in between else 0.15 * whole) < cost:
            best, cost = place, uneven + (0.0 if place in between else 0.15 * whole)
    return best


def _qr(address: str) -> str:
    """A QR code as SVG."""
    import segno

    drawn = io.BytesIO()
    segno.make(address, error="m", micro=False).save(drawn, kind="svg", border=2, xmldecl=False)
    return drawn.getvalue().decode("utf-8")


def _glance(sheet: Sheet) -> Iterator[dict[str, Any]]:
    """The piece in a few words: what there is to say, and nothing that is empty."""
    shown_by = ", ".join(name for name in (sheet.by, sheet.club) if name)
    lines: tuple[tuple[str, list[Pieces]], ...] = (
        ("Kind and level", [joined((sheet.kind, sheet.level))] if sheet.kind or sheet.level else []),
        ("Planned time", [pieces(_hours(sheet.minutes))] if sheet.minutes else []),
        ("Shown by", [pieces(shown_by)] if shown_by else []),
        ("Techniques", [joined(sheet.techniques)] if sheet.techniques else []),
        ("Blanks", [pieces(f"{part.title}: {_blank(part)}") for part in sheet.parts]),
    )
    for label, told in lines:
        if told:
            yield {"label": label, "lines": told, "wide": label in ("Techniques", "Blanks")}


def _blank(part: Part) -> str:
    """A part's wood and the stock it is cut from."""
    return "; ".join(word for word in (part.wood, _stock(part.blank)) if word)


def _hours(minutes: float) -> str:
    """A time in hours and minutes."""
    hours, rest = divmod(round(minutes), 60)
    parts = (f"{hours}\u00a0h" if hours else "", f"{rest}\u00a0min" if rest or not hours else "")
    return " ".join(part for part in parts if part)


def _stock(blank: Blank) -> str:
    """A blank's measures, such as `round, diameter 2 1/2 in (64 mm), length 3 in (76 mm)`."""
    return ", ".join([blank.shape, *(f"{what} {printed}" for what, _, printed in blank.sides)])


def _need(sheet: Sheet) -> Iterator[dict[str, Any]]:
    """What to have ready: tools, supplies, wood."""
    woods = [pieces(": ".join(word for word in (part.title, part.wood) if word)) for part in sheet.parts]
    for title, share, lines in (
        ("Tools", 2, [joined(sheet.tools)] if sheet.tools else []),
        ("Supplies", 1, [joined(sheet.supplies)] if sheet.supplies else []),
        ("Wood", 1, woods),
    ):
        if lines:
            yield {"title": title, "share": share, "lines": lines}


def _sizes(sheet: Sheet) -> Iterator[dict[str, Any]]:
    """Sizes and main dimensions in groups of rows."""
    if sheet.sizes:
        yield {"title": pieces("Sizes you choose"), "rows": [_size(size) for size in sheet.sizes]}
    for group in sheet.groups:
        rows = [_row(one.says, one.printed, _SIDES[one.err]) for one in group.dimensions if one.main]
        if rows:
            yield {"title": pieces(group.title or "Dimensions"), "rows": rows}


def _row(says: str, printed: Printed, note: str) -> dict[str, Any]:
    """One row of a table of sizes."""
    return {
        "says": pieces(says),
        "lead": pieces(printed.lead),
        "other": pieces(printed.other),
        "note": pieces(note),
        "side": note in _SIDES.values() and bool(note),
    }


def _size(size: Size) -> dict[str, Any]:
    """A size with what else it may be."""
    bounds = ""
    if size.choices:
        bounds = " or ".join(size.choices)
    elif size.least and size.most:
        bounds = f"{size.least.lead} to {size.most.lead}"
    elif size.least:
        bounds = f"{size.least.lead} or more"
    elif size.most:
        bounds = f"{size.most.lead} or less"
    return _row(size.says, size.printed, bounds)


def _wide(row: Sequence[Figure]) -> float:
    """Width of figures side by side, in mm."""
    return sum(figure.width_mm for figure in row) + _GUTTER * (len(row) - 1)


class _Placing:
    """Each figure once, where it is first called for."""

    def __init__(self, figures: Iterable[Figure], drawings: Drawings, room: float) -> None:
        self._left = list(figures)
        self._drawings = drawings
        self._count = 0
        self.room = room

    def take(self, group: str) -> list[Figure]:
        """The figures of a group that have no place yet."""
        found = [figure for figure in self._left if figure.group == group]
        self._left = [figure for figure in self._left if figure.group != group]
        return found

    def rest(self) -> list[Figure]:
        """The figures that no step called for."""
        found, self._left = self._left, []
        return found

    def rows(self, figures: Sequence[Figure], room: float) -> list[list[dict[str, Any]]]:
        """Figures in rows that are no wider than `room` mm, each at the size it is drawn for."""
        rows: list[list[Figure]] = []
        for figure in figures:
            if rows and _wide([*rows[-1], figure]) <= room:
                rows[-1].append(figure)
            else:
                rows.append([figure])
        return [[self.cell(figure, min(figure.width_mm, room)) for figure in row] for row in rows]

    def cell(self, figure: Figure, width: float) -> dict[str, Any]:
        """A figure's entry with the width it is given, in mm."""
        self._count += 1
        return {**self._drawings.add(figure), "cell": width, "number": self._count}


def _part(part: Part, number: int, count: int, placing: _Placing, safety: Safety) -> dict[str, Any]:
    """A part with its steps."""
    stock = [part.wood, f"grain {part.grain}" if part.grain else "", f"blank {_stock(part.blank)}"]
    told = ", ".join(word for word in stock if word)
    return {
        "title": f"Part {number} of {count}: {part.title}" if count > 1 else f"Steps: {part.title}",
        "stock": pieces(sentence(told)),
        "steps": [_step(step, placing, safety) for step in part.steps],
    }


def _step(step: Step, placing: _Placing, safety: Safety) -> dict[str, Any]:
    """A step with its figures beside or below it."""
    found = [figure for name in step.figures for figure in placing.take(name)]
    room = placing.room - _INDENT
    beside = None
    # Beside the text only where the text keeps the better half.
    if len(found) == 1 and found[0].width_mm <= 0.46 * room:
        beside = placing.cell(found[0], found[0].width_mm)
        found = []
    rows = placing.rows(found, room)
    numbers = [cell["number"] for row in rows for cell in row]
    shown = ""
    if numbers:
        link = " and " if len(numbers) == 2 else " to "
        shown = link.join(str(number) for number in dict.fromkeys((numbers[0], numbers[-1])))
    meta = (
        ("Hold:", step.hold),
        ("Speed:", step.speed),
        ("Tools:", ", ".join(step.tools)),
        ("Shown:", _SHOWN.get(step.show, "")),
        ("Figures:" if len(numbers) > 1 else "Figure:", shown),
    )
    return {
        "number": step.number,
        "name": pieces(step.name),
        "minutes": f"{round(float(step.minutes.magnitude))}\u00a0min" if step.minutes is not None else "",
        "meta": [{"label": label, "text": pieces(text)} for label, text in meta if text],
        "say": paragraphs(step.say),
        "care": safety.at(step),
        "beside": beside,
        "rows": rows,
    }


def _workings(group: Group, sources: Sources) -> dict[str, Any] | None:
    """How a group's main dimensions were found; None where there is nothing to say.

    Print is dear, so what only leads up to a main dimension is left to the page, and
    what was read off a profile to its drawing and its story stick.
    """
    rows = []
    for one in group.dimensions:
        working = one.working
        if not (one.main and working.formula):
            continue
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
    if not rows and not group.remarks:
        return None
    return {
        "title": pieces(group.title or "Dimensions"),
        "givens": [
            pieces(f"{given.symbol} = {given.printed}, {given.says[:1].lower()}{given.says[1:]}")
            for given in group.givens
        ],
        "rows": rows,
        "remarks": [{"text": pieces(remark.text), "source": sources.number(remark.source)} for remark in group.remarks],
    }
