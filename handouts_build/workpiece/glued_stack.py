"""A blank glued up from courses: rings of segments, plain disks and veneers, one on another.

This module owns the stack as a solid and which piece of it a point lies in. What the
courses are, and why, is worked out elsewhere. The first course begins at the left end.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from handouts_build.workpiece.blanks import BaseBlank, Grain, long_key, regular_polygon
from handouts_build.workpiece.declared import outline
from handouts_build.workpiece.solid import Solid

__all__ = ["GluedStack", "StackCourse"]


@dataclass(frozen=True)
class StackCourse:
    """One course of a stack."""

    start_mm: float
    high_mm: float
    across_mm: float
    """From flat to flat of a ring; diameter of a disk."""
    inside_mm: float = 0.0
    """The opening, from flat to flat; nought where there is none."""
    pieces: int = 0
    """Segments of a ring; nought for a disk or a veneer, which is one piece."""
    turn_deg: float = 0.0
    """How far a joint of the ring is turned from the x axis."""
    woods: tuple[int, ...] = (0,)
    """Numbers of the woods of its pieces, from the first joint around; of a disk, one."""

    @property
    def end_mm(self) -> float:
        """Where the next course begins."""
        return self.start_mm + self.high_mm

    @property
    def swing_mm(self) -> float:
        """Across its corners."""
        return self.across_mm / math.cos(math.pi / self.pieces) if self.pieces else self.across_mm

    @property
    def volume_mm3(self) -> float:
        """Of its wood: n tan(180°/n) times the squares of the half widths; π of a disk's."""
        share = self.pieces * math.tan(math.pi / self.pieces) if self.pieces else math.pi
        return share * (self.across_mm**2 - self.inside_mm**2) / 4 * self.high_mm

    def outline(self, across_mm: float) -> list[tuple[float, float]]:
        """The polygon of that width, its joints where the ring's are."""
        return regular_polygon(self.pieces, across_mm, turn_deg=self.turn_deg)


@dataclass(frozen=True, kw_only=True)
class GluedStack(BaseBlank):
    """Courses glued one on another: rings of mitered segments, disks and veneers, as `stacks` works them out."""

    word: ClassVar[str] = "glued-up stack"
    title: ClassVar[str] = "stack"
    example: ClassVar[str] = "blank-stack"
    called: ClassVar[str] = "a stack"
    together: ClassVar[str] = "a stack is as wide and as long as its courses make it"
    remedy: ClassVar[str] = "write {stack: courses}, with courses under `stacks`"
    own_grain: ClassVar[Grain | None] = Grain.AROUND
    glued: ClassVar[bool] = True
    swings: ClassVar[str] = "swing"
    largest_round: ClassVar[str] = "width"

    courses: tuple[StackCourse, ...] = outline(
        "A stack of courses, by its name under `stacks`; it says how long the blank is.", word="stack",
        example="courses",
    )  # fmt: skip
    tones: tuple[str, ...] = ("tan",)
    """What each wood looks like beside the others, in the words of pictures."""
    long_mm: float = long_key()
    grain: Grain = Grain.AROUND

    def body(self, segments: int) -> Solid:
        """Every course a prism; n segments are n tan(180°/n) times the squares of the half widths."""
        return Solid.all_of([self._course(course, segments) for course in self.courses])

    def _course(self, course: StackCourse, segments: int) -> Solid:
        start, end = course.start_mm, course.end_mm
        if not course.pieces:
            return Solid.cylinder(radius_mm=course.across_mm / 2, start_mm=start, end_mm=end, segments=segments)
        widths = [course.across_mm, course.inside_mm] if course.inside_mm else [course.across_mm]
        return Solid.prism([course.outline(width) for width in widths], start_mm=start, end_mm=end)

    def of_wood(self, wood: int) -> Solid:
        """The room of all pieces that are of one of its woods, out past the blank.

        Args:
            wood: Its number.
        """
        found = []
        for course in self.courses:
            wide = course.swing_mm
            for piece, own in enumerate(course.woods):
                if own != wood:
                    continue
                corners = [(wide, wide), (-wide, wide), (-wide, -wide), (wide, -wide)]
                if course.pieces:
                    turns = [math.radians(course.turn_deg + (piece + end) * 360 / course.pieces) for end in (0, 0.5, 1)]
                    corners = [(0.0, 0.0), *((wide * math.cos(turn), wide * math.sin(turn)) for turn in turns)]
                found.append(Solid.prism([corners], start_mm=course.start_mm, end_mm=course.end_mm))
        return Solid.all_of(found)

    def opening(self, *, over_mm: float = 0.0) -> Solid | None:
        """The air within its rings, as much farther at an open end as told."""
        last = len(self.courses) - 1
        found = [
            Solid.prism(
                [course.outline(course.inside_mm)],
                start_mm=course.start_mm - (over_mm if index == 0 else 0.0),
                end_mm=course.end_mm + (over_mm if index == last else 0.0),
            )
            for index, course in enumerate(self.courses)
            if course.inside_mm
        ]
        return Solid.all_of(found) if found else None
