"""A drawing made small: without lettering and dimension lines, to stand on a card.

This module owns what is left out and the frame around what stays. It leaves colors
to `figures.theme` and the drawing itself to `figures`.
"""

from __future__ import annotations

import re

from handouts_build.figures.style import CENTER, DIMENSION, Role

__all__ = ["emblem"]

_TEXT = re.compile(r"<text\b.*?</text>\n?", re.DOTALL)
_PATH = re.compile(r'<path d="([^"]*)" style="([^"]*)"/>\n?')
_OPENING = re.compile(r"<svg\b[^>]*>")
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")

_THIN = tuple(f"stroke-width: {pen.width_pt:g}" for pen in {DIMENSION, CENTER})
_MARGIN = 4.0
"""Room around the drawing, in points."""


def emblem(svg: str) -> str:
    """What a figure shows, without the numbers: outlines, faces and hatching, closely framed.

    Args:
        svg: As a `Figure` carries it.
    """
    kept = [(line, style) for line, style in _PATH.findall(_TEXT.sub("", svg)) if _stays(style)]
    if not kept:
        return ""
    numbers = [[float(number) for number in _NUMBER.findall(line)] for line, _ in kept]
    across = [x for line in numbers for x in line[0::2]]
    down = [y for line in numbers for y in line[1::2]]
    left, top = min(across) - _MARGIN, min(down) - _MARGIN
    width, height = max(across) + _MARGIN - left, max(down) + _MARGIN - top
    body = "\n".join(f'<path d="{_shorter(line)}" style="{style}"/>' for line, style in kept)
    frame = f'viewBox="{left:.1f} {top:.1f} {width:.1f} {height:.1f}" width="{width:.1f}" height="{height:.1f}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {frame} stroke-linejoin="round">\n{body}\n</svg>'


def _stays(style: str) -> bool:
    """Whether a line belongs to the piece, and not to its dimensions or their lettering's ground."""
    thin = any(style.endswith(pen) for pen in _THIN)
    head = "stroke:" not in style and Role.INK.value in style
    ground = "stroke:" not in style and Role.PAPER.value in style
    return not (thin or head or ground)


def _shorter(line: str) -> str:
    """A path with tenths of a point, which is finer than a card shows."""
    return _NUMBER.sub(lambda found: f"{float(found[0]):.1f}".removesuffix(".0"), line.strip())
