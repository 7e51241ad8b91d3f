"""What follows from a finished outline: stations, story stick, wood, balance, neck.

This module owns the figures read off an outline and the findings on them. It knows
stretches of curve only: which elements they came from is for `profiles`. The figures
are rows of laws over the stretches' own, so that a page works them out again.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from handouts_build.formulas import Name, Node
from handouts_build.formulas.tree import Binary, Call
from handouts_build.quantities import UNITS, Err, Kind, Quantity, millimetres, of_kind
from handouts_build.trade.curves import Stretch
from handouts_build.trade.law import Demand
from handouts_build.trade.rows import CompiledFormula, Rows

__all__ = [
    "INSIDE_VALUES",
    "PROFILE_DEMANDS",
    "PROFILE_VALUES",
    "OutlineMeasure",
    "OutlinePoint",
    "OutlineSegment",
    "OutlineStation",
    "Profile",
    "StoryStickMark",
    "total_rows",
]

_SAME = 1e-6
"""Millimetres within which two places or radii are one."""


@dataclass(frozen=True)
class OutlineStation:
    """A place along the axis and the diameter there."""

    x: Quantity
    """From the start of the part."""
    diameter: Quantity
    what: str
    """Such as `bead starts` or `bead, largest`."""


@dataclass(frozen=True)
class StoryStickMark:
    """A line on the story stick."""

    x: Quantity
    diameters: tuple[Quantity, ...]
    """One, or two at a shoulder: before and after."""
    what: str


@dataclass(frozen=True)
class OutlinePoint:
    """A place along the axis and the diameter there, by the rows or givens that say them."""

    x: str
    diameter: str
    what: str
    element: str = ""
    """Name of the element that it is a place of."""
    edge: str = ""
    """`starts` or `ends`, at an end of the element."""


@dataclass(frozen=True)
class OutlineSegment:
    """One element as planned."""

    kind: str
    label: str
    stretches: tuple[str, ...]
    """What the names of its stretches' rows begin with."""
    points: tuple[OutlinePoint, ...]
    """Its ends, and its crest or bottom between them."""

    @property
    def name(self) -> str:
        """Its label, or its kind."""
        return self.label or self.kind


def total_rows(rows: Rows, segments: Sequence[OutlineSegment]) -> None:
    """Rows for the figures read off a whole outline, named as in `PROFILE_VALUES`.

    Args:
        rows: Where they go; the stretches' own are there already.
        segments: From one end of the part to the other.
    """
    stretches = [name for segment in segments for name in segment.stretches]
    points = list({(point.x, point.diameter): point for segment in segments for point in segment.points}.values())
    diameters = list(dict.fromkeys(point.diameter for point in points))
    solid = [name for name in diameters if name != "nought"]
    rows.add("length", "x", x=f"{stretches[-1]}.x1")
    rows.add("widest", CompiledFormula(_of("max", diameters)))
    rows.add("neck", CompiledFormula(_of("min", solid)))
    # A whole step of 1 is in d / widest, or in neck / d, only where the diameter is that; elsewhere the place is put
    # beyond the end. The first of several is the least.
    for name, share in (("widest", "d / widest"), ("neck", "neck / d")):
        places = [
            rows.add(f"{name}.{number}", f"x + (1 - round_down({share}, 1)) * length", x=point.x, d=point.diameter)
            for number, point in enumerate(points)
            if name == "widest" or point.diameter != "nought"
        ]
        rows.add(f"{name}_at", CompiledFormula(_of("min", places)))
    # A shoulder shows a ring; an end is a ring around nothing.
    edges = [name for segment in segments for name in (segment.points[0].diameter, segment.points[-1].diameter)]
    pairs = list(zip(["nought", *edges[1::2]], [*edges[::2], "nought"], strict=True))
    rings = {
        number: rows.add(f"ring.{number}", "pi / 4 * abs(d1^2 - d0^2)", d0=before, d1=after)
        for number, (before, after) in enumerate(pairs)
        if before != after
    }
    ends = [rings[number] for number in (0, len(pairs) - 1) if number in rings]
    shoulders = [ring for ring in rings.values() if ring not in ends]
    rows.add("volume", CompiledFormula(_total([f"{name}.volume" for name in stretches])))
    rows.add("side", CompiledFormula(_total([*(f"{name}.surface" for name in stretches), *shoulders])))
    rows.add("surface", CompiledFormula(_total(["side", *ends])))
    rows.add("moment", CompiledFormula(_total([f"{name}.moment" for name in stretches])))
    rows.add("balance", "moment / volume")
    rows.add("slenderness", "length / neck")


def _of(function: str, given: Sequence[str]) -> Node:
    """The greatest or least of some values, or the only one."""
    return Call(0, function, tuple(Name(0, name) for name in given)) if len(given) > 1 else Name(0, given[0])


def _total(given: Sequence[str]) -> Node:
    """Values added by halves, so that no tree is deep."""
    if len(given) == 1:
        return Name(0, given[0])
    half = len(given) // 2
    return Binary(0, "+", _total(given[:half]), _total(given[half:]))


@dataclass(frozen=True)
class Profile:
    """An outline along the axis, first end at x = 0."""

    segments: tuple[OutlineSegment, ...]
    values: Mapping[str, float]
    """Every given and every row, in base units."""

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
    def stations(self) -> tuple[OutlineStation, ...]:
        """Every element's ends, crests and bottoms, from the start; a place between two elements comes twice."""
        return tuple(
            OutlineStation(millimetres(self.values[point.x]), millimetres(self.values[point.diameter]), point.what)
            for segment in self.segments
            for point in segment.points
        )

    @cached_property
    def story_stick(self) -> tuple[StoryStickMark, ...]:
        """The stations as lines on a stick, each place once."""
        marks: list[StoryStickMark] = []
        for station in self.stations:
            if marks and _near(_mm(marks[-1].x), _mm(station.x)):
                before = marks[-1]
                alike = _near(_mm(before.diameters[-1]), _mm(station.diameter))
                sizes = before.diameters if alike else (*before.diameters, station.diameter)
                marks[-1] = StoryStickMark(before.x, sizes, f"{before.what}, {station.what}")
            else:
                marks.append(StoryStickMark(station.x, (station.diameter,), station.what))
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

    def span(self, segment: OutlineSegment) -> tuple[Quantity, Quantity]:
        """Where one of its segments begins and ends along the axis."""
        first, last = segment.points[0], segment.points[-1]
        return millimetres(self.values[first.x]), millimetres(self.values[last.x])

    def known(self) -> dict[str, Quantity]:
        """The values of `PROFILE_VALUES` by name, for `PROFILE_DEMANDS` and for formulas."""
        return {measure.name: of_kind(self.values[measure.name], measure.kind) for measure in PROFILE_VALUES}

    @property
    def _stretches(self) -> Iterator[Stretch]:
        return (Stretch.from_rows(self.values, name) for segment in self.segments for name in segment.stretches)


@dataclass(frozen=True)
class OutlineMeasure:
    """A value read off an outline."""

    name: str
    says: str
    source: str
    """Id in the table of sources."""
    err: Err = Err.NEAREST
    main: bool = True
    kind: Kind = Kind.LENGTH


PROFILE_VALUES = (
    OutlineMeasure("length", "Length from end to end", "profile"),
    OutlineMeasure("widest", "Largest diameter", "profile"),
    OutlineMeasure("widest_at", "Where that is, from the start", "profile", main=False),
    OutlineMeasure("neck", "Thinnest place, apart from domed or pointed ends", "profile"),
    OutlineMeasure("neck_at", "Where that is, from the start", "profile", main=False),
    OutlineMeasure("volume", "Wood in the finished part", "disks", main=False, kind=Kind.VOLUME),
    OutlineMeasure(
        "side", "Surface around the side, with shoulders and without ends", "surface", main=False, kind=Kind.AREA
    ),
    OutlineMeasure("surface", "Surface all over, with shoulders and both ends", "surface", main=False, kind=Kind.AREA),
    OutlineMeasure("balance", "Center of gravity, from the start", "disks", main=False),
    OutlineMeasure("slenderness", "Length over the neck's diameter", "slender", main=False, kind=Kind.NUMBER),
)
"""What can be told of every outline."""

_INSIDE = {
    "length": ("Depth from the opening to the floor", Err.UNDER),
    "widest": ("Largest diameter inside", Err.UNDER),
    "neck": ("Narrowest place, apart from the floor", Err.NEAREST),
    "volume": ("Room inside", Err.NEAREST),
    "side": ("Surface inside, without the opening and a flat floor", Err.NEAREST),
    "surface": ("Surface inside, with opening and floor", Err.NEAREST),
    "balance": ("Center of the room inside, from the start", Err.NEAREST),
    "slenderness": ("Depth over the narrowest place", Err.NEAREST),
}
INSIDE_VALUES = tuple(
    replace(measured, says=_INSIDE[measured.name][0], err=_INSIDE[measured.name][1])
    if measured.name in _INSIDE
    else measured
    for measured in PROFILE_VALUES
)
"""The same, of an outline that is hollowed: of room and not of wood, made smaller where it is rounded."""

PROFILE_DEMANDS = (
    Demand(
        "slenderness <= 10",
        "mind",
        "the part is {slenderness} times as long as its neck of {neck} is thick, and can whip",
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


def _near(a: float, b: float) -> bool:
    return abs(a - b) <= _SAME


def _mm(value: Quantity) -> float:
    return float(value.m_as(UNITS["mm"]))
