"""A template ready to be placed on paper, and the room a page gives it.

This module owns the frame that the drawings of this package's templates share.
"""

from __future__ import annotations

from dataclasses import dataclass

from handouts_build.figures.figure import Figure
from handouts_build.language import tr, tr_later
from handouts_build.sheet import Group

__all__ = ["PIECE", "Room", "Template", "as_figures"]

PIECE = tr_later("Piece {number} of {many}.")
"""What the words of one piece of several open with."""


@dataclass(frozen=True)
class Room:
    """The largest drawing a page takes, in mm."""

    width: float
    height: float


@dataclass(frozen=True)
class Template:
    """One thing to cut out, in one or more pieces."""

    title: str
    use: str
    """How it is used, in a sentence or two."""
    pieces: tuple[Figure, ...]
    """At exactly 1:1; `width_mm` and `height_mm` are true."""


def as_figures(
    name: str, group: Group, title: str, cut: list[tuple[str, float]], width: float, alt: str
) -> tuple[Figure, ...]:
    """The pieces of a template as figures.

    Args:
        name: Of the template, unique within a project.
        group: What it belongs to.
        title: What it is.
        cut: SVG and height in mm of each piece.
        width: Of every piece without its edge lines, in mm.
        alt: What it shows, in words.
    """
    pieces = len(cut)
    return tuple(
        Figure(
            f"{name}-{number}" if pieces > 1 else name,
            group.name,
            tr("{title}, piece {number} of {many}", title=title, number=number, many=pieces) if pieces > 1 else title,
            svg,
            f"{tr(PIECE, number=number, many=pieces)} {alt}" if pieces > 1 else alt,
            width + 0.2,
            height,
        )
        for number, (svg, height) in enumerate(cut, start=1)
    )
