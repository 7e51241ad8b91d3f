"""What the solid is like after each step, and the finished piece, in numbers and words.

This module owns the frames that a settled sheet carries for them. Of shapes it has no
more than outlines for templates: a sheet stays light, and whoever draws asks the
workpiece again.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from handouts_build.quantities import Printed, Quantity
from handouts_build.sheet.arrangement import Arrangement

__all__ = ["Side", "StageFact", "StageSummary", "Whole"]


@dataclass(frozen=True)
class StageFact:
    """One number read off the solid."""

    name: str
    says: str
    value: Quantity
    printed: Printed
    about: str = ""
    """Which cuts it concerns, in the author's names."""


@dataclass(frozen=True)
class Side:
    """The wood from the side, over the length of a profile that was just cut."""

    profile: str
    """The profile's name."""
    points_mm: tuple[tuple[float, float], ...]
    """(distance from the profile's first end, radius) in mm."""
    hollow: bool = False
    """Whether it is the inside, from the axis out to the wood."""


@dataclass(frozen=True)
class StageSummary:
    """What the solid is like after a step; its shape is not on the sheet."""

    index: int
    """Which of its part's stages, counting from 1; 0 is the blank."""
    says: str
    """What its picture shows, with its numbers, for those who cannot see it."""
    facts: tuple[StageFact, ...] = ()
    changed: bool = True
    """Whether the step cuts or marks the wood."""
    cut_away: bool = False
    """Whether its picture is opened up."""
    sides: tuple[Side, ...] = ()
    """Read off the solid, for templates."""
    drilled: tuple[Quantity, Quantity] | None = None
    """Where a bit in the tailstock drills along the axis: how far the wood stands out, and the deepest hole."""


@dataclass(frozen=True)
class Whole:
    """The finished piece, put together."""

    says: str
    """What its picture shows, with its numbers."""
    facts: tuple[StageFact, ...] = ()
    up: str = ""
    """The end of the first part that is above, `left` or `right`; empty where it lies."""
    cut_away: bool = False
    arrangement: Arrangement | None = field(default=None, repr=False)
    """Its workshop drawing."""
