"""One stretch of a turned outline, and the exact wood inside it.

This module owns the only curve the outlines are built of: a straight line, an
elliptic arc, or the sum of both. With y the distance along the axis from the
stretch's own middle,

    r(y) = a + b y + c √(1 - (y/e)²)

is a line where c = 0, a half-ellipse on a sloping base where |y| goes up to e, and
an arc of a circle where |c| = e and b = 0. Volume and first moment are integrals of
disks, π r² dy, done in closed form. The surface, 2π ∫ r ds, has a closed form for the
line alone; for the rest it is summed over the angle. All of it stands as laws, so that
a page works it out again by the same words. Which stretches make a bead or an ogee is
for `profiles`. Lengths here are floats in millimetres.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from handouts_build.trade.rows import Rows, summed

__all__ = ["HALF_BEAD", "HALF_COVE", "Stretch", "arc_laws", "curve_rows", "line_rows", "quarter_laws"]

STEPS = 64
"""Straight pieces a curved stretch is drawn with, and steps its surface is summed in."""


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

    @classmethod
    def from_rows(cls, values: Mapping[str, float], name: str) -> Stretch:
        """A stretch by the rows of `line_rows` or `curve_rows`.

        Args:
            values: The rows' values.
            name: What the rows' names begin with.
        """
        x0, x1, y0, a, b = (values[f"{name}.{row}"] for row in ("x0", "x1", "y0", "a", "b"))
        return cls(x0, x1, x0 - y0, a, b, values.get(f"{name}.c", 0.0), values.get(f"{name}.e", 1.0))

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


def line_rows(rows: Rows, name: str, /, **stands_for: str) -> None:
    """Rows for a straight line: a frustum.

    Args:
        rows: Where they go.
        name: What their names begin with.
        **stands_for: The rows or givens that are x0, long, d0 and d1: where it starts, its length, and the diameters
            at its ends.
    """
    _begun(rows, name, stands_for)
    _each(rows, name, stands_for, {"y0": "0 mm", "a": "d0 / 2", "b": "(d1 - d0) / 2 / long"} | _FRUSTUM)


def curve_rows(rows: Rows, name: str, laws: Mapping[str, str], /, **stands_for: str) -> None:
    """Rows for a curve.

    Args:
        rows: Where they go.
        name: What their names begin with.
        laws: Its y0, a, b, c and e: `HALF_BEAD` and the others.
        **stands_for: The rows or givens that are x0 and long, where it starts and its length, and what the laws need.
    """
    _begun(rows, name, stands_for)
    _each(rows, name, stands_for, {**laws, "y1": "y0 + long"} | _CURVE)
    known = {short: f"{name}.{short}" for short in ("a", "b", "c", "e", "first", "turn")}
    band = summed(_BAND, index="i", last=STEPS)
    rows.add(f"{name}.bands", band, **known)
    _each(rows, name, {}, {"surface": "2 * pi * turn * (pi / 180 deg) * bands"})


def _begun(rows: Rows, name: str, stands_for: Mapping[str, str]) -> None:
    rows.add(f"{name}.x0", "x0", x0=stands_for["x0"])
    rows.add(f"{name}.x1", "x0 + long", x0=stands_for["x0"], long=stands_for["long"])


def _each(rows: Rows, name: str, stands_for: Mapping[str, str], laws: Mapping[str, str]) -> None:
    own = {short: f"{name}.{short}" for short in ("x0", "y0", "y1", "a", "b", "c", "e", *_CURVE, "bands")}
    for key, text in laws.items():
        rows.add(f"{name}.{key}", text, **own | dict(stands_for))


_FRUSTUM = {
    "volume": "pi * long / 12 * (d0^2 + d0 * d1 + d1^2)",
    "moment": "x0 * volume + pi * long^2 / 48 * (d0^2 + 2 * d0 * d1 + 3 * d1^2)",
    "surface": "pi / 2 * (d0 + d1) * sqrt(long^2 + ((d1 - d0) / 2)^2)",
}
"""Wood, wood times the distance of its center of gravity from x = 0, and surface around a frustum."""

_CURVE = {
    "v0": "y0 / e",
    "v1": "y1 / e",
    "q0": "sqrt(max(0, 1 - v0^2))",
    "q1": "sqrt(max(0, 1 - v1^2))",
    "first": "asin(v0)",
    "turn": "(asin(v1) - first) / 64",
    # An arc's angle as a plain number, its length over its radius.
    "t0": "asin(v0) * (pi / 180 deg)",
    "t1": "asin(v1) * (pi / 180 deg)",
    # With q = √(1 - v²): integrals of q, y q and y² q along the axis.
    "root": "e / 2 * (v1 * q1 + t1 - v0 * q0 - t0)",
    "y_root": "e^2 / 3 * (q0^3 - q1^3)",
    "yy_root": "e^3 / 8 * (t1 - v1 * (1 - 2 * v1^2) * q1 - t0 + v0 * (1 - 2 * v0^2) * q0)",
    "y_1": "y1 - y0",
    "y_2": "(y1^2 - y0^2) / 2",
    "y_3": "(y1^3 - y0^3) / 3",
    "y_4": "(y1^4 - y0^4) / 4",
    "volume": "pi * (a^2 * y_1 + 2 * a * b * y_2 + b^2 * y_3 + 2 * c * (a * root + b * y_root)"
    " + c^2 * (y_1 - y_3 / e^2))",
    "lever": "pi * (a^2 * y_2 + 2 * a * b * y_3 + b^2 * y_4 + 2 * c * (a * y_root + b * yy_root)"
    " + c^2 * (y_2 - y_4 / e^2))",
    "moment": "lever + (x0 - y0) * volume",
}
"""The same wood and moment under any other stretch, by disks."""

# With y = e sin θ the surface is 2π ∫ r √((e cos θ)² + (b e cos θ - c sin θ)²) dθ, smooth; by Simpson's rule, whose
# weights are 1, 4, 2, 4 … 4, 1 thirds.
_BAND = (
    "min(3 - cos(180 deg * i), 1 + 3 * i, 193 - 3 * i) / 3"
    " * (a + b * e * sin(first + turn * i) + c * cos(first + turn * i))"
    " * sqrt((e * cos(first + turn * i))^2 + (b * e * cos(first + turn * i) - c * sin(first + turn * i))^2)"
)

# A half-ellipse on the sloping base line from d0 to d1, its extreme exactly d. With the base at mid-length m and
# s = (r1 - r0) / 2, the extreme of m + s v + c √(1 - v²) is m ± √(s² + c²); so c² = (r - m)² - s² = (r - r0)(r - r1).
_HALF = {"e": "long / 2", "y0": "-(long / 2)", "a": "(d0 + d1) / 4", "b": "(d1 - d0) / 2 / long"}
HALF_BEAD = {**_HALF, "c": "sqrt((d - d0) * (d - d1)) / 2"}
"""A half-ellipse that rises to the diameter d."""
HALF_COVE = {**_HALF, "c": "-sqrt((d - d0) * (d - d1)) / 2"}
"""A half-ellipse that sinks to the diameter d."""


def quarter_laws(*, swells: bool) -> dict[str, str]:
    """A quarter-ellipse from d0 to d1, level at one end and square to the axis at the other.

    Args:
        swells: Whether it bulges outward, level at the larger diameter (a dome, an
            ovolo), or is hollowed, level at the smaller one (a cavetto).
    """
    base, sign, level = ("min", "", "d0 / max(d0, d1)") if swells else ("max", "-", "min(d0, d1) / d0")
    # Whole steps of 1 in `level` are 1 where it starts level, and 0 where it ends level.
    return {
        "e": "long",
        "y0": f"(round_down({level}, 1) - 1) * long",
        "a": f"{base}(d0, d1) / 2",
        "b": "0",
        "c": f"{sign}abs(d1 - d0) / 2",
    }


def arc_laws(*, first: bool) -> dict[str, str]:
    """One of the two equal arcs of an ogee, level at the ogee's end.

    Each rises h/2 over a run of L/2, so its radius is (L² + h²) / 4h. So that a line
    without any rise is one too, arcs are those of at least a rise of L/10,000, flattened.

    Args:
        first: Whether it is the one at the start, level at d0, or the other, level at d1.
    """
    if first:
        return {"e": "round", "y0": "0 mm", "a": "d0 / 2 + share * round", "b": "0", "c": "-(share * round)"}
    return {"e": "round", "y0": "-long", "a": "d1 / 2 - share * round", "b": "0", "c": "share * round"}


def _clamped(v: float) -> float:
    """A share of the half-axis, kept to -1 to 1 against the last digit."""
    return max(-1.0, min(1.0, v))


def _root(v: float) -> float:
    return math.sqrt(max(0.0, 1 - v * v))
