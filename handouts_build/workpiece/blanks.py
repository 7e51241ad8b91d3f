"""The stock a part is cut from, as a solid: each shape of blank, declared once.

This module owns blanks. A shape of blank is one class, which says its word, its keys and
what others go by. The blank's axis is z from 0 to its length. It leaves wood, weight and
price to others.
"""

from __future__ import annotations

import enum
import math
from collections.abc import Collection
from dataclasses import dataclass
from typing import Any, ClassVar

import numpy as np

from handouts_build.workpiece.axes import PART_AXIS, Axis, Floats
from handouts_build.workpiece.declared import angle, count, keep_bounds, length
from handouts_build.workpiece.faults import WorkpieceFault
from handouts_build.workpiece.shrinkage import AS_GROWN, Drying, Shrinkage
from handouts_build.workpiece.solid import Solid

__all__ = [
    "BARK_SAYS", "LONG_SAYS", "OPENING", "PITH_ANGLE_SAYS", "PITH_SAYS", "BaseBlank", "Board", "Branch", "Glued",
    "GluedRing", "Grain", "Round", "Square", "Staves", "bark_and_pith", "long_key", "pith_angle_alone",
    "regular_polygon",
]  # fmt: skip

LONG_SAYS = "Length along the axis; of a log, along its grain."
BARK_SAYS = "Thickness of the bark of a branch or log; it has none if not given."
PITH_SAYS = "How far the pith lies from the middle of a branch or log; in its middle if not given."
PITH_ANGLE_SAYS = (
    "The way the pith lies: of a branch from the top, of a log from where its bark faces; 0 deg if not given."
)


OPENING = "opening"
"""What the hole through a glued-up ring or tube is called."""
_MANY = (3, 180)
"""Fewest and most pieces of a ring."""
_ASIDE_MM = 0.0137
_SKIN_MM = 0.2
"""Less than this over the bark's inner face is what drawing a circle with straight sides leaves."""


class Grain(enum.Enum):
    """How the fibers run."""

    ALONG = "along the axis"
    """As in a spindle."""
    ACROSS = "across the axis"
    """As in a bowl from a board."""
    AROUND = "around the axis"
    """As in a ring of segments."""


class BaseBlank:
    """What every shape of blank declares; a shape is a frozen dataclass with keys and a `body`."""

    word: ClassVar[str]
    """What the sheet calls the shape."""
    title: ClassVar[str]
    """Its heading in the reference."""
    example: ClassVar[str]
    """Name of its example in the reference."""
    lead: ClassVar[str] = ""
    """What stands before `called` where a message lists the shapes: a branch, of segments."""
    called: ClassVar[str]
    together: ClassVar[str] = "the blank's keys do not go together"
    """What a message says where its keys are not all there, or stand with another shape."""
    remedy: ClassVar[str]
    """What would be right then."""
    own_grain: ClassVar[Grain | None] = None
    """How its grain lies, where that follows from the shape and the author says nothing."""
    is_round: ClassVar[bool] = False
    """Whether it has no corners to turn away."""
    is_square: ClassVar[bool] = False
    """Whether it is square in section: jaws close on its flats, and it runs in balance though it is not round."""
    told_by_name: ClassVar[bool] = True
    """Whether its measures are told each with its name; else they are a size, such as 2 in × 4 in."""
    as_grown: ClassVar[bool] = False
    """Whether it is the wood as it grew, with a pith to tell of, and maybe its bark on it."""
    glued: ClassVar[bool] = False
    """Whether it is glued up from smaller pieces."""
    section: ClassVar[tuple[str, ...]] = ()
    """Which of its measures are its cross-section as it comes off the saw; none where it is glued up."""
    swings: ClassVar[str]
    """By a formula over its measures: how wide it is across its corners."""
    largest_round: ClassVar[str]
    """By another: diameter of the largest round that can be turned from it."""

    long_mm: float
    grain: Grain
    bark_mm: float = 0.0
    """Thickness of its bark."""

    def solid(self, *, segments: int) -> Solid:
        """Its solid.

        Args:
            segments: Sides that a circle is drawn with.

        Raises:
            WorkpieceFault: If it cannot be.
        """
        keep_bounds(self, "blank")
        wrong = self.wrong()
        if wrong is not None:
            raise WorkpieceFault(*wrong[1:])
        return self.body(segments)

    def body(self, segments: int) -> Solid:
        """The solid of measures that are in order."""
        raise NotImplementedError

    def wrong(self) -> tuple[str, str, str] | None:
        """Which of its measures do not go with each other: the key to blame, what is wrong, what would be right."""
        return None

    def opening(self, *, over_mm: float = 0.0) -> Solid | None:
        """The air within it, from end to end and as much farther as told; none where it is solid."""
        del over_mm
        return None

    @property
    def stock(self) -> BaseBlank:
        """What the part is sawn from: itself, where it does not fall off another."""
        return self

    @property
    def grown(self) -> Axis:
        """The line in the middle of the log or branch, in part coordinates; of wood that is neither, its own axis."""
        return PART_AXIS

    @property
    def pith_at_mm(self) -> tuple[float, float] | None:
        """Where its pith runs: x and y about the line it has grown on, mm; none where it has none to tell of."""
        return None

    @property
    def under_bark_mm(self) -> float | None:
        """Diameter of the wood under its bark, or of all of it, mm; none where it is not as it grew."""
        return None

    def shrinks(self, drying: Drying) -> Shrinkage:
        """What drying leaves of its sizes, by how its rings lie at its middle.

        With the grain across the axis, which is taken to run along x, the rings lie flat there, as in wood laid out
        with its rim or its foot toward the bark: it shrinks along them from side to side, and across them in height.
        With the grain along the axis it shrinks along the rings one way across and across them the other. Where the
        pith runs in it, no way across is along the rings: it is taken to shrink alike all around, so that its section
        loses what the two would take. What is glued up is not worked green, and keeps its sizes.

        Args:
            drying: By how much the wood shrinks.
        """
        along_rings, across_rings = 1 - (drying.along_rings or 0.0), 1 - (drying.across_rings or 0.0)
        if self.glued or self.grain is Grain.AROUND:
            return AS_GROWN
        if self.grain is Grain.ACROSS:
            return Shrinkage(1.0, along_rings, across_rings)
        if self.pith_at_mm is not None:
            evenly = math.sqrt(along_rings * across_rings)
            return Shrinkage(evenly, evenly, 1.0)
        return Shrinkage(across_rings, along_rings, 1.0)

    def pith_left_mm(self, wood: Solid) -> float:
        """How long the pith is that runs in the wood, mm."""
        if self.pith_at_mm is None:
            return 0.0
        x, y = self.pith_at_mm
        local = wood.seen_from(self.grown)
        ends = (local.box_mm[2] - 1, local.box_mm[5] + 1)
        # A hair aside: a line through a row of corners may miss the faces between them.
        start, end = (np.array([x + _ASIDE_MM, y + 2 * _ASIDE_MM, place]) for place in ends)
        met = [distance for distance, _ in local.hits(start, end)]
        return sum(out - into for into, out in zip(met[::2], met[1::2], strict=False))

    def bark_left_mm3(self, wood: Solid) -> float:
        """How much of the wood is bark, mm³."""
        bark = self.barked(wood)[1]
        return 0.0 if bark is None else bark.volume_mm3

    def barked(self, wood: Solid, frame: Axis = PART_AXIS, dried: Shrinkage = AS_GROWN) -> tuple[Solid, Solid | None]:
        """The wood under its bark, and the bark, if it bears any.

        Args:
            wood: What is left of the blank.
            frame: How it lies in what it is part of.
            dried: What drying has left of its sizes.
        """
        if dried != AS_GROWN:
            under, bark = self.barked(wood.seen_from(frame).scaled(dried.undone.factors))
            back = [each and each.scaled(dried.factors).moved(frame) for each in (under, bark)]
            return (wood, None) if back[0] is None or back[1] is None else (back[0], back[1])
        if self.under_bark_mm is None or self.bark_mm <= 0:
            return wood, None
        grown = frame.placed(self.grown)
        local = wood.seen_from(grown)
        low, high = local.box_mm[2] - 1, local.box_mm[5] + 1
        # As round as the blank itself, so that no sliver is left where the bark is gone.
        radius = self.under_bark_mm / 2 + _SKIN_MM
        inner = Solid.cylinder(radius_mm=radius, start_mm=low, end_mm=high, segments=96)
        under, bark = local.split(inner)
        return (wood, None) if bark.is_empty else (under.moved(grown), bark.moved(grown))

    def saw_left_mm2(self, faces: Floats) -> float:
        """How much of faces that no cut has made stands on its sides as the saw left it; nought unless it is a log's.

        Args:
            faces: Triangles, M x 3 x 3: triangle, corner, coordinate; part coordinates, mm.
        """
        del faces
        return 0.0

    @classmethod
    def misfit(cls, given: Collection[str]) -> tuple[str, str] | None:
        """What is wrong with which of its keys are given, and what would be right."""
        del given
        return None

    @classmethod
    def across(cls, measures: Collection[str], *, natural: bool = False) -> tuple[str, str]:
        """Formulas for what it swings and for the largest round that it has.

        Args:
            measures: Those that are given, by what the sheet calls them; a formula has `_` for a space.
            natural: Whether its bark may stay.
        """
        del measures, natural
        return cls.swings, cls.largest_round

    @classmethod
    def along(cls, measures: Collection[str]) -> str:
        """A formula for how long it is along the axis that it turns on, over the measures that are given."""
        del measures
        return "length"

    @classmethod
    def keeps_pith(cls, given: Collection[str]) -> bool:
        """Whether its pith may be in it, by the keys that are given."""
        del given
        return cls.as_grown


def pith_angle_alone(given: Collection[str]) -> tuple[str, str] | None:
    """That a pith lies some way off, and not how far."""
    if "pith angle" not in given or "pith" in given:
        return None
    return "a pith angle says nothing of a pith in the middle", "say how far off it lies, such as pith: 3/8 in"


def bark_and_pith(blank: Any, called: str) -> tuple[str, str, str] | None:
    """Bark or pith that a branch or log has no room for.

    Args:
        blank: It.
        called: What a message calls it.
    """
    for word, value, says in (
        ("bark", blank.bark_mm, "the bark is as thick as"), ("pith", blank.pith_mm, "the pith lies as far off as"),
    ):  # fmt: skip
        if not 0 <= value < blank.diameter_mm / 2:
            return word, f"{says} half the {called} or more, or below 0", "give less than half its diameter"
    return None


def long_key() -> Any:
    """The key that every blank has: how long it is."""
    return length(LONG_SAYS, example="ball + 1 in", noun="length", above_nought=True)


@dataclass(frozen=True, kw_only=True)
class Round(BaseBlank):
    """A cylinder, its axis the lathe's."""

    word: ClassVar[str] = "round"
    title: ClassVar[str] = "round"
    example: ClassVar[str] = "blank-round"
    called: ClassVar[str] = "round"
    remedy: ClassVar[str] = "write {round: 2 in, long: 3 in}"
    is_round: ClassVar[bool] = True
    told_by_name: ClassVar[bool] = False
    section: ClassVar[tuple[str, ...]] = ("diameter",)
    swings: ClassVar[str] = "diameter"
    largest_round: ClassVar[str] = "diameter"

    diameter_mm: float = length(
        "Diameter of a round blank.", word="round", example="ball", noun="diameter", above_nought=True
    )
    long_mm: float = long_key()
    grain: Grain = Grain.ALONG

    def body(self, segments: int) -> Solid:
        """A cylinder."""
        return Solid.cylinder(radius_mm=self.diameter_mm / 2, start_mm=0, end_mm=self.long_mm, segments=segments)


@dataclass(frozen=True, kw_only=True)
class Square(BaseBlank):
    """Square in section."""

    word: ClassVar[str] = "square"
    title: ClassVar[str] = "square"
    example: ClassVar[str] = "blank-square"
    called: ClassVar[str] = "square"
    remedy: ClassVar[str] = "write {square: 2 in, long: 3 in}"
    is_square: ClassVar[bool] = True
    told_by_name: ClassVar[bool] = False
    section: ClassVar[tuple[str, ...]] = ("side",)
    swings: ClassVar[str] = "sqrt(2) * side"
    largest_round: ClassVar[str] = "side"

    side_mm: float = length(
        "Side of a square blank.", word="square", example="2 1/2 in", noun="side", above_nought=True
    )
    long_mm: float = long_key()
    grain: Grain = Grain.ALONG

    def body(self, segments: int) -> Solid:
        """A block; it has no round to draw."""
        del segments
        return _block(self.side_mm, self.side_mm, self.long_mm)


@dataclass(frozen=True, kw_only=True)
class Board(BaseBlank):
    """Wider than thick, or cut across the grain for a bowl."""

    word: ClassVar[str] = "board"
    title: ClassVar[str] = "board"
    example: ClassVar[str] = "blank-board"
    called: ClassVar[str] = "wide and thick"
    together: ClassVar[str] = "a board needs both wide and thick"
    remedy: ClassVar[str] = "write {wide: 6 in, thick: 2 in, long: 6 in}"
    told_by_name: ClassVar[bool] = False
    section: ClassVar[tuple[str, ...]] = ("width", "thickness")
    swings: ClassVar[str] = "sqrt(width^2 + thickness^2)"
    largest_round: ClassVar[str] = "min(width, thickness)"

    wide_mm: float = length("Width of a board; needs `thick` too.", example="6 in", noun="width", above_nought=True)
    """Along x."""
    thick_mm: float = length("Thickness of a board.", example="2 in", noun="thickness", above_nought=True)
    """Along y."""
    long_mm: float = long_key()
    """Along the axis: for a bowl, this is the board's thickness."""
    grain: Grain = Grain.ACROSS

    def body(self, segments: int) -> Solid:
        """A block; it has no round to draw."""
        del segments
        return _block(self.wide_mm, self.thick_mm, self.long_mm)


@dataclass(frozen=True, kw_only=True)
class Branch(BaseBlank):
    """Round wood with its bark on and its pith in it."""

    word: ClassVar[str] = "branch"
    title: ClassVar[str] = "branch"
    example: ClassVar[str] = "blank-branch"
    lead: ClassVar[str] = "a"
    called: ClassVar[str] = "branch"
    together: ClassVar[str] = "only a branch or a log has bark and pith to tell of"
    remedy: ClassVar[str] = "write {branch: 3 in, bark: 1/8 in, long: 6 in}"
    is_round: ClassVar[bool] = True
    as_grown: ClassVar[bool] = True
    section: ClassVar[tuple[str, ...]] = ("diameter",)
    swings: ClassVar[str] = "diameter"
    largest_round: ClassVar[str] = "(diameter - 2 * bark)"

    diameter_mm: float = length(
        "Diameter of a branch, over the bark.", word="branch", example="3 in", noun="diameter", above_nought=True
    )
    """Over the bark."""
    long_mm: float = long_key()
    bark_mm: float = length(BARK_SAYS, example="1/8 in", default=0.0)
    pith_mm: float = length(
        PITH_SAYS,
        example="3/8 in",
        default=0.0,
        noun="pith off the axis",
    )
    pith_deg: float = angle(PITH_ANGLE_SAYS, word="pith angle", example="90 deg", default=0.0)
    grain: Grain = Grain.ALONG

    @classmethod
    def misfit(cls, given: Collection[str]) -> tuple[str, str] | None:
        """An angle without a distance."""
        return pith_angle_alone(given)

    @classmethod
    def across(cls, measures: Collection[str], *, natural: bool = False) -> tuple[str, str]:
        """Without bark, all of it is wood; where bark may stay, so is that."""
        return (cls.swings, cls.largest_round) if "bark" in measures and not natural else (cls.swings, cls.swings)

    def wrong(self) -> tuple[str, str, str] | None:
        """Bark or pith that the branch has no room for."""
        return bark_and_pith(self, "branch")

    def body(self, segments: int) -> Solid:
        """A cylinder, bark and all."""
        return Solid.cylinder(radius_mm=self.diameter_mm / 2, start_mm=0, end_mm=self.long_mm, segments=segments)

    @property
    def under_bark_mm(self) -> float:
        """What its bark leaves."""
        return self.diameter_mm - 2 * self.bark_mm

    @property
    def pith_at_mm(self) -> tuple[float, float]:
        """As far off the axis as told, and that way."""
        angle = math.radians(self.pith_deg)
        return self.pith_mm * math.cos(angle), self.pith_mm * math.sin(angle)


@dataclass(frozen=True, kw_only=True)
class Glued(BaseBlank):
    """Straight pieces mitered into a ring: flat outside and inside as it comes from the clamps."""

    lead: ClassVar[str] = "of"
    together: ClassVar[str] = "across and inside go with segments or staves, which need both"
    remedy: ClassVar[str] = "write {segments: 12, across: 6 in, inside: 4 in, long: 1 in}"
    glued: ClassVar[bool] = True
    largest_round: ClassVar[str] = "width"
    miter: ClassVar[str]
    """What the cut is called that is slanted for the next piece."""
    miter_says: ClassVar[str]
    """The same, with where it is."""

    pieces: int
    across_mm: float = length(
        "Width of a ring or tube as it is glued up, from flat to flat.",
        example="6 1/4 in",
        noun="width",
        above_nought=True,
    )
    """Outside, from flat to flat."""
    inside_mm: float = length(
        "Width of its opening, from flat to flat. The opening is there from the start, by the name `opening`: hold by "
        "it (`chuck opening out`, `on: opening`), meet it (`meets: [opening]`), bore it wider, or join into it, from "
        "its left end, or from its right one in a joint that says `far: true`.",
        example="4 1/2 in",
        noun="opening",
        above_nought=True,
    )
    """Inside, from flat to flat."""
    long_mm: float = long_key()
    """Along the axis."""

    @property
    def grows_mm(self) -> float:
        """How much wider it is at its right end."""
        return 0.0

    def wrong(self) -> tuple[str, str, str] | None:
        """Pieces that make no ring, or an opening that leaves none."""
        pieces = float(self.pieces)
        if not _MANY[0] <= pieces <= _MANY[1] or pieces != round(pieces):
            return (
                self.called,
                f"a ring of {pieces:g} {self.called}",
                f"give a whole number from {_MANY[0]} to {_MANY[1]}",
            )
        if self.inside_mm >= self.across_mm:
            return "inside", "the opening is as wide as the ring, or wider", "make the opening smaller than the ring"
        return None

    def body(self, segments: int) -> Solid:
        """A prism; volume n tan(180°/n) times the squares of the half widths."""
        del segments
        outlines = [regular_polygon(self.pieces, across) for across in (self.across_mm, self.inside_mm)]
        return Solid.prism(outlines, start_mm=0, end_mm=self.long_mm)

    def opening(self, *, over_mm: float = 0.0) -> Solid:
        """The air within it, from end to end and as much farther as told."""
        outline = regular_polygon(self.pieces, self.inside_mm)
        return Solid.prism([outline], start_mm=-over_mm, end_mm=self.long_mm + over_mm)


@dataclass(frozen=True, kw_only=True)
class GluedRing(Glued):
    """A ring glued up from mitered segments; the sheet tells their edge and miter."""

    word: ClassVar[str] = "glued-up ring"
    title: ClassVar[str] = "segments"
    example: ClassVar[str] = "blank-segments"
    called: ClassVar[str] = "segments"
    own_grain: ClassVar[Grain | None] = Grain.AROUND
    swings: ClassVar[str] = "width / cos(180 deg / segments)"
    miter: ClassVar[str] = "miter"
    miter_says: ClassVar[str] = "Miter on each end of a segment"

    pieces: int = count(
        "How many mitered segments a glued-up ring has; needs `across` and `inside` too.", word="segments", example="12"
    )
    grain: Grain = Grain.AROUND


@dataclass(frozen=True, kw_only=True)
class Staves(Glued):
    """A tube glued up from beveled staves, straight or tapered; the sheet tells their width and bevel."""

    word: ClassVar[str] = "glued-up tube"
    title: ClassVar[str] = "staves"
    example: ClassVar[str] = "blank-staves"
    called: ClassVar[str] = "staves"
    swings: ClassVar[str] = "width / cos(180 deg / staves)"
    miter: ClassVar[str] = "bevel"
    miter_says: ClassVar[str] = "Bevel on each edge of a stave"

    pieces: int = count(
        "How many beveled staves a glued-up tube has; needs `across` and `inside` too.", word="staves", example="8"
    )
    right_mm: float | None = length(
        "Width of a tapered tube at its right end, from flat to flat; `across` and `inside` are those of its left end "
        "then. As wide as at the left if not given.",
        word="across right",
        example="8 in",
        noun="right width",
        default=None,
        above_nought=True,
    )
    grain: Grain = Grain.ALONG

    @property
    def grows_mm(self) -> float:
        """How much wider it is at its right end."""
        return 0.0 if self.right_mm is None else self.right_mm - self.across_mm

    @classmethod
    def across(cls, measures: Collection[str], *, natural: bool = False) -> tuple[str, str]:
        """Of a tapered tube its wide end."""
        del natural
        if "right width" not in measures:
            return cls.swings, cls.largest_round
        wide = "max(width, right_width)"
        return f"{wide} / cos(180 deg / staves)", wide

    def wrong(self) -> tuple[str, str, str] | None:
        """What is wrong with any ring, and a taper that closes the opening."""
        found = super().wrong()
        if found is None and self.inside_mm + self.grows_mm <= 0:
            return "across right", "the tube tapers until its opening is closed", "make the right end wider"
        return found

    def body(self, segments: int) -> Solid:
        """A prism, or where it tapers a frustum, its wall as thick across the axis everywhere."""
        if self.right_mm is None:
            return super().body(segments)
        return self._tapered(self.across_mm) - self._tapered(self.inside_mm, over_mm=1.0)

    def opening(self, *, over_mm: float = 0.0) -> Solid:
        """The air within it, growing as it does."""
        return (
            super().opening(over_mm=over_mm)
            if self.right_mm is None
            else self._tapered(self.inside_mm, over_mm=over_mm)
        )

    def _tapered(self, across_mm: float, *, over_mm: float = 0.0) -> Solid:
        """A frustum that is so wide at the left end."""
        more = self.grows_mm / self.long_mm * over_mm
        start, end = across_mm - more, across_mm + self.grows_mm + more
        outline = regular_polygon(self.pieces, start)
        return Solid.frustum(outline, scale=end / start, start_mm=-over_mm, end_mm=self.long_mm + over_mm)


def _block(wide: float, thick: float, long: float) -> Solid:
    x, y = wide / 2, thick / 2
    return Solid.prism([[(-x, -y), (x, -y), (x, y), (-x, y)]], start_mm=0, end_mm=long)


def regular_polygon(sides: int, across_mm: float, *, turn_deg: float | None = None) -> list[tuple[float, float]]:
    """A regular polygon by the width between its flats (or between a flat and the corner circle's other side).

    Args:
        sides: How many.
        across_mm: Twice the distance of a flat from the middle.
        turn_deg: Where its first corner lies, from the x axis; half a side if not given.
    """
    radius = across_mm / 2 / math.cos(math.pi / sides)
    first = math.pi / sides if turn_deg is None else math.radians(turn_deg)
    angles = [first + 2 * corner * math.pi / sides for corner in range(sides)]
    return [(radius * math.cos(angle), radius * math.sin(angle)) for angle in angles]
