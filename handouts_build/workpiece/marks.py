"""Marks: pencil lines on the wood as it is, and bands of it that are textured. They take nothing away.

This module owns where a mark runs on the surface, and whether a texture is still there. How a line looks is for
whoever draws it.
"""

from __future__ import annotations

import enum
import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np

from handouts_build.workpiece.axes import Axis, Floats
from handouts_build.workpiece.cut import Here
from handouts_build.workpiece.cuts.words import FIRST
from handouts_build.workpiece.declared import angle, choice, count, keep_bounds, length, own_name
from handouts_build.workpiece.faults import MOST_HOLES, WorkpieceFault, count_within, said
from handouts_build.workpiece.holds import End
from handouts_build.workpiece.shrinkage import Shrinkage
from handouts_build.workpiece.solid import Solid

__all__ = [
    "AlongLine", "BaseMark", "Dots", "EndCircle", "RingLine", "Texture", "TextureBand", "TextureTool", "drawn",
    "left_of", "textured",
]  # fmt: skip

_AROUND = 96
_STROKES, _SLANT, _ALONG = 36, math.radians(12.0), 9
"""Slanting strokes that a texture is drawn with, how far each leans around, and its points."""
_HAIR_MM = 0.01
_SKIN_MM = 0.4
"""A texture is still there where wood begins no deeper than this under it, and none stands higher over it."""


@dataclass(frozen=True, kw_only=True)
class BaseMark:
    """One mark. A kind of mark is declared by a class of this one: its word, its keys, and the lines it draws."""

    word: ClassVar[str]
    """The trade's word for it, as the file has it."""
    stays: ClassVar[bool] = False
    """Whether it is worked into the surface, and stays on the finished piece."""

    @classmethod
    def done(cls, written: Callable[[str], str | None]) -> tuple[str, str]:
        """What it is to make it, in the words of `work`, and the tool that it names; both empty for a pencil.

        Args:
            written: What stands under one of its keys.
        """
        del written
        return "", ""

    def lines(self, here: Here) -> list[Floats]:
        """Its lines on the wood, N x 3 each, lathe coordinates, mm; a line of one point is a dot.

        Raises:
            WorkpieceFault: If it misses the wood.
        """
        raise NotImplementedError


@dataclass(frozen=True, kw_only=True)
class RingLine(BaseMark):
    """A line around the wood."""

    word: ClassVar[str] = "ring"

    at_mm: float = length("Where, from the left end of the blank.", example="middle")

    def lines(self, here: Here) -> list[Floats]:
        """One closed line, lathe coordinates."""
        _on_wood(here, self.at_mm)
        angles = np.linspace(0, 2 * math.pi, _AROUND + 1)
        return [_on_side(here, [(self.at_mm, float(angle)) for angle in angles])]


@dataclass(frozen=True, kw_only=True)
class AlongLine(BaseMark):
    """A line along the wood."""

    word: ClassVar[str] = "line"

    angle_deg: float = angle("Its angle, from the top.", example="0 deg")
    start_mm: float = length("Where it starts, from the left end of the blank.", example="0 in")
    end_mm: float = length("Where it ends.", example="3 in")

    def lines(self, here: Here) -> list[Floats]:
        """One line, lathe coordinates."""
        start, end = here.span(self.start_mm, self.end_mm)
        places = np.linspace(max(start, here.low_mm + 0.01), min(end, here.high_mm - 0.01), 33)
        return [_on_side(here, [(float(place), math.radians(self.angle_deg)) for place in places])]


@dataclass(frozen=True, kw_only=True)
class EndCircle(BaseMark):
    """A circle on an end."""

    word: ClassVar[str] = "circle"

    diameter_mm: float = length("Its diameter.", example="octagon.side", above_nought=True)
    end: End = choice("The end, `left` (headstock) or `right`.", End, example="left")

    def lines(self, here: Here) -> list[Floats]:
        """One closed line, lathe coordinates."""
        radius = self.diameter_mm / 2
        found = []
        for turn in np.linspace(0, 2 * math.pi, _AROUND + 1):
            face = here.face_mm(self.end, radius, float(turn))
            if face is not None:
                found.append((radius * math.cos(turn), radius * math.sin(turn), face))
        if len(found) < 2:
            raise WorkpieceFault(f"a mark, a circle {said(self.diameter_mm)} across, misses the end", "make it smaller")
        return [np.array(found)]


@dataclass(frozen=True, kw_only=True)
class Dots(BaseMark):
    """Points pricked around the wood."""

    word: ClassVar[str] = "points"

    count: int = count("How many.", example="2 * ribs")
    at_mm: float = length("Where, from the left end of the blank.", example="middle")
    start_deg: float = angle(FIRST, word="first", example="15 deg", default=0.0)

    def lines(self, here: Here) -> list[Floats]:
        """A point each, lathe coordinates."""
        count_within(self.count, "points", least=1, most=MOST_HOLES)
        _on_wood(here, self.at_mm)
        angles = [math.radians(self.start_deg + 360 * index / self.count) for index in range(self.count)]
        points = _on_side(here, [(self.at_mm, angle) for angle in angles])
        return [point[None, :] for point in points]


class TextureTool(enum.Enum):
    """What a texture is made with, by its name in the trade."""

    CHATTER = "chatter tool"
    WHEEL = "texturing wheel"
    BRUSH = "wire brush"
    GOUGE = "carving gouge"
    ROTARY = "rotary tool"


_WORK = {TextureTool.GOUGE: "carving", TextureTool.ROTARY: "carving"}
"""What it is to use one, where it is not texturing turning wood."""


@dataclass(frozen=True, kw_only=True)
class TextureBand(BaseMark):
    """A band of the surface that is textured, as the step's cuts leave it. It stays on the finished piece."""

    word: ClassVar[str] = "texture"
    stays: ClassVar[bool] = True

    name: str = own_name("What the band is called.", example="shoulder")
    start_mm: float = length("Where it starts, from the left end of the blank.", example="1 in")
    end_mm: float = length("Where it ends.", example="1 3/4 in")
    tool: TextureTool = choice("The tool it is made with.", TextureTool, example="texturing wheel")

    @classmethod
    def done(cls, written: Callable[[str], str | None]) -> tuple[str, str]:
        """Texturing while the wood turns, or carving."""
        tool = written("tool") or ""
        work = next((word for kind, word in _WORK.items() if kind.value == tool), "texturing")
        return work, tool

    def lines(self, here: Here) -> list[Floats]:
        """A ring at either end, and slanting strokes between them; lathe coordinates."""
        start, end = self.start_mm, self.end_mm
        if end <= start:
            raise WorkpieceFault(
                f"a mark, the texture, begins at {said(start)} and ends at {said(end)}", "give the start before the end"
            )
        if start < here.low_mm - _HAIR_MM or end > here.high_mm + _HAIR_MM:
            raise WorkpieceFault(
                f"a mark, the texture from {said(start)} to {said(end)}, goes past the end of the wood",
                f"the wood now runs from {said(here.low_mm)} to {said(here.high_mm)}",
            )
        start, end = max(start, here.low_mm + _HAIR_MM), min(end, here.high_mm - _HAIR_MM)
        turns = np.linspace(0, 2 * math.pi, _AROUND + 1)
        found = [_on_side(here, [(place, float(turn)) for turn in turns]) for place in (start, end)]
        shares = np.linspace(0.0, 1.0, _ALONG)
        for stroke in range(_STROKES):
            first = 2 * math.pi * stroke / _STROKES
            found.append(
                _on_side(here, [(start + (end - start) * float(at), first + _SLANT * float(at)) for at in shares])
            )
        return found


@dataclass(frozen=True, eq=False)
class Texture:
    """A texture as it was made, kept for what later cuts do to it; part coordinates."""

    mark: TextureBand
    axis: Axis
    """That the wood turned on."""
    lines: tuple[Floats, ...]
    """What is still there of it, N x 3 each, mm."""
    points: int
    """How many it had when it was made."""

    def shrunk(self, by: Shrinkage) -> Texture:
        """The same once the wood that it is on has dried.

        Args:
            by: What is left of the part's sizes.
        """
        return replace(self, axis=by.axis(self.axis), lines=tuple(by.points(line) for line in self.lines))

    @property
    def left(self) -> float:
        """How much of it is still there, 0 to 1."""
        return sum(len(line) for line in self.lines) / self.points


def textured(mark: TextureBand, here: Here) -> Texture:
    """A texture on the wood as it is.

    Args:
        mark: The texture.
        here: The wood, as the step's cuts leave it.

    Raises:
        WorkpieceFault: If it misses the wood.
    """
    lines = drawn(mark, here)
    return Texture(mark, here.axis, lines, sum(len(line) for line in lines))


def left_of(texture: Texture, wood: Solid) -> Texture:
    """A texture as later cuts leave it.

    Args:
        texture: As it was before them.
        wood: In part coordinates.
    """
    kept: list[Floats] = []
    for line in texture.lines:
        local = texture.axis.to_lathe(line)
        radius = np.hypot(local[:, 0], local[:, 1])[:, None]
        skins = [
            texture.axis.to_part(np.hstack([local[:, :2] * (1 + way * _SKIN_MM / radius), local[:, 2:]]))
            for way in (-1, 1)
        ]
        there = wood.contains(skins[0]) & ~wood.contains(skins[1])
        breaks = np.flatnonzero(np.diff(there.astype(int))) + 1
        kept += [run for run, stays in zip(np.split(line, breaks), np.split(there, breaks), strict=True) if stays[0]]
    return replace(texture, lines=tuple(run for run in kept if len(run) > 1))


def drawn(mark: BaseMark, here: Here) -> tuple[Floats, ...]:
    """A mark on the wood as it is.

    Args:
        mark: The mark.
        here: The wood, on the hold that the step begins with.

    Returns:
        Its lines, N x 3 each, part coordinates, mm; a line of one point is a dot.

    Raises:
        WorkpieceFault: If the mark misses the wood.
    """
    keep_bounds(mark, mark.word)
    return tuple(here.axis.to_part(line) for line in mark.lines(here))


def _on_wood(here: Here, place: float) -> None:
    if not here.low_mm < place < here.high_mm:
        raise WorkpieceFault(
            f"a mark at {said(place)} is off the wood",
            f"the wood now runs from {said(here.low_mm)} to {said(here.high_mm)}",
        )


def _on_side(here: Here, spots: list[tuple[float, float]]) -> Floats:
    """Points on the outside, by place and angle; those where there is no wood are left out."""
    radii: dict[float, dict[float, float | None]] = {}
    for place in {place for place, _ in spots}:
        angles = sorted({turn for spot, turn in spots if spot == place})
        radii[place] = dict(zip(angles, here.surface_mm(at_mm=place, angles_rad=angles), strict=True))
    found = [
        (radius * math.cos(turn), radius * math.sin(turn), place)
        for place, turn in spots
        if (radius := radii[place][turn]) is not None
    ]
    if not found:
        raise WorkpieceFault("a mark falls where there is no wood", "check its place")
    return np.array(found)
