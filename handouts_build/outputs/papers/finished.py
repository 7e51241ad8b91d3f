"""The picture of the finished piece, as it stands at the head of a handout.

This module owns which picture that is and how large it is set: the solid put together,
or else the author's first photograph. It leaves what either shows to others, and where
it stands to the template.
"""

from __future__ import annotations

import base64

from handouts_build.figures.figure import Figure
from handouts_build.figures.shot import Shot
from handouts_build.outputs.photographs import for_paper
from handouts_build.sheet import Picture, Sheet

__all__ = ["finished_figure"]

_TITLE = "The finished piece"
_HIGH_MM = 56.0
_WIDE_MM = 56.0
_WIDEST_MM = 60.0
"""Of a picture that is low for its width, such as a handle that lies."""

_PHOTO_PX = 900
"""Longest side of a photograph: some 16 dots to a millimeter at the size it is printed."""


def finished_figure(sheet: Sheet, finished: Shot | None) -> Figure | None:
    """The finished piece as a figure for print; None where nothing shows it.

    Args:
        sheet: The project, worked out.
        finished: The picture of its solid, if it is carried as one.

    Raises:
        ProjectError: If the author's photograph cannot be read.
    """
    if finished is not None:
        left, upper, right, lower = finished.ink
        return finished.on_paper(title=_TITLE, wide_mm=_wide(right - left, lower - upper), crop=finished.ink)
    if sheet.pictures:
        return _photograph(sheet.pictures[0], sheet)
    return None


def _wide(width: int, height: int) -> float:
    """How wide a picture of that shape is set, in mm."""
    return min(_WIDEST_MM if width > 2 * height else _WIDE_MM, _HIGH_MM * width / height)


def _photograph(picture: Picture, sheet: Sheet) -> Figure:
    """A photograph, without what the camera noted."""
    content, wide, high = for_paper(picture, file=sheet.file, most_px=_PHOTO_PX)
    size = f'width="{wide}" height="{high}"'
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" {size} '
        f'viewBox="0 0 {wide} {high}"><image {size} '
        f'xlink:href="data:image/jpeg;base64,{base64.b64encode(content).decode("ascii")}"/></svg>'
    )
    wide_mm = _wide(wide, high)
    return Figure("finished", "", _TITLE, svg, picture.shows, wide_mm, wide_mm * high / wide)
