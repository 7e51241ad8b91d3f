"""Cuts into the wall of a hole, behind its mouth: grooves, coves and undercuts.

This module owns them, and what a tool has to be like that reaches them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from handouts_build.workpiece.axes import PART_AXIS
from handouts_build.workpiece.cut import BaseCut, Here, Hook, Nature, Removal
from handouts_build.workpiece.cuts.probes import probe_of
from handouts_build.workpiece.declared import length, thing
from handouts_build.workpiece.faults import WorkpieceFault, said
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.holds import feature_named
from handouts_build.workpiece.measures import radial_crossings
from handouts_build.workpiece.solid import Solid

__all__ = ["InsideCove", "InsideGroove", "Undercut"]

_AROUND = np.radians(np.arange(24) * 15.0 + 0.37)
_CHORDS = 16
_HAIR_MM = 0.02
_FACETS = 0.002
"""A wall that differs by less of its radius from its hole's is that: a round is drawn with straight sides."""

_HOLE = "The hole, recess or hollow whose wall it is in, by name."
_DEEP = "How deep it goes into the wall."


@dataclass(frozen=True, kw_only=True)
class _Behind(BaseCut):
    """A cut around the wall of a hole."""

    nature: ClassVar[Nature] = Nature.INSIDE
    hollows: ClassVar[bool] = True

    hole: str = thing(_HOLE, example="seat")
    at_mm: float = length("Its middle, from the hole's mouth.", example="3/16 in")
    wide_mm: float = length("Its width, along the axis.", example="1/8 in", noun="width", above_nought=True)
    deep_mm: float = length(_DEEP, example="1/16 in", noun="depth", above_nought=True)

    @property
    def span_mm(self) -> tuple[float, float]:
        """From where to where it goes, from the hole's mouth."""
        return self.at_mm - self.wide_mm / 2, self.at_mm + self.wide_mm / 2

    def section(self, wall_mm: float) -> list[tuple[float, float]]:
        """Its outline in the wall, (place from the hole's mouth, radius), mm; it begins and ends at the wall.

        Args:
            wall_mm: Radius of the wall.
        """
        raise NotImplementedError

    def removal(self, here: Here) -> Removal:
        """All between the axis and its outline."""
        hole = feature_named(self.hole, here.features)
        if not hole.hollow:
            raise WorkpieceFault(f"'{self.hole}' is no hole", "name a recess, a bore or a hollow")
        start, end = self.span_mm
        if start < 0 or end > hole.long_mm + _HAIR_MM:
            raise WorkpieceFault(
                f"this cut runs from {said(start)} to {said(end)}, and '{self.hole}' is {said(hole.long_mm)} deep",
                "places count from the hole's mouth: keep it between the mouth and the floor",
            )
        wood = here.wood.seen_from(hole.axis)
        wall = max(self._wall(wood, place) for place in np.linspace(start, end, 5))
        if abs(wall - hole.diameter_mm / 2) < _FACETS * wall:
            wall = hole.diameter_mm / 2
        outline = self.section(wall)
        out = max(radius for _, radius in outline)
        body = Solid.turned([(start, 0.4 * wall), *outline, (end, 0.4 * wall)], segments=here.segments)
        mouth = min(self._wall(wood, place) for place in np.linspace(min(_HAIR_MM, start / 2), end, 12))
        feature = Feature(self.name, FeatureKind.RECESS, PART_AXIS.moved(start), 2 * out, self.wide_mm)
        return Removal(
            body,
            features=(feature,),
            probes=(probe_of(feature),),
            axis=hole.axis,
            of=self.hole,
            hook=Hook(2 * mouth, end, out - mouth),
        )

    def _wall(self, wood: Solid, place: float) -> float:
        """Radius of the hole's wall at a place, mm."""
        crossings = radial_crossings(wood.section(float(place)), _AROUND)
        # Even: the axis is in air, and the first crossing is the wall.
        walls = [float(radii[0]) for radii in crossings if len(radii) and len(radii) % 2 == 0]
        if len(walls) < len(crossings):
            raise WorkpieceFault(
                f"'{self.hole}' has no wall all around {said(float(place))} in from its mouth",
                "put the cut where there is wood around the hole",
            )
        return sum(walls) / len(walls)


@dataclass(frozen=True, kw_only=True)
class InsideGroove(_Behind):
    """Cut a flat-floored groove around the wall of a hole, as for the bead of a lid that snaps on."""

    word: ClassVar[str] = "inside groove"

    def section(self, wall_mm: float) -> list[tuple[float, float]]:
        """Square."""
        start, end = self.span_mm
        out = wall_mm + self.deep_mm
        return [(start, wall_mm), (start, out), (end, out), (end, wall_mm)]


@dataclass(frozen=True, kw_only=True)
class InsideCove(_Behind):
    """Cut a cove around the wall of a hole."""

    word: ClassVar[str] = "inside cove"

    def section(self, wall_mm: float) -> list[tuple[float, float]]:
        """Part of a circle through both edges and the floor."""
        half = self.wide_mm / 2
        if self.deep_mm > half:
            raise WorkpieceFault(
                f"a cove {said(self.wide_mm)} wide cannot be {said(self.deep_mm)} deep",
                "a half circle is the deepest: make it wider or shallower",
            )
        radius = (half**2 + self.deep_mm**2) / (2 * self.deep_mm)
        reach = math.asin(min(1.0, half / radius))
        turns = [-reach + 2 * reach * index / _CHORDS for index in range(_CHORDS + 1)]
        base = wall_mm + self.deep_mm - radius
        return [(self.at_mm + radius * math.sin(turn), base + radius * math.cos(turn)) for turn in turns]


@dataclass(frozen=True, kw_only=True)
class Undercut(_Behind):
    """Cut the wall of a hole back behind a lip: square behind the lip, running out farther in."""

    word: ClassVar[str] = "undercut"

    at_mm: float = length("Where it begins behind the lip, from the hole's mouth.", example="1/8 in")

    @property
    def span_mm(self) -> tuple[float, float]:
        """From behind the lip inward."""
        return self.at_mm, self.at_mm + self.wide_mm

    def section(self, wall_mm: float) -> list[tuple[float, float]]:
        """A step behind the lip, and a straight way back to the wall."""
        start, end = self.span_mm
        return [(start, wall_mm), (start, wall_mm + self.deep_mm), (end, wall_mm)]
