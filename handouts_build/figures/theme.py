"""A drawing made fit for a page in light and dark.

This module owns the step from the print's colors to CSS variables, and what an SVG
set straight into Markdown may not contain. The page around it gives the variables
their values; each has the print's color to fall back on.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

from handouts_build.figures.style import Role

__all__ = ["DARK", "themed"]

DARK: Mapping[str, str] = MappingProxyType(
    {
        Role.INK.variable: "#ececef",
        Role.FAINT.variable: "#a9a9b0",
        Role.WOOD.variable: "#3a3328",
        Role.HATCH.variable: "#85775f",
        Role.ACCENT.variable: "#ff9a6b",
        Role.PAPER.variable: "#1e1f26",
    }
)
"""Values of the variables that read well on a dark page. `--hb-paper` should be the page's own ground."""


_TAG = re.compile(r"<[^>]*>")
_PATH = re.compile(r' d="[^"]*"')
_NUMBER = re.compile(r"-?\d+\.\d+")


def themed(svg: str) -> str:
    """A figure's SVG for setting into a page: its colors from CSS variables, hidden from screen readers.

    Lines go to a tenth of a point, less than a screen tells apart.

    The page says the text alternative on the element around it.

    Args:
        svg: As a `Figure` of this package carries it.

    Returns:
        An `svg` element without blank lines, so that Markdown takes it as one block.
    """
    svg = _TAG.sub(lambda found: _colored(found[0]), svg)
    svg = _PATH.sub(lambda path: _NUMBER.sub(lambda number: f"{float(number[0]):.1f}".removesuffix(".0"), path[0]), svg)
    svg = svg.replace(
        "<svg ",
        '<svg class="hb-figure" role="img" aria-hidden="true" focusable="false" style="max-width: 100%; height: auto" ',
        1,
    )
    return "\n".join(line for line in svg.splitlines() if line.strip())


def _colored(tag: str) -> str:
    """One tag with variables for its colors; lettering between tags is left alone."""
    for role in Role:
        tag = tag.replace(role.value, f"var({role.variable}, {role.value})")
    return tag
