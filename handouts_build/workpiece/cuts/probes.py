"""Rings of points past the wall of a hole, by which a break-through is found."""

from __future__ import annotations

import math

import numpy as np

from handouts_build.workpiece.cut import Probe
from handouts_build.workpiece.features import PAST_MM, Feature, ring_points

__all__ = ["probe_of"]


def probe_of(hole: Feature, *, falls_mm: float = 0.0) -> Probe:
    """Rings around a hole from its mouth inward, the last past its floor if it has one.

    Args:
        hole: Where it is drilled.
        falls_mm: How far the face that it is begun in falls away over its own width, mm.
    """
    # Close enough that a cut across the hole does not slip between two rings.
    count = max(10, math.ceil(min(48.0, 4 * hole.long_mm / hole.diameter_mm)))
    places = list(np.linspace(0.0, 1.0, count + 1)[1:] * hole.long_mm)
    places[-1] -= PAST_MM
    radius = hole.diameter_mm / 2 * 1.002 + PAST_MM
    rings = [ring_points(hole.axis, radii=[radius], places=[place], around=16) for place in places]
    past = hole.long_mm + PAST_MM
    if not hole.through:
        rings.append(ring_points(hole.axis, radii=[0.1 * radius, 0.8 * radius], places=[past], around=8))
    beyond = ring_points(hole.axis, radii=[radius], places=[past + falls_mm], around=16)
    return Probe(hole.name, tuple(rings), hole.through, beyond)
