"""What cuts leave that a later step can hold, find or fill.

This module owns features and the test whether one is still there. It leaves making
them to the cuts and asking for them to the holds.
"""

from __future__ import annotations

import dataclasses
import enum
import math
from dataclasses import dataclass

import numpy as np

from handouts_build.workpiece.axes import Axis, Floats
from handouts_build.workpiece.shrinkage import AS_GROWN, Shrinkage
from handouts_build.workpiece.solid import Solid
from handouts_build.workpiece.threads import ThreadForm

__all__ = ["PAST_MM", "Bead", "Feature", "FeatureKind", "ring_points"]


PAST_MM = 0.05
"""How far past a wall the wood is felt for."""


class FeatureKind(enum.Enum):
    """What a feature is, in the trade's word."""

    TENON = "tenon"
    """A round stub."""
    RECESS = "recess"
    """A shallow round hole for jaws to open into."""
    BORE = "bore"
    """A hole along the axis that is turned or drilled."""
    HOLE = "hole"
    """A hole drilled toward or beside the axis."""
    GROOVE = "groove"
    """A flat-floored ring cut."""
    FACE = "face"
    """An end."""
    FLAT = "flat"
    """A plane along the side."""
    FLUTE = "flute"
    """A groove along the side."""
    SLOT = "slot"
    """An opening toward the axis, longer than wide."""
    HOLLOW = "hollow"
    """The inside of a vessel."""


@dataclass(frozen=True)
class Bead:
    """A bead around a tenon, by which a lid snaps on."""

    at_mm: float
    """Its middle, from the shoulder."""
    wide_mm: float
    stands_mm: float
    """How far it stands out of the tenon."""


@dataclass(frozen=True)
class Feature:
    """A place on the workpiece with a name."""

    name: str
    kind: FeatureKind
    axis: Axis
    """From the mouth inward for a hole; from the shoulder to the free end for a tenon."""
    diameter_mm: float
    long_mm: float
    """Depth of a hole, length of a tenon."""
    through: bool = False
    """Whether it is meant to come out on the other side."""
    sides: int = 0
    """Flats of its wall, the first across angle 0; nought where it is round."""
    grows_mm: float = 0.0
    """How much wider a hole with flats is at its far end, less than nought where it is narrower there; its diameter is
    that of its narrower end."""
    green: Feature | None = None
    """As it was turned, where that was in green wood which has dried since."""
    shrinkage: Shrinkage = AS_GROWN
    """What drying has left of its sizes; the diameter is then the least of the oval."""
    thread: ThreadForm | None = None
    """Its thread, where it has one; its diameter is then the major one."""
    bead: Bead | None = None
    """A bead on a tenon, wider than the tenon's own diameter."""
    dovetail_deg: float = 0.0
    """How far its side leans, so that jaws draw it in; nought where it is straight."""
    wood_share: float = 1.0
    """Share of the wood it needs that was there when it was made."""

    @property
    def hollow(self) -> bool:
        """Whether the wood it needs is around it, not in it."""
        return self.kind in {FeatureKind.RECESS, FeatureKind.BORE, FeatureKind.HOLE, FeatureKind.HOLLOW}

    @property
    def widths_mm(self) -> tuple[float, float]:
        """Its least and its largest diameter, mm: two where it was turned green and has dried."""
        if self.green is None:
            return self.diameter_mm, self.diameter_mm
        least, largest = self.shrinkage.across(self.green.axis)
        return self.green.diameter_mm * least, self.green.diameter_mm * largest

    @property
    def oval(self) -> dict[str, float]:
        """What is told of one that was turned green and has dried: its least_mm and most_mm, its diameters.

        Nothing is told where nothing is known of how its wood shrinks.
        """
        least, largest = self.widths_mm
        return {} if self.shrinkage == AS_GROWN else {"least_mm": least, "most_mm": largest}

    def placed(self, axis: Axis) -> Feature:
        """The same, from lathe to part coordinates."""
        return dataclasses.replace(self, axis=axis.placed(self.axis))

    def shrunk(self, by: Shrinkage) -> Feature:
        """The same once the wood that it is in has dried.

        Args:
            by: What is left of the part's sizes.
        """
        green, both = self.green or self, self.shrinkage.then(by)
        along, (least, _) = both.along(green.axis), both.across(green.axis)
        bead = green.bead and Bead(green.bead.at_mm * along, green.bead.wide_mm * along, green.bead.stands_mm * least)
        thread = green.thread and green.thread.shrunk(along=along, across=least)
        return dataclasses.replace(
            self, axis=both.axis(green.axis), diameter_mm=green.diameter_mm * least, long_mm=green.long_mm * along,
            grows_mm=green.grows_mm * least, bead=bead, thread=thread, green=green, shrinkage=both,
        )  # fmt: skip

    def share(self, wood: Solid) -> float:
        """Share of the wood it needs that is in a solid: in a tenon's skin, around a hole, behind a face."""
        green = self.green
        depths = self._felt() if green is None else [self.shrinkage.points(points) for points in green._felt()]
        return float(np.any([wood.contains(points) for points in depths], axis=0).mean())

    def _felt(self) -> list[Floats]:
        """Where the wood is that it needs, N x 3, part coordinates, at one depth or another."""
        radius = self.diameter_mm / 2
        if self.kind in {FeatureKind.FACE, FeatureKind.FLAT}:
            return [ring_points(self.axis, radii=[0.4 * radius, 0.8 * radius], places=[0.3], around=12)]
        if self.sides:
            # Beside the middle of each flat, where its wall is nearest to the axis.
            off = 0.1 * math.pi / self.sides
            turns = 2 * math.pi * np.arange(self.sides) / self.sides + off
            along = np.linspace(0.1, 0.9, 7)
            wider = self.grows_mm * along - min(0.0, self.grows_mm)
            skins = (radius + wider / 2) / math.cos(off) + 0.5
            local = [
                (skin * math.cos(turn), skin * math.sin(turn), place)
                for skin, place in zip(skins, along * self.long_mm, strict=True)
                for turn in turns
            ]
            return [self.axis.to_part(np.array(local))]
        # A tenon may be turned a little thinner, or bored until a thin wall is left of it: either way it is there.
        bare = [0.9 * radius, radius - min(0.1 * radius, 0.75)]
        rings = [radius + min(radius, 1.5) / 2] if self.hollow else bare
        places = list(np.linspace(0.1, 0.9, 7) * self.long_mm)
        return [ring_points(self.axis, radii=[skin], places=places, around=12) for skin in rings]

    def seen(self, wood: Solid) -> Feature:
        """The same, with the share of its wood that is there now."""
        return dataclasses.replace(self, wood_share=self.share(wood))

    def left(self, wood: Solid) -> float:
        """How much of the wood it had when made is still there, 0 to 1."""
        return min(1.0, self.share(wood) / self.wood_share) if self.wood_share > 0 else 0.0


def ring_points(axis: Axis, *, radii: list[float], places: list[float], around: int) -> Floats:
    """Points on rings about an axis, N x 3, part coordinates.

    Args:
        axis: Whose rings.
        radii: Of the rings, mm.
        places: Along the axis, mm.
        around: Points in each ring.
    """
    # Half a step on, so that no point lies in a plane in which solids tend to have edges.
    angles = (np.arange(around) + 0.37) * 2 * math.pi / around
    local = [
        (radius * math.cos(angle), radius * math.sin(angle), place)
        for place in places
        for radius in radii
        for angle in angles
    ]
    return axis.to_part(np.array(local))
