"""Pictures as a page loads them: without loss, and with fewer colors where they would weigh more than a page bears."""

from __future__ import annotations

import io

import numpy as np
from PIL import Image

from handouts_build.figures.solid.look import for_page


def _png(side: int) -> tuple[bytes, np.ndarray]:
    """A picture of 256 tones with a coarse grain on a clear ground, which is hard to pack."""
    grain = np.random.default_rng(7).integers(-24, 24, (side, side))
    tone = np.clip(np.linspace(40, 230, side)[:, None] + grain, 0, 255).astype(np.uint8)
    pixels = np.stack([tone, tone // 2 + 60, tone // 3, np.full_like(tone, 255)], 2)
    pixels[:4] = 0
    out = io.BytesIO()
    Image.fromarray(pixels).save(out, "PNG")
    return out.getvalue(), pixels


def test_a_small_picture_is_packed_without_loss() -> None:
    png, pixels = _png(60)
    assert (np.asarray(Image.open(io.BytesIO(for_page(png))).convert("RGBA")) == pixels).all()


def test_a_large_picture_has_fewer_colors_and_hardly_others() -> None:
    png, pixels = _png(300)
    packed = np.asarray(Image.open(io.BytesIO(for_page(png))).convert("RGBA"))
    assert len(np.unique(packed.reshape(-1, 4), axis=0)) == 64
    away = np.abs(packed.astype(int) - pixels.astype(int))
    assert away[..., 3].max() == 0
    assert away.mean() < 1.5
    assert for_page(png) == for_page(png)
