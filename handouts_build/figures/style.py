"""How drawings look: colors by role, pens, lettering, and fractions as they are lettered.

This module owns the drawing office's conventions. It draws nothing and does not
know matplotlib. On paper everything is told apart by weight and dashes alone; color
only helps.
"""

from __future__ import annotations

import enum
import re
from dataclasses import dataclass

from handouts_build.language import tr
from handouts_build.quantities import Printed

__all__ = [
    "ARROW_MM",
    "CENTER",
    "CUT",
    "DIMENSION",
    "EDGE",
    "FAMILY",
    "HATCH",
    "HIDDEN",
    "LINE_STEP",
    "MARK",
    "MM_PER_POINT",
    "NOTE_PT",
    "OUTLINE",
    "PHANTOM",
    "TEXT_PT",
    "Pen",
    "Role",
    "both",
    "lettered",
    "some",
    "stacked",
]

FAMILY = "Handouts Sans"
"""The bundled face, the only one in drawings."""

MM_PER_POINT = 25.4 / 72

TEXT_PT = 7.8
"""Lettering of dimensions, in points at print size."""

NOTE_PT = 7.5
"""Lettering of notes, in points at print size."""

LINE_STEP = 1.18
"""From one line of lettering to the next, as a share of its size."""

ARROW_MM = 2.0
"""Length of an arrowhead."""


class Role(enum.Enum):
    """What a color stands for. Each value is a sentinel that occurs for nothing else.

    The value is the color in print; a page puts a CSS variable in its place, so the
    six values must differ from one another and from any other color.
    """

    INK = "#101012"
    """Outlines, dimensions and lettering."""
    FAINT = "#5f5f63"
    """Center lines, hidden lines, what is no longer or not yet there."""
    WOOD = "#f5eee2"
    """The face of wood."""
    HATCH = "#a39582"
    """Hatching of cut wood, and end grain."""
    ACCENT = "#a8320c"
    """What the drawing is about: the marks to make, the wood that is left."""
    PAPER = "#fefefe"
    """The ground, under lettering and in holes."""

    @property
    def variable(self) -> str:
        """Name of the CSS variable that takes its place on a page."""
        return f"--hb-{self.name.lower()}"


@dataclass(frozen=True)
class Pen:
    """A kind of line."""

    width_pt: float
    role: Role = Role.INK
    dashes_mm: tuple[float, ...] = ()
    """Dash, gap, dash, gap …; a whole line when empty."""


OUTLINE = Pen(1.3)
"""Visible outlines: the heaviest line."""
EDGE = Pen(0.6)
"""Visible edges within an outline."""
DIMENSION = Pen(0.5)
"""Dimension, extension and leader lines."""
HIDDEN = Pen(0.6, Role.FAINT, (1.6, 0.9))
"""Hidden edges, and circles that are only thought of."""
CENTER = Pen(0.5, Role.FAINT, (5.0, 1.0, 0.9, 1.0))
"""Center lines and axes."""
PHANTOM = Pen(0.6, Role.FAINT, (5.0, 1.0, 0.9, 1.0, 0.9, 1.0))
"""Wood that was there, or will not be."""
HATCH = Pen(0.4, Role.HATCH)
"""Hatching of wood that is cut through."""
CUT = Pen(1.5, Role.ACCENT)
"""A cut or a final surface that the drawing is about."""
MARK = Pen(0.9, Role.ACCENT, (2.6, 0.9))
"""A pencil line to draw, or a circle to keep clear of."""

_GLYPHS = {
    (1, 2): "½", (1, 4): "¼", (3, 4): "¾", (1, 8): "⅛", (3, 8): "⅜", (5, 8): "⅝", (7, 8): "⅞",
}  # fmt: skip
_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
_LOWERED = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
_FRACTION = re.compile(r"(?:(\d+)\u00a0)?\b(\d+)/(\d+)")


def lettered(text: str) -> str:
    """Text with its fractions in glyphs that need no features of the font.

    Args:
        text: Such as `2 21/32 in`.

    Returns:
        Such as `2 ²¹⁄₃₂ in`.
    """

    def glyphs(found: re.Match[str]) -> str:
        whole, top, bottom = found[1] or "", found[2], found[3]
        glyph = _GLYPHS.get((int(top), int(bottom)))
        if glyph:
            return whole + glyph
        # The narrow space keeps a whole number and a raised one from reading as a power.
        space = "\u202f" if whole else ""
        return f"{whole}{space}{top.translate(_RAISED)}\u2044{bottom.translate(_LOWERED)}"

    return _FRACTION.sub(glyphs, text)


def both(printed: Printed, before: str = "") -> str:
    """A value in both units on one line, as lettered on a drawing.

    Args:
        printed: The value.
        before: What stands before it, such as `Ø`.
    """
    return f"{before} {lettered(str(printed))}".strip()


def stacked(printed: Printed, before: str = "") -> tuple[str, ...]:
    """A value with its other unit on a line of its own.

    Args:
        printed: The value.
        before: What stands before it, such as `Ø`.
    """
    lead = f"{before} {lettered(printed.lead)}".strip()
    return (lead, f"({lettered(printed.other)})") if printed.other else (lead,)


def some(printed: Printed) -> str:
    """An amount that is more than nought, however little of it the print shows."""
    return str(printed) if printed.rounded.magnitude else tr("next to nothing")
