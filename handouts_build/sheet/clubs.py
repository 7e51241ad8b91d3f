"""The clubs of an archive, and the colors that tell their pages apart.

This module owns the palette: each color has a value for a light and one for a dark page, and a test holds all of them
to the contrast of text. A color never says anything that is not said in words too.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["COLORS", "Club"]

COLORS = {
    "moss": ("#3f5d1f", "#b3cf8a"),
    "slate": ("#3b5468", "#a9c3d9"),
    "brick": ("#8c3220", "#f0a894"),
    "plum": ("#6d3566", "#d9a8d3"),
    "ochre": ("#735208", "#e3c069"),
    "teal": ("#0f5a63", "#8accd4"),
    "ink blue": ("#2c4a8f", "#aebdf0"),
    "rust": ("#85450c", "#ecb07a"),
}
"""By name: on a light page and on a dark one. The project's own choice."""


@dataclass(frozen=True)
class Club:
    """A club with a page of its own."""

    name: str
    color: str = ""
    """One of `COLORS`; empty for none."""
    says: str = ""
    """What it is, in a sentence or two."""
    place: str = ""
    """Where it meets."""
    site: str = ""
    """Its own pages elsewhere."""
