"""A call for pieces as it is shown: its days, what may be sent, what was sent, and what was given for it.

This module owns the frame, its form as JSON, and what of a call may be told on which day: entries
once it has closed, results from their day on. Nobody who draws from it need know the days.
"""

from __future__ import annotations

import enum
import json
from dataclasses import asdict, dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from handouts_build.sheet.author import Paragraph, Picture, TextRun

__all__ = ["Award", "CallEntry", "CallForPieces", "CallState"]


class CallState(enum.StrEnum):
    """How far a call is."""

    COMING = "coming"
    """It is announced, and nothing can be sent yet."""
    OPEN = "open"
    CLOSED = "closed"
    """Nothing can be sent any more; its results are not out."""
    OVER = "over"
    """Its results are out."""


@dataclass(frozen=True)
class Award:
    """A prize or a mention."""

    entry: str
    """The name of the entry's file."""
    prize: str
    says: tuple[Paragraph, ...] = ()


@dataclass(frozen=True)
class CallEntry:
    """A piece that was sent."""

    name: str
    """Of its file."""
    file: str
    """The file, as messages name it."""
    maker: str
    title: str
    woods: tuple[str, ...]
    sizes: tuple[tuple[str, str], ...]
    """What is measured, and how large it is in both units."""
    pictures: tuple[Picture, ...]
    words: tuple[Paragraph, ...] = ()
    techniques: tuple[str, ...] = ()
    inspired_by: str = ""
    """The name of the project it was made after; empty where it tells of none."""


@dataclass(frozen=True)
class CallForPieces:
    """A call for pieces."""

    name: str
    """Of its folder."""
    file: str
    """Its file, as messages name it."""
    title: str
    club: str
    place: str
    words: tuple[Paragraph, ...]
    opens: date
    closes: date
    shown: date | None
    results_on: date
    write_to: str
    rules: tuple[tuple[Paragraph, ...], ...] = ()
    pieces: tuple[tuple[str, str], ...] = ()
    """What may be sent: of what, and what is asked of it."""
    hosts: tuple[str, ...] = ()
    judges: tuple[str, ...] = ()
    may_enter: tuple[str, ...] = ()
    criteria: tuple[str, ...] = ()
    entries: tuple[CallEntry, ...] = ()
    awards: tuple[Award, ...] = ()

    def state(self, day: date) -> CallState:
        """How far it is on a day.

        Args:
            day: Every day before it is over everywhere.
        """
        if day < self.opens:
            return CallState.COMING
        if day <= self.closes:
            return CallState.OPEN
        return CallState.CLOSED if day < self.results_on else CallState.OVER

    def as_of(self, day: date) -> CallForPieces:
        """The call with what may be told of it on a day, and nothing else.

        Args:
            day: Every day before it is over everywhere.
        """
        state = self.state(day)
        closed = state in (CallState.CLOSED, CallState.OVER)
        return replace(
            self,
            entries=self.entries if closed else (),
            awards=self.awards if state is CallState.OVER else (),
        )

    def prizes_of(self, entry: CallEntry) -> tuple[Award, ...]:
        """What an entry was given."""
        return tuple(award for award in self.awards if award.entry == entry.name)

    def to_json(self) -> bytes:
        """As it is kept."""
        return json.dumps(asdict(self), default=_plain).encode()

    @classmethod
    def from_json(cls, kept: bytes) -> CallForPieces:
        """As it was kept."""
        values = json.loads(kept)
        days = {
            key: values[key] and date.fromisoformat(values[key]) for key in ("opens", "closes", "shown", "results_on")
        }
        return cls(
            **{
                **values,
                **days,
                "words": _paragraphs(values["words"]),
                "rules": tuple(map(_paragraphs, values["rules"])),
                "pieces": tuple(map(tuple, values["pieces"])),
                **{key: tuple(values[key]) for key in ("hosts", "judges", "may_enter", "criteria")},
                "entries": tuple(map(_entry, values["entries"])),
                "awards": tuple(
                    Award(award["entry"], award["prize"], _paragraphs(award["says"])) for award in values["awards"]
                ),
            }
        )


def _plain(value: object) -> str:
    """A day or a path as text."""
    return value.isoformat() if isinstance(value, date) else str(value)


def _paragraphs(kept: list[list[dict[str, str]]]) -> tuple[Paragraph, ...]:
    return tuple(tuple(TextRun(**run) for run in paragraph) for paragraph in kept)


def _entry(kept: dict[str, Any]) -> CallEntry:
    return CallEntry(
        **{
            **kept,
            "woods": tuple(kept["woods"]),
            "techniques": tuple(kept["techniques"]),
            "sizes": tuple(map(tuple, kept["sizes"])),
            "words": _paragraphs(kept["words"]),
            "pictures": tuple(Picture(**{**picture, "path": Path(picture["path"])}) for picture in kept["pictures"]),
        }
    )
