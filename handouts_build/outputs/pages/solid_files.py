"""The files of a project's solids on the site: pictures, the piece to turn about, models to download.

This module owns where they lie beside the page and what the downloads are called. It
leaves what they show to `figures`.
"""

from __future__ import annotations

from collections.abc import Iterator

from handouts_build.language import tr, tr_later
from handouts_build.outputs.output import Output
from handouts_build.outputs.page_content import PageContent

__all__ = ["models", "solid_files"]

_CARD_PX = 360
"""Width of the finished piece on a card of the home page, where a screen has one dot for a pixel."""

_KINDS = {
    "glb": tr_later("Model for viewers and slides, GLB"),
    "stl": tr_later("Model for measuring and printing, STL, millimeters"),
}


def solid_files(content: PageContent) -> Iterator[Output]:
    """Every file of a project's solids.

    Args:
        content: The project.
    """
    home = f"projects/{content.sheet.name}"
    finished = content.pictures.finished
    for shot in (*content.pictures.shots.values(), *((finished,) if finished is not None else ())):
        # Here, so that a page without pictures loads nothing that makes them.
        from handouts_build.figures.solid.look import for_page

        for name, picture in ((shot.name, shot.light), (f"{shot.name}-dark", shot.dark)):
            yield Output(f"{home}/{name}.webp", for_page(picture))
            if shot is finished:
                yield Output(f"{home}/{name}-card.webp", for_page(picture, wide_px=_CARD_PX))
    if content.pictures.viewer:
        yield Output(f"{home}/{content.sheet.name}-solid.js", content.pictures.viewer.encode())
    for name, model in content.pictures.models.items():
        yield Output(f"{home}/{name}", model)


def models(content: PageContent) -> Iterator[tuple[str, str, str]]:
    """The models to download: file name, what it is, and its size."""
    for name, model in content.pictures.models.items():
        kind = tr(_KINDS[name.rpartition(".")[2]])
        yield name, kind, _size(len(model))


def _size(count: int) -> str:
    """A file's size as a person reads it."""
    return (
        tr("{size} MB", size=f"{count / 1_000_000:.1f}")
        if count >= 1_000_000
        else tr("{size} kB", size=max(1, round(count / 1000)))
    )
