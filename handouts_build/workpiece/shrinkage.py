"""How green wood shrinks as it dries: along the rings, across them, and what that makes of a part.

This module owns the map from green wood to dry. It leaves to each thing on the wood how it goes along, and to the
blank which way its rings lie. By how much a wood shrinks is for whoever plans the step.

The wood is taken to shrink evenly, each way of the part by its own share, as the rings lie at its middle; along the
grain it is taken to keep its length (Wood Handbook, chapter 4: 0.1 to 0.2 percent from green to ovendry). Rings curve,
and wood near the pith, burls and crotches warp besides: of that the map knows nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from handouts_build.workpiece.axes import Axis, Floats, Vector, vector

__all__ = ["AS_GROWN", "Drying", "Shrinkage"]


@dataclass(frozen=True)
class Drying:
    """What drying in a step does to wood, as shares of its size before."""

    along_rings: float | None = None
    """By how much it gets smaller along its growth rings, 0 to 1; None where nothing is known of the wood."""
    across_rings: float | None = None
    """By how much across them."""

    @property
    def changes(self) -> bool:
        """Whether the wood is known to get smaller."""
        return bool(self.along_rings or self.across_rings)


@dataclass(frozen=True)
class Shrinkage:
    """What is left of each size of a part along its x, y and z, as shares of what was; places stay about the origin.

    The part's own axis therefore stays where it is, and so does its headstock end.
    """

    x: float = 1.0
    y: float = 1.0
    z: float = 1.0

    @property
    def factors(self) -> Vector:
        """The three of them."""
        return self.x, self.y, self.z

    @property
    def volume(self) -> float:
        """What is left of the volume, as a share."""
        return self.x * self.y * self.z

    @property
    def undone(self) -> Shrinkage:
        """From dry wood back to green."""
        return Shrinkage(1 / self.x, 1 / self.y, 1 / self.z)

    def then(self, later: Shrinkage) -> Shrinkage:
        """Both, one after the other."""
        return Shrinkage(self.x * later.x, self.y * later.y, self.z * later.z)

    def points(self, points: Floats) -> Floats:
        """Where points (..., 3) of the part lie afterwards, mm."""
        moved: Floats = points * np.array(self.factors)
        return moved

    def axis(self, axis: Axis) -> Axis:
        """Where a line of the part lies afterwards; its angle 0 stays as near to where it was as it can."""
        along = self.points(np.array(axis.direction))
        along /= np.linalg.norm(along)
        up = self.points(np.array(axis.up))
        up -= along * float(up @ along)
        return Axis(vector(self.points(np.array(axis.origin))), vector(along), vector(up / np.linalg.norm(up)))

    def along(self, axis: Axis) -> float:
        """What is left of a length along a line of the part, as a share."""
        return float(np.linalg.norm(self.points(np.array(axis.direction))))

    def across(self, axis: Axis) -> tuple[float, float]:
        """What is left of a round about a line of the part, as shares of its diameter: its least and its largest.

        A round that shrinks unevenly is an ellipse square to its new axis; these are its two axes.
        """
        sides = self.points(axis.matrix[:, :2].T)
        along = np.array(self.axis(axis).direction)
        sides -= np.outer(sides @ along, along)
        largest, least = np.linalg.svd(sides, compute_uv=False)[:2]
        return float(least), float(largest)


AS_GROWN = Shrinkage()
"""Of wood that has not dried since it was a blank."""
