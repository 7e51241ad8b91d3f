"""What an outline is made of: beads, coves, tapers and the rest, each with its sizes.

This module owns the elements as an author gives them. What follows from a row of them
is for `profiles`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from handouts_build.language import tr_about_later
from handouts_build.quantities import Quantity

__all__ = [
    "BeadElement",
    "CavettoElement",
    "CoveElement",
    "CylinderElement",
    "Element",
    "OgeeElement",
    "OvoloElement",
    "ProfileFault",
    "RoundElement",
    "RoundStartElement",
    "TaperElement",
    "VeeElement",
]


class ProfileFault(ValueError):
    """Elements that make no outline.

    Attributes:
        message: What is wrong, in the author's words.
        hint: What would be right.
        index: Which element, counting from 0.
    """

    def __init__(self, message: str, hint: str, index: int) -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint
        self.index = index


@dataclass(frozen=True, kw_only=True)
class _Element:
    """What every element has."""

    long: Quantity
    """Length along the axis."""
    label: str = ""
    """What the author calls it."""


@dataclass(frozen=True, kw_only=True)
class CylinderElement(_Element):
    """One diameter all along; also a fillet or a tenon."""

    diameter: Quantity
    kind: str = tr_about_later("an element of a profile", "cylinder")
    """`cylinder`, `fillet` or `tenon`: the same shape by the trade's name."""


@dataclass(frozen=True, kw_only=True)
class TaperElement(_Element):
    """A straight line to another diameter."""

    to: Quantity
    """Diameter at its end; nought makes a point."""
    start: Quantity | None = None
    kind = tr_about_later("an element of a profile", "taper")


@dataclass(frozen=True, kw_only=True)
class OgeeElement(_Element):
    """An S of two equal arcs, level at both ends, to another diameter."""

    to: Quantity
    """Diameter at its end; it may rise or fall no more than its length."""
    start: Quantity | None = None
    kind = tr_about_later("an element of a profile", "ogee")


@dataclass(frozen=True, kw_only=True)
class OvoloElement(_Element):
    """A quarter-ellipse that swells outward to another diameter, level at the larger."""

    to: Quantity
    """Diameter at its end."""
    start: Quantity | None = None
    kind = tr_about_later("an element of a profile", "ovolo")


@dataclass(frozen=True, kw_only=True)
class CavettoElement(_Element):
    """A quarter-ellipse that is hollowed to another diameter, level at the smaller."""

    to: Quantity
    """Diameter at its end."""
    start: Quantity | None = None
    kind = tr_about_later("an element of a profile", "cavetto")


@dataclass(frozen=True, kw_only=True)
class BeadElement(_Element):
    """A half-ellipse rising from the line between its end diameters."""

    diameter: Quantity
    """Diameter at the crest."""
    start: Quantity | None = None
    end: Quantity | None = None
    """As the start, when not given."""
    kind = tr_about_later("an element of a profile", "bead")


@dataclass(frozen=True, kw_only=True)
class CoveElement(_Element):
    """A half-ellipse sinking below the line between its end diameters."""

    diameter: Quantity
    """Diameter at the bottom."""
    start: Quantity | None = None
    end: Quantity | None = None
    """As the start, when not given."""
    kind = tr_about_later("an element of a profile", "cove")


@dataclass(frozen=True, kw_only=True)
class VeeElement(_Element):
    """A V cut: two straight lines that meet at mid-length."""

    diameter: Quantity
    """Diameter at the bottom."""
    start: Quantity | None = None
    end: Quantity | None = None
    """As the start, when not given."""
    kind = tr_about_later("an element of a profile", "vee")


@dataclass(frozen=True, kw_only=True)
class RoundElement(_Element):
    """A quarter-ellipse down to the axis: a domed end."""

    start: Quantity | None = None
    kind = tr_about_later("an element of a profile", "round")


@dataclass(frozen=True, kw_only=True)
class RoundStartElement(_Element):
    """A quarter-ellipse up from the axis: a domed beginning."""

    to: Quantity
    """Diameter at its end."""
    kind = tr_about_later("an element of a profile", "round")


Element: TypeAlias = (
    CylinderElement
    | TaperElement
    | OgeeElement
    | OvoloElement
    | CavettoElement
    | BeadElement
    | CoveElement
    | VeeElement
    | RoundElement
    | RoundStartElement
)
