"""What a cut does to the hold it is made in.

This module owns the verdicts on cuts that take away what holds the wood, come from an
end that is held or where a center stands, let go of an end, or stand on a thin neck.
Whether the hold was sound as it was mounted is for `judge`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from handouts_build.workpiece.axes import Axis
from handouts_build.workpiece.cut import BaseCut, Made
from handouts_build.workpiece.cuts.parting import PartOff
from handouts_build.workpiece.features import Feature, ring_points
from handouts_build.workpiece.holds import (
    BaseHold,
    BetweenCenters,
    BetweenHoles,
    End,
    Faceplate,
    JamChuck,
    JawsOnBlank,
    held_end,
)
from handouts_build.workpiece.measures import held, outer_mm, radial_crossings
from handouts_build.workpiece.solid import Solid
from handouts_build.workpiece.verdicts import Code, Limits, Subject, Thing, Verdict, cut_named

__all__ = ["after", "lets_go"]

_BENEATH_MM = 1.0
"""Where the wood in bare jaws is measured, if nothing says how much of it is in them."""
_THINNER_MM = 0.2
"""Wood in bare jaws that gets thinner by less is dressed, not cut away."""
_PLACES = 12
_AROUND = np.radians(np.arange(48) * 7.5 + 0.03)
"""Angles at which the wood in a grip is measured, a hair beside corners and the middles of flats."""
_POINT_MM = 1.5
"""Radius within which a center bears on the wood. This and the next two: common practice, no published source."""
_CENTER_MM = 8.0
"""No tool comes nearer to the axis than this past a center that stands there."""
_INTO_MM = 1.0
"""A kerf that lies no deeper within the hold than this is made at the mouth of the hold."""
_IN_A_HOLE_MM = 5.0
"""How deep jaws that open in a hole are taken to stand in it: common practice, no published source."""
_RINGS = 32
_PLATED = 2 / 3
"""A plate that keeps less of the wood under it than this has lost its hold: common practice, no published source."""
_ALONG = 0.9
"""Cosine of the angle within which a hole runs along the axis."""


def lets_go(hold: BaseHold, cut: BaseCut) -> bool:
    """Whether a cut parts the wood from a center it turns on.

    Args:
        hold: In which it is made.
        cut: The cut.
    """
    return isinstance(hold, BetweenCenters | BetweenHoles) and cut.parts


@dataclass(frozen=True, eq=False)
class Mounted:
    """The wood in its hold, as a cut finds it and as it leaves it; ends are told along the hold's axis."""

    hold: BaseHold
    axis: Axis
    features: Mapping[str, Feature]
    """What earlier cuts made."""
    before: Solid
    after: Solid
    segments: int
    """Sides that a circle about an axis is drawn with."""

    @property
    def held_low(self) -> bool | None:
        """Whether places on the hold's axis are least at the held end; none where both ends are on centers."""
        end = held_end(self.hold, self.features)
        return None if end is None else (end is End.LEFT) is (self.axis.direction[2] >= 0)

    @property
    def centers(self) -> Iterator[tuple[bool, Subject]]:
        """Where centers stand: whether at the low end, and which."""
        if isinstance(self.hold, BetweenHoles):
            return
        held_low = self.held_low
        if held_low is None:
            drive_low = self.axis.direction[2] >= 0
            yield drive_low, Subject.DRIVE_CENTER
            yield not drive_low, Subject.TAIL_CENTER
        elif self.hold.supported:
            yield not held_low, Subject.TAIL_CENTER

    def inward(self, *, low: bool) -> Axis:
        """The axis from an end's outermost wood inward."""
        places = self.axis.to_lathe(self.before.vertices)[:, 2]
        return self.axis.moved(float(places.min())) if low else self.axis.moved(float(places.max()), turned=True)

    def kept(self, radii_mm: Sequence[float], *, low: bool) -> tuple[float, float]:
        """Share of the points on rings just beneath an end's face that are wood, before the cut and after it.

        Args:
            radii_mm: Of the rings, mm.
            low: Whether the end is the one where places on the hold's axis are least.

        Returns:
            Two shares, 0 to 1.
        """
        points = ring_points(self.inward(low=low), radii=list(radii_mm), places=[0.5, 1.0], around=16)
        return float(self.before.contains(points).mean()), float(self.after.contains(points).mean())


def after(
    hold: BaseHold, cut: BaseCut, new: Made, features: Mapping[str, Feature], axis: Axis, limits: Limits, *,
    begun: Solid, before: Solid, wood: Solid, segments: int, opened: Sequence[Feature] = (),
) -> Iterator[Verdict]:  # fmt: skip
    """What is wrong with a hold once a cut is made in it.

    Args:
        hold: The hold.
        cut: The cut as planned.
        new: The cut as made.
        features: What earlier cuts made.
        axis: The axis the hold turns on.
        limits: Where minding begins.
        begun: The wood as the step begins: a neck counts that an earlier step left.
        before: The wood before the cut.
        wood: What it leaves.
        segments: Sides that a circle about an axis is drawn with.
        opened: What the cut itself leaves, in part coordinates.
    """
    if new.chips.is_empty or not hold.turns:
        return
    mounted = Mounted(hold, axis, features, before, wood, segments)
    if cut.parts:
        if lets_go(hold, cut):
            yield _found(Code.PARTED_BETWEEN_CENTERS, new)
        elif isinstance(cut, PartOff) and (grips := _within_grip(mounted, *cut.kerf_from_to_mm)) is not None:
            yield _found(Code.CUTS_ITS_HOLD, new, grips, left=0.0)
        return
    seen: set[tuple[Code, tuple[Thing, ...]]] = set()
    for verdict in (*_cut_away(mounted, new, limits), *_reached(mounted, new, opened)):
        # What takes a center's wood mostly comes from its end as well.
        if (verdict.code, verdict.about) not in seen:
            seen.add((verdict.code, verdict.about))
            yield verdict
    end = held_end(hold, features)
    if end is not None and not (hold.supported or hold.steadied):
        yield from _on_a_neck(hold, end, new, begun, features, axis, limits, segments)


def _found(code: Code, new: Made, *others: Thing, **numbers: float) -> Verdict:
    return Verdict(code, (cut_named(new.name), *others), numbers, new.step, new.cut)


def _within_grip(mounted: Mounted, first_mm: float, last_mm: float) -> Thing | None:
    """What holds the wood where a kerf is cut, between two places on the hold's axis; none where it is clear of it."""
    hold, low = mounted.hold, mounted.held_low
    if hold.needs:
        feature = mounted.features[hold.needs[0]]
        long = min(feature.long_mm, _IN_A_HOLE_MM) if feature.hollow else feature.long_mm
        ends = [
            float(mounted.axis.to_lathe(np.array(feature.axis.origin) + deep * np.array(feature.axis.direction))[2])
            for deep in (0.0, long)
        ]
        grips = Thing(Subject.FEATURE, feature.name)
    else:
        deep = hold.gripped_mm
        places = mounted.axis.to_lathe(mounted.before.vertices)[:, 2]
        end = float(places.min() if low else places.max())
        ends, grips = [end, end + deep if low else end - deep], Thing(Subject.HELD_END)
        if low is not None and (min(first_mm, last_mm) <= end if low else max(first_mm, last_mm) >= end):
            # It runs out past the end of the wood, into what stands there: a plate, a screw.
            return grips
    return grips if min(last_mm, max(ends)) - max(first_mm, min(ends)) > _INTO_MM else None


def _left_under(mounted: Mounted, plate_mm: float, *, low: bool) -> float:
    """The share of the wood under a plate of a diameter that a cut leaves; 1 where there was none."""
    # Rings of like area stand for the plate: as many as tell its share to some hundredths.
    radii = [plate_mm / 2 * math.sqrt((ring + 0.5) / _RINGS) for ring in range(_RINGS)]
    had, has = mounted.kept(radii, low=low)
    return has / had if had > 0 else 1.0


def _cut_away(mounted: Mounted, new: Made, limits: Limits) -> Iterator[Verdict]:
    """What of the hold's own wood a cut takes: a feature's, that in jaws or under a plate, that under a center."""
    hold, features = mounted.hold, mounted.features
    for name in hold.needs:
        left = features[name].left(mounted.after)
        if left < limits.left <= features[name].left(mounted.before):
            yield _found(Code.CUTS_ITS_HOLD, new, Thing(Subject.FEATURE, name), left=left)
    low = mounted.held_low
    if isinstance(hold, JawsOnBlank) or (isinstance(hold, JamChuck) and hold.on is None):
        deep = hold.deep_mm or _BENEATH_MM
        if low is not None and _dressed_away(mounted, deep, low=low):
            yield _found(Code.CUTS_ITS_HOLD, new, Thing(Subject.HELD_END), left=0.0)
    if isinstance(hold, Faceplate) and low is not None:
        # A plate of no said size may be small or nearly as wide as the face: it is lost where neither would hold.
        face = 2 * outer_mm(mounted.before.seen_from(mounted.inward(low=low)), 1.0, segments=mounted.segments)
        plates = (hold.diameter_mm,) if hold.diameter_mm else (0.5 * face, 0.9 * face)
        left = max(_left_under(mounted, plate, low=low) for plate in plates)
        if left < _PLATED:
            yield _found(Code.CUTS_ITS_HOLD, new, Thing(Subject.FACEPLATE), left=left)
    for center_low, which in mounted.centers:
        had, has = mounted.kept([0.3 * _POINT_MM, _POINT_MM], low=center_low)
        if had > 0.5 and has < 0.5 * had:
            yield _found(Code.CENTER_IN_THE_WAY, new, Thing(which))


def _dressed_away(mounted: Mounted, deep_mm: float, *, low: bool) -> bool:
    """Whether the wood that is gripped on its outside gets thinner anywhere within the grip, on any side."""
    local, now = mounted.before.seen_from(mounted.axis), mounted.after.seen_from(mounted.axis)
    end = local.box_mm[2] if low else local.box_mm[5]
    for share in (0.1, 0.3, 0.5, 0.7, 0.9):
        place = end + share * deep_mm if low else end - share * deep_mm
        was, is_now = (
            np.array([radii[-1] if len(radii) else 0.0 for radii in radial_crossings(wood.section(place), _AROUND)])
            for wood in (local, now)
        )
        if (is_now < was - _THINNER_MM).any():
            return True
    return False


def _reached(mounted: Mounted, new: Made, opened: Sequence[Feature]) -> Iterator[Verdict]:
    """Holes that come from an end which is held, or where a center stands."""
    if isinstance(mounted.hold, BetweenHoles):
        return
    for feature in opened[:1]:
        line = mounted.axis.inverse[:, :3] @ np.array(feature.axis.direction)
        if not feature.hollow or abs(float(line[2])) < _ALONG:
            continue
        from_low = bool(line[2] > 0)
        if mounted.held_low is from_low:
            yield _found(Code.HOLD_IN_THE_WAY, new)
        x, y, _ = mounted.axis.to_lathe(np.array(feature.axis.origin))
        clear = math.hypot(x, y) - feature.diameter_mm / 2
        for center_low, which in mounted.centers:
            if center_low is from_low and clear < _CENTER_MM:
                yield _found(Code.CENTER_IN_THE_WAY, new, Thing(which))


def _on_a_neck(
    hold: BaseHold, end: End, new: Made, begun: Solid, features: Mapping[str, Feature],
    axis: Axis, limits: Limits, segments: int,
) -> Iterator[Verdict]:  # fmt: skip
    """Wood cut beyond a place much thinner than it stands out past it: a cup on its stem."""
    turned, chips = begun.seen_from(axis), new.chips.seen_from(axis).box_mm
    left = end is End.LEFT
    face = _face_mm(hold, end, features, axis, turned.box_mm[2 if left else 5])
    near, far = (chips[2], chips[5]) if left else (chips[5], chips[2])
    if (near - face if left else face - near) < _BENEATH_MM:
        return
    places = face + (np.arange(_PLACES) + 0.5) / _PLACES * (near - face)
    radii = [(outer_mm(turned, float(place), segments=segments), float(place)) for place in places]
    radius, place = min((found for found in radii if found[0] > 0), default=(0.0, 0.0))
    grip = held(hold, begun, features, round_to=limits.round, segments=segments)
    # A neck as thick as what is gripped is told by the overhang.
    if grip is None or not 0 < 2 * radius < grip.diameter_mm:
        return
    if abs(far - place) > limits.overhang * 2 * radius:
        numbers = {"neck_mm": 2 * radius, "out_mm": abs(far - place), "ratio": abs(far - place) / (2 * radius)}
        yield Verdict(Code.THIN_NECK, (cut_named(new.name),), numbers | {"limit": limits.overhang}, new.step, new.cut)


def _face_mm(hold: BaseHold, end: End, features: Mapping[str, Feature], axis: Axis, end_mm: float) -> float:
    """Where, along the axis, the wood comes out of its hold."""
    if hold.needs:
        feature = features[hold.needs[0]]
        floor = feature.long_mm if feature.hollow else 0.0
        # A hole's axis runs from its mouth inward, a tenon's from its shoulder out: wood begins past floor or shoulder.
        origin = np.array(feature.axis.origin) + floor * np.array(feature.axis.direction)
        return float(axis.to_lathe(origin[None, :])[0, 2])
    deep = hold.gripped_mm
    return end_mm + deep if end is End.LEFT else end_mm - deep
