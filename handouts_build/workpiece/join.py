"""Finished parts put together, tenon into hole.

This module owns where a part comes to sit, how it fits, and what the whole weighs
and how it hangs. A joint is measured on the two solids where they touch: what was cut
decides, and the size that the cut was named with only where the wood agrees with it.
Allowances and glue are the trade's.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from handouts_build.problems import near_miss
from handouts_build.workpiece.axes import PART_AXIS, Axis, Floats, Vector, vector
from handouts_build.workpiece.faults import WorkpieceFault, within
from handouts_build.workpiece.features import Bead, Feature, FeatureKind
from handouts_build.workpiece.holds import End, feature_named
from handouts_build.workpiece.let_in import Edge, edge_in
from handouts_build.workpiece.measures import radial_crossings
from handouts_build.workpiece.solid import Solid
from handouts_build.workpiece.stage import Stage
from handouts_build.workpiece.threads import ThreadForm

__all__ = [
    "Assembly",
    "Clash",
    "EdgeFit",
    "Fit",
    "Hanging",
    "Joint",
    "Piece",
    "Placed",
    "SnapFit",
    "ThreadFit",
    "assemble",
    "joined",
    "mouth_of",
    "undone",
]

_GONE = 0.02
"""Where a tenon has less wood around it than this share of a turn, a later cut took the wall of its hole."""
_LEFT_MM = 0.05
"""Less wood than this past a tenon's end is its end face."""
_FACETS = 0.002
"""A round is drawn with straight sides: its corners and flats leave the circle by less than this share."""
_HAIR_MM = 0.02
_BEHIND_MM, _HALVINGS = 0.2, 14
"""How far behind a shoulder it is as wide as it is, and how closely one is found that a later cut moved back."""
_CLASH_MM3, _CLASH_MM = 1.0, 0.03
"""Wood in other wood that is less, or thinner, is two faces that touch."""
_SKIN_MM = 1.5
"""Wood looked for around a hole, on one side."""
_RAYS = np.linspace(0, 2 * math.pi, 48)[:-1] + 0.013
"""Angles at which sections are measured; none lies where polygons tend to have corners."""


@dataclass(frozen=True, kw_only=True)
class Piece:
    """A finished part; the same as another where it is of the very same stage."""

    name: str
    stage: Stage
    density_g_mm3: float = 0.0
    """Of its wood as it is; nought where no weight is asked for."""


@dataclass(frozen=True, kw_only=True)
class Joint:
    """A tenon of one piece put into a hole of another, or the edge of one let into a groove."""

    piece: str
    onto: str
    """The piece with the hole or the groove; it must be in place already."""
    tenon: str = ""
    hole: str = ""
    groove: str = ""
    """The groove that the whole edge goes into; there is no tenon then, and no hole."""
    far: bool = False
    """Whether it goes into the other end of a hole that is right through."""
    turn_deg: float = 0.0
    apart_mm: float = 0.0
    """How far the two are drawn apart; nothing is measured by it."""


@dataclass(frozen=True, eq=False)
class Placed:
    """A piece where it sits."""

    piece: Piece
    frame: Axis
    """The piece's own axis in the whole's coordinates."""
    wood: Solid
    """In the whole's coordinates, with its loose rings."""

    @property
    def without_rings(self) -> Solid:
        """The wood that its own dimensions are read off."""
        return self.piece.stage.wood.moved(self.frame) if self.piece.stage.loose else self.wood


@dataclass(frozen=True)
class Clash:
    """Wood of a piece that would stand in the wood of another, beside the joint."""

    other: str
    """The other piece."""
    volume_mm3: float


@dataclass(frozen=True)
class ThreadFit:
    """How a thread sits in another, measured on the wood of both; diameters in mm."""

    outside: ThreadForm
    """On the tenon."""
    inside: ThreadForm
    """In the hole."""
    ridge_mm: float
    """Across the ridges on the tenon."""
    root_mm: float
    """Across the bottom of the thread in the hole."""
    crest_mm: float
    """Across the ridges in the hole."""
    engaged_mm: float
    """Length of thread in thread, the reliefs left out."""

    @property
    def overlap_mm(self) -> float:
        """How far the ridges of one lie behind those of the other, on one side; less than nought where they slip."""
        return (self.ridge_mm - self.crest_mm) / 2

    @property
    def turns(self) -> float:
        """Turns that the two go into each other."""
        return self.engaged_mm / self.outside.lead_mm


@dataclass(frozen=True)
class SnapFit:
    """How a bead on a tenon sits in a groove of its hole, measured on the wood; diameters in mm."""

    bead_mm: float
    mouth_mm: float
    """Narrowest opening that it passes on its way."""
    groove_mm: float
    """The opening where it comes to lie."""
    at_mm: float
    """Where that is, from the hole's mouth."""


@dataclass(frozen=True)
class Fit:
    """How a tenon sits in its hole, measured on the wood of both."""

    joint: Joint
    hole_mm: float
    """Narrowest opening on the way that the tenon takes into the hole."""
    tenon_mm: float
    """Greatest width of the wood that goes into the hole; nought where none is left."""
    named_mm: tuple[float, float]
    """Diameters that the hole and the tenon were cut to, whatever was done to them before or since."""
    long_mm: float
    """Length of the tenon that is left."""
    engaged_mm: float
    """Length of tenon in the hole."""
    spare_mm: float
    """From the tenon's end to the hole's floor; less than nought where the tenon is too long to seat."""
    ledge_mm: float
    """Width of the shoulder that bears on the wood around the hole; nought where there is none."""
    beyond_mm: float = 0.0
    """Greatest width of wood past the tenon's end that has to go through the hole before it; nought where none does."""
    gone: bool = False
    """Whether a later cut took the wood around the hole, where the tenon is."""
    clashes: tuple[Clash, ...] = ()
    thread: ThreadFit | None = None
    """Where one is screwed into the other."""
    snap: SnapFit | None = None
    """Where one snaps into the other."""
    half_threaded: bool = False
    """Whether one of the two has a thread and the other has none."""

    @property
    def play_mm(self) -> float:
        """Hole less tenon, across; less than nought where it does not go in."""
        return self.hole_mm - self.tenon_mm


@dataclass(frozen=True)
class EdgeFit:
    """How the edge of a piece sits in a groove."""

    joint: Joint
    edge: Edge
    clashes: tuple[Clash, ...] = ()


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
    fits: tuple[Fit | EdgeFit, ...]

    @property
    def volume_mm3(self) -> float:
        """Wood in all of them."""
        return sum(part.wood.volume_mm3 for part in self.placed)

    @property
    def weight_g(self) -> float:
        """Of all of them, by their densities."""
        return sum(part.wood.volume_mm3 * part.piece.density_g_mm3 for part in self.placed)

    @property
    def center_mm(self) -> Vector:
        """Center of gravity; by volume where no density is given."""
        weighed = all(part.piece.density_g_mm3 > 0 for part in self.placed)
        weights = [part.wood.volume_mm3 * (part.piece.density_g_mm3 if weighed else 1.0) for part in self.placed]
        centers = np.array([part.wood.center_mm for part in self.placed])
        return vector(np.average(centers, axis=0, weights=weights))

    @property
    def wood(self) -> Solid:
        """All of them as one solid."""
        return Solid.all_of([part.wood for part in self.placed])

    @functools.cached_property
    def opened(self) -> Assembly:
        """The same, each piece drawn out of its hole as far as its joint says, with all that is joined onto it."""
        way = {self.placed[0].piece.name: np.zeros(3)}
        placed = [self.placed[0]]
        for fit, part in zip(self.fits, self.placed[1:], strict=True):
            inward = (0.0, 0.0, 1.0)
            if isinstance(fit, Fit):
                inward = part.piece.stage.features[fit.joint.tenon].axis.direction
            out = -part.frame.matrix[:, :3] @ np.array(inward)
            moved = way[fit.joint.piece] = way[fit.joint.onto] + fit.joint.apart_mm * out
            frame = Axis(vector(np.array(part.frame.origin) + moved), part.frame.direction, part.frame.up)
            placed.append(Placed(part.piece, frame, part.piece.stage.shown.moved(frame)))
        return Assembly(tuple(placed), self.fits)

    def hanging(self, at_mm: Vector) -> Hanging:
        """How it hangs from a point, freely: its center of gravity comes to be straight below."""
        down = np.array(self.center_mm) - np.array(at_mm)
        drop = float(np.linalg.norm(down))
        if drop < 1e-9:
            raise WorkpieceFault("the point it hangs from is its center of gravity", "choose a point above it")
        tilt = math.degrees(math.acos(min(1.0, abs(float(down[2])) / drop)))
        return Hanging(at_mm, tilt, drop)


def assemble(pieces: Sequence[Piece], joints: Sequence[Joint], *, down: End | None = None) -> Assembly:
    """Put pieces together; the first stays where it is.

    Args:
        pieces: The finished parts.
        joints: In the order in which they are made, from the first piece outward.
        down: The end of the first piece that is below, where loose rings come to lie; none where it lies.

    Returns:
        Each piece in its place, and how each joint fits.

    Raises:
        WorkpieceFault: If a joint names what is not there, or a piece is left over.
    """
    if not pieces:
        raise WorkpieceFault("there is nothing to put together", "name the parts")
    known = {piece.name: piece for piece in pieces}
    for joint in joints:
        within(joint.apart_mm, "the distance that a joint is drawn apart")
    first = pieces[0]
    placed = {first.name: Placed(first, PART_AXIS, first.stage.standing(down))}
    fits: list[Fit | EdgeFit] = []
    for joint in joints:
        for name in (joint.piece, joint.onto):
            if name not in known:
                raise WorkpieceFault(f"no part is called '{name}'", near_miss(name, known))
        if joint.onto not in placed or joint.piece in placed:
            raise WorkpieceFault(
                f"'{joint.piece}' cannot go onto '{joint.onto}' now", "list the joints from the first part outward"
            )
        base, piece = placed[joint.onto], known[joint.piece]
        join = _let_in if joint.groove else joined
        placed[joint.piece], fit = join(tuple(placed.values()), base, piece, joint)
        fits.append(fit)
    for name in known:
        if name not in placed:
            raise WorkpieceFault(f"'{name}' is joined to nothing", "give it a joint")
    return Assembly(tuple(placed.values()), tuple(fits))


def _let_in(placed: Sequence[Placed], base: Placed, piece: Piece, joint: Joint) -> tuple[Placed, EdgeFit]:
    """A piece with its edge in the middle of a groove."""
    groove = feature_named(joint.groove, base.piece.stage.features)
    turn = math.radians(joint.turn_deg)
    around = base.piece.stage.wood.seen_from(groove.axis)
    edge = edge_in(piece.stage.wood, around, groove, turn_rad=turn)
    seated = Axis((0.0, 0.0, edge.wide_mm / 2 - edge.at_mm), (0.0, 0.0, 1.0), (math.cos(turn), math.sin(turn), 0.0))
    frame = base.frame.placed(groove.axis.placed(seated))
    whole = piece.stage.shown.moved(frame)
    clashes = tuple(Clash(each.piece.name, met.volume_mm3) for each in placed if _is_clash(met := whole & each.wood))
    return Placed(piece, frame, whole), EdgeFit(joint, edge, clashes)


def joined(placed: Sequence[Placed], base: Placed, piece: Piece, joint: Joint) -> tuple[Placed, Fit]:
    """A piece with its tenon in a hole.

    Args:
        placed: All pieces that are in place.
        base: The one with the hole.
        piece: The one with the tenon.
        joint: Which goes into which.

    Returns:
        The piece where it sits, and how it fits.

    Raises:
        WorkpieceFault: If there is no such tenon or hole.
    """
    wood, other = piece.stage.wood, base.piece.stage.wood
    hole = mouth_of(feature_named(joint.hole, base.piece.stage.features), other, far=joint.far)
    tenon = feature_named(joint.tenon, piece.stage.features)
    if tenon.kind is not FeatureKind.TENON:
        raise WorkpieceFault(f"'{joint.tenon}' is no tenon", "name a tenon of the part")
    own, around = wood.seen_from(tenon.axis), other.seen_from(hole.axis)
    long = _length_left(own, tenon)
    seat, ledge = _seat(around, hole, own, long)
    turn = math.radians(joint.turn_deg)
    seated = Axis((0.0, 0.0, seat), (0.0, 0.0, 1.0), (math.cos(turn), math.sin(turn), 0.0))
    # From the piece to its tenon, turned and pushed in, to the hole, to the whole.
    here = hole.axis.placed(seated.placed(undone(tenon.axis)))
    frame = base.frame.placed(here)
    reach = seat + long
    # A hollow may widen behind its mouth by its nature.
    near = replace(hole, long_mm=min(hole.long_mm, long))
    gone = hole.kind is not FeatureKind.HOLLOW and near.share(other) < _GONE
    places = long * np.linspace(0.02, 0.98, 9)
    if tenon.bead is not None:
        beside = np.abs(places - tenon.bead.at_mm) > tenon.bead.wide_mm / 2
        places = places[beside] if beside.any() else places
    widest = _widest(own, places, hole.diameter_mm)
    narrowest = _narrowest(around, min(reach, hole.long_mm) * np.linspace(0.02, 0.98, 9))
    threads = [each for each in (tenon.thread, hole.thread) if each is not None]
    if len(threads) == 2:
        narrowest = hole.diameter_mm
    fit = Fit(
        joint=joint,
        snap=_snapped(tenon.bead, own, around, seat, hole.diameter_mm) if tenon.bead is not None else None,
        thread=_threaded(threads[0], threads[1], own, tenon, around, hole, seat) if len(threads) == 2 else None,
        half_threaded=len(threads) == 1,
        hole_mm=_as_named(hole.diameter_mm, narrowest),
        tenon_mm=_as_named(tenon.diameter_mm, widest),
        named_mm=(hole.diameter_mm, tenon.diameter_mm),
        long_mm=long,
        engaged_mm=max(0.0, min(reach, hole.long_mm) - max(seat, 0.0)),
        spare_mm=math.inf if hole.through else hole.long_mm - reach,
        ledge_mm=ledge,
        beyond_mm=_beyond(own, long, hole.diameter_mm),
        gone=gone,
    )
    whole = piece.stage.shown.moved(frame)
    # What is within the joint itself is told by its sizes.
    widest = fit.snap.bead_mm if fit.snap is not None else fit.tenon_mm
    within = max(fit.hole_mm if math.isfinite(fit.hole_mm) else 0.0, widest) / 2 * (1 + 2 * _FACETS) + _HAIR_MM
    inside = Solid.cylinder(radius_mm=within, start_mm=-1.0, end_mm=max(reach, hole.long_mm, 0.0) + 1.0, segments=96)
    joined = inside.moved(base.frame.placed(hole.axis))
    clashes = tuple(
        Clash(each.piece.name, met.volume_mm3)
        for each in placed
        if _is_clash(met := (whole & each.wood) - joined if each is base else whole & each.wood)
    )
    return Placed(piece, frame, whole), replace(fit, clashes=clashes)


def _snapped(bead: Bead, own: Solid, around: Solid, seat: float, hole_mm: float) -> SnapFit:
    """How a bead sits in its groove; each wood is seen from its own axis, mm."""
    at = seat + bead.at_mm
    before = np.linspace(0.02, 0.98, 9) * max(at - bead.wide_mm, 0.0)
    opening = _narrowest(around, before)
    return SnapFit(
        bead_mm=_widest(own, np.array([bead.at_mm]), hole_mm),
        mouth_mm=_as_named(hole_mm, opening) if math.isfinite(opening) else hole_mm,
        groove_mm=_narrowest(around, np.array([at])),
        at_mm=at,
    )


def _threaded(
    outer: ThreadForm, inner: ThreadForm, own: Solid, tenon: Feature, around: Solid, hole: Feature, seat: float
) -> ThreadFit:
    """How two threads sit in each other; each wood is seen from its own axis, mm."""
    ridge = _ridge(own, (outer.relief_mm, tenon.long_mm), most=tenon.diameter_mm, farthest=True)
    crest = _ridge(around, (0.0, hole.long_mm - inner.relief_mm), most=hole.diameter_mm, farthest=False)
    start = max(seat + outer.relief_mm, 0.0)
    end = min(seat + tenon.long_mm, hole.long_mm - inner.relief_mm)
    named = hole.diameter_mm - 2 * inner.depth_mm
    return ThreadFit(
        outside=outer, inside=inner, ridge_mm=_as_named(tenon.diameter_mm, ridge), root_mm=hole.diameter_mm,
        crest_mm=_as_named(named, crest), engaged_mm=max(0.0, end - start),
    )  # fmt: skip


def _ridge(wood: Solid, between: tuple[float, float], *, most: float, farthest: bool) -> float:
    """Across the ridges of a thread, by the corners of its rings: the farthest from the axis, or the nearest, mm.

    Args:
        wood: Seen from the thread's axis.
        between: The places along the axis that it runs between.
        most: Diameter that no corner of it lies past.
        farthest: Whether its ridges point outward.
    """
    low, high = between
    points = wood.vertices
    out = 2 * np.hypot(points[:, 0], points[:, 1])
    near = out[(points[:, 2] > low + _HAIR_MM) & (points[:, 2] < high - _HAIR_MM) & (out < most * (1 + 2 * _FACETS))]
    if not len(near):
        return 0.0 if farthest else most
    return float(near.max() if farthest else near.min())


def _is_clash(met: Solid) -> bool:
    """Whether two pieces' common wood is more than faces that touch: as much as a chip, and as thick."""
    volume = met.volume_mm3
    return volume > _CLASH_MM3 and 2 * volume > _CLASH_MM * met.area_mm2


def _as_named(named_mm: float, measured_mm: float) -> float:
    """The named diameter where the wood has it; else the measured one. Both in mm.

    A solid's round has corners: its name is the closer number as long as the wood agrees.
    """
    return named_mm if abs(measured_mm - named_mm) <= named_mm * _FACETS + _HAIR_MM else measured_mm


def _length_left(own: Solid, tenon: Feature) -> float:
    """Length of a tenon that a later cut left, mm; the wood is seen from the tenon's axis."""
    core = Solid.cylinder(radius_mm=tenon.diameter_mm / 2, start_mm=0.0, end_mm=tenon.long_mm, segments=48)
    left = own & core
    return tenon.long_mm if left.is_empty else min(tenon.long_mm, left.box_mm[5])


def _widest(own: Solid, places: Floats, hole_mm: float) -> float:
    """Greatest width of wood, at some places along a tenon's axis, that begins within the hole's width.

    Wood that begins farther out, such as a skirt around the tenon, goes over the outside.
    """
    widest = 0.0
    for place in places:
        reached = []
        for radii in radial_crossings(own.section(float(place)), _RAYS):
            # Odd: the axis is in wood, and the first crossing leaves it.
            edges = [0.0, *map(float, radii)] if len(radii) % 2 else list(map(float, radii))
            within = [out for into, out in zip(edges[::2], edges[1::2], strict=True) if into <= hole_mm / 2]
            reached.append(2 * max(within, default=0.0))
        widest = max(widest, _if_round(reached, max(reached)))
    return widest


def _if_round(widths: list[float], otherwise: float) -> float:
    """The mean width of a round, whose polygon has its area; another number where it is not round. All in mm."""
    is_round = max(widths) - min(widths) <= max(widths) * _FACETS
    return sum(widths) / len(widths) if is_round else otherwise


def _narrowest(around: Solid, places: Floats) -> float:
    """Least width of the opening at some places along a hole's axis; nought where the axis is in wood there.

    Endless where no wood is around the axis at any of them.
    """
    narrowest = math.inf
    for place in places:
        crossings = radial_crossings(around.section(float(place)), _RAYS)
        if any(len(radii) % 2 for radii in crossings):
            return 0.0
        widths = [2 * float(radii[0]) for radii in crossings if len(radii)]
        if widths:
            narrowest = min(narrowest, _if_round(widths, min(widths)))
    return narrowest


def _beyond(own: Solid, long_mm: float, hole_mm: float) -> float:
    """Greatest width of wood past a tenon's end that goes into the hole ahead of the tenon."""
    left = own.box_mm[5] - long_mm
    if left < _LEFT_MM:
        return 0.0
    # Near the tenon's end first, where waste begins, then on to the end of the wood.
    return _widest(own, long_mm + left * np.array([0.02, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.98]), hole_mm)


def mouth_of(hole: Feature, wood: Solid, *, far: bool) -> Feature:
    """A hole from the end a tenon goes into, as long as there is wood around it.

    Args:
        hole: As it was cut.
        wood: What is left around it.
        far: Whether it is gone into from its other end.

    Raises:
        WorkpieceFault: If it is no hole, or has no other end.
    """
    if not hole.hollow:
        raise WorkpieceFault(f"'{hole.name}' is no hole", "name a hole, a bore or a recess")
    hole = _walled(hole, wood.seen_from(hole.axis))
    if not far:
        return hole
    if not hole.through:
        raise WorkpieceFault(f"'{hole.name}' has no other end", "name a hole that is right through")
    return replace(hole, axis=hole.axis.moved(hole.long_mm, turned=True))


def _walled(hole: Feature, around: Solid) -> Feature:
    """A hole between the first and the last wood around it: a later cut may have taken its mouth or its floor."""
    radius, past = hole.diameter_mm / 2, float(around.box_mm[5])
    through = hole.through or past <= hole.long_mm + 1e-6
    start, end = 0.0, min(hole.long_mm, past)
    if hole.kind is not FeatureKind.HOLLOW:
        inner, outer = radius * (1 + _FACETS), radius + min(radius, _SKIN_MM)
        ring = [(0.0, inner), (hole.long_mm, inner), (hole.long_mm, outer), (0.0, outer)]
        wall = around & Solid.turned(ring, segments=48)
        if not wall.is_empty:
            start = wall.box_mm[2] if wall.box_mm[2] > _HAIR_MM else 0.0
            end = min(end, wall.box_mm[5])
    long = (end if through else hole.long_mm) - start
    return replace(hole, axis=hole.axis.moved(start), long_mm=long, through=through)


def _seat(around: Solid, hole: Feature, own: Solid, long_mm: float) -> tuple[float, float]:
    """How far in from the hole's mouth the shoulder stops, and the width of the ledge that bears there, mm.

    Args:
        around: The wood with the hole, seen from the hole's axis.
        hole: The hole.
        own: The wood with the tenon, seen from the tenon's axis.
        long_mm: Length of the tenon.
    """
    inner = hole.diameter_mm / 2 * 1.001
    place = _shoulder(own, inner + _LEFT_MM)
    # Without a shoulder the floor stops it, which the wood past the tenon's own end meets first.
    floor = hole.long_mm - (long_mm if hole.through else max(long_mm, float(own.box_mm[5])))
    if place is None:
        return floor, 0.0
    moved = place < -2 * _BEHIND_MM
    if moved and floor < 0 and not hole.through:
        # Told by the tenon's own length, which the hole has not.
        return 0.0, 0.0
    shoulder, reach = _out(own, place - _BEHIND_MM), max(map(abs, around.box_mm)) + 1
    region = [(-reach, inner), (hole.long_mm, inner), (hole.long_mm, shoulder), (-reach, shoulder)]
    met = around & Solid.turned(region, segments=48)
    seat, ledge = (met.box_mm[2], shoulder - hole.diameter_mm / 2) if not met.is_empty else (0.0, 0.0)
    if not moved:
        return seat, ledge
    return (floor, 0.0) if floor < seat - place and not hole.through else (seat - place, ledge)


def _shoulder(own: Solid, wider_mm: float) -> float | None:
    """Where wood wider than a radius begins, from a tenon's shoulder back along it, mm; none where none does."""
    if _out(own, -_BEHIND_MM) > wider_mm:
        return 0.0
    clear = -_BEHIND_MM
    for stop in own.box_mm[2] * np.linspace(0.02, 0.98, 49):
        if stop < clear and _out(own, float(stop)) > wider_mm:
            for _ in range(_HALVINGS):
                middle = (clear + stop) / 2
                clear, stop = (clear, middle) if _out(own, middle) > wider_mm else (middle, stop)
            return float(stop)
        clear = min(clear, float(stop))
    return None


def _out(own: Solid, place: float) -> float:
    """The farthest wood from the axis at a place along it, mm."""
    behind = radial_crossings(own.section(place), np.linspace(0, 2 * math.pi, 24)[:-1])
    return max((float(radii[-1]) for radii in behind if len(radii)), default=0.0)


def undone(axis: Axis) -> Axis:
    """The part's own axis in the coordinates of one of its axes.

    Args:
        axis: That axis, in part coordinates.
    """
    matrix = axis.inverse
    return Axis(vector(matrix[:, 3]), vector(matrix[:, 2]), vector(matrix[:, 0]))
