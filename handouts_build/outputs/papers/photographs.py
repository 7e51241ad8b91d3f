"""Photographs as figures for print.

This module owns how one becomes a figure of a width; what the camera noted is left out by `outputs.photographs`.
"""

from __future__ import annotations

import base64

from handouts_build.figures.figure import Figure
from handouts_build.outputs.photographs import for_paper
from handouts_build.sheet import Picture, Sheet

__all__ = ["photograph"]

_DOTS = 16
"""To a millimeter, as it is printed: some 400 to an inch."""
_MOST_PX = 1400


def photograph(picture: Picture, sheet: Sheet, *, wide_mm: float, high_mm: float, title: str = "") -> Figure:
    """A photograph within a width and a height.

    Args:
        picture: The photograph.
        sheet: The project, for messages.
        wide_mm: The most it is wide.
        high_mm: The most it is high.
        title: What stands above it.

    Raises:
        ProjectError: If there is no picture in its file.
    """
    most = min(_MOST_PX, round(max(wide_mm, high_mm) * _DOTS))
    content, wide, high = for_paper(picture, file=sheet.file, most_px=most)
    size = f'width="{wide}" height="{high}"'
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" {size} '
        f'viewBox="0 0 {wide} {high}"><image {size} '
        f'xlink:href="data:image/jpeg;base64,{base64.b64encode(content).decode("ascii")}"/></svg>'
    )
    set_wide = min(wide_mm, high_mm * wide / high)
    return Figure("photograph", "", title, svg, picture.shows, set_wide, set_wide * high / wide)
