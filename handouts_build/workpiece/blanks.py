"""The stock a part is cut from, as a solid.

This module owns blanks. The blank's axis is z from 0 to its length. It leaves wood,
weight and price to others.
"""

from __future__ import annotations

import enum
import math
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from handouts_build.workpiece.faults import WorkpieceFault, count_within, positive, said
from handouts_build.workpiece.solid import Solid

__all__ = ["OPENING", "Blank", "Board", "Branch", "GluedRing", "Grain", "Round", "Square", "Staves"]


OPENING = "opening"
"""What the hole through a glued-up ring or tube is called."""
_ASIDE_MM = 0.0137
_SKIN_MM = 0.2
"""Less than this over the bark's inner face is what drawing a circle with straight sides leaves."""


class Grain(enum.Enum):
    """How the fibers run."""

    ALONG = "along the axis"
    """As in a spindle."""
    ACROSS = "across the axis"
    """As in a bowl from a board."""
    AROUND = "around the axis"
    """As in a ring of segments."""


@dataclass(frozen=True, kw_only=True)
class Round:
    """A round stick."""

    diameter_mm: float
    long_mm: float
    grain: Grain = Grain.ALONG

    def solid(self, *, segments: int) -> Solid:
        """Its solid."""
        _sizes(diameter=self.diameter_mm, length=self.long_mm)
        return Solid.cylinder(radius_mm=self.diameter_mm / 2, start_mm=0, end_mm=self.long_mm, segments=segments)


@dataclass(frozen=True, kw_only=True)
class Square:
    """A square stick."""

    side_mm: float
    long_mm: float
    grain: Grain = Grain.ALONG

    def solid(self, *, segments: int) -> Solid:
        """Its solid; it has no round to draw."""
        del segments
        _sizes(side=self.side_mm, length=self.long_mm)
        return _block(self.side_mm, self.side_mm, self.long_mm)


@dataclass(frozen=True, kw_only=True)
class Board:
    """A piece of board; the lathe's axis runs through its length as given here."""

    wide_mm: float
    """Along x."""
    thick_mm: float
    """Along y."""
    long_mm: float
    """Along the axis: for a bowl, this is the board's thickness."""
    grain: Grain = Grain.ACROSS

    def solid(self, *, segments: int) -> Solid:
        """Its solid; it has no round to draw."""
        del segments
        _sizes(width=self.wide_mm, thickness=self.thick_mm, length=self.long_mm)
        return _block(self.wide_mm, self.thick_mm, self.long_mm)


@dataclass(frozen=True, kw_only=True)
class Branch:
    """A length of branch with its bark on."""

    diameter_mm: float
    """Over the bark."""
    long_mm: float
    bark_mm: float = 0.0
    """Thickness of the bark."""
    pith_mm: float = 0.0
    """How far the pith lies from the axis."""
    pith_deg: float = 0.0
    """Angle at which it lies."""
    grain: Grain = Grain.ALONG

    def solid(self, *, segments: int) -> Solid:
        """Its solid, bark and all."""
        _sizes(diameter=self.diameter_mm, length=self.long_mm)
        if not 0 <= self.bark_mm < self.diameter_mm / 2:
            raise WorkpieceFault(f"bark {said(self.bark_mm)} thick", "give less than half the branch's diameter")
        if not 0 <= self.pith_mm < self.diameter_mm / 2:
            raise WorkpieceFault(f"the pith lies {said(self.pith_mm)} off", "give less than half the diameter")
        return Solid.cylinder(radius_mm=self.diameter_mm / 2, start_mm=0, end_mm=self.long_mm, segments=segments)

    @property
    def wood_diameter_mm(self) -> float:
        """Under the bark, mm."""
        return self.diameter_mm - 2 * self.bark_mm

    def pith_left_mm(self, wood: Solid) -> float:
        """How long the pith is that runs in the wood, mm."""
        x, y = self.pith_at_mm
        # A hair aside: a line through a row of corners may miss the faces between them.
        start, end = (np.array([x + _ASIDE_MM, y + 2 * _ASIDE_MM, place]) for place in (-1.0, self.long_mm + 1.0))
        met = [distance for distance, _ in wood.hits(start, end)]
        return sum(out - into for into, out in zip(met[::2], met[1::2], strict=False))

    def bark_left_mm3(self, wood: Solid) -> float:
        """How much of the wood is bark, mm³."""
        low, high = wood.box_mm[2] - 1, wood.box_mm[5] + 1
        radius = self.wood_diameter_mm / 2
        # As round as the blank itself, so that no sliver is left where the bark is gone.
        inner = Solid.cylinder(radius_mm=radius + _SKIN_MM, start_mm=low, end_mm=high, segments=96)
        return (wood - inner).volume_mm3 if self.bark_mm > 0 else 0.0

    @property
    def pith_at_mm(self) -> tuple[float, float]:
        """Where the pith runs: x and y, mm."""
        angle = math.radians(self.pith_deg)
        return self.pith_mm * math.cos(angle), self.pith_mm * math.sin(angle)


@dataclass(frozen=True, kw_only=True)
class _Glued:
    """Straight pieces mitered into a ring: flat outside and inside as it comes from the clamps."""

    pieces: int
    across_mm: float
    """Outside, from flat to flat."""
    inside_mm: float
    """Inside, from flat to flat."""
    long_mm: float
    """Along the axis."""

    def solid(self, *, segments: int) -> Solid:
        """Its solid; volume n tan(180°/n) times the squares of the half widths."""
        del segments
        count_within(self.pieces, "pieces in a ring", least=3, most=180)
        _sizes(width=self.across_mm, opening=self.inside_mm, length=self.long_mm)
        if self.inside_mm >= self.across_mm:
            raise WorkpieceFault(
                f"a ring {said(self.across_mm)} across with an opening of {said(self.inside_mm)}",
                "make the opening smaller than the ring",
            )
        outlines = [_polygon(self.pieces, across) for across in (self.across_mm, self.inside_mm)]
        return Solid.prism(outlines, start_mm=0, end_mm=self.long_mm)

    def opening(self, *, over_mm: float = 0.0) -> Solid:
        """The air within it, from end to end and as much farther as told."""
        outline = _polygon(self.pieces, self.inside_mm)
        return Solid.prism([outline], start_mm=-over_mm, end_mm=self.long_mm + over_mm)


@dataclass(frozen=True, kw_only=True)
class GluedRing(_Glued):
    """A ring of mitered segments."""

    grain: Grain = Grain.AROUND


@dataclass(frozen=True, kw_only=True)
class Staves(_Glued):
    """A tube of beveled staves."""

    grain: Grain = Grain.ALONG


Blank: TypeAlias = Round | Square | Board | Branch | GluedRing | Staves


def _block(wide: float, thick: float, long: float) -> Solid:
    x, y = wide / 2, thick / 2
    return Solid.prism([[(-x, -y), (x, -y), (x, y), (-x, y)]], start_mm=0, end_mm=long)


def _polygon(sides: int, across: float) -> list[tuple[float, float]]:
    """A regular polygon by the width between its flats (or between a flat and the corner circle's other side)."""
    radius = across / 2 / math.cos(math.pi / sides)
    angles = [(2 * one + 1) * math.pi / sides for one in range(sides)]
    return [(radius * math.cos(angle), radius * math.sin(angle)) for angle in angles]


def _sizes(**sizes: float) -> None:
    for called, value in sizes.items():
        positive(value, f"the blank's {called}")
