"""The papers of an evening: run sheet, packing list and stock list, as PDF.

This module owns which papers there are. Their words are in `evening.words`, their
looks in the `.typ` templates.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handouts_build.disk.privacy import MARK, SHARED_MARK
from handouts_build.figures.figure import Figure
from handouts_build.figures.shot import Shot
from handouts_build.language import tr
from handouts_build.outputs.evening.words import packing_words, run_sheet_words, stock_words
from handouts_build.outputs.papers.content import common
from handouts_build.outputs.papers.figure_rows import Drawings
from handouts_build.outputs.papers.runs import pieces
from handouts_build.outputs.papers.typeset import compiled
from handouts_build.paper import EVENING, SIZES
from handouts_build.sheet import Sheet
from handouts_build.sheet.evening import Demonstration

__all__ = ["evening_papers", "run_sheet_paper"]

_AS_IS = {"kind", "id", "signal", "number", "file"}
_SHOT_MM = 32.0
"""Width of a step's picture below its clock time, where there is room to spare."""


def evening_papers(
    demonstration: Demonstration, cutting: Figure | None, shots: Mapping[int, Shot] = MappingProxyType({})
) -> dict[str, bytes]:
    """Run sheet, packing list and stock list on the paper of the host's country.

    Args:
        demonstration: The demonstration.
        cutting: The drawing of the cutting plan; None where nothing is cut.
        shots: Pictures of the solid, by the number of the step.

    Returns:
        PDF bytes by file name.
    """
    sheet, paper = demonstration.sheet, demonstration.paper
    drawings = Drawings()
    drawn = drawings.add(cutting) if cutting else None
    made = {
        "run-sheet": run_sheet_paper(run_sheet_words(demonstration), sheet, paper, shots, mark=MARK),
        "packing-list": _set("packing-list", packing_words(demonstration), sheet, paper),
        "stock-list": _set(
            "stock-list", stock_words(demonstration), sheet, paper, more={"cutting": drawn}, svgs=drawings.svgs
        ),
    }
    return {EVENING[kind].file(paper): content for kind, content in made.items()}


def run_sheet_paper(
    words: Mapping[str, object], sheet: Sheet, paper: str, shots: Mapping[int, Shot], *, mark: str = SHARED_MARK
) -> bytes:
    """A run sheet as PDF.

    Args:
        words: What it says.
        sheet: The project.
        paper: `letter` or `a4`.
        shots: Pictures of the solid, by the number of the step.
        mark: Whether it is private or to share, as its keywords say.
    """
    drawings = Drawings()
    drawn = {
        str(number): drawings.add(shot.on_paper(title=tr("Step {number}", number=number), wide_mm=_SHOT_MM))
        for number, shot in shots.items()
    }
    more = {"shots": drawn, "shot_wide": _SHOT_MM}
    return _set("run-sheet", words, sheet, paper, mark=mark, more=more, svgs=drawings.svgs)


def _set(
    kind: str,
    words: Mapping[str, object],
    sheet: Sheet,
    paper: str,
    *,
    mark: str = MARK,
    more: Mapping[str, object] = MappingProxyType({}),
    svgs: Mapping[str, str] = MappingProxyType({}),
) -> bytes:
    data = common(sheet, SIZES[paper])
    data |= {"club": words["club"], "when": words["when"], "told": _rich(dict(words)), "keywords": [mark], **more}
    return compiled(EVENING[kind].template, data, svgs, file=str(words["file"]))


def _rich(value: object, key: str = "") -> object:
    """Every text as stretches that the templates can set."""
    if isinstance(value, dict):
        return {name: _rich(item, name) for name, item in value.items()}
    if isinstance(value, list):
        return [_rich(item, key) for item in value]
    if isinstance(value, str):
        return value if key in _AS_IS or not value else pieces(value)
    return value
