"""What the paper of workings shows: how each main dimension was found, and on whose word.

This module owns the choice and the fixed words. The sums themselves stand in the sheet.
"""

from __future__ import annotations

from typing import Any

from handouts_build.language import tr
from handouts_build.outputs.citations import Citations
from handouts_build.outputs.papers.content import common
from handouts_build.outputs.papers.runs import cited, mark, pieces
from handouts_build.outputs.papers.safety import Safety
from handouts_build.paper import PaperSize
from handouts_build.sheet import Group, Sheet

__all__ = ["has_workings", "workings_data"]


def has_workings(sheet: Sheet) -> bool:
    """Whether anything on the sheet has a working to show.

    Args:
        sheet: The project, worked out.
    """
    return any(
        group.remarks or any(dimension.main and dimension.working.formula for dimension in group.dimensions)
        for group in sheet.groups
    )


def workings_data(sheet: Sheet, paper: PaperSize) -> dict[str, Any]:
    """The data of the paper of workings.

    Args:
        sheet: The project, worked out.
        paper: What it is printed on.
    """
    sources = Citations()
    data = common(sheet, paper)
    seen: set[tuple[str, str, str]] = set()
    data["workings"] = [found for group in sheet.groups if (found := _workings(group, sources, seen))]
    data["sources"] = [pieces(cited(source)) for source in sources.listed]
    data["box_sources"] = Safety(sheet).sources()
    data["words"]["workings"] = tr(
        "How the main dimensions were found, so that they can be checked by hand. Values are exact until they are "
        "rounded for print. Numbers in brackets name the sources at the end; the project's page works everything."
    )
    return data


def _workings(group: Group, sources: Citations, seen: set[tuple[str, str, str]]) -> dict[str, Any] | None:
    """How a group's main dimensions were found; None where there is nothing to say.

    Print is dear, so what only leads up to a main dimension is left to the page, and
    what was read off a profile to its drawing and its story stick.

    Args:
        group: Worked out.
        sources: Where sources are numbered.
        seen: What letters stand for, by chapter, as far as it was told already; more is added.
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
        words = "" if meaning in seen else f", {given.says[:1].lower()}{given.says[1:]}"
        givens.append(pieces(f"{given.symbol} = {given.printed.lead}{words}"))
        seen.add(meaning)
    return {
        "title": pieces(group.title or tr("Dimensions")),
        "givens": givens,
        "rows": rows,
        "remarks": [{"text": pieces(remark.text), "source": mark(sources, remark.source)} for remark in group.remarks],
    }
