"""The 3D viewer shows woods where the still pictures, drawn by other code, show them, and in the same colors."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image
from playwright.sync_api import Browser, expect

from handouts_build.figures.solid.glue import GluedCourse, GluedRound, GlueUp
from handouts_build.figures.solid.look import DAY, NIGHT, Palette, Theme
from handouts_build.figures.solid.mesh import bounds_of
from handouts_build.figures.solid.pack import PackedStage
from handouts_build.figures.solid.picture import picture
from tests.browser.solid_page import write
from tests.figures.shapes import fit, rod

ROD = rod(25, -30, 30, around=64)
"""About x, its left end at -30."""
GLUED = GlueUp(
    origin=(-30.0, 0.0, 0.0),
    frame=((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)),
    courses=(
        GluedCourse(20.0, 0.0, ("tan",)),
        GluedCourse(40.0, 20.0, ("red", "dark", "red", "tan")),
        GluedCourse(60.0, 0.0, ("brown",)),
    ),
    triangles=(0, len(ROD.triangles)),
    let_in=(GluedRound((30.0, 0.0, 0.0), (-1.0, 0.0, 0.0), 12.0, 12.0, 0.0, 8.0, "red"),),
)
PLAIN = PackedStage("as it was", replace(ROD, vertices=ROD.vertices * 0.999))


TONES = ("tan", "red", "brown", "dark")
"""Those of it; no two are the same color in any light."""


def _shares(shot: NDArray[np.float64], palette: Palette) -> dict[str, float]:
    """Of all that is colored as some wood is, in shade or in light, the share of each."""
    pixels = shot.reshape(-1, 3)
    away = []
    for tone in TONES:
        low, plain, high = (np.array(color, float) for color in palette.woods[tone])
        steps = np.linspace(0, 1, 40)[:, None]
        line = np.concatenate([low + (plain - low) * steps, plain + (high - plain) * steps])
        away.append(np.abs(pixels[:, None] - line[None]).max(2).min(1))
    nearest = np.argmin(away, axis=0)
    near = np.min(away, axis=0) <= 4
    return {tone: float((near & (nearest == at)).sum() / near.sum()) for at, tone in enumerate(TONES)}


@pytest.mark.parametrize("theme", Theme)
def test_each_wood_has_the_share_of_the_picture_that_the_still_gives_it(
    drawing: Browser, tmp_path: Path, theme: Theme
) -> None:
    page_of = write(tmp_path, [PLAIN, PackedStage("Glued up", ROD, glued=GLUED)])
    still = picture(ROD, camera=fit(bounds_of([ROD])), theme=theme, glued=[GLUED])
    # Where nothing is drawn the still is clear, and it counts for no wood.
    seen = np.asarray(Image.open(io.BytesIO(still)).convert("RGBA")).astype(float)
    palette = DAY if theme is Theme.LIGHT else NIGHT
    expected = _shares(seen[seen[..., 3] > 250][:, :3], palette)
    context = drawing.new_context(viewport={"width": 900, "height": 1000}, color_scheme=theme.value)
    page = context.new_page()
    page.goto(page_of.as_uri())
    page.evaluate(f"document.body.dataset.hbScheme = '{theme.value}'")
    page.get_by_role("button", name="Turn it in 3D").click()
    expect(page.locator("canvas")).to_be_visible()
    page.wait_for_function("document.querySelector('.hb-solid__says').textContent.includes('Glued up')")
    page.evaluate("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
    shown = np.asarray(Image.open(io.BytesIO(page.locator("canvas").screenshot())).convert("RGB")).astype(float)
    found = _shares(shown, palette)
    context.close()
    assert min(expected.values()) > 0.03
    assert found == pytest.approx(expected, abs=0.03)
