"""Parting off: a cut right through, and what falls away with it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from handouts_build.workpiece.cut import BaseCut, Here, Removal
from handouts_build.workpiece.cuts.turned import stub_axis
from handouts_build.workpiece.declared import choice, length
from handouts_build.workpiece.faults import WorkpieceFault, said
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.holds import End
from handouts_build.workpiece.solid import Solid

__all__ = ["PartOff"]


@dataclass(frozen=True, kw_only=True)
class PartOff(BaseCut):
    """Cut through; what is not kept falls away."""

    word: ClassVar[str] = "part off"
    unnamed: ClassVar[str] = "parting cut"
    needs_lathe: ClassVar[bool] = False  # a saw does it as well
    parts: ClassVar[bool] = True

    at_mm: float = length("The face that is left.", example="4 in")
    keep: End = choice("The side that is kept.", End, example="right")
    kerf_mm: float = length(
        "Width of the cut, on the side that falls away; 3 mm if not given.", default=3.0, above_nought=True
    )

    @property
    def kerf_from_to_mm(self) -> tuple[float, float]:
        """Between which places along the axis the tool cuts, the lesser first."""
        other = self.at_mm + (self.kerf_mm if self.keep is End.LEFT else -self.kerf_mm)
        return min(self.at_mm, other), max(self.at_mm, other)

    def removal(self, here: Here) -> Removal:
        """The kerf, and the waste beyond it."""
        left = self.keep is End.LEFT
        start, end = here.span(self.at_mm, None) if left else here.span(None, self.at_mm)
        if (left and start <= here.low_mm) or (not left and end >= here.high_mm):
            raise WorkpieceFault(
                f"parting off at {said(self.at_mm)} leaves no wood",
                f"the wood now runs from {said(here.low_mm)} to {said(here.high_mm)}",
            )
        edge = self.at_mm + self.kerf_mm if left else self.at_mm - self.kerf_mm

        def slab(first: float, second: float) -> Solid:
            low, high = min(first, second), max(first, second)
            return Solid.cylinder(radius_mm=here.beyond_mm, start_mm=low, end_mm=high, segments=here.segments)

        far = here.after_mm if left else here.before_mm
        waste = slab(edge, far) if (edge < far if left else edge > far) else None
        inward = stub_axis(self.at_mm, self.keep)
        (radius,) = here.surface_mm(at_mm=self.at_mm - math.copysign(0.01, edge - self.at_mm), angles_rad=[0.3])
        features = (Feature(self.name, FeatureKind.FACE, inward, 2 * radius, 0.0),) if radius else ()
        return Removal(slab(start, end), features=features, waste=waste)
