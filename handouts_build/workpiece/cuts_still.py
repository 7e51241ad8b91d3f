"""Cuts made while the lathe stands: flats, prisms, ovals.

This module owns what is planed, sawn or carved about the axis the part is held on.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from handouts_build.workpiece.axes import Axis
from handouts_build.workpiece.cut import BaseCut, Here, Removal
from handouts_build.workpiece.faults import MOST_FLATS, WorkpieceFault, count_within, positive, said, within
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.solid import Solid, round_factor

__all__ = ["CarveOval", "Flat", "Prism"]


@dataclass(frozen=True, kw_only=True)
class _Still(BaseCut):
    """A cut along the side, the wood at rest."""

    start_mm: float | None = None
    """None: from the wood's end."""
    end_mm: float | None = None

    @property
    def turned(self) -> bool:
        """The lathe stands."""
        return False


@dataclass(frozen=True, kw_only=True)
class Flat(_Still):
    """Plane one flat along the side."""

    distance_mm: float
    """From the axis."""
    angle_deg: float = 0.0
    """The way it faces."""

    def removal(self, here: Here) -> Removal:
        """All beyond the plane."""
        within(self.distance_mm, "the flat's distance from the axis")
        within(self.angle_deg, "the flat's angle")
        if self.distance_mm >= here.radius_mm:
            raise WorkpieceFault(
                f"a flat {said(self.distance_mm)} from the axis is outside the wood",
                f"the wood reaches {said(here.radius_mm)} from the axis",
            )
        start, end = here.span(self.start_mm, self.end_mm)
        far = here.beyond_mm
        angle = math.radians(self.angle_deg)
        corners = [(self.distance_mm, -far), (far, -far), (far, far), (self.distance_mm, far)]
        turned = [_turned(x, y, angle) for x, y in corners]
        out = (math.cos(angle), math.sin(angle))
        middle = (max(start, here.low_mm) + min(end, here.high_mm)) / 2
        inward = Axis(
            (self.distance_mm * out[0], self.distance_mm * out[1], middle), (-out[0], -out[1], 0.0), (0.0, 0.0, 1.0)
        )
        half = math.sqrt(max(0.0, here.radius_mm**2 - self.distance_mm**2))
        wide = min(2 * half, min(end, here.high_mm) - max(start, here.low_mm))
        feature = Feature(self.name, FeatureKind.FLAT, inward, 0.5 * wide, 0.0)
        return Removal(Solid.prism([turned], start_mm=start, end_mm=end), features=(feature,))


@dataclass(frozen=True, kw_only=True)
class Prism(_Still):
    """Plane flats all around, parallel to the axis."""

    flats: int
    across_mm: float
    """Twice the distance of a flat from the axis."""
    start_deg: float = 0.0
    """The way the first flat faces."""

    def removal(self, here: Here) -> Removal:
        """All outside the flats."""
        count_within(self.flats, "flats", least=3, most=MOST_FLATS)
        positive(self.across_mm, "the width across the flats")
        within(self.start_deg, "the angle of the first flat")
        start, end = here.span(self.start_mm, self.end_mm)
        corner = self.across_mm / 2 / math.cos(math.pi / self.flats)
        angles = [math.radians(self.start_deg) + (2 * one + 1) * math.pi / self.flats for one in range(self.flats)]
        inner = [(corner * math.cos(angle), corner * math.sin(angle)) for angle in angles]
        return Removal(_around(inner, start, end, max(here.beyond_mm, 1.01 * corner + 1)))


@dataclass(frozen=True, kw_only=True)
class CarveOval(_Still):
    """Carve the section to an oval (an ellipse)."""

    wide_mm: float
    thick_mm: float
    angle_deg: float = 0.0
    """The way its width runs."""

    def removal(self, here: Here) -> Removal:
        """All outside the oval."""
        positive(self.wide_mm, "the oval's width")
        positive(self.thick_mm, "the oval's thickness")
        within(self.angle_deg, "the oval's angle")
        start, end = here.span(self.start_mm, self.end_mm)
        factor, angle = round_factor(here.segments), math.radians(self.angle_deg)
        turns = [2 * math.pi * one / here.segments for one in range(here.segments)]
        inner = [
            _turned(factor * self.wide_mm / 2 * math.cos(turn), factor * self.thick_mm / 2 * math.sin(turn), angle)
            for turn in turns
        ]
        return Removal(_around(inner, start, end, max(here.beyond_mm, self.wide_mm + self.thick_mm)))


def _turned(x: float, y: float, angle: float) -> tuple[float, float]:
    return x * math.cos(angle) - y * math.sin(angle), x * math.sin(angle) + y * math.cos(angle)


def _around(inner: list[tuple[float, float]], start: float, end: float, far: float) -> Solid:
    """All between a section and a box past the wood."""
    box = [(-far, -far), (far, -far), (far, far), (-far, far)]
    return Solid.prism([box, inner], start_mm=start, end_mm=end)
