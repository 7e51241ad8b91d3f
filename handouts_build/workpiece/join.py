"""Finished parts put together, tenon into hole.

This module owns where a part comes to sit, how it fits, and what the whole weighs
and how it hangs. Allowances and glue are the trade's.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from handouts_build.problems import near_miss
from handouts_build.workpiece.axes import PART_AXIS, Axis, Vector, vector
from handouts_build.workpiece.faults import WorkpieceFault
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.holds import feature_named
from handouts_build.workpiece.measures import radial_crossings
from handouts_build.workpiece.solid import Solid
from handouts_build.workpiece.stage import Stage

__all__ = ["Assembly", "Fit", "Hanging", "Joint", "Piece", "Placed", "assemble"]

_GONE = 0.02
"""Where a tenon has less wood around it than this share of a turn, a later cut took the wall of its hole."""
_LEFT_MM = 0.05
"""Less wood than this past a tenon's end is its end face."""


@dataclass(frozen=True, eq=False, kw_only=True)
class Piece:
    """A finished part."""

    name: str
    stage: Stage
    density_g_mm3: float = 0.0
    """Of its wood as it is; nought where no weight is asked for."""


@dataclass(frozen=True, kw_only=True)
class Joint:
    """A tenon of one piece put into a hole of another."""

    piece: str
    tenon: str
    onto: str
    """The piece with the hole; it must be in place already."""
    hole: str
    far: bool = False
    """Whether it goes into the other end of a hole that is right through."""
    turn_deg: float = 0.0


@dataclass(frozen=True, eq=False)
class Placed:
    """A piece where it sits."""

    piece: Piece
    frame: Axis
    """The piece's own axis in the whole's coordinates."""
    wood: Solid
    """In the whole's coordinates."""


@dataclass(frozen=True)
class Fit:
    """How a tenon sits in its hole."""

    joint: Joint
    hole_mm: float
    tenon_mm: float
    engaged_mm: float
    """Length of tenon in the hole."""
    spare_mm: float
    """From the tenon's end to the hole's floor; less than nought where the tenon is too long to seat."""
    overlap_mm3: float
    """Wood that stands in other wood."""
    beyond_mm: float = 0.0
    """Greatest width of wood past the tenon's end that has to go through the hole before it; nought where none does."""
    gone: bool = False
    """Whether a later cut took the wood around the hole, where the tenon is."""

    @property
    def play_mm(self) -> float:
        """Hole less tenon, across; less than nought where it does not go in."""
        return self.hole_mm - self.tenon_mm


@dataclass(frozen=True)
class Hanging:
    """How the whole hangs from a point."""

    at_mm: Vector
    tilt_deg: float
    """Of the first piece's axis from the plumb line."""
    drop_mm: float
    """From the point down to the center of gravity."""


@dataclass(frozen=True, eq=False)
class Assembly:
    """Pieces put together, in the first one's coordinates."""

    placed: tuple[Placed, ...]
    fits: tuple[Fit, ...]

    @property
    def volume_mm3(self) -> float:
        """Wood in all of them."""
        return sum(one.wood.volume_mm3 for one in self.placed)

    @property
    def weight_g(self) -> float:
        """Of all of them, by their densities."""
        return sum(one.wood.volume_mm3 * one.piece.density_g_mm3 for one in self.placed)

    @property
    def center_mm(self) -> Vector:
        """Center of gravity; by volume where no density is given."""
        told = all(one.piece.density_g_mm3 > 0 for one in self.placed)
        weights = [one.wood.volume_mm3 * (one.piece.density_g_mm3 if told else 1.0) for one in self.placed]
        centers = np.array([one.wood.center_mm for one in self.placed])
        return vector(np.average(centers, axis=0, weights=weights))

    @property
    def wood(self) -> Solid:
        """All of them as one solid."""
        return Solid.all_of([one.wood for one in self.placed])

    def hanging(self, at_mm: Vector) -> Hanging:
        """How it hangs from a point, freely: its center of gravity comes to be straight below."""
        down = np.array(self.center_mm) - np.array(at_mm)
        drop = float(np.linalg.norm(down))
        if drop < 1e-9:
            raise WorkpieceFault("the point it hangs from is its center of gravity", "choose a point above it")
        tilt = math.degrees(math.acos(min(1.0, abs(float(down[2])) / drop)))
        return Hanging(at_mm, tilt, drop)


def assemble(pieces: Sequence[Piece], joints: Sequence[Joint]) -> Assembly:
    """Put pieces together; the first stays where it is.

    Raises:
        WorkpieceFault: If a joint names what is not there, or a piece is left over.
    """
    if not pieces:
        raise WorkpieceFault("there is nothing to put together", "name the parts")
    known = {piece.name: piece for piece in pieces}
    first = pieces[0]
    placed = {first.name: Placed(first, PART_AXIS, first.stage.wood)}
    fits = []
    for joint in joints:
        for name in (joint.piece, joint.onto):
            if name not in known:
                raise WorkpieceFault(f"no part is called '{name}'", near_miss(name, known))
        if joint.onto not in placed or joint.piece in placed:
            raise WorkpieceFault(
                f"'{joint.piece}' cannot go onto '{joint.onto}' now", "list the joints from the first part outward"
            )
        base, piece = placed[joint.onto], known[joint.piece]
        placed[joint.piece], fit = _joined(base, piece, joint)
        fits.append(fit)
    for name in known:
        if name not in placed:
            raise WorkpieceFault(f"'{name}' is joined to nothing", "give it a joint")
    return Assembly(tuple(placed.values()), tuple(fits))


def _joined(base: Placed, piece: Piece, joint: Joint) -> tuple[Placed, Fit]:
    hole = _mouth(feature_named(joint.hole, base.piece.stage.features), base.piece.stage.wood, far=joint.far)
    tenon = feature_named(joint.tenon, piece.stage.features)
    if tenon.kind is not FeatureKind.TENON:
        raise WorkpieceFault(f"'{joint.tenon}' is no tenon", "name a tenon of the part")
    seat = _seat(base.piece.stage.wood, hole, piece.stage.wood, tenon)
    turn = math.radians(joint.turn_deg)
    seated = Axis((0.0, 0.0, seat), (0.0, 0.0, 1.0), (math.cos(turn), math.sin(turn), 0.0))
    # From the piece to its tenon, turned and pushed in, to the hole, to the whole.
    frame = base.frame.placed(hole.axis.placed(seated.placed(_undone(tenon.axis))))
    wood = piece.stage.wood.moved(frame)
    reach = seat + tenon.long_mm
    engaged = max(0.0, min(reach, hole.long_mm) - max(seat, 0.0))
    overlap = (wood & base.wood).volume_mm3
    spare = math.inf if hole.through else hole.long_mm - reach
    beyond = _beyond(piece.stage.wood, tenon, hole.diameter_mm)
    # A hollow may widen behind its mouth by its nature.
    around = replace(hole, long_mm=min(hole.long_mm, tenon.long_mm))
    gone = hole.kind is not FeatureKind.HOLLOW and around.share(base.piece.stage.wood) < _GONE
    sizes = hole.diameter_mm, tenon.diameter_mm
    return Placed(piece, frame, wood), Fit(joint, *sizes, engaged, spare, overlap, beyond, gone)


def _beyond(wood: Solid, tenon: Feature, hole_mm: float) -> float:
    """Greatest width of wood past a tenon's end that begins within the hole's width: it goes in ahead of the tenon.

    Wood that begins farther out, such as a skirt around the tenon, goes over the outside.
    """
    local = wood.seen_from(tenon.axis)
    left = local.box_mm[5] - tenon.long_mm
    if left < _LEFT_MM:
        return 0.0
    # Near the tenon's end first, where waste begins, then on to the end of the wood.
    places = tenon.long_mm + left * np.array([0.02, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.98])
    widest = 0.0
    for place in places:
        for radii in radial_crossings(local.section(float(place)), np.linspace(0, 2 * math.pi, 48)[:-1] + 0.013):
            # Odd: the axis is in wood, and the first crossing leaves it.
            edges = [0.0, *map(float, radii)] if len(radii) % 2 else list(map(float, radii))
            for inner, outer in zip(edges[::2], edges[1::2], strict=True):
                if inner <= hole_mm / 2:
                    widest = max(widest, 2 * outer)
    return widest


def _mouth(hole: Feature, wood: Solid, *, far: bool) -> Feature:
    """A hole from the end a tenon goes into."""
    if not hole.hollow:
        raise WorkpieceFault(f"'{hole.name}' is no hole", "name a hole, a bore or a recess")
    deepest = float(hole.axis.to_lathe(wood.vertices)[:, 2].max())
    if not hole.through and deepest <= hole.long_mm + 1e-6:
        # A later cut took the wood behind its floor: it is open now.
        hole = replace(hole, long_mm=deepest, through=True)
    if not far:
        return hole
    if not hole.through:
        raise WorkpieceFault(f"'{hole.name}' has no other end", "name a hole that is right through")
    return replace(hole, axis=hole.axis.moved(hole.long_mm, turned=True))


def _seat(base: Solid, hole: Feature, wood: Solid, tenon: Feature) -> float:
    """How far in from the hole's mouth the shoulder stops: where the base first stands in its way."""
    behind = radial_crossings(wood.seen_from(tenon.axis).section(-0.2), np.linspace(0, 2 * math.pi, 24)[:-1])
    shoulder = max((float(radii[-1]) for radii in behind if len(radii)), default=0.0)
    local = base.seen_from(hole.axis)
    inner = hole.diameter_mm / 2 * 1.001
    if shoulder <= inner + 0.05:
        return hole.long_mm - tenon.long_mm
    reach = max(map(abs, local.box_mm)) + 1
    region = [(-reach, inner), (hole.long_mm, inner), (hole.long_mm, shoulder), (-reach, shoulder)]
    met = local & Solid.turned(region, segments=48)
    return met.box_mm[2] if not met.is_empty else 0.0


def _undone(axis: Axis) -> Axis:
    """The part's own axis in the coordinates of one of its axes."""
    matrix = axis.inverse
    return Axis(vector(matrix[:, 3]), vector(matrix[:, 2]), vector(matrix[:, 0]))
