"""Another archive as it told of itself.

This module owns what of it is shown, and the name of the form it comes in.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

__all__ = ["FORM", "Friend", "day_of"]

FORM = "handouts archive 1"
"""Says what the file is and which form of it."""


@dataclass(frozen=True)
class Friend:
    """Another archive, as it told of itself."""

    title: str
    address: str
    pieces: tuple[tuple[str, str, str], ...]
    """Title, address, and a few words on each."""
    evenings: tuple[tuple[str, str, str, date], ...]
    """Title, address, club and place, and day of each."""


def day_of(starts: str) -> date:
    """The day of an evening by the host's clock.

    Args:
        starts: In ISO 8601 with the offset.

    Raises:
        ValueError: If it is no such moment.
    """
    return datetime.fromisoformat(starts).date()
