"""A laminate as a settled sheet carries it: its boards in order.

This module owns the frame alone. How a laminate is worked out is for `compute`.
"""

from __future__ import annotations

from dataclasses import dataclass

from handouts_build.quantities import Printed, Quantity

__all__ = ["Laminate", "LaminateBoard"]


@dataclass(frozen=True)
class LaminateBoard:
    """One board."""

    wood: str
    thick: Quantity
    thick_printed: Printed


@dataclass(frozen=True)
class Laminate:
    """A block of boards glued face to face."""

    boards: tuple[LaminateBoard, ...]
    wide: Quantity
    wide_printed: Printed

    @property
    def woods(self) -> tuple[str, ...]:
        """Its woods, each once, in order."""
        return tuple(dict.fromkeys(board.wood for board in self.boards))
