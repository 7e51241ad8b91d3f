"""Hollowing: the inside of a vessel.

This module owns inner profiles and walls of one thickness. Holes that a bit makes are
in `cuts_inside`.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np

from handouts_build.workpiece.axes import PART_AXIS, Floats
from handouts_build.workpiece.cut import Here, Probe, Removal
from handouts_build.workpiece.cuts_inside import PAST_MM, InsideCut
from handouts_build.workpiece.cuts_outside import stub_axis
from handouts_build.workpiece.faults import WorkpieceFault, positive, said, within
from handouts_build.workpiece.features import Feature, FeatureKind, ring_points
from handouts_build.workpiece.holds import End
from handouts_build.workpiece.regions import checked, inside, thinned
from handouts_build.workpiece.solid import Outline, Solid, shrunk

__all__ = ["Hollow", "hollow_to_wall"]


@dataclass(frozen=True, kw_only=True)
class Hollow(InsideCut):
    """Hollow out to an inner profile, from an end."""

    points_mm: tuple[tuple[float, float], ...]
    """(place, radius) of the inside, places growing; its mouth is at the end it is cut from."""
    end: End
    at_mm: float = 0.0
    """Where the profile's own nought lies along the axis."""

    def removal(self, here: Here) -> Removal:
        """All inside the profile, open at its mouth."""
        within(self.at_mm, "the hollow's start")
        points = checked([(place + self.at_mm, radius) for place, radius in self.points_mm], "the hollow")
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
            probes=(Probe(self.name, _hollow_rings(points, mouth_left=left), False),),
        )


def _hollow_rings(points: Outline, *, mouth_left: bool) -> tuple[Floats, ...]:
    """Rings past the wall of a hollow, square to it, from its mouth to past the middle of its floor."""
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
    rings.append(ring_points(PART_AXIS, radii=[0.1 * last], places=[float(deepest) + sign * PAST_MM], around=4))
    return tuple(rings)


def hollow_to_wall(
    name: str,
    *,
    outer_mm: Outline,
    wall_mm: float,
    floor_mm: float,
    end: End,
    meets: tuple[str, ...] = (),
) -> Hollow:
    """A hollow that leaves a wall of one thickness, measured square to the outside.

    Args:
        name: Of the cut.
        outer_mm: Outside of the vessel, (place, radius), places growing.
        wall_mm: Thickness of the wall.
        floor_mm: Thickness of the floor, along the axis.
        end: The end with the mouth.
        meets: As of any cut.

    Raises:
        WorkpieceFault: If the wall leaves no room.
    """
    positive(wall_mm, "the wall")
    positive(floor_mm, "the floor")
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
    return Hollow(name=name, meets=meets, points_mm=tuple(reversed(wall)), end=end)
