"""What every cut is told and what it gives back.

This module owns the wood as a cut finds it and the body a cut takes away. The cuts
themselves are in `cuts`, a module a family.
"""

from __future__ import annotations

import enum
import functools
import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import ClassVar

import numpy as np

from handouts_build.workpiece.axes import PART_AXIS, Axis, Floats
from handouts_build.workpiece.declared import flag, keep_bounds, own_name, things
from handouts_build.workpiece.faults import WorkpieceFault, said, within
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.holds import End
from handouts_build.workpiece.measures import radial_crossings
from handouts_build.workpiece.shrinkage import Shrinkage
from handouts_build.workpiece.solid import Outline, Solid

__all__ = ["BaseCut", "Here", "Hook", "LooseRing", "Made", "Nature", "Probe", "Reach", "Removal"]

_SAME_MM = 1e-6
"""Places no further apart are one: those of the wood lie on a grid as fine."""
_OVER_MM = 0.5
"""How far a shape may reach past the wood before it cannot be had from it."""

_MET = ((0.02, 4), (0.5, 6), (0.99, 36))
"""Where a tool's face is felt for wood: shares of its radius, and on how many sides. Close to its rim, and often
enough that it finds the flats of a glued ring whose opening is hardly narrower."""


class Nature(enum.Enum):
    """Which side of the wood a cut works on."""

    OUTSIDE = "outside"
    """It shapes the outside: the wood it leaves is inside it."""
    INSIDE = "inside"
    """It goes into the wood: a hole, a groove, a hollow."""


class Reach(enum.Enum):
    """How far a hole goes."""

    DEPTH = "depth"
    """To a depth from the surface."""
    AXIS = "axis"
    """To the axis, or into the bore that is there."""
    THROUGH = "through"
    """Right through and out."""


@dataclass(frozen=True, eq=False)
class Here:
    """The wood as a cut finds it."""

    wood: Solid
    """In part coordinates."""
    axis: Axis
    """The lathe axis of the present hold."""
    features: Mapping[str, Feature]
    segments: int
    """Sides that a circle about the axis is drawn with."""
    low_mm: float
    """Where the wood begins along the axis."""
    high_mm: float
    """Where it ends."""
    radius_mm: float
    """Greatest distance of wood from the axis."""

    @classmethod
    def found(cls, wood: Solid, axis: Axis, features: Mapping[str, Feature], *, segments: int) -> Here:
        """Measure the wood about an axis.

        Args:
            wood: In part coordinates, mm.
            axis: The lathe axis of the present hold.
            features: What earlier cuts made, by name.
            segments: Sides that a circle about the axis is drawn with.

        Raises:
            WorkpieceFault: If no wood is left.
        """
        points = axis.to_lathe(wood.vertices)
        if not len(points):
            raise WorkpieceFault("no wood is left", "check the cut before this one")
        radius = float(np.hypot(points[:, 0], points[:, 1]).max())
        low, high = float(points[:, 2].min()), float(points[:, 2].max())
        return cls(wood, axis, features, segments, low, high, radius)

    @property
    def beyond_mm(self) -> float:
        """A radius safely past the wood."""
        return self.radius_mm * 1.01 + 1

    @property
    def before_mm(self) -> float:
        """A place safely before the wood."""
        return self.low_mm - 1 - 0.01 * (self.high_mm - self.low_mm)

    @property
    def after_mm(self) -> float:
        """A place safely after the wood."""
        return self.high_mm + 1 + 0.01 * (self.high_mm - self.low_mm)

    @property
    def hole_segments(self) -> int:
        """Sides that a drilled hole is drawn with."""
        return max(24, self.segments // 2)

    @functools.cached_property
    def local(self) -> Solid:
        """The wood in lathe coordinates."""
        return self.wood.seen_from(self.axis)

    def surface_mm(self, *, at_mm: float, angles_rad: Sequence[float]) -> list[float | None]:
        """Distance from the axis to the outermost wood at a place, at each angle.

        Args:
            at_mm: Place along the lathe axis, mm.
            angles_rad: Angles around the axis, radians.

        Returns:
            Distances in mm, one for each angle; None where there is no wood.
        """
        crossings = radial_crossings(self.local.section(at_mm), np.array(angles_rad))
        return [float(radii[-1]) if len(radii) else None for radii in crossings]

    def mouth_mm(self, end: End, *, radius_mm: float) -> float:
        """Where a tool of a radius, coming along the axis from an end, first meets wood.

        Args:
            end: The end it comes from.
            radius_mm: Of the tool, mm.

        Returns:
            Place along the lathe axis, mm; the wood's end where the tool meets none.
        """
        met = [
            place
            for share, turns in _MET
            for turn in range(turns)
            if (place := self.face_mm(end, share * radius_mm, (turn + 0.37) * 2 * math.pi / turns)) is not None
        ]
        if not met:
            return self.low_mm if end is End.LEFT else self.high_mm
        return min(met) if end is End.LEFT else max(met)

    def face_mm(self, end: End, radius_mm: float, angle_rad: float) -> float | None:
        """Where a line along the axis, coming from an end, first meets wood.

        Args:
            end: The end it comes from.
            radius_mm: Distance of the line from the axis, mm.
            angle_rad: Angle of the line around the axis, radians.

        Returns:
            Place along the lathe axis, mm; None where the line meets no wood.
        """
        far, near = (self.before_mm, self.after_mm) if end is End.LEFT else (self.after_mm, self.before_mm)
        x, y = radius_mm * math.cos(angle_rad), radius_mm * math.sin(angle_rad)
        hits = self.local.hits(np.array([x, y, far]), np.array([x, y, near]))
        if not hits:
            return None
        return far + hits[0][0] if end is End.LEFT else far - hits[0][0]

    def span(self, start_mm: float | None, end_mm: float | None) -> tuple[float, float]:
        """Places from and to; none means past the wood's end.

        Args:
            start_mm: Place along the lathe axis at which a cut begins, mm.
            end_mm: Place at which it ends, mm.

        Returns:
            Both places, mm.

        Raises:
            WorkpieceFault: If they are the wrong way round or miss the wood.
        """
        start = self.before_mm if start_mm is None else start_mm
        end = self.after_mm if end_mm is None else end_mm
        within(start, "the start")
        within(end, "the end")
        if end <= start and start_mm is not None and end_mm is not None:
            raise WorkpieceFault(
                f"this cut begins at {said(start)} and ends at {said(end)}", "give the start before the end"
            )
        if end <= self.low_mm + _SAME_MM or start >= self.high_mm - _SAME_MM:
            ends = [said(place) for place in (start_mm, end_mm) if place is not None]
            raise WorkpieceFault(
                f"this cut, at {' to '.join(ends)}, is outside the wood",
                f"the wood now runs from {said(self.low_mm)} to {said(self.high_mm)}",
            )
        return start, end

    def fits(self, start_mm: float, end_mm: float, called: str) -> None:
        """Refuse a shape that is longer than the wood it is to come from.

        Args:
            start_mm: Place along the lathe axis at which the shape begins, mm.
            end_mm: Place at which it ends, mm.
            called: What a message calls the shape.

        Raises:
            WorkpieceFault: If it reaches past the wood.
        """
        self.span(start_mm, end_mm)
        if start_mm < self.low_mm - _OVER_MM or end_mm > self.high_mm + _OVER_MM:
            raise WorkpieceFault(
                f"{called} runs from {said(start_mm)} to {said(end_mm)}, past the end of the wood",
                f"the wood now runs from {said(self.low_mm)} to {said(self.high_mm)}",
            )


@dataclass(frozen=True, eq=False)
class Probe:
    """Rings of points just past the wall and the floor of one hole."""

    name: str
    """The hole."""
    wall: tuple[Floats, ...]
    """From its mouth inward, each of as many points at the same angles."""
    floor: tuple[Floats, ...] = ()
    """Past its floor and its bit's point; none where it may end in air."""
    past: Floats = field(default_factory=lambda: np.zeros((0, 3)))
    """A ring like those along its wall, as far past the floor as the face that it is begun in falls away over its own
    width: a side that is in air there too is open all along. None where that is not asked."""

    def placed(self, axis: Axis) -> Probe:
        """The same, from lathe to part coordinates."""
        wall, floor = (tuple(axis.to_part(ring) for ring in rings) for rings in (self.wall, self.floor))
        return Probe(self.name, wall, floor, axis.to_part(self.past))

    def shrunk(self, by: Shrinkage) -> Probe:
        """The same once the wood has dried; part coordinates.

        Args:
            by: What is left of the part's sizes.
        """
        wall, floor = (tuple(by.points(ring) for ring in rings) for rings in (self.wall, self.floor))
        return Probe(self.name, wall, floor, by.points(self.past))


@dataclass(frozen=True)
class Hook:
    """What a tool has to be like that goes in through a mouth and cuts behind it."""

    mouth_mm: float
    """The narrowest that it has to pass."""
    deep_mm: float
    """How far in it works."""
    out_mm: float
    """How far it reaches out to the side, past the mouth."""


@dataclass(frozen=True, eq=False)
class LooseRing:
    """A ring that was cut free and stays on the wood."""

    name: str
    body: Solid
    """Where it was cut, about its axis."""
    axis: Axis
    """Its own axis in part coordinates, from its middle."""
    bore_mm: float
    wide_mm: float
    """Along the axis."""

    def placed(self, axis: Axis) -> LooseRing:
        """The same, from lathe to part coordinates."""
        return replace(self, body=self.body.moved(axis), axis=axis.placed(self.axis))

    def shrunk(self, by: Shrinkage) -> LooseRing:
        """The same once its wood has dried; part coordinates. Its hole is then as wide as the least of the oval.

        Args:
            by: What is left of the part's sizes.
        """
        least, _ = by.across(self.axis)
        return replace(
            self, body=self.body.scaled(by.factors), axis=by.axis(self.axis), bore_mm=self.bore_mm * least,
            wide_mm=self.wide_mm * by.along(self.axis),
        )  # fmt: skip


@dataclass(frozen=True, eq=False)
class Removal:
    """What a cut takes away, in lathe coordinates."""

    body: Solid
    """All of it, reaching past the wood into the air."""
    features: tuple[Feature, ...] = ()
    apart: tuple[Solid, ...] = ()
    """The same hole by hole, where there are several."""
    probes: tuple[Probe, ...] = ()
    """By which a break-through is found."""
    waste: Solid | None = None
    """What falls off with the cut and makes no chips."""
    depth_mm: float | None = None
    """How deep a bit must reach."""
    axis: Axis | None = None
    """Its own axis in part coordinates, where that is not the hold's."""
    of: str | None = None
    """The feature it works over, which it meets by its nature."""
    converge: bool = False
    """Whether its holes run together by their nature, at the axis."""
    to_axis: bool = False
    """Whether its holes are said to end at the axis."""
    ridged: bool = False
    """Whether it leaves ridges, as a thread does, whose own corners are no thin wood."""
    loose: LooseRing | None = None
    """What it leaves loose on the wood, which goes on with it."""
    hook: Hook | None = None
    """What a tool has to be like that cuts it behind a mouth."""


@dataclass(frozen=True, kw_only=True)
class BaseCut:
    """One cut.

    A kind of cut is declared by a class of this one, and by nothing else: its word, its
    keys, what it takes away, and the facts below, which cautions, speeds and findings go by.
    """

    word: ClassVar[str]
    """The trade's word for it, as the file has it."""
    unnamed: ClassVar[str] = ""
    """What one is called that the author gives no name, where that is not its word."""
    several: ClassVar[str] = "holes"
    """What it makes several of, as a message counts them."""
    nature: ClassVar[Nature] = Nature.OUTSIDE
    """Which side of the wood it works on."""
    turned: ClassVar[bool] = True
    """Whether the wood turns against a tool on the rest."""
    needs_lathe: ClassVar[bool] = True
    """Whether it can only be done with the lathe turning."""
    along_axis: ClassVar[bool] = False
    """Whether a bit in the tailstock makes it."""
    drills: ClassVar[bool] = False
    """Whether a bit of its own diameter makes it."""
    parts: ClassVar[bool] = False
    """Whether it cuts right through, and what is not kept falls away."""
    hollows: ClassVar[bool] = False
    """Whether it leaves a wall around what it takes out."""
    operation: ClassVar[str] = ""
    """What it is to do it, in the words of `work`, where that does not follow from the facts above."""

    name: str = own_name("What it is called in findings and by later steps; its kind if not given.", example="bore")
    meets: tuple[str, ...] = things(
        "Cuts it is meant to break into, its own holes among them; `the outside` where it is meant to come out.",
        example="[bore]",
    )
    """Names of cuts, its own included; `the outside` where it comes out."""
    tailstock_away: bool = flag(
        "Whether the tailstock is taken away before it, for the rest of the step.", example="true"
    )

    @classmethod
    def shapes_outside(cls) -> bool:
        """Whether it turns the outside of the work; parting is no such cut, since a saw does it as well."""
        return cls.nature is Nature.OUTSIDE and cls.needs_lathe

    @classmethod
    def misfit(cls, given: Collection[str]) -> tuple[str, str] | None:
        """What is wrong with the keys that are given, taken together, and what would be right; None if nothing is."""
        del given
        return None

    @property
    def bit_mm(self) -> float | None:
        """Diameter of the bit, for a drilled cut."""
        return None

    @property
    def comes_out(self) -> bool:
        """Whether a bit comes out of the wood, as it is meant to."""
        return False

    @property
    def outline_mm(self) -> Outline | None:
        """The outline it follows, (place, radius) from `outline_at_mm`, places growing; none if it follows none."""
        return None

    @property
    def outline_at_mm(self) -> float:
        """Where the outline's own nought lies along the axis."""
        return 0.0

    @property
    def bodies(self) -> int:
        """How many holes it makes, for the bound on them."""
        return 1

    def taken(self, here: Here) -> Removal:
        """What it takes away, once its sizes are found to be within bounds.

        Raises:
            WorkpieceFault: If it means nothing on this wood.
        """
        keep_bounds(self, self.unnamed or self.word)
        return self.removal(here)

    def removal(self, here: Here) -> Removal:
        """What it takes away, by sizes that are within bounds.

        Raises:
            WorkpieceFault: If it means nothing on this wood.
        """
        raise NotImplementedError


@dataclass(frozen=True, eq=False)
class Made:
    """A cut as it was made, kept for what later cuts do to it; part coordinates."""

    name: str
    """With its number where the step has several holds."""
    base: str
    """As the author named it."""
    serial: int
    step: int
    cut: int
    nature: Nature
    meets: tuple[str, ...]
    body: Solid
    chips: Solid
    """What of the body was wood."""
    mark: int
    """Which the faces that it left bear."""
    axis: Axis = PART_AXIS
    """Of the hold it was made on."""
    apart: tuple[Solid, ...] = ()
    probes: tuple[Probe, ...] = ()
    of: str | None = None
    placed: tuple[Feature, ...] = ()
    """The features it leaves, in part coordinates."""
    converge: bool = False
    """Whether its holes run together by their nature, at the axis."""
    to_axis: bool = False
    """Whether its holes are said to end at the axis."""
    ridged: bool = False
    """Whether it leaves ridges, as a thread does, whose own corners are no thin wood."""
    opens: bool = False
    """Whether it may open into the blank's own opening unasked: it goes about the same axis, or is said to come out."""

    def shrunk(self, by: Shrinkage) -> Made:
        """The same once the wood that it is in has dried.

        Args:
            by: What is left of the part's sizes.
        """
        return replace(
            self, body=self.body.scaled(by.factors), chips=self.chips.scaled(by.factors), axis=by.axis(self.axis),
            apart=tuple(hole.scaled(by.factors) for hole in self.apart),
            probes=tuple(probe.shrunk(by) for probe in self.probes),
            placed=tuple(feature.shrunk(by) for feature in self.placed),
        )  # fmt: skip

    @property
    def own(self) -> bool:
        """Whether no step made it: it is the blank's."""
        return self.step < 0

    @property
    def features(self) -> tuple[str, ...]:
        """What the features are called that it leaves."""
        return tuple(feature.name for feature in self.placed)

    def says(self, other: Made) -> bool:
        """Whether it says that it meets the other."""
        return bool({other.name, other.base, *other.features} & set(self.meets))

    def means(self, other: Made) -> bool:
        """Whether either of the two says that they meet."""
        return self.says(other) or other.says(self)

    def may_meet(self, old: Made) -> bool:
        """Whether no wood need be left between it and an earlier cut: by the author's word or by their nature."""
        return self.means(old) or (old.own and self.opens) or self.runs_into(old)

    def runs_into(self, other: Made) -> bool:
        """Whether the two run together by their nature, so that nobody need say that they meet.

        So do openings about one axis from one end, of which the later widens or deepens the earlier; holes that are
        said to reach the axis, and an opening about it; and grooves right around about axes that cross, or that are
        cut deeper at one place. Common practice, no published source.
        """
        mine, others = self._mouths(), other._mouths()
        if any(mouth.shares_line(theirs) and mouth.goes_with(theirs) for mouth in mine for theirs in others):
            return True
        if any(
            holes.to_axis and any(holes.axis.shares_line(mouth) for mouth in mouths)
            for holes, mouths in ((self, others), (other, mine))
        ):
            return True
        return any(
            ring.crosses(theirs) or ring.origin == theirs.origin
            for ring in self._grooves()
            for theirs in other._grooves()
        )

    def _mouths(self) -> list[Axis]:
        """Axes, from the mouth inward, of the openings about the axis it was cut on."""
        return [each.axis for each in self.placed if each.hollow and each.axis.shares_line(self.axis)]

    def _grooves(self) -> list[Axis]:
        """Axes of the grooves that go right around."""
        return [each.axis for each in self.placed if each.kind is FeatureKind.GROOVE]
