"""What is laid out on the end of a part: off-axis centers, and holes drilled around or into it.

This module owns the frames that a settled sheet carries for these drawings. Places are in
mm from the true center, as seen from the tailstock: x to the right, y up.
"""

from __future__ import annotations

from dataclasses import dataclass

from handouts_build.quantities import Printed

__all__ = ["EndLayout", "LaidOut", "LayoutHole"]


@dataclass(frozen=True)
class LayoutHole:
    """One hole or center mark."""

    at: tuple[float, float]
    """A center, or the mouth of a hole drilled from the surface toward the axis."""
    wide_mm: float = 0.0
    """Diameter of the bit; nought for a center that is only pricked."""
    deep_mm: float = 0.0
    """Depth from the surface of a hole that is drilled toward the axis; nought for others."""


@dataclass(frozen=True)
class LaidOut:
    """Holes or centers that belong together."""

    name: str
    holes: tuple[LayoutHole, ...]
    sizes: tuple[tuple[tuple[str, ...], str, Printed], ...] = ()
    """What is said of each: words, a line each, a sign before the number, and the number."""


@dataclass(frozen=True)
class EndLayout:
    """One end of a part with what is laid out on it."""

    name: str
    """Unique within a project, and a name that steps call for it by."""
    title: str
    corners: tuple[tuple[float, float], ...]
    """Of the wood's outline; none where it is round."""
    across_mm: float
    """Its diameter, or its side."""
    across: Printed
    rings: tuple[LaidOut, ...]
    circle_mm: float = 0.0
    """Diameter of the circle that centers lie on; nought where there is none."""
    bore_mm: float = 0.0
    """Diameter of a bore along the axis that is there; nought where there is none."""
