"""The profile cut: beads, coves, tapers and so on in a row.

This module owns an outline turned on the outside, with the tenons that are part of it,
and an outline taken the other way round.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from handouts_build.workpiece.cut import BaseCut, Here, Removal
from handouts_build.workpiece.cuts.turned import around, stub_axis
from handouts_build.workpiece.declared import flag, length, outline
from handouts_build.workpiece.faults import positive
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.holds import End
from handouts_build.workpiece.regions import checked, thinned
from handouts_build.workpiece.solid import Outline

__all__ = ["ProfileCut", "Stub", "other_way"]


@dataclass(frozen=True)
class Stub:
    """A stretch of a profile that serves as a tenon."""

    name: str
    start_mm: float
    """On the profile."""
    end_mm: float
    diameter_mm: float
    end: End
    """Toward which end it points."""

    def other_way(self, long_mm: float) -> Stub:
        """The same on the profile turned end for end; `long_mm` is the profile's length."""
        start, stop = long_mm - self.end_mm, long_mm - self.start_mm
        end = End.LEFT if (start + stop) / 2 < long_mm / 2 else End.RIGHT
        return replace(self, start_mm=start, end_mm=stop, end=end)


def other_way(points: Outline) -> tuple[tuple[float, float], ...]:
    """An outline, (place, radius) from nought, turned end for end."""
    long = points[-1][0]
    return tuple((long - place, radius) for place, radius in reversed(points))


@dataclass(frozen=True, kw_only=True)
class ProfileCut(BaseCut):
    """Turn a profile of beads, coves, tapers and so on.

    Its tenons can be held by, and put into holes, by the name that `says` gives them.
    """

    word: ClassVar[str] = "profile"

    points_mm: tuple[tuple[float, float], ...] = outline(
        "The profile, by its name under `profiles`.", word="shape", example="drop_shape", tenons="stubs"
    )
    """(place, radius), places growing; a shoulder is two points at one place."""
    at_mm: float = length(
        "Where it begins, from the left end of the blank; 0 in if not given.", example="1 in", default=0.0
    )
    reversed: bool = flag("Whether its first end is at the right.", example="true")
    keep_left_mm: float = length(
        "Diameter of the stub left standing where it runs down to the axis in its left half.",
        example="3/8 in",
        default=0.0,
    )
    keep_right_mm: float = length("The same in its right half.", example="3/8 in", default=0.0)
    stubs: tuple[Stub, ...] = ()
    """The profile's own tenons, as it is drawn."""

    @property
    def outline_mm(self) -> Outline:
        """The profile as it is turned: the way round that is said, and no thinner than its stubs."""
        points = other_way(self.points_mm) if self.reversed else self.points_mm
        if not points or not (self.keep_left_mm or self.keep_right_mm):
            return points
        middle = points[-1][0] / 2
        left, right = self.keep_left_mm / 2, self.keep_right_mm / 2
        return tuple((place, max(radius, left if place < middle else right)) for place, radius in points)

    @property
    def outline_at_mm(self) -> float:
        """Where the profile begins."""
        return self.at_mm

    def removal(self, here: Here) -> Removal:
        """All outside the profile, over its length."""
        points = checked([(place + self.at_mm, radius) for place, radius in self.outline_mm], "the profile")
        here.fits(points[0][0], points[-1][0], "the profile")
        features = []
        for drawn in self.stubs:
            stub = drawn.other_way(self.points_mm[-1][0]) if self.reversed else drawn
            shoulder, tip = (stub.start_mm, stub.end_mm) if stub.end is End.RIGHT else (stub.end_mm, stub.start_mm)
            positive(stub.diameter_mm, "the tenon's diameter")
            positive(abs(tip - shoulder), "the tenon's length")
            axis = stub_axis(self.at_mm + shoulder, stub.end)
            features.append(Feature(stub.name, FeatureKind.TENON, axis, stub.diameter_mm, abs(tip - shoulder)))
        return Removal(around(thinned(points), here), features=tuple(features))
