"""Rings that are loose on the wood: how they hang on it, whether they stay on, whether they move.

This module owns what is read off a ring and the wood that it is on. Cutting one free is in
`cuts.captive`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from handouts_build.workpiece.axes import Axis, Floats, vector
from handouts_build.workpiece.cut import LooseRing, Made
from handouts_build.workpiece.holds import End
from handouts_build.workpiece.silhouette import silhouette
from handouts_build.workpiece.solid import Solid
from handouts_build.workpiece.verdicts import Code, Limits, Verdict, cut_named

__all__ = ["RingFit", "hanging", "resting", "ring_fit", "rings_judged"]

_FACETS = 1.001
"""A round is drawn with straight sides."""
_BACK = 0.999
"""A ring that hangs is drawn a hair off the stem it hangs on."""


@dataclass(frozen=True)
class RingFit:
    """How a ring sits on its wood, mm."""

    stem_mm: float
    """Diameter of the wood under it, at its thickest."""
    run_mm: float
    """How far it moves along the stem."""
    stops_mm: tuple[float, float]
    """Greatest diameter of wood on its left and on its right: nought where there is none."""


def ring_fit(ring: LooseRing, wood: Solid, *, segments: int) -> RingFit:
    """How a ring sits on its wood.

    Args:
        ring: As it was cut.
        wood: What it is on, in part coordinates.
        segments: Sides that a circle about the axis is drawn with.
    """
    outline = _outline(ring, wood, segments=segments)
    half = ring.wide_mm / 2
    if not len(outline):
        return RingFit(0.0, 0.0, (0.0, 0.0))
    places, radii = outline.T
    stops = tuple(2 * float(radii[side].max(initial=0.0)) for side in (places < 0, places > 0))
    stem = 2 * _under(outline, -half / 2, half / 2)
    left = _stop(outline[::-1] * [-1, 1], ring.bore_mm / 2)
    right = _stop(outline, ring.bore_mm / 2)
    return RingFit(stem, max(0.0, left + right - ring.wide_mm), (stops[0], stops[1]))


def _outline(ring: LooseRing, wood: Solid, *, segments: int) -> Floats:
    """The wood's outline about a ring's axis, N x 2: place from the ring's middle, and radius, mm."""
    ends = ring.axis.to_lathe(wood.vertices)[:, 2]
    return np.array(
        silhouette(wood, ring.axis, start_mm=float(ends.min()), end_mm=float(ends.max()), segments=segments)
    )


def _under(outline: Floats, start: float, end: float) -> float:
    """Greatest radius between two places."""
    within = outline[(outline[:, 0] >= start) & (outline[:, 0] <= end), 1]
    edges = np.interp([start, end], outline[:, 0], outline[:, 1])
    return float(max(within.max(initial=0.0), *edges))


def _stop(outline: Floats, radius: float) -> float:
    """How far from nought, toward greater places, wood is first as thick as a radius; to its end where it never is."""
    beyond = outline[outline[:, 0] >= 0]
    thick = np.flatnonzero(beyond[:, 1] >= radius)
    if not len(thick):
        return float(outline[-1, 0])
    at = int(thick[0])
    if at == 0 or beyond[at, 0] <= beyond[at - 1, 0]:
        return float(beyond[at, 0])
    (x1, r1), (x2, r2) = beyond[at - 1], beyond[at]
    return float(x1 + (x2 - x1) * (radius - r1) / (r2 - r1))


def hanging(ring: LooseRing, wood: Solid) -> Solid:
    """A ring as it hangs on the stem of a piece that lies in the lathe, in part coordinates.

    Args:
        ring: As it was cut.
        wood: What it hangs on.
    """
    fit = ring_fit(ring, wood, segments=72)
    drop = max(0.0, (ring.bore_mm - fit.stem_mm) / 2) * _BACK
    down = -drop * np.array(ring.axis.up)
    return ring.body.moved(Axis(vector(down), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)))


def resting(rings: Sequence[LooseRing], wood: Solid, *, down: End) -> list[Solid]:
    """Rings as they lie on each other where the finished piece stands, in part coordinates.

    Args:
        rings: As they were cut, on one stem.
        wood: What they are on.
        down: The end that is below.
    """
    sign = -1.0 if down is End.LEFT else 1.0
    lowest = -math.inf
    placed = []
    for ring in sorted(rings, key=lambda ring: -sign * ring.axis.origin[2]):
        outline = _outline(ring, wood, segments=72)
        below = _stop(outline if sign > 0 else outline[::-1] * [-1, 1], ring.bore_mm / 2) if len(outline) else 0.0
        # Heights above the end that is below: the ring's own place, and what it falls by until it lies on something.
        height = -sign * ring.axis.origin[2]
        lies = max(height - below + ring.wide_mm / 2, lowest + ring.wide_mm / 2)
        lowest = lies + ring.wide_mm / 2
        moved = (0.0, 0.0, sign * (height - min(lies, height)))
        placed.append(ring.body.moved(Axis(moved, (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))))
    return placed


def rings_judged(
    rings: Sequence[LooseRing], wood: Solid, made: Sequence[Made], *, limits: Limits, segments: int
) -> Iterator[Verdict]:
    """Whether rings stay on the finished wood, and move on it.

    Args:
        rings: On it.
        wood: Finished.
        made: All cuts, to say where each ring was cut.
        limits: Where minding begins.
        segments: Sides that a circle about the axis is drawn with.
    """
    for ring in rings:
        cut = next(cut for cut in made if cut.name == ring.name)
        fit = ring_fit(ring, wood, segments=segments)
        about = (cut_named(ring.name),)
        least = min(fit.stops_mm)
        if least <= ring.bore_mm * _FACETS:
            numbers = {"bore_mm": ring.bore_mm, "most_mm": least, "right": float(least == fit.stops_mm[1])}
            yield Verdict(Code.RING_COMES_OFF, about, numbers, cut.step, cut.cut)
        play = ring.bore_mm - fit.stem_mm
        if min(play, fit.run_mm) < limits.ring_play_mm:
            numbers = {"play_mm": max(play, 0.0), "run_mm": fit.run_mm, "least_mm": limits.ring_play_mm}
            yield Verdict(Code.RING_JAMS, about, numbers, cut.step, cut.cut)
