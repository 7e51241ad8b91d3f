"""Cuts that go into the wood: bores, holes, grooves, recesses, hollows.

This module owns holes of all kinds and the rings of points by which a break-through
of their walls is found. What shapes the outside is in `cuts_outside`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from handouts_build.workpiece.axes import PART_AXIS, Axis
from handouts_build.workpiece.cut import BaseCut, Here, Nature, Probe, Reach, Removal
from handouts_build.workpiece.cuts_outside import stub_axis
from handouts_build.workpiece.faults import MOST_HOLES, WorkpieceFault, count_within, positive, said, within
from handouts_build.workpiece.features import Feature, FeatureKind, ring_points
from handouts_build.workpiece.holds import End, feature_named
from handouts_build.workpiece.solid import Solid

__all__ = ["AxialHoles", "Bore", "Enlarge", "Groove", "HolesAround", "InsideCut", "Recess"]

PAST_MM = 0.05
"""How far past a wall the wood is felt for."""


def _probe(hole: Feature) -> Probe:
    """Rings around a hole from its mouth inward, the last past its floor if it has one."""
    # Close enough that a cut across the hole does not slip between two rings.
    count = max(10, math.ceil(min(48.0, 4 * hole.long_mm / hole.diameter_mm)))
    places = list(np.linspace(0.0, 1.0, count + 1)[1:] * hole.long_mm)
    places[-1] -= PAST_MM
    radius = hole.diameter_mm / 2 * 1.002 + PAST_MM
    rings = [ring_points(hole.axis, radii=[radius], places=[place], around=16) for place in places]
    if not hole.through:
        past = hole.long_mm + PAST_MM
        rings.append(ring_points(hole.axis, radii=[0.1 * radius, 0.8 * radius], places=[past], around=8))
    return Probe(hole.name, tuple(rings), hole.through)


@dataclass(frozen=True, kw_only=True)
class InsideCut(BaseCut):
    """Any cut into the wood."""

    @property
    def nature(self) -> Nature:
        """Into the wood."""
        return Nature.INSIDE


@dataclass(frozen=True, kw_only=True)
class _Axial(InsideCut):
    """A round hole along the axis, from an end."""

    diameter_mm: float
    end: End
    """The end it is cut from."""
    from_mm: float | None = None
    """The face its depth is measured from; none: where the tool first meets wood."""

    def _sunk(self, here: Here, *, deep_mm: float | None, kind: FeatureKind) -> Removal:
        """The hole to a depth, or right through."""
        radius = self.diameter_mm / 2
        left = self.end is End.LEFT
        mouth = here.mouth_mm(self.end, radius_mm=radius) if self.from_mm is None else self.from_mm
        within(mouth, "the face the depth is measured from")
        sign = 1.0 if left else -1.0
        far = here.after_mm if left else here.before_mm
        stop = far if deep_mm is None else mouth + sign * deep_mm
        near = here.before_mm if left else here.after_mm
        start, end = here.span(min(near, stop), max(near, stop))
        body = Solid.cylinder(radius_mm=radius, start_mm=start, end_mm=end, segments=here.segments)
        other = here.high_mm if left else here.low_mm
        long = abs(other - mouth) if deep_mm is None else deep_mm
        axis = stub_axis(mouth, End.RIGHT if left else End.LEFT)
        through = deep_mm is None
        feature = Feature(self.name, kind, axis, self.diameter_mm, long, through=through)
        return Removal(body, features=(feature,), probes=(_probe(feature),), depth_mm=long)


@dataclass(frozen=True, kw_only=True)
class Bore(_Axial):
    """Drill or bore along the axis."""

    deep_mm: float | None = None
    """None: right through."""

    @property
    def turned(self) -> bool:
        """Its tool is on the axis, where there is no air to cut."""
        return False

    @property
    def needs_lathe(self) -> bool:
        """Drilling along the axis is done with the wood turning."""
        return True

    @property
    def bit_mm(self) -> float | None:
        """Its own diameter."""
        return self.diameter_mm

    def removal(self, here: Here) -> Removal:
        """The hole."""
        positive(self.diameter_mm, "the bore")
        if self.deep_mm is not None:
            positive(self.deep_mm, "the bore's depth")
        return self._sunk(here, deep_mm=self.deep_mm, kind=FeatureKind.BORE)


@dataclass(frozen=True, kw_only=True)
class Recess(_Axial):
    """Turn a shallow hole in a face, for jaws to open into or a lid to sit in."""

    deep_mm: float

    def removal(self, here: Here) -> Removal:
        """The recess."""
        positive(self.diameter_mm, "the recess's diameter")
        positive(self.deep_mm, "the recess's depth")
        return self._sunk(here, deep_mm=self.deep_mm, kind=FeatureKind.RECESS)


@dataclass(frozen=True, kw_only=True)
class _Drilled(InsideCut):
    """Holes drilled while the wood stands still."""

    diameter_mm: float
    count: int
    start_deg: float = 0.0
    """Angle of the first."""
    each: str = ""
    """What one is called: `hole` gives hole 1, hole 2 and so on; empty: the cut's own name."""

    @property
    def turned(self) -> bool:
        """The lathe stands."""
        return False

    @property
    def bit_mm(self) -> float | None:
        """Its own diameter."""
        return self.diameter_mm

    @property
    def bodies(self) -> int:
        """One a hole."""
        return self.count

    def _names(self) -> list[str]:
        called = self.each or self.name
        return [called] if self.count == 1 else [f"{called} {one}" for one in range(1, self.count + 1)]

    def _angles(self) -> list[float]:
        positive(self.diameter_mm, "the hole's diameter")
        count_within(self.count, "holes", least=1, most=MOST_HOLES)
        within(self.start_deg, "the angle of the first hole")
        return [math.radians(self.start_deg + 360 * one / self.count) for one in range(self.count)]

    def _gathered(self, here: Here, features: Sequence[Feature]) -> Removal:
        """The holes of the features, each open to the air at its mouth."""
        apart = []
        for one in features:
            start = -(here.beyond_mm + here.high_mm - here.low_mm)
            end = one.long_mm - start if one.through else one.long_mm
            hole = Solid.cylinder(
                radius_mm=one.diameter_mm / 2, start_mm=start, end_mm=end, segments=here.hole_segments
            )
            apart.append(hole.moved(one.axis))
        return Removal(
            Solid.all_of(apart),
            features=tuple(features),
            apart=tuple(apart) if len(apart) > 1 else (),
            probes=tuple(_probe(one) for one in features),
            depth_mm=max(one.long_mm for one in features),
        )


@dataclass(frozen=True, kw_only=True)
class HolesAround(_Drilled):
    """Drill toward the axis, at equal angles around."""

    at_mm: float
    """Place along the axis."""
    reach: Reach = Reach.DEPTH
    deep_mm: float | None = None
    """From the surface, where the reach is a depth."""

    def removal(self, here: Here) -> Removal:
        """The holes, each from the surface as it is there."""
        angles = self._angles()
        if (self.deep_mm is None) is (self.reach is Reach.DEPTH):
            raise WorkpieceFault("the holes have no one depth", "give a depth, or say to the axis or through")
        if self.deep_mm is not None:
            positive(self.deep_mm, "the holes' depth")
        here.span(self.at_mm - self.diameter_mm / 2, self.at_mm + self.diameter_mm / 2)
        features = []
        surfaces = here.surface_mm(at_mm=self.at_mm, angles_rad=angles)
        for name, angle, surface in zip(self._names(), angles, surfaces, strict=True):
            if surface is None:
                raise WorkpieceFault(f"there is no wood where '{name}' is to begin", "check its place and angle")
            out = (math.cos(angle), math.sin(angle))
            axis = Axis((surface * out[0], surface * out[1], self.at_mm), (-out[0], -out[1], 0.0), (0.0, 0.0, 1.0))
            long = {Reach.AXIS: surface, Reach.THROUGH: 2 * surface}.get(self.reach, self.deep_mm or 0.0)
            through = self.reach is Reach.THROUGH
            features.append(Feature(name, FeatureKind.HOLE, axis, self.diameter_mm, long, through=through))
        # In whole wood, holes that go to the axis run together there; around a bore they need not.
        whole = bool(here.local.contains(np.array([[0.0, 0.0, self.at_mm]]))[0])
        return replace(self._gathered(here, features), converge=whole and self.reach is not Reach.DEPTH)


@dataclass(frozen=True, kw_only=True)
class AxialHoles(_Drilled):
    """Drill along the axis, on a circle around it."""

    circle_mm: float
    """Diameter of the circle their middles lie on; nought for one hole on the axis."""
    end: End
    deep_mm: float | None = None
    """None: right through."""

    def removal(self, here: Here) -> Removal:
        """The holes, each from the face as it is there."""
        angles = self._angles()
        within(self.circle_mm, "the circle of the holes")
        if self.circle_mm < 0 or (self.circle_mm == 0 and self.count > 1):
            raise WorkpieceFault(
                f"the circle of the holes is {said(self.circle_mm)} across", "give a length of more than nought"
            )
        if self.circle_mm / 2 >= here.radius_mm:
            raise WorkpieceFault(
                f"the holes lie on a circle {said(self.circle_mm)} across, outside the wood",
                f"the wood is {said(2 * here.radius_mm)} across",
            )
        if self.deep_mm is not None:
            positive(self.deep_mm, "the holes' depth")
        left = self.end is End.LEFT
        features = []
        for name, angle in zip(self._names(), angles, strict=True):
            x, y = self.circle_mm / 2 * math.cos(angle), self.circle_mm / 2 * math.sin(angle)
            mouth = here.face_mm(self.end, self.circle_mm / 2, angle)
            if mouth is None:
                raise WorkpieceFault(f"there is no wood where '{name}' is to begin", "check its place and angle")
            other = here.high_mm if left else here.low_mm
            axis = Axis((x, y, mouth), (0.0, 0.0, 1.0 if left else -1.0), (1.0, 0.0, 0.0))
            long = abs(other - mouth) if self.deep_mm is None else self.deep_mm
            through = self.deep_mm is None
            features.append(Feature(name, FeatureKind.HOLE, axis, self.diameter_mm, long, through=through))
        return self._gathered(here, features)


@dataclass(frozen=True, kw_only=True)
class Groove(InsideCut):
    """Cut a flat-floored groove around the axis."""

    at_mm: float
    """Its middle."""
    wide_mm: float
    floor_mm: float
    """Distance of its floor from the axis."""

    def removal(self, here: Here) -> Removal:
        """All outside the floor, over its width."""
        positive(self.wide_mm, "the groove's width")
        positive(self.floor_mm, "the groove's floor")
        start, end = here.span(self.at_mm - self.wide_mm / 2, self.at_mm + self.wide_mm / 2)
        far = max(here.beyond_mm, self.floor_mm + 1)
        region = [(start, self.floor_mm), (end, self.floor_mm), (end, far), (start, far)]
        axis = stub_axis(self.at_mm, End.RIGHT)
        feature = Feature(self.name, FeatureKind.GROOVE, axis, 2 * self.floor_mm, self.wide_mm)
        return Removal(Solid.turned(region, segments=here.segments), features=(feature,))


@dataclass(frozen=True, kw_only=True)
class Enlarge(InsideCut):
    """Open a hole that is there to a larger diameter, perhaps deeper or less deep."""

    hole: str
    """The feature."""
    diameter_mm: float
    deep_mm: float | None = None
    """From its mouth; none: as deep as it is."""

    @property
    def turned(self) -> bool:
        """Its tool runs in the hole."""
        return False

    @property
    def bit_mm(self) -> float | None:
        """Its own diameter."""
        return self.diameter_mm

    def removal(self, here: Here) -> Removal:
        """The larger hole, on the axis of the one that is there."""
        positive(self.diameter_mm, "the hole's new diameter")
        feature = feature_named(self.hole, here.features)
        if not feature.hollow:
            raise WorkpieceFault(f"'{self.hole}' is no hole", "name a hole, a bore or a recess")
        if self.diameter_mm <= feature.diameter_mm:
            raise WorkpieceFault(f"'{self.hole}' is {said(feature.diameter_mm)} wide already", "give a larger diameter")
        through = feature.through and self.deep_mm is None
        long = feature.long_mm if self.deep_mm is None else self.deep_mm
        positive(long, "the hole's depth")
        out = here.beyond_mm + here.high_mm - here.low_mm
        body = Solid.cylinder(
            radius_mm=self.diameter_mm / 2,
            start_mm=-out,
            end_mm=long + out if through else long,
            segments=here.hole_segments if feature.kind is FeatureKind.HOLE else here.segments,
        )
        larger = Feature(self.name, feature.kind, PART_AXIS, self.diameter_mm, long, through=through)
        return Removal(
            body,
            features=(larger,),
            probes=(_probe(larger),),
            depth_mm=long,
            axis=feature.axis,
            of=self.hole,
        )
