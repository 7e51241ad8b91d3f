"""A drawing on a card: the piece without its numbers."""

from __future__ import annotations

import re

from handouts_build.figures.style import DIMENSION, OUTLINE, Role
from handouts_build.outputs.pages.card_drawing import emblem


def path(line: str, style: str) -> str:
    return f'<path d="{line}" style="{style}"/>\n'


INK, PAPER, WOOD = Role.INK.value, Role.PAPER.value, Role.WOOD.value
OUTER = path(
    "M 50 60 L 150.26 60 L 150.26 90 L 50 90 z ", f"fill: {WOOD}; stroke: {INK}; stroke-width: {OUTLINE.width_pt:g}"
)
LINE = path("M 0 10 L 300 10 ", f"fill: none; stroke: {INK}; stroke-width: {DIMENSION.width_pt:g}")
HEAD = path("M 0 10 L 5 8 L 5 12 z ", f"fill: {INK}")
GROUND = path("M 1 1 L 9 1 L 9 9 z ", f"fill: {PAPER}")
SVG = f'<svg viewBox="0 0 300 200">\n{OUTER}{LINE}{HEAD}{GROUND}<text x="1" y="1">2 in <tspan>x</tspan></text>\n</svg>'


def test_lettering_dimension_lines_and_arrowheads_are_left_out() -> None:
    made = emblem(SVG)
    assert made.count("<path") == 1
    assert "text" not in made
    assert WOOD in made


def test_the_frame_closes_in_on_what_is_left() -> None:
    frame = re.search(r'viewBox="([^"]+)"', emblem(SVG))
    assert frame is not None
    assert frame[1] == "46.0 56.0 108.3 38.0"  # 50 to 150.26 and 60 to 90, with 4 around


def test_a_drawing_of_nothing_but_lettering_gives_nothing() -> None:
    assert emblem(f'<svg viewBox="0 0 9 9">{HEAD}<text x="1" y="1">a</text></svg>') == ""
