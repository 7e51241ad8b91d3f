"""Pencil marks: drawn on the wood as it is, cutting nothing.

This module owns where a mark runs on the surface. How a line looks is for whoever
draws it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from handouts_build.workpiece.axes import Floats
from handouts_build.workpiece.cut import Here
from handouts_build.workpiece.faults import MOST_HOLES, WorkpieceFault, count_within, positive, said, within
from handouts_build.workpiece.holds import End

__all__ = ["AlongLine", "Dots", "EndCircle", "Mark", "RingLine", "drawn"]

_AROUND = 96


@dataclass(frozen=True, kw_only=True)
class RingLine:
    """A line around the wood, as drawn with a pencil held to the turning work."""

    at_mm: float

    def lines(self, here: Here) -> list[Floats]:
        """One closed line, lathe coordinates."""
        _on_wood(here, self.at_mm)
        angles = np.linspace(0, 2 * math.pi, _AROUND + 1)
        return [_on_side(here, [(self.at_mm, float(angle)) for angle in angles])]


@dataclass(frozen=True, kw_only=True)
class AlongLine:
    """A line along the wood, drawn on the tool rest."""

    angle_deg: float
    start_mm: float
    end_mm: float

    def lines(self, here: Here) -> list[Floats]:
        """One line, lathe coordinates."""
        start, end = here.span(self.start_mm, self.end_mm)
        places = np.linspace(max(start, here.low_mm + 0.01), min(end, here.high_mm - 0.01), 33)
        return [_on_side(here, [(float(place), math.radians(self.angle_deg)) for place in places])]


@dataclass(frozen=True, kw_only=True)
class EndCircle:
    """A circle on an end."""

    diameter_mm: float
    end: End

    def lines(self, here: Here) -> list[Floats]:
        """One closed line, lathe coordinates."""
        positive(self.diameter_mm, "the circle's diameter")
        radius = self.diameter_mm / 2
        found = []
        for angle in np.linspace(0, 2 * math.pi, _AROUND + 1):
            face = here.face_mm(self.end, radius, float(angle))
            if face is not None:
                found.append((radius * math.cos(angle), radius * math.sin(angle), face))
        if len(found) < 2:
            raise WorkpieceFault(f"a mark, a circle {said(self.diameter_mm)} across, misses the end", "make it smaller")
        return [np.array(found)]


@dataclass(frozen=True, kw_only=True)
class Dots:
    """Points pricked around the wood."""

    count: int
    at_mm: float
    start_deg: float = 0.0

    def lines(self, here: Here) -> list[Floats]:
        """A point each, lathe coordinates."""
        count_within(self.count, "points", least=1, most=MOST_HOLES)
        within(self.start_deg, "the angle of the first point")
        _on_wood(here, self.at_mm)
        angles = [math.radians(self.start_deg + 360 * one / self.count) for one in range(self.count)]
        points = _on_side(here, [(self.at_mm, angle) for angle in angles])
        return [point[None, :] for point in points]


Mark: TypeAlias = RingLine | AlongLine | EndCircle | Dots


def drawn(mark: Mark, here: Here) -> tuple[Floats, ...]:
    """Lines (N x 3) of a mark on the wood, part coordinates; a line of one point is a dot."""
    return tuple(here.axis.to_part(line) for line in mark.lines(here))


def _on_wood(here: Here, place: float) -> None:
    within(place, "the mark's place")
    if not here.low_mm < place < here.high_mm:
        raise WorkpieceFault(
            f"a mark at {said(place)} is off the wood",
            f"the wood now runs from {said(here.low_mm)} to {said(here.high_mm)}",
        )


def _on_side(here: Here, spots: list[tuple[float, float]]) -> Floats:
    """Points on the outside, by place and angle; those where there is no wood are left out."""
    radii: dict[float, dict[float, float | None]] = {}
    for place in {place for place, _ in spots}:
        angles = sorted({angle for one, angle in spots if one == place})
        radii[place] = dict(zip(angles, here.surface_mm(at_mm=place, angles_rad=angles), strict=True))
    found = [
        (radius * math.cos(angle), radius * math.sin(angle), place)
        for place, angle in spots
        if (radius := radii[place][angle]) is not None
    ]
    if not found:
        raise WorkpieceFault("a mark falls where there is no wood", "check its place")
    return np.array(found)
