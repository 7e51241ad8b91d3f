"""The form of a screw thread in wood, as an outline in the plane of the axis.

This module owns the basic profile and the rings by which a thread is drawn: its section is
that of the thread, its way around is not told. Cutting it is in `cuts.thread`, how two of
them go together in `join`.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace

import numpy as np

from handouts_build.workpiece.axes import Floats
from handouts_build.workpiece.faults import WorkpieceFault, said

__all__ = ["MOST_TURNS", "ThreadForm"]

_FLANK = math.tan(math.radians(30))
"""How far a flank of a 60° thread leans for each millimetre of depth."""
_SHARP = math.sqrt(3) / 2
"""Height of the sharp triangle over the pitch."""
_BASIC = 5 / 8 * _SHARP
"""Depth of the basic profile over the pitch: ISO 68-1, and ASME B1.1 for inches, which is the same profile."""
MOST_TURNS = 60
"""More rings than a lid has, and as many as are drawn."""


@dataclass(frozen=True)
class ThreadForm:
    """A thread of 60°, with flats at its major and its minor diameter."""

    pitch_mm: float
    """From one ridge to the next."""
    depth_mm: float
    """Of one side."""
    starts: int = 1
    relief_mm: float = 0.0
    """Width of the groove at its inner end, in which the chaser runs out."""
    inside: bool = False

    @property
    def lead_mm(self) -> float:
        """How far it goes in one turn."""
        return self.pitch_mm * self.starts

    def shrunk(self, *, along: float, across: float) -> ThreadForm:
        """Its form once the wood that it is cut in has dried.

        Args:
            along: What is left of a length along its axis, as a share.
            across: Of one across it.
        """
        return replace(
            self, pitch_mm=self.pitch_mm * along, depth_mm=self.depth_mm * across, relief_mm=self.relief_mm * along
        )

    @classmethod
    def basic_depth_mm(cls, pitch_mm: float) -> float:
        """Depth of the basic profile: 5/8 of the sharp triangle's height, 0.5413 of the pitch (ISO 68-1)."""
        return _BASIC * pitch_mm

    def checked(self, long_mm: float) -> None:
        """Refuse a thread that no tool of 60° cuts.

        Args:
            long_mm: From its mouth, or its shoulder, to where it ends, the relief too.

        Raises:
            WorkpieceFault: With what is wrong.
        """
        sharp = _SHARP * self.pitch_mm
        if self.depth_mm >= sharp:
            raise WorkpieceFault(
                f"a thread {said(self.depth_mm)} deep does not go into a pitch of {said(self.pitch_mm)}",
                f"at 60° even a sharp one is only {said(sharp)} deep: make it shallower, or leave the depth out",
            )
        if self.starts < 1 or self.starts > 8:
            raise WorkpieceFault(f"a thread of {self.starts} starts", "give 1 to 8 starts")
        if self.relief_mm < 0:
            raise WorkpieceFault(f"a relief of {said(self.relief_mm)}", "a width must be 0 or more")
        turned = long_mm - self.relief_mm
        if turned < self.pitch_mm:
            raise WorkpieceFault(
                f"{said(max(turned, 0.0))} is left for a thread of {said(self.pitch_mm)} pitch: less than one turn",
                "make the thread longer, its pitch finer, or its relief narrower",
            )
        if turned > MOST_TURNS * self.pitch_mm:
            raise WorkpieceFault(
                f"a thread of {turned / self.pitch_mm:.3g} turns", f"give a coarser pitch: at most {MOST_TURNS} turns"
            )

    def outline(self, *, minor_mm: float, long_mm: float) -> list[tuple[float, float]]:
        """The section as rings, from nought at its mouth or its shoulder: place and radius, mm.

        The two of a pair are drawn from the same place, so that they lie in each other where they are closed.

        Args:
            minor_mm: Its minor radius, mm.
            long_mm: To where it ends, the relief too, mm.
        """
        low, high = minor_mm, minor_mm + self.depth_mm
        start, stop = self.span_mm(long_mm)
        corners = self._corners(low, long_mm)
        points = self._chamfered(_between(corners, start, stop), low, high, long_mm)
        if self.relief_mm > 0:
            if self.inside:
                points += [(stop, high), (long_mm, high)]
            else:
                points = [(0.0, low), (start, low), *points]
        return [point for point, after in itertools.pairwise([*points, (math.inf, 0.0)]) if point != after]

    def span_mm(self, long_mm: float) -> tuple[float, float]:
        """From where to where the thread runs, the relief left out, mm.

        Args:
            long_mm: To where it ends, the relief too, mm.
        """
        return (0.0, long_mm - self.relief_mm) if self.inside else (self.relief_mm, long_mm)

    def radii(self, places_mm: Floats, *, minor_mm: float) -> Floats:
        """Its radius at places along the axis, as on one side of it; it repeats with every pitch, mm.

        Args:
            places_mm: The places, of any shape, mm.
            minor_mm: Its minor radius, mm.
        """
        corners = np.array(self._corners(minor_mm, self.pitch_mm))
        return np.asarray(np.interp(np.mod(places_mm, self.pitch_mm), *corners.T), dtype=np.float64)

    def _corners(self, low: float, long_mm: float) -> list[tuple[float, float]]:
        """Its ridges and valleys, sharp edge by sharp edge, from before nought to past a length."""
        high = low + self.depth_mm
        flat = (self.pitch_mm - 2 * self.depth_mm * _FLANK) / 3
        corners: list[tuple[float, float]] = []
        for turn in range(-1, math.ceil(long_mm / self.pitch_mm) + 2):
            valley, ridge = turn * self.pitch_mm, (turn + 0.5) * self.pitch_mm
            corners += [(valley - flat, low), (valley + flat, low), (ridge - flat / 2, high), (ridge + flat / 2, high)]
        return corners

    def _chamfered(
        self, points: list[tuple[float, float]], low: float, high: float, long_mm: float
    ) -> list[tuple[float, float]]:
        """With its mouth, or the tenon's tip, softened to 45° as deep as the thread, so that the tool starts clean."""

        def edge(place: float) -> float:
            return high - place if self.inside else low + long_mm - place

        keep = max if self.inside else min
        found: list[tuple[float, float]] = []
        for (x1, r1), (x2, r2) in itertools.pairwise(points):
            found.append((x1, keep(r1, edge(x1))))
            before, after = r1 - edge(x1), r2 - edge(x2)
            if before * after < 0:
                crossing = x1 + (x2 - x1) * before / (before - after)
                found.append((crossing, edge(crossing)))
        return [*found, (points[-1][0], keep(points[-1][1], edge(points[-1][0])))]


def _between(corners: list[tuple[float, float]], start: float, stop: float) -> list[tuple[float, float]]:
    """A line of corners, cut off at two places."""

    def at(place: float) -> float:
        for (x1, r1), (x2, r2) in itertools.pairwise(corners):
            if x1 <= place <= x2:
                return r1 + (r2 - r1) * (place - x1) / (x2 - x1) if x2 > x1 else r1
        return corners[-1][1]

    return [(start, at(start)), *(corner for corner in corners if start < corner[0] < stop), (stop, at(stop))]
