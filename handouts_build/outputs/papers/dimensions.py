"""What the dimensions sheet shows.

This module owns the choice and the order of its rows and drawings. It leaves looks to the `.typ` template.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from handouts_build.figures.figure import Figure
from handouts_build.outputs.papers.content import address, common
from handouts_build.outputs.papers.figure_rows import Drawings, wide_of
from handouts_build.outputs.papers.size_rows import size_rows
from handouts_build.paper import PaperSize
from handouts_build.sheet import Sheet

__all__ = ["dimensions_data"]


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
    data["sizes"] = list(size_rows(sheet))
    data |= address(page_url, drawings)
    return data, drawings.svgs
