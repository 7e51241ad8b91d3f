"""Screw threads in wood: the one in a lid, and the one on a box.

This module owns both. They are drawn as rings, whose section is the thread's.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from handouts_build.workpiece.axes import PART_AXIS
from handouts_build.workpiece.cut import BaseCut, Here, Nature, Removal
from handouts_build.workpiece.cuts.probes import probe_of
from handouts_build.workpiece.cuts.turned import around
from handouts_build.workpiece.declared import count, length, thing
from handouts_build.workpiece.faults import WorkpieceFault, positive, said
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.holds import feature_named
from handouts_build.workpiece.measures import radial_crossings
from handouts_build.workpiece.regions import inside
from handouts_build.workpiece.solid import Solid
from handouts_build.workpiece.threads import ThreadForm

__all__ = ["InsideThread", "OutsideThread"]

_INCH_MM = 25.4
_MOUTH_MM = 1.0
_AROUND = np.radians(np.arange(12) * 30.0 + 0.37)


@dataclass(frozen=True, kw_only=True)
class _Thread(BaseCut):
    """What both threads are told."""

    operation: ClassVar[str] = "threading"

    pitch_mm: float | None = length(
        "From one ridge to the next; or say the threads per inch.",
        example="1/16 in",
        default=None,
        above_nought=True,
    )
    per_inch: int | None = count("Threads per inch, where no pitch is given.", default=None, word="per inch")
    depth_mm: float | None = length(
        "Depth of one side; 0.541 of the pitch if not given, as the basic profile of ISO 68-1 has it.",
        example="1 mm",
        default=None,
        above_nought=True,
    )
    relief_mm: float = length(
        "Width of the groove at its inner end, in which the tool runs out; none if not given.",
        example="1/8 in",
        default=0.0,
    )
    starts: int = count("How many threads run side by side; 1 if not given.", default=1)

    @classmethod
    def misfit(cls, given: Collection[str]) -> tuple[str, str] | None:
        """A pitch, or threads per inch."""
        if {"pitch", "per inch"} <= set(given):
            return "the pitch is given twice, as a length and as threads per inch", "keep one of pitch and per inch"
        if {"pitch", "per inch"}.isdisjoint(given):
            return "a thread needs a pitch", "write pitch: 1/16 in, or per inch: 16"
        return None

    def _form(self, *, inside: bool, long_mm: float) -> ThreadForm:
        """Its form, if a tool can cut it over a length."""
        if self.per_inch is not None:
            positive(self.per_inch, "the threads per inch")
        pitch = self.pitch_mm if self.pitch_mm is not None else _INCH_MM / (self.per_inch or 1)
        depth = ThreadForm.basic_depth_mm(pitch) if self.depth_mm is None else self.depth_mm
        form = ThreadForm(pitch, depth, self.starts, self.relief_mm, inside)
        form.checked(long_mm)
        return form


@dataclass(frozen=True, kw_only=True)
class InsideThread(_Thread):
    """Cut a thread into the wall of a hole that is there: that of a lid.

    The hole is turned first, to the thread's minor diameter.
    """

    word: ClassVar[str] = "inside thread"
    nature: ClassVar[Nature] = Nature.INSIDE
    hollows: ClassVar[bool] = True

    hole: str = thing("The hole, by name; its diameter is the thread's minor one.", example="seat")
    long_mm: float | None = length(
        "How far in it ends, the relief too; at the hole's floor if not given.",
        example="3/8 in",
        default=None,
        noun="length",
        above_nought=True,
    )

    def removal(self, here: Here) -> Removal:
        """The rings, and the relief behind them."""
        hole = feature_named(self.hole, here.features)
        if not hole.hollow or hole.thread is not None:
            raise WorkpieceFault(f"'{self.hole}' is no plain hole", "name a recess, a bore or a hollow")
        long = hole.long_mm if self.long_mm is None else self.long_mm
        if long > hole.long_mm + 1e-6:
            raise WorkpieceFault(
                f"the thread ends {said(long)} in, and '{self.hole}' is {said(hole.long_mm)} deep",
                "make the hole deeper or the thread shorter",
            )
        form = self._form(inside=True, long_mm=long)
        minor = hole.diameter_mm / 2
        thin = min((out - into for into, out in _walls(here.wood.seen_from(hole.axis), long)), default=0.0)
        if thin <= form.depth_mm:
            raise WorkpieceFault(
                f"the thread is {said(form.depth_mm)} deep, and the wall around '{self.hole}' only {said(thin)} thick",
                "leave more wood around the hole, or cut a finer thread",
            )
        points = form.outline(minor_mm=minor, long_mm=long)
        # Out through the mouth, so that no skin is left over it.
        shape = [(-_MOUTH_MM, minor), (0.0, minor), *points]
        body = Solid.turned(inside(shape), segments=here.segments)
        major = 2 * (minor + form.depth_mm)
        feature = Feature(
            self.name, FeatureKind.RECESS, PART_AXIS, major, long, through=hole.through and self.long_mm is None,
            thread=form,
        )  # fmt: skip
        return Removal(
            body, features=(feature,), probes=(probe_of(feature),), axis=hole.axis, of=self.hole, ridged=True
        )


@dataclass(frozen=True, kw_only=True)
class OutsideThread(_Thread):
    """Cut a thread on a tenon that is there: that of a box.

    The tenon is turned first, to the thread's major diameter, which is a little less than the lid's.
    """

    word: ClassVar[str] = "outside thread"

    tenon: str = thing("The tenon, by name; its diameter is the thread's major one.", example="spigot")

    def removal(self, here: Here) -> Removal:
        """All outside the rings, from the shoulder to the tenon's end."""
        tenon = feature_named(self.tenon, here.features)
        if tenon.kind is not FeatureKind.TENON or tenon.thread is not None:
            raise WorkpieceFault(f"'{self.tenon}' is no plain tenon", "name a tenon that an earlier cut turns")
        form = self._form(inside=False, long_mm=tenon.long_mm)
        minor = tenon.diameter_mm / 2 - form.depth_mm
        if minor <= 0:
            raise WorkpieceFault(
                f"a thread {said(form.depth_mm)} deep on a tenon of {said(tenon.diameter_mm)} leaves nothing",
                "give a finer pitch or a thicker tenon",
            )
        thin = min((out - into for into, out in _walls(here.wood.seen_from(tenon.axis), tenon.long_mm)), default=minor)
        if thin <= form.depth_mm:
            raise WorkpieceFault(
                f"the thread is {said(form.depth_mm)} deep, and the wall of '{self.tenon}' only {said(thin)} thick",
                "leave more wood within the tenon, or cut a finer thread",
            )
        points = form.outline(minor_mm=minor, long_mm=tenon.long_mm)
        shape = [*points, (tenon.long_mm + _MOUTH_MM, points[-1][1])]
        feature = Feature(
            self.name, FeatureKind.TENON, PART_AXIS, tenon.diameter_mm, tenon.long_mm, thread=form,
        )  # fmt: skip
        return Removal(around(shape, here), features=(feature,), axis=tenon.axis, of=self.tenon, ridged=True)


def _walls(wood: Solid, long_mm: float) -> Iterator[tuple[float, float]]:
    """Where the wood around an axis begins and ends, mm from it, at some places and angles; nought in whole wood.

    Args:
        wood: Seen from the axis.
        long_mm: Between which place and nought it is looked at.
    """
    for place in np.linspace(0.04, 0.96, 7) * long_mm:
        for radii in radial_crossings(wood.section(float(place)), _AROUND):
            edges = [0.0, *map(float, radii)] if len(radii) % 2 else list(map(float, radii))
            if edges:
                yield edges[0], edges[1]
