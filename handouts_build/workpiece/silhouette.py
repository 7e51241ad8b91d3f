"""What the wood looks like from the side, read off the solid: its outline in the plane of an axis.

This module owns the outline: the greatest distance of wood from the axis at every place
along it, or the least, within a hollow. It judges nothing. Whoever holds a card against
the work stops it where it is widest, so flats and holes leave the outline as it is, and
a bore opens it at the end.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from handouts_build.workpiece.axes import Axis, Floats
from handouts_build.workpiece.regions import thinned
from handouts_build.workpiece.solid import Solid, round_factor

__all__ = ["silhouette"]

_EVERY_MM = 0.5
"""Between corners of the solid, the outline is read at least this often."""
_GRID = 5
"""Places are told apart to this many decimals of a millimetre."""
_NEAR_MM = 0.02
"""How far the outline may lie from the solid."""
_BARE_MM = 0.5
"""Along more than this without wood there is no outline."""


def silhouette(
    wood: Solid, axis: Axis, *, start_mm: float, end_mm: float, segments: int, hollow: bool = False
) -> tuple[tuple[float, float], ...]:
    """The outline as points (place along the axis, radius), in mm, places growing.

    Args:
        wood: In part coordinates.
        axis: Which it is seen about.
        start_mm: Where the outline begins, along the axis.
        end_mm: Where it ends.
        segments: Sides that a circle about the axis is drawn with.
        hollow: Whether the inside is wanted, not the outside.

    Returns:
        The points; none where the wood does not reach from the start to the end.
    """
    corners = axis.to_lathe(wood.corners())
    corners[..., 2] = np.round(corners[..., 2], _GRID)
    # Every edge is there once each way; the outline is read off those that run forward along the axis.
    sides = [(corners[:, first], corners[:, second]) for first, second in ((0, 1), (1, 2), (2, 0))]
    ends = np.concatenate([np.stack(side, axis=1)[side[0][:, 2] < side[1][:, 2]] for side in sides])
    low, high = round(start_mm, _GRID), round(end_mm, _GRID)
    places = _places(ends[..., 2], low, high)
    lower, upper = _reached(ends, places, hollow=hollow)
    bare = ~np.isfinite(lower)
    if float(np.diff(places)[bare].sum()) > _BARE_MM:
        return ()
    run = np.stack([np.column_stack([places[:-1], lower]), np.column_stack([places[1:], upper])], axis=1)[~bare]
    # Corners of the polygon a circle is drawn as stand out by its factor.
    run[..., 1] /= round_factor(segments)
    points = thinned([(float(place), float(radius)) for place, radius in run.reshape(-1, 2)], within_mm=_NEAR_MM)
    return tuple((round(place, 4), round(radius, 4)) for place, radius in points)


def _places(found: Floats, low: float, high: float) -> Floats:
    """Every place at which the outline can bend, and some between."""
    between = np.round(np.linspace(low, high, max(2, int((high - low) / _EVERY_MM) + 1)), _GRID)
    inner = found[(found > low) & (found < high)]
    return np.unique(np.concatenate([inner, between, [low, high]]))


def _reached(ends: Floats, places: Floats, *, hollow: bool) -> tuple[Floats, Floats]:
    """The radius as each stretch between two places begins, and as it ends; not finite where there is no wood.

    Args:
        ends: Edges of the solid, the lower end first: E x 2 ends x (x, y, place).
        places: In order.
        hollow: Whether the least radius is wanted.
    """
    first = np.searchsorted(places, ends[:, 0, 2], side="left")
    crossed = np.maximum(np.searchsorted(places, ends[:, 1, 2], side="right") - 1 - first, 0)
    edge = np.repeat(np.arange(len(ends)), crossed)
    stretch = np.arange(len(edge)) - np.repeat(np.cumsum(crossed) - crossed, crossed) + np.repeat(first, crossed)
    begins, along = ends[edge, 0], ends[edge, 1] - ends[edge, 0]

    def reached(here: NDArray[np.float64]) -> Floats:
        at = begins + along * ((here - begins[:, 2]) / along[:, 2])[:, None]
        radius = np.hypot(at[:, 0], at[:, 1])
        made = np.full(len(places) - 1, np.inf if hollow else -np.inf)
        (np.minimum if hollow else np.maximum).at(made, stretch, radius)
        return made

    return reached(places[stretch]), reached(places[stretch + 1])
