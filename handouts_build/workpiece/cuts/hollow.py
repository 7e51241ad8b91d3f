"""Hollowing: the inside of a vessel, to a profile or to a wall of one thickness."""

from __future__ import annotations

import functools
import itertools
from collections.abc import Collection
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from handouts_build.workpiece.axes import PART_AXIS, Floats
from handouts_build.workpiece.cut import BaseCut, Here, Nature, Probe, Removal
from handouts_build.workpiece.cuts.profile import other_way
from handouts_build.workpiece.cuts.turned import stub_axis
from handouts_build.workpiece.declared import choice, flag, length, outline
from handouts_build.workpiece.faults import WorkpieceFault, positive, said
from handouts_build.workpiece.features import PAST_MM, Feature, FeatureKind, ring_points
from handouts_build.workpiece.holds import End
from handouts_build.workpiece.regions import checked, inside, thinned
from handouts_build.workpiece.solid import Outline, Solid, shrunk

__all__ = ["Hollow"]


@dataclass(frozen=True, kw_only=True)
class Hollow(BaseCut):
    """Hollow out, to a profile or to a wall of one thickness."""

    word: ClassVar[str] = "hollow"
    nature: ClassVar[Nature] = Nature.INSIDE
    hollows: ClassVar[bool] = True

    end: End = choice("The end with the mouth.", End, example="right")
    points_mm: tuple[tuple[float, float], ...] = outline(
        "The profile of the inside, by its name under `profiles`.", word="shape", example="inside", default=()
    )
    """(place, radius) of the inside, places growing; its mouth is at the end it is cut from."""
    outside_mm: tuple[tuple[float, float], ...] = outline(
        "The profile of the outside; needs `wall` and `floor`.", example="outside", default=()
    )
    """(place, radius) of the outside, from which wall and floor are measured, where no inside is given."""
    wall_mm: float | None = length(
        "Thickness of the wall, square to the outside.", example="5/16 in", default=None, above_nought=True
    )
    floor_mm: float | None = length(
        "Thickness of the floor, along the axis.", example="3/8 in", default=None, above_nought=True
    )
    at_mm: float = length("Where the profile begins, from the left end of the blank; 0 in if not given.", default=0.0)
    reversed: bool = flag("Whether the profile's first end is at the right.", example="true")

    @classmethod
    def misfit(cls, given: Collection[str]) -> tuple[str, str] | None:
        """The shape of the inside, or all of outside, wall and floor."""
        walled = {"outside", "wall", "floor"}
        if ("shape" in given) is not walled.isdisjoint(given):
            return "say the shape of the inside, or the outside, wall and floor", "write shape: inside"
        if "shape" not in given and not walled.issubset(given):
            return (
                "a hollow to a wall needs outside, wall and floor", "write {outside: side, wall: 1/4 in, floor: 1/4 in}"
            )  # fmt: skip
        return None

    @functools.cached_property
    def _inside_mm(self) -> tuple[tuple[float, float], ...]:
        if self.wall_mm is None or self.floor_mm is None:
            return other_way(self.points_mm) if self.reversed else self.points_mm
        outer = other_way(self.outside_mm) if self.reversed else self.outside_mm
        return _within_wall(outer, wall_mm=self.wall_mm, floor_mm=self.floor_mm, end=self.end)

    @property
    def outline_mm(self) -> Outline:
        """The inside as it is turned, (place, radius) from `at_mm`."""
        return self._inside_mm

    @property
    def outline_at_mm(self) -> float:
        """Where the profile begins."""
        return self.at_mm

    def removal(self, here: Here) -> Removal:
        """All inside the profile, open at its mouth."""
        points = checked([(place + self.at_mm, radius) for place, radius in self.outline_mm], "the hollow")
        start, end = here.span(points[0][0], points[-1][0])
        left = self.end is End.LEFT
        mouth, mouth_radius = points[0] if left else points[-1]
        positive(mouth_radius, "the hollow's opening")
        shape = thinned(points)
        # Out past the wood, so that no skin is left over the mouth.
        if left and here.before_mm < mouth <= here.low_mm + 0.5:
            shape = [(here.before_mm, mouth_radius), *shape]
        elif not left and here.after_mm > mouth >= here.high_mm - 0.5:
            shape = [*shape, (here.after_mm, mouth_radius)]
        deep = end - start
        feature = Feature(
            self.name, FeatureKind.HOLLOW, stub_axis(mouth, End.RIGHT if left else End.LEFT), 2 * mouth_radius, deep
        )
        return Removal(
            Solid.turned(inside(shape), segments=here.segments),
            features=(feature,),
            probes=(Probe(self.name, *_hollow_rings(points, mouth_left=left)),),
        )


def _hollow_rings(points: Outline, *, mouth_left: bool) -> tuple[tuple[Floats, ...], tuple[Floats, ...]]:
    """Rings past the wall of a hollow, square to it, from its mouth inward, and one past the middle of its floor."""
    ordered = np.array(points if mouth_left else points[::-1], dtype=np.float64)
    steps = np.hypot(*np.diff(ordered, axis=0).T)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    wanted = np.linspace(0.02, 1.0, 24) * along[-1]
    sign = 1.0 if mouth_left else -1.0
    rings = []
    for before, here in itertools.pairwise(wanted):
        middle = (before + here) / 2
        place, radius = (float(np.interp(middle, along, ordered[:, axis])) for axis in (0, 1))
        index = min(int(np.searchsorted(along, middle, side="right")), len(along) - 1)
        run = ordered[index] - ordered[index - 1]
        run = run / max(float(np.hypot(*run)), 1e-9)
        # Square to the wall, away from the hollow: to the side on which the radius grows, or the floor deepens.
        out = np.array([-run[1], run[0]]) * sign
        past = 4 * PAST_MM
        rings.append(
            ring_points(
                PART_AXIS, radii=[radius + past * float(out[1])], places=[place + past * float(out[0])], around=12
            )
        )
    deepest, last = ordered[-1]
    floor = ring_points(PART_AXIS, radii=[0.1 * last], places=[float(deepest) + sign * PAST_MM], around=4)
    return tuple(rings), (floor,)


def _within_wall(outer_mm: Outline, *, wall_mm: float, floor_mm: float, end: End) -> tuple[tuple[float, float], ...]:
    """The inside that leaves a wall of one thickness, measured square to the outside.

    Args:
        outer_mm: Outside of the vessel, (place, radius), places growing.
        wall_mm: Thickness of the wall.
        floor_mm: Thickness of the floor, along the axis.
        end: The end with the mouth.

    Raises:
        WorkpieceFault: If the wall leaves no room.
    """
    points = checked(outer_mm, "the outside")
    left = end is End.LEFT
    mouth, base = (points[0], points[-1]) if left else (points[-1], points[0])
    far = 2 * (points[-1][0] - points[0][0]) + 10 * wall_mm
    beyond = (mouth[0] - far, mouth[1]) if left else (mouth[0] + far, mouth[1])
    shape = [beyond, *points] if left else [*points, beyond]
    ring = np.array([*shape, *[(place, -radius) for place, radius in reversed(shape)]])
    sign = 1.0 if left else -1.0
    bottom = base[0] - sign * floor_mm
    room = (min(mouth[0], bottom), max(mouth[0], bottom))
    contours = shrunk(ring, by_mm=wall_mm, between=room) if (bottom - mouth[0]) * sign > 0 else []
    if not contours:
        raise WorkpieceFault(
            f"a wall of {said(wall_mm)} and a floor of {said(floor_mm)} leave no room", "make them thinner"
        )
    # Counter-clockwise: along the axis from left to right, then back over the wall.
    ring = max(contours, key=len)
    on_axis = [index for index, (_, radius) in enumerate(ring) if radius < 1e-6]
    last = max(on_axis, key=lambda index: float(ring[index][0]))
    around = np.roll(ring, -last, axis=0)
    wall = [(float(place), float(radius)) for place, radius in around if radius >= 1e-6]
    return tuple(reversed(wall))
