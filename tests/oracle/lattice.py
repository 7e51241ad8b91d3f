"""A lattice of voxels about a piece of wood.

A voxel is wood when its middle is: volumes are right to the surface times half a voxel, and no
body thicker than two voxels slips between the middles, whichever way it lies (the diagonal of a
voxel is 1.74 of its edges).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt
from scipy import ndimage
from scipy.spatial import cKDTree

from tests.oracle.fields import Field, Floats

Bools = npt.NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Lattice:
    """Voxels that fill a box; two layers of air around the wood are part of it."""

    low: tuple[float, float, float]
    shape: tuple[int, int, int]
    voxel: float
    """Edge, mm."""

    @classmethod
    def about(cls, low: Floats, high: Floats, voxel: float) -> Lattice:
        """About a box; its faces fall between voxels where they lie on multiples of the edge."""
        first = np.floor(low / voxel + 1e-9) - 2
        last = np.ceil(high / voxel - 1e-9) + 2
        x, y, z = (first * voxel).tolist()
        nx, ny, nz = (last - first).astype(int).tolist()
        return cls((x, y, z), (nx, ny, nz), voxel)

    @cached_property
    def middles(self) -> Floats:
        """The middle of each voxel, N x 3."""
        sides = [self.low[side] + (np.arange(self.shape[side]) + 0.5) * self.voxel for side in range(3)]
        return np.stack(np.meshgrid(*sides, indexing="ij")).reshape(3, -1).T

    def of(self, field: Field) -> Floats:
        """A field at every middle, as a box."""
        return field(self.middles).reshape(self.shape)

    def places(self, voxels: Bools) -> Floats:
        """Middles of some voxels."""
        return self.middles[voxels.ravel()]

    def volume(self, voxels: Bools) -> float:
        """mm³."""
        return float(np.count_nonzero(voxels)) * self.voxel**3

    def gap(self, one: Bools, other: Bools) -> float:
        """Least distance between two sets of voxels, middle to middle; infinite if either is empty.

        Of the bodies themselves it is this, or less by up to 1.74 voxels.
        """
        if not one.any() or not other.any():
            return float("inf")
        faces = [self.places(voxels & ~ndimage.binary_erosion(voxels)) for voxels in (one, other)]
        return float(cKDTree(faces[0]).query(faces[1])[0].min())


def pieces(voxels: Bools) -> list[Bools]:
    """Voxels that hang together by their faces, the largest first."""
    labels, count = ndimage.label(voxels)
    sizes = np.bincount(labels.ravel())[1:]
    return [labels == one + 1 for one in np.argsort(-sizes)[:count]]
