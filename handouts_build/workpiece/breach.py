"""Holes that come out of the wood.

This module owns where the wall or the floor of a hole is not there. Whether that is meant
is for `findings`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from handouts_build.workpiece.axes import Floats, Vector, vector
from handouts_build.workpiece.cut import Probe
from handouts_build.workpiece.solid import Solid

__all__ = ["Breach", "breaches"]


@dataclass(frozen=True)
class Breach:
    """A place where a hole's wall or floor is not there."""

    name: str
    at_mm: Vector


def breaches(probe: Probe, wood: Solid, inside: Sequence[Solid], *, sides: bool = False) -> Breach | None:
    """Where a hole that has gone into whole wood comes out of it again, or is open at a side all along.

    Args:
        probe: The hole's rings, from its mouth inward.
        wood: The stage.
        inside: Bodies of cuts into the wood; air that is theirs does not count.
        sides: Whether a wall that is open from mouth to floor, on some sides, is a break however its face falls
            away: where a later cut shaped the outside.
    """
    entered = partly = walled = False
    gone: Breach | None = None
    open_side = _in_air(probe.past, wood.contains(probe.past), inside)
    rings = (*probe.wall, *probe.floor)
    points = np.concatenate(rings)
    all_wooden = wood.contains(points)
    ends = np.cumsum([len(ring) for ring in rings])[:-1]
    verdicts = zip(rings, np.split(all_wooden, ends), np.split(_in_air(points, all_wooden, inside), ends), strict=True)
    for index, (ring, wooden, airy) in enumerate(verdicts):
        of_wall = index < len(probe.wall)
        if sides and not of_wall and not entered:
            break
        if not airy.any():
            if gone is not None and entered:
                return gone
            entered, gone = True, None
        elif gone is None:
            gone = Breach(probe.name, vector(ring[airy].mean(axis=0)))
        if of_wall:
            # A tool wider than what it meets faces it off, and has no wall to come out of.
            partly = partly or bool(airy.any() and wooden.any())
            walled = walled or not airy.any()
            open_side = open_side & airy if len(open_side) else open_side
    if partly and not walled and open_side.any():
        return Breach(probe.name, vector(probe.past[open_side].mean(axis=0)))
    if entered:
        return gone if probe.floor else None
    return gone if partly else None


def _in_air(points: Floats, wooden: NDArray[np.bool_], inside: Sequence[Solid]) -> NDArray[np.bool_]:
    """Whether each point is in neither wood nor a cut into it."""
    air = ~wooden
    for body in inside:
        if air.any():
            air[air] = ~body.contains(points[air])
    return air
