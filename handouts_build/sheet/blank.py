"""The stock a part is cut from, as a settled sheet carries it.

This module owns the frame and how its measures are told in a line. What they come to is
worked out elsewhere.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from handouts_build.language import tr, tr_later
from handouts_build.quantities import Err, Kind, Printed, Quantity, kind_of
from handouts_build.sheet.laminate import Laminate
from handouts_build.sheet.stack import Stack

__all__ = ["Blank", "ToldSide", "safe_side", "side_words", "told_side", "told_wood"]

_SIDES = {
    "opening": Err.UNDER, "bark": Err.NEAREST, "lean": Err.NEAREST, "pith off the axis": Err.NEAREST,
    "pith angle": Err.NEAREST, "miter": Err.NEAREST, "bevel": Err.NEAREST, "taper": Err.NEAREST,
}  # fmt: skip


def safe_side(side: str) -> Err:
    """The side a measure of a blank is rounded to: over, for wood can be turned away but not put on.

    The opening of a ring is wood that is missing, so it is rounded under; where bark and pith lie is no size to cut.
    Angles that a saw is set to have no safe side.
    """
    return _SIDES.get(side, Err.OVER)


def side_words(side: str) -> str:
    """What a message to an author calls a measure of a blank."""
    return _SIDE.format(side=side)


def told_side(side: str) -> str:
    """What a page calls a measure of a blank, in the language that is spoken."""
    return tr(_SIDE, side=tr(side))


_SIDE = tr_later("the blank's {side}")


def told_wood(wood: str) -> str:
    """A wood as readers are told it: by the name it has in the language that is spoken.

    Args:
        wood: As a sheet has it; one that the catalogue does not have stays as the author wrote it.
    """
    return tr(wood)


@dataclass(frozen=True)
class ToldSide:
    """One measure of a blank with the words around its value: `length 3 in`, `10 staves`."""

    before: str
    printed: Printed
    after: str
    most: bool
    """Whether the blank may have no more of it."""


_ACROSS = (tr_later("across"), tr_later("by"), tr_later("thickness"))
"""Of a board that turns with its grain across: it is as thick as it is long on the lathe."""
_TOLD = {"right width": tr_later("width at the right")}
"""Measures whose own name would be misread beside the others."""


@dataclass(frozen=True)
class Blank:
    """The stock a part is cut from."""

    shape: str
    """Its word, as the workpiece declares it: `round`, `glued-up ring` …"""
    sides: tuple[tuple[str, Quantity, Printed], ...]
    """What each measure is, with its value: diameter or width (and thickness), then length and what else there is."""
    trees: tuple[list[Any], ...] = field(default=(), compare=False)
    """How each measure follows, with full names."""

    stack: Stack | None = None
    """Its courses, of a glued-up stack."""
    laminate: Laminate | None = None
    """Its boards, of a laminated board."""
    by_name: bool = False
    """Whether there is more to tell of it than a size, so that each measure is told with its name."""

    def told_sides(self, grain: str) -> list[ToldSide]:
        """Its measures by name.

        Args:
            grain: How the wood's grain lies on the lathe, as the part says it.
        """
        names = [_TOLD.get(side, side) for side, _, _ in self.sides]
        if self.shape == "board" and grain == "across the axis":
            names = list(_ACROSS)
        return [
            ToldSide("", printed, tr(name), most=False)
            if kind_of(value) is Kind.NUMBER
            else ToldSide(tr(name), printed, "", most=safe_side(side) is Err.UNDER)
            for name, (side, value, printed) in zip(names, self.sides, strict=True)
        ]

    def told(self, say: Callable[[Printed], str] = str) -> str:
        """Its measures in one line, such as `2 in × 4 in`; by name where there is more to tell than a size."""
        if self.by_name:
            phrases = ((side.before, say(side.printed), side.after) for side in self.told_sides(""))
            return ", ".join(" ".join(filter(None, words)) for words in phrases)
        return " × ".join(say(printed) for _, _, printed in self.sides)
