"""What holds the part, and the axis it then turns on.

This module owns the holds and their axes. It leaves to `judge` whether the hold
finds what it needs. Along the blank's own axis, places are measured from its
headstock end, whichever way round it is held, unless a datum says otherwise.
"""

from __future__ import annotations

import enum
import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from handouts_build.problems import near_miss
from handouts_build.workpiece.axes import PART_AXIS, Axis, Floats, Vector, axis_through, vector
from handouts_build.workpiece.declared import angle, angles, choice, length, pair, thing
from handouts_build.workpiece.faults import WorkpieceFault, positive, said, within
from handouts_build.workpiece.features import Feature
from handouts_build.workpiece.solid import Solid

__all__ = [
    "HELPING",
    "HOLDS",
    "BaseHold",
    "BetweenCenters",
    "BetweenHoles",
    "Datum",
    "End",
    "Faceplate",
    "InHand",
    "JamChuck",
    "JawsInRecess",
    "JawsOnBlank",
    "JawsOnTenon",
    "Jig",
    "Mandrel",
    "OffCenter",
    "OffsetCenters",
    "ScrewChuck",
    "feature_named",
    "held_end",
    "toward_tail",
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


HELPING = frozenset({"steady rest"})
"""Words for what helps another hold, and holds nothing by itself."""

_CLOSING = ("chuck", "wide jaws", "collet", "drill chuck")

_ON = "The tenon, recess or hole it holds by, by name; the outside of the wood if not given."
_HELD_END = "The end that is held, `left` if not given."
_DEEP = "How much of the wood is in the chuck."
_DRIVE = "Diameter of the drive center, or of what bears around its pin."
_JAWS = "The jaws, by their name in the shop file."
_OFFSET = "How far the lathe's axis is set off the wood's own: at both centers, or where one end is held."
_ANGLE = "The way it is set off and leans, from the top; several angles repeat the cuts."
_TILT = (
    "How far the lathe's axis leans from the wood's own where one end is held: away from it the way of the offset, "
    "or back across it where it has a minus."
)
_MOST_TILT_DEG = 45.0
"""Wood that leans more is held across its axis, which is another hold: common practice, no published source."""


@dataclass(frozen=True, kw_only=True)
class BaseHold:
    """One hold.

    A kind of hold is declared by a class of this one, and by nothing else: its words, the
    keys that go with it, the axis it turns the wood on, and the facts that findings go by.
    """

    title: ClassVar[str]
    """What the reference calls it."""
    example: ClassVar[str]
    """The name of its example and of its drawing."""
    words: ClassVar[tuple[str, ...]]
    """The author's words for it, the example's first."""
    other_words: ClassVar[tuple[str, ...]] = ()
    """Words of another kind by which it is meant too, where its key is given."""
    by_key: ClassVar[str] = ""
    """The key that makes it this kind, of several that share a word."""
    bears_on_wood: ClassVar[bool] = False
    """Whether, said along with another hold, it is this one that bears on the wood."""
    turns: ClassVar[bool] = True
    """Whether the lathe turns the part."""
    centers_bear: ClassVar[bool] = True
    """Whether a center that is up bears on the wood itself, on its axis."""

    datum: Datum = Datum()
    tailstock: bool = False
    """Whether the tailstock bears on the part, where the hold does not have it anyway."""
    tail_mm: float | None = length(
        "Diameter of what bears on the wood at the tail, such as a pad or a large cone, where a plain center does not.",
        example="2 in",
        default=None,
    )
    put_on: str | None = thing(
        "Another part that is put on this one by the joint between them and turns with it, such as the lid on its box; "
        "the step's cuts are made on both.",
        example="lid",
        default=None,
    )
    steadied: bool = False
    """Whether a steady rest keeps the wood from whipping."""

    @property
    def gripped_mm(self) -> float:
        """How much of the wood lies in the hold, along its axis, where that is said."""
        return 0.0

    @classmethod
    def misfit(cls, given: Collection[str]) -> tuple[str, str] | None:
        """What is wrong with the keys that are given, taken together, and what would be right; None if nothing is."""
        del given
        return None

    @property
    def needs(self) -> tuple[str, ...]:
        """Names of the features it uses."""
        return ()

    @property
    def supported(self) -> bool:
        """Whether both ends are held."""
        return self.tailstock

    def line(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """The line it turns on, before the datum.

        Args:
            wood: The wood as it is mounted, in part coordinates, mm.
            features: What earlier cuts made, by name.
        """
        del wood, features
        return PART_AXIS

    def axis(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """The axis it turns on.

        Args:
            wood: The wood as it is mounted, in part coordinates, mm.
            features: What earlier cuts made, by name.

        Raises:
            WorkpieceFault: If a feature was never made, or the datum is none.
        """
        within(self.datum.place_mm, "the datum")
        line = self.line(wood, features)
        return line.moved(self.datum.place_mm, turned=self.datum.reversed)


@dataclass(frozen=True, kw_only=True)
class BetweenCenters(BaseHold):
    """A center at each end, on the blank's own axis."""

    title: ClassVar[str] = "between centers"
    example: ClassVar[str] = "hold-between-centers"
    words: ClassVar[tuple[str, ...]] = ("between centers", "friction drive")
    other_words: ClassVar[tuple[str, ...]] = ("off-axis centers",)

    drive_mm: float | None = length(_DRIVE, example="3/8 in", default=None)
    seat: str | None = thing(
        "A blind hole that an earlier step bored on the axis for the drive center, by its name: the center bears on "
        "its floor, past bark or rough wood.",
        example="seat",
        default=None,
    )

    @property
    def supported(self) -> bool:
        """Always."""
        return True


@dataclass(frozen=True, kw_only=True)
class Mandrel(BetweenCenters):
    """A rod through a hole in the wood, itself between the headstock and a center: no center bears on the wood."""

    title: ClassVar[str] = "on a mandrel"
    example: ClassVar[str] = "hold-mandrel"
    words: ClassVar[tuple[str, ...]] = ("mandrel",)
    other_words: ClassVar[tuple[str, ...]] = ()
    centers_bear: ClassVar[bool] = False

    drive_mm: float | None = None
    seat: str | None = None


@dataclass(frozen=True, kw_only=True)
class OffsetCenters(BetweenCenters):
    """The centers are set off the blank's own axis. Over several angles the cuts are repeated."""

    title: ClassVar[str] = "off-axis centers"
    example: ClassVar[str] = "hold-off-axis"
    words: ClassVar[tuple[str, ...]] = ("off-axis centers",)
    other_words: ClassVar[tuple[str, ...]] = ("between centers", "friction drive", "mandrel")
    by_key: ClassVar[str] = "offset"

    seat: str | None = None

    offset_mm: float = length(_OFFSET, example="3/16 in")
    angle_deg: float = angles(_ANGLE, example="[0 deg, 120 deg, 240 deg]", default=0.0)
    right_offset_mm: float | None = length("How far at the right end, where it differs.", example="0 in", default=None)
    right_angle_deg: float | None = angle(
        "The way at the right end, where it differs.", example="180 deg", default=None
    )

    def line(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """From center to center, measured from the left one.

        Args:
            wood: The wood as it is mounted, in part coordinates, mm.
            features: What earlier cuts made, by name.

        Raises:
            WorkpieceFault: If an offset is out of bounds.
        """
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
class OffCenter(BaseHold):
    """Held by one end, on the wood's own axis or off it: beside it, leaning from it, or both."""

    offset_mm: float = length(_OFFSET, example="3/16 in", default=0.0)
    angle_deg: float = angles(_ANGLE, example="[0 deg, 120 deg, 240 deg]", default=0.0)
    tilt_deg: float = angle(_TILT, example="4 deg", default=0.0)

    @property
    def off_axis(self) -> bool:
        """Whether the lathe turns it off its own axis."""
        return bool(self.offset_mm or self.tilt_deg)

    def axis(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """The axis it turns on: beside the wood's own where it leaves the hold, and leaning from there.

        Places along it are what they are on the wood's own axis at that point.

        Args:
            wood: The wood as it is mounted, in part coordinates, mm.
            features: What earlier cuts made, by name.

        Raises:
            WorkpieceFault: If a feature was never made, or the offset, the tilt or the datum is out of bounds.
        """
        if not self.off_axis:
            return super().axis(wood, features)
        within(self.datum.place_mm, "the datum")
        within(self.offset_mm, "the offset")
        if self.offset_mm < 0:
            raise WorkpieceFault(
                f"the offset is {said(self.offset_mm)}", "give it as more than nought, the other way by its angle"
            )
        if not abs(self.tilt_deg) <= _MOST_TILT_DEG:
            raise WorkpieceFault(
                f"the wood leans by {self.tilt_deg:g} deg in its hold",
                f"a tilt is {_MOST_TILT_DEG:g} deg at the most; between two holes it turns across its axis",
            )
        own = self.line(wood, features)
        place = float(own.to_lathe(self._leaves_at(wood, features))[2])
        turn, lean = math.radians(self.angle_deg), math.radians(self.tilt_deg)
        along, up = np.array(own.direction), np.array(own.up)
        aside = math.cos(turn) * up + math.sin(turn) * np.cross(along, up)
        out = -1.0 if held_end(self, features) is End.RIGHT else 1.0
        through = np.array(own.origin) + place * along + self.offset_mm * aside
        leaning = axis_through(through, math.cos(lean) * along + out * math.sin(lean) * aside).moved(-place)
        return leaning.moved(self.datum.place_mm, turned=self.datum.reversed)

    def _leaves_at(self, wood: Solid, features: Mapping[str, Feature]) -> Floats:
        """A point at the height where the wood comes out of its hold, in part coordinates."""
        if self.needs:
            return np.array(feature_named(self.needs[0], features).axis.origin)
        left, right = wood.box_mm[2] + self.gripped_mm, wood.box_mm[5] - self.gripped_mm
        return np.array([0.0, 0.0, right if held_end(self, features) is End.RIGHT else left])


@dataclass(frozen=True, kw_only=True)
class _ByFeature(OffCenter):
    """Held by one feature, and turned on its axis."""

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
    """Jaws close on a tenon that an earlier step turned, by its name."""

    title: ClassVar[str] = "chuck on a tenon"
    example: ClassVar[str] = "hold-tenon"
    words: ClassVar[tuple[str, ...]] = _CLOSING
    by_key: ClassVar[str] = "on"

    tenon: str = thing(_ON, word="on", example="tenon")
    jaws: str | None = thing(_JAWS, example="two-inch jaws", default=None)

    @property
    def needs(self) -> tuple[str, ...]:
        """The tenon."""
        return (self.tenon,)

    def line(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """The tenon's.

        Args:
            wood: The wood as it is mounted, in part coordinates, mm.
            features: What earlier cuts made, by name.
        """
        del wood
        return self._line_of(feature_named(self.tenon, features))


@dataclass(frozen=True, kw_only=True)
class JawsInRecess(_ByFeature):
    """Jaws open out in a recess that an earlier step turned, by its name."""

    title: ClassVar[str] = "chuck in a recess"
    example: ClassVar[str] = "hold-recess"
    words: ClassVar[tuple[str, ...]] = ("chuck opening out",)

    recess: str = thing(_ON, word="on", example="tenon")
    jaws: str | None = thing(_JAWS, example="two-inch jaws", default=None)

    @classmethod
    def misfit(cls, given: Collection[str]) -> tuple[str, str] | None:
        """There must be a recess."""
        return (
            None
            if "on" in given
            else ("the jaws open into nothing", "name the recess: {by: [chuck opening out], on: recess}")
        )

    @property
    def needs(self) -> tuple[str, ...]:
        """The recess."""
        return (self.recess,)

    def line(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """The recess's.

        Args:
            wood: The wood as it is mounted, in part coordinates, mm.
            features: What earlier cuts made, by name.
        """
        del wood
        return self._line_of(feature_named(self.recess, features))


@dataclass(frozen=True, kw_only=True)
class JawsOnBlank(OffCenter):
    """Jaws close on the outside of the wood."""

    title: ClassVar[str] = "chuck on the bare wood"
    example: ClassVar[str] = "hold-outside"
    words: ClassVar[tuple[str, ...]] = _CLOSING

    end: End = choice(_HELD_END, End, example="right", default=End.LEFT)
    deep_mm: float | None = length(_DEEP, example="1 in", default=None)
    jaws: str | None = thing(_JAWS, example="two-inch jaws", default=None)

    @property
    def gripped_mm(self) -> float:
        """How much of the wood is in the jaws."""
        return self.deep_mm or 0.0


@dataclass(frozen=True, kw_only=True)
class ScrewChuck(_ByFeature):
    """A screw in a hole that an earlier step drilled, by its name. Without `on` it holds as a faceplate does."""

    title: ClassVar[str] = "screw chuck"
    example: ClassVar[str] = "hold-screw-chuck"
    words: ClassVar[tuple[str, ...]] = ("screw chuck",)
    by_key: ClassVar[str] = "on"

    hole: str = thing(_ON, word="on", example="tenon")

    @property
    def needs(self) -> tuple[str, ...]:
        """The hole."""
        return (self.hole,)

    def line(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """The hole's.

        Args:
            wood: The wood as it is mounted, in part coordinates, mm.
            features: What earlier cuts made, by name.
        """
        del wood
        return self._line_of(feature_named(self.hole, features))


@dataclass(frozen=True, kw_only=True)
class JamChuck(_ByFeature):
    """The wood is pressed in, or drawn on by a pump."""

    title: ClassVar[str] = "jam chuck"
    example: ClassVar[str] = "hold-jam-chuck"
    words: ClassVar[tuple[str, ...]] = ("jam chuck", "vacuum chuck")

    on: str | None = thing(_ON, example="tenon", default=None)
    """A tenon, a recess, a bore or a hollow; none means the outside."""
    end: End = choice(_HELD_END, End, example="right", default=End.LEFT)
    deep_mm: float = length(_DEEP, example="1 in", default=0.0)

    @property
    def gripped_mm(self) -> float:
        """How much of the wood is in the chuck."""
        return self.deep_mm

    @property
    def needs(self) -> tuple[str, ...]:
        """The feature, if it is pressed on one."""
        return (self.on,) if self.on else ()

    def line(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """The feature's, or the part's own.

        Args:
            wood: The wood as it is mounted, in part coordinates, mm.
            features: What earlier cuts made, by name.
        """
        del wood
        return self._line_of(feature_named(self.on, features)) if self.on else PART_AXIS


@dataclass(frozen=True, kw_only=True)
class Faceplate(OffCenter):
    """A plate on one face of the wood, with screws, glue or tape."""

    title: ClassVar[str] = "faceplate"
    example: ClassVar[str] = "hold-faceplate"
    words: ClassVar[tuple[str, ...]] = ("faceplate", "glue block", "double-sided tape", "hot-melt glue")
    other_words: ClassVar[tuple[str, ...]] = ("screw chuck",)
    bears_on_wood: ClassVar[bool] = True

    end: End = choice(_HELD_END, End, example="right", default=End.LEFT)
    diameter_mm: float | None = length("Diameter of the faceplate.", example="3 in", default=None)


@dataclass(frozen=True, kw_only=True)
class BetweenHoles(BaseHold):
    """Pins of the centers go into two holes that face each other; places are measured from midway between them."""

    title: ClassVar[str] = "between two holes"
    example: ClassVar[str] = "hold-two-holes"
    words: ClassVar[tuple[str, ...]] = ("between centers",)
    other_words: ClassVar[tuple[str, ...]] = ("friction drive", "mandrel", "off-axis centers")
    by_key: ClassVar[str] = "in"
    centers_bear: ClassVar[bool] = False

    first: str = pair(
        "Two holes that face each other, for pins of the centers; or several pairs, over which the cuts are repeated.",
        word="in",
        second="second",
        example="[drive hole 1, drive hole 4]",
    )
    """At the drive center."""
    second: str
    drive_mm: float | None = length(_DRIVE, example="3/8 in", default=None)

    @property
    def needs(self) -> tuple[str, ...]:
        """Both holes."""
        return (self.first, self.second)

    @property
    def supported(self) -> bool:
        """Always."""
        return True

    def line(self, wood: Solid, features: Mapping[str, Feature]) -> Axis:
        """From mouth to mouth.

        Args:
            wood: The wood as it is mounted, in part coordinates, mm.
            features: What earlier cuts made, by name.

        Raises:
            WorkpieceFault: If a hole was never made, or the two are one.
        """
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
class InHand(BaseHold):
    """Held in the hand, and not turning."""

    title: ClassVar[str] = "in the hand"
    example: ClassVar[str] = "hold-hand"
    words: ClassVar[tuple[str, ...]] = ("hand",)
    turns: ClassVar[bool] = False

    on: str | None = thing(_ON, example="tenon", default=None)
    """Where the hand is; nothing rests on it."""


@dataclass(frozen=True, kw_only=True)
class Jig(BaseHold):
    """Clamped, and not turning. A steady rest beside another word helps that hold, and holds nothing by itself."""

    title: ClassVar[str] = "on the bench"
    example: ClassVar[str] = "hold-at-rest"
    words: ClassVar[tuple[str, ...]] = ("bench", "steady rest")
    turns: ClassVar[bool] = False

    on: str | None = thing(_ON, example="tenon", default=None)

    @property
    def needs(self) -> tuple[str, ...]:
        """The feature, if it holds by one."""
        return (self.on,) if self.on else ()


HOLDS: tuple[type[BaseHold], ...] = (
    BetweenCenters, BetweenHoles, OffsetCenters, Mandrel, JawsOnBlank, JawsOnTenon, JawsInRecess, JamChuck, ScrewChuck,
    Faceplate, Jig, InHand,
)  # fmt: skip
"""The kinds of hold, in the order that the reference has."""


def feature_named(name: str, features: Mapping[str, Feature]) -> Feature:
    """A feature by its name.

    Args:
        name: Its name.
        features: What earlier cuts made, by name.

    Raises:
        WorkpieceFault: If no cut so far makes it.
    """
    if name not in features:
        raise WorkpieceFault(
            f"nothing here is called '{name}'", near_miss(name, features) or "name a feature that an earlier cut makes"
        )
    return features[name]


def held_end(hold: BaseHold, features: Mapping[str, Feature]) -> End | None:
    """Which end of the wood a hold has.

    Args:
        hold: The hold.
        features: What earlier cuts made, by name; those that it needs must be there.

    Returns:
        The end; None where both are on centers.
    """
    if isinstance(hold, BetweenCenters | BetweenHoles):
        return None
    if hold.needs:
        feature = features[hold.needs[0]]
        # A tenon points out of the wood, a hole into it.
        out = feature.axis.direction[2] * (-1 if feature.hollow else 1)
        return End.LEFT if out < 0 else End.RIGHT
    return hold.end if isinstance(hold, Faceplate | JamChuck | JawsOnBlank) else End.LEFT


def toward_tail(hold: BaseHold, axis: Axis, features: Mapping[str, Feature]) -> Vector | None:
    """Which way along a hold's axis the tail lies, seen from the headstock; none where the lathe does not turn it.

    Args:
        hold: The hold.
        axis: The axis it turns on. Which way places grow on it says nothing about which end is driven.
        features: What earlier cuts made.

    Returns:
        A unit vector in part coordinates.
    """
    if not hold.turns:
        return None
    along = np.array(axis.direction)
    if isinstance(hold, BetweenHoles):
        return vector(-along if hold.datum.reversed else along)
    if hold.needs:
        feature = features[hold.needs[0]]
        # What grips a tenon is outside the wood, where the tenon points; a hole points into the wood.
        into = np.array(feature.axis.direction)
        return vector(into if feature.hollow else -into)
    driven_left = held_end(hold, features) is not End.RIGHT
    return vector(along if driven_left is (axis.direction[2] >= 0) else -along)


def drive_diameter(hold: BaseHold) -> float | None:
    """Diameter of the drive center the author named, if any."""
    given = hold.drive_mm if isinstance(hold, BetweenCenters | BetweenHoles) else None
    if given is not None:
        positive(given, "the drive center's diameter")
    return given
