"""Solids for trial pictures, whose true measures are known in closed form."""

from __future__ import annotations

import math

import numpy as np

from handouts_build.figures.solid.camera import Camera
from handouts_build.figures.solid.holds import revolved
from handouts_build.figures.solid.mesh import Bounds, SurfaceMesh, Vector

ALONG: Vector = (1.0, 0.0, 0.0)
HERE: Vector = (0.0, 0.0, 0.0)


def fit(bounds: Bounds, *, direction: Vector = (0.42, -1.0, 0.46)) -> Camera:
    """A view with x to the right and z up, as these solids lie."""
    return Camera.fit(bounds, direction=direction, up=(0.0, 0.0, 1.0))


def turned(profile: list[tuple[float, float]], *, around: int = 192) -> SurfaceMesh:
    """A profile (along x, from it) turned about the x axis."""
    return revolved(profile, at=HERE, direction=ALONG, around=around)


def arc(radius: float, start: float, stop: float, steps: int = 96) -> list[tuple[float, float]]:
    """Points of a ball's outline between two angles from the axis, in degrees."""
    angles = np.radians(np.linspace(start, stop, steps + 1))
    return [(radius * math.cos(each), radius * math.sin(each)) for each in angles]


def ball(radius: float, *, around: int = 192) -> SurfaceMesh:
    return turned([(radius, 0.0), *arc(radius, 0, 180)[1:-1], (-radius, 0.0)], around=around)


def bored_ball(radius: float, bore: float, *, around: int = 192) -> tuple[SurfaceMesh, SurfaceMesh]:
    """A ball with a hole along x, and what the hole took."""
    edge = math.degrees(math.asin(bore / radius))
    ring = turned(arc(radius, edge, 180 - edge), around=around)
    near, far = arc(radius, 0, edge, 12), arc(radius, 180 - edge, 180, 12)
    plug = turned([(radius, 0.0), *near[1:], *far[:-1], (-radius, 0.0)], around=around)
    return ring, plug


def rod(radius: float, start: float, stop: float, *, around: int = 192) -> SurfaceMesh:
    return turned([(start, 0.0), (stop, 0.0), (stop, radius), (start, radius)], around=around)


def collar(inner: float, outer: float, start: float, stop: float, *, around: int = 192) -> SurfaceMesh:
    """A ring around x: what turning a rod down takes away."""
    return turned([(start, inner), (stop, inner), (stop, outer), (start, outer)], around=around)


def shell(inner: float, outer: float) -> SurfaceMesh:
    """A ball with a closed hollow in its middle."""
    out, into = ball(outer), ball(inner)
    return SurfaceMesh.of(
        np.concatenate([out.vertices, into.vertices]),
        np.concatenate([out.triangles, into.triangles[:, ::-1] + len(out.vertices)]),
    )


def cube(side: float) -> SurfaceMesh:
    half = side / 2
    corners = [(x, y, z) for x in (-half, half) for y in (-half, half) for z in (-half, half)]
    faces = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
    return SurfaceMesh.of(corners, [one for a, b, c, d in faces for one in ((a, b, c), (a, c, d))])
