"""The bead on a tenon by which a lid snaps on: it goes into a groove of the lid."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from handouts_build.workpiece.axes import PART_AXIS
from handouts_build.workpiece.cut import BaseCut, Here, Removal
from handouts_build.workpiece.cuts.turned import around
from handouts_build.workpiece.declared import length, thing
from handouts_build.workpiece.faults import WorkpieceFault, said
from handouts_build.workpiece.features import Bead, Feature, FeatureKind
from handouts_build.workpiece.holds import feature_named

__all__ = ["SnapBead"]

_CHORDS = 10
_PAST_MM = 1.0


@dataclass(frozen=True, kw_only=True)
class SnapBead(BaseCut):
    """Turn a tenon down on both sides of a small bead, by which a lid snaps on.

    The tenon is turned first, as thick as the bead.
    """

    word: ClassVar[str] = "snap bead"

    tenon: str = thing("The tenon, by name; its diameter is the bead's.", example="spigot")
    at_mm: float = length("Its middle, from the tenon's shoulder.", example="3/16 in", above_nought=True)
    wide_mm: float = length("Its width, along the axis.", example="1/16 in", noun="width", above_nought=True)
    stands_mm: float = length(
        "How far it stands out of the tenon, all around.", example="0.2 mm", noun="height", above_nought=True
    )

    def removal(self, here: Here) -> Removal:
        """All outside the tenon but the bead."""
        tenon = feature_named(self.tenon, here.features)
        if tenon.kind is not FeatureKind.TENON or tenon.thread is not None or tenon.bead is not None:
            raise WorkpieceFault(f"'{self.tenon}' is no plain tenon", "name a tenon that an earlier cut turns")
        start, end = self.at_mm - self.wide_mm / 2, self.at_mm + self.wide_mm / 2
        if start < 0 or end > tenon.long_mm:
            raise WorkpieceFault(
                f"the bead runs from {said(start)} to {said(end)}, and '{self.tenon}' is {said(tenon.long_mm)} long",
                "places count from the tenon's shoulder: keep it between the shoulder and the end",
            )
        low = tenon.diameter_mm / 2 - self.stands_mm
        if low <= 0:
            raise WorkpieceFault(
                f"a bead {said(self.stands_mm)} high leaves nothing of '{self.tenon}'", "make the bead lower"
            )
        turns = [math.pi * index / _CHORDS for index in range(_CHORDS + 1)]
        bead = [
            (self.at_mm - self.wide_mm / 2 * math.cos(turn), low + self.stands_mm * math.sin(turn)) for turn in turns
        ]
        points = [(0.0, low), *bead, (tenon.long_mm + _PAST_MM, low)]
        feature = Feature(
            self.name, FeatureKind.TENON, PART_AXIS, 2 * low, tenon.long_mm,
            bead=Bead(self.at_mm, self.wide_mm, self.stands_mm),
        )  # fmt: skip
        return Removal(around(points, here), features=(feature,), axis=tenon.axis, of=self.tenon)
