"""Rings of points past the wall of a hole, by which a break-through is found."""

from __future__ import annotations

import math

import numpy as np

from handouts_build.workpiece.cut import Probe
from handouts_build.workpiece.features import PAST_MM, Feature, ring_points

__all__ = ["probe_of"]


def probe_of(hole: Feature, *, falls_mm: float = 0.0, point_mm: float = 0.0) -> Probe:
    """Rings around a hole from its mouth inward, and past its floor if it has one.

    Args:
        hole: Where it is drilled.
        falls_mm: How far the face that it is begun in falls away over its own width, mm.
        point_mm: How far its bit's point goes past the floor, mm.
    """
    # Close enough that a cut across the hole does not slip between two rings.
    count = max(10, math.ceil(min(48.0, 4 * hole.long_mm / hole.diameter_mm)))
    # Two more near the mouth: of a hole begun at the floor of another little may be wood before it comes out.
    shares = np.concatenate([[0.25 / count, 0.5 / count], np.linspace(0.0, 1.0, count + 1)[1:]])
    places = list(shares * hole.long_mm)
    places[-1] -= PAST_MM
    radius = hole.diameter_mm / 2 * 1.002 + PAST_MM
    # The wall of a dovetail leans out: a ring must not lie in the hole's own air.
    lean = math.tan(math.radians(hole.dovetail_deg))
    wall = [ring_points(hole.axis, radii=[radius + lean * place], places=[place], around=16) for place in places]
    past = hole.long_mm + PAST_MM
    radius += lean * hole.long_mm
    beyond = ring_points(hole.axis, radii=[radius], places=[past + falls_mm], around=16)
    if hole.through:
        return Probe(hole.name, tuple(wall), (), beyond)
    floor = [ring_points(hole.axis, radii=[0.1 * radius, 0.8 * radius], places=[past], around=8)]
    if point_mm > 0:
        # No point is wider than the cone of a twist bit, which is as wide as the hole.
        for share in (0.5, 1.0):
            out = (1 - share) * radius + PAST_MM
            floor.append(ring_points(hole.axis, radii=[out], places=[past + share * point_mm], around=8))
    return Probe(hole.name, tuple(wall), tuple(floor), beyond)
