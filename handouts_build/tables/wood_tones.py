"""What woods look like beside one another: pale, tan, red, brown or dark.

This module owns the table. Which colors a tone has in a picture is for `figures`.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from handouts_build.tables.loading import Standing, read_rows, source
from handouts_build.tables.woods import lookup_wood

__all__ = ["WoodTone", "wood_tone", "wood_tones"]

_USUAL = "tan"
"""Of a wood that the table does not have."""


@dataclass(frozen=True)
class WoodTone:
    """How the heartwood of a family of woods looks, or its sapwood where that is what is sold."""

    tone: str
    standing: Standing
    source: str
    """A source id."""


@cache
def wood_tones() -> dict[str, WoodTone]:
    """Every tone by the family of the wood."""
    return {
        row["family"]: WoodTone(row["tone"], Standing(row["standing"]), source(row["source"]).id)
        for row in read_rows("wood_tones.csv")
    }


def wood_tone(name: str) -> str:
    """The tone of a wood.

    Args:
        name: As an author writes it: 'walnut, black' or 'black walnut'.
    """
    known = lookup_wood(name)
    family = known.name.partition(",")[0] if known is not None else " ".join(name.split())
    found = wood_tones().get(family)
    return found.tone if found is not None else _USUAL
