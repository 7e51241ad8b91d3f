"""The general arrangement: the finished piece as a workshop drawing, in lines and dimensions.

This module owns the frames that a settled sheet carries for it. Lines are read off the
solid; what a dimension says is printed already. Where it all goes on paper is for the
figures.
"""

from __future__ import annotations

from dataclasses import dataclass

from handouts_build.quantities import Printed

__all__ = ["Arrangement", "AxialLength", "Bearing", "InsideCallout", "Outline", "OutsideDiameter", "SquareSide"]

Outline = tuple[tuple[float, float], ...]
"""Points (along the axis from the headstock, across it) in mm."""

Bearing = tuple[float, float]
"""A place of the drawing: along the axis and across it, in mm."""


@dataclass(frozen=True)
class AxialLength:
    """A length along the axis."""

    says: str
    """What it is; may be empty."""
    printed: Printed
    start: Bearing
    """Where its first extension line begins."""
    end: Bearing
    overall: bool = False


@dataclass(frozen=True)
class OutsideDiameter:
    """A diameter of the outside."""

    printed: Printed
    at: Bearing
    """Place, and radius."""
    largest: bool = False


@dataclass(frozen=True)
class SquareSide:
    """The side of a stretch that is left square."""

    printed: Printed
    at: Bearing
    """Place, and half the side."""


@dataclass(frozen=True)
class InsideCallout:
    """What is told of the inside or of a joint, at a point of the cut half."""

    kind: str
    """`opening`, `hole`, `joint`, `ring`, `wall` or `floor`."""
    says: str
    """What it is."""
    printed: Printed
    """Its diameter, or its thickness."""
    deep: Printed | None
    """Its depth or length, where it has one; of a ring, its hole."""
    at: Bearing
    edge: bool = True
    """Whether the point lies on an edge, not within the wood."""


@dataclass(frozen=True)
class Arrangement:
    """The piece from the side, one half opened along the axis."""

    outline: tuple[Outline, ...]
    """Closed; one within another is seen through."""
    edges: tuple[Outline, ...]
    cut: tuple[tuple[Outline, ...], ...]
    """For each part in turn, the closed outlines of its wood where it is cut through; none where nothing is opened."""
    lower: bool
    """Whether the lower half is the one that is opened."""
    up: str
    """The end that is above as it is drawn, `left` or `right`; empty where it is drawn lying, the headstock left."""
    lengths: tuple[AxialLength, ...]
    diameters: tuple[OutsideDiameter, ...]
    """From the left."""
    callouts: tuple[InsideCallout, ...]
    squares: tuple[SquareSide, ...] = ()
    """From the left."""
