"""A profile as the sheet has it: its elements, its outline, and the places where its diameter is told.

This module owns the frame alone. How a profile is worked out is for `trade` and `compute`.
"""

from __future__ import annotations

from dataclasses import dataclass

from handouts_build.quantities import Printed, Quantity

__all__ = ["Segment", "Shape", "Station"]


@dataclass(frozen=True)
class Segment:
    """One element of a profile along the axis."""

    kind: str
    """`cylinder`, `bead`, `cove` and so on."""
    says: str
    start: Quantity
    """Distance from the profile's first end, length."""
    end: Quantity
    printed: Printed
    """Its length."""


@dataclass(frozen=True)
class Station:
    """A place along a profile where the diameter is told."""

    what: str
    at: Quantity
    at_printed: Printed
    diameter: Quantity
    printed: Printed
    element: str = ""
    """Name of the element that it is a place of."""
    edge: str = ""
    """`starts` or `ends`, at an end of the element."""


@dataclass(frozen=True)
class Shape:
    """A profile as drawn: the outline and the stations along it."""

    segments: tuple[Segment, ...]
    points_mm: tuple[tuple[float, float], ...]
    """(distance along the axis, radius) in mm."""
    stations: tuple[Station, ...]
