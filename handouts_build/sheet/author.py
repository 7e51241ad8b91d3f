"""What the author wrote and photographed, as it is shown.

This module owns both forms and nothing worked out: who tells of them need not wait for the units.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

__all__ = ["Paragraph", "Picture", "TextRun"]


@dataclass(frozen=True)
class TextRun:
    """A stretch of author text in one manner."""

    text: str
    style: str = "plain"
    """`plain`, `emphasis`, or `value` for a worked-out value put in."""
    name: str = ""
    """The full name of that value."""


Paragraph = tuple[TextRun, ...]
"""One paragraph of author text."""


@dataclass(frozen=True)
class Picture:
    """A photograph of the author's."""

    file: str
    """Path below the project's own folder, with forward slashes."""
    path: Path
    shows: str
    """What it shows, for those who cannot see it."""
    number: int = 1
    """Its place among the project's photographs, from 1."""
    by: str = ""
    """Who took it; empty where that is the maker, or nobody is named."""
    license: str = ""
    """How it may be passed on; empty for as the project."""
    said: bool = True
    """Whether the author wrote what it shows."""

    @property
    def published(self) -> str:
        """Its path on the site, below the project's folder there: a name that we give, whatever the author's is."""
        return f"photographs/{self.number}{self.path.suffix.lower()}"

    @property
    def card(self) -> str:
        """The path of the same made small, for the card of a piece that nothing else shows."""
        return f"photographs/{self.number}-card.jpg"
