"""The drawings of the page of cuts, made from the very examples that stand on it.

`python -m tests.drawn_cuts` draws every example whose numbers, or what the picture is made
from, have changed since it was drawn; `--all` draws them all. What they were made from
is kept beside them as a key, and a test fails where one is out of date. How pixels
come out is not part of it, so that another machine's rounding is no fault.
"""

from __future__ import annotations

import hashlib
import io
import json
import re
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from unittest.mock import patch

import numpy as np
from PIL import Image

from handouts_build.compute.solid.measured import carried
from handouts_build.figures.shot import Shot
from handouts_build.figures.solid.look import DAY, NIGHT
from handouts_build.figures.solid.mesh import SurfaceMesh
from handouts_build.figures.solid.picture import Camera, Theme, pictures
from handouts_build.schema import load_project
from handouts_build.schema.describe_cuts import HEAD
from handouts_build.schema.known_keys import spaced
from handouts_build.sheet import Sheet
from handouts_build.site import picturing
from handouts_build.site.build import read_archive

__all__ = ["HOME", "MOST_BYTES", "WIDE_PX", "Drawing", "draw_all", "drawing", "examples", "kept", "plainly"]

HOME = Path(__file__).parents[1] / "handouts_build" / "schema" / "cuts"
_KEPT = "drawn.json"
WIDE_PX = 480
_QUALITIES = (60, 52, 44, 36, 30)
"""Tried in turn until a picture is small enough."""
MOST_BYTES = 12_000


@dataclass(frozen=True)
class Drawing:
    """One example's picture, before it is drawn."""

    sheet: Sheet
    says: str
    """What it shows, with its numbers, for those who cannot see it."""
    key: str
    """Of all that it is made from."""
    mesh: SurfaceMesh
    camera: Camera
    more: dict[str, Any]


def examples() -> dict[str, Path]:
    """The examples by name."""
    return {path.stem: path for path in sorted(HOME.glob("*.yml"))}


def drawing(path: Path) -> Drawing:
    """An example worked out, carried and made ready to be drawn.

    Raises:
        ProjectError: If the example is not sound.
    """
    with TemporaryDirectory() as folder:
        (Path(folder) / path.name).write_text(HEAD + path.read_text(encoding="utf-8"), encoding="utf-8")
        archive = read_archive(Path(folder), base=Path(folder))
    (sheet,) = archive.sheets
    solids = archive.session.solids[sheet.name]
    if path.stem.startswith("blank-"):
        (part,) = sheet.parts
        one = solids.parts[part.name]
        uncut = carried(one.plan, solids.shop, one.limits)[0]
        blank = _mesh(uncut.wood)
        sides = ", ".join(f"{what} {printed}" for what, _, printed in part.blank.sides)
        says, mesh, more = (
            f"The blank before anything is cut: {sides}.",
            blank,
            {
                "barks": picturing.bark(one.plan, blank, uncut.shrinkage),
                "glued": picturing.glue_up(one.plan, uncut, {part.name: part.wood}, blank),
            },
        )
        camera = Camera.fit(blank.bounds)
    else:
        says, mesh, camera, more = _last(sheet, solids)
        says = f"{says} {_numbers(path)}"
    if not more.get("glued"):
        # What is of one piece is drawn as it always was.
        more = {name: drawn for name, drawn in more.items() if name != "glued"}
    told = [
        HEAD,
        path.read_text(encoding="utf-8"),
        says,
        WIDE_PX,
        _QUALITIES,
        MOST_BYTES,
        DAY,
        NIGHT,
        camera,
        mesh,
        more,
    ]
    key = hashlib.sha256(json.dumps(plainly(told)).encode()).hexdigest()[:16]
    return Drawing(sheet, says, key, mesh, camera, more)


def _numbers(path: Path) -> str:
    """What the last step's cuts and marks are given, in words."""
    with TemporaryDirectory() as folder:
        whole = Path(folder) / path.name
        whole.write_text(HEAD + path.read_text(encoding="utf-8"), encoding="utf-8")
        project, _ = load_project(whole, path.name)
    (part,) = project.parts.values()
    told = []
    for item in (*part.steps[-1].mark, *part.steps[-1].cut):
        kind, keys = item.only
        given = (
            f"{spaced(name)} {getattr(value, 'text', value)}"
            for name in type(keys).model_fields
            if name in keys.model_fields_set and (value := getattr(keys, name)) is not None
        )
        told.append(f"{kind.capitalize()}: {', '.join(given)}.")
    return " ".join(told)


def _last(sheet: Sheet, solids: Any) -> tuple[str, SurfaceMesh, Camera, dict[str, Any]]:
    """What the picture of the last step would be drawn from."""
    told: list[tuple[str, SurfaceMesh, Camera, dict[str, Any]]] = []

    def note(name: str, alt: str, mesh: SurfaceMesh, *, camera: Camera, dark: bool, **more: Any) -> Shot:
        told.append((alt, mesh, camera, more))
        return Shot(name, alt, b"", b"", 0, 0, (0, 0, 0, 0))

    with patch.object(picturing, "shot", note):
        picturing.stage_shots(sheet, solids, dark=True)
    return told[-1]


def _mesh(solid: Any) -> SurfaceMesh:
    found = solid.mesh()
    return SurfaceMesh(found.vertices, found.triangles, found.origins)


def plainly(value: Any) -> Any:
    """What a drawing is made from, as lists and rounded numbers: a mesh by its bounds, its area and its volume."""
    if isinstance(value, SurfaceMesh):
        corners = value.vertices.astype(float)[value.triangles]
        cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        area = float(np.linalg.norm(cross, axis=1).sum()) / 2
        volume = float(np.einsum("ij,ij->i", corners[:, 0], cross).sum()) / 6
        bounds = [*corners.reshape(-1, 3).min(0), *corners.reshape(-1, 3).max(0)] if len(corners) else []
        return [*(plainly(float(one)) for one in bounds), f"{area:.3g}", f"{volume:.3g}", len(np.unique(value.origin))]
    if isinstance(value, float):
        return f"{round(value, 2) + 0.0:.2f}"
    if isinstance(value, dict):
        return {name: plainly(one) for name, one in value.items()}
    if isinstance(value, list | tuple):
        return [plainly(one) for one in value]
    if value is None or isinstance(value, int | str):
        return value
    # Frozen dataclasses, by their text.
    return re.sub(r"-?\d+\.\d+(?:e-?\d+)?|-?\d+e-\d+", lambda found: plainly(float(found[0])), repr(value))


def kept(home: Path = HOME) -> dict[str, dict[str, Any]]:
    """What was kept of each drawing in a folder: its key, its words, its size, and what is told below it."""
    listed = home / _KEPT
    found: dict[str, dict[str, Any]] = json.loads(listed.read_text(encoding="utf-8")) if listed.exists() else {}
    return found


def _as_webp(png: bytes) -> bytes:
    """The best picture that is small enough, or the smallest."""
    picture = Image.open(io.BytesIO(png)).convert("RGBA")
    for quality in _QUALITIES:
        out = io.BytesIO()
        picture.save(out, "WEBP", quality=quality, alpha_quality=60, method=6)
        if out.tell() <= MOST_BYTES:
            break
    return out.getvalue()


def draw_all(home: Path, drawings: Iterable[tuple[str, Any, dict[str, Any]]], *, anew: bool) -> None:
    """Draw what is out of date, and forget what is there no more.

    Args:
        home: Where the pictures lie.
        drawings: Names with what is drawn, by its key, words, mesh and camera, and what is kept besides.
        anew: Whether all are drawn.
    """
    before, after = ({} if anew else kept(home)), {}
    for name, made, besides in drawings:
        if before.get(name, {}).get("key") != made.key:
            light, dark = pictures(
                made.mesh, camera=made.camera, themes=(Theme.LIGHT, Theme.DARK), width_px=WIDE_PX, **made.more
            )
            (home / f"{name}.webp").write_bytes(_as_webp(light))
            (home / f"{name}-dark.webp").write_bytes(_as_webp(dark))
            print(f"drawn: {name}")
        size = {"width": WIDE_PX, "height": made.camera.height_px(WIDE_PX)}
        after[name] = {"key": made.key, "says": made.says, **besides, **size}
    for path in home.glob("*.webp"):
        if path.stem.removesuffix("-dark") not in after:
            path.unlink()
    (home / _KEPT).write_text(json.dumps(after, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    draw_all(HOME, ((name, drawing(path), {}) for name, path in examples().items()), anew="--all" in sys.argv[1:])
