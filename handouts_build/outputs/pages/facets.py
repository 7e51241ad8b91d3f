"""What pieces are looked for by: kind, technique, wood, level, time, blank, tool, maker, club, year, showing.

This module owns which facets there are, and what of a project answers to each, in words.
Which pages follow from them is for `browsing`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from handouts_build.language import in_a_row, tr, tr_later
from handouts_build.outputs.page_content import PageContent
from handouts_build.outputs.words import MONTHS
from handouts_build.sheet import Sheet
from handouts_build.sheet.evening import PublicDemonstration

__all__ = ["FACETS", "SKILLS", "Facet", "facets_of", "month_of", "times_of"]


@dataclass(frozen=True)
class Facet:
    """One thing that pieces are looked for by."""

    name: str
    """As addresses have it."""
    title: str
    every: str
    """How the list of all its values is called."""
    order: tuple[str, ...] = ()
    """Its values in their own order; by how many there are of each if empty."""
    several: bool = False
    """Whether a piece may be asked to have two of its values at once."""

    def shown(self, value: str) -> str:
        """A value in the language spoken, if its words are ours."""
        if value in self.order:
            return tr(value)
        if self.name == "when":
            month, place = value.split(", ", 1)
            name, year = month.split()
            return tr("{month} {year}, {place}", month=tr(name), year=year, place=place)
        return value


_TIMES = (
    (30, tr_later("under half an hour")),
    (60, tr_later("under an hour")),
    (120, tr_later("under two hours")),
    (240, tr_later("under four hours")),
)
_LONGER = tr_later("four hours and more")
_BLANKS = (
    (50.8, tr_later("up to 2 in (51 mm) across")),
    (101.6, tr_later("up to 4 in (102 mm) across")),
    (203.2, tr_later("up to 8 in (203 mm)")),
)
_LARGER = tr_later("over 8 in (203 mm)")
SKILLS = (tr_later("first steps"), tr_later("improver"), tr_later("experienced"))
"""Whom a piece suits, the easiest first."""
_COMING, _HELD = tr_later("to be shown"), tr_later("shown before")

FACETS: tuple[Facet, ...] = (
    Facet("kind", tr_later("Kind"), tr_later("All kinds")),
    Facet("technique", tr_later("Technique"), tr_later("All techniques"), several=True),
    Facet("wood", tr_later("Wood"), tr_later("All woods"), several=True),
    Facet("level", tr_later("Level"), tr_later("All levels"), SKILLS),
    Facet("time", tr_later("Time to make it"), tr_later("All times"), (*(word for _, word in _TIMES), _LONGER)),
    Facet(
        "blank", tr_later("Largest blank"), tr_later("All sizes of blank"), (*(word for _, word in _BLANKS), _LARGER)
    ),
    Facet("tool", tr_later("Tool"), tr_later("All tools"), several=True),
    Facet("maker", tr_later("Maker"), tr_later("All makers")),
    Facet("club", tr_later("Club"), tr_later("All clubs")),
    Facet("year", tr_later("Year"), tr_later("All years")),
    Facet("shown", tr_later("Shown"), tr_later("All showings"), (_COMING, _HELD)),
    Facet("where", tr_later("To be shown at"), tr_later("All places")),
    Facet("when", tr_later("To be shown in"), tr_later("All months")),
)
"""In the order they are offered."""

_YEAR = re.compile(r"(?:^|/)((?:19|20)\d\d)(?:/|$)")
_OF_A_TOOL = re.compile(r",| P\d| for the |\d")
"""Where the name of a tool ends and its size or its use begins."""


def facets_of(content: PageContent) -> dict[str, tuple[str, ...]]:
    """What of a project answers to each facet, by the facet's name; without those that nothing answers to."""
    sheet, shown = content.sheet, content.demonstrations
    ahead = sorted((each for each in shown if not (each.held or each.cancelled)), key=lambda each: each.starts)
    found: Mapping[str, Iterable[str]] = {
        "kind": (sheet.kind,),
        "technique": sheet.techniques,
        "wood": sheet.woods,
        "level": (sheet.level,),
        "time": _time(sheet.minutes),
        "blank": _blank(sheet),
        "tool": map(_tool, sheet.tools),
        "maker": (sheet.by,),
        "club": (sheet.club, *(showing.club for showing in shown if not showing.cancelled)),
        "year": (*([str(sheet.date.year)] if sheet.date else []), *_years(content.folder, shown)),
        "where": (_place(showing) for showing in ahead),
        "when": (f"{_month(showing)}, {_place(showing)}" for showing in ahead),
        "shown": dict.fromkeys(_HELD if showing.held else _COMING for showing in shown if not showing.cancelled),
    }
    facets = {name: tuple(dict.fromkeys(filter(None, values))) for name, values in found.items()}
    return {name: values for name, values in facets.items() if values}


def times_of(facets: Mapping[str, Iterable[str]]) -> str:
    """The spans of time that a piece is made in, in words: who looks for them finds no "42 min".

    Args:
        facets: What of it answers to each facet.
    """
    return in_a_row(map(tr, facets.get("time", ())))


def _place(showing: PublicDemonstration) -> str:
    """Where an evening is, and whose: a place alone says little to whoever does not know it."""
    place = tr("by video") if showing.how == "by video" else showing.place or tr("in the room")
    return f"{place} ({showing.club})"


def _month(showing: PublicDemonstration) -> str:
    return f"{MONTHS[showing.starts.month - 1]} {showing.starts.year}"


def month_of(says: str) -> int:
    """When the evenings of a value of the facet `when` are, as a number that grows with time.

    Args:
        says: The value.
    """
    month, year, *_ = says.partition(",")[0].split()
    return int(year) * 12 + MONTHS.index(month)


def _time(minutes: float) -> Iterator[str]:
    """Every span that it fits into: who has an hour has half an hour too."""
    if minutes:
        yield from (word for most, word in _TIMES if minutes < most)
        if minutes >= _TIMES[-1][0]:
            yield _LONGER


def _blank(sheet: Sheet) -> Iterator[str]:
    """Every size that its largest blank fits into, by what has to clear the bed."""
    across = [
        float(value.magnitude)
        for part in sheet.parts
        if not part.falls_off
        for side, value, _ in part.blank.sides
        if side in ("diameter", "side", "width", "thickness")
    ]
    if across:
        # A hair more is the same mark.
        largest = max(across) - 0.05
        yield from (word for most, word in _BLANKS if largest <= most)
        if largest > _BLANKS[-1][0]:
            yield _LARGER


def _tool(text: str) -> str:
    """A tool by its name alone, without its size or what it is for."""
    return _OF_A_TOOL.split(text, maxsplit=1)[0].strip()


def _years(folder: str, shown: Iterable[PublicDemonstration]) -> Iterator[str]:
    """When it was or will be shown; of one that lies in a folder of a year that one."""
    yield from sorted({str(showing.starts.year) for showing in shown if not showing.cancelled}, reverse=True)
    if found := _YEAR.search(folder):
        yield found[1]
