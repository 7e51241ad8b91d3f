"""What is cut several times over, at equal angles around the axis, while the wood stands still.

This module owns where each of them stands, what each is called, and how far those go that are cut toward the axis.
"""

from __future__ import annotations

import math
from typing import Any, ClassVar

from handouts_build.workpiece.cut import BaseCut, Nature, Reach
from handouts_build.workpiece.cuts.words import numbered
from handouts_build.workpiece.declared import choice, length
from handouts_build.workpiece.faults import MOST_HOLES, WorkpieceFault, count_within

__all__ = ["CutAround", "depth_from_surface", "must_go_one_way", "reach_inward"]


class CutAround(BaseCut):
    """Several alike at equal angles around, the wood at rest. Its own kinds declare the key `count`, in its place."""

    nature: ClassVar[Nature] = Nature.INSIDE
    turned: ClassVar[bool] = False
    needs_lathe: ClassVar[bool] = False

    count: int

    @property
    def bodies(self) -> int:
        """One each."""
        return self.count

    def _names(self, each: str) -> list[str]:
        return numbered(each or self.name, self.count)

    def _angles(self, start_deg: float) -> list[float]:
        count_within(self.count, self.several, least=1, most=MOST_HOLES)
        return [math.radians(start_deg + 360 * index / self.count) for index in range(self.count)]


def depth_from_surface() -> Any:
    """The key `deep` of what is cut toward the axis, beside `reach`."""
    return length(
        "How deep from the surface; leave it out where `reach` says.",
        example="1/2 in",
        default=None,
        noun="depth",
        above_nought=True,
    )


def reach_inward() -> Any:
    """The key `reach` of what is cut toward the axis."""
    return choice(
        "How far they go: to `deep`, to the axis or the bore that is there, or right through.",
        Reach,
        example="axis",
        default=Reach.DEPTH,
    )


def must_go_one_way(several: str, deep_mm: float | None, reach: Reach) -> None:
    """Refuse what has a depth and goes on besides, or has neither.

    Args:
        several: What is cut, as a message has it.
        deep_mm: Its depth from the surface, mm, if it is said.
        reach: How far it goes.

    Raises:
        WorkpieceFault: If both are said, or neither.
    """
    if (deep_mm is None) is (reach is Reach.DEPTH):
        raise WorkpieceFault(f"the {several} have no one depth", "give a depth, or say to the axis or through")
