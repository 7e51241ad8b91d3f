"""Drawings of a project: a sheet in, SVG and its text alternative out.

`draw` gives every drawing of a sheet, the general arrangement (named `ARRANGEMENT`) first; `themed` makes one fit to be
set into a page. matplotlib is loaded when something is drawn, not before.
"""

from __future__ import annotations

from handouts_build.figures.figure import ARRANGEMENT, Figure, main_drawing
from handouts_build.figures.theme import DARK, themed
from handouts_build.sheet import Sheet

__all__ = ["ARRANGEMENT", "DARK", "Figure", "draw", "main_drawing", "themed"]


def draw(sheet: Sheet) -> tuple[Figure, ...]:
    """Every drawing the sheet yields: the general arrangement, then those of its groups and its layouts.

    Args:
        sheet: A project, worked out.
    """
    # Here, so that commands that draw nothing do not wait for matplotlib.
    from handouts_build.figures.arrangement import general_arrangement
    from handouts_build.figures.chapters import drawings
    from handouts_build.figures.end_layout import end_layout

    whole = general_arrangement(sheet)
    of_groups = [figure for group in sheet.groups for figure in drawings(group, sheet.rule)]
    return (*((whole,) if whole is not None else ()), *of_groups, *map(end_layout, sheet.layouts))
