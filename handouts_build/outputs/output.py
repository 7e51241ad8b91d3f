"""What is handed on for publishing: files, where they will stand, and what shared pages say of a project.

This module owns the frames. It draws nothing, writes nothing, and loads nothing that
takes time; where files end up is for the command or the site engine to say.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from handouts_build.sheet import Sheet

__all__ = ["AT", "NOWHERE", "Address", "Card", "Output", "Showing"]


@dataclass(frozen=True)
class Address:
    """Where an archive is published, for the QR codes and the links on paper."""

    site_url: str = ""
    """Address of the archive; empty if it has none."""
    ending: str = "/"
    """How the address of a page ends: `/` or `.html`."""

    def page(self, sheet: Sheet) -> str:
        """The address of a project's page, empty if there is none."""
        return self.of(f"projects/{sheet.name}{self.ending}")

    def short(self, sheet: Sheet) -> str:
        """The short address that is printed for a project, empty if there is none; it stays when names change."""
        return self.of(f"p/{sheet.name}{self.ending}")

    def of(self, path: str) -> str:
        """The address of anything on the site, empty if there is none.

        Args:
            path: Below the site.
        """
        return f"{self.site_url.rstrip('/')}/{path}" if self.site_url else ""


NOWHERE = Address()
"""An archive that is not published."""


@dataclass(frozen=True)
class Output:
    """One file of the site."""

    path: str
    """Path below the site's source, with forward slashes, such as `projects/lantern.md`."""
    content: bytes | Path
    """The bytes, or a file that holds them."""

    def read(self) -> bytes:
        """The bytes."""
        return self.content.read_bytes() if isinstance(self.content, Path) else self.content


@dataclass(frozen=True)
class Showing:
    """One demonstration as the list of all of them shows it."""

    state: str
    """`announced`, `held` or `cancelled`."""
    at: float
    """When it starts, in seconds of the Unix clock."""
    words: str
    """Markdown."""
    name: str = ""
    """Of its file, without the ending."""
    title: str = ""
    """Of what is shown."""
    starts: str = ""
    ends: str = ""
    """Both in ISO 8601 with the offset; the second is empty where nobody says."""
    zone: str = ""
    club: str = ""
    place: str = ""
    how: str = ""
    cancelled: str = ""
    """Why it does not take place."""


AT = "\ue000"
"""Stands in a card's words for the way to the project's own folder, which every page has its own of."""


@dataclass(frozen=True)
class Card:
    """What the pages that belong to no single project say of one: text alone, so that it can be kept."""

    name: str
    title: str
    folder: str
    """The folder of the archive that its file lies in; empty for the archive's own."""
    by: str
    club: str
    words: str
    """HTML below the heading, with `AT` for the way to the project's own folder."""
    few: str = ""
    """The same in few words: a picture, and what it is."""
    facets: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """What it answers to, by the name of the facet."""
    showings: tuple[Showing, ...] = ()
    summary: str = ""
    """Plain text."""
    date: str = ""
    """The day it was written or shown first, as ISO 8601 has it; empty where nobody says."""
    errata: tuple[tuple[str, str], ...] = ()
    """What was wrong once: the day it was put right, and what it was."""
    first_name: str = ""
    """The name that it had first, by which it is known whatever it is called now."""

    def to_json(self) -> bytes:
        """As it is kept."""
        return json.dumps(asdict(self)).encode()

    @classmethod
    def from_json(cls, kept: bytes) -> Card:
        """As it was kept."""
        values = json.loads(kept)
        return cls(
            **values
            | {
                "facets": {name: tuple(found) for name, found in values["facets"].items()},
                "errata": tuple((day, wrong) for day, wrong in values["errata"]),
                "showings": tuple(Showing(**showing) for showing in values["showings"]),
            }
        )
