"""Whether a hold finds what it needs, and whether the shop can do it.

This module owns the checks on a hold: the feature is there, jaws and centers suit,
the piece clears the bed and fits between centers, the speed is one the lathe has.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from handouts_build.workpiece.axes import Axis
from handouts_build.workpiece.faults import WorkpieceFault, positive, said
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.holds import (
    BaseHold,
    BetweenCenters,
    BetweenHoles,
    End,
    Faceplate,
    JamChuck,
    JawsInRecess,
    JawsOnBlank,
    JawsOnTenon,
    drive_diameter,
    feature_named,
    held_end,
)
from handouts_build.workpiece.measures import ALL_AROUND, outer_mm, radial_crossings, radius_about_mm, widths_mm
from handouts_build.workpiece.solid import Solid
from handouts_build.workpiece.verdicts import Code, Jaws, Limits, ShopLimits, Subject, Thing, Verdict

__all__ = ["judge", "judge_speed"]

_PLATE, _HELD_END = Thing(Subject.FACEPLATE), Thing(Subject.HELD_END)
_ALIKE = 1.001
"""What is measured on the solid is as large as a bound that it passes by no more: a circle is drawn with sides."""
_Jawed: TypeAlias = JawsOnTenon | JawsInRecess | JawsOnBlank


def judge(
    hold: BaseHold, wood: Solid, features: Mapping[str, Feature], axis: Axis, *,
    shop: ShopLimits, limits: Limits, segments: int,
) -> tuple[Verdict, ...]:  # fmt: skip
    """What is wrong with a hold at a stage.

    Args:
        hold: The hold.
        wood: The stage, before the step cuts.
        features: What earlier cuts made.
        axis: The axis the hold turns on.
        shop: What the shop has.
        limits: Where minding begins.
        segments: Sides that a circle about an axis is drawn with.

    Raises:
        WorkpieceFault: If a feature was never made.
    """
    found = list(_missing(hold, wood, features, limits))
    if hold.turns:
        found += _size(hold, wood, axis, shop, segments)
    if isinstance(hold, JawsOnTenon | JawsInRecess | JamChuck):
        dried = (feature_named(name, features) for name in hold.needs)
        found += [
            Verdict(Code.DRIED_OVAL, (Thing(Subject.FEATURE, feature.name),), feature.oval)
            for feature in dried
            if feature.green is not None
        ]
    if isinstance(hold, JawsOnTenon | JawsInRecess):
        feature = feature_named(hold.needs[0], features)
        deep = feature.long_mm if isinstance(hold, JawsOnTenon) else None
        about = Thing(Subject.FEATURE, feature.name)
        # Jaws have to pass over the oval's largest diameter, and to close on its least.
        tries = (tuple(_jaws(hold, about, diameter, deep, shop)) for diameter in dict.fromkeys(feature.widths_mm))
        found += next((wrong for wrong in tries if wrong), ())
        found += _angles(hold, feature, shop, limits)
    elif isinstance(hold, JawsOnBlank):
        # Jaws close on the wood about its own axis, wherever the lathe's then runs.
        found += _bare(hold, wood, hold.line(wood, features), shop, limits, segments)
    if isinstance(hold, BetweenHoles):
        found += _bears(hold, wood, feature_named(hold.first, features).axis, shop, limits)
    elif isinstance(hold, BetweenCenters) and hold.centers_bear:
        points = axis.to_lathe(wood.vertices)
        if hold.seat is not None:
            found += _seated(hold, wood, feature_named(hold.seat, features), shop, limits)
        else:
            found += _bears(hold, wood, axis.moved(float(points[:, 2].min())), shop, limits)
    if hold.turns and hold.supported and hold.centers_bear:
        found += _tail(hold, wood, features, axis, limits)
    if isinstance(hold, Faceplate) and hold.diameter_mm is not None:
        inward = _end_axis(wood, axis, left=hold.end is End.LEFT, own=hold.line(wood, features))
        bearing = _bearing(wood, inward, deep_mm=1.0)
        if bearing.free_mm >= hold.diameter_mm:
            numbers = {"have_mm": hold.diameter_mm, "hole_mm": bearing.hole_mm, "free_mm": bearing.free_mm}
            found.append(Verdict(Code.BEARS_ON_NOTHING, (_PLATE,), numbers))
        if bearing.room_mm * _ALIKE < hold.diameter_mm:
            numbers = {"have_mm": hold.diameter_mm, "most_mm": bearing.room_mm}
            found.append(Verdict(Code.HOLD_OUT_OF_RANGE, (_PLATE,), numbers))
    return tuple(found)


def _tail(
    hold: BaseHold, wood: Solid, features: Mapping[str, Feature], axis: Axis, limits: Limits
) -> Iterator[Verdict]:
    """Whether the tail center stands in a hole that it cannot span."""
    held = held_end(hold, features)
    drive_low = (held is not End.RIGHT) is (axis.direction[2] >= 0)
    face = _end_axis(wood, axis, left=not drive_low, own=hold.line(wood, features))
    bearing = _bearing(wood, face, deep_mm=1.0)
    missed = not bearing.room_mm and not bearing.hole_mm
    if missed:
        # A leaning axis has left the wood by its side: the nearest wood is at the edge of the face.
        nearest = 2 * float(np.linalg.norm(wood.vertices - np.array(face.origin), axis=1).min())
        bearing = _Bearing(nearest, nearest, 0.0)
    if missed or bearing.hole_mm > (hold.tail_mm or limits.center_mm):
        yield _on_nothing(Thing(Subject.TAIL_CENTER), bearing, hold.tail_mm)


def judge_speed(rpm: float, shop: ShopLimits) -> Iterator[Verdict]:
    """Whether the lathe turns so slowly or fast.

    Args:
        rpm: The author's speed, rpm.
        shop: What the shop has.

    Returns:
        A verdict where the speed is outside the lathe's range, if that is known.
    """
    if shop.rpm is not None:
        least, most = shop.rpm
        if rpm < least:
            yield Verdict(Code.SPEED_OUTSIDE_LATHE, (), {"rpm": rpm, "least_rpm": least})
        elif rpm > most:
            yield Verdict(Code.SPEED_OUTSIDE_LATHE, (), {"rpm": rpm, "most_rpm": most})


@dataclass(frozen=True)
class _Bearing:
    """What lies under a center or a plate about an axis, mm; a hole is nought wide where the axis is in wood."""

    hole_mm: float
    """Width of the hole at its widest: a center bears on the wood all around, or does not."""
    free_mm: float
    """Width of the circle about the axis within which there is no wood: a plate bears on any that it reaches."""
    room_mm: float
    """Width of the widest circle of whole wood, but for the hole."""


def _bearing(wood: Solid, inward: Axis, *, deep_mm: float) -> _Bearing:
    """What lies under a center or a plate.

    Args:
        wood: The stage.
        inward: From the face into the wood.
        deep_mm: How far beneath the face.
    """
    crossings = radial_crossings(wood.seen_from(inward).section(deep_mm), ALL_AROUND)
    # Odd: the axis is in wood, and the first crossing leaves it. Even: it is in a hole, whose wall comes first.
    holes = [0.0 if len(radii) % 2 or not len(radii) else float(radii[0]) for radii in crossings]
    rooms = [float(radii[0 if len(radii) % 2 else 1]) if len(radii) else 0.0 for radii in crossings]
    # Where the hole is open at a side, its wall is on the others.
    walls = [hole for hole, radii in zip(holes, crossings, strict=True) if len(radii)]
    return _Bearing(2 * max(holes), 2 * min(walls, default=0.0), 2 * min(rooms))


def _end_axis(wood: Solid, axis: Axis, *, left: bool, own: Axis | None = None) -> Axis:
    """The axis from an end's face inward, the left one being where its places are least.

    Args:
        wood: The stage.
        axis: Which the wood turns on.
        left: Which end.
        own: The wood's own axis, to which its faces are square, where the other leans from it.
    """
    own = own or axis
    lean = float(np.array(own.direction) @ np.array(axis.direction))
    places = own.to_lathe(wood.vertices)[:, 2]
    end = float(places.min() if left is (lean > 0) else places.max())
    place = (end - float(own.to_lathe(np.array(axis.origin))[2])) / lean
    return axis.moved(place, turned=not left)


def _missing(hold: BaseHold, wood: Solid, features: Mapping[str, Feature], limits: Limits) -> Iterator[Verdict]:
    """Features that are cut away, or are not the kind the hold grips."""
    for name in hold.needs:
        feature = feature_named(name, features)
        wrong = (isinstance(hold, JawsOnTenon) and feature.kind is not FeatureKind.TENON) or (
            isinstance(hold, JawsInRecess | BetweenHoles) and not feature.hollow
        )
        left, there = (0.0, 0.0) if wrong else (feature.left(wood), feature.share(wood))
        # A tenon turned at the edge of a log has all that it was made with, and little all the same. A hollow is as
        # wide as told in one place only, and what bears in it bears on its own shape.
        little = there < limits.bears and feature.kind is not FeatureKind.HOLLOW
        if left < limits.left or little:
            numbers = {"left": min(left, there), "least": limits.left if left < limits.left else limits.bears}
            yield Verdict(Code.NOTHING_TO_HOLD, (Thing(Subject.FEATURE, name),), numbers)


def _size(hold: BaseHold, wood: Solid, axis: Axis, shop: ShopLimits, segments: int) -> Iterator[Verdict]:
    radius = radius_about_mm(wood, axis, segments=segments)
    if shop.swing_mm is not None and 2 * radius > _ALIKE * shop.swing_mm:
        yield Verdict(Code.DOES_NOT_CLEAR_BED, (), {"radius_mm": radius, "swing_mm": shop.swing_mm})
    places = axis.to_lathe(wood.vertices)[:, 2]
    long = float(places.max() - places.min())
    if hold.supported and shop.between_centers_mm is not None and long > _ALIKE * shop.between_centers_mm:
        numbers = {"have_mm": long, "most_mm": shop.between_centers_mm}
        yield Verdict(Code.HOLD_OUT_OF_RANGE, (Thing(Subject.LATHE),), numbers)


def _suiting(hold: _Jawed, diameter_mm: float, shop: ShopLimits) -> tuple[list[Jaws], list[tuple[float, float]]]:
    """Jaws that take a diameter, of those the hold may use, and the ranges of all of these."""
    kept = [jaws for jaws in shop.jaws if hold.jaws in (None, jaws.name)]
    ranges = [(jaws, jaws.open_mm if isinstance(hold, JawsInRecess) else jaws.grip_mm) for jaws in kept]
    fit = [
        jaws for jaws, bound in ranges if bound is not None and bound[0] <= _ALIKE * diameter_mm <= _ALIKE**2 * bound[1]
    ]
    return fit, [bound for _, bound in ranges if bound is not None]


def _jaws(hold: _Jawed, held: Thing, diameter_mm: float, deep_mm: float | None, shop: ShopLimits) -> Iterator[Verdict]:
    """Whether any jaws, or those named, take the diameter, and are deep enough for what goes into them."""
    fit, bounds = _suiting(hold, diameter_mm, shop)
    about = (held, Thing(Subject.JAWS, hold.jaws)) if hold.jaws else (held,)
    if bounds and not fit:
        least, most = min(bounds, key=lambda pair: max(pair[0] - diameter_mm, diameter_mm - pair[1]))
        numbers = {"have_mm": diameter_mm, "least_mm": least, "most_mm": most}
        yield Verdict(Code.HOLD_OUT_OF_RANGE, about, numbers)
    deep = [jaws.deep_mm for jaws in fit if jaws.deep_mm is not None]
    if deep_mm is not None and deep and len(deep) == len(fit) and deep_mm > _ALIKE * max(deep):
        # The end of the tenon must not touch bottom: the shoulder seats on the jaws.
        yield Verdict(Code.HOLD_OUT_OF_RANGE, about, {"have_mm": deep_mm, "most_mm": max(deep)})


def _angles(hold: _Jawed, feature: Feature, shop: ShopLimits, limits: Limits) -> Iterator[Verdict]:
    """Whether the jaws that take a dovetail, or a straight tenon or recess, lean as it does."""
    fit, _ = _suiting(hold, feature.diameter_mm, shop)
    angles = [jaws.dovetail_deg for jaws in fit if jaws.dovetail_deg is not None]
    if not angles or len(angles) < len(fit):
        return
    nearest = min(angles, key=lambda angle: abs(angle - feature.dovetail_deg))
    if abs(nearest - feature.dovetail_deg) > limits.dovetail_deg:
        held = Thing(Subject.FEATURE, feature.name)
        about = (held, Thing(Subject.JAWS, hold.jaws)) if hold.jaws else (held,)
        yield Verdict(Code.ANGLES_DIFFER, about, {"have_deg": feature.dovetail_deg, "jaws_deg": nearest})


def _bare(
    hold: JawsOnBlank, wood: Solid, axis: Axis, shop: ShopLimits, limits: Limits, segments: int
) -> Iterator[Verdict]:
    """Whether jaws close well on the wood's own outside: its width, its shape, and how much of it is in them."""
    inward = _end_axis(wood, axis, left=hold.end is End.LEFT)
    places = inward.to_lathe(wood.vertices)[:, 2]
    long = float(places.max() - places.min())
    if hold.deep_mm is not None:
        positive(hold.deep_mm, "the wood in the jaws")
        if hold.deep_mm >= long:
            raise WorkpieceFault(
                f"{said(hold.deep_mm)} of the wood is to be in the jaws, and it is {said(long)} long",
                "leave some of it outside",
            )
    # In the middle of what is gripped; a hair beneath the end where nothing is said.
    turned, middle = wood.seen_from(inward), (hold.deep_mm or min(2.0, long)) / 2
    widths = widths_mm(turned, middle)
    if widths is None:
        return
    least, most = widths
    odd = most > limits.round * least
    # Jaws bear on the flats of a square, all around on a round, which is measured as it is and not as it is drawn.
    diameter = least if odd else 2 * outer_mm(turned, middle, segments=segments)
    yield from _jaws(hold, _HELD_END, diameter, hold.deep_mm, shop)
    # A square in four jaws is how a short stick is mounted: common practice, no published source.
    if most > limits.square * least and not hold.tailstock:
        yield Verdict(Code.NOT_ROUND, (_HELD_END,), {"least_mm": least, "most_mm": most})
    depths = [jaws.deep_mm for jaws in _suiting(hold, diameter, shop)[0] if jaws.deep_mm is not None]
    deep = hold.deep_mm if hold.deep_mm is not None else max(depths, default=None)
    if deep is not None and deep < 0.99 * limits.grip * diameter and not hold.tailstock:
        numbers = {"have_mm": deep, "least_mm": limits.grip * diameter, "diameter_mm": diameter}
        yield Verdict(Code.SHORT_GRIP, (_HELD_END,), numbers)


def _bears(
    hold: BetweenCenters | BetweenHoles, wood: Solid, inward: Axis, shop: ShopLimits, limits: Limits
) -> Iterator[Verdict]:
    """Whether the wood around a drive center is as wide as the center, at its left or first end."""
    named = drive_diameter(hold)
    kit = shop.drive_centers_mm
    least = named if named is not None else min(kit, default=None)
    spans = named if named is not None else max(kit, default=limits.center_mm)
    # Beneath a rounded face, deep enough that the face's fall over the center's width does not count as missing.
    bearing = _bearing(wood, inward, deep_mm=1.0 + 0.05 * (spans if least is None else least))
    bears = Thing(Subject.FEATURE, hold.first) if isinstance(hold, BetweenHoles) else Thing(Subject.DRIVE_CENTER)
    if isinstance(hold, BetweenCenters) and bearing.hole_mm >= spans:
        yield _on_nothing(bears, bearing, None if least is None else spans)
    if least is not None and bearing.room_mm * _ALIKE < least:
        yield Verdict(Code.HOLD_OUT_OF_RANGE, (bears,), {"have_mm": least, "most_mm": bearing.room_mm})


def _seated(hold: BetweenCenters, wood: Solid, seat: Feature, shop: ShopLimits, limits: Limits) -> Iterator[Verdict]:
    """Whether a drive center goes into a hole bored for it, and bears on its floor."""
    drive, bears = drive_diameter(hold) or max(shop.drive_centers_mm, default=0.0), Thing(Subject.DRIVE_CENTER)
    if not seat.hollow or seat.through:
        yield Verdict(Code.NOTHING_TO_HOLD, (Thing(Subject.FEATURE, seat.name),), {"left": 0.0, "least": limits.left})
        return
    if drive > _ALIKE * seat.diameter_mm:
        yield Verdict(Code.HOLD_OUT_OF_RANGE, (bears,), {"have_mm": drive, "most_mm": seat.diameter_mm})
    yield from _bears(hold, wood, seat.axis.moved(seat.long_mm), shop, limits)


def _on_nothing(center: Thing, bearing: _Bearing, wide_mm: float | None) -> Verdict:
    """A center over a hole; its width is told where somebody says it."""
    have = {} if wide_mm is None else {"have_mm": wide_mm}
    return Verdict(Code.BEARS_ON_NOTHING, (center,), {**have, "hole_mm": bearing.hole_mm, "free_mm": bearing.free_mm})
