"""What the short handout shows, and how it comes to two or four pages.

This module owns the choice and the order: the piece, its drawing, blanks and kit on the first page; every step with
its picture, numbers, one speed and one caution; drawings, ready sizes and the address on the last. It chooses among
a few looks, by heights that the typesetter measured. Where each step stands is for `papers.spread`, and looks are
for the `.typ` template. The author's words are never shortened.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from handouts_build.figures import main_drawing
from handouts_build.figures.figure import Figure
from handouts_build.figures.shot import Shot
from handouts_build.language import labelled, tr, tr_count, tr_later
from handouts_build.outputs.data import version_of
from handouts_build.outputs.foremost import foremost
from handouts_build.outputs.papers.content import (
    MARGIN,
    address,
    common,
    jig_title,
    minutes,
    part_title,
    stock,
    time_rows,
    told_grain,
    told_level,
)
from handouts_build.outputs.papers.figure_rows import Drawings, figure_numbers, in_rows
from handouts_build.outputs.papers.finished import finished_figure
from handouts_build.outputs.papers.measuring import LARGE_PRINT, LEAST_SCALE, Measure
from handouts_build.outputs.papers.photographs import photograph
from handouts_build.outputs.papers.ready_sizes import ready_table
from handouts_build.outputs.papers.runs import Pieces, joined, paragraphs, pieces, runs
from handouts_build.outputs.papers.safety import as_box, findings
from handouts_build.outputs.papers.spread import Column, ColumnRoom, pages_needed, spread
from handouts_build.outputs.papers.step_pictures import step_pictures
from handouts_build.outputs.words import LAST_WORD, SIGNAL_WORDS, SIGNALS, alike, cut_from, day, sawn_from
from handouts_build.paper import PROJECT, PaperSize
from handouts_build.sheet import Level, SafetyBox, Sheet, Step

__all__ = ["LOOKS", "Look", "short_data"]

_RANKS = {"fit": 1, "divisions": 2, "sphere by facets": 2}
"""Chapters whose drawings give way to sections and profiles."""

_TOP, _FOOT = 17.0, 12.0
"""Margins above and below, in mm."""
_BETWEEN = 6.0
"""Between the two columns, in mm."""
_FOLDED = 4
"""Pages of one folded sheet."""
_WIDEST_GAP = 9.0
"""Between a step and the next, where a column has room to spare, in mm."""
_WELL_FILLED = 0.55
"""How much of two pages of two columns each the steps must fill, to be given four pages where they need three."""


@dataclass(frozen=True)
class Look:
    """How large things are set."""

    letters: float
    """In points."""
    picture: float
    """Width of a step's picture, in mm."""
    gap: float
    """Between a step and the next, in mm."""
    whole: float
    """How much of its own size a picture of the whole piece has where steps are to find room below it."""

    def data(self) -> dict[str, float]:
        """As the template reads it."""
        return {"letters": self.letters, "picture": self.picture, "gap": self.gap, "whole": self.whole}


LOOKS = (
    Look(9.5, 45.0, 4.5, 1.0),
    Look(9.5, 45.0, 3.0, 0.9),
    Look(9.2, 45.0, 3.0, 0.8),
    Look(9.0, 36.0, 3.5, 0.72),
    Look(8.5, 28.0, 3.0, 0.72),
)
"""From the most generous to the tightest."""

_ROOMY = (Look(11.0, 48.0, 6.0, 1.0), Look(10.2, 46.0, 5.0, 1.0))
"""For what would leave four pages half empty."""

_SHOT = (45.0, 36.0)
"""The most that a photograph of a step is wide and high, in mm."""
_HIGHEST = 72.0
"""The most that a photograph of a write-up is high, in mm."""

_LARGE = Look(LARGE_PRINT, 80.0, 9.0, 1.0)


def short_data(
    sheet: Sheet,
    figures: Sequence[Figure],
    paper: PaperSize,
    measure: Measure,
    *,
    page_url: str = "",
    shots: Mapping[int, Shot] = MappingProxyType({}),
    finished: Shot | None = None,
    large: bool = False,
) -> tuple[dict[str, Any], dict[str, str]]:
    """The short handout's data, and its drawings by id.

    Args:
        sheet: The project, worked out.
        figures: Its drawings.
        paper: What it is printed on.
        measure: Asks the typesetter for heights.
        page_url: Address of the project's page; empty for none.
        shots: Pictures of the solid, by the number of the step.
        finished: The picture of the finished piece, if it is carried as a solid.
        large: Whether it is set in large print: in one column, on as many pages as it takes.
    """
    drawings = Drawings()
    room = paper.width - 2 * MARGIN
    data = common(sheet, paper)
    data |= {
        "large": large, "room": room, "column": (room - _BETWEEN) / 2, "between": _BETWEEN, "margin": MARGIN,
        "top": _TOP, "foot": _FOOT, "summary": paragraphs(sheet.summary), "facts": list(_facts(sheet)),
        "blanks": list(_blanks(sheet)), "kit": list(_kit(sheet)), "ready": ready_table(sheet),
        "stops": findings(sheet, Level.STOP), "safety": list(_safety(sheet)),
        "closing": sheet.closing or tr(LAST_WORD[0]), **address(page_url, drawings, version_of(sheet)),
    }  # fmt: skip
    likeness = finished_figure(sheet, finished)
    data["finished"] = drawings.add(likeness) if likeness is not None else None
    whole = main_drawing(figures)
    data["whole"] = drawings.add(whole) if whole is not None else None
    earlier: dict[str, int] = {}
    data["cards"] = [card for part in range(len(sheet.every_part)) for card in _cards(sheet, part, earlier)]
    data["words"] |= _words(sheet, data["url_shown"], version_of(sheet))
    pictures = {step.number: figure for part in sheet.every_part for step, figure in step_pictures(part, shots)}
    for step in sheet.every_step:
        if step.number not in pictures and step.photographs:
            pictures[step.number] = photograph(step.photographs[0], sheet, wide_mm=_SHOT[0], high_mm=_SHOT[1])
    for card in data["cards"]:
        picture = pictures.get(card["number"])
        card["shot"] = drawings.add(picture) if picture is not None else None
    ranked = _ranked(sheet, [figure for figure in figures if figure is not whole])
    data["story"] = None
    if not data["cards"]:
        shown = [
            photograph(picture, sheet, wide_mm=room if large else data["column"], high_mm=_HIGHEST)
            for picture in sheet.pictures[1:]
        ]
        data["story"] = {
            "text": [runs(paragraph) for paragraph in sheet.text],
            "shown": [
                {**drawings.add(figure), "says": picture.shows if picture.said else ""}
                for picture, figure in zip(sheet.pictures[1:], shown, strict=True)
            ],
        }
        data |= {"look": (_LARGE if large else _ROOMY[1]).data(), "pages": [], "whole_wide": 0.0, "measuring": False}
        return data, drawings.svgs
    if large:
        data |= {"look": _LARGE.data(), "pages": [], "whole_wide": 0.0}
        if data["whole"] is not None:
            data["whole_wide"] = min(data["whole"]["width"], room)
        _name_figures(data, {})
        data["measuring"] = False
        return data, {name: svg for name, svg in drawings.svgs.items() if name in {"qr", *_used(data)}}
    # Every step names its drawings while it is measured: a step that ends up with fewer only gets lower.
    _name_figures(data, {figure.group: [number] for number, figure in enumerate(ranked, start=1)})
    chosen = _chosen(lambda look: _tried(data, ranked, look, high=paper.height - _TOP - _FOOT, measure=measure))
    data["measuring"] = False
    if chosen is None:
        # Something is higher than a page: columns that break anywhere hold whatever comes.
        data |= {"look": LOOKS[-1].data(), "pages": [], "whole_wide": 0.0}
        _name_figures(data, {})
    else:
        _laid_out(data, chosen, ranked, drawings)
    return data, {name: svg for name, svg in drawings.svgs.items() if name in {"qr", *_used(data)}}


def _used(data: Mapping[str, Any]) -> Iterator[str]:
    """The ids of the drawings that are shown."""
    shown = [data["finished"], data["whole"], *(card["shot"] for card in data["cards"])]
    yield from (drawn["id"] for drawn in shown if drawn is not None)
    for page in data["pages"]:
        yield from (drawn["id"] for column in page["columns"] for row in column["below"] for drawn in row)
        yield from (drawn["id"] for row in page["rows"] for drawn in row)


@dataclass(frozen=True)
class _TriedLook:
    """One look, and what it takes."""

    look: Look
    pages: int
    cards: Sequence[float]
    """Heights of the steps, in mm."""
    figures: Sequence[float]
    """Heights of the drawings for the last page with their titles, in mm."""
    room: ColumnRoom
    whole: float
    """Width of the drawing of the whole piece, in mm; nought where there is none."""


def _tried(
    data: dict[str, Any], ranked: Sequence[Figure], look: Look, *, high: float, measure: Measure
) -> _TriedLook | None:
    """What a look takes; None where something is higher than a page in it.

    Args:
        data: What is shown.
        ranked: Drawings for the last page.
        look: How large things are set.
        high: Of a page, in mm.
        measure: Asks the typesetter for heights.
    """
    titles = [{"title": pieces(figure.title), "width": figure.width_mm} for figure in ranked]
    measured = measure({**data, "measuring": True, "look": look.data(), "titles": titles})
    front, wide = measured["front"], 0.0
    # Steps begin on the first page where the first of them finds room there.
    least = measured["cards"][0]
    if data["whole"] is not None:
        ratio = data["whole"]["height"] / data["whole"]["width"]
        most = min(data["whole"]["width"], data["room"])
        # As large as the page allows, but where steps find room below a smaller one.
        wide = max(LEAST_SCALE * most, min(most, (high - front) / ratio))
        if high - front - look.whole * most * ratio - look.gap >= least:
            wide = look.whole * most
        front += wide * ratio
    left = high - front - look.gap
    first = left if left >= least else 0.0
    room = ColumnRoom(first, high, measured["last"] + look.gap, look.gap)
    figures = [figure.height_mm + title for figure, title in zip(ranked, measured["titles"], strict=True)]
    pages = pages_needed(measured["cards"], room)
    if pages is None or front > high:
        return None
    return _TriedLook(look, pages, measured["cards"], figures, room, wide)


def _chosen(try_look: Callable[[Look], _TriedLook | None]) -> _TriedLook | None:
    """The most generous look that comes to two pages or four; None where there is none to choose from.

    What needs three pages is set tighter for two. Where that would make it hard to read it is given four instead, if
    its steps fill them well enough, and set larger, so that they do.

    Args:
        try_look: Says what a look takes.
    """
    generous: _TriedLook | None = None
    last: _TriedLook | None = None
    for look in LOOKS:
        if generous is not None and look == LOOKS[-1]:
            filled = sum(generous.cards) / (_FOLDED * generous.room.page)
            if filled > _WELL_FILLED:
                break
        trial = try_look(look)
        if trial is None:
            continue
        last = trial
        if trial.pages in (1, 2) or (generous is None and trial.pages == _FOLDED):
            return trial
        if generous is None and trial.pages <= _FOLDED:
            generous = trial
    if generous is None:
        return last
    roomy = (trial for look in _ROOMY if (trial := try_look(look)) is not None and trial.pages <= _FOLDED)
    return next(roomy, generous)


def _laid_out(data: dict[str, Any], fit: _TriedLook, ranked: Sequence[Figure], drawings: Drawings) -> None:
    """Say where everything stands.

    Args:
        data: What is shown; its pages and rows of drawings are added.
        fit: The look that was chosen.
        ranked: Drawings for the last page.
        drawings: Where those that are shown are kept.
    """
    folded = _FOLDED if _FOLDED / 2 < fit.pages <= _FOLDED else fit.pages
    columns = spread(fit.cards, fit.room, folded) or spread(fit.cards, fit.room, fit.pages) or ()
    unplaced = dict(zip((figure.name for figure in ranked), zip(ranked, fit.figures, strict=True), strict=True))
    gap = fit.room.gap
    numbers: dict[str, list[int]] = {}

    def placed(rows: Sequence[Sequence[Figure]]) -> list[list[dict[str, Any]]]:
        return [[numbered(figure) for figure in row] for row in rows]

    def numbered(figure: Figure) -> dict[str, Any]:
        del unplaced[figure.name]
        numbers.setdefault(figure.group, []).append(sum(map(len, numbers.values())) + 1)
        return {**drawings.add(figure), "cell": figure.width_mm, "number": numbers[figure.group][-1]}

    data |= {"look": fit.look.data(), "whole_wide": fit.whole, "pages": []}
    for page, pair in enumerate(columns):
        # Drawings stand on the page of the steps that call for them, or later; the last page takes them all.
        groups = {group for card in data["cards"][: pair[1].stop] for group in card["groups"]}
        last = page == len(columns) - 1

        def fitting(width: float, height: float, groups: set[str] = groups, last: bool = last) -> list[list[Figure]]:
            some = [found for found in unplaced.values() if last or found[0].group in groups]
            return in_rows(some, width, height - gap, gap)

        rows = placed(fitting(data["room"], min(column.left for column in pair) if pair[1].stop or last else 0.0))
        placed_columns = []
        for column in pair:
            below = [] if rows else placed(fitting(data["column"], column.left))
            if column.stop > column.start or below:
                placed_columns.append(_column(column, gap, below, spread_out=not (below or rows)))
        data["pages"].append({"columns": placed_columns, "rows": rows})
    _name_figures(data, numbers)


def _column(
    column: Column, gap: float, below: Sequence[Sequence[Mapping[str, Any]]], *, spread_out: bool
) -> dict[str, Any]:
    """The steps of a column with the drawings below them.

    Args:
        column: Which steps.
        gap: Between one and the next, in mm.
        below: Rows of drawings.
        spread_out: Whether room that is left goes between the steps, so that a column that is nearly full ends at its
            foot.
    """
    between = column.stop - column.start - 1
    more = min(column.left / between, _WIDEST_GAP - gap) if between and spread_out else 0.0
    return {"cards": list(range(column.start, column.stop)), "gap": gap + more, "below": below}


def _name_figures(data: Mapping[str, Any], numbers: Mapping[str, Sequence[int]]) -> None:
    """Tell each step the numbers of its drawings.

    Args:
        data: What is shown.
        numbers: Those of the drawings of each group.
    """
    for card in data["cards"]:
        own = sorted(number for group in card["groups"] for number in numbers.get(group, ()))
        numbered = figure_numbers(own)
        card["figures"] = tr_count("Figure {numbers}", "Figures {numbers}", len(own), numbers=numbered) if own else ""


def _ranked(sheet: Sheet, figures: Sequence[Figure]) -> list[Figure]:
    """Drawings in the order they are given room: sections and profiles first, one of a group before the next."""
    chapters = {group.name: group.chapter for group in sheet.groups}
    seen: dict[str, int] = {}
    keyed = []
    for place, figure in enumerate(figures):
        nth = seen[figure.group] = seen.get(figure.group, -1) + 1
        keyed.append(((nth, _RANKS.get(chapters.get(figure.group, ""), 0), place), figure))
    return [figure for _, figure in sorted(keyed, key=lambda item: item[0])]


_REST = {
    (False, False): tr_later("Each of these with its reason: {page}."),
    (False, True): tr_later("Each of these with its reason: the full handout and {page}."),
    (True, False): tr_later("Each of these with its reason, and the other cautions of every step: {page}."),
    (True, True): tr_later(
        "Each of these with its reason, and the other cautions of every step: the full handout and {page}."
    ),
}
"""Where there is more, by whether the piece has steps and whether there is a full handout of it."""


def _words(sheet: Sheet, address_shown: str, version: str) -> dict[str, str]:
    """The fixed words.

    Args:
        sheet: The project, worked out.
        address_shown: Of its page; empty for none.
        version: Which version of the piece this is.
    """
    rest = _REST[any(sheet.steps), PROJECT["handout-full"].word in sheet.papers]
    return {
        "version": tr("Version {version}", version=version),
        "rest": tr(rest, page=address_shown or tr("the piece's page")),
    }


def _facts(sheet: Sheet) -> Iterator[Pieces]:
    """The piece in a few words."""
    if sheet.kind or sheet.level:
        yield joined((sheet.kind, told_level(sheet)))
    if sheet.date is not None:
        yield pieces(day(sheet.date))
    for label, span in time_rows(sheet):
        yield pieces(labelled(label, span))
    if sheet.by or sheet.club:
        yield joined((sheet.by, sheet.club))


def _blanks(sheet: Sheet) -> Iterator[dict[str, Pieces]]:
    """Each part with its wood and its stock."""
    for part in sheet.parts:
        own = cut_from(sheet, part) or stock(part.blank, grain=part.grain)
        grain = "" if part.falls_off else told_grain(part)
        phrases = (part.told_wood, alike(part), own, grain, sawn_from(part))
        yield {"title": pieces(part.title), "told": joined(phrases)}
    for part in sheet.jigs:
        yield {
            "title": pieces(jig_title(part)),
            "told": joined((part.told_wood, alike(part), stock(part.blank, grain=part.grain))),
        }


def _kit(sheet: Sheet) -> list[Pieces]:
    """What to have ready, each once."""
    return [pieces(item) for item in dict.fromkeys((*sheet.tools, *sheet.supplies))]


def _safety(sheet: Sheet) -> Iterator[dict[str, Any]]:
    """What holds for the whole piece, in a word each, by signal words."""
    for signal in SIGNALS:
        titles = [box.title.rstrip(".") for box in sheet.boxes if box.signal == signal]
        if titles:
            yield {"signal": tr(SIGNAL_WORDS[signal]), "titles": [pieces(title) for title in titles]}


def _cards(sheet: Sheet, place: int, earlier: dict[str, int]) -> Iterator[dict[str, Any]]:
    """The steps of a part.

    Args:
        sheet: The project.
        place: Of the part, counted from 0; of a jig, after all parts.
        earlier: Boxes that stood at earlier steps, by id, with the step's number; more are added.
    """
    part, count = sheet.every_part[place], len(sheet.parts)
    heading = part_title(part, place + 1, count) if count > 1 else ""
    if place >= count:
        heading = jig_title(part)
    for step in part.steps:
        yield {
            "part": heading if step is part.steps[0] else "",
            "number": step.number,
            "name": pieces(step.name),
            "minutes": minutes(step, part),
            "numbers": [
                {
                    "lead": pieces(number.printed.lead),
                    "other": pieces(number.printed.other),
                    "says": pieces(number.label),
                }
                for number in step.numbers
            ],
            "meta": list(_meta(step)),
            "say": paragraphs(step.say),
            "care": _care(step, earlier),
            "groups": list(step.figures),
        }


def _meta(step: Step) -> Iterator[dict[str, Any]]:
    """What holds the wood, and the one speed."""
    if step.speed:
        yield {"label": tr("Speed:"), "text": pieces(step.speed, "value")}
    elif step.limit is not None:
        yield {"label": tr("Never faster than:"), "text": pieces(step.limit.printed, "value")}
    if step.hold:
        yield {"label": tr("Hold:"), "text": pieces(step.hold)}


def _care(step: Step, earlier: dict[str, int]) -> dict[str, Any] | None:
    """The one caution that matters most: at length where it stands first, in a line where it comes again."""
    found = foremost(step, earlier)
    if found is None:
        return None
    if isinstance(found, SafetyBox):
        grave = found.signal == SIGNALS[0]
        if found.id in earlier:
            before, _, after = tr("{caution}: as at step {number}.", caution="\0", number=earlier[found.id]).partition(
                "\0"
            )
            title = pieces(found.title.rstrip("."), "value")
            again = [*(pieces(before) if before else []), *title, *pieces(after)]
            return {"signal": tr(SIGNAL_WORDS[found.signal]), "text": again, "grave": grave}
        earlier[found.id] = step.number
        return {**as_box(found), "grave": grave}
    return {"signal": tr(SIGNAL_WORDS["caution"]), "text": runs(found), "grave": False}
