"""How solids look: wood, ink and accent, by day and by night.

This module owns the colors of pictures and how they lie over one another, and the
writing of small files. What removed wood is must be told without color: it is hatched
and darker or lighter than the wood around it.
"""

from __future__ import annotations

import enum
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from handouts_build.figures.solid.layers import Layer

__all__ = ["DAY", "NIGHT", "Color", "ColorBuffer", "Palette", "Theme", "Toned", "encoded", "for_page", "ink_of"]

Color = tuple[int, int, int]
Ramp = tuple[Color, Color, Color]


class Theme(enum.Enum):
    """The ground that a picture is made for; it is transparent itself."""

    LIGHT = "light"
    """Light pages, and paper."""
    DARK = "dark"
    """Dark pages."""


@dataclass(frozen=True)
class Palette:
    """The colors of one theme."""

    wood: tuple[Color, Color, Color]
    """Wood in shade, in the open, in full light."""
    bark: tuple[Color, Color, Color]
    """Bark, as much darker as reads without color."""
    metal: tuple[Color, Color, Color]
    """What holds the wood."""
    cut: Color
    """The face of wood that is opened up."""
    grain: Color
    """Hatching on it."""
    ink: Color
    axis: Color
    """Axes of rotation."""
    accent: Color
    """What this step takes away."""
    veil: tuple[float, float]
    """How much of the ground, and of wood behind it, the removed wood covers."""
    glue: Color = field(repr=False)
    """Lines between glued pieces."""
    woods: Mapping[str, Ramp] = field(repr=False)
    """Woods beside one another, each by the word for its tone, in shade, in the open and in full light.

    Not in its text, nor is the glue: what is of one piece looks the same whatever these are."""


DAY = Palette(
    wood=((158, 118, 70), (222, 190, 143), (250, 236, 208)),
    bark=((84, 64, 46), (126, 101, 76), (160, 136, 108)),
    metal=((120, 124, 124), (176, 180, 180), (226, 229, 228)),
    cut=(252, 244, 226),
    grain=(150, 112, 66),
    ink=(38, 36, 31),
    axis=(38, 36, 31),
    accent=(22, 88, 70),
    veil=(0.36, 0.22),
    glue=(74, 58, 40),
    woods={
        "pale": ((176, 150, 112), (236, 215, 178), (253, 244, 224)),
        "tan": ((158, 118, 70), (222, 190, 143), (250, 236, 208)),
        "red": ((122, 66, 40), (188, 118, 78), (226, 168, 124)),
        "brown": ((70, 48, 32), (122, 88, 62), (168, 130, 98)),
        "dark": ((38, 30, 26), (72, 60, 52), (112, 98, 88)),
    },
)
"""Of the site's light colors."""

NIGHT = Palette(
    wood=((66, 49, 31), (120, 93, 62), (166, 136, 99)),
    bark=((36, 27, 19), (60, 46, 34), (88, 70, 54)),
    metal=((62, 68, 67), (98, 104, 103), (148, 154, 152)),
    cut=(104, 84, 58),
    grain=(214, 186, 142),
    ink=(18, 18, 16),
    axis=(235, 230, 218),
    accent=(182, 242, 220),
    veil=(0.36, 0.26),
    glue=(14, 12, 10),
    woods={
        "pale": ((92, 76, 54), (160, 138, 106), (206, 184, 150)),
        "tan": ((66, 49, 31), (120, 93, 62), (166, 136, 99)),
        "red": ((62, 32, 20), (110, 64, 42), (150, 96, 68)),
        "brown": ((38, 27, 19), (70, 51, 37), (104, 79, 60)),
        "dark": ((22, 18, 16), (42, 36, 33), (70, 61, 56)),
    },
)
"""Of the site's dark colors."""


@dataclass(frozen=True, eq=False)
class Toned:
    """A color for each pixel, by its tone."""

    ramp: Ramp
    """Red, green and blue, 0 to 255, in shade, in the open and in full light."""
    tone: Layer
    """From 0 (shade) to 1 (full light)."""

    def at(self, here: NDArray[np.int64]) -> NDArray[np.float32]:
        """Red, green and blue, 0 to 255, at some pixels, counted along the rows."""
        stops = np.array(self.ramp, np.float32)
        steps = np.linspace(0, 1, 64)
        table = np.stack([np.interp(steps, (0, 0.55, 1), stops[:, each]) for each in range(3)], 1).astype(np.float32)
        colors: NDArray[np.float32] = table[np.clip(self.tone.reshape(-1)[here] * 63 + 0.5, 0, 63).astype(np.int64)]
        return colors


class ColorBuffer:
    """A picture in the making: color already weighted with how much of a pixel it covers."""

    def __init__(self, shape: tuple[int, int]) -> None:
        self.color = np.zeros((*shape, 3), np.float32)
        self.cover = np.zeros(shape, np.float32)

    def lay(self, color: Toned | Color, cover: Layer) -> None:
        """Put a color over what is there.

        Args:
            color: One for all pixels, or one for each.
            cover: How much of each pixel it covers.
        """
        here = np.flatnonzero(cover != 0)
        share = cover.reshape(-1)[here]
        tint = color.at(here) if isinstance(color, Toned) else np.asarray(color, np.float32)
        flat, covered = self.color.reshape(-1, 3), self.cover.reshape(-1)
        # What lies there is taken once: `+=` with the numbers of pixels would take it twice.
        old = flat.take(here, axis=0)
        more = tint - old
        more *= share[:, None]
        old += more
        flat[here] = old
        below = covered[here]
        covered[here] = below + (1 - below) * share


def encoded(buffer: ColorBuffer, *, frame: tuple[int, int], at: tuple[int, int]) -> bytes:
    """A PNG of at most 256 colors, the same bytes for the same picture.

    Args:
        buffer: The picture, or the part of it where something is.
        frame: Height and width of the whole, in pixels.
        at: Row and column at which it lies in the frame.
    """
    levels = (np.clip(buffer.cover.reshape(-1), 0, 1) * 7 + 0.5).astype(np.int32)
    shown = np.flatnonzero(levels > 0)
    code = levels[shown] << 18
    parts = buffer.color.reshape(-1, 3)[shown]
    parts /= np.maximum(np.clip(buffer.cover.reshape(-1)[shown], 0, 1), 1e-6)[:, None]
    parts *= 63 / 255
    parts += 0.5
    for shift, part in zip((12, 6, 0), np.clip(parts, 0, 63, out=parts).astype(np.int32).T, strict=True):
        code |= part << shift
    used, count = np.unique(code, return_counts=True)
    # The clear ground is a color too, even where the picture fills the frame.
    used, count = np.append(0, used), np.append(len(levels) - len(shown) + 1, count)
    rgba = np.stack([(used >> 12 & 63) / 63, (used >> 6 & 63) / 63, (used & 63) / 63, (used >> 18) / 7], 1) * 255
    keep = _chosen(rgba, count)
    palette = np.round(rgba[keep]).astype(np.uint8)
    # Colors weigh by how much is seen of them.
    weighted = np.concatenate([rgba[:, :3] * rgba[:, 3:] / 255, rgba[:, 3:]], 1).astype(np.float32)
    chosen = weighted[keep]
    away = (chosen**2).sum(1)[None, :] - 2 * weighted @ chosen.T
    table = np.zeros(1 << 21, np.uint8)
    table[used] = away.argmin(1)
    whole = np.full(frame, table[0], np.uint8)
    seen = np.full(len(levels), table[0], np.uint8)
    seen[shown] = table[code]
    tall, wide = buffer.cover.shape
    whole[at[0] : at[0] + tall, at[1] : at[1] + wide] = seen.reshape(tall, wide)
    picture = Image.fromarray(whole)
    picture.putpalette(palette[:, :3].tobytes())
    out = io.BytesIO()
    picture.save(out, "PNG", compress_level=7, transparency=palette[:, 3].tobytes())
    return out.getvalue()


def for_page(png: bytes, *, wide_px: int | None = None) -> bytes:
    """A picture as a page loads it: a WebP without loss, a quarter smaller than the PNG; a large one has fewer colors.

    Args:
        png: As `encoded` made it.
        wide_px: How wide it is to be where it stands small, in pixels; it has fewer colors there.
    """
    picture = Image.open(io.BytesIO(png)).convert("RGBA")
    if wide_px is not None:
        size = (wide_px, round(wide_px * picture.height / picture.width))
        # Colors weigh by how much is seen of them here too.
        small = picture.convert("RGBa").resize(size, Image.Resampling.LANCZOS).convert("RGBA")
        picture = small.quantize(128, method=Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE).convert("RGBA")
    packed = _packed(picture)
    if wide_px is None and len(packed) > _MOST_BYTES:
        for fewer in _with_fewer_colors(picture):
            packed = _packed(fewer)
            if len(packed) <= _MOST_BYTES:
                break
    return packed


_MOST_BYTES = 24_000
"""A picture that takes more is given fewer colors, so that the page it stands on keeps its budget."""

_COLORS = (96, 80, 64)
"""How many, in this order; with fewer, steps of tone are seen."""


def _packed(picture: Image.Image) -> bytes:
    out = io.BytesIO()
    # More effort is fifty times slower and wins a hundredth.
    picture.save(out, "WEBP", lossless=True, quality=50, method=2)
    return out.getvalue()


def _with_fewer_colors(picture: Image.Image) -> Iterator[Image.Image]:
    """A picture with ever fewer colors: those two become one that are missed least (Ward 1963), the commoner of them.

    Args:
        picture: In red, green, blue and cover, of at most 256 colors.
    """
    # As one number a pixel, red foremost: numbers are put in order many times quicker than rows.
    pixels = np.ascontiguousarray(picture).view(">u4").astype(np.uint32).reshape(-1)
    codes, place, count = np.unique(pixels, return_inverse=True, return_counts=True)
    colors = codes.astype(">u4").view(np.uint8).reshape(-1, 4)
    exact = colors.astype(np.float64)
    # Colors weigh by how much is seen of them, and rare ones, such as edges, more than by their number.
    middle = np.concatenate([exact[:, :3] * exact[:, 3:] / 255, exact[:, 3:]], 1)
    weight = np.sqrt(count)
    becomes = np.arange(len(colors))
    missed = ((middle[:, None] - middle[None]) ** 2).sum(2) * weight[:, None] * weight / (weight[:, None] + weight)
    np.fill_diagonal(missed, np.inf)
    left = len(colors)
    for wanted in _COLORS:
        while left > wanted:
            stays, goes = divmod(int(missed.argmin()), len(colors))
            if count[stays] < count[goes]:
                stays, goes = goes, stays
            both = weight[stays] + weight[goes]
            middle[stays] = (middle[stays] * weight[stays] + middle[goes] * weight[goes]) / both
            weight[stays] = both
            becomes[becomes == goes] = stays
            missed[goes] = missed[:, goes] = np.inf
            again = np.isfinite(missed[stays])
            new = ((middle - middle[stays]) ** 2).sum(1) * weight * both / (weight + both)
            missed[stays, again] = missed[again, stays] = new[again]
            left -= 1
        yield Image.fromarray(colors[becomes][place.reshape(-1)].reshape(picture.height, picture.width, 4))


def ink_of(picture: bytes) -> tuple[int, int, int, int]:
    """Where a picture on a clear ground is drawn on.

    Args:
        picture: A PNG.

    Returns:
        Left, upper, right and lower edge, in pixels; the whole picture where nothing is drawn.
    """
    with Image.open(io.BytesIO(picture)) as opened:
        return opened.convert("RGBA").getchannel("A").getbbox() or (0, 0, *opened.size)


def _chosen(rgba: NDArray[np.float64], count: NDArray[np.int64]) -> NDArray[np.int64]:
    """The colors to keep: the commonest, but no two that are nearly the same until all others are in."""
    if len(count) <= 256:
        return np.arange(len(count))
    order = np.argsort(-count, kind="stable")
    # One color for each coarse box of colors first, so that rare tones are not lost to common ones.
    box = (rgba // 20).astype(np.int64) @ np.array([1 << 12, 1 << 8, 1 << 4, 1])
    _, first = np.unique(box[order], return_index=True)
    lead = order[np.sort(first)][:150]
    rest = order[~np.isin(order, lead)]
    return np.concatenate([lead, rest])[:256]
