"""Cuts made while the lathe stands: flats, prisms, ovals.

This module owns what is planed, sawn or carved about the axis the part is held on.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from handouts_build.workpiece.axes import Axis
from handouts_build.workpiece.cut import BaseCut, Here, Removal
from handouts_build.workpiece.cuts.words import START, STOP, numbered
from handouts_build.workpiece.declared import angle, count, length
from handouts_build.workpiece.faults import MOST_FLATS, WorkpieceFault, count_within, said
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.solid import Solid, round_factor

__all__ = ["CarveOval", "Flat", "Prism"]


@dataclass(frozen=True, kw_only=True)
class _Still(BaseCut):
    """A cut along the side, the wood at rest."""

    turned: ClassVar[bool] = False
    needs_lathe: ClassVar[bool] = False


@dataclass(frozen=True, kw_only=True)
class Flat(_Still):
    """Plane a flat along the side, or several at equal angles around, the lathe at rest."""

    word: ClassVar[str] = "flat"
    several: ClassVar[str] = "flats"

    distance_mm: float = length("From the axis to the flat.", example="1/2 in")
    angle_deg: float = angle("The way it faces, from the top; 0 deg if not given.", example="90 deg", default=0.0)
    start_mm: float | None = length(START, default=None)
    end_mm: float | None = length(STOP, default=None)
    count: int = count("How many, at equal angles around; 1 if not given.", example="5", default=1)

    @property
    def bodies(self) -> int:
        """One each."""
        return self.count

    def removal(self, here: Here) -> Removal:
        """All beyond the planes."""
        count_within(self.count, self.several, least=1, most=MOST_FLATS)
        if self.distance_mm >= here.radius_mm:
            raise WorkpieceFault(
                f"a flat {said(self.distance_mm)} from the axis is outside the wood",
                f"the wood reaches {said(here.radius_mm)} from the axis",
            )
        start, end = here.span(self.start_mm, self.end_mm)
        far = here.beyond_mm
        corners = [(self.distance_mm, -far), (far, -far), (far, far), (self.distance_mm, far)]
        turns = [math.radians(self.angle_deg + 360 * index / self.count) for index in range(self.count)]
        planes = [
            Solid.prism([[_turned(x, y, turn) for x, y in corners]], start_mm=start, end_mm=end) for turn in turns
        ]
        middle = (max(start, here.low_mm) + min(end, here.high_mm)) / 2
        half = math.sqrt(max(0.0, here.radius_mm**2 - self.distance_mm**2))
        wide = min(2 * half, min(end, here.high_mm) - max(start, here.low_mm))
        features = []
        for name, turn in zip(numbered(self.name, self.count), turns, strict=True):
            out = (math.cos(turn), math.sin(turn))
            foot = (self.distance_mm * out[0], self.distance_mm * out[1], middle)
            inward = Axis(foot, (-out[0], -out[1], 0.0), (0.0, 0.0, 1.0))
            features.append(Feature(name, FeatureKind.FLAT, inward, 0.5 * wide, 0.0))
        return Removal(Solid.all_of(planes), features=tuple(features))


@dataclass(frozen=True, kw_only=True)
class Prism(_Still):
    """Plane flats all around, the lathe at rest."""

    word: ClassVar[str] = "prism"
    unnamed: ClassVar[str] = "flats"

    flats: int = count("How many.", example="8")
    across_mm: float = length(
        "Twice the distance of a flat from the axis.", example="2 in", noun="width across the flats", above_nought=True
    )
    start_deg: float = angle("The way the first flat faces; 0 deg if not given.", word="first", default=0.0)
    start_mm: float | None = length(START, default=None)
    end_mm: float | None = length(STOP, default=None)

    def removal(self, here: Here) -> Removal:
        """All outside the flats."""
        count_within(self.flats, "flats", least=3, most=MOST_FLATS)
        start, end = here.span(self.start_mm, self.end_mm)
        corner = self.across_mm / 2 / math.cos(math.pi / self.flats)
        angles = [math.radians(self.start_deg) + (2 * index + 1) * math.pi / self.flats for index in range(self.flats)]
        inner = [(corner * math.cos(angle), corner * math.sin(angle)) for angle in angles]
        return Removal(_around(inner, start, end, max(here.beyond_mm, 1.01 * corner + 1)))


@dataclass(frozen=True, kw_only=True)
class CarveOval(_Still):
    """Carve the section to an oval, the lathe at rest."""

    word: ClassVar[str] = "oval"

    wide_mm: float = length("Its width.", example="1 1/2 in", noun="width", above_nought=True)
    thick_mm: float = length("Its thickness.", example="1 in", noun="thickness", above_nought=True)
    angle_deg: float = angle("The way its width runs, from the top; 0 deg if not given.", default=0.0)
    start_mm: float | None = length(START, default=None)
    end_mm: float | None = length(STOP, default=None)

    def removal(self, here: Here) -> Removal:
        """All outside the oval."""
        start, end = here.span(self.start_mm, self.end_mm)
        factor, turned = round_factor(here.segments), math.radians(self.angle_deg)
        turns = [2 * math.pi * index / here.segments for index in range(here.segments)]
        inner = [
            _turned(factor * self.wide_mm / 2 * math.cos(turn), factor * self.thick_mm / 2 * math.sin(turn), turned)
            for turn in turns
        ]
        return Removal(_around(inner, start, end, max(here.beyond_mm, self.wide_mm + self.thick_mm)))


def _turned(x: float, y: float, angle: float) -> tuple[float, float]:
    return x * math.cos(angle) - y * math.sin(angle), x * math.sin(angle) + y * math.cos(angle)


def _around(inner: list[tuple[float, float]], start: float, end: float, far: float) -> Solid:
    """All between a section and a box past the wood."""
    box = [(-far, -far), (far, -far), (far, far), (-far, far)]
    return Solid.prism([box, inner], start_mm=start, end_mm=end)
