"""What is read off a stage about the axis it turns on.

This module owns reach, thickness along the axis, slenderness, how far wood is from
round, and the share of a turn in which the tool cuts air. What lies between cuts is in `gaps`.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from handouts_build.workpiece.axes import Axis, Floats
from handouts_build.workpiece.features import Feature
from handouts_build.workpiece.holds import (
    BaseHold,
    End,
    Faceplate,
    JamChuck,
    JawsInRecess,
    JawsOnBlank,
    JawsOnTenon,
    ScrewChuck,
    feature_named,
    held_end,
)
from handouts_build.workpiece.solid import Solid, round_factor

__all__ = [
    "ALL_AROUND",
    "AirCut",
    "Held",
    "Spindle",
    "air_cut",
    "bare_side_mm2",
    "held",
    "out_of_balance",
    "out_of_round",
    "outer_mm",
    "radial_crossings",
    "radius_about_mm",
    "spindle",
    "widths_mm",
]

ALL_AROUND = np.radians(np.arange(48) * 7.5 + 0.03)
"""Angles at which an outside is measured, a hair beside corners and the middles of flats."""
_PLACES = 48
_SAME, _APART_RAD, _CORNERS = 1e-6, 1e-4, 8
"""Corners as far out as the outermost; how far apart they are at least; and how many of them make a circle."""
_EVEN, _EVEN_ASIDE = 1e-6, 1e-4
"""Within which corners of an oval lie at even steps, as shares of its reach: toward its end, and to the side."""
_SHAVING_MM = 0.05
"""Chips no thicker are the corners of a drawn circle."""
_SIDEWAYS = 0.7
"""A face whose normal leans less than this along the axis is on the side and not on an end."""
_AROUND = np.arange(48) * 2 * math.pi / 48
_OUT = np.stack([np.cos(_AROUND), np.sin(_AROUND)])


@dataclass(frozen=True)
class Spindle:
    """Length against least thickness."""

    long_mm: float
    neck_mm: float
    """Least diameter of the circle that the wood sweeps, ends left out."""
    at_mm: float
    """Where, along the axis."""

    @property
    def ratio(self) -> float:
        """Length over the neck."""
        return self.long_mm / self.neck_mm if self.neck_mm > 0 else math.inf


@dataclass(frozen=True)
class AirCut:
    """How much of a turn the tool meets no wood, for one cut."""

    name: str
    share: float
    """Mean over the cut, 0 to 1."""
    last: float
    """At the finished surface."""


@dataclass(frozen=True)
class Held:
    """How far the wood stands out of what holds it at one end."""

    overhang_mm: float
    diameter_mm: float
    """Held by."""

    @property
    def ratio(self) -> float:
        """Overhang over the diameter held."""
        return self.overhang_mm / self.diameter_mm


def radius_about_mm(solid: Solid, axis: Axis, *, segments: int) -> float:
    """Greatest distance of wood from an axis.

    Where that is a circle about the axis it is the circle's radius, and not that of the corners
    it is drawn with, which stand out a little (`round_factor`); so it is where a circle has dried to an oval.

    Args:
        solid: In part coordinates.
        axis: Which it turns about.
        segments: Sides that a circle about an axis is drawn with.
    """
    return _reach_mm(axis.to_lathe(solid.vertices), segments)


def _reach_mm(points: Floats, segments: int) -> float:
    """Greatest distance from the axis of corners (N x 2 or 3), or the radius of the circle they are drawn on."""
    if not len(points):
        return 0.0
    radii = np.hypot(points[:, 0], points[:, 1])
    most = float(radii.max())
    outer = points[radii > most * (1 - _SAME)]
    turns = np.diff(np.sort(np.arctan2(outer[:, 1], outer[:, 0])))
    turns = turns[turns > _APART_RAD]
    drawn = len(turns) >= _CORNERS and abs(float(turns.min()) - 2 * math.pi / segments) < _APART_RAD
    return most / round_factor(segments) if drawn or _on_an_oval(points, radii, segments) else most


def _on_an_oval(points: Floats, radii: Floats, segments: int) -> bool:
    """Whether the corner farthest from the axis is at the long end of an oval that a drawn circle has dried to.

    Toward that corner those beside it, on either side, then reach by the cosine of as many even steps.
    """
    toward = points[int(radii.argmax()), :2] / radii.max()
    reach, aside = points[:, :2] @ toward / radii.max(), points[:, :2] @ np.array([-toward[1], toward[0]])
    steps = 2 * math.pi / segments * np.array([1, 2])
    # How far off to the side each step's corners lie, over what they would on a circle: one share for all.
    shares = []
    for step in steps:
        there = aside[np.abs(reach - math.cos(step)) < _EVEN] / (radii.max() * math.sin(step))
        shares += [float(there.max(initial=0.0)), -float(there.min(initial=0.0))]
    return min(shares) > 0.5 and max(shares) - min(shares) < _EVEN_ASIDE


def widths_mm(local: Solid, place: float) -> tuple[float, float] | None:
    """How wide the wood is where it is least and where it is most, both through the axis; none where there is none.

    Args:
        local: The wood in lathe coordinates.
        place: Along the axis, mm.
    """
    outermost = [float(found[-1]) for found in radial_crossings(local.section(place), ALL_AROUND) if len(found)]
    return (2 * min(outermost), 2 * max(outermost)) if outermost else None


def held(
    hold: BaseHold, solid: Solid, features: Mapping[str, Feature], *, round_to: float, segments: int
) -> Held | None:
    """How far the wood stands out of its hold.

    Args:
        hold: The hold.
        solid: In part coordinates, mm.
        features: What earlier cuts made, by name.
        round_to: Greatest width over least of what is round to jaws.
        segments: Sides that a circle about an axis is drawn with.

    Returns:
        The overhang and the diameter held, mm; None where the other end is held or steadied, or the wood does
        not turn.
    """
    if hold.supported or hold.steadied or not hold.turns:
        return None
    if isinstance(hold, JawsOnTenon | JawsInRecess | ScrewChuck) or (isinstance(hold, JamChuck) and hold.on):
        feature = feature_named(hold.needs[0], features)
        depths = feature.axis.to_lathe(solid.vertices)[:, 2]
        # A hole's axis runs from its mouth into the wood, a tenon's from its shoulder out of it.
        return Held(float(depths.max() if feature.hollow else -depths.min()), feature.diameter_mm)
    # What is gripped is as wide as it is about the wood's own axis, wherever the lathe's runs.
    own = hold.line(solid, features)
    places = own.to_lathe(solid.vertices)[:, 2]
    long = float(places.max() - places.min()) - hold.gripped_mm
    wide = hold.diameter_mm if isinstance(hold, Faceplate) else None
    left = held_end(hold, features) is End.LEFT
    place = float(places.min()) + 0.5 if left else float(places.max()) - 0.5
    local = solid.seen_from(own)
    across = 2 * outer_mm(local, place, segments=segments)
    widths = widths_mm(local, place) if isinstance(hold, JawsOnBlank) else None
    # Jaws bear on the flats of a square: its corners hold nothing.
    if widths is not None and widths[1] > round_to * widths[0]:
        across = widths[0]
    diameter = min(across, wide) if wide is not None else across
    return Held(long, diameter) if diameter > 0 else None


def spindle(solid: Solid, axis: Axis, *, segments: int) -> Spindle:
    """Length against least thickness about an axis.

    A place nearer to an end than its own diameter is left out: there the wood is a
    stub or a dome, and stiff.

    Args:
        solid: In part coordinates.
        axis: Which it turns on.
        segments: Sides that a circle about the axis is drawn with.
    """
    local = solid.seen_from(axis)
    low, high = local.box_mm[2], local.box_mm[5]
    places = low + (np.arange(_PLACES) + 0.5) / _PLACES * (high - low)
    radii = [outer_mm(local, float(place), segments=segments) for place in places]
    necks = [
        (2 * radius, float(place))
        for place, radius in zip(places, radii, strict=True)
        if radius > 0 and min(place - low, high - place) > 2 * radius
    ]
    neck, at = min(necks, default=(2 * max(radii), (low + high) / 2))
    return Spindle(high - low, neck, at)


def outer_mm(local: Solid, place: float, *, segments: int) -> float:
    """Greatest distance from the axis at a place along it, mm; nought where there is no wood.

    Args:
        local: The wood in lathe coordinates.
        place: Where.
        segments: Sides that a circle about the axis is drawn with.
    """
    return _reach_mm(local.section(place)[:, 0], segments)


def out_of_balance(solid: Solid, axis: Axis, *, segments: int) -> float:
    """How far the center of gravity lies off an axis, over the greatest radius about it: 0 for a round, under 1.

    Args:
        solid: In part coordinates, mm.
        axis: Which it turns about.
        segments: Sides that a circle about an axis is drawn with.
    """
    x, y, _ = axis.to_lathe(np.array(solid.center_mm))
    return math.hypot(x, y) / radius_about_mm(solid, axis, segments=segments)


def out_of_round(solid: Solid, axis: Axis, *, hold: BaseHold, places: int = 9) -> float:
    """How far from round the wood is about an axis: 0 for a round, 1 - 1/√2 for a square about its middle.

    What a flat board laid against the turning wood would feel is looked at, so that holes in a round are none of it.
    Wood that lies in the jaws is left out.

    Args:
        solid: In part coordinates, mm.
        axis: Which it turns about.
        hold: In which it turns.
        places: At how many places along the axis it is looked at.
    """
    local = solid.seen_from(axis)
    low, high = local.box_mm[2], local.box_mm[5]
    if isinstance(hold, JawsOnBlank):
        deep = min(hold.gripped_mm, high - low)
        low, high = (low + deep, high) if hold.end is End.LEFT else (low, high - deep)
    most = 0.0
    for place in low + (np.arange(places) + 0.5) / places * (high - low):
        edges = local.section(float(place))
        if len(edges):
            reach = (edges[:, 0] @ _OUT).max(axis=0)
            most = max(most, 1 - float(max(reach.min(), 0.0) / reach.max()))
    return most


def bare_side_mm2(chips: Solid, axis: Axis, cuts: Mapping[int, int]) -> float:
    """How much of the blank's own side is taken off with these chips; its ends do not count.

    Args:
        chips: What is taken, part coordinates.
        axis: It turns on.
        cuts: Which cut each mark on the wood's faces stands for; the blank's own have none.
    """
    mesh = chips.mesh(dict(cuts))
    own = axis.to_lathe(mesh.vertices[mesh.triangles[mesh.origins == 0]].astype(float))
    normals = np.cross(own[:, 1] - own[:, 0], own[:, 2] - own[:, 0]) / 2
    areas = np.linalg.norm(normals, axis=1)
    return float(areas[np.abs(normals[:, 2]) < _SIDEWAYS * areas].sum())


def air_cut(
    name: str, chips: Solid, axis: Axis, *, segments: int, places: int = 9, around: int = 48, levels: int = 24
) -> AirCut | None:
    """How much of a turn the tool meets no wood while it takes these chips.

    The tool is set at every place and depth in turn at which it meets any wood; at each,
    the share of the circle through it that is air is taken.

    Args:
        name: Of the cut.
        chips: What it takes, part coordinates.
        axis: It turns on.
        segments: Sides that a circle is drawn with: nearer to a surface than its corners, nothing is looked at.
        places: Along the axis.
        around: Angles.
        levels: Depths.

    Returns:
        None where it takes nothing.
    """
    if chips.is_empty:
        return None
    local = chips.seen_from(axis)
    low, high = local.box_mm[2], local.box_mm[5]
    angles = (np.arange(around) + 0.37) * 2 * math.pi / around
    shares: list[float] = []
    last: list[float] = []
    for place in low + (np.arange(places) + 0.5) / places * (high - low):
        crossings = radial_crossings(local.section(float(place)), angles)
        table = np.zeros((around, max(map(len, crossings))))
        for row, radii in zip(table, crossings, strict=True):
            row[: len(radii)] = radii
        met = table[table > 0]
        # An odd number of crossings in all: the chips reach the axis.
        inner = 0.0 if any(len(radii) % 2 for radii in crossings) else float(met.min(initial=math.inf))
        if not len(met):
            continue
        # Two circles drawn with corners of their own: between the one's corners and the other's flats is no air.
        corners = float(met.max()) * (1 - math.cos(math.pi / segments))
        first, last_in = inner + corners, float(met.max()) - corners
        if last_in - first < _SHAVING_MM:
            continue
        depths = first + (np.arange(levels) + 0.5) / levels * (last_in - first)
        # An odd number of crossings further out: within the chips.
        wood = ((table[None] > depths[:, None, None]).sum(axis=2) % 2).mean(axis=1)
        shares += [1 - float(share) for share in wood if share > 0]
        last.append(1 - float(wood[0]))
    if not shares:
        return None
    return AirCut(name, float(np.mean(shares)), float(np.mean(last)))


def radial_crossings(edges: Floats, angles_rad: Floats) -> list[Floats]:
    """Radii at which rays from the axis cross a section's edges, least first, one array an angle.

    Args:
        edges: E x 2 ends x (x, y), mm.
        angles_rad: Angles of the rays.
    """
    if not len(edges):
        return [np.zeros(0) for _ in angles_rad]
    out_x, out_y = np.cos(angles_rad), np.sin(angles_rad)
    # Of both ends of every edge: across the ray. An edge is met where they lie on either side of it.
    across = edges[..., 1, None] * out_x - edges[..., 0, None] * out_y
    ray, edge = np.nonzero((across[:, 0] > 0).T != (across[:, 1] > 0).T)
    first, second = across[edge, 0, ray], across[edge, 1, ray]
    share = (first / (first - second))[:, None]
    met = edges[edge, 0] + share * (edges[edge, 1] - edges[edge, 0])
    radii = met[:, 0] * out_x[ray] + met[:, 1] * out_y[ray]
    ray, radii = ray[radii > 0], radii[radii > 0]
    order = np.lexsort((radii, ray))
    ordered, starts = radii[order], np.searchsorted(ray[order], np.arange(len(angles_rad) + 1)).tolist()
    return [ordered[start:end] for start, end in itertools.pairwise(starts)]
