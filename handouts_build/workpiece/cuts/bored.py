"""Round holes about the axis the wood turns on: bores and recesses, and a hole made larger."""

from __future__ import annotations

import enum
from dataclasses import dataclass
from typing import ClassVar

from handouts_build.workpiece.axes import PART_AXIS
from handouts_build.workpiece.cut import BaseCut, Here, Nature, Removal
from handouts_build.workpiece.cuts.probes import probe_of
from handouts_build.workpiece.cuts.turned import leaning_mm, stub_axis
from handouts_build.workpiece.cuts.words import DEEP, DOVETAIL, FROM_END
from handouts_build.workpiece.declared import angle, choice, length, thing
from handouts_build.workpiece.faults import WorkpieceFault, positive, said
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.holds import End, feature_named
from handouts_build.workpiece.solid import Solid

__all__ = ["BitType", "Bore", "Enlarge", "Recess"]


class BitType(enum.Enum):
    """A kind of bit, by its name in the trade. How long its point is, is in the table of bits."""

    TWIST = "twist bit"
    """Its point is a cone: the floor of its hole is one."""
    BRAD_POINT = "brad point bit"
    FORSTNER = "Forstner bit"
    SPUR = "spur bit"
    SPADE = "spade bit"


def _sunk(
    here: Here, name: str, kind: FeatureKind, *, diameter_mm: float, end: End, deep_mm: float | None,
    from_mm: float | None, point: tuple[float, float] | None = None, dovetail_deg: float = 0.0,
) -> Removal:  # fmt: skip
    """A round hole along the axis from an end, to a depth or right through.

    Args:
        here: The wood.
        name: Of the feature.
        kind: Of the feature.
        diameter_mm: Of the hole.
        end: It is cut from.
        deep_mm: Its depth; none: right through.
        from_mm: The face its depth is measured from; none: where the tool first meets wood.
        point: How long the bit's point is, past the depth, and its width there, mm; none: the floor is flat.
        dovetail_deg: How far its wall leans out toward its floor, degrees.
    """
    radius = diameter_mm / 2
    left = end is End.LEFT
    mouth = here.mouth_mm(end, radius_mm=radius) if from_mm is None else from_mm
    sign = 1.0 if left else -1.0
    far = here.after_mm if left else here.before_mm
    stop = far if deep_mm is None else mouth + sign * deep_mm
    near = here.before_mm if left else here.after_mm
    low, high = here.span(min(near, stop), max(near, stop))
    body = Solid.cylinder(radius_mm=radius, start_mm=low, end_mm=high, segments=here.segments)
    if point is not None and deep_mm is not None:
        tip = [(stop, 0.0), (stop, point[1] / 2), (stop + sign * point[0], 0.0)]
        body = Solid.all_of([body, Solid.turned(tip, segments=here.segments)])
    floor = radius + leaning_mm(deep_mm or 0.0, dovetail_deg)
    if floor > radius:
        flare = [(mouth, 0.0), (mouth, radius), (stop, floor), (stop, 0.0)]
        body = Solid.all_of([body, Solid.turned(flare, segments=here.segments)])
    other = here.high_mm if left else here.low_mm
    long = abs(other - mouth) if deep_mm is None else deep_mm
    axis = stub_axis(mouth, End.RIGHT if left else End.LEFT)
    feature = Feature(name, kind, axis, diameter_mm, long, through=deep_mm is None, dovetail_deg=dovetail_deg)
    probe = probe_of(feature, point_mm=point[0] if point is not None else 0.0)
    return Removal(body, features=(feature,), probes=(probe,), depth_mm=long)


@dataclass(frozen=True, kw_only=True)
class Bore(BaseCut):
    """Drill or bore along the axis."""

    word: ClassVar[str] = "bore"
    nature: ClassVar[Nature] = Nature.INSIDE
    turned: ClassVar[bool] = False  # its tool is on the axis, where there is no air to cut
    along_axis: ClassVar[bool] = True
    drills: ClassVar[bool] = True

    diameter_mm: float = length("Its diameter.", example="3/4 in", above_nought=True)
    end: End = choice(FROM_END, End, example="left")
    deep_mm: float | None = length(DEEP, example="2 in", default=None, noun="depth", above_nought=True)
    from_mm: float | None = length(
        "The face it is measured from; where the bit first meets wood if not given.", default=None
    )
    bit_type: BitType | None = choice(
        "What kind of bit drills it: its point goes past the hole's depth, which is that at full width. The floor is "
        "flat if not given.",
        BitType,
        example="twist bit",
        default=None,
    )
    point_mm: float = 0.0
    """How long such a bit's point is, as the table of bits has it."""

    @property
    def bit_mm(self) -> float | None:
        """Its own diameter."""
        return self.diameter_mm

    @property
    def comes_out(self) -> bool:
        """Where it goes right through."""
        return self.deep_mm is None

    def removal(self, here: Here) -> Removal:
        """The hole."""
        return _sunk(
            here, self.name, FeatureKind.BORE,
            diameter_mm=self.diameter_mm, end=self.end, deep_mm=self.deep_mm, from_mm=self.from_mm, point=self._point,
        )  # fmt: skip

    @property
    def _point(self) -> tuple[float, float] | None:
        """Length of the bit's point and its width at the floor, mm; only a twist bit's is as wide as the hole."""
        if self.bit_type is None or self.point_mm <= 0:
            return None
        wide = self.diameter_mm if self.bit_type is BitType.TWIST else min(self.point_mm, self.diameter_mm / 2)
        return self.point_mm, wide


@dataclass(frozen=True, kw_only=True)
class Recess(BaseCut):
    """Turn a shallow round hole in a face."""

    word: ClassVar[str] = "recess"
    nature: ClassVar[Nature] = Nature.INSIDE
    hollows: ClassVar[bool] = True

    diameter_mm: float = length("Its diameter.", example="2 in", above_nought=True)
    deep_mm: float = length("Its depth.", example="3/16 in", noun="depth", above_nought=True)
    end: End = choice(FROM_END, End, example="right")
    from_mm: float | None = length(
        "The face it is measured from; where the tool first meets wood if not given.", default=None
    )
    dovetail_deg: float = angle(DOVETAIL.format("wider toward its floor"), example="8 deg", default=0.0)

    def removal(self, here: Here) -> Removal:
        """The recess."""
        return _sunk(
            here, self.name, FeatureKind.RECESS, diameter_mm=self.diameter_mm, end=self.end, deep_mm=self.deep_mm,
            from_mm=self.from_mm, dovetail_deg=self.dovetail_deg,
        )  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Enlarge(BaseCut):
    """Open a hole that is there to a larger diameter."""

    word: ClassVar[str] = "enlarge"
    unnamed: ClassVar[str] = "enlarged hole"
    nature: ClassVar[Nature] = Nature.INSIDE
    turned: ClassVar[bool] = False  # its tool runs in the hole
    needs_lathe: ClassVar[bool] = False
    drills: ClassVar[bool] = True

    hole: str = thing("The hole, by name.", example="bore")
    diameter_mm: float = length("Its new diameter.", example="1 in", above_nought=True)
    deep_mm: float | None = length(
        "How deep from its mouth; as deep as it is if not given.", default=None, noun="depth"
    )

    @property
    def bit_mm(self) -> float | None:
        """Its own diameter."""
        return self.diameter_mm

    def removal(self, here: Here) -> Removal:
        """The larger hole, on the axis of the one that is there."""
        feature = feature_named(self.hole, here.features)
        if not feature.hollow:
            raise WorkpieceFault(f"'{self.hole}' is no hole", "name a hole, a bore or a recess")
        if self.diameter_mm <= feature.diameter_mm:
            raise WorkpieceFault(f"'{self.hole}' is {said(feature.diameter_mm)} wide already", "give a larger diameter")
        through = feature.through and self.deep_mm is None
        long = feature.long_mm if self.deep_mm is None else self.deep_mm
        positive(long, "the hole's depth")
        out = here.beyond_mm + here.high_mm - here.low_mm
        body = Solid.cylinder(
            radius_mm=self.diameter_mm / 2,
            start_mm=-out,
            end_mm=long + out if through else long,
            segments=here.hole_segments if feature.kind is FeatureKind.HOLE else here.segments,
        )
        larger = Feature(self.name, feature.kind, PART_AXIS, self.diameter_mm, long, through=through)
        return Removal(
            body,
            features=(larger,),
            probes=(probe_of(larger),),
            depth_mm=long,
            axis=feature.axis,
            of=self.hole,
        )
