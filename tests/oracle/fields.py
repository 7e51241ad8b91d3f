"""Distance fields: how far a point is from a body, less than nought within it.

Each field takes points (N x 3, mm) and gives N distances. Outside the body they are exact but
where said otherwise; within it their sign alone is. All is in the frame that the field was made
for; `Frame.field` carries one over into the part's own.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Field = Callable[[Floats], Floats]

FAR = 1e4
"""Past any wood here, mm."""


def _box(across: Floats, along: Floats) -> Floats:
    """Distance to a rectangle, from the distances past its sides."""
    outside = np.hypot(np.maximum(across, 0.0), np.maximum(along, 0.0))
    return outside + np.minimum(np.maximum(across, along), 0.0)


def _between(values: Floats, low: float, high: float) -> Floats:
    """How far values are past a stretch; less than nought within it."""
    return np.abs(values - (low + high) / 2) - (high - low) / 2


def _radius(points: Floats) -> Floats:
    return np.hypot(points[:, 0], points[:, 1])


def rod(radius: float, low: float, high: float, *, x: float = 0.0, y: float = 0.0) -> Field:
    """A round rod along z about a line."""
    return lambda points: _box(np.hypot(points[:, 0] - x, points[:, 1] - y) - radius, _between(points[:, 2], low, high))


def around(radius: float, low: float, high: float) -> Field:
    """All that is further out than a radius, over a stretch of z."""
    return lambda points: _box(radius - _radius(points), _between(points[:, 2], low, high))


def slab(low: float, high: float) -> Field:
    """All over a stretch of z."""
    return lambda points: _between(points[:, 2], low, high)


def block(wide: float, thick: float, low: float, high: float) -> Field:
    """A square-edged stick about z."""

    def field(points: Floats) -> Floats:
        past = np.column_stack(
            [np.abs(points[:, 0]) - wide / 2, np.abs(points[:, 1]) - thick / 2, _between(points[:, 2], low, high)]
        )
        return np.linalg.norm(np.maximum(past, 0.0), axis=1) + np.minimum(past.max(axis=1), 0.0)

    return field


def beyond(distance: float, angle: float, low: float, high: float) -> Field:
    """All beyond a plane parallel to z that faces a way, over a stretch of z."""
    out = (math.cos(angle), math.sin(angle))
    return lambda points: _box(
        distance - points[:, 0] * out[0] - points[:, 1] * out[1], _between(points[:, 2], low, high)
    )


def flats(count: int, across: float, first: float, low: float, high: float) -> Field:
    """All outside a regular prism, over a stretch of z."""
    return any_of([beyond(across / 2, first + 2 * math.pi * one / count, low, high) for one in range(count)])


def within_flats(count: int, across: float) -> Field:
    """A regular prism without ends; the nearest distance only beside its flats, less beside its corners."""
    turns = 2 * math.pi * np.arange(count) / count
    return lambda points: (points[:, :1] * np.cos(turns) + points[:, 1:2] * np.sin(turns)).max(axis=1) - across / 2


def frustum(count: int, left: float, right: float, long: float) -> Field:
    """A tube's regular section without ends, so wide between flats at z = 0 and at its length, and on as it grows.

    The nearest distance only beside its flats, less beside its corners.
    """
    turns = 2 * math.pi * np.arange(count) / count
    lean = (right - left) / 2 / long
    upright = 1 / math.hypot(1, lean)

    def field(points: Floats) -> Floats:
        out = (points[:, :1] * np.cos(turns) + points[:, 1:2] * np.sin(turns)).max(axis=1)
        return np.asarray((out - left / 2 - lean * points[:, 2]) * upright)

    return field


def any_course(sections: Sequence[tuple[float, float, Field]]) -> Field:
    """Bodies one on another, each over its own stretch of z; the nearest distance only beside their sides."""
    return any_of([_course(low, high, section) for low, high, section in sections])


def stacked(sections: Sequence[tuple[float, float, Field]]) -> Field:
    """The same as one piece, within which what is known is how far it is out: where two touch there is no face."""
    low, high = sections[0][0], sections[-1][1]
    around = [_course(start, end, all_but(section)) for start, end, section in sections]
    return all_but(any_of([*around, slab(-FAR, low), slab(high, FAR)]))


def _course(low: float, high: float, section: Field) -> Field:
    return lambda points: _box(section(points), _between(points[:, 2], low, high))


def within_circle(diameter: float) -> Field:
    """A round without ends."""
    return lambda points: _radius(points) - diameter / 2


def turned_by(field: Field, angle: float) -> Field:
    """A body turned about z."""
    along_x, along_y = math.cos(angle), math.sin(angle)

    def local(points: Floats) -> Floats:
        x, y, z = points[:, 0], points[:, 1], points[:, 2]
        return np.column_stack([along_x * x + along_y * y, along_x * y - along_y * x, z])

    return lambda points: field(local(points))


def log(diameter: float, long: float, face: float | None, *, wedge: bool, sawn: float) -> Field:
    """A log along x, its bark at z = 0; the greatest distance past any of its faces, which is less at their edges.

    Args:
        diameter: Over the bark.
        long: Along the grain.
        face: How far from the middle it is sawn lengthwise; none: it is whole.
        wedge: Whether two sawn faces square to each other make it a quarter.
        sawn: Diameter that it is sawn round to about z; nought: it keeps its corners.
    """

    def field(points: Floats) -> Floats:
        toward = diameter / 2 - points[:, 2]
        past = [np.hypot(points[:, 1], toward) - diameter / 2, np.abs(points[:, 0]) - long / 2]
        if face is not None and wedge:
            past += [face - (toward + side * points[:, 1]) / math.sqrt(2) for side in (-1, 1)]
        elif face is not None:
            past.append(face - toward)
        if sawn:
            past.append(_radius(points) - sawn / 2)
        return np.asarray(np.max(past, axis=0))

    return field


def oval(wide: float, thick: float, angle: float, low: float, high: float) -> Field:
    """All outside an ellipse, over a stretch of z; near it, distances are right to the first order."""

    def field(points: Floats) -> Floats:
        x = points[:, 0] * math.cos(angle) + points[:, 1] * math.sin(angle)
        y = points[:, 1] * math.cos(angle) - points[:, 0] * math.sin(angle)
        a, b = wide / 2, thick / 2
        level = np.hypot(x / a, y / b)
        slope = np.hypot(x / a**2, y / b**2) / np.maximum(level, 1e-9)
        return _box((1 - level) / np.maximum(slope, 1e-9), _between(points[:, 2], low, high))

    return field


def slot(long: float, wide: float, *, oval: bool) -> Field:
    """A slot across z, long along x, without ends: round ends, or an ellipse, right to the first order near it."""
    a, b = long / 2, wide / 2

    def field(points: Floats) -> Floats:
        x, y = points[:, 0], points[:, 1]
        if not oval:
            return np.hypot(np.maximum(np.abs(x) - (a - b), 0.0), y) - b
        level, slope = np.hypot(x / a, y / b), np.hypot(x / a**2, y / b**2)
        return np.asarray((level - 1) * np.maximum(level, 1e-9) / np.maximum(slope, 1e-9))

    return field


def drawn_out(section: Field, low: float, high: float) -> Field:
    """A section over a stretch of z."""
    return _course(low, high, section)


def swept(places: Floats, turns: Floats, floors: Floats, radius: float, half_angle: float | None) -> Field:
    """What a bit sweeps that points at the axis: round-nosed, or a vee of half its angle.

    Args:
        places: Where its middle stands along z, growing; between them it goes straight on.
        turns: How far around it is at each.
        floors: How far its tip is from the axis there.
        radius: Of the bit.
        half_angle: Of a vee, radians; none: the nose is round.
    """
    # A twisted one is nearest where the bit stands a little farther on or back.
    aside = np.linspace(-1.5, 1.5, 13) * radius if np.ptp(turns) > 0 else np.zeros(1)

    def field(points: Floats) -> Floats:
        nearest = np.full(len(points), np.inf)
        for off in aside:
            place = np.clip(points[:, 2] + off, places[0], places[-1])
            turn, floor = np.interp(place, places, turns), np.interp(place, places, floors)
            out = points[:, 0] * np.cos(turn) + points[:, 1] * np.sin(turn) - floor
            across = points[:, 1] * np.cos(turn) - points[:, 0] * np.sin(turn)
            beside = np.hypot(across, points[:, 2] - place)
            if half_angle is None:
                found = np.hypot(beside, np.minimum(out - radius, 0.0)) - radius
            else:
                found = np.maximum(beside * math.cos(half_angle) - out * math.sin(half_angle), beside - radius)
            nearest = np.minimum(nearest, found)
        return nearest

    return field


def outside_ball(diameter: float, at: float, left: float, right: float) -> Field:
    """All outside a ball over its length, but for a stub at either end; exact where the ball is nearest."""
    radius = diameter / 2

    def field(points: Floats) -> Floats:
        out, along = _radius(points), points[:, 2] - at
        stub = np.where(along < 0, left / 2, right / 2)
        return np.maximum(np.maximum(radius - np.hypot(out, along), np.abs(along) - radius), stub - out)

    return field


def turned(outline: Sequence[tuple[float, float]]) -> Field:
    """What a closed outline of (z, radius) turns."""
    ring = [*outline, outline[0]]

    def field(points: Floats) -> Floats:
        z, r = points[:, 2], _radius(points)
        nearest = np.full(len(points), np.inf)
        inside = np.zeros(len(points), dtype=bool)
        for (z1, r1), (z2, r2) in itertools.pairwise(ring):
            run, rise = z2 - z1, r2 - r1
            square = run * run + rise * rise
            if square < 1e-18:
                continue
            share = np.clip(((z - z1) * run + (r - r1) * rise) / square, 0.0, 1.0)
            nearest = np.minimum(nearest, np.hypot(z - z1 - share * run, r - r1 - share * rise))
            if r1 != r2:
                inside ^= ((r1 > r) != (r2 > r)) & (z < z1 + (r - r1) * run / rise)
        return np.where(inside, -nearest, nearest)

    return field


def outside_of(outline: Sequence[tuple[float, float]]) -> Field:
    """All further out than an outline of (z, radius), over its length."""
    return turned([*outline, (outline[-1][0], FAR), (outline[0][0], FAR)])


def inside_of(outline: Sequence[tuple[float, float]]) -> Field:
    """All between an outline of (z, radius) and the axis."""
    # The axis is no face: the region goes on to the other side of it.
    return turned([*outline, (outline[-1][0], -FAR), (outline[0][0], -FAR)])


def any_of(fields: Sequence[Field]) -> Field:
    """Bodies together."""
    return lambda points: np.minimum.reduce([field(points) for field in fields])


def all_but(field: Field) -> Field:
    """The rest of space."""
    return lambda points: -field(points)


def shrunk(field: Field, left: tuple[float, float, float]) -> Field:
    """A body that got smaller, by another share along each of x, y and z, toward the origin.

    Its surface is where it should be; near it distances are right to the first order, as those to a plane are.

    Args:
        field: Of the body before.
        left: What is left of each size, as a share.
    """
    shares = np.array(left)

    def dried(points: Floats) -> Floats:
        before = points / shares
        slopes = gradient(field, before, step=1e-3) / shares
        return field(before) / np.maximum(np.linalg.norm(slopes, axis=1), 1e-12)

    return dried


def gradient(field: Field, points: Floats, *, step: float) -> Floats:
    """Which way a field grows, N x 3 of length 1."""
    slopes = np.column_stack(
        [(field(points + step * side) - field(points - step * side)) / (2 * step) for side in np.eye(3)]
    )
    return slopes / np.maximum(np.linalg.norm(slopes, axis=1, keepdims=True), 1e-12)


@dataclass(frozen=True, eq=False)
class Frame:
    """A place to measure from: an origin and three directions, z the axis."""

    origin: Floats
    across: Floats
    """Rows: the directions of x, y and z, in part coordinates."""
    left: tuple[float, float, float] = (1.0, 1.0, 1.0)
    """What drying has left of the part's sizes since: places in the frame stay those of the green wood."""

    @classmethod
    def of_part(cls) -> Frame:
        """The part's own."""
        return cls(np.zeros(3), np.eye(3))

    @classmethod
    def along(cls, origin: Floats, direction: Floats) -> Frame:
        """With z along a direction; x and y are any."""
        z = direction / np.linalg.norm(direction)
        helper = np.eye(3)[int(np.abs(z).argmin())]
        x = np.cross(helper, z)
        x /= np.linalg.norm(x)
        return cls(np.asarray(origin, dtype=np.float64), np.array([x, np.cross(z, x), z]))

    @classmethod
    def leaning(cls, origin: Floats, direction: Floats) -> Frame:
        """With z along a direction that is near the part's own, and x as near to the part's as it can be."""
        z = direction / np.linalg.norm(direction)
        x = np.array([1.0, 0.0, 0.0]) - z[0] * z
        x /= np.linalg.norm(x)
        return cls(np.asarray(origin, dtype=np.float64), np.array([x, np.cross(z, x), z]))

    def dried(self, left: tuple[float, float, float]) -> Frame:
        """The same in wood that got smaller, by shares along the part's x, y and z."""
        x, y, z = (before * more for before, more in zip(self.left, left, strict=True))
        return Frame(self.origin, self.across, (x, y, z))

    def now(self) -> Frame:
        """Where it lies in the wood as it is, in millimeters of now."""
        if self.left == (1.0, 1.0, 1.0):
            return self
        shares = np.array(self.left)
        z = self.across[2] * shares
        z /= np.linalg.norm(z)
        x = self.across[0] * shares
        x -= z * float(x @ z)
        x /= np.linalg.norm(x)
        return Frame(self.origin * shares, np.array([x, np.cross(z, x), z]))

    def local(self, points: Floats) -> Floats:
        """Part coordinates seen from here."""
        if self.left != (1.0, 1.0, 1.0):
            points = points / np.array(self.left)
        if not self.origin.any() and np.array_equal(self.across, np.eye(3)):
            return points
        # Column by column: a library that shares small products among threads takes many times as long.
        x, y, z = (points[:, side] - self.origin[side] for side in range(3))
        found = np.empty((3, len(points)))
        for side, (along_x, along_y, along_z) in enumerate(self.across.tolist()):
            found[side] = along_x * x + along_y * y + along_z * z
        return found.T

    def part(self, points: Floats) -> Floats:
        """Back again."""
        return np.asarray((np.einsum("...j,jk->...k", points, self.across) + self.origin) * np.array(self.left))

    def field(self, field: Field) -> Field:
        """A field of this frame, in part coordinates."""
        if self.left != (1.0, 1.0, 1.0):
            return shrunk(Frame(self.origin, self.across).field(field), self.left)
        return lambda points: field(self.local(points))
