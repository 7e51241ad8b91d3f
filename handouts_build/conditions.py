"""What must hold between values, and what is found where it does not.

This module owns the frames of a condition and of a finding. A settled sheet carries
its conditions on, so that a page can judge them again at other sizes. Nothing is
judged here.
"""

from __future__ import annotations

import enum
from dataclasses import dataclass, field
from typing import Any

from handouts_build.problems import Place

__all__ = ["Condition", "Finding", "Level"]


@dataclass(frozen=True)
class Condition:
    """A comparison that should be true."""

    tree: list[Any] = field(compare=False)
    """The comparison as JSON lists, with full names."""
    level: str
    """`problem` (nothing can be worked out), or a finding: `stop`, `mind` or `note`."""
    message: str
    """Said when it is not true; `{name}` stands for a value, by its full name."""
    remedy: str
    at: str = ""
    """The given to blame, by its key; empty for the whole working."""


class Level(enum.StrEnum):
    """How grave a finding is."""

    STOP = "stop"
    """It cannot be made or held as written."""
    MIND = "mind"
    """It can be made, with care."""
    NOTE = "note"
    """Worth knowing."""


@dataclass(frozen=True)
class Finding:
    """A verdict on a project."""

    level: Level
    about: str
    """Title of what it concerns."""
    message: str
    remedy: str
    place: Place
    judged: bool = False
    """Whether a condition of the sheet says it, which a page can judge again."""

    def __str__(self) -> str:
        text = f"{self.place}: {self.level}: {self.message}"
        return f"{text}\n    remedy: {self.remedy}" if self.remedy else text
