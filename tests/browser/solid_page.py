"""A page with a solid on it, as a project page carries one: for the viewer's tests, and to look at.

`python -m tests.browser.solid_page FOLDER` writes it.
"""

from __future__ import annotations

import os
import re
import shutil
import sys
from collections.abc import Sequence
from pathlib import Path

from playwright.sync_api import Browser

from handouts_build.figures.solid.mesh import bounds_of
from handouts_build.figures.solid.pack import PackedStage, packed
from handouts_build.figures.solid.picture import picture
from handouts_build.outputs.scripts import published_script
from tests.figures.shapes import ball, bored_ball, cube, fit, rod

ASSETS = Path(__file__).parents[2] / "handouts_build" / "outputs" / "assets"

SOFTWARE = ("--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader")
"""WebGL drawn by the processor, the same on every machine."""

STEPS = ("The blank", "Turn it round", "Turn the ball", "Bore it", "Finish")

PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>A bored ball</title>
<meta http-equiv="Content-Security-Policy"
  content="default-src 'none'; img-src 'self' file:; script-src 'self' file:; style-src 'self' file:">
<link rel="icon" href="ball.png"><meta name="viewport" content="width=device-width">
<link rel="stylesheet" href="handouts.css">
<link rel="stylesheet" href="solid.css"><link rel="stylesheet" href="ground.css">
<script src="solid.js" defer></script></head>
<body data-hb-scheme="light"><main><h1>A bored ball</h1>
<figure class="hb-solid" data-hb-solid="ball" data-hb-src="ball-solid.js">
<img class="hb-shot hb-shot--light" src="ball.png" width="720" height="540" alt="A ball with a hole through it.">
<button type="button" class="hb-solid__open" hidden>Turn it in 3D</button>
<p class="hb-solid__note" role="status"></p>
</figure></main></body></html>
"""

GROUND = "body { color: var(--hb-ink); background: var(--hb-page); }"


def launched(browser: Browser, *flags: str) -> Browser:
    """The same Chromium again, started in another way."""
    names = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
    path = next(found for name in names if (found := shutil.which(name)))
    root = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    return browser.browser_type.launch(executable_path=path, args=[*flags, *root])


def write(folder: Path, stages: Sequence[PackedStage] = ()) -> Path:
    """Write the page and what it needs; the address of the page comes back.

    Args:
        folder: Where to.
        stages: What it shows; a ball is bored if not given.
    """
    if not stages:
        meshes = (cube(50), rod(25, -25, 25, around=64), ball(24, around=64), bored_ball(24, 8, around=64)[0])
        stages = [PackedStage(name, mesh) for name, mesh in zip(STEPS, (*meshes, meshes[-1]), strict=True)]
    camera = fit(bounds_of([stage.mesh for stage in stages]))
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "ball.png").write_bytes(picture(stages[-1].mesh, camera=camera))
    (folder / "ball-solid.js").write_text(packed("ball", stages, camera=camera, title="A bored ball"), encoding="ascii")
    (folder / "ground.css").write_text(GROUND, encoding="utf-8")
    for asset in (ASSETS / "js" / "solid.js", ASSETS / "css" / "handouts.css", ASSETS / "css" / "solid.css"):
        text = asset.read_text(encoding="utf-8")
        text = published_script(text) if asset.suffix == ".js" else text
        # The page is a folder by itself: it has no fonts beside it, and its policy lets none in.
        (folder / asset.name).write_text(re.sub(r"@font-face\s*\{.*?\}", "", text, flags=re.DOTALL), encoding="utf-8")
    page = folder / "index.html"
    page.write_text(PAGE, encoding="utf-8")
    return page


if __name__ == "__main__":
    print(write(Path(sys.argv[1])))
