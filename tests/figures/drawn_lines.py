"""A drawing read back from its SVG: lettering, lines and what covers them, in the order of painting.

Shares nothing with the layout: lettering is measured by Pillow, curves are flattened here.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from xml.etree import ElementTree

import numpy as np
from made import Lettering, lettering
from numpy.typing import NDArray

__all__ = ["Painted", "crossings", "painted"]

_SVG = "{http://www.w3.org/2000/svg}"
_TOKEN = re.compile(r"[A-Za-z]|-?\d*\.?\d+(?:e-?\d+)?")
_HAIR = 0.25
"""Lettering's box is made smaller by this on every side, in points: what only touches it does not cross it."""

Ring = NDArray[np.float64]


@dataclass(frozen=True)
class Painted:
    """One element, in its order."""

    order: int
    text: Lettering | None = None
    lines: tuple[Ring, ...] = ()
    """Runs of points that are seen as lines: strokes, and the edges of what is filled with ink."""
    cover: tuple[Ring, ...] = ()
    """Closed outlines that hide what was painted before."""


def painted(svg: str) -> list[Painted]:
    """Every element that paints, from the first to the last."""
    found = []
    for order, element in enumerate(ElementTree.fromstring(svg).iter()):
        if element.tag == f"{_SVG}text":
            found.append(Painted(order, text=lettering(element)))
        elif element.tag == f"{_SVG}path":
            found.append(_path(order, element))
        elif element.tag in (f"{_SVG}g", f"{_SVG}svg", f"{_SVG}defs", f"{_SVG}clipPath", f"{_SVG}title"):
            assert "transform" not in element.attrib
        else:
            raise AssertionError(f"nobody reads {element.tag} back")
    return found


def _path(order: int, element: ElementTree.Element) -> Painted:
    style = dict(part.strip().split(": ", 1) for part in element.attrib.get("style", "").split(";") if part.strip())
    runs = _runs(element.attrib["d"])
    fill, stroke = style.get("fill", "#000000"), style.get("stroke", "none")
    inked = fill != "none" and stroke == "none" and fill in ("#101012", "#a8320c")
    return Painted(order, lines=runs if stroke != "none" or inked else (), cover=runs if fill != "none" else ())


def _runs(data: str) -> tuple[Ring, ...]:
    """A path's runs of points; curves as chords."""
    tokens = _TOKEN.findall(data)
    runs: list[list[tuple[float, float]]] = []
    index, command = 0, ""

    def take(count: int) -> list[tuple[float, float]]:
        nonlocal index
        numbers = [float(token) for token in tokens[index : index + 2 * count]]
        index += 2 * count
        return list(zip(numbers[::2], numbers[1::2], strict=True))

    while index < len(tokens):
        if tokens[index].isalpha():
            command = tokens[index]
            index += 1
            if command in "zZ":
                runs[-1].append(runs[-1][0])
                continue
        if command == "M":
            runs.append(take(1))
        elif command == "L":
            runs[-1] += take(1)
        elif command in "QC":
            ends = np.array([runs[-1][-1], *take(2 if command == "Q" else 3)])
            for share in np.linspace(0, 1, 13)[1:]:
                points = ends
                while len(points) > 1:
                    points = points[:-1] + (points[1:] - points[:-1]) * share
                runs[-1].append((float(points[0, 0]), float(points[0, 1])))
        else:
            raise AssertionError(f"nobody reads the command {command} back")
    return tuple(np.array(run) for run in runs)


def crossings(svg: str) -> list[str]:
    """Every line that is seen across lettering."""
    elements = painted(svg)
    wrong = []
    for each in elements:
        if each.text is None:
            continue
        box = each.text
        low = np.array([box.left + _HAIR, box.top + _HAIR])
        high = np.array([box.right - _HAIR, box.bottom - _HAIR])
        for other in elements:
            points = [point for run in other.lines for point in _within(run, low, high)]
            if not points:
                continue
            covers = [one for one in elements if one.cover and other.order < one.order < each.order]
            bare = [point for point in points if not any(_inside(point, one.cover) for one in covers)]
            if bare:
                wrong.append(f"a line runs through {box.text!r} at {bare[0][0]:.1f}, {bare[0][1]:.1f}")
                break
    return wrong


def _within(run: Ring, low: Ring, high: Ring) -> list[Ring]:
    """Points of a run that lie in a box: of each segment that enters it, ends and middle of what is within."""
    start, way = run[:-1], run[1:] - run[:-1]
    with np.errstate(divide="ignore", invalid="ignore"):
        first, second = (low - start) / way, (high - start) / way
    level = np.abs(way) < 1e-9
    inside = (start > low) & (start < high)
    enters = np.where(level, np.where(inside, -np.inf, np.inf), np.minimum(first, second)).max(1)
    leaves = np.where(level, np.where(inside, np.inf, -np.inf), np.maximum(first, second)).min(1)
    enters, leaves = np.maximum(enters, 0), np.minimum(leaves, 1)
    met = np.flatnonzero(enters < leaves - 1e-9)
    return [
        start[index] + way[index] * share
        for index in met
        for share in np.linspace(enters[index], leaves[index], 7)[1:-1]
    ]


def _inside(point: Ring, rings: tuple[Ring, ...]) -> bool:
    """Whether a point lies within an odd number of outlines."""
    odd = False
    x, y = point
    for ring in rings:
        closed = ring if np.array_equal(ring[0], ring[-1]) else np.vstack([ring, ring[:1]])
        (x0, y0), (x1, y1) = closed[:-1].T, closed[1:].T
        met = (y0 > y) != (y1 > y)
        places = x0[met] + (y - y0[met]) / (y1[met] - y0[met]) * (x1[met] - x0[met])
        odd ^= bool((places > x).sum() % 2)
    return odd
