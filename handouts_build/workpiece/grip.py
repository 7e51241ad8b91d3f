"""What a cut does to the hold it is made in.

This module owns the verdicts on cuts that take away what holds the wood, meet a center,
let go of an end, or stand on a thin neck. Whether the hold was sound as it was mounted
is for `judge`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from handouts_build.workpiece.axes import Axis
from handouts_build.workpiece.cut import BaseCut, Made
from handouts_build.workpiece.cuts.hollow import Hollow
from handouts_build.workpiece.features import Feature
from handouts_build.workpiece.holds import (
    BaseHold,
    BetweenCenters,
    BetweenHoles,
    End,
    JamChuck,
    JawsOnBlank,
    held_end,
)
from handouts_build.workpiece.measures import held, outer_mm
from handouts_build.workpiece.solid import Solid
from handouts_build.workpiece.verdicts import HELD_END, Code, Limits, Verdict

__all__ = ["after", "lets_go"]

_BENEATH_MM = 1.0
"""Where the wood in bare jaws is measured, if nothing says how much of it is in them."""
_THINNER_MM = 0.2
"""Wood in bare jaws that gets thinner by less is dressed, not cut away."""
_PLACES = 12


def lets_go(hold: BaseHold, cut: BaseCut) -> bool:
    """Whether a cut parts the wood from a center it turns on."""
    return isinstance(hold, BetweenCenters | BetweenHoles) and cut.parts


def after(
    hold: BaseHold, cut: BaseCut, new: Made, features: Mapping[str, Feature], axis: Axis, limits: Limits, *,
    begun: Solid, before: Solid, wood: Solid, segments: int,
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
    """
    if new.chips.is_empty or not hold.turns:
        return
    if cut.parts:
        if lets_go(hold, cut):
            yield Verdict(Code.PARTED_BETWEEN_CENTERS, (new.name,), {}, new.step, new.cut)
        return
    end = held_end(hold, features)
    yield from _cut_away(hold, end, new, before, wood, features, axis, limits, segments)
    if hold.supported and isinstance(cut, Hollow) and cut.end is not end:
        yield Verdict(Code.CENTER_IN_THE_WAY, (new.name,), {}, new.step, new.cut)
    if end is not None and not (hold.supported or hold.steadied):
        yield from _on_a_neck(hold, end, new, begun, features, axis, limits, segments)


def _cut_away(
    hold: BaseHold, end: End | None, new: Made, before: Solid, wood: Solid, features: Mapping[str, Feature],
    axis: Axis, limits: Limits, segments: int,
) -> Iterator[Verdict]:  # fmt: skip
    for name in hold.needs:
        left = features[name].left(wood)
        if left < limits.left <= features[name].left(before):
            yield Verdict(Code.CUTS_ITS_HOLD, (new.name, name), {"left": left}, new.step, new.cut)
    if isinstance(hold, JawsOnBlank) or (isinstance(hold, JamChuck) and hold.on is None):
        local, now = before.seen_from(axis), wood.seen_from(axis)
        deep = (hold.deep_mm or 2 * _BENEATH_MM) / 2
        low, high = local.box_mm[2], local.box_mm[5]
        place = low + deep if end is End.LEFT else high - deep
        if outer_mm(now, place, segments=segments) < outer_mm(local, place, segments=segments) - _THINNER_MM:
            yield Verdict(Code.CUTS_ITS_HOLD, (new.name, HELD_END), {"left": 0.0}, new.step, new.cut)


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
    radius, place = min((one for one in radii if one[0] > 0), default=(0.0, 0.0))
    grip = held(hold, begun, features, axis, segments=segments)
    # A neck as thick as what is gripped is told by the overhang.
    if grip is None or not 0 < 2 * radius < grip.diameter_mm:
        return
    if abs(far - place) > limits.overhang * 2 * radius:
        numbers = {"neck_mm": 2 * radius, "out_mm": abs(far - place), "ratio": abs(far - place) / (2 * radius)}
        yield Verdict(Code.THIN_NECK, (new.name,), numbers | {"limit": limits.overhang}, new.step, new.cut)


def _face_mm(hold: BaseHold, end: End, features: Mapping[str, Feature], axis: Axis, end_mm: float) -> float:
    """Where, along the axis, the wood comes out of its hold."""
    if hold.needs:
        feature = features[hold.needs[0]]
        floor = feature.long_mm if feature.hollow else 0.0
        # A hole's axis runs from its mouth inward, a tenon's from its shoulder out: wood begins past floor or shoulder.
        origin = np.array(feature.axis.origin) + floor * np.array(feature.axis.direction)
        return float(axis.to_lathe(origin[None, :])[0, 2])
    deep = (hold.deep_mm or 0.0) if isinstance(hold, JawsOnBlank | JamChuck) else 0.0
    return end_mm + deep if end is End.LEFT else end_mm - deep
