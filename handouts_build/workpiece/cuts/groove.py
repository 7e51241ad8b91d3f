"""Grooves around the axis."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from handouts_build.workpiece.cut import BaseCut, Here, Nature, Removal
from handouts_build.workpiece.cuts.turned import stub_axis
from handouts_build.workpiece.cuts.words import AT
from handouts_build.workpiece.declared import length
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.holds import End
from handouts_build.workpiece.solid import Solid

__all__ = ["Groove"]


@dataclass(frozen=True, kw_only=True)
class Groove(BaseCut):
    """Cut a flat-floored groove around the axis."""

    word: ClassVar[str] = "groove"
    nature: ClassVar[Nature] = Nature.INSIDE

    at_mm: float = length(AT, example="0 in")
    wide_mm: float = length("Its width.", example="groove_wide", noun="width", above_nought=True)
    floor_mm: float = length("Distance of its floor from the axis.", example="floor", above_nought=True)

    def removal(self, here: Here) -> Removal:
        """All outside the floor, over its width."""
        start, end = here.span(self.at_mm - self.wide_mm / 2, self.at_mm + self.wide_mm / 2)
        far = max(here.beyond_mm, self.floor_mm + 1)
        region = [(start, self.floor_mm), (end, self.floor_mm), (end, far), (start, far)]
        axis = stub_axis(self.at_mm, End.RIGHT)
        feature = Feature(self.name, FeatureKind.GROOVE, axis, 2 * self.floor_mm, self.wide_mm)
        return Removal(Solid.turned(region, segments=here.segments), features=(feature,))
