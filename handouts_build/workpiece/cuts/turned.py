"""Cuts that shape the outside of turning wood: cylinder, facets, ball, tenon.

This module owns them. Profiles are in `profile`, cutting through is in `parting`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from handouts_build.workpiece.axes import Axis
from handouts_build.workpiece.cut import BaseCut, Here, Removal
from handouts_build.workpiece.cuts.words import AT, DOVETAIL, START, STOP
from handouts_build.workpiece.declared import angle, choice, count, length
from handouts_build.workpiece.faults import MOST_DOVETAIL_DEG, MOST_FLATS, WorkpieceFault, said
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.holds import End
from handouts_build.workpiece.regions import ball_outline, facet_outline, outside, with_stubs
from handouts_build.workpiece.solid import Outline, Solid

__all__ = ["Ball", "Cylinder", "Facets", "Tenon", "around", "leaning_mm", "stub_axis"]


def stub_axis(place_mm: float, end: End) -> Axis:
    """An axis on the lathe's.

    Args:
        place_mm: Where it begins, along the lathe's axis.
        end: The end toward which it points.
    """
    return Axis((0.0, 0.0, place_mm), (0.0, 0.0, -1.0 if end is End.LEFT else 1.0), (1.0, 0.0, 0.0))


def around(points: Outline, here: Here) -> Solid:
    """All outside an outline, over its length.

    Args:
        points: (place, radius), mm, places growing.
        here: The wood that it is to reach past.
    """
    return Solid.turned(outside(points, reach_mm=here.beyond_mm), segments=here.segments)


@dataclass(frozen=True, kw_only=True)
class Cylinder(BaseCut):
    """Turn to one diameter."""

    word: ClassVar[str] = "cylinder"

    diameter_mm: float = length("The diameter.", example="ball", above_nought=True)
    start_mm: float | None = length(START, example="1 in", default=None)
    end_mm: float | None = length(STOP, example="3 in", default=None)

    def removal(self, here: Here) -> Removal:
        """All outside the diameter."""
        start, end = here.span(self.start_mm, self.end_mm)
        return Removal(around([(start, self.diameter_mm / 2), (end, self.diameter_mm / 2)], here))


@dataclass(frozen=True, kw_only=True)
class _AboutMiddle(BaseCut):
    """A shape about a middle, with a stub kept at either end."""

    def _removed(
        self,
        points: Outline,
        here: Here,
        called: str,
        *,
        diameter_mm: float,
        at_mm: float,
        keep_mm: tuple[float, float],
    ) -> Removal:
        half = diameter_mm / 2
        here.fits(at_mm - half, at_mm + half, called)
        for keep in keep_mm:
            if not 0 <= keep < diameter_mm:
                raise WorkpieceFault(
                    f"a stub {said(keep)} across is kept on {called} of {said(diameter_mm)}",
                    "keep less than the whole diameter",
                )
        left, right = keep_mm
        kept = with_stubs(points, at_mm=at_mm, left_mm=left / 2, right_mm=right / 2)
        return Removal(around(kept, here))


_KEEP_LEFT = "Diameter of the stub left standing at its left end."
_KEEP_RIGHT = "The same at its right end."


@dataclass(frozen=True, kw_only=True)
class Facets(_AboutMiddle):
    """Cut the corners off a cylinder: flats about a ball to be."""

    word: ClassVar[str] = "facets"

    flats: int = count("How many there would be all around: 8, 16 or 32.", example="8")
    diameter_mm: float = length("Diameter of the ball to be.", example="ball", above_nought=True)
    at_mm: float = length(AT, example="middle")
    keep_left_mm: float = length(_KEEP_LEFT, example="tenon", default=0.0)
    keep_right_mm: float = length(_KEEP_RIGHT, example="tenon", default=0.0)

    def removal(self, here: Here) -> Removal:
        """All outside the flats, over the length of the ball to be."""
        if self.flats % 4 or not 8 <= self.flats <= MOST_FLATS:
            raise WorkpieceFault(f"{self.flats} flats", f"give 8, 16 or 32 (a multiple of 4 up to {MOST_FLATS})")
        points = facet_outline(self.flats, diameter_mm=self.diameter_mm, at_mm=self.at_mm)
        keep = (self.keep_left_mm, self.keep_right_mm)
        return self._removed(
            points, here, "the row of facets", diameter_mm=self.diameter_mm, at_mm=self.at_mm, keep_mm=keep
        )


@dataclass(frozen=True, kw_only=True)
class Ball(_AboutMiddle):
    """Turn a ball."""

    word: ClassVar[str] = "ball"

    diameter_mm: float = length("Its diameter.", example="ball", above_nought=True)
    at_mm: float = length(AT, example="middle")
    keep_left_mm: float = length(_KEEP_LEFT, example="tenon", default=0.0)
    keep_right_mm: float = length(_KEEP_RIGHT, example="tenon", default=0.0)

    def removal(self, here: Here) -> Removal:
        """All outside the ball, over its length."""
        if self.diameter_mm > 2.002 * here.radius_mm + 0.1:
            raise WorkpieceFault(
                f"a ball of {said(self.diameter_mm)} does not come from wood {said(2 * here.radius_mm)} across",
                "make the ball smaller or the blank larger",
            )
        fineness = max(2, round(here.segments / 32))
        points = ball_outline(diameter_mm=self.diameter_mm, at_mm=self.at_mm, fineness=fineness)
        keep = (self.keep_left_mm, self.keep_right_mm)
        return self._removed(points, here, "the ball", diameter_mm=self.diameter_mm, at_mm=self.at_mm, keep_mm=keep)


@dataclass(frozen=True, kw_only=True)
class Tenon(BaseCut):
    """Turn a round stub, to hold by or to fit a hole."""

    word: ClassVar[str] = "tenon"

    diameter_mm: float = length("Its diameter.", example="7/8 in", above_nought=True)
    long_mm: float = length("Its length.", example="3/8 in", noun="length", above_nought=True)
    end: End = choice("The end toward which it points, `left` (headstock) or `right`.", End, example="right")
    shoulder_mm: float | None = length(
        "Where its shoulder is; its length from the wood's end if not given.", default=None
    )
    dovetail_deg: float = angle(DOVETAIL.format("narrower toward its shoulder"), example="8 deg", default=0.0)

    def removal(self, here: Here) -> Removal:
        """All outside it, from the shoulder to its end."""
        sign = -1.0 if self.end is End.LEFT else 1.0
        tip = here.low_mm if self.end is End.LEFT else here.high_mm
        shoulder = tip - sign * self.long_mm if self.shoulder_mm is None else self.shoulder_mm
        stop = shoulder + sign * self.long_mm
        start, end = here.span(min(shoulder, stop), max(shoulder, stop))
        here.fits(start, end, "the tenon")
        # Past the wood's end where the tenon ends with it, so that no skin is left.
        if abs(stop - tip) < 1e-6:
            start, end = (here.before_mm, end) if self.end is End.LEFT else (start, here.after_mm)
        feature = Feature(
            self.name, FeatureKind.TENON, stub_axis(shoulder, self.end), self.diameter_mm, self.long_mm,
            dovetail_deg=self.dovetail_deg,
        )  # fmt: skip
        neck = self.diameter_mm / 2 - leaning_mm(self.long_mm, self.dovetail_deg)
        if neck <= 0:
            raise WorkpieceFault(
                f"a dovetail of {self.dovetail_deg:g}° leaves nothing at the tenon's shoulder",
                "give a smaller angle, such as 8 deg, or a shorter tenon",
            )
        sides = [(start, self.diameter_mm / 2), (end, self.diameter_mm / 2)]
        if self.dovetail_deg:
            sides[sides[0][0] != shoulder] = (shoulder, neck)
            sides = sorted({*sides, (stop, self.diameter_mm / 2)})
        return Removal(around(sides, here), features=(feature,))


def leaning_mm(long_mm: float, dovetail_deg: float) -> float:
    """How far the side of a dovetail leans over its length, mm.

    Args:
        long_mm: Its length, mm.
        dovetail_deg: Its angle, degrees; nought where it is straight.

    Raises:
        WorkpieceFault: If it is no angle that jaws have.
    """
    if not 0 <= dovetail_deg <= MOST_DOVETAIL_DEG:
        raise WorkpieceFault(
            f"a dovetail of {dovetail_deg:g}°", f"give the angle of the jaws, from 0 to {MOST_DOVETAIL_DEG:g} deg"
        )
    return long_mm * math.tan(math.radians(dovetail_deg))
