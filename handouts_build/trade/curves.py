"""One stretch of a turned outline, and the exact wood inside it.

This module owns the only curve the outlines are built of: a straight line, an
elliptic arc, or the sum of both. With y the distance along the axis from the
stretch's own middle,

    r(y) = a + b y + c √(1 - (y/e)²)

is a line where c = 0, a half-ellipse on a sloping base where |y| goes up to e, and
an arc of a circle where |c| = e and b = 0. Volume and first moment are integrals of
disks, π r² dy, done in closed form. The surface, 2π ∫ r ds, has a closed form for the
line alone; for the rest it is summed over the angle. Which stretches make a bead or
an ogee is for `profiles`. Lengths here are floats in millimetres.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

__all__ = ["Stretch", "arc", "half_ellipse", "line", "quarter_ellipse"]

STEPS = 64
"""Straight pieces a curved stretch is drawn with."""


@dataclass(frozen=True)
class Stretch:
    """Part of an outline, from `x0` to `x1` along the axis."""

    x0: float
    x1: float
    middle: float
    """Where y is nought."""
    a: float
    b: float = 0.0
    c: float = 0.0
    e: float = 1.0

    @property
    def curved(self) -> bool:
        """Whether it is more than a straight line."""
        return self.c != 0

    def radius(self, x: float) -> float:
        """The radius at x."""
        y = x - self.middle
        return self.a + self.b * y + self.c * _root(y / self.e)

    def points(self) -> list[tuple[float, float]]:
        """Points (x, r) along it, ends included, closer where it is steeper."""
        if not self.curved:
            return [(self.x0, self.radius(self.x0)), (self.x1, self.radius(self.x1))]
        first, last = (math.asin(_clamped((x - self.middle) / self.e)) for x in (self.x0, self.x1))
        inner = (self.middle + self.e * math.sin(first + (last - first) * step / STEPS) for step in range(1, STEPS))
        return [(x, self.radius(x)) for x in (self.x0, *inner, self.x1)]

    def turning(self) -> float | None:
        """Where inside it the radius is greatest or least, if not at an end.

        The slope b - (c/e) v / √(1 - v²), with v = y/e, is nought at
        v = be / √((be)² + c²), on the side of c's sign.
        """
        if not self.curved:
            return None
        rise = self.b * self.e
        x = self.middle + math.copysign(1.0, self.c) * self.e * rise / math.hypot(rise, self.c)
        return x if self.x0 < x < self.x1 else None

    def volume(self) -> float:
        """Wood between its ends, mm³."""
        return math.pi * (self._disks(self.x1) - self._disks(self.x0))

    def moment(self) -> float:
        """Volume times the distance of its center of gravity from x = 0, mm⁴."""
        return math.pi * (self._levers(self.x1) - self._levers(self.x0)) + self.middle * self.volume()

    def surface(self) -> float:
        """Surface around it between its ends, mm².

        A line is a frustum: π (r₀ + r₁) times its slant. With y = e sin θ the rest is
        2π ∫ r √((e cos θ)² + (b e cos θ - c sin θ)²) dθ, smooth, by Simpson's rule.
        """
        if not self.curved:
            first, last = self.radius(self.x0), self.radius(self.x1)
            return math.pi * (first + last) * math.hypot(self.x1 - self.x0, last - first)
        start, end = (math.asin(_clamped((x - self.middle) / self.e)) for x in (self.x0, self.x1))
        step = (end - start) / (2 * STEPS)
        weights = (1, *(4 if one % 2 else 2 for one in range(1, 2 * STEPS)), 1)
        return (
            2 * math.pi * step / 3 * sum(weight * self._band(start + step * one) for one, weight in enumerate(weights))
        )

    def _band(self, angle: float) -> float:
        """Radius times length of outline for an angle, at y = e sin(angle)."""
        sine, cosine = math.sin(angle), math.cos(angle)
        radius = self.a + self.b * self.e * sine + self.c * cosine
        return radius * math.hypot(self.e * cosine, self.b * self.e * cosine - self.c * sine)

    def _disks(self, x: float) -> float:
        """Antiderivative of r² at x."""
        y = x - self.middle
        a, b, c, e, v = self.a, self.b, self.c, self.e, _clamped(y / self.e)
        straight = a * a * y + a * b * y**2 + b * b * y**3 / 3
        if not c:
            return straight
        root = e / 2 * (v * _root(v) + math.asin(v))
        y_root = -e * e / 3 * _root(v) ** 3
        return straight + 2 * c * (a * root + b * y_root) + c * c * (y - y**3 / (3 * e * e))

    def _levers(self, x: float) -> float:
        """Antiderivative of y r² at x."""
        y = x - self.middle
        a, b, c, e, v = self.a, self.b, self.c, self.e, _clamped(y / self.e)
        straight = a * a * y**2 / 2 + 2 * a * b * y**3 / 3 + b * b * y**4 / 4
        if not c:
            return straight
        y_root = -e * e / 3 * _root(v) ** 3
        yy_root = e**3 / 8 * (math.asin(v) - v * (1 - 2 * v * v) * _root(v))
        return straight + 2 * c * (a * y_root + b * yy_root) + c * c * (y**2 / 2 - y**4 / (4 * e * e))


def line(x0: float, x1: float, *, r0: float, r1: float) -> Stretch:
    """A straight line from radius r0 to r1."""
    return Stretch(x0, x1, x0, r0, (r1 - r0) / (x1 - x0))


def half_ellipse(x0: float, x1: float, *, r0: float, r1: float, crest: float) -> Stretch:
    """A half-ellipse on the sloping base line from r0 to r1, its extreme radius exactly `crest`.

    With the base at mid-length m and s = (r1 - r0) / 2, the extreme of
    m + s v + c √(1 - v²) is m ± √(s² + c²); so c = ±√((crest - m)² - s²).

    Args:
        x0: Start along the axis, mm.
        x1: End along the axis, mm.
        r0: Radius at the start, mm.
        r1: Radius at the end, mm.
        crest: Radius above both (a bead) or below both (a cove), mm.
    """
    half, base, slope = (x1 - x0) / 2, (r0 + r1) / 2, (r1 - r0) / 2
    height = math.sqrt(max(0.0, (crest - base) ** 2 - slope**2))
    return Stretch(x0, x1, (x0 + x1) / 2, base, slope / half, math.copysign(height, crest - base), half)


def quarter_ellipse(x0: float, x1: float, *, r0: float, r1: float, swells: bool = True) -> Stretch:
    """A quarter-ellipse between two radii, level at one end and square to the axis at the other.

    Args:
        x0: Start along the axis, mm.
        x1: End along the axis, mm.
        r0: Radius at the start, mm.
        r1: Radius at the end, mm.
        swells: Whether it bulges outward, level at the larger radius (a dome, an
            ovolo), or is hollowed, level at the smaller one (a cavetto).
    """
    base, level = (min(r0, r1), max(r0, r1)) if swells else (max(r0, r1), min(r0, r1))
    middle = x0 if r0 == level else x1
    return Stretch(x0, x1, middle, base, 0.0, level - base, x1 - x0)


def arc(x0: float, x1: float, *, middle: float, level: float, radius: float) -> Stretch:
    """An arc of a circle that is level, at the radius `level`, at `middle`.

    Args:
        x0: Start along the axis, mm.
        x1: End along the axis, mm.
        middle: Where along the axis the circle's center lies, mm.
        level: Radius of the outline there, mm.
        radius: Radius of the circle, mm; less than nought where the arc turns outward.
    """
    return Stretch(x0, x1, middle, level - radius, 0.0, radius, abs(radius))


def _clamped(v: float) -> float:
    """A share of the half-axis, kept to -1 to 1 against the last digit."""
    return max(-1.0, min(1.0, v))


def _root(v: float) -> float:
    return math.sqrt(max(0.0, 1 - v * v))
