"""A blank of boards glued face to face, turned about any axis: along the boards, across them, or leaning.

This module owns the block as a solid and which board a point lies in. What the boards are is worked out elsewhere.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from handouts_build.workpiece.axes import Axis
from handouts_build.workpiece.blanks import BaseBlank, Grain, long_key
from handouts_build.workpiece.declared import angle, length, outline
from handouts_build.workpiece.faults import said
from handouts_build.workpiece.solid import Solid

__all__ = ["Laminated", "Layer"]

_ACROSS_DEG = 90.0
_HAIR_MM = 1e-6


@dataclass(frozen=True)
class Layer:
    """One board."""

    thick_mm: float
    wood: int
    """Number of its wood."""


@dataclass(frozen=True, kw_only=True)
class Laminated(BaseBlank):
    """A block sawn from boards glued face to face, of any woods and thicknesses, as `laminates` lists them."""

    word: ClassVar[str] = "laminated board"
    title: ClassVar[str] = "laminate"
    example: ClassVar[str] = "blank-laminate"
    called: ClassVar[str] = "a laminate"
    together: ClassVar[str] = "a laminate needs 'long' too; block and lean go with it alone"
    remedy: ClassVar[str] = "write {laminate: stripes, long: 6 in}, with its boards under `laminates`"
    glued: ClassVar[bool] = True
    swings: ClassVar[str] = "sqrt(width^2 + thickness^2)"
    largest_round: ClassVar[str] = "min(width, thickness)"

    layers: tuple[Layer, ...] = outline(
        "Boards glued face to face, by their name under `laminates`, which says how wide they are too.",
        word="laminate",
        example="stripes",
    )
    wide_mm: float = 0.0
    """Of every board, along y."""
    tones: tuple[str, ...] = ("tan",)
    """What each wood looks like beside the others, in the words of pictures."""
    block_mm: float = length(
        "Thickness of the block that is sawn out of a laminate, square to the axis and to its width; as thick as all "
        "its boards if not given.",
        word="block",
        example="2 1/4 in",
        noun="thickness",
        default=0.0,
    )
    """Along x."""
    long_mm: float = long_key()
    lean_deg: float = angle(
        "How far the boards of a laminate lean from the axis that it turns on: 0 deg, as if not given, for glue lines "
        "along the axis, 90 deg for glue lines across it, and all between. Its ends are sawn square to the axis.",
        word="lean",
        example="15 deg",
        default=0.0,
    )
    grain: Grain = Grain.ALONG

    @property
    def thick_mm(self) -> float:
        """All boards together."""
        return sum(layer.thick_mm for layer in self.layers)

    @property
    def through_mm(self) -> float:
        """How thick the boards must be together, for the block to be sawn out of them."""
        lean = math.radians(self.lean_deg)
        return self.block_mm * math.cos(lean) + self.long_mm * math.sin(lean)

    @property
    def boards_long_mm(self) -> float:
        """How long they must be."""
        lean = math.radians(self.lean_deg)
        return self.block_mm * math.sin(lean) + self.long_mm * math.cos(lean)

    def wrong(self) -> tuple[str, str, str] | None:
        """A lean that is none, or fewer boards than the block needs."""
        if not 0 <= self.lean_deg <= _ACROSS_DEG:
            wrong = f"boards that lean {self.lean_deg:g}°"
            return "lean", wrong, "give from 0 deg (along the axis) to 90 deg (across it)"
        if self.through_mm > self.thick_mm + _HAIR_MM:
            have, need = said(self.thick_mm), said(self.through_mm)
            wrong = f"the boards are {have} thick together, and the block needs {need} through them"
            return "laminate", wrong, "add boards, or make the block thinner or shorter"
        return None

    @property
    def stacked(self) -> Axis:
        """From the outer face of the first board straight through all of them, by the middle of the block."""
        lean = math.radians(self.lean_deg)
        along, through = (math.sin(lean), 0.0, math.cos(lean)), (math.cos(lean), 0.0, -math.sin(lean))
        half = self.thick_mm / 2
        return Axis((-half * through[0], 0.0, self.long_mm / 2 - half * through[2]), through, along)

    def body(self, segments: int) -> Solid:
        """A block; it has no round to draw."""
        del segments
        x, y = self.block_mm / 2, self.wide_mm / 2
        return Solid.prism([[(-x, -y), (x, -y), (x, y), (-x, y)]], start_mm=0, end_mm=self.long_mm)

    def of_wood(self, wood: int) -> Solid:
        """The room of all boards that are of one of its woods, out past the block.

        Args:
            wood: Its number.
        """
        out = self.long_mm + self.block_mm + self.wide_mm
        place, found = 0.0, []
        for layer in self.layers:
            if layer.wood == wood:
                corners = [(-out, -out), (out, -out), (out, out), (-out, out)]
                board = Solid.prism([corners], start_mm=place, end_mm=place + layer.thick_mm)
                found.append(board.moved(self.stacked))
            place += layer.thick_mm
        return Solid.all_of(found)
