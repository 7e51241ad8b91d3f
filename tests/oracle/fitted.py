"""What the cuts take away that fit one part to another or hang from one: threads, snap beads, grooves behind a mouth,
dovetails and captive rings.

Each works on a tenon or a hole that is there, in that one's frame: z runs out from a tenon's shoulder to its tip, and
in from a hole's mouth to its floor. Outlines are (place, radius), mm.
"""

from __future__ import annotations

import itertools
import math
from typing import Any

import numpy as np
from contourpy import contour_generator

from tests.oracle import fields
from tests.oracle.fields import Field
from tests.oracle.reading import length, maybe

Keys = dict[str, Any]
Outline = list[tuple[float, float]]

LEAN = math.tan(math.radians(30))
"""How far the flank of a 60 degree thread leans for each millimeter of its depth (ISO 68-1)."""
BASIC = 5 * math.sqrt(3) / 16
"""Depth of the basic profile over the pitch: 5/8 of the height of its triangle, which is √3/2 of it (ISO 68-1)."""
_INCH = 25.4
_PAST = 1.0
_STEPS = 12


def thread_sizes(keys: Keys) -> tuple[float, float]:
    """Pitch and depth of one side."""
    pitch = length(keys["pitch"]) if "pitch" in keys else _INCH / int(keys["per inch"])
    return pitch, maybe(keys, "depth") or BASIC * pitch


def rings(pitch: float, depth: float, minor: float, low: float, high: float) -> Outline:
    """Ridges and valleys of a thread drawn as rings; the middle of a flat of the minor radius is at nought.

    Of what the flanks leave of the pitch, two thirds are the flat at the minor radius and one third that at the major
    one: a quarter and an eighth of the pitch where the depth is the basic one (ISO 68-1).
    """
    left = pitch - 2 * depth * LEAN
    inner, outer = left / 3, left / 6
    places = {low, high}
    for turn in range(math.floor(low / pitch) - 1, math.ceil(high / pitch) + 2):
        places |= {turn * pitch + side for side in (-inner, inner, pitch / 2 - outer, pitch / 2 + outer)}

    def radius(place: float) -> float:
        away = abs((place + pitch / 2) % pitch - pitch / 2)
        return minor + min(max((away - inner) / LEAN, 0.0), depth)

    return [(place, radius(place)) for place in sorted(places) if low <= place <= high]


def within_wall(outer: Outline, wall: float, floor: float, *, left: bool) -> Outline:
    """The inside that leaves a wall of one thickness, square to the outside: where the distance to it is just that.

    Distances are read over a raster a sixteenth of the wall apart, and their level line is followed.

    Args:
        outer: The outside, places growing.
        wall: Thickness of the wall, mm.
        floor: Thickness of the floor along the axis, mm.
        left: Whether the mouth is at the first place.
    """
    outside = np.array(outer)
    mouth, base = (outside[0], outside[-1]) if left else (outside[-1], outside[0])
    way = 1.0 if left else -1.0
    # Out past the mouth the wall goes straight on; at the base it closes, and on the other side it comes back.
    along = np.array([[mouth[0] - way * 10 * wall, mouth[1]], *outside[:: int(way)], [base[0], 0.0]])
    around = np.vstack([along, along[::-1] * (1.0, -1.0)])
    bottom, step = base[0] - way * floor, wall / 16
    places = np.linspace(mouth[0], bottom + way * 2 * step, max(2, int(abs(bottom - mouth[0]) / step)))
    radii = np.arange(0.0, outside[:, 1].max() + step, step)
    z, r = np.meshgrid(np.sort(places), radii)
    spots = np.column_stack([z.ravel(), r.ravel()])
    apart = np.full(len(spots), np.inf)
    for start, end in itertools.pairwise(around):
        run = end - start
        share = np.clip((spots - start) @ run / max(float(run @ run), 1e-12), 0.0, 1.0)
        apart = np.minimum(apart, np.linalg.norm(spots - start - share[:, None] * run, axis=1))
    within = np.where(spots[:, 1] < np.interp(spots[:, 0], outside[:, 0], outside[:, 1]), apart, -apart)
    room = np.minimum(within - wall, (bottom - spots[:, 0]) * way)
    lines = contour_generator(z, r, room.reshape(z.shape)).lines(0.0)
    longest = max(lines, key=len)
    return [
        (float(place), float(radius))
        for place, radius in (longest if longest[0][0] < longest[-1][0] else longest[::-1])
    ]


def inside_thread(keys: Keys, minor: float, deep: float) -> Field:
    """The rings in a hole's wall, its mouth softened to 45 degrees, and the groove that the tool runs out in."""
    pitch, depth = thread_sizes(keys)
    long, relief = maybe(keys, "long") or deep, maybe(keys, "relief") or 0.0
    bodies = [
        fields.inside_of(rings(pitch, depth, minor, 0.0, long - relief)),
        fields.inside_of([(-_PAST, minor), (0.0, minor)]),
        fields.inside_of([(0.0, minor + depth), (depth, minor)]),
    ]
    if relief:
        bodies.append(fields.inside_of([(long - relief, minor + depth), (long, minor + depth)]))
    return fields.any_of(bodies)


def outside_thread(keys: Keys, major: float, long: float) -> Field:
    """All outside the rings on a tenon, its tip softened to 45 degrees."""
    pitch, depth = thread_sizes(keys)
    relief, minor = maybe(keys, "relief") or 0.0, major - depth
    bodies = [
        fields.outside_of(rings(pitch, depth, minor, relief, long)),
        fields.outside_of([(long - depth, major), (long, minor), (long + _PAST, minor)]),
    ]
    if relief:
        bodies.append(fields.around(minor, 0.0, relief))
    return fields.any_of(bodies)


def snap_bead(keys: Keys, radius: float, long: float) -> Field:
    """All outside a tenon turned down but for a bead, whose section is half an ellipse."""
    at, half, stands = length(keys["at"]), length(keys["wide"]) / 2, length(keys["stands"])
    low = radius - stands
    turns = np.linspace(math.pi, 0.0, _STEPS + 1)
    bead = [(at + half * math.cos(turn), low + stands * math.sin(turn)) for turn in turns]
    return fields.outside_of([(0.0, low), *bead, (long + _PAST, low)])


def behind(kind: str, keys: Keys, radius: float) -> tuple[Field, float, float]:
    """A groove, a cove or an undercut in a hole's wall; and from where to where it goes."""
    at, wide, deep = (length(keys[key]) for key in ("at", "wide", "deep"))
    if kind == "undercut":
        start, end = at, at + wide
        outline = [(start, radius + deep), (end, radius)]
    else:
        start, end = at - wide / 2, at + wide / 2
        outline = [(start, radius + deep), (end, radius + deep)]
    if kind == "inside cove":
        # A circle through both edges and the deepest point: its sagitta is the depth.
        round_ = (wide * wide / 4 + deep * deep) / (2 * deep)
        places = np.linspace(-wide / 2, wide / 2, 2 * _STEPS + 1)
        base = radius + deep - round_
        outline = [(at + z, base + math.sqrt(max(round_ * round_ - z * z, 0.0))) for z in places.tolist()]
    ring = [(start, 0.5 * radius), *outline, (end, 0.5 * radius)]
    return fields.turned(ring), start, end


def leaning(radius: float, long: float, degrees: float, *, tip: bool) -> Outline:
    """The side of a dovetail, as wide as told at its tip or else at its mouth."""
    over = long * math.tan(math.radians(degrees))
    return [(0.0, radius - over), (long, radius)] if tip else [(0.0, radius), (long, radius + over)]
