"""Cuts made at rest with a gouge, a carving tool or a guided cutter: flutes along the side, and slots through a wall.

This module owns the body of a flute, which is all that its bit sweeps, and of a slot. How
flutes are spaced is for the chapter of that name.
"""

from __future__ import annotations

import enum
import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np

from handouts_build.workpiece.axes import Axis, Floats
from handouts_build.workpiece.cut import Here, Reach, Removal
from handouts_build.workpiece.cuts.around import CutAround, depth_from_surface, must_go_one_way, reach_inward
from handouts_build.workpiece.cuts.probes import probe_of
from handouts_build.workpiece.cuts.words import AT, EACH, FIRST, START, STOP
from handouts_build.workpiece.declared import angle, choice, count, flag, length, thing
from handouts_build.workpiece.faults import WorkpieceFault, said
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.solid import Solid, round_factor

__all__ = ["Bottom", "CarveSlots", "Flutes", "SlotOutline"]

_SIDES = 32
"""Sides that a round bit's section is drawn with."""
_PLACES, _TURN_DEG = 24, 8.0
"""Places at which the surface is felt along a flute, and how far a twisted one turns at most between two."""
_STRAIGHT_MM = 0.02
"""A floor that is nowhere further than this from a straight line is one."""
_ALIKE_MM = 0.1
"""Wood that differs by less all around is round: the corners of a drawn circle are no more."""
_MOST_SWEPT = 6000
"""Stretches of all flutes of one cut together, each a body of its own before they are one."""
_MOST_TURNS = 30
_INSIDE_MM = 0.01
"""How far within the wood's ends its surface is felt."""
_VEE_DEG = (20.0, 150.0)
"""No vee is sharper or blunter."""


class Bottom(enum.Enum):
    """The section of a flute."""

    ROUND = "round"
    """As a gouge or a round-nose bit leaves it."""
    VEE = "vee"
    """As a parting gouge or a vee bit leaves it."""


class SlotOutline(enum.Enum):
    """The outline of a slot."""

    STRAIGHT = "straight"
    """Straight sides and round ends, as a bit leaves it that is as wide."""
    OVAL = "oval"
    """Widened to an ellipse."""


@dataclass(frozen=True, kw_only=True)
class _Carved(CutAround):
    """What is carved at equal angles around."""

    operation: ClassVar[str] = "carving"


@dataclass(frozen=True, kw_only=True)
class Flutes(_Carved):
    """Carve grooves along the outside, at equal angles around: as deep everywhere, whatever the outline."""

    word: ClassVar[str] = "flutes"
    several: ClassVar[str] = "flutes"

    count: int = count("How many.", example="12")
    diameter_mm: float = length(
        "Diameter of the bit, or of the circle that the gouge's sweep is part of.",
        example="1/4 in",
        noun="bit",
        above_nought=True,
    )
    deep_mm: float = length("How deep below the surface.", example="1/16 in", noun="depth", above_nought=True)
    start_mm: float | None = length(START, example="1 in", default=None)
    end_mm: float | None = length(STOP, example="4 in", default=None)
    bottom: Bottom = choice("Their section; `round` if not given.", Bottom, example="vee", default=Bottom.ROUND)
    angle_deg: float = angle("Of a vee, from side to side; 90 deg if not given.", example="60 deg", default=90.0)
    pitch_mm: float | None = length(
        "What one climbs along the axis in a whole turn, as a right-hand screw does; straight if not given.",
        example="8 in",
        default=None,
        above_nought=True,
    )
    left_hand: bool = flag("Whether they climb the other way around.", example="true")
    start_deg: float = angle(FIRST, word="first", example="15 deg", default=0.0)
    each: str = thing(EACH, example="flute", default="")

    @property
    def half_mm(self) -> float:
        """Half the width of one on a flat face."""
        radius = self.diameter_mm / 2
        if self.bottom is Bottom.VEE:
            return min(radius, self.deep_mm * math.tan(math.radians(self.angle_deg) / 2))
        return radius if self.deep_mm >= radius else math.sqrt(self.deep_mm * (self.diameter_mm - self.deep_mm))

    def removal(self, here: Here) -> Removal:
        """All that the bit sweeps, and the way of its shank to it."""
        turns = self._angles(self.start_deg)
        low, high = self._ends(here)
        places, twist = self._places(low, high)
        if len(places) * self.count > _MOST_SWEPT:
            raise WorkpieceFault(f"{self.count} flutes of so many turns", "make fewer of them, or a longer pitch")
        floors = self._floors(here, places, twist, turns)
        alike = bool((np.ptp(floors, axis=1) < _ALIKE_MM).all())
        paths = [floors.mean(axis=1)] if alike else list(floors.T)
        swept = [self._swept(here, places, twist, path) for path in paths]
        if alike:
            swept, paths = swept * self.count, paths * self.count
        apart = tuple(body.moved(_turned(turn)) for body, turn in zip(swept, turns, strict=True))
        features = tuple(
            Feature(name, FeatureKind.FLUTE, self._axis(places, twist, path, turn), 2 * self.half_mm, high - low)
            for name, turn, path in zip(self._names(self.each), turns, paths, strict=True)
        )
        return Removal(
            Solid.all_of(apart), features=features, apart=apart if len(apart) > 1 else (), depth_mm=self.deep_mm
        )

    def _ends(self, here: Here) -> tuple[float, float]:
        """Where they begin and end, past the wood where they run out of it."""
        if self.bottom is Bottom.VEE and not _VEE_DEG[0] <= self.angle_deg <= _VEE_DEG[1]:
            raise WorkpieceFault(
                f"a vee of {self.angle_deg:g}°", f"give from {_VEE_DEG[0]:g} deg to {_VEE_DEG[1]:g} deg"
            )
        here.span(self.start_mm, self.end_mm)
        low = here.low_mm if self.start_mm is None else self.start_mm
        high = here.high_mm if self.end_mm is None else self.end_mm
        here.fits(low, high, f"'{self.name}'")
        low -= self.diameter_mm if self.start_mm is None else 0.0
        high += self.diameter_mm if self.end_mm is None else 0.0
        if high - low < 2 * self.half_mm:
            raise WorkpieceFault(
                f"flutes {said(2 * self.half_mm)} wide have no room in {said(high - low)}",
                "give more length, less depth or a smaller bit",
            )
        return low, high

    def _places(self, low: float, high: float) -> tuple[Floats, Floats]:
        """Where the bit's middle comes by, mm, and how far around it is there, radians."""
        first, last = low + self.half_mm, high - self.half_mm
        turned = 0.0 if self.pitch_mm is None else (high - low) / self.pitch_mm
        if turned > _MOST_TURNS:
            raise WorkpieceFault(f"flutes that go {turned:.0f} times around", f"{_MOST_TURNS} turns are the most here")
        places = np.linspace(first, last, max(_PLACES, math.ceil(360 * turned / _TURN_DEG)))
        if self.pitch_mm is None:
            return places, np.zeros(len(places))
        # A right-hand screw climbs away from the eye as it goes clockwise, whichever end it is seen from.
        way = -1.0 if self.left_hand else 1.0
        return places, way * 2 * math.pi * (places - low) / self.pitch_mm

    def _floors(self, here: Here, places: Floats, twist: Floats, turns: Sequence[float]) -> Floats:
        """Distance of each flute's floor from the axis at each place, K x N."""
        found = np.empty((len(places), len(turns)))
        for row, (place, turned) in enumerate(zip(places.tolist(), twist.tolist(), strict=True)):
            within = min(max(place, here.low_mm + _INSIDE_MM), here.high_mm - _INSIDE_MM)
            # A circle is drawn with corners: a quarter of a side beside one, or a middle, it is as far out as told.
            beside = math.pi / (2 * here.segments)
            angles = [turn + turned + side for turn in turns for side in (-beside, beside)]
            surfaces = here.surface_mm(at_mm=within, angles_rad=angles)
            if None in surfaces:
                raise WorkpieceFault(
                    f"there is no wood at {said(within)} where '{self.name}' is to run", "check its places"
                )
            found[row] = np.array(surfaces, dtype=np.float64).reshape(-1, 2).mean(axis=1)
        found -= self.deep_mm
        if found.min() <= 0:
            raise WorkpieceFault(
                f"flutes {said(self.deep_mm)} deep go past the axis of wood that reaches "
                f"{said(float(found.min()) + self.deep_mm)} from it",
                "make them shallower",
            )
        return found

    def _swept(self, here: Here, places: Floats, twist: Floats, floors: Floats) -> Solid:
        """One flute, by hulls of the bit from place to place."""
        far = here.beyond_mm + self.diameter_mm
        bit = self._bit()
        if not twist.any():
            keep = _corners(places, floors)
            places, twist, floors = places[keep], twist[keep], floors[keep]
        stands = [
            _stood(bit, place, turn, floor, far) for place, turn, floor in zip(places, twist, floors, strict=True)
        ]
        if len(stands) == 1:
            return Solid.hull(stands[0])
        return Solid.all_of([Solid.hull(np.concatenate(pair)) for pair in itertools.pairwise(stands)]).worked_out()

    def _bit(self) -> Floats:
        """The bit's face: x along the flute, y across it, and z up from its tip; N x 3, mm, widest last."""
        radius = self.diameter_mm / 2
        around = np.arange(_SIDES // 2) * 4 * math.pi / _SIDES
        if self.bottom is Bottom.VEE:
            rings = [(radius, radius / math.tan(math.radians(self.angle_deg) / 2))]
            tip = 0.0
        else:
            wide = radius * round_factor(_SIDES)
            turns = np.arange(1, _SIDES // 4 + 1) * 2 * math.pi / _SIDES
            rings = [(wide * math.sin(turn), radius - wide * math.cos(turn)) for turn in turns]
            tip = radius - wide
        points = [(out * math.cos(turn), out * math.sin(turn), up) for out, up in rings for turn in around]
        return np.array([(0.0, 0.0, tip), *points])

    def _axis(self, places: Floats, twist: Floats, floors: Floats, turn: float) -> Axis:
        """From its mouth inward, at its middle."""
        middle = len(places) // 2
        turned = turn + float(twist[middle])
        out = (math.cos(turned), math.sin(turned))
        surface = float(floors[middle]) + self.deep_mm
        return Axis(
            (surface * out[0], surface * out[1], float(places[middle])), (-out[0], -out[1], 0.0), (0.0, 0.0, 1.0)
        )


@dataclass(frozen=True, kw_only=True)
class CarveSlots(_Carved):
    """Cut openings that are longer than wide toward the axis, at equal angles around."""

    word: ClassVar[str] = "slots"
    several: ClassVar[str] = "slots"

    count: int = count("How many.", example="6")
    at_mm: float = length(AT, example="middle")
    long_mm: float = length("Their length along the axis.", example="1 1/2 in", noun="length", above_nought=True)
    wide_mm: float = length("Their width.", example="3/8 in", noun="width", above_nought=True)
    outline: SlotOutline = choice(
        "`straight` sides with round ends, or widened to an `oval`; straight if not given.",
        SlotOutline,
        example="oval",
        default=SlotOutline.STRAIGHT,
    )
    deep_mm: float | None = depth_from_surface()
    reach: Reach = reach_inward()
    start_deg: float = angle(FIRST, word="first", example="30 deg", default=0.0)
    each: str = thing(EACH, example="slot", default="")

    @property
    def comes_out(self) -> bool:
        """Where they go right through."""
        return self.reach is Reach.THROUGH

    def removal(self, here: Here) -> Removal:
        """The slots, each from the surface as it is at its middle."""
        turns = self._angles(self.start_deg)
        must_go_one_way(self.several, self.deep_mm, self.reach)
        if self.wide_mm > self.long_mm:
            raise WorkpieceFault(
                f"slots {said(self.wide_mm)} wide and {said(self.long_mm)} long lie across the axis",
                "make them at least as long as wide",
            )
        here.fits(self.at_mm - self.long_mm / 2, self.at_mm + self.long_mm / 2, f"'{self.name}'")
        features = tuple(self._features(here, turns))
        start = -(here.beyond_mm + here.high_mm - here.low_mm)
        apart = tuple(
            Solid.prism(
                [self._section()],
                start_mm=start,
                end_mm=feature.long_mm - start if feature.through else feature.long_mm,
            ).moved(feature.axis)
            for feature in features
        )
        whole = bool(here.local.contains(np.array([[0.0, 0.0, self.at_mm]]))[0])
        made = Removal(
            Solid.all_of(apart),
            features=features,
            apart=apart if len(apart) > 1 else (),
            probes=tuple(probe_of(feature, falls_mm=self.wide_mm / 2) for feature in features),
            depth_mm=features[0].long_mm,
        )
        return replace(made, converge=whole and self.reach is not Reach.DEPTH, to_axis=self.reach is Reach.AXIS)

    def _features(self, here: Here, turns: Sequence[float]) -> Iterator[Feature]:
        surfaces = here.surface_mm(at_mm=self.at_mm, angles_rad=turns)
        for name, turn, surface in zip(self._names(self.each), turns, surfaces, strict=True):
            if surface is None:
                raise WorkpieceFault(f"there is no wood where '{name}' is to begin", "check its place and angle")
            out = (math.cos(turn), math.sin(turn))
            axis = Axis((surface * out[0], surface * out[1], self.at_mm), (-out[0], -out[1], 0.0), (0.0, 0.0, 1.0))
            long = {Reach.AXIS: surface, Reach.THROUGH: 2 * surface}.get(self.reach, self.deep_mm or 0.0)
            yield Feature(name, FeatureKind.SLOT, axis, self.wide_mm, long, through=self.reach is Reach.THROUGH)

    def _section(self) -> list[tuple[float, float]]:
        """Its outline: x along the part's axis, y around it."""
        turns = np.arange(_SIDES) * 2 * math.pi / _SIDES
        if self.outline is SlotOutline.OVAL:
            factor = round_factor(_SIDES)
            x, y = factor * self.long_mm / 2 * np.cos(turns), factor * self.wide_mm / 2 * np.sin(turns)
        else:
            radius = self.wide_mm / 2
            straight = self.long_mm / 2 - radius
            # A corner stands at either end of the straight sides, so that both ends are whole half rounds.
            turns = np.concatenate([np.linspace(-0.5, 0.5, _SIDES // 2 + 1), np.linspace(0.5, 1.5, _SIDES // 2 + 1)])
            ends = np.repeat([straight, -straight], _SIDES // 2 + 1)
            # Longer by a hair, for the area of its rounds; as wide as told.
            rounds = round_factor(_SIDES) ** 2 * radius * np.cos(math.pi * turns)
            x, y = ends + rounds, radius * np.sin(math.pi * turns)
        return [(float(along), float(around)) for along, around in zip(x, y, strict=True)]


def _turned(turn: float) -> Axis:
    """The lathe axis, its angle 0 turned around."""
    return Axis((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), (math.cos(turn), math.sin(turn), 0.0))


def _stood(bit: Floats, place: float, turn: float, floor: float, far: float) -> Floats:
    """A bit's face where it stands, and its shank out past the wood."""
    ring = bit[-(_SIDES // 2) :]
    shank = np.column_stack([ring[:, 0], ring[:, 1], np.full(len(ring), max(far - floor, ring[0, 2] + 1.0))])
    points = np.concatenate([bit, shank])
    out, across = floor + points[:, 2], points[:, 1]
    return np.column_stack(
        [
            out * math.cos(turn) - across * math.sin(turn),
            out * math.sin(turn) + across * math.cos(turn),
            place + points[:, 0],
        ]
    )


def _corners(places: Floats, floors: Floats) -> list[int]:
    """Which places keep a line within a hair of where it was: its ends, and in turn what lies farthest from it."""

    def between(first: int, last: int) -> list[int]:
        if last - first < 2:
            return []
        inner = np.arange(first + 1, last)
        share = (places[inner] - places[first]) / (places[last] - places[first])
        off = np.abs(floors[inner] - floors[first] - share * (floors[last] - floors[first]))
        worst = int(off.argmax())
        if off[worst] < _STRAIGHT_MM:
            return []
        middle = int(inner[worst])
        return [*between(first, middle), middle, *between(middle, last)]

    return [0, *between(0, len(places) - 1), len(places) - 1]
