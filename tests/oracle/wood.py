"""A piece of wood as blank less bodies: a field, the voxels in it, and where a tool meets it."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from tests.oracle import fields
from tests.oracle.fields import Field, Floats, Frame
from tests.oracle.lattice import Bools, Lattice
from tests.oracle.reading import length

OUTSIDE = "the outside"
OPENING = "opening"
_HALVINGS = 14


@dataclass(frozen=True, eq=False)
class Hole:
    """A round hole, or a stub: its frame begins at the mouth or shoulder; z runs in to the floor or out to the tip."""

    name: str
    frame: Frame
    diameter: float
    long: float
    through: bool = False
    hollow: bool = True


@dataclass(frozen=True, eq=False)
class Removed:
    """What one cut takes away."""

    name: str
    kind: str
    field: Field
    """Less than nought in the body, part coordinates; it reaches out into the air."""
    inside: bool
    """Whether it goes into the wood, rather than shape the outside."""
    holes: tuple[Hole, ...] = ()
    apart: tuple[Field, ...] = ()
    """Hole by hole, where a cut makes several."""
    meets: frozenset[str] = frozenset()
    of: str = ""
    """The hole that it opens wider."""
    converge: bool = False
    """Whether its holes run together by their nature."""
    end: str = ""
    """The end it is cut from, where it has one."""
    waste: Field | None = None
    """What falls off with it."""

    def called(self) -> frozenset[str]:
        """All it may be called by."""
        return frozenset({self.name, *(hole.name for hole in self.holes)})

    def means(self, other: Removed) -> bool:
        """Whether either says that they meet."""
        return bool(self.meets & other.called() or other.meets & self.called())


@dataclass(eq=False)
class Wood:
    """The wood as it stands."""

    blank: Field
    lattice: Lattice
    voxels: Bools
    level: Floats
    """The field at every voxel's middle."""
    across: float
    """The largest round that the blank holds, mm."""
    removed: list[Removed] = field(default_factory=list)
    chips: list[Bools] = field(default_factory=list)
    """What of each body was wood, with the bodies."""
    features: dict[str, Hole] = field(default_factory=dict)

    @property
    def voxel(self) -> float:
        """Edge of a voxel, mm."""
        return self.lattice.voxel

    def field(self, points: Floats) -> Floats:
        """Less than nought in the wood; pieces that came loose count as wood."""
        found = self.blank(points)
        for one in self.removed:
            found = np.maximum(found, -one.field(points))
        return found

    def take(self, cut: Removed, there: Floats) -> Bools:
        """Make a cut, given its field at every middle; what of it was wood."""
        chips = self.voxels & (there <= 0)
        self.voxels = self.voxels & ~chips
        self.level = np.maximum(self.level, -there)
        self.removed.append(cut)
        self.chips.append(chips)
        return chips

    def local(self, frame: Frame) -> Floats:
        """The wood's voxels seen from a frame."""
        return frame.local(self.lattice.places(self.voxels))

    def face(self, frame: Frame, *, last: bool, radius: float = math.inf) -> float | None:
        """Where the wood begins, or ends, along a frame's axis, within a radius of it."""
        points = self.local(frame)
        points = points[np.hypot(points[:, 0], points[:, 1]) <= radius]
        if not len(points):
            return None
        sign = 1.0 if last else -1.0
        farthest = (sign * points[:, 2]).max()
        starts = points[sign * points[:, 2] > farthest - 0.6 * self.voxel]
        starts = starts[:: max(1, len(starts) // 40)]
        inner, outer = np.zeros(len(starts)), np.full(len(starts), 1.5 * self.voxel)
        for _ in range(_HALVINGS):
            middle = (inner + outer) / 2
            here = self.field(frame.part(starts + sign * middle[:, None] * np.array([0.0, 0.0, 1.0]))) < 0
            inner, outer = np.where(here, middle, inner), np.where(here, outer, middle)
        return sign * float((sign * starts[:, 2] + outer).max())

    def first_met(self, frame: Frame, start: Floats, toward: Floats, long: float) -> float | None:
        """How far along a line, in a frame, the first wood is."""
        steps = np.arange(0.0, long, self.voxel / 4)
        found = self.field(frame.part(start + steps[:, None] * toward)) < 0
        if not found.any():
            return None
        low, high = steps[max(0, int(found.argmax()) - 1)], steps[int(found.argmax())]
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            wooden = self.field(frame.part(start + middle * toward)[None, :])[0] < 0
            low, high = (low, middle) if wooden else (middle, high)
        return float(high)


def stock(blank: dict[str, Any], *, voxel: float) -> Wood:
    """A blank as wood; its axis is z from 0.

    Args:
        blank: The keys.
        voxel: Edge of a voxel, mm.
    """
    long = length(blank["long"])
    opening = 0.0
    if "round" in blank:
        wide = thick = length(blank["round"])
        body = fields.rod(wide / 2, 0, long)
    elif "square" in blank:
        wide = thick = length(blank["square"])
        body = fields.block(wide, thick, 0, long)
    elif "wide" in blank:
        wide, thick = length(blank["wide"]), length(blank["thick"])
        body = fields.block(wide, thick, 0, long)
    else:
        count = int(blank.get("segments") or blank["staves"])
        wide = thick = length(blank["across"])
        opening = length(blank["inside"])
        prism, ends = fields.within_flats(count, wide), fields.slab(0, long)
        body = lambda points: np.maximum(prism(points), ends(points))  # noqa: E731
    corner = 1.0 if "square" in blank or "wide" in blank or "round" in blank else 1 / math.cos(math.pi / count)
    half = np.array([wide / 2 * corner, thick / 2 * corner, 0.0])
    lattice = Lattice.about(-half, half + np.array([0.0, 0.0, long]), voxel)
    level = lattice.of(body)
    wood = Wood(body, lattice, level < 0, level, min(wide, thick))
    if opening:
        frame = Frame.of_part()
        hole = Hole(OPENING, frame, opening, long, through=True)
        air = fields.within_flats(count, opening)
        own = Removed(OPENING, OPENING, air, True, holes=(hole,))
        wood.take(own, lattice.of(air))
        wood.features[OPENING] = hole
    return wood
