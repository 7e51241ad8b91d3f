"""True threads: the rings of a stage's threads filled in, and cut again as a screw goes.

This module owns that way, for files that other tools make things from. In pictures and
wherever wood is measured, a thread is rings.
"""

from __future__ import annotations

import math

import numpy as np

from handouts_build.workpiece.features import Feature
from handouts_build.workpiece.regions import inside, outside
from handouts_build.workpiece.solid import Solid, round_factor
from handouts_build.workpiece.stage import Stage
from handouts_build.workpiece.threads import ThreadForm

__all__ = ["has_threads", "true_threads"]

_AROUND, _STEPS = 48, 24
"""Columns around a screw, and layers along one pitch of it."""
_PAST_MM = 1.0
_ALIKE_MM = 0.02
"""Edges that rings leave on the filled wood go, where no face moves by more."""
_CLEAR_MM = 0.15
"""Where a screw only follows a face that is there, it stays clear of it: faces that are nearly one make slivers."""


def has_threads(stage: Stage) -> bool:
    """Whether anything on a stage's wood has a thread.

    Args:
        stage: The stage.
    """
    return any(feature.thread is not None for feature in stage.features.values())


def true_threads(stage: Stage) -> Solid:
    """The wood of a stage with its threads as screws, right-hand, in part coordinates.

    Args:
        stage: The stage.
    """
    wood = stage.wood
    for cut in stage.made:
        feature = next((stage.features[name] for name in cut.features if name in stage.features), None)
        if feature is None or feature.thread is None:
            continue
        # What a later cut took of the same place stays taken.
        back = cut.chips
        for later in stage.made[cut.serial + 1 :]:
            back -= later.body
        whole = Solid.all_of([wood, back]).marked().simplified(_ALIKE_MM)
        wood = whole - _as_it_is(feature)
    return wood.marked().pieces()[0]


def _as_it_is(feature: Feature) -> Solid:
    """What the screw of a threaded feature has taken, in part coordinates: one that was cut in green wood has dried."""
    cut = feature.green or feature
    assert cut.thread is not None
    taken = _cutter(cut, cut.thread).moved(cut.axis)
    return taken if feature.green is None else taken.scaled(feature.shrinkage.factors)


def _cutter(feature: Feature, form: ThreadForm) -> Solid:
    """What a screw takes away, in the feature's own coordinates."""
    major = feature.diameter_mm / 2
    minor, long = major - form.depth_mm, feature.long_mm
    start, stop = form.span_mm(long)
    if form.inside:
        screw = _screw(form, minor, start - _PAST_MM, stop)
        within = minor - 2 * _CLEAR_MM
        plain = [(-_PAST_MM, major), (0.0, major), (form.depth_mm + 2 * _CLEAR_MM, within), (stop, within)]
        plain += [(stop, major), (long, major)] if form.relief_mm > 0 else []
        return Solid.all_of([screw, Solid.turned(inside(plain), segments=_AROUND)])
    end = long + _PAST_MM
    screw = _screw(form, minor, start, end)
    within = minor - 2 * _CLEAR_MM
    tube = [(start, within), (end, within)]
    if form.relief_mm > 0:
        tube = [(0.0, minor), (start, minor), *tube]
    threaded = Solid.turned(outside(tube, reach_mm=major), segments=_AROUND)
    tip = outside([(long - form.depth_mm, major), (long, minor), (end, minor)], reach_mm=major)
    return Solid.all_of([threaded - screw, Solid.turned(tip, segments=_AROUND)])


def _screw(form: ThreadForm, minor: float, start: float, end: float) -> Solid:
    """A right-hand screw between two places, clear of the wall that it is cut into."""
    turns = np.arange(_AROUND) / _AROUND
    layers = max(2, math.ceil((end - start) / form.pitch_mm * _STEPS))
    places = np.linspace(start, end, layers)
    radii = form.radii(places[:, None] - form.lead_mm * turns, minor_mm=minor)
    wall, clear = (minor, -_CLEAR_MM) if form.inside else (minor + form.depth_mm, _CLEAR_MM)
    follows = np.abs(radii - wall) < 1e-6
    return Solid.around_axis(places, np.where(follows, wall + clear, radii * round_factor(_AROUND)))
