"""A project's stages as one small script, for turning them in a page.

This module owns the packing and is the counterpart of `solid.js`, which undoes it.
The script works from a disk: it fetches nothing and calls `HandoutsSolid.receive`.

The packing, form 1. All stages share one grid of 2^14 steps. A stage's points come in
the order in which its triangles first name them, as differences from the point before,
zigzag (0, −1, 1, −2 … → 0, 1, 2, 3 …): for x, y and z in turn the low bytes of all
points, then their high bytes. Then for each triangle's corner how far its point stands
behind the next new point (0 is the new point itself): the low bytes of all corners,
their middle bytes, their high bytes. A stage that is the same as an earlier one has no
bytes; `as` names the other. The bytes of all stages together are compressed (zlib,
RFC 1950) and written in base64. Triangles are put in an order in which neighbors follow
one another, which halves what is left.

A stage that is glued up of woods says which of `stacks` it is cut from, how that lies, and
what is let into it: the page finds the wood of each point as `glue.py` does.
"""

from __future__ import annotations

import base64
import json
import zlib
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from handouts_build.figures.solid.bark import Bark
from handouts_build.figures.solid.camera import Camera
from handouts_build.figures.solid.glue import GlueUp
from handouts_build.figures.solid.mesh import Floats, Ints, SurfaceMesh, bounds_of

__all__ = ["FORM", "PackedStage", "packed", "payload"]

FORM = 1
"""Number of the packing; the page refuses any other."""

_STEPS = 2**14 - 1


@dataclass(frozen=True)
class PackedStage:
    """The wood after one step."""

    name: str
    """What the step is called."""
    mesh: SurfaceMesh
    """A coarse one will do: some 64 facets to a turn, points within 0.1 mm."""
    bark: Bark | None = None
    """The log or branch that all of it is cut from, if it bears bark."""
    glued: GlueUp | None = None
    """The blank that all of it is cut from, if it is glued up of woods or has others let into it."""


def packed(name: str, stages: Sequence[PackedStage], *, camera: Camera, title: str) -> str:
    """The script that brings a project's stages to its page.

    Args:
        name: What the page calls it.
        stages: The wood after each step, in order, the blank first.
        camera: The view it opens with.
        title: What it shows, in words.

    Returns:
        A classic script of ASCII letters only.
    """
    # In a script element set into a page, "</" would end it.
    said = [
        json.dumps(each, separators=(",", ":")).replace("</", "<\\/")
        for each in (name, payload(stages, camera=camera, title=title))
    ]
    return f"HandoutsSolid.receive({said[0]},{said[1]});\n"


def payload(stages: Sequence[PackedStage], *, camera: Camera, title: str, effort: int = 9) -> dict[str, object]:
    """A project's stages as plain values, for JSON.

    Args:
        stages: The wood after each step, in order, the blank first.
        camera: The view it opens with.
        title: What it shows, in words.
        effort: How hard they are compressed, 1 to 9: what is shown once need not be small.
    """
    low, high = (np.array(each) for each in bounds_of([stage.mesh for stage in stages]))
    step = max(float((high - low).max()), 1e-6) / _STEPS
    listed: list[dict[str, object]] = []
    body: dict[bytes, int] = {}
    stacks: list[list[list[object]]] = []
    for stage in stages:
        points, triangles = _ordered(stage.mesh, low=low, step=step)
        stream = _stream(points, triangles)
        entry: dict[str, object] = {"name": stage.name}
        listed.append(entry)
        if stage.glued is not None:
            if stage.glued.stack not in stacks:
                stacks.append(stage.glued.stack)
            lies = [round(number, 5) for number in stage.glued.lies]
            entry["glued"] = {"stack": stacks.index(stage.glued.stack), "lies": lies, "rounds": stage.glued.rounds}
        if stream in body:
            entry["as"] = body[stream]
            continue
        body[stream] = len(listed) - 1
        entry |= {"points": len(points), "triangles": len(triangles)}
        if stage.bark is not None:
            grown = [*stage.bark.middle, *stage.bark.along, stage.bark.under_mm]
            # Wood that has dried since is looked at as it was.
            grown += [number for row in stage.bark.as_grown for number in row]
            entry["grown"] = [round(number, 5) for number in grown]
    return {
        "form": FORM,
        "title": title,
        "low": [round(float(each), 5) for each in low],
        "high": [round(float(each), 5) for each in high],
        "step": step,
        "up": camera.upright,
        "toward": camera.toward,
        "stages": listed,
        "stacks": stacks,
        "data": base64.b64encode(zlib.compress(b"".join(body), effort)).decode("ascii"),
    }


def _ordered(mesh: SurfaceMesh, *, low: Floats, step: float) -> tuple[Ints, Ints]:
    """Points on the grid, each once, in the order in which triangles first name them; and those triangles."""
    grid = np.clip(np.round((mesh.vertices.astype(float) - low) / step), 0, _STEPS).astype(np.int64)
    code = (grid[:, 0] << 28) | (grid[:, 1] << 14) | grid[:, 2]
    spots, same = np.unique(code, return_inverse=True)
    triangles = same.reshape(-1)[mesh.triangles.astype(np.int64)].reshape(-1, 3)
    # What the grid has made a line or a point is not seen.
    triangles = _walked(triangles[(triangles != np.roll(triangles, 1, axis=1)).all(1)])
    named, first, back = np.unique(triangles.reshape(-1), return_index=True, return_inverse=True)
    order = np.argsort(first, kind="stable")
    rank = np.empty_like(order)
    rank[order] = np.arange(len(order))
    chosen = spots[named[order]]
    points = np.stack([chosen >> 28, chosen >> 14 & _STEPS, chosen & _STEPS], 1)
    return points, rank[back.reshape(-1)].reshape(-1, 3)


def _walked(triangles: Ints) -> Ints:
    """The triangles from neighbor to neighbor, each turned so that it begins with the edge it is reached by."""
    # An edge is told by its number, three times that of its triangle and 0, 1 or 2; to each the one that runs back.
    starts, stops = triangles.reshape(-1), triangles[:, [1, 2, 0]].reshape(-1)
    most = int(triangles.max(initial=0)) + 1
    there, back = starts * most + stops, stops * most + starts
    order = np.argsort(there, kind="stable")
    place = np.searchsorted(there[order], back, side="right") - 1
    found = order[np.maximum(place, 0)]
    beside: list[int] = np.where(there[found] == back, found, -1).tolist()
    free = [True] * len(triangles)
    walked = []
    for start in range(len(triangles)):
        ahead = [3 * start]
        while ahead:
            edge = ahead.pop()
            number, turn = divmod(edge, 3)
            if not free[number]:
                continue
            free[number] = False
            walked.append(edge)
            for following in (2, 1):
                other = beside[3 * number + (turn + following) % 3]
                if other >= 0 and free[other // 3]:
                    ahead.append(other)
    path = np.array(walked, np.int64)[:, None]
    made: Ints = triangles[path // 3, (path + np.arange(3)) % 3]
    return made


def _stream(points: Ints, triangles: Ints) -> bytes:
    """One stage's bytes."""
    step = np.diff(points, axis=0, prepend=0)
    zigzag = np.where(step < 0, -2 * step - 1, 2 * step)
    corners = triangles.reshape(-1)
    fresh = np.maximum.accumulate(np.concatenate([[-1], corners[:-1]])) + 1
    behind = fresh - corners if len(corners) else corners
    planes = [column >> shift for column in zigzag.T for shift in (0, 8)] + [behind >> shift for shift in (0, 8, 16)]
    return b"".join((plane & 255).astype(np.uint8).tobytes() for plane in planes)
