"""The picture of the finished piece, as it stands at the head of a handout.

This module owns which picture that is and how large it is set: the solid put together,
or else the author's first photograph. It leaves what either shows to others, and where
it stands to the template.
"""

from __future__ import annotations

from handouts_build.figures.figure import Figure
from handouts_build.figures.shot import Shot
from handouts_build.language import tr, tr_later
from handouts_build.outputs.papers.photographs import photograph
from handouts_build.sheet import Sheet

__all__ = ["finished_figure"]

_TITLE = tr_later("The finished piece")
_HIGH_MM = 56.0
_WIDE_MM = 56.0
_WIDEST_MM = 60.0
"""Of a picture that is low for its width, such as a handle that lies."""


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
        return finished.on_paper(title=tr(_TITLE), wide_mm=_wide(right - left, lower - upper), crop=finished.ink)
    if sheet.pictures:
        return photograph(sheet.pictures[0], sheet, wide_mm=_WIDEST_MM, high_mm=_HIGH_MM, title=tr(_TITLE))
    return None


def _wide(width: int, height: int) -> float:
    """How wide a picture of that shape is set, in mm."""
    return min(_WIDEST_MM if width > 2 * height else _WIDE_MM, _HIGH_MM * width / height)
