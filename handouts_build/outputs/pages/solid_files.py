"""The files of a project's solids on the site: pictures, the piece to turn about, models to download.

This module owns where they lie beside the page and what the downloads are called. It
leaves what they show to `figures`.
"""

from __future__ import annotations

from collections.abc import Iterator

from handouts_build.outputs.entry import Entry
from handouts_build.outputs.output import Output

__all__ = ["models", "solid_files"]

_KINDS = {"glb": "Model for viewers and slides, GLB", "stl": "Model for measuring and printing, STL, millimeters"}


def solid_files(entry: Entry) -> Iterator[Output]:
    """Every file of a project's solids.

    Args:
        entry: The project.
    """
    home = f"projects/{entry.sheet.name}"
    finished = entry.turned.finished
    for shot in (*entry.turned.shots.values(), *((finished,) if finished is not None else ())):
        yield Output(f"{home}/{shot.name}.png", shot.light)
        yield Output(f"{home}/{shot.name}-dark.png", shot.dark)
    if entry.turned.viewer:
        yield Output(f"{home}/{entry.sheet.name}-solid.js", entry.turned.viewer.encode())
    for name, content in entry.turned.models.items():
        yield Output(f"{home}/{name}", content)


def models(entry: Entry) -> Iterator[tuple[str, str, str]]:
    """The models to download: file name, what it is, and its size."""
    for name, content in entry.turned.models.items():
        kind = _KINDS[name.rpartition(".")[2]]
        yield name, kind, _size(len(content))


def _size(count: int) -> str:
    """A file's size as a person reads it."""
    return f"{count / 1_000_000:.1f} MB" if count >= 1_000_000 else f"{max(1, round(count / 1000))} kB"
