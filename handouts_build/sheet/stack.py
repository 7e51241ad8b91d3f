"""A glued-up stack as a settled sheet carries it: its courses, what is sawn for each, and the profile in it.

This module owns the frame alone. How a stack is worked out is for `trade` and `compute`.
"""

from __future__ import annotations

from dataclasses import dataclass

from handouts_build.quantities import Printed, Quantity

__all__ = ["Course", "Stack", "Strip"]


@dataclass(frozen=True)
class Strip:
    """What is sawn for one wood of one ring, or for a disk."""

    wood: str
    pieces: int
    wide: Quantity
    wide_printed: Printed
    long: Quantity
    """As the author saws it, both ends trimmed."""
    long_printed: Printed
    flipped_printed: Printed
    """Length where the strip is turned over after each cut."""
    plain_printed: Printed
    """Length where it is not."""


@dataclass(frozen=True)
class Course:
    """One course of a stack, counted from its left end."""

    kind: str
    """`ring`, `disk` or `veneer`."""
    says: str
    """Its name: what the author calls it, or ring 1, ring 2 … and so on."""
    start: Quantity
    high: Quantity
    high_printed: Printed
    across: Quantity
    """From flat to flat of a ring; diameter of a disk."""
    across_printed: Printed
    inside: Quantity | None
    inside_printed: Printed | None
    pieces: int
    """Segments of a ring; nought for what is one piece."""
    turn_deg: float
    woods: tuple[str, ...]
    """Of each segment from the first joint around; of a disk, one."""
    miter_printed: Printed | None
    edge: Quantity | None
    """Outer edge of a segment."""
    edge_printed: Printed | None
    strips: tuple[Strip, ...]

    @property
    def end(self) -> Quantity:
        """Where the next course begins."""
        after: Quantity = self.start + self.high
        return after

    @property
    def mixed(self) -> tuple[str, ...]:
        """Its woods, each once."""
        return tuple(dict.fromkeys(self.woods))


@dataclass(frozen=True)
class Stack:
    """A blank of courses glued one on another."""

    courses: tuple[Course, ...]
    """From the left end on."""
    outside_mm: tuple[tuple[float, float], ...]
    """Finished outside, (place from the left end, radius) in mm."""
    inside_mm: tuple[tuple[float, float], ...]
    """Finished inside; empty where there is none."""
    order: tuple[str, ...]
    """What is glued to what, in turn."""
    flip: bool
    rests_on: tuple[str, ...]
    """Full names of all that it follows from."""

    @property
    def woods(self) -> tuple[str, ...]:
        """Its woods, each once, from the left end on."""
        return tuple(dict.fromkeys(wood for course in self.courses for wood in course.woods))

    @property
    def rings(self) -> tuple[Course, ...]:
        """Its rings."""
        return tuple(course for course in self.courses if course.kind == "ring")

    @property
    def segments(self) -> int:
        """Segments in all."""
        return sum(course.pieces for course in self.courses)
