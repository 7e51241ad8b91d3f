"""A picture of a solid, ready to be set: for a light and a dark page, and for paper.

This module owns the frame and the sizes. What is drawn is told; how it is drawn is for
`solids`.
"""

from __future__ import annotations

import base64
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Unpack

from handouts_build.figures.figure import Figure

if TYPE_CHECKING:
    from handouts_build.figures.solid.picture import Camera, Drawn, SurfaceMesh

__all__ = ["PAGE_PX", "PAPER_PX", "Edges", "PictureSet", "Shot", "shot"]

PAGE_PX = 720
"""Width of a picture that is for pages too, in pixels."""
PAPER_PX = 576
"""Width of a step's picture that is for paper alone: some 300 to the inch beside its step. In a smaller one edges would
be half as wide; glue lines are finer already."""
_PAPER_MM = 54.0
"""Width on paper, beside the words of a step."""


Edges = tuple[int, int, int, int]
"""Left, upper, right and lower edge, in pixels."""


@dataclass(frozen=True)
class Shot:
    """One picture."""

    name: str
    """Unique within a project; also its file names without ending."""
    alt: str
    """What it shows, with its numbers, for those who cannot see it."""
    light: bytes
    """PNG for a light page, with a clear ground."""
    dark: bytes
    """The same for a dark page; empty where it is for paper only."""
    width_px: int
    height_px: int
    ink: Edges
    """The part of it that is drawn on."""

    def on_paper(self, *, title: str, wide_mm: float = _PAPER_MM, crop: Edges | None = None) -> Figure:
        """The picture as a figure for print.

        Args:
            title: Of the figure.
            wide_mm: How wide it is set.
            crop: The part of it that is shown; the whole if not given.
        """
        left, upper, right, lower = crop or (0, 0, self.width_px, self.height_px)
        wide, high = right - left, lower - upper
        data = base64.b64encode(self.light).decode("ascii")
        svg = (
            '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
            f'width="{wide}" height="{high}" viewBox="{left} {upper} {wide} {high}">'
            f'<image width="{self.width_px}" height="{self.height_px}" '
            f'xlink:href="data:image/png;base64,{data}"/></svg>'
        )
        high_mm = wide_mm * high / wide
        return Figure(self.name, "", title, svg, self.alt, wide_mm, high_mm)


@dataclass(frozen=True)
class PictureSet:
    """All that is drawn of a project's solids."""

    shots: Mapping[int, Shot] = field(default_factory=dict)
    """By the step's number."""
    finished: Shot | None = None
    viewer: str = ""
    """The script that brings the piece to its page; empty where there is nothing to turn about."""
    models: Mapping[str, bytes] = field(default_factory=dict)
    """Files for other tools, by name."""


def shot(
    name: str,
    alt: str,
    mesh: SurfaceMesh,
    *,
    camera: Camera,
    dark: bool = True,
    wide_px: int = PAGE_PX,
    **more: Unpack[Drawn],
) -> Shot:
    """A picture of one stage for both grounds.

    Args:
        name: Of its files.
        alt: What it shows.
        mesh: The wood that stays.
        camera: The view.
        dark: Whether it is wanted for a dark page too; paper has none.
        wide_px: Its width, in pixels.
        **more: What else is drawn.
    """
    # Here, so that a picture that is kept already loads no geometry.
    from handouts_build.figures.solid.look import ink_of
    from handouts_build.figures.solid.picture import Theme, pictures

    themes = (Theme.LIGHT, Theme.DARK) if dark else (Theme.LIGHT,)
    made = pictures(mesh, camera=camera, themes=themes, width_px=wide_px, **more)
    return Shot(name, alt, made[0], made[1] if dark else b"", wide_px, camera.height_px(wide_px), ink_of(made[0]))
