"""Pencil marks: drawn on the wood as it is, cutting nothing.

This module owns where a mark runs on the surface. How a line looks is for whoever
draws it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from handouts_build.workpiece.axes import Floats
from handouts_build.workpiece.cut import Here
from handouts_build.workpiece.cuts.words import FIRST
from handouts_build.workpiece.declared import angle, choice, count, keep_bounds, length
from handouts_build.workpiece.faults import MOST_HOLES, WorkpieceFault, count_within, said
from handouts_build.workpiece.holds import End

__all__ = ["AlongLine", "BaseMark", "Dots", "EndCircle", "RingLine", "drawn"]

_AROUND = 96


@dataclass(frozen=True, kw_only=True)
class BaseMark:
    """One mark. A kind of mark is declared by a class of this one: its word, its keys, and the lines it draws."""

    word: ClassVar[str]
    """The trade's word for it, as the file has it."""

    def lines(self, here: Here) -> list[Floats]:
        """Its lines on the wood, N x 3 each, lathe coordinates, mm; a line of one point is a dot.

        Raises:
            WorkpieceFault: If it misses the wood.
        """
        raise NotImplementedError


@dataclass(frozen=True, kw_only=True)
class RingLine(BaseMark):
    """A line around the wood."""

    word: ClassVar[str] = "ring"

    at_mm: float = length("Where, from the left end of the blank.", example="middle")

    def lines(self, here: Here) -> list[Floats]:
        """One closed line, lathe coordinates."""
        _on_wood(here, self.at_mm)
        angles = np.linspace(0, 2 * math.pi, _AROUND + 1)
        return [_on_side(here, [(self.at_mm, float(angle)) for angle in angles])]


@dataclass(frozen=True, kw_only=True)
class AlongLine(BaseMark):
    """A line along the wood."""

    word: ClassVar[str] = "line"

    angle_deg: float = angle("Its angle, from the top.", example="0 deg")
    start_mm: float = length("Where it starts, from the left end of the blank.", example="0 in")
    end_mm: float = length("Where it ends.", example="3 in")

    def lines(self, here: Here) -> list[Floats]:
        """One line, lathe coordinates."""
        start, end = here.span(self.start_mm, self.end_mm)
        places = np.linspace(max(start, here.low_mm + 0.01), min(end, here.high_mm - 0.01), 33)
        return [_on_side(here, [(float(place), math.radians(self.angle_deg)) for place in places])]


@dataclass(frozen=True, kw_only=True)
class EndCircle(BaseMark):
    """A circle on an end."""

    word: ClassVar[str] = "circle"

    diameter_mm: float = length("Its diameter.", example="octagon.side", above_nought=True)
    end: End = choice("The end, `left` (headstock) or `right`.", End, example="left")

    def lines(self, here: Here) -> list[Floats]:
        """One closed line, lathe coordinates."""
        radius = self.diameter_mm / 2
        found = []
        for turn in np.linspace(0, 2 * math.pi, _AROUND + 1):
            face = here.face_mm(self.end, radius, float(turn))
            if face is not None:
                found.append((radius * math.cos(turn), radius * math.sin(turn), face))
        if len(found) < 2:
            raise WorkpieceFault(f"a mark, a circle {said(self.diameter_mm)} across, misses the end", "make it smaller")
        return [np.array(found)]


@dataclass(frozen=True, kw_only=True)
class Dots(BaseMark):
    """Points pricked around the wood."""

    word: ClassVar[str] = "points"

    count: int = count("How many.", example="2 * ribs")
    at_mm: float = length("Where, from the left end of the blank.", example="middle")
    start_deg: float = angle(FIRST, word="first", example="15 deg", default=0.0)

    def lines(self, here: Here) -> list[Floats]:
        """A point each, lathe coordinates."""
        count_within(self.count, "points", least=1, most=MOST_HOLES)
        _on_wood(here, self.at_mm)
        angles = [math.radians(self.start_deg + 360 * index / self.count) for index in range(self.count)]
        points = _on_side(here, [(self.at_mm, angle) for angle in angles])
        return [point[None, :] for point in points]


def drawn(mark: BaseMark, here: Here) -> tuple[Floats, ...]:
    """A mark on the wood as it is.

    Args:
        mark: The mark.
        here: The wood, on the hold that the step begins with.

    Returns:
        Its lines, N x 3 each, part coordinates, mm; a line of one point is a dot.

    Raises:
        WorkpieceFault: If the mark misses the wood.
    """
    keep_bounds(mark, mark.word)
    return tuple(here.axis.to_part(line) for line in mark.lines(here))


def _on_wood(here: Here, place: float) -> None:
    if not here.low_mm < place < here.high_mm:
        raise WorkpieceFault(
            f"a mark at {said(place)} is off the wood",
            f"the wood now runs from {said(here.low_mm)} to {said(here.high_mm)}",
        )


def _on_side(here: Here, spots: list[tuple[float, float]]) -> Floats:
    """Points on the outside, by place and angle; those where there is no wood are left out."""
    radii: dict[float, dict[float, float | None]] = {}
    for place in {place for place, _ in spots}:
        angles = sorted({turn for spot, turn in spots if spot == place})
        radii[place] = dict(zip(angles, here.surface_mm(at_mm=place, angles_rad=angles), strict=True))
    found = [
        (radius * math.cos(turn), radius * math.sin(turn), place)
        for place, turn in spots
        if (radius := radii[place][turn]) is not None
    ]
    if not found:
        raise WorkpieceFault("a mark falls where there is no wood", "check its place")
    return np.array(found)
