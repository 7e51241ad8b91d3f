"""The bundled faces' fraction figures made proportional: `python -m tests.faces`, with fontTools and brotli.

The original faces give every raised and lowered figure one width, so that the numerator
of 1 11/16 stands apart as 1 1. Here each is as wide as it is drawn, with the side
bearings of its widest fellows. Running it again changes nothing.
"""

from __future__ import annotations

import sys
from pathlib import Path

from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

__all__ = ["BEARING", "fraction_figures", "proportioned"]

FONTS = Path(__file__).parents[1] / "handouts_build" / "fonts"

BEARING = 0.031
"""Greatest side bearing of a figure in a fraction, as a share of the em: that of 0, the widest."""

_FEATURES = ("numr", "dnom", "sups", "subs")


def fraction_figures(font: TTFont) -> dict[str, dict[str, str]]:
    """The glyph of each figure in each position, by feature and figure.

    Args:
        font: One of the bundled faces.
    """
    table, figures = font["GSUB"].table, font.getBestCmap()
    found: dict[str, dict[str, str]] = {}
    for record in table.FeatureList.FeatureRecord:
        if record.FeatureTag not in _FEATURES:
            continue
        for index in record.Feature.LookupListIndex:
            for subtable in table.LookupList.Lookup[index].SubTable:
                mapping = getattr(getattr(subtable, "ExtSubTable", subtable), "mapping", {})
                told = {digit: mapping[figures[ord(digit)]] for digit in "0123456789" if figures[ord(digit)] in mapping}
                found.setdefault(record.FeatureTag, {}).update(told)
    return found


def proportioned(font: TTFont) -> bool:
    """Give each fraction figure the width it is drawn with; whether anything changed.

    Args:
        font: One of the bundled faces; changed in place.
    """
    most = round(BEARING * font["head"].unitsPerEm)
    names = sorted({name for glyphs in fraction_figures(font).values() for name in glyphs.values()})
    drawn = font.getGlyphSet()
    metrics = {}
    for name in names:
        pen = BoundsPen(drawn)
        drawn[name].draw(pen)
        left, _, right, _ = pen.bounds
        wide, _ = font["hmtx"][name]
        # A unit more or less is rounding of an earlier run.
        if max(left, wide - right) > most + 1:
            before, after = min(left, most), min(wide - right, most)
            metrics[name] = (left, before, round(before + right - left + after))
    for name, (left, before, wide) in metrics.items():
        glyph = font["glyf"][name]
        if glyph.isComposite():
            # It goes with the glyph it is made of; what is left of the way it goes by itself.
            for part in glyph.components:
                start, stop, _ = metrics.get(part.glyphName, (0.0, 0.0, 0))
                part.x += round(before - left) - round(stop - start)
        else:
            glyph.coordinates.translate((round(before - left), 0))
        font["hmtx"][name] = (wide, round(before))
    for name in metrics:
        font["glyf"][name].recalcBounds(font["glyf"])
    return bool(metrics)


def main() -> int:
    for path in sorted(FONTS.glob("*.*f*")):
        font = TTFont(path, recalcTimestamp=False)
        if proportioned(font):
            font.save(path)
            sys.stdout.write(f"{path.name}\n")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
