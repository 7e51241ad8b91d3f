"""A part whose whole edge goes into a groove, as the base of a tube of staves does.

This module owns how the edge sits there, measured on both solids. How much the wood moves is the trade's.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from handouts_build.workpiece.axes import Axis, Floats
from handouts_build.workpiece.blanks import regular_polygon
from handouts_build.workpiece.faults import WorkpieceFault, said
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.measures import radial_crossings
from handouts_build.workpiece.solid import Solid

__all__ = ["Edge", "edge_in"]

_MANY = 1440
_RAYS = np.arange(_MANY) * 2 * math.pi / _MANY + 0.00113
"""Angles at which edge and groove are measured; none lies where polygons tend to have corners."""
_BESIDE_MM = 0.05
"""How far beside a groove the opening is measured that it is cut into."""


@dataclass(frozen=True)
class Edge:
    """How an edge sits in a groove, measured on the wood of both; mm."""

    groove_mm: float
    """Least width of the groove's floor, across."""
    edge_mm: float
    """Greatest width of the part at its edge, across from flat to flat."""
    room_mm: float
    """From the edge to the floor where the two are nearest, on one side; less than nought where it does not go in."""
    catch_mm: float
    """How far the edge lies behind the staves where it does so least, beside the middle of each, on one side."""
    open_share: float
    """Share of a turn in which the edge does not reach behind the staves at all."""
    wide_mm: float
    """Width of the groove, along the axis."""
    thick_mm: float
    """Thickness of the part where it goes in."""
    at_mm: float
    """Middle of that thickness, along the part's own axis."""


def edge_in(own: Solid, around: Solid, groove: Feature, *, turn_rad: float) -> Edge:
    """How the edge of a part sits in a groove.

    Args:
        own: The wood of the part that is let in, about its own axis.
        around: The wood with the groove, seen from the groove's axis, which begins at its side.
        groove: The groove.
        turn_rad: How far the part is turned about the axis, radians.

    Returns:
        What was measured. Its catch is nought and its thickness that of the part where no edge reaches the groove.

    Raises:
        WorkpieceFault: If it is no groove in staves, or a later cut took the wood around it.
    """
    if groove.kind is not FeatureKind.GROOVE or not groove.sides:
        raise WorkpieceFault(f"'{groove.name}' is no groove in staves", "name a stave groove of the part")
    floor, before, after = (
        _inner(around, place) for place in (groove.long_mm / 2, -_BESIDE_MM, groove.long_mm + _BESIDE_MM)
    )
    if floor is None or before is None or after is None:
        raise WorkpieceFault(
            f"there are no staves left all around '{groove.name}'",
            f"leave wood on both sides of it: it is {said(groove.long_mm)} wide",
        )
    opening = np.maximum(before, after)
    # The flats of the opening are those of the groove: its width is where a flat is nearest to the axis.
    flats = _flats(groove.sides)
    across = 2 * float(opening[flats].mean())
    box = own.box_mm
    inner = Solid.prism([regular_polygon(groove.sides, across)], start_mm=box[2] - 1, end_mm=box[5] + 1)
    turned = own.moved(Axis((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), (math.cos(turn_rad), math.sin(turn_rad), 0.0)))
    edge = turned - inner
    low, high = (edge.box_mm[2], edge.box_mm[5]) if not edge.is_empty else (box[2], box[5])
    out = _outer(turned, (low + high) / 2)
    # From a point to the plane of the flat that it stands before, which is less than the way along its ray.
    side = 2 * math.pi / groove.sides
    lean = np.cos((_RAYS + side / 2) % side - side / 2)
    return Edge(
        groove_mm=2 * float(floor.min()),
        edge_mm=2 * float(out[flats].max()),
        room_mm=float(((floor - out) * lean).min()),
        catch_mm=float((out - opening)[flats].min()),
        open_share=float((out < opening).mean()),
        wide_mm=groove.long_mm,
        thick_mm=high - low,
        at_mm=(low + high) / 2,
    )


def _flats(sides: int) -> list[int]:
    """Which of the rays lie nearest to the middles of the flats, the first across angle 0."""
    return [round(_MANY * side / sides) % _MANY for side in range(sides)]


def _inner(wood: Solid, place: float) -> Floats | None:
    """From the axis to the wood around it, at each ray; none where it is not all around. mm."""
    crossings = radial_crossings(wood.section(place), _RAYS)
    if any(not len(radii) or len(radii) % 2 for radii in crossings):
        return None
    return np.array([radii[0] for radii in crossings])


def _outer(wood: Solid, place: float) -> Floats:
    """From the axis to the outermost wood, at each ray; nought where there is none. mm."""
    return np.array([radii[-1] if len(radii) else 0.0 for radii in radial_crossings(wood.section(place), _RAYS)])
