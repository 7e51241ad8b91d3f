"""Woods and glue lines of a glued-up blank, as they show on a solid's surface.

This module owns which piece of a stack each point of a picture lies in. Cuts leave faces
that run across many pieces, so this is told by where a point lies and not by the triangle
it lies on; between two pieces runs a glue line.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from handouts_build.figures.solid.mesh import Floats, Ints, Vector

__all__ = ["GlueUp", "GluedCourse", "GluedRound"]

_HAIR_MM = 0.01
_MOST_PIECES = 1024
"""More than a course has."""


@dataclass(frozen=True)
class GluedCourse:
    """One course."""

    end_mm: float
    """Where the next begins, along the axis."""
    turn_deg: float
    """Where the first joint lies, from the x axis."""
    tones: tuple[str, ...]
    """The tone of each piece from there around; of a disk, one."""


@dataclass(frozen=True)
class GluedRound:
    """A round of another wood that is let into it, about an axis of its own."""

    origin: Vector
    """The middle of its hole's mouth, mm."""
    inward: Vector
    """Unit vector."""
    radius_mm: float
    """Of the hole."""
    outer_mm: float
    """Of what stands out of it."""
    start_mm: float
    """How far along the axis it begins, less than nought where it stands out."""
    end_mm: float
    tone: str

    def holds(self, points: Floats) -> NDArray[np.bool_]:
        """Whether points lie in it, N x 3, mm."""
        away = points - np.array(self.origin)
        along = away @ np.array(self.inward)
        out = np.linalg.norm(away - along[:, None] * np.array(self.inward), axis=1)
        inside: NDArray[np.bool_] = (along >= self.start_mm - _HAIR_MM) & (along <= self.end_mm)
        within: NDArray[np.bool_] = out <= np.where(along < 0, self.outer_mm, self.radius_mm)
        return inside & within


@dataclass(frozen=True)
class GlueUp:
    """Where a glued-up blank lies in a mesh, or one that something is let into."""

    origin: Vector
    """Left end of its axis, mm."""
    frame: tuple[Vector, Vector, Vector]
    """Unit vectors along its x, y and axis."""
    courses: tuple[GluedCourse, ...]
    triangles: tuple[int, int] = field(repr=False)
    """Of the mesh: its first, and past its last."""
    let_in: tuple[GluedRound, ...] = ()

    @property
    def tones(self) -> tuple[str, ...]:
        """Its tones, each once."""
        own = [tone for course in self.courses for tone in course.tones]
        return tuple(dict.fromkeys([*own, *(inlay.tone for inlay in self.let_in)]))

    @property
    def stack(self) -> list[list[object]]:
        """Its courses as plain values, for JSON: where each ends, where its first joint lies, and its woods' tones."""
        return [[round(course.end_mm, 4), round(course.turn_deg, 4), list(course.tones)] for course in self.courses]

    @property
    def lies(self) -> list[float]:
        """How it lies as twelve numbers: the left end of its axis, then its x, y and axis, one after the other."""
        return [*self.origin, *(number for way in self.frame for number in way)]

    @property
    def rounds(self) -> list[list[object]]:
        """What is let into it as plain values, for JSON, in its own frame.

        Of each its mouth's middle, the way in, the radius of its hole and of what stands out, where it begins and ends
        along that way, and its tone; mm.
        """
        turn = np.array(self.frame)
        found: list[list[object]] = []
        for each in self.let_in:
            middle, inward = turn @ (np.array(each.origin) - np.array(self.origin)), turn @ np.array(each.inward)
            sizes = (*middle, *inward, each.radius_mm, each.outer_mm, each.start_mm, each.end_mm)
            found.append([*(round(float(size), 4) for size in sizes), each.tone])
        return found

    def holds(self, triangle: Ints) -> NDArray[np.bool_]:
        """Whether triangles, by their numbers in the mesh, are of it."""
        found: NDArray[np.bool_] = (triangle >= self.triangles[0]) & (triangle < self.triangles[1])
        return found

    def pieces(self, points: Floats) -> tuple[Ints, Ints]:
        """Which piece points lie in.

        Args:
            points: N x 3, mm.

        Returns:
            For each a number of its piece, from 1, and the number of its tone among `tones`.
        """
        own = (points - np.array(self.origin)) @ np.array(self.frame).T
        ends = np.array([course.end_mm for course in self.courses[:-1]])
        course = np.searchsorted(ends, own[:, 2], side="right")
        count = np.array([len(each.tones) for each in self.courses])
        turn = np.array([each.turn_deg for each in self.courses])
        around = (np.degrees(np.arctan2(own[:, 1], own[:, 0])) - turn[course]) % 360.0
        piece = np.minimum((around * count[course] / 360.0).astype(np.int64), count[course] - 1)
        known = self.tones
        table = np.zeros((len(self.courses), int(count.max())), np.int64)
        for index, each in enumerate(self.courses):
            table[index, : len(each.tones)] = [known.index(tone) for tone in each.tones]
        number, tone = course * _MOST_PIECES + piece + 1, table[course, piece]
        for at, inlay in enumerate(self.let_in):
            within = inlay.holds(points)
            number[within], tone[within] = len(self.courses) * _MOST_PIECES + at + 1, known.index(inlay.tone)
        return number, tone
