"""Cuts that shape the outside of turning wood.

This module owns cylinder, facets, ball, tenon, profile and parting off. Holes and
hollows are in `cuts_inside`; what is done to wood at rest is in `cuts_still`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from handouts_build.workpiece.axes import Axis
from handouts_build.workpiece.cut import BaseCut, Here, Removal
from handouts_build.workpiece.faults import MOST_FLATS, WorkpieceFault, positive, said, within
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.holds import End
from handouts_build.workpiece.regions import ball_outline, checked, facet_outline, outside, thinned, with_stubs
from handouts_build.workpiece.solid import Outline, Solid

__all__ = ["Ball", "Cylinder", "Facets", "PartOff", "ProfileCut", "Stub", "Tenon"]


def stub_axis(place_mm: float, end: End) -> Axis:
    """An axis on the lathe's, from a place toward an end."""
    return Axis((0.0, 0.0, place_mm), (0.0, 0.0, -1.0 if end is End.LEFT else 1.0), (1.0, 0.0, 0.0))


def _around(points: Outline, here: Here) -> Solid:
    return Solid.turned(outside(points, reach_mm=here.beyond_mm), segments=here.segments)


@dataclass(frozen=True, kw_only=True)
class Cylinder(BaseCut):
    """Turn to one diameter, from one place to another."""

    diameter_mm: float
    start_mm: float | None = None
    """None: from the wood's end."""
    end_mm: float | None = None

    def removal(self, here: Here) -> Removal:
        """All outside the diameter."""
        positive(self.diameter_mm, "the cylinder's diameter")
        start, end = here.span(self.start_mm, self.end_mm)
        return Removal(_around([(start, self.diameter_mm / 2), (end, self.diameter_mm / 2)], here))


@dataclass(frozen=True, kw_only=True)
class _Kept(BaseCut):
    """A shape about a middle, with a stub kept at either end."""

    diameter_mm: float
    at_mm: float
    """Its middle along the axis."""
    keep_left_mm: float = 0.0
    """Diameter of the stub that is left standing at its left end."""
    keep_right_mm: float = 0.0

    def _removed(self, points: Outline, here: Here, called: str) -> Removal:
        half = self.diameter_mm / 2
        here.fits(self.at_mm - half, self.at_mm + half, called)
        for keep in (self.keep_left_mm, self.keep_right_mm):
            within(keep, "the stub's diameter")
            if not 0 <= keep < self.diameter_mm:
                raise WorkpieceFault(
                    f"a stub {said(keep)} across is kept on {called} of {said(self.diameter_mm)}",
                    "keep less than the whole diameter",
                )
        kept = with_stubs(points, at_mm=self.at_mm, left_mm=self.keep_left_mm / 2, right_mm=self.keep_right_mm / 2)
        return Removal(_around(kept, here))


@dataclass(frozen=True, kw_only=True)
class Facets(_Kept):
    """Cut the corners off a cylinder as long as it is wide: flats about a circle in the plane of the axis."""

    flats: int

    def removal(self, here: Here) -> Removal:
        """All outside the flats, over the length of the ball to be."""
        positive(self.diameter_mm, "the diameter of the facets")
        within(self.at_mm, "the middle of the facets")
        if self.flats % 4 or not 8 <= self.flats <= MOST_FLATS:
            raise WorkpieceFault(f"{self.flats} flats", f"give 8, 16 or 32 (a multiple of 4 up to {MOST_FLATS})")
        points = facet_outline(self.flats, diameter_mm=self.diameter_mm, at_mm=self.at_mm)
        return self._removed(points, here, "the row of facets")


@dataclass(frozen=True, kw_only=True)
class Ball(_Kept):
    """Turn a ball."""

    def removal(self, here: Here) -> Removal:
        """All outside the ball, over its length."""
        positive(self.diameter_mm, "the ball's diameter")
        within(self.at_mm, "the ball's middle")
        if self.diameter_mm > 2.002 * here.radius_mm + 0.1:
            raise WorkpieceFault(
                f"a ball of {said(self.diameter_mm)} does not come from wood {said(2 * here.radius_mm)} across",
                "make the ball smaller or the blank larger",
            )
        fineness = max(2, round(here.segments / 32))
        points = ball_outline(diameter_mm=self.diameter_mm, at_mm=self.at_mm, fineness=fineness)
        return self._removed(points, here, "the ball")


@dataclass(frozen=True, kw_only=True)
class Tenon(BaseCut):
    """Turn a round stub to hold by, or to fit a hole."""

    diameter_mm: float
    long_mm: float
    end: End
    """Toward which end it points."""
    shoulder_mm: float | None = None
    """Where its shoulder is; none: its length from the wood's end."""

    def removal(self, here: Here) -> Removal:
        """All outside it, from the shoulder to its end."""
        positive(self.diameter_mm, "the tenon's diameter")
        positive(self.long_mm, "the tenon's length")
        sign = -1.0 if self.end is End.LEFT else 1.0
        tip = here.low_mm if self.end is End.LEFT else here.high_mm
        shoulder = tip - sign * self.long_mm if self.shoulder_mm is None else self.shoulder_mm
        stop = shoulder + sign * self.long_mm
        start, end = here.span(min(shoulder, stop), max(shoulder, stop))
        here.fits(start, end, "the tenon")
        # Past the wood's end where the tenon ends with it, so that no skin is left.
        if abs(stop - tip) < 1e-6:
            start, end = (here.before_mm, end) if self.end is End.LEFT else (start, here.after_mm)
        feature = Feature(self.name, FeatureKind.TENON, stub_axis(shoulder, self.end), self.diameter_mm, self.long_mm)
        body = _around([(start, self.diameter_mm / 2), (end, self.diameter_mm / 2)], here)
        return Removal(body, features=(feature,))


@dataclass(frozen=True)
class Stub:
    """A stretch of a profile that serves as a tenon."""

    name: str
    start_mm: float
    """On the profile."""
    end_mm: float
    diameter_mm: float
    end: End
    """Toward which end it points."""


@dataclass(frozen=True, kw_only=True)
class ProfileCut(BaseCut):
    """Turn a profile: beads, coves, fillets, tapers, ogees, rounds and V cuts in a row."""

    points_mm: tuple[tuple[float, float], ...]
    """(place, radius), places growing; a shoulder is two points at one place."""
    at_mm: float = 0.0
    """Where the profile's own nought lies along the axis."""
    stubs: tuple[Stub, ...] = ()

    def removal(self, here: Here) -> Removal:
        """All outside the profile, over its length."""
        within(self.at_mm, "the profile's start")
        points = checked([(place + self.at_mm, radius) for place, radius in self.points_mm], "the profile")
        here.fits(points[0][0], points[-1][0], "the profile")
        features = []
        for stub in self.stubs:
            shoulder, tip = (stub.start_mm, stub.end_mm) if stub.end is End.RIGHT else (stub.end_mm, stub.start_mm)
            positive(stub.diameter_mm, "the tenon's diameter")
            positive(abs(tip - shoulder), "the tenon's length")
            axis = stub_axis(self.at_mm + shoulder, stub.end)
            features.append(Feature(stub.name, FeatureKind.TENON, axis, stub.diameter_mm, abs(tip - shoulder)))
        return Removal(_around(thinned(points), here), features=tuple(features))


@dataclass(frozen=True, kw_only=True)
class PartOff(BaseCut):
    """Cut through; what is not kept falls away."""

    at_mm: float
    """The face that is left."""
    keep: End
    """Which side is kept."""
    kerf_mm: float = 3.0
    """Width of the cut, on the side that falls away."""

    @property
    def needs_lathe(self) -> bool:
        """A saw does it as well."""
        return False

    def removal(self, here: Here) -> Removal:
        """The kerf, and the waste beyond it."""
        positive(self.kerf_mm, "the width of the parting cut")
        within(self.at_mm, "the place to part off")
        left = self.keep is End.LEFT
        start, end = here.span(self.at_mm, None) if left else here.span(None, self.at_mm)
        if (left and start <= here.low_mm) or (not left and end >= here.high_mm):
            raise WorkpieceFault(
                f"parting off at {said(self.at_mm)} leaves no wood",
                f"the wood now runs from {said(here.low_mm)} to {said(here.high_mm)}",
            )
        edge = self.at_mm + self.kerf_mm if left else self.at_mm - self.kerf_mm

        def slab(one: float, other: float) -> Solid:
            low, high = min(one, other), max(one, other)
            return Solid.cylinder(radius_mm=here.beyond_mm, start_mm=low, end_mm=high, segments=here.segments)

        far = here.after_mm if left else here.before_mm
        waste = slab(edge, far) if (edge < far if left else edge > far) else None
        inward = stub_axis(self.at_mm, self.keep)
        (radius,) = here.surface_mm(at_mm=self.at_mm - math.copysign(0.01, edge - self.at_mm), angles_rad=[0.3])
        features = (Feature(self.name, FeatureKind.FACE, inward, 2 * radius, 0.0),) if radius else ()
        return Removal(slab(start, end), features=features, waste=waste)
