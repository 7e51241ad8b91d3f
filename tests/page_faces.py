"""The pages' faces cut from the bundled ones: `python -m tests.page_faces`, with fontTools and brotli.

A page of a project is written with a hundred and some signs of four hundred. Each face
is cut in two: those signs, and the rest, which a browser fetches when a page has one of
them. The style sheet tells it so by the same ranges (`unicode-range`), which a test
holds to those here.
"""

from __future__ import annotations

import sys
from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

__all__ = ["FACES", "FIRST", "FONTS", "ranges"]

FONTS = Path(__file__).parents[1] / "handouts_build" / "fonts"

FACES = ("handouts-sans-regular", "handouts-sans-italic", "handouts-sans-bold", "handouts-serif-bold")

FIRST = frozenset(range(0x20, 0x7F)) | frozenset(
    map(ord, "\u00a0°±²³·¹×Ø÷¼½¾⅛⅜⅝⅞\u2010\u2011–—‘’“”•…\u202f′″⁄⁰⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉π→−√≈≤≥")
)
"""The signs of the first part: ASCII, and what the pages of the demo archive have beside it, bullets of lists too."""

_FEATURES = {"first": ["kern", "frac", "numr", "dnom", "lnum", "tnum"], "more": ["kern", "ccmp", "locl", "mark"]}


def ranges(signs: frozenset[int]) -> str:
    """Signs as a style sheet writes them.

    Args:
        signs: Their numbers.
    """
    spans: list[list[int]] = []
    for sign in sorted(signs):
        if spans and sign == spans[-1][1] + 1:
            spans[-1][1] = sign
        else:
            spans.append([sign, sign])
    return ", ".join(f"U+{low:X}" if low == high else f"U+{low:X}-{high:X}" for low, high in spans)


def _cut(face: str, signs: frozenset[int], features: list[str], target: Path) -> None:
    """Write one part of a face.

    Args:
        face: Its name.
        signs: Which signs it has.
        features: What is kept of what the face can do with them.
        target: The file.
    """
    options = Options()
    options.layout_features = features
    options.name_IDs = ["*"]
    font = TTFont(FONTS / f"{face}.ttf", recalcTimestamp=False)
    cutter = Subsetter(options)
    cutter.populate(unicodes=signs)
    cutter.subset(font)
    font.flavor = "woff2"
    font.save(target)


def main() -> int:
    for face in FACES:
        first, more = FONTS / f"{face}.woff2", FONTS / f"{face}-more.woff2"
        # Together they have what they had before: of the faces for paper, the pages have a part.
        there = frozenset(sign for path in (first, more) if path.exists() for sign in TTFont(path).getBestCmap())
        _cut(face, FIRST & there, _FEATURES["first"], first)
        _cut(face, there - FIRST, _FEATURES["more"], more)
        sys.stdout.write(f"{face}: {first.stat().st_size} bytes, {more.stat().st_size} of {ranges(there - FIRST)}\n")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
