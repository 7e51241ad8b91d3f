"""Sizes and main dimensions as rows of a table, in the groups they were worked out in.

This module owns what a row says. Its looks are for the templates.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import reduce
from typing import Any

from handouts_build.language import tr
from handouts_build.outputs.papers.runs import pieces
from handouts_build.outputs.words import BOUNDS, SIDES
from handouts_build.quantities import Printed
from handouts_build.sheet import Sheet, Size

__all__ = ["size_rows"]


def size_rows(sheet: Sheet) -> Iterator[dict[str, Any]]:
    """Sizes and main dimensions in groups of rows."""
    if sheet.sizes:
        yield {"title": pieces(tr("Sizes you choose")), "rows": [_size(size) for size in sheet.sizes]}
    for group in sheet.groups:
        rows = [
            _row(dimension.says, dimension.printed, SIDES[dimension.err] if dimension.made else "")
            for dimension in group.dimensions
            if dimension.main
        ]
        if rows:
            yield {"title": pieces(group.title or tr("Dimensions")), "rows": rows}


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
        bounds = reduce(lambda some, last: tr("{some} or {last}", some=some, last=last), size.choices)
    elif size.least and size.most:
        bounds = tr(BOUNDS["both"], least=size.least.lead, most=size.most.lead)
    elif size.least:
        bounds = tr("{least} or more", least=size.least.lead)
    elif size.most:
        bounds = tr("{most} or less", most=size.most.lead)
    return _row(size.says, size.printed, bounds)
