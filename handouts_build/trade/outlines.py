"""What follows from a finished outline: stations, story stick, wood, balance, neck.

This module owns the figures read off an outline and the findings on them. It knows
stretches of curve only: which elements they came from is for `profiles`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from handouts_build.quantities import UNITS, Err, Kind, Quantity, count, millimetres, of_kind
from handouts_build.trade.curves import Stretch
from handouts_build.trade.law import Demand

__all__ = ["PROFILE_DEMANDS", "PROFILE_VALUES", "Mark", "Measured", "Profile", "Segment", "Station"]

_SAME = 1e-6
"""Millimetres within which two places or radii are one."""


@dataclass(frozen=True)
class Station:
    """A place along the axis and the diameter there."""

    x: Quantity
    """From the start of the part."""
    diameter: Quantity
    what: str
    """Such as `start of bead` or `crest of bead`."""


@dataclass(frozen=True)
class Mark:
    """A line on the story stick."""

    x: Quantity
    diameters: tuple[Quantity, ...]
    """One, or two at a shoulder: before and after."""
    what: str


@dataclass(frozen=True)
class Segment:
    """One element as drawn."""

    kind: str
    label: str
    stretches: tuple[Stretch, ...]

    @property
    def start(self) -> Quantity:
        """Where it begins along the axis."""
        return millimetres(self.stretches[0].x0)

    @property
    def end(self) -> Quantity:
        """Where it ends along the axis."""
        return millimetres(self.stretches[-1].x1)

    @property
    def name(self) -> str:
        """Its label, or its kind."""
        return self.label or self.kind

    def stations(self) -> Iterator[tuple[float, float, str]]:
        """Place and radius, mm, of its ends and of its crest or bottom."""
        first, last = self.stretches[0], self.stretches[-1]
        yield first.x0, first.radius(first.x0), f"start of {self.name}"
        for stretch in self.stretches:
            turning = stretch.turning()
            if turning is not None:
                yield turning, stretch.radius(turning), f"{'crest' if stretch.c > 0 else 'bottom'} of {self.name}"
            if self.kind == "vee" and stretch is not last:
                yield stretch.x1, stretch.radius(stretch.x1), f"bottom of {self.name}"
        yield last.x1, last.radius(last.x1), f"end of {self.name}"


@dataclass(frozen=True)
class Profile:
    """An outline along the axis, first end at x = 0."""

    segments: tuple[Segment, ...]

    @cached_property
    def points(self) -> tuple[tuple[float, float], ...]:
        """The outline as points (x, r) in millimetres; a shoulder is two points at one x."""
        found: list[tuple[float, float]] = []
        for stretch in self._stretches:
            points = stretch.points()
            joined = bool(found) and _near(found[-1][0], points[0][0]) and _near(found[-1][1], points[0][1])
            found += points[1:] if joined else points
        return tuple(found)

    @cached_property
    def stations(self) -> tuple[Station, ...]:
        """Every element's ends, crests and bottoms, from the start; a place between two elements comes twice."""
        return tuple(
            Station(millimetres(x), millimetres(2 * radius), what)
            for segment in self.segments
            for x, radius, what in segment.stations()
        )

    @cached_property
    def story_stick(self) -> tuple[Mark, ...]:
        """The stations as lines on a stick, each place once."""
        marks: list[Mark] = []
        for station in self.stations:
            if marks and _near(_mm(marks[-1].x), _mm(station.x)):
                before = marks[-1]
                alike = _near(_mm(before.diameters[-1]), _mm(station.diameter))
                sizes = before.diameters if alike else (*before.diameters, station.diameter)
                marks[-1] = Mark(before.x, sizes, f"{before.what}, {station.what}")
            else:
                marks.append(Mark(station.x, (station.diameter,), station.what))
        return tuple(marks)

    def diameter_at(self, x: Quantity) -> Quantity:
        """The diameter at a place; at a shoulder the larger of the two.

        Args:
            x: Length from the start of the part.

        Raises:
            ValueError: If the part is not there.
        """
        place = _mm(x)
        here = [
            stretch.radius(min(max(place, stretch.x0), stretch.x1))
            for stretch in self._stretches
            if stretch.x0 - _SAME <= place <= stretch.x1 + _SAME
        ]
        if not here:
            raise ValueError("the part is not there: x must lie between its ends")
        return millimetres(2 * max(here))

    @property
    def length(self) -> Quantity:
        """From end to end."""
        return self.segments[-1].end

    @cached_property
    def volume(self) -> Quantity:
        """Wood in the part; exact, not summed from the points."""
        return of_kind(sum(stretch.volume() for stretch in self._stretches), Kind.VOLUME)

    @cached_property
    def surface(self) -> Quantity:
        """Surface all over: around, at the shoulders and at both ends."""
        total, before = 0.0, 0.0
        for stretch in self._stretches:
            total += stretch.surface() + math.pi * abs(stretch.radius(stretch.x0) ** 2 - before**2)
            before = stretch.radius(stretch.x1)
        return of_kind(total + math.pi * before**2, Kind.AREA)

    @cached_property
    def balance(self) -> Quantity:
        """Center of gravity along the axis, from the start, the wood alike throughout; exact."""
        return millimetres(sum(stretch.moment() for stretch in self._stretches) / float(self.volume.magnitude))

    @cached_property
    def widest(self) -> Station:
        """The first place of the greatest diameter."""
        return max(self.stations, key=lambda station: _mm(station.diameter))

    @cached_property
    def neck(self) -> Station:
        """The first place of the least diameter, an end that closes to a dome or a point left out."""
        solid = [station for station in self.stations if _mm(station.diameter) > _SAME]
        return min(solid, key=lambda station: _mm(station.diameter))

    @property
    def slenderness(self) -> Quantity:
        """The whole length over the neck's diameter."""
        return count(_mm(self.length) / _mm(self.neck.diameter))

    def known(self) -> dict[str, Quantity]:
        """The values of `PROFILE_VALUES` by name, for `PROFILE_DEMANDS` and for formulas."""
        return {
            "length": self.length,
            "widest": self.widest.diameter,
            "widest_at": self.widest.x,
            "neck": self.neck.diameter,
            "neck_at": self.neck.x,
            "volume": self.volume,
            "surface": self.surface,
            "balance": self.balance,
            "slenderness": self.slenderness,
        }

    @property
    def _stretches(self) -> Iterator[Stretch]:
        return (stretch for segment in self.segments for stretch in segment.stretches)


@dataclass(frozen=True)
class Measured:
    """A value read off an outline."""

    name: str
    says: str
    source: str
    """Id in the table of sources."""
    err: Err = Err.NEAREST
    main: bool = True


PROFILE_VALUES = (
    Measured("length", "Length from end to end", "profile", Err.OVER),
    Measured("widest", "Greatest diameter, the least the blank may have", "profile", Err.OVER),
    Measured("widest_at", "Where that is, from the start", "profile", main=False),
    Measured("neck", "Least diameter, apart from domed or pointed ends", "profile", Err.OVER),
    Measured("neck_at", "Where that is, from the start", "profile", main=False),
    Measured("volume", "Wood in the finished part", "disks", main=False),
    Measured("surface", "Surface all over, with shoulders and both ends", "surface", main=False),
    Measured("balance", "Center of gravity, from the start", "disks", main=False),
    Measured("slenderness", "Length over the neck's diameter", "slender", main=False),
)
"""What can be told of every outline."""

PROFILE_DEMANDS = (
    Demand(
        "slenderness <= 10",
        "mind",
        "the part is {slenderness} times as long as its neck of {neck} is thick, and will whip",
        "support it with a steady rest, finish from the tailstock end, and leave the neck to the last",
        source="slender",
    ),
    Demand(
        "neck >= 1/8 in",
        "mind",
        "the neck, {neck_at} from the start, is only {neck} across",
        "make the neck thicker, or cut it last and with the part supported",
        source="thin-wood",
    ),
)
"""Findings on an outline, judged on `Profile.known()`."""


def _near(one: float, other: float) -> bool:
    return abs(one - other) <= _SAME


def _mm(value: Quantity) -> float:
    return float(value.m_as(UNITS["mm"]))
