"""What must hold between values, and what is found where it does not.

This module owns the frames of a condition and of a finding, and of how a profile follows
from other values. A settled sheet carries them on, so that a page can judge and draw up
again at other sizes. Nothing is judged here.
"""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from handouts_build.language import phrases_in_a_row, tr_later
from handouts_build.problems import Place

if TYPE_CHECKING:
    # A finding that was told before is read again without loading the units.
    from handouts_build.quantities import Manner, Quantity

__all__ = ["ASKED", "Acceptance", "Condition", "Finding", "Follows", "Level"]

ASKED = tr_later("The author's rule")
"""What a finding on a rule of the author's own is about."""


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
    says: str = ""
    """The message in the author's sentence alone, for readers who know none of the names in his formulas; empty where
    the message is that."""


@dataclass(frozen=True)
class Follows:
    """How a profile follows from other values, so that a page can draw it up again."""

    sizes: tuple[tuple[str, str, str, Quantity, list[Any]], ...]
    """The elements' sizes: full name, what a message calls it, key in the project file, value, formula."""
    rows: tuple[tuple[str, list[Any], Mapping[str, str]], ...]
    """Every value on the way, in an order that works; the profile's dimensions are among them. Its full name, its
    law with short names, and the full name that each of those stands for."""
    checks: tuple[Condition, ...]
    """What must hold for there to be an outline; `at` is the key of the element."""
    stations: tuple[tuple[str, str, str, Manner], ...]
    """Every place told of: what it is, the names of its distance from the start and of its diameter, and how the
    diameter is printed."""
    length: list[Any] | None = None
    """The names that its length is the sum of, as it is printed; None where there is more to it."""
    fits: tuple[tuple[str, Quantity, list[Any], Condition], ...] = ()
    """What the blank has, by name, value and formula, and the condition on the profile that goes with it."""


class Level(enum.StrEnum):
    """How grave a finding is."""

    STOP = "stop"
    """It cannot be made or held as written."""
    MIND = "mind"
    """It can be made, with care."""
    NOTE = "note"
    """Worth knowing."""


@dataclass(frozen=True)
class Acceptance:
    """What an author may write to let a finding stand, with the reason."""

    word: str
    """The finding's, as `accept` has it, such as `thin web`."""
    step: tuple[str | int, ...]
    """The way to the step in the file, such as `("parts", "drop", "steps", 0)`."""


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
    advice: str = ""
    """What the author alone can do about it, in the file; readers are spared it."""
    private: bool = False
    """Whether readers are spared all of it: it speaks of the file or the shop, or stands elsewhere on the page."""
    acceptance: Acceptance | None = None
    """How the author may let it stand; None where nobody may."""
    accepted: bool = False
    """Whether the author lets it stand; the message has the reason."""

    def __str__(self) -> str:
        text = f"{self.place}: {self.level}: {self.message}"
        remedies = phrases_in_a_row(said for said in (self.remedy, self.advice) if said)
        return f"{text}\n    remedy: {remedies}" if remedies else text
