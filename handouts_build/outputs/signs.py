"""Which signs can be printed: those that the papers' own fonts have.

This module is the only home of fontTools. It owns the question alone, so that it can be asked
before anything is set: the typesetter would refuse the whole paper.
"""

from __future__ import annotations

import unicodedata
from functools import cache
from pathlib import Path

__all__ = ["lacking"]

_FONTS = Path(__file__).parents[1] / "fonts"


def lacking(text: str) -> tuple[str, ...]:
    """The signs of a text that no font of the papers has, each once.

    Args:
        text: What is to be printed.
    """
    asked = {sign for sign in unicodedata.normalize("NFC", text) if sign > "~"}
    return tuple(sorted(asked - _known())) if asked else ()


@cache
def _known() -> frozenset[str]:
    """Every sign that some font has, and spaces, which need none."""
    # Loaded only where a text has more than the plainest signs: the library is large.
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    known: set[str] = set("\u00a0\u00ad\u2009\u202f")
    for file in sorted(_FONTS.glob("*.ttf")):
        with TTFont(file, lazy=True) as font:
            known.update(map(chr, font.getBestCmap()))
    return frozenset(known)
