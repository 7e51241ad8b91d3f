"""The figures of fractions, as the bundled faces draw them; read with fontTools and measured with Pillow."""

from __future__ import annotations

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont
from PIL import ImageFont

from tests.faces import BEARING, FONTS, fraction_figures

FACES = sorted(FONTS.glob("*.ttf"))


@pytest.mark.parametrize("path", FACES, ids=lambda path: path.stem)
def test_figures_of_fractions_are_as_wide_as_they_are_drawn(path) -> None:  # type: ignore[no-untyped-def]
    font = TTFont(path)
    most = BEARING * font["head"].unitsPerEm + 2
    drawn = font.getGlyphSet()
    found = fraction_figures(font)
    assert {"numr", "dnom", "sups", "subs"} <= found.keys()
    for glyphs in found.values():
        assert set(glyphs) == set("0123456789")
        for name in glyphs.values():
            pen = BoundsPen(drawn)
            drawn[name].draw(pen)
            left, _, right, _ = pen.bounds
            wide, bearing = font["hmtx"][name]
            assert bearing == pytest.approx(left, abs=1)
            assert left <= most
            assert wide - right <= most


def test_a_numerator_of_two_ones_stands_closer_than_its_whole_number() -> None:
    """1 11/16 is not read as 1 1 1/16: from stroke to stroke, the space after the whole number is the widest."""
    font = ImageFont.truetype(str(FONTS / "handouts-sans-regular.ttf"), 800)

    def between(text: str) -> float:
        """White from the first sign to the last."""
        first, last = text[0], text[-1]
        after = font.getlength(first) - font.getbbox(first, anchor="ls")[2]
        return font.getlength(text[:-1]) - font.getlength(first) + after + font.getbbox(last, anchor="ls")[0]

    assert between("1\u202f¹") > 2 * between("¹¹")
