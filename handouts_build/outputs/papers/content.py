"""What a handout and a dimensions sheet show, taken from the sheet as plain data.

This module owns the choice and the order of what is printed and the fixed words of
the papers. It leaves looks to the `.typ` templates and templates at true size to
`papers.template_sheets`.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from handouts_build.figures.figure import Figure
from handouts_build.figures.shot import Shot
from handouts_build.outputs.citations import Citations
from handouts_build.outputs.papers.figure_rows import GUTTER, Drawings, Placing, figure_numbers, wide_of
from handouts_build.outputs.papers.finished import finished_figure
from handouts_build.outputs.papers.ready_sizes import ready_table
from handouts_build.outputs.papers.runs import Pieces, cited, joined, mark, paragraphs, pieces, plain
from handouts_build.outputs.papers.safety import Safety, as_rows, findings, sentence
from handouts_build.outputs.words import SHOW_WORDS, SIDES, SIDES_SAY, UNIT_NAMES, cut_from, times
from handouts_build.paper import PaperSize
from handouts_build.quantities import Err, Printed
from handouts_build.sheet import Blank, Group, Level, Part, Sheet, Size, Step
from handouts_build.sheet.blank import safe_side

__all__ = ["Drawings", "common", "dimensions_data", "handout_data"]

_MARGIN = 18.0
_INDENT = 8.0
_SHOT_MM = 34.0
"""Width of a solid's picture, beside the words of a step."""

_BLANKS = "Blanks, at least"


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
        "paper": paper.typst,
        "paper_width": paper.width,
        "gutter": GUTTER,
        "words": {
            "what": "What",
            "lead": UNIT_NAMES[lead],
            "other": UNIT_NAMES["mm" if lead == "in" else "in"],
            "note": "Note",
            "sides": SIDES_SAY,
        },
    }


def handout_data(
    sheet: Sheet,
    figures: Sequence[Figure],
    paper: PaperSize,
    shots: Mapping[int, Shot] = MappingProxyType({}),
    finished: Shot | None = None,
) -> tuple[dict[str, Any], dict[str, str]]:
    """The handout's data, and its drawings by id.

    Args:
        sheet: The project, worked out.
        figures: Its drawings.
        paper: What it is printed on.
        shots: Pictures of the solid, by the number of the step.
        finished: The picture of the finished piece, if it is carried as a solid.
    """
    drawings, sources = Drawings(), Citations()
    room = paper.width - 2 * _MARGIN
    placing, safety = Placing(figures, drawings, room), Safety(sheet)
    data = common(sheet, paper)
    data |= {"room": room, "indent": _INDENT}
    likeness = finished_figure(sheet, finished)
    data["finished"] = drawings.add(likeness) if likeness is not None else None
    data["summary"] = paragraphs(sheet.summary)
    data["glance"] = list(_glance(sheet))
    data["need"] = list(_need(sheet))
    data["sizes"] = list(_sizes(sheet))
    data["ready"] = ready_table(sheet)
    data["safety"] = safety.whole()
    data["safety_long"] = safety.is_long()
    data["parts"] = [_part(sheet, number, placing, safety) for number in range(1, len(sheet.parts) + 1)]
    data["more"] = placing.rows(placing.rest())
    for step in (step for part in data["parts"] for step in part["steps"]):
        shot = shots.get(step["number"])
        step["shot"] = (
            drawings.add(shot.on_paper(title=f"Step {step['number']}", wide_mm=_SHOT_MM)) if shot is not None else None
        )
    data["stops"] = findings(sheet, Level.STOP)
    data["minds"] = as_rows(findings(sheet, Level.MIND, Level.NOTE))
    data["care_steps"] = safety.careful_steps()
    data["last_word"] = safety.last_word()
    told: set[tuple[str, str, str]] = set()
    data["workings"] = [found for group in sheet.groups if (found := _workings(group, sources, told))]
    data["sources"] = [pieces(cited(source)) for source in sources.listed]
    data["box_sources"] = safety.sources()
    data["words"]["workings"] = (
        "How the main dimensions were found, so that they can be checked by hand. Values are exact until they are "
        "rounded for print. Numbers in brackets name the sources at the end; the project's page works everything."
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
    keyed = sorted(figures, key=lambda figure: wanted.index(figure.group) if figure.group in wanted else len(wanted))
    # Drawings may say their scale, so they are shown at their own size or not at all.
    shown: list[Figure] = []
    for figure in keyed:
        if (
            len(shown) < 2
            and figure.group not in {figure.group for figure in shown}
            and wide_of([*shown, figure]) <= paper.width - 28.0
        ):
            shown.append(figure)
    data["key_figures"] = [drawings.add(figure) for figure in shown]
    data["sizes"] = list(_sizes(sheet))
    data["url"] = page_url
    data["url_shown"] = page_url.removeprefix("https://").removeprefix("http://").rstrip("/")
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


def _glance(sheet: Sheet) -> Iterator[dict[str, Any]]:
    """The piece in a few words: what there is to say, and nothing that is empty."""
    shown_by = ", ".join(name for name in (sheet.by, sheet.club) if name)
    lines: tuple[tuple[str, list[Pieces]], ...] = (
        ("Kind and level", [joined((sheet.kind, sheet.level))] if sheet.kind or sheet.level else []),
        *((label, [pieces(_hours(minutes))]) for label, minutes in times(sheet)),
        ("Shown by", [pieces(shown_by)] if shown_by else []),
        ("Techniques", [joined(sheet.techniques)] if sheet.techniques else []),
        (_BLANKS, [pieces(f"{part.title}: {_blank(sheet, part)}") for part in sheet.parts]),
    )
    for label, told in lines:
        if told:
            yield {"label": label, "lines": told, "wide": label in ("Techniques", _BLANKS)}


def _blank(sheet: Sheet, part: Part) -> str:
    """A part's wood and the stock it is cut from."""
    return "; ".join(word for word in (part.wood, cut_from(sheet, part) or _stock(part.blank)) if word)


def _hours(minutes: float) -> str:
    """A time in hours and minutes."""
    hours, rest = divmod(round(minutes), 60)
    parts = (f"{hours}\u00a0h" if hours else "", f"{rest}\u00a0min" if rest or not hours else "")
    return " ".join(part for part in parts if part)


def _stock(blank: Blank) -> str:
    """A blank's measures, such as `round, diameter 2 1/2 in (64 mm), length 3 in (76 mm)`."""
    return ", ".join([blank.shape, *(f"{side} {printed}{_other_side(side)}" for side, _, printed in blank.sides)])


def _other_side(side: str) -> str:
    """Told of a measure that is not rounded up as a blank is."""
    return " at most" if safe_side(side) is Err.UNDER else ""


def _need(sheet: Sheet) -> Iterator[dict[str, Any]]:
    """What to have ready: tools, supplies, wood."""
    woods = [pieces(": ".join(word for word in (part.title, part.wood) if word)) for part in sheet.parts]
    for title, share, lines in (
        ("Tools", 4, [joined(sheet.tools)] if sheet.tools else []),
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
        rows = [
            _row(dimension.says, dimension.printed, SIDES[dimension.err])
            for dimension in group.dimensions
            if dimension.main
        ]
        if rows:
            yield {"title": pieces(group.title or "Dimensions"), "rows": rows}


def _row(says: str, printed: Printed, note: str) -> dict[str, Any]:
    """One row of a table of sizes."""
    return {
        "says": pieces(says),
        "lead": pieces(printed.lead),
        "other": pieces(printed.other),
        "note": pieces(note) if note else [],
        "side": note in SIDES.values() and bool(note),
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


def _part(sheet: Sheet, number: int, placing: Placing, safety: Safety) -> dict[str, Any]:
    """A part with its steps."""
    part, count = sheet.parts[number - 1], len(sheet.parts)
    own = f"blank, at least {_stock(part.blank)}"
    wood = f"{cut_from(sheet, part)}, {_stock(part.blank)}" if part.falls_off else own
    stock = [part.wood, f"grain {part.grain}" if part.grain else "", wood]
    told = ", ".join(word for word in stock if word)
    return {
        "title": f"Part {number} of {count}: {part.title}" if count > 1 else f"Steps: {part.title}",
        "stock": pieces(sentence(told)),
        "steps": [_step(step, placing, safety) for step in part.steps],
    }


def _step(step: Step, placing: Placing, safety: Safety) -> dict[str, Any]:
    """A step with its figures beside or below it.

    Args:
        step: The step.
        placing: What has been placed.
        safety: What has been said.
    """
    found = [figure for name in step.figures for figure in placing.take(name)]
    beside = None
    # One that would stand alone in its row stands beside the text, where that keeps half the width.
    narrow = [figure for figure in found if figure.width_mm <= (placing.room - _INDENT - GUTTER) / 2]
    if len(narrow) % 2:
        beside = placing.cell(narrow[0], narrow[0].width_mm)
        found.remove(narrow[0])
    rows = placing.rows(found)
    # What stands beside the text needs no pointing at.
    numbers = [number for number in placing.numbers(step.figures) if beside is None or number != beside["number"]]
    meta = (
        ("Hold:", step.hold),
        ("Speed:", step.speed),
        ("Never faster than:", f"{step.limit.printed}: {step.limit.because}" if step.limit else ""),
        ("Tools:", ", ".join(step.tools)),
        ("Shown:", SHOW_WORDS.get(step.show, "")),
        ("Figures:" if len(numbers) > 1 else "Figure:", figure_numbers(numbers)),
    )
    return {
        "number": step.number,
        "name": pieces(step.name),
        "minutes": _step_minutes(step),
        "meta": [{"label": label, "text": pieces(text)} for label, text in meta if text],
        "say": paragraphs(step.say),
        "care": safety.at(step),
        "beside": beside,
        "rows": rows,
    }


def _step_minutes(step: Step) -> str:
    """How long a step takes; of one that is brought ready-made it is said that this is the time to make it."""
    if step.minutes is None:
        return ""
    return f"{round(float(step.minutes.magnitude))}\u00a0min{' to make' if step.show == 'ready-made' else ''}"


def _workings(group: Group, sources: Citations, told: set[tuple[str, str, str]]) -> dict[str, Any] | None:
    """How a group's main dimensions were found; None where there is nothing to say.

    Print is dear, so what only leads up to a main dimension is left to the page, and
    what was read off a profile to its drawing and its story stick.

    Args:
        group: Worked out.
        sources: Where sources are numbered.
        told: What letters stand for, by chapter, as far as it was told already; more is added.
    """
    rows = []
    for dimension in group.dimensions:
        working = dimension.working
        if not (dimension.main and working.formula):
            continue
        chain = list(dict.fromkeys(part for part in (working.formula, working.numbers, working.result) if part))
        rows.append(
            {
                "says": pieces(dimension.says),
                "symbol": pieces(working.symbol),
                "chain": [pieces(part) for part in chain],
                "rounding": pieces(working.rounding) if working.rounding else [],
                "source": mark(sources, working.source),
            }
        )
    if not rows and not group.remarks:
        return None
    givens = []
    for given in group.givens:
        meaning = (group.chapter, given.symbol, given.says)
        words = "" if meaning in told else f", {given.says[:1].lower()}{given.says[1:]}"
        givens.append(pieces(f"{given.symbol} = {given.printed.lead}{words}"))
        told.add(meaning)
    return {
        "title": pieces(group.title or "Dimensions"),
        "givens": givens,
        "rows": rows,
        "remarks": [{"text": pieces(remark.text), "source": mark(sources, remark.source)} for remark in group.remarks],
    }
