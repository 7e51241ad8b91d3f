"""The papers of an evening: run sheet, packing list and stock list, as PDF.

This module owns which papers there are. Their words are in `evening_words`, their
looks in the `.typ` templates.
"""

from __future__ import annotations

from typing import Any

from handouts_build.demonstration import Demonstration
from handouts_build.figures.figure import Figure
from handouts_build.outputs.evening_words import packing_words, run_sheet_words, stock_words
from handouts_build.outputs.papers_data import Drawings, common
from handouts_build.outputs.papers_typeset import PAPERS, compiled
from handouts_build.outputs.papers_words import pieces

__all__ = ["evening_papers"]

_AS_IS = {"kind", "id", "signal"}


def evening_papers(shown: Demonstration, cutting: Figure | None) -> dict[str, bytes]:
    """Run sheet, packing list and stock list on the paper of the host's country.

    Args:
        shown: The demonstration.
        cutting: The drawing of the cutting plan; None where nothing is cut.

    Returns:
        PDF bytes by file name.
    """
    drawings = Drawings()
    drawn = drawings.add(cutting) if cutting else None
    made = {}
    for name, words in (("run-sheet", run_sheet_words), ("packing-list", packing_words), ("stock-list", stock_words)):
        told = words(shown)
        data = common(shown.sheet, PAPERS[shown.paper])
        data |= {"club": told["club"], "when": told["when"], "told": _rich(told), "cutting": None}
        svgs: dict[str, str] = {}
        if name == "stock-list" and drawn is not None:
            data["cutting"], svgs = drawn, drawings.svgs
        made[f"{name}-{shown.paper}.pdf"] = compiled(name, data, svgs)
    return made


def _rich(value: Any, key: str = "") -> Any:
    """Every text as stretches that the templates can set."""
    if isinstance(value, dict):
        return {name: _rich(one, name) for name, one in value.items()}
    if isinstance(value, list):
        return [_rich(one, key) for one in value]
    if isinstance(value, str):
        return value if key in _AS_IS or not value else pieces(value)
    return value
