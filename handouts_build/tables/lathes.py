"""Threads and tapers that lathes are made with.

This module owns the two lists and the question whether one fits another. Which
lathe has which, and what to pack for it, is for the packing list.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from handouts_build.tables.loading import Standing, read_rows, source

__all__ = ["MorseTaper", "SpindleThread", "spindle_threads", "tapers"]


@dataclass(frozen=True)
class SpindleThread:
    """A thread that chucks and faceplates screw on to."""

    name: str
    inch: float
    """Diameter, inches."""
    pitch_inch: float
    """From one turn of the thread to the next, inches."""
    typical_use: str
    standing: Standing
    source: str


@dataclass(frozen=True)
class MorseTaper:
    """A Morse taper, which centers and drill chucks are pushed into."""

    name: str
    taper_in_per_ft: float
    small_end_in: float
    large_end_in: float
    standing: Standing
    source: str

    @property
    def number(self) -> int:
        """The number in its name: the larger, the thicker."""
        return int(self.name.removeprefix("MT"))


@cache
def spindle_threads() -> dict[str, SpindleThread]:
    """The usual spindle threads, by name."""
    return {
        row["thread"]: SpindleThread(
            row["thread"],
            float(row["inch"]),
            float(row["pitch_inch"]),
            row["typical_use"],
            Standing(row["standing"]),
            source(row["source"]).id,
        )
        for row in read_rows("spindle_threads.csv")
    }


@cache
def tapers() -> dict[str, MorseTaper]:
    """The Morse tapers of wood lathes, by name."""
    return {
        row["taper"]: MorseTaper(
            row["taper"],
            float(row["taper_in_per_ft"]),
            float(row["small_end_in"]),
            float(row["large_end_in"]),
            Standing(row["standing"]),
            source(row["source"]).id,
        )
        for row in read_rows("morse_tapers.csv")
    }
