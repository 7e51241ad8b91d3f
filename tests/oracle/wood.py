"""A piece of wood as blank less bodies: a field, the voxels in it, and where a tool meets it."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from tests.oracle import fields
from tests.oracle.fields import Field, Floats, Frame
from tests.oracle.lattice import Bools, Lattice
from tests.oracle.reading import angle, length, maybe

OUTSIDE = "the outside"
OPENING = "opening"
LOGS = ("half log", "quarter log", "log")
_HALVINGS = 14
_TURNS = 24


@dataclass(frozen=True, eq=False)
class Hole:
    """A round hole, or a stub: its frame begins at the mouth or shoulder; z runs in to the floor or out to the tip."""

    name: str
    frame: Frame
    diameter: float
    long: float
    through: bool = False
    hollow: bool = True
    again: bool = False
    """Whether a stub was shaped once more, so that whoever names it may find that less of it is there."""
    lean: float = 0.0
    """How far a dovetail's side leans out for each millimeter along z."""

    sides: int = 0
    """Flats of a glued ring's opening; nought of a round hole."""
    wall: Field | None = None
    """Of a hollow, its body: less than nought within it; it is no round hole."""

    def dried(self, left: tuple[float, float, float]) -> Hole:
        """The same in wood that got smaller, by shares along the part's x, y and z; its sizes stay the green ones."""
        wall = None if self.wall is None else fields.shrunk(self.wall, left)
        return replace(self, frame=self.frame.dried(left), wall=wall)

    def now(self) -> Hole:
        """As it lies in the wood as it is, as wide as it is at its narrowest, in millimeters of now."""
        if self.frame.left == (1.0, 1.0, 1.0):
            return self
        x, y, z = (float(np.linalg.norm(side * np.array(self.frame.left))) for side in self.frame.across)
        return replace(self, frame=self.frame.now(), diameter=self.diameter * min(x, y), long=self.long * z)

    def radius_at(self, places: Floats) -> Floats:
        """Its radius at places along its frame; a stub is as wide as told at its tip, a hole at its mouth."""
        return np.asarray(self.diameter / 2 + self.lean * (places if self.hollow else places - self.long))


@dataclass(frozen=True, eq=False)
class Ring:
    """A ring that is loose on the wood: its frame is at its middle."""

    name: str
    frame: Frame
    bore: float
    wide: float


_OPENINGS = frozenset({"bore", "recess", "hollow", "enlarge"})
"""Cuts that open the wood about the axis, from an end; what widens one does so too."""


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
    behind: Field | None = None
    """All past the mouth of a hole whose wall it is cut into; it is no round hole, and comes out where it meets air."""
    ring: Ring | None = None
    """What it leaves loose on the wood."""
    frame: Frame | None = None
    """Of the axis it is cut on."""
    to_axis: bool = False
    """Whether its holes are said to reach the axis."""

    held_by: Hole | None = None
    """A hollow, by which the wood may be held though it is no round hole."""

    def dried(self, left: tuple[float, float, float]) -> Removed:
        """The same in wood that got smaller, by shares along the part's x, y and z."""

        def by(field: Field) -> Field:
            return fields.shrunk(field, left)

        return replace(
            self, field=by(self.field), holes=tuple(hole.dried(left) for hole in self.holes),
            apart=tuple(map(by, self.apart)), behind=None if self.behind is None else by(self.behind),
            ring=None if self.ring is None else replace(self.ring, frame=self.ring.frame.dried(left)),
        )  # fmt: skip

    @property
    def opens(self) -> bool:
        """Whether it opens the wood about the axis, from an end, as a hole in the end does that lies on the axis."""
        on_axis = self.frame is not None and all(
            float(np.linalg.norm(np.cross(hole.frame.origin - self.frame.origin, self.frame.across[2]))) < 1e-3
            for hole in self.holes
        )
        return self.kind in _OPENINGS or (self.kind == "end holes" and on_axis)

    def called(self) -> frozenset[str]:
        """All it may be called by."""
        return frozenset({self.name, *(hole.name for hole in self.holes)})

    def means(self, other: Removed) -> bool:
        """Whether either says that they meet."""
        return bool(self.meets & other.called() or other.meets & self.called())

    def runs_into(self, other: Removed) -> bool:
        """Whether the two are one opening, or holes to an axis and the opening about it, or grooves that cross."""
        if self.frame is None or other.frame is None:
            return False
        here, there = self.frame.across[2], other.frame.across[2]
        aside = np.linalg.norm(np.cross(other.frame.origin - self.frame.origin, here))
        one_line = bool(abs(here @ there) > 1 - 1e-6 and aside < 1e-3)
        pair = {self.kind, other.kind}
        if one_line and self.opens and other.opens and self.end and other.end:
            return bool(here @ there > 0) is (self.end == other.end)
        if one_line and (self.to_axis or other.to_axis):
            return bool(pair & _OPENINGS)
        # Grooves at one place are one; that they lie beside each other is asked of the walls.
        return pair == {"groove"}


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

    def dry(self, left: tuple[float, float, float]) -> None:
        """Let it shrink, with all that was cut in it.

        Args:
            left: What is left of its sizes along x, y and z, as shares.
        """
        shares = np.array(left)
        places = self.lattice.places(self.voxels)
        half = self.voxel / 2
        self.lattice = Lattice.about(
            (places.min(axis=0) - half) * shares, (places.max(axis=0) + half) * shares, self.voxel
        )
        self.blank = fields.shrunk(self.blank, left)
        self.removed = [one.dried(left) for one in self.removed]
        self.features = {name: hole.dried(left) for name, hole in self.features.items()}
        self.level = self.lattice.of(self.blank)
        self.voxels, self.chips = self.level < 0, []
        for one in self.removed:
            there = self.lattice.of(one.field)
            self.chips.append(self.voxels & (there <= 0))
            self.voxels = self.voxels & (there > 0)
            self.level = np.maximum(self.level, -there)

    def fallen(self, waste: Field) -> Wood:
        """What falls off, as the blank of another part: nothing was cut in it yet, and what it was held by is there."""
        body = replace(self, removed=list(self.removed)).field
        found = Wood(
            lambda points: np.maximum(body(points), waste(points)), self.lattice, self.voxels, self.level, self.across,
            features=dict(self.features),
        )  # fmt: skip
        found.level = np.maximum(self.level, self.lattice.of(waste))
        found.voxels = found.level < 0
        return found

    def local(self, frame: Frame) -> Floats:
        """The wood's voxels seen from a frame."""
        return frame.local(self.lattice.places(self.voxels))

    def face(self, frame: Frame, *, last: bool, radius: float = math.inf, beyond: float = -1.0) -> float | None:
        """Where the wood begins, or ends, along a frame's axis, within a radius of it and beyond another."""
        points = self.local(frame)
        out = np.hypot(points[:, 0], points[:, 1])
        points = points[(out <= radius) & (out > beyond)]
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

    def lines(self, frame: Frame, depths: Floats) -> tuple[Floats, Bools]:
        """Radii, and whether there is wood on lines out from an axis: depths x turns x radii."""
        radii = np.arange(0.0, 1.5 * self.across, self.voxel / 8)
        turns = 2 * np.pi * (np.arange(_TURNS) + 0.3) / _TURNS
        across = np.stack([np.cos(turns), np.sin(turns), np.zeros(_TURNS)], axis=-1)
        points = radii[None, None, :, None] * across[None, :, None, :]
        points = points + depths[:, None, None, None] * np.array([0.0, 0.0, 1.0])
        wooden = self.field(frame.part(points.reshape(-1, 3))) < 0
        return radii, wooden.reshape(len(depths), _TURNS, len(radii))

    def outermost(self, frame: Frame, depths: Floats) -> Floats:
        """The farthest wood from an axis at each depth; nought where there is none."""
        radii, wooden = self.lines(frame, depths)
        return np.asarray((np.where(wooden, radii, 0.0)).max(axis=(1, 2)))


@dataclass(frozen=True)
class Log:
    """A log as it lies in its blank: along x, its middle half its diameter from z = 0."""

    diameter: float
    bark: float
    pith: tuple[float, float]
    """Where the pith is: off the middle toward the bark at z = 0, and along y, mm."""


def log_of(blank: dict[str, Any]) -> Log | None:
    """The log that a blank is sawn from; none of another blank."""
    word = next((word for word in LOGS if word in blank), None)
    if word is None:
        return None
    off, turn = maybe(blank, "pith") or 0.0, math.radians(angle(blank.get("pith angle", 0)))
    return Log(length(blank[word]), maybe(blank, "bark") or 0.0, (off * math.cos(turn), off * math.sin(turn)))


def _sawn(blank: dict[str, Any], log: Log, voxel: float) -> Wood:
    """A piece of a log, turned across its grain."""
    long, sawn = length(blank["long"]), maybe(blank, "sawn round") or 0.0
    face = None if "log" in blank else (maybe(blank, "saw line") or 0.0) + (maybe(blank, "kerf") or 0.0) / 2
    body = fields.log(log.diameter, long, face, wedge="quarter log" in blank, sawn=sawn)
    bare = log.diameter / 2 - log.bark
    if face is None:
        high, wide, clear = log.diameter, log.diameter, 2 * bare
    elif "quarter log" in blank:
        high = log.diameter / 2 - math.sqrt(2) * face
        wide, clear = (math.sqrt(2) * (math.sqrt(radius**2 - face**2) - face) for radius in (log.diameter / 2, bare))
    else:
        high = log.diameter / 2 - face
        wide, clear = (2 * math.sqrt(radius**2 - face**2) for radius in (log.diameter / 2, bare))
    half = np.array([long / 2, wide / 2, 0.0])
    if sawn:
        half = np.minimum(half, sawn / 2)
    lattice = Lattice.about(-half, half + np.array([0.0, 0.0, high]), voxel)
    level = lattice.of(body)
    return Wood(body, lattice, level < 0, level, min(long, clear, sawn or math.inf))


def _stacked(courses: list[dict[str, Any]], voxel: float) -> Wood:
    """Courses glued one on another; a ring is turned by half a segment against the ring before it."""
    solid: list[tuple[float, float, Field]] = []
    open_: list[tuple[float, float, Field]] = []
    place, rings, widths = 0.0, 0, []
    for item in courses:
        ((kind, keys),) = item.items()
        for _ in range(int(keys.get("count", 1))):
            end, across = place + length(keys["high"]), length(keys["across"])
            widths.append(across)
            if kind != "ring":
                solid.append((place, end, fields.within_circle(across)))
            else:
                count = int(keys["segments"])
                turn = math.pi / count * (1 - rings % 2)
                rings += 1
                solid.append((place, end, fields.turned_by(fields.within_flats(count, across), turn)))
                if "inside" in keys:
                    air = fields.turned_by(fields.within_flats(count, length(keys["inside"])), turn)
                    open_.append((place, end, air))
            place = end
    body = fields.stacked(solid)
    half = np.array([0.6, 0.6, 0.0]) * max(widths)
    lattice = Lattice.about(-half, half + np.array([0.0, 0.0, place]), voxel)
    level = lattice.of(body)
    wood = Wood(body, lattice, level < 0, level, max(widths))
    if open_:
        # Where the first or the last course is a ring its opening goes on into the air.
        first, last = open_[0], open_[-1]
        if first[0] == 0.0:
            open_[0] = (-fields.FAR, first[1], first[2])
        if last[1] == place:
            open_[-1] = (open_[-1][0], fields.FAR, last[2])
        air = fields.any_course(open_)
        wood.take(Removed(OPENING, OPENING, air, True), lattice.of(air))
    return wood


def stock(blank: dict[str, Any], *, voxel: float) -> Wood:
    """A blank as wood; its axis is z from 0.

    Args:
        blank: The keys; of a stack, its courses in place of its name.
        voxel: Edge of a voxel, mm.
    """
    if "stack" in blank:
        return _stacked(blank["stack"], voxel)
    log = log_of(blank)
    if log is not None:
        return _sawn(blank, log, voxel)
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
        right = maybe(blank, "across right") or wide
        wide, thick, left = max(wide, right), max(wide, right), wide
        prism, ends = fields.frustum(count, left, right, long), fields.slab(0, long)
        body = lambda points: np.maximum(prism(points), ends(points))  # noqa: E731
    corner = 1.0 if "square" in blank or "wide" in blank or "round" in blank else 1 / math.cos(math.pi / count)
    half = np.array([wide / 2 * corner, thick / 2 * corner, 0.0])
    lattice = Lattice.about(-half, half + np.array([0.0, 0.0, long]), voxel)
    level = lattice.of(body)
    wood = Wood(body, lattice, level < 0, level, min(wide, thick))
    if opening:
        frame = Frame.of_part()
        hole = Hole(OPENING, frame, opening, long, through=True, lean=(right - left) / 2 / long, sides=count)
        air = fields.frustum(count, opening, opening + right - left, long)
        own = Removed(OPENING, OPENING, air, True, holes=(hole,))
        wood.take(own, lattice.of(air))
        wood.features[OPENING] = hole
    return wood
