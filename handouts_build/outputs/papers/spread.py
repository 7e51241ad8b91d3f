"""Which step stands in which column of which page of the short handout.

This module owns the spreading: steps two abreast in the order they are done, over as few pages as they need or over
as many as are given, so that no page stands empty. It is told heights and nothing else.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

__all__ = ["Column", "ColumnRoom", "pages_needed", "spread"]

_UNEVEN = 0.5
"""What a difference between two columns that end a page costs, beside room that is left."""
_LAST = 0.3
"""What room left on the last page costs: drawings and the address stand there."""


@dataclass(frozen=True)
class ColumnRoom:
    """The height of a column, in mm."""

    first: float
    """On the first page, below what opens it; too little for any step where it is nought or less."""
    page: float
    """On a page that holds nothing else."""
    closing: float
    """What the last page needs below its columns."""
    gap: float
    """Between a step and the next below it."""

    def on(self, page: int, pages: int) -> float:
        """The height of a column on a page.

        Args:
            page: Counted from 0.
            pages: How many there are.
        """
        room = self.first if page == 0 else self.page
        return room - (self.closing if page == pages - 1 else 0.0)


@dataclass(frozen=True)
class Column:
    """Steps one below the other, counted from 0: from `start` up to `stop`."""

    start: int
    stop: int
    left: float
    """Height that is left below them, in mm."""


def spread(heights: Sequence[float], room: ColumnRoom, pages: int) -> tuple[tuple[Column, Column], ...] | None:
    """The two columns of every page, with the least room left; None where they do not fit.

    Args:
        heights: Of the steps, in mm.
        room: For them.
        pages: Over how many they are spread.
    """
    count = len(heights)
    sums = [0.0]
    for height in heights:
        sums.append(sums[-1] + height + room.gap)

    def columns(start: int, high: float) -> list[Column]:
        """Every column that can begin with a step, the empty one among them."""
        found = [Column(start, start, max(high, 0.0))]
        for stop in range(start + 1, count + 1):
            left = high - (sums[stop] - sums[start] - room.gap)
            if left < 0:
                break
            found.append(Column(start, stop, left))
        return found

    @cache
    def best(page: int, start: int) -> tuple[float, tuple[tuple[Column, Column], ...]] | None:
        """The cost of what is left from a page on, and its columns."""
        if page == pages:
            return (0.0, ()) if start == count else None
        high = room.on(page, pages)
        weight = _LAST if page == pages - 1 else 1.0
        chosen = None
        for first in columns(start, high):
            for second in columns(first.stop, high):
                # Words go down the left column before they go down the right.
                if second.stop > second.start and first.stop == first.start:
                    continue
                rest = best(page + 1, second.stop)
                if rest is None:
                    continue
                lefts = first.left / room.page, second.left / room.page
                cost = weight * (lefts[0] ** 2 + lefts[1] ** 2) + _UNEVEN * (lefts[0] - lefts[1]) ** 2 + rest[0]
                if chosen is None or cost < chosen[0] - 1e-9:
                    chosen = (cost, ((first, second), *rest[1]))
        return chosen

    found = best(0, 0)
    return None if found is None else found[1]


def pages_needed(heights: Sequence[float], room: ColumnRoom) -> int | None:
    """On how few pages they fit; None where one of them is higher than a page.

    Args:
        heights: Of the steps, in mm.
        room: For them.
    """
    if any(height > room.page for height in heights) or room.closing > room.page:
        return None
    pages = 1
    while not _fits(heights, room, pages):
        pages += 1
    return pages


def _fits(heights: Sequence[float], room: ColumnRoom, pages: int) -> bool:
    """Whether steps that fill each column before the next come to an end on so many pages."""
    place = 0
    for page in range(pages):
        high = room.on(page, pages)
        for _ in range(2):
            left = high
            while place < len(heights) and heights[place] <= left + 1e-9:
                left -= heights[place] + room.gap
                place += 1
    return place == len(heights) and room.on(pages - 1, pages) >= 0
