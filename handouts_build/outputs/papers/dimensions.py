"""What the dimensions sheet shows: the whole piece as a drawing, and the numbers it is turned to, step by step.

This module owns the choice: each number once, at the first step that is turned to it, as many as can be read at
arm's length. Sizes that no step names follow while there is room. It leaves looks to the `.typ` template.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from handouts_build.figures import main_drawing
from handouts_build.figures.figure import Figure
from handouts_build.language import tr
from handouts_build.outputs.data import version_of
from handouts_build.outputs.papers.content import MARGIN, address, common
from handouts_build.outputs.papers.figure_rows import Drawings
from handouts_build.outputs.papers.measuring import LARGE_PRINT, LEAST_SCALE, Measure
from handouts_build.outputs.papers.ready_sizes import ready_table
from handouts_build.outputs.papers.runs import pieces
from handouts_build.outputs.words import SIDES
from handouts_build.paper import PaperSize
from handouts_build.sheet import Sheet, StepNumber

__all__ = ["MOST_ROWS", "dimensions_data"]

MOST_ROWS = 24
"""More than that cannot be found at a glance from the lathe: common practice, no published source."""

_LETTERS = (14.0, 13.0, 12.0, 11.0, 10.0, 9.0)
"""In points, the largest first."""
_TOP, _FOOT = 18.0, 12.0
"""Margins above and below, in mm."""
_AIR = 4.0
"""Between the drawing and the numbers, in mm."""
_SLACK = 1.5
"""What rules between rows add to heights that were measured row by row, at the most, in mm."""


def dimensions_data(
    sheet: Sheet, figures: Sequence[Figure], paper: PaperSize, measure: Measure, *, page_url: str, large: bool = False
) -> tuple[dict[str, Any], dict[str, str]]:
    """The dimensions sheet's data, and its drawings by id.

    Args:
        sheet: The project, worked out.
        figures: Its drawings.
        paper: What it is printed on.
        measure: Asks the typesetter for heights.
        page_url: Address of the project's page; empty for none.
        large: Whether it is set in large print, on as many pages as it takes.
    """
    drawings = Drawings()
    data = common(sheet, paper)
    data |= {
        "large": large, "room": paper.width - 2 * MARGIN, "margin": MARGIN, "top": _TOP, "foot": _FOOT,
        "rows": list(_rows(sheet)), "ready": ready_table(sheet), **address(page_url, drawings, version_of(sheet)),
    }  # fmt: skip
    whole = main_drawing(figures)
    data["whole"] = drawings.add(whole) if whole is not None else None
    if large:
        wide = min(whole.width_mm, data["room"]) if whole is not None else 0.0
        data |= {"measuring": False, "letters": LARGE_PRINT, "whole_wide": wide, "ready": None}
    else:
        _settle(data, paper.height - _TOP - _FOOT, measure)
    shown = {"qr", *([data["whole"]["id"]] if data["whole"] is not None else [])}
    return data, {name: svg for name, svg in drawings.svgs.items() if name in shown}


def _settle(data: dict[str, Any], high: float, measure: Measure) -> None:
    """Choose the largest lettering that leaves room for the drawing; failing all, do without the drawing.

    Args:
        data: What is shown; this is added to it.
        high: Of the page, in mm.
        measure: Asks the typesetter for heights.
    """
    found: dict[float, Any] = {}
    whole = data["whole"]
    most = min(whole["width"], data["room"]) if whole is not None else 0.0
    ratio = whole["height"] / whole["width"] if whole is not None else 0.0
    for drawn in dict.fromkeys((most > 0, False)):
        for letters in _LETTERS:
            if letters not in found:
                found[letters] = measure({**data, "measuring": True, "letters": letters})
            heights = found[letters]
            left = high - heights["head"] - heights["rows"] - _SLACK
            wide = min(most, (left - _AIR) / ratio) if drawn else 0.0
            if left >= 0 and (not drawn or wide >= LEAST_SCALE * most):
                left -= wide * ratio + _AIR if drawn else 0.0
                data |= {"measuring": False, "letters": letters, "whole_wide": wide}
                data["whole"] = whole if drawn else None
                data["ready"] = data["ready"] if left >= heights["ready"] else None
                return
    # What is longer than a page, whatever is left out, goes on overleaf.
    data |= {"measuring": False, "letters": _LETTERS[-1], "whole": None, "ready": None}


def _rows(sheet: Sheet) -> Iterator[dict[str, Any]]:
    """The numbers of the steps, then the sizes that no step is turned to."""
    numbered = [
        ("", StepNumber(count_name, says, says, part.count_printed))
        for part in sheet.every_part
        if part.count > 1 and part.count_printed is not None
        for count_name, says in ((f"{part.name}.count", tr("{part}: make, all alike", part=part.title)),)
    ]
    seen = {number.name for _, number in numbered}
    # A size that is how many are made is told once.
    seen |= {row.tree[1] for row in sheet.dimensions if row.name in seen and row.tree[:1] == ["name"]}
    for step in sheet.steps:
        for number in step.numbers:
            if number.name not in seen:
                seen.add(number.name)
                numbered.append((str(step.number), number))
    sizes = [
        ("", StepNumber(size.name, size.says, size.says, size.printed)) for size in sheet.sizes if size.name not in seen
    ]
    shown = _fewest([*numbered, *sizes], sheet)
    before = None
    for step_number, number in shown:
        dimension = next((found for found in sheet.dimensions if found.name == number.name), None)
        side = SIDES[dimension.err] if dimension is not None and dimension.made and number.printed.other else ""
        yield {
            "step": step_number if step_number != before else "",
            "begins": step_number != before,
            "says": pieces(number.label),
            "lead": pieces(_with(side, number.printed.lead)),
            "other": pieces(_with(side, number.printed.other)),
        }
        before = step_number


def _fewest(numbers: list[tuple[str, StepNumber]], sheet: Sheet) -> list[tuple[str, StepNumber]]:
    """As many as there is room for: wood that is left goes first, then bare counts, then what comes last.

    Args:
        numbers: Each with its step, in order.
        sheet: The project, worked out.
    """
    left_over = {dimension.name for dimension in sheet.dimensions if not dimension.made}
    ranked = sorted(
        range(len(numbers)),
        key=lambda place: (numbers[place][1].name in left_over, not numbers[place][1].printed.other, place),
    )
    return [numbers[place] for place in sorted(ranked[:MOST_ROWS])]


def _with(side: str, value: str) -> str:
    """A value behind its sign, never parted from it."""
    return f"{side}\u00a0{value}" if side and value else value
