"""What holds the part, and the axis it then turns on.

This module owns the holds and their axes. It leaves to `judge` whether the hold
finds what it needs. Along the blank's own axis, places are measured from its
headstock end, whichever way round it is held, unless a datum says otherwise.
"""

from __future__ import annotations

import enum
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from handouts_build.problems import near_miss
from handouts_build.workpiece.axes import PART_AXIS, Axis, axis_through
from handouts_build.workpiece.faults import WorkpieceFault, positive, within
from handouts_build.workpiece.features import Feature
from handouts_build.workpiece.solid import Solid

__all__ = [
    "BetweenCenters",
    "BetweenHoles",
    "Datum",
    "End",
    "Faceplate",
    "Hold",
    "InHand",
    "JamChuck",
    "JawsInRecess",
    "JawsOnBlank",
    "JawsOnTenon",
    "Jig",
    "OffsetCenters",
    "ScrewChuck",
    "feature_named",
    "held_end",
]


class End(enum.Enum):
    """An end of the workpiece as it is drawn: places grow from left to right."""

    LEFT = "left"
    """Where places are least."""
    RIGHT = "right"
    """Where places are greatest."""


@dataclass(frozen=True)
class Datum:
    """Where places along the axis are measured from."""

    place_mm: float = 0.0
    """On the hold's own axis."""
    reversed: bool = False
    """Whether places grow the other way."""


@dataclass(frozen=True, kw_only=True)
class _Hold:
    """What every hold has."""

    datum: Datum = Datum()
    steadied: bool = False
    """Whether a steady rest keeps the wood from whipping."""

    @property
    def needs(self) -> tuple[str, ...]:
        """Names of the features it uses."""
        return ()

    @property
    def turns(self) -> bool:
        """Whether the lathe turns the part."""
        return True

    @property
    def supported(self) -> bool:
        """Whether both ends are held."""
        return False

    def line(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """The line it turns on, before the datum."""
        del wood, features
        return PART_AXIS

    def axis(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """The axis it turns on.

        Raises:
            WorkpieceFault: If a feature was never made, or the datum is none.
        """
        within(self.datum.place_mm, "the datum")
        line = self.line(wood, features)
        return line.moved(self.datum.place_mm, turned=self.datum.reversed)


@dataclass(frozen=True, kw_only=True)
class BetweenCenters(_Hold):
    """A drive center in one end, a live center in the other."""

    drive_mm: float | None = None
    """Diameter of the drive center, where the author says which."""

    @property
    def supported(self) -> bool:
        """Always."""
        return True


@dataclass(frozen=True, kw_only=True)
class OffsetCenters(BetweenCenters):
    """Between centers set off the blank's axis, alike at both ends or not."""

    offset_mm: float
    angle_deg: float = 0.0
    right_offset_mm: float | None = None
    """At the right end, where it differs."""
    right_angle_deg: float | None = None

    def line(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """From center to center, measured from the left one."""
        del features
        right_offset = self.offset_mm if self.right_offset_mm is None else self.right_offset_mm
        right_angle = self.angle_deg if self.right_angle_deg is None else self.right_angle_deg
        within(self.offset_mm, "the offset")
        within(right_offset, "the offset")
        left, right = wood.box_mm[2], wood.box_mm[5]
        ends = [
            np.array([offset * math.cos(angle), offset * math.sin(angle), place])
            for offset, angle, place in (
                (self.offset_mm, math.radians(self.angle_deg), left),
                (right_offset, math.radians(right_angle), right),
            )
        ]
        return axis_through(ends[0], ends[1] - ends[0]).moved(-left)


@dataclass(frozen=True, kw_only=True)
class _ByFeature(_Hold):
    """Held by one feature, and turned on its axis."""

    tailstock: bool = False

    @property
    def supported(self) -> bool:
        """With the tailstock up."""
        return self.tailstock

    def _line_of(self, feature: Feature) -> Axis:
        """A feature's line, the way the part's axis runs, measured from beside the part's own datum."""
        direction = np.array(feature.axis.direction)
        direction = direction if direction[2] >= -1e-9 else -direction
        origin = np.array(feature.axis.origin)
        along = axis_through(origin, direction)
        # Beside the part's origin, so that places stay what they were where the two axes are one.
        return along.moved(-float(origin @ np.array(along.direction)))


@dataclass(frozen=True, kw_only=True)
class JawsOnTenon(_ByFeature):
    """Chuck jaws closed on a tenon."""

    tenon: str
    jaws: str | None = None
    """Name of the jaws, where the author says which."""

    @property
    def needs(self) -> tuple[str, ...]:
        """The tenon."""
        return (self.tenon,)

    def line(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """The tenon's."""
        del wood
        return self._line_of(feature_named(self.tenon, features))


@dataclass(frozen=True, kw_only=True)
class JawsInRecess(_ByFeature):
    """Chuck jaws opened into a recess."""

    recess: str
    jaws: str | None = None

    @property
    def needs(self) -> tuple[str, ...]:
        """The recess."""
        return (self.recess,)

    def line(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """The recess's."""
        del wood
        return self._line_of(feature_named(self.recess, features))


@dataclass(frozen=True, kw_only=True)
class JawsOnBlank(_Hold):
    """Chuck jaws closed on the wood's own outside, with no tenon turned for them."""

    end: End = End.LEFT
    """Which end is in the jaws."""
    deep_mm: float | None = None
    """How much of it is in the jaws, where the author says so."""
    jaws: str | None = None
    tailstock: bool = False

    @property
    def supported(self) -> bool:
        """With the tailstock up."""
        return self.tailstock


@dataclass(frozen=True, kw_only=True)
class ScrewChuck(_ByFeature):
    """A screw turned into a hole."""

    hole: str

    @property
    def needs(self) -> tuple[str, ...]:
        """The hole."""
        return (self.hole,)

    def line(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """The hole's."""
        del wood
        return self._line_of(feature_named(self.hole, features))


@dataclass(frozen=True, kw_only=True)
class JamChuck(_ByFeature):
    """Pressed into or over a turned block of waste wood."""

    on: str | None = None
    """The feature it is pressed on: a tenon, a recess, a bore or a hollow; none means the outside."""
    end: End = End.LEFT
    """Which end goes into the block."""
    deep_mm: float = 0.0
    """How much of the outside goes into the block."""

    @property
    def needs(self) -> tuple[str, ...]:
        """The feature, if it is pressed on one."""
        return (self.on,) if self.on else ()

    def line(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """The feature's, or the part's own."""
        del wood
        return self._line_of(feature_named(self.on, features)) if self.on else PART_AXIS


@dataclass(frozen=True, kw_only=True)
class Faceplate(_Hold):
    """Screwed, or glued by a waste block, to one end."""

    end: End = End.LEFT
    diameter_mm: float | None = None
    tailstock: bool = False

    @property
    def supported(self) -> bool:
        """With the tailstock up."""
        return self.tailstock


@dataclass(frozen=True, kw_only=True)
class BetweenHoles(_Hold):
    """Between pins in two holes, across the part's own axis.

    Places are measured from midway between the mouths of the holes.
    """

    first: str
    """At the drive center."""
    second: str
    drive_mm: float | None = None
    """Diameter of what bears on the wood around the first hole."""

    @property
    def needs(self) -> tuple[str, ...]:
        """Both holes."""
        return (self.first, self.second)

    @property
    def supported(self) -> bool:
        """Always."""
        return True

    def line(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """From mouth to mouth."""
        del wood
        if self.first == self.second:
            raise WorkpieceFault(f"'{self.first}' is named for both centers", "name two holes that face each other")
        mouths = [np.array(feature_named(name, features).axis.origin) for name in (self.first, self.second)]
        across = mouths[1] - mouths[0]
        if float(np.linalg.norm(across)) < 1e-6:
            raise WorkpieceFault(
                f"'{self.first}' and '{self.second}' begin at one place", "name two holes that face each other"
            )
        return axis_through((mouths[0] + mouths[1]) / 2, across)


@dataclass(frozen=True, kw_only=True)
class InHand(_Hold):
    """Held in the hand; the lathe does not turn it."""

    @property
    def turns(self) -> bool:
        """Never."""
        return False


@dataclass(frozen=True, kw_only=True)
class Jig(_Hold):
    """Held still in a jig, a vise or a locked spindle."""

    on: str | None = None
    """The feature it holds by, if any."""

    @property
    def needs(self) -> tuple[str, ...]:
        """The feature, if it holds by one."""
        return (self.on,) if self.on else ()

    @property
    def turns(self) -> bool:
        """Never."""
        return False


Hold: TypeAlias = (
    BetweenCenters
    | OffsetCenters
    | JawsOnTenon
    | JawsInRecess
    | JawsOnBlank
    | JamChuck
    | ScrewChuck
    | Faceplate
    | BetweenHoles
    | InHand
    | Jig
)


def feature_named(name: str, features: Mapping[str, Feature]) -> Feature:
    """A feature by its name.

    Raises:
        WorkpieceFault: If no cut so far makes it.
    """
    if name not in features:
        raise WorkpieceFault(
            f"nothing here is called '{name}'", near_miss(name, features) or "name a feature that an earlier cut makes"
        )
    return features[name]


def held_end(hold: Hold, features: Mapping[str, Feature]) -> End | None:
    """Which end of the wood a hold has; none where both are on centers, or it is held across its own axis."""
    if isinstance(hold, BetweenCenters | BetweenHoles):
        return None
    if hold.needs:
        feature = features[hold.needs[0]]
        # A tenon points out of the wood, a hole into it.
        out = feature.axis.direction[2] * (-1 if feature.hollow else 1)
        return End.LEFT if out < 0 else End.RIGHT
    return hold.end if isinstance(hold, Faceplate | JamChuck | JawsOnBlank) else End.LEFT


def drive_diameter(hold: Hold) -> float | None:
    """Diameter of the drive center the author named, if any."""
    given = hold.drive_mm if isinstance(hold, BetweenCenters | BetweenHoles) else None
    if given is not None:
        positive(given, "the drive center's diameter")
    return given
