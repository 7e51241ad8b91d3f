"""A project's pictures and models of its solids, from the cache where they are there.

This module owns their keeping. Making them loads the geometry and is for `picturing`;
nothing of it is loaded where everything is kept already.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from handouts_build.cache import Cache, content_key, pack, unpack
from handouts_build.figures.shot import Album, Shot

if TYPE_CHECKING:
    from handouts_build.compute.solids_bench import Bench
    from handouts_build.sheet import Sheet

__all__ = ["album"]


def album(sheet: Sheet, bench: Bench, *, cache: Cache, key: str, whole: bool) -> Album:
    """The pictures of a sheet's solids; empty where no part has cuts.

    Args:
        sheet: A project, worked out, or one of its ready sizes.
        bench: Where it was carried.
        cache: Where pictures are kept.
        key: Changes whenever anything the sheet is made from changes.
        whole: Whether the piece to turn about and the models belong to it; papers need none.
    """
    if not any(step.stage for step in sheet.steps):
        return Album()

    def draw() -> bytes:
        from handouts_build import picturing

        solids = bench.solids[sheet.name]
        together = bench.together.get(sheet.name)
        shots = {str(number): shot for number, shot in picturing.stage_shots(sheet, solids, dark=whole).items()}
        viewer, models = "", {}
        if whole and together is not None:
            finished = picturing.whole_shot(sheet, together, solids.shop)
            if finished is not None:
                shots["finished"] = finished
            viewer = picturing.viewer(sheet, solids, together)
            models = picturing.models(sheet, together, solids.shop)
        files = {f"{one.name}.png": one.light for one in shots.values()}
        files |= {f"{one.name}-dark.png": one.dark for one in shots.values()}
        told = {name: [one.name, one.alt, one.width_px, one.height_px] for name, one in shots.items()}
        listed = {"shots": told, "models": list(models)}
        return pack({"album.json": json.dumps(listed).encode(), "viewer.js": viewer.encode(), **models, **files})

    files = unpack(cache.get(content_key(key, "solids", sheet.name, str(whole)), draw))
    listed = json.loads(files["album.json"])
    shots = {
        number: Shot(name, alt, files[f"{name}.png"], files[f"{name}-dark.png"], wide, high)
        for number, (name, alt, wide, high) in listed["shots"].items()
    }
    finished = shots.pop("finished", None)
    return Album(
        shots={int(number): shot for number, shot in shots.items()},
        finished=finished,
        viewer=files["viewer.js"].decode(),
        models={name: files[name] for name in listed["models"]},
    )
