"""A project's pictures and models of its solids, from the cache where they are there.

This module owns their keeping. Making them loads the geometry and is for `picturing`;
nothing of it is loaded where everything is kept already.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from handouts_build.disk.cache import Cache, code_key, content_key, read
from handouts_build.figures.shot import PictureSet, Shot

if TYPE_CHECKING:
    from handouts_build.compute.solid.session import SolidSession
    from handouts_build.sheet import Sheet

__all__ = ["picture_set"]

_LIST, _VIEWER = "pictures.json", "viewer.js"


def picture_set(sheet: Sheet, session: SolidSession, *, cache: Cache, whole: bool) -> PictureSet:
    """The pictures of a sheet's solids; empty where no part has cuts.

    Args:
        sheet: A project, worked out, or one of its ready sizes.
        session: Where it was carried.
        cache: Where pictures are kept.
        whole: Whether the piece to turn about and the models belong to it; papers need none.
    """
    if not any(step.stage for step in sheet.every_step):
        return PictureSet()
    solids, together = session.solids[sheet.name], session.together.get(sheet.name)

    def draw() -> dict[str, bytes]:
        from handouts_build.site import picturing

        shots = {str(number): shot for number, shot in picturing.stage_shots(sheet, solids, dark=whole).items()}
        viewer, models = "", {}
        if together is not None:
            finished = picturing.whole_shot(sheet, together, solids.shop, dark=whole)
            if finished is not None:
                shots["finished"] = finished
        if whole and together is not None:
            viewer = picturing.viewer(sheet, solids, together)
            models = picturing.models(sheet, together, solids.shop)
        files = {f"{picture.name}.png": picture.light for picture in shots.values()}
        files |= {f"{picture.name}-dark.png": picture.dark for picture in shots.values()}
        described = {
            name: [picture.name, picture.alt, picture.width_px, picture.height_px, picture.ink]
            for name, picture in shots.items()
        }
        listed = {"shots": described, "models": list(models)}
        return {_LIST: json.dumps(listed).encode(), _VIEWER: viewer.encode(), **models, **files}

    # Frozen dataclasses of plain values: their text says all that is drawn. The words of a
    # step are not among them, so that an edit of words draws nothing anew.
    drawn = (
        sheet.name, sheet.title, sheet.whole, whole, solids.shop, together and together.joints,
        [(part.plan, part.limits) for part in solids.parts.values()],
        [(part.name, part.title) for part in sheet.every_part],
        [(step.number, step.name, step.stage) for step in sheet.every_step],
    )  # fmt: skip
    files = cache.files(content_key(code_key(), "solids", repr(drawn)), draw)
    listed = json.loads(read(files[_LIST]))
    shots = {
        number: Shot(name, alt, read(files[f"{name}.png"]), read(files[f"{name}-dark.png"]), wide, high, tuple(ink))
        for number, (name, alt, wide, high, ink) in listed["shots"].items()
    }
    finished = shots.pop("finished", None)
    return PictureSet(
        shots={int(number): shot for number, shot in shots.items()},
        finished=finished,
        viewer=read(files[_VIEWER]).decode(),
        models={name: read(files[name]) for name in listed["models"]},
    )
