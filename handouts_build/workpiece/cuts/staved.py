"""The groove across the staves of a tube, sawn before they are glued, that a base is let into."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from handouts_build.workpiece.blanks import OPENING, regular_polygon
from handouts_build.workpiece.cut import BaseCut, Here, Nature, Removal
from handouts_build.workpiece.cuts.turned import stub_axis
from handouts_build.workpiece.declared import length
from handouts_build.workpiece.faults import WorkpieceFault, said
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.holds import End
from handouts_build.workpiece.measures import radial_crossings
from handouts_build.workpiece.solid import Solid

__all__ = ["StaveGroove"]

_ASIDE_RAD = 0.0137
"""How far beside the middle of a flat its wall is looked for: no edge of a section lies there."""


@dataclass(frozen=True, kw_only=True)
class StaveGroove(BaseCut):
    """Saw a groove across the inner face of each stave before they are glued, for a base that is let into it."""

    word: ClassVar[str] = "stave groove"
    nature: ClassVar[Nature] = Nature.INSIDE
    turned: ClassVar[bool] = False
    needs_lathe: ClassVar[bool] = False
    operation: ClassVar[str] = "sawing"

    at_mm: float = length("Its middle, from the left end of the blank.", example="3/4 in")
    wide_mm: float = length("Its width, along the axis.", example="3/8 in", noun="width", above_nought=True)
    deep_mm: float = length(
        "How deep it goes into each stave, level, where the opening is at its middle.", example="1/4 in", noun="depth",
        above_nought=True,
    )  # fmt: skip

    def removal(self, here: Here) -> Removal:
        """All within its floor, which is flat in each stave and stands upright."""
        sides = here.features[OPENING].sides if OPENING in here.features else 0
        if not sides:
            raise WorkpieceFault(
                "this part has no staves to saw a groove into",
                "give it a blank of staves; in a turned wall cut an inside groove",
            )
        start, end = here.span(self.at_mm - self.wide_mm / 2, self.at_mm + self.wide_mm / 2)
        here.fits(start, end, "the groove")
        turns = np.arange(sides) * 2 * math.pi / sides + _ASIDE_RAD
        lean = math.cos(_ASIDE_RAD)
        crossings = [radii * lean for radii in radial_crossings(here.local.section(self.at_mm), turns)]
        if any(len(radii) != 2 for radii in crossings):
            raise WorkpieceFault(
                f"the staves are not whole all around {said(self.at_mm)} from the left end",
                "saw the groove before anything else is cut there",
            )
        wall, out = max(float(radii[0]) for radii in crossings), min(float(radii[1]) for radii in crossings)
        floor = wall + self.deep_mm
        if floor >= out:
            raise WorkpieceFault(
                f"a groove {said(self.deep_mm)} deep goes through staves {said(out - wall)} thick",
                "make the groove shallower, a third of their thickness",
            )
        body = Solid.prism([regular_polygon(sides, 2 * floor)], start_mm=start, end_mm=end)
        feature = Feature(
            self.name, FeatureKind.GROOVE, stub_axis(start, End.RIGHT), 2 * floor, self.wide_mm, sides=sides
        )
        return Removal(body, features=(feature,), of=OPENING)
