"""A captive ring: cut free of the stem it is on, and loose on it from then on."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from handouts_build.workpiece.cut import BaseCut, Here, LooseRing, Removal
from handouts_build.workpiece.cuts.turned import stub_axis
from handouts_build.workpiece.cuts.words import AT
from handouts_build.workpiece.declared import length
from handouts_build.workpiece.faults import WorkpieceFault, said
from handouts_build.workpiece.holds import End
from handouts_build.workpiece.regions import outside
from handouts_build.workpiece.solid import Solid

__all__ = ["CaptiveRing"]

_CHORDS = 28
"""Chords to the section of a ring."""
_SHORT_MM = 0.3
"""Wood that is smaller than the ring by less is found under its last skin."""


@dataclass(frozen=True, kw_only=True)
class CaptiveRing(BaseCut):
    """Cut a ring free of the stem that it stays on.

    The wood on both sides of it goes, and the wood under it down to the stem. The ring goes on with the work.
    """

    word: ClassVar[str] = "captive ring"

    at_mm: float = length(AT, example="2 in")
    wide_mm: float = length("Its width, along the axis.", example="5/16 in", noun="width", above_nought=True)
    diameter_mm: float = length("Its outside diameter.", example="1 1/2 in", above_nought=True)
    bore_mm: float = length("The diameter of its hole.", example="1 in", above_nought=True)
    stem_mm: float = length(
        "Diameter of the stem that is left under it.", example="3/4 in", noun="stem", above_nought=True
    )
    room_mm: float = length(
        "How wide the wood is cut away on each side of it; 1/8 in if not given.",
        example="3/16 in",
        default=25.4 / 8,
        noun="room",
        above_nought=True,
    )

    def removal(self, here: Here) -> Removal:
        """All around the stem but the ring."""
        if self.bore_mm >= self.diameter_mm:
            raise WorkpieceFault(
                f"a ring {said(self.diameter_mm)} across has no room for a hole of {said(self.bore_mm)}",
                "make its hole smaller or the ring larger",
            )
        if self.stem_mm >= self.bore_mm:
            raise WorkpieceFault(
                f"the ring's hole of {said(self.bore_mm)} is no wider than the stem of {said(self.stem_mm)}: "
                "it is never free",
                "make the stem thinner, or the ring's hole wider",
            )
        half = self.wide_mm / 2
        here.fits(self.at_mm - half - self.room_mm, self.at_mm + half + self.room_mm, "the ring")
        turns = [2 * math.pi * (index + 0.5) / 24 for index in range(24)]
        there = [radius or 0.0 for radius in here.surface_mm(at_mm=self.at_mm, angles_rad=turns)]
        if min(there) < self.diameter_mm / 2 - _SHORT_MM:
            raise WorkpieceFault(
                f"the ring is {said(self.diameter_mm)} across, and the wood there only {said(2 * min(there))}",
                "make the ring smaller, or leave the wood thicker where it is cut",
            )
        middle, thick = (self.bore_mm + self.diameter_mm) / 4, (self.diameter_mm - self.bore_mm) / 4
        section = [
            (self.at_mm + half * math.cos(turn), middle + thick * math.sin(turn))
            for turn in (2 * math.pi * index / _CHORDS for index in range(_CHORDS))
        ]
        ring = Solid.turned(section, segments=here.segments)
        start, end = self.at_mm - half - self.room_mm, self.at_mm + half + self.room_mm
        stem = [(start, self.stem_mm / 2), (end, self.stem_mm / 2)]
        around = Solid.turned(outside(stem, reach_mm=here.beyond_mm), segments=here.segments)
        loose = LooseRing(self.name, ring, stub_axis(self.at_mm, End.RIGHT), self.bore_mm, self.wide_mm)
        return Removal(around - ring, loose=loose)
