"""What the full handout shows: every caution, drawing and dimension of a piece.

This module owns the choice and the order, and the fixed words of that paper. It leaves looks to the `.typ` template
and how dimensions were found to `papers.workings`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from handouts_build.figures import ARRANGEMENT
from handouts_build.figures.figure import Figure
from handouts_build.figures.shot import Shot
from handouts_build.language import in_a_row, labelled, tr, tr_count
from handouts_build.outputs.papers.content import (
    MARGIN,
    blank,
    common,
    jig_title,
    minutes,
    part_title,
    stock,
    time_rows,
    told_grain,
    told_level,
)
from handouts_build.outputs.papers.figure_rows import GUTTER, Drawings, Placing, figure_numbers
from handouts_build.outputs.papers.finished import finished_figure
from handouts_build.outputs.papers.photographs import photograph
from handouts_build.outputs.papers.ready_sizes import ready_table
from handouts_build.outputs.papers.runs import Pieces, joined, paragraphs, pieces
from handouts_build.outputs.papers.safety import Safety, as_rows, findings, sentence
from handouts_build.outputs.papers.size_rows import size_rows
from handouts_build.outputs.papers.step_pictures import step_pictures
from handouts_build.outputs.words import SHOW_WORDS, alike, cut_from, sawn_from
from handouts_build.paper import PaperSize
from handouts_build.sheet import Level, Part, Sheet, Step

__all__ = ["full_data"]

_INDENT = 8.0
_SHOT_MM = 34.0
"""Width of a solid's picture, beside the words of a step."""


def full_data(
    sheet: Sheet,
    figures: Sequence[Figure],
    paper: PaperSize,
    shots: Mapping[int, Shot] = MappingProxyType({}),
    finished: Shot | None = None,
) -> tuple[dict[str, Any], dict[str, str]]:
    """The full handout's data, and its drawings by id.

    Args:
        sheet: The project, worked out.
        figures: Its drawings.
        paper: What it is printed on.
        shots: Pictures of the solid, by the number of the step.
        finished: The picture of the finished piece, if it is carried as a solid.
    """
    drawings = Drawings()
    room = paper.width - 2 * MARGIN
    whole = next((figure for figure in figures if figure.name == ARRANGEMENT), None)
    placing = Placing([figure for figure in figures if figure is not whole], drawings, room)
    safety = Safety(sheet)
    data = common(sheet, paper)
    data |= {"room": room, "indent": _INDENT}
    data["whole"] = drawings.add(whole) if whole is not None else None
    likeness = finished_figure(sheet, finished)
    data["finished"] = drawings.add(likeness) if likeness is not None else None
    data["summary"] = paragraphs(sheet.summary)
    data["text"] = paragraphs(sheet.text)
    data["glance"] = list(_glance(sheet))
    data["need"] = list(_need(sheet))
    data["sizes"] = list(size_rows(sheet))
    data["ready"] = ready_table(sheet)
    data["safety"] = safety.whole()
    data["safety_long"] = safety.is_long()
    data["parts"] = [_part(sheet, number, placing, safety) for number in range(1, len(sheet.every_part) + 1)]
    data["more"] = placing.rows(placing.rest())
    seen = {
        step.number: figure
        for part in sheet.every_part
        for step, figure in step_pictures(part, shots, wide_mm=_SHOT_MM)
    }
    for each in sheet.every_step:
        if each.number not in seen and each.photographs:
            seen[each.number] = photograph(each.photographs[0], sheet, wide_mm=_SHOT_MM, high_mm=_SHOT_MM)
    for step in (step for part in data["parts"] for step in part["steps"]):
        step["shot"] = drawings.add(seen[step["number"]]) if step["number"] in seen else None
    data["stops"] = findings(sheet, Level.STOP)
    data["minds"] = as_rows(findings(sheet, Level.MIND, Level.NOTE))
    data["care_steps"] = safety.careful_steps()
    data["last_word"] = safety.last_word()
    return data, drawings.svgs


def _glance(sheet: Sheet) -> Iterator[dict[str, Any]]:
    """The piece in a few words: what there is to say, and nothing that is empty."""
    shown_by = in_a_row(name for name in (sheet.by, sheet.club) if name)
    brief: tuple[tuple[str, list[Pieces]], ...] = (
        (tr("Kind and level"), [joined((sheet.kind, told_level(sheet)))] if sheet.kind or sheet.level else []),
        *((label, [pieces(words)]) for label, words in time_rows(sheet)),
        (tr("Shown by"), [pieces(shown_by)] if shown_by else []),
        (tr("Credits"), [joined(sheet.credits)] if sheet.credits else []),
        (tr("License"), [pieces(sheet.license)] if sheet.license else []),
    )
    wide: tuple[tuple[str, list[Pieces]], ...] = (
        (tr("Techniques"), [joined(sheet.techniques)] if sheet.techniques else []),
        (tr("Blanks, at least"), [pieces(labelled(part.title, blank(sheet, part))) for part in sheet.parts]),
        (tr("Jigs, made beforehand"), [pieces(labelled(part.title, blank(sheet, part))) for part in sheet.jigs]),
    )
    for lines in (brief, wide):
        yield from ({"label": label, "lines": words, "wide": lines is wide} for label, words in lines if words)


def _need(sheet: Sheet) -> Iterator[dict[str, Any]]:
    """What to have ready: tools, supplies, wood."""
    woods = [
        pieces(labelled(part.title, part.told_wood) if part.title and part.told_wood else part.title or part.told_wood)
        for part in sheet.parts
    ]
    for title, share, lines in (
        (tr("Tools"), 4, [joined(sheet.tools)] if sheet.tools else []),
        (tr("Supplies"), 1, [joined(sheet.supplies)] if sheet.supplies else []),
        (tr("Wood"), 1, woods),
    ):
        if lines:
            yield {"title": title, "share": share, "lines": lines}


def _part(sheet: Sheet, number: int, placing: Placing, safety: Safety) -> dict[str, Any]:
    """A part with its steps."""
    part = sheet.every_part[number - 1]
    measures = stock(part.blank, grain=part.grain)
    own = tr("blank, at least {measures}", measures=measures)
    wood = f"{cut_from(sheet, part)}, {measures}" if part.falls_off else own
    parts = (part.told_wood, told_grain(part), alike(part), wood, sawn_from(part))
    phrases = in_a_row(word for word in parts if word)
    return {
        "title": _heading(sheet, number),
        "stock": pieces(sentence(phrases)),
        "steps": [_step(step, part, placing, safety) for step in part.steps],
    }


def _heading(sheet: Sheet, number: int) -> str:
    """How the steps of a part are headed, or those of a jig."""
    part, count = sheet.every_part[number - 1], len(sheet.parts)
    if number > count:
        return jig_title(part)
    return part_title(part, number, count) if count > 1 else tr("Steps: {part}", part=part.title)


def _step(step: Step, part: Part, placing: Placing, safety: Safety) -> dict[str, Any]:
    """A step with its figures beside or below it.

    Args:
        step: The step.
        part: The part it is done to.
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
    numbers = placing.numbers(step.figures)
    meta = (
        (tr("Hold:"), step.hold),
        (tr("Speed:"), step.speed),
        (tr("Never faster than:"), labelled(step.limit.printed, step.limit.because) if step.limit else ""),
        (tr("Tools:"), in_a_row(step.tools)),
        (tr("Shown:"), tr(SHOW_WORDS[step.show]) if step.show in SHOW_WORDS else ""),
        (tr_count("Figure:", "Figures:", max(1, len(numbers))), figure_numbers(numbers)),
    )
    return {
        "number": step.number,
        "name": pieces(step.name),
        "minutes": minutes(step, part),
        "meta": [{"label": label, "text": pieces(text)} for label, text in meta if text],
        "say": paragraphs(step.say),
        "care": safety.at(step),
        "beside": beside,
        "rows": rows,
    }
