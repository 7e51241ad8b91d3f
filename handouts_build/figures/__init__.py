"""Drawings of a project: a sheet in, SVG and its text alternative out.

`draw` gives every drawing that a sheet's groups yield; `themed` makes one fit to be
set into a page. matplotlib is loaded when something is drawn, not before.
"""

from __future__ import annotations

from handouts_build.figures.figure import Figure
from handouts_build.figures.theme import DARK, themed
from handouts_build.sheet import Sheet

__all__ = ["DARK", "Figure", "draw", "themed"]


def draw(sheet: Sheet) -> tuple[Figure, ...]:
    """Every drawing the sheet yields, in the order of its groups.

    Args:
        sheet: A project, worked out.
    """
    # Here, so that commands that draw nothing do not wait for matplotlib.
    from handouts_build.figures.chapters import drawings

    return tuple(figure for group in sheet.groups for figure in drawings(group, sheet.rule))
