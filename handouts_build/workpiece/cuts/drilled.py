"""Holes drilled while the wood stands still: toward the axis, and along it on a circle."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np

from handouts_build.workpiece.axes import Axis
from handouts_build.workpiece.cut import Here, Reach, Removal
from handouts_build.workpiece.cuts.around import CutAround, depth_from_surface, must_go_one_way, reach_inward
from handouts_build.workpiece.cuts.probes import probe_of
from handouts_build.workpiece.cuts.words import AT, DEEP, EACH, FIRST, FROM_END
from handouts_build.workpiece.declared import angle, choice, count, length, thing
from handouts_build.workpiece.faults import WorkpieceFault, said
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.holds import End
from handouts_build.workpiece.solid import Solid

__all__ = ["AxialHoles", "HolesAround"]


@dataclass(frozen=True, kw_only=True)
class _Drilled(CutAround):
    """Holes drilled while the wood stands still."""

    drills: ClassVar[bool] = True

    diameter_mm: float = length("Diameter of the bit.", example="1/8 in", above_nought=True)
    count: int

    @property
    def bit_mm(self) -> float | None:
        """Its own diameter."""
        return self.diameter_mm

    def _gathered(self, here: Here, features: Sequence[Feature], *, falls_mm: float = 0.0) -> Removal:
        """The holes of the features, each open to the air at its mouth."""
        apart = []
        for feature in features:
            start = -(here.beyond_mm + here.high_mm - here.low_mm)
            end = feature.long_mm - start if feature.through else feature.long_mm
            hole = Solid.cylinder(
                radius_mm=feature.diameter_mm / 2, start_mm=start, end_mm=end, segments=here.hole_segments
            )
            apart.append(hole.moved(feature.axis))
        return Removal(
            Solid.all_of(apart),
            features=tuple(features),
            apart=tuple(apart) if len(apart) > 1 else (),
            probes=tuple(probe_of(feature, falls_mm=falls_mm) for feature in features),
            depth_mm=max(feature.long_mm for feature in features),
        )


@dataclass(frozen=True, kw_only=True)
class HolesAround(_Drilled):
    """Drill toward the axis, at equal angles around."""

    word: ClassVar[str] = "holes"

    count: int = count("How many.", example="ribs")
    at_mm: float = length(AT, example="middle")
    deep_mm: float | None = depth_from_surface()
    reach: Reach = reach_inward()
    start_deg: float = angle(FIRST, word="first", example="30 deg", default=0.0)
    each: str = thing(EACH, example="drive hole", default="")

    @property
    def comes_out(self) -> bool:
        """Where they go right through."""
        return self.reach is Reach.THROUGH

    def removal(self, here: Here) -> Removal:
        """The holes, each from the surface as it is there."""
        angles = self._angles(self.start_deg)
        must_go_one_way(self.several, self.deep_mm, self.reach)
        here.span(self.at_mm - self.diameter_mm / 2, self.at_mm + self.diameter_mm / 2)
        features = []
        surfaces = here.surface_mm(at_mm=self.at_mm, angles_rad=angles)
        for name, turn, surface in zip(self._names(self.each), angles, surfaces, strict=True):
            if surface is None:
                raise WorkpieceFault(f"there is no wood where '{name}' is to begin", "check its place and angle")
            out = (math.cos(turn), math.sin(turn))
            axis = Axis((surface * out[0], surface * out[1], self.at_mm), (-out[0], -out[1], 0.0), (0.0, 0.0, 1.0))
            long = {Reach.AXIS: surface, Reach.THROUGH: 2 * surface}.get(self.reach, self.deep_mm or 0.0)
            through = self.reach is Reach.THROUGH
            features.append(Feature(name, FeatureKind.HOLE, axis, self.diameter_mm, long, through=through))
        # In whole wood, holes that go to the axis run together there; around a bore they need not.
        whole = bool(here.local.contains(np.array([[0.0, 0.0, self.at_mm]]))[0])
        # A round falls away beside a hole in its side by no more than the hole's radius.
        made = self._gathered(here, features, falls_mm=self.diameter_mm / 2)
        return replace(made, converge=whole and self.reach is not Reach.DEPTH, to_axis=self.reach is Reach.AXIS)


@dataclass(frozen=True, kw_only=True)
class AxialHoles(_Drilled):
    """Drill along the axis, on a circle around it."""

    word: ClassVar[str] = "end holes"
    along_axis: ClassVar[bool] = True

    count: int = count("How many.", example="6")
    circle_mm: float = length("Diameter of the circle their middles lie on; 0 in for one on the axis.", example="1 in")
    end: End = choice(FROM_END, End, example="left")
    deep_mm: float | None = length(DEEP, example="1/2 in", default=None, noun="depth", above_nought=True)
    start_deg: float = angle(FIRST, word="first", example="30 deg", default=0.0)
    each: str = thing(EACH, example="peg hole", default="")

    @property
    def comes_out(self) -> bool:
        """Where they go right through."""
        return self.deep_mm is None

    def removal(self, here: Here) -> Removal:
        """The holes, each from the face as it is there."""
        angles = self._angles(self.start_deg)
        if self.circle_mm < 0 or (self.circle_mm == 0 and self.count > 1):
            raise WorkpieceFault(
                f"the circle of the holes is {said(self.circle_mm)} across", "give a length of more than nought"
            )
        if self.circle_mm / 2 >= here.radius_mm:
            raise WorkpieceFault(
                f"the holes lie on a circle {said(self.circle_mm)} across, outside the wood",
                f"the wood is {said(2 * here.radius_mm)} across",
            )
        left = self.end is End.LEFT
        features = []
        for name, turn in zip(self._names(self.each), angles, strict=True):
            x, y = self.circle_mm / 2 * math.cos(turn), self.circle_mm / 2 * math.sin(turn)
            mouth = here.face_mm(self.end, self.circle_mm / 2, turn)
            if mouth is None:
                raise WorkpieceFault(f"there is no wood where '{name}' is to begin", "check its place and angle")
            other = here.high_mm if left else here.low_mm
            axis = Axis((x, y, mouth), (0.0, 0.0, 1.0 if left else -1.0), (1.0, 0.0, 0.0))
            long = abs(other - mouth) if self.deep_mm is None else self.deep_mm
            through = self.deep_mm is None
            features.append(Feature(name, FeatureKind.HOLE, axis, self.diameter_mm, long, through=through))
        return self._gathered(here, features)
