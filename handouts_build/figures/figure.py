"""A drawing ready to be set: what it shows, for the eye and in words.

This module owns only the frame. The drawing itself comes from the other modules of
this package, and where it stands on a page or a paper is for `outputs` to say.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["ARRANGEMENT", "Figure", "main_drawing"]

ARRANGEMENT = "arrangement"
"""Name of the drawing of the finished piece."""

_PROFILE = "-profile"


@dataclass(frozen=True)
class Figure:
    """One drawing of one group."""

    name: str
    """Unique within a project; also its file name without ending."""
    group: str
    """Name of the group it draws; empty for the finished piece."""
    title: str
    svg: str
    """The drawing for print, black on white."""
    alt: str
    """What it shows, with its numbers, for those who cannot see it."""
    width_mm: float
    """Size at which its text is meant to be read, in mm."""
    height_mm: float
    narrow_svg: str = ""
    """The same laid out for a narrow screen; empty where one layout does for both."""


def main_drawing(figures: Sequence[Figure]) -> Figure | None:
    """The drawing that shows the piece: its general arrangement, or, where it has no solid, its first profile.

    Args:
        figures: All of a project.

    Returns:
        One of them; None where there is neither.
    """
    whole = next((figure for figure in figures if figure.name == ARRANGEMENT), None)
    return whole or next((figure for figure in figures if figure.name.endswith(_PROFILE)), None)
