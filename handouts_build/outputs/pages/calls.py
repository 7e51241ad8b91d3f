"""Calls for pieces on the site: one page of all, a page of each with its gallery, and what stands beside projects.

This module owns which pages and files there are, and what may be told on the day of the build: a call comes here
whole, and leaves with its entries once it has closed and with its results from their day on.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from handouts_build.language import in_a_row, tr, tr_later
from handouts_build.outputs.output import Address, Output
from handouts_build.outputs.pages.filling import filled, page
from handouts_build.outputs.pages.structured import call_data
from handouts_build.outputs.photographs import TwoSizes, at_two_sizes
from handouts_build.outputs.words import day as said_day
from handouts_build.sheet.call import Award, CallEntry, CallForPieces, CallState

__all__ = ["ALL", "CALLS", "call_files", "calls_page", "made_after", "said_of", "state_words"]

CALLS = "calls"
"""The folder of the calls on the site."""
ALL = f"{CALLS}.md"
"""The page of all calls."""
_SMALL_PX = 560
"""Longest side of a picture where it stands among others, or on a narrow screen."""
_GROUPS = (
    (CallState.OPEN, tr_later("Open now")),
    (CallState.COMING, tr_later("To come")),
    (CallState.CLOSED, tr_later("Closed, to be judged")),
    (CallState.OVER, tr_later("Over")),
)


@dataclass(frozen=True)
class _ShownPicture:
    """A picture of an entry, as the page has it: its path below the call's own folder, small and large."""

    small: str
    large: str
    shows: str
    sized: TwoSizes
    credit: str


@dataclass(frozen=True)
class _ShownEntry:
    """An entry as its call's page shows it."""

    entry: CallEntry
    anchor: str
    pictures: tuple[_ShownPicture, ...]
    prizes: tuple[Award, ...]
    facts: tuple[tuple[str, str], ...]
    after: str
    """The title of the project it was made after; empty where there is none on the site."""


def call_files(call: CallForPieces, day: date, titles: Mapping[str, str], address: Address) -> Iterator[Output]:
    """The page of a call and the pictures on it.

    Args:
        call: The call.
        day: Today.
        titles: What each project on the site is called, by its name.
        address: Where the archive is published.

    Raises:
        ProjectError: If a picture of an entry is none.
    """
    current = call.as_of(day)
    shown = []
    for entry in _in_order(current):
        pictures = []
        for picture in entry.pictures:
            sized = at_two_sizes(picture, file=entry.file, most_px=_SMALL_PX)
            home = f"{CALLS}/{call.name}/{entry.name}"
            yield Output(f"{home}/{picture.published}", sized.large)
            yield Output(f"{home}/{picture.card}", sized.small)
            credit = in_a_row(filter(None, (picture.by, picture.license)))
            paths = (f"{entry.name}/{picture.card}", f"{entry.name}/{picture.published}")
            made = _ShownPicture(*paths, picture.shows, sized, credit)
            pictures.append(made)
        shown.append(_shown(current, entry, tuple(pictures), titles))
    text = filled(
        "call.md.j2", call=current, dates=_dates(current, day), state=state_words(current, day), shown=shown,
        closed=current.state(day) in (CallState.CLOSED, CallState.OVER), who=tuple(_who(current)),
        at="" if address.ending == "/" else f"{call.name}/",
        data_of_it=call_data(current, day, [entry.entry for entry in shown], address),
    )  # fmt: skip
    yield page(f"{CALLS}/{call.name}.md", text)


def calls_page(calls: Sequence[CallForPieces], day: date) -> Output:
    """The page of all calls.

    Args:
        calls: The calls; at least one.
        day: Today.
    """
    lists = [
        (tr(title), [(call, _dates(call, day)) for call in _by_day(calls) if call.state(day) is state])
        for state, title in _GROUPS
    ]
    return page(ALL, filled("calls.md.j2", lists=[(title, found) for title, found in lists if found]))


def said_of(calls: Sequence[CallForPieces], day: date) -> list[tuple[CallForPieces, str]]:
    """The calls that are not over, as the home page announces them: each with its days in a sentence.

    Args:
        calls: The calls.
        day: Today.
    """
    return [(call, state_words(call, day)) for call in _by_day(calls) if call.state(day) is not CallState.OVER]


def made_after(calls: Sequence[CallForPieces], day: date, address: Address) -> dict[str, str]:
    """What each project's page says of entries that were made after it, by the project's name.

    Args:
        calls: The calls.
        day: Today.
        address: Where the archive is published.
    """
    found: dict[str, list[tuple[CallForPieces, CallEntry]]] = {}
    for call in _by_day(calls):
        for entry in call.as_of(day).entries:
            if entry.inspired_by:
                found.setdefault(entry.inspired_by, []).append((call, entry))
    # From the address of the project's own page to the root of the site.
    up = "../../" if address.ending == "/" else "../"
    return {
        name: filled("made-after.md.j2", entries=[(call, entry, _anchor(entry)) for call, entry in entries], up=up)
        for name, entries in found.items()
    }


def state_words(call: CallForPieces, day: date) -> str:
    """How far a call is, in a sentence of days.

    Args:
        call: The call.
        day: Today.
    """
    opens, closes, results = map(said_day, (call.opens, call.closes, call.results_on))
    return {
        CallState.COMING: tr("Pieces can be sent from {opens} to {closes}.", opens=opens, closes=closes),
        CallState.OPEN: tr("Open: pieces can be sent until {closes}.", closes=closes),
        CallState.CLOSED: tr("Closed on {closes}. Results: {results}.", closes=closes, results=results),
        CallState.OVER: tr("Closed on {closes}. The results are out.", closes=closes),
    }[call.state(day)]


def _dates(call: CallForPieces, day: date) -> tuple[tuple[str, str], ...]:
    opened, closed = call.state(day) is not CallState.COMING, call.state(day) in (CallState.CLOSED, CallState.OVER)
    rows = [
        (tr("Opened") if opened else tr("Opens"), call.opens),
        (tr("Closed") if closed else tr("Closes"), call.closes),
    ]
    if call.shown is not None:
        rows.append((tr("Shown"), call.shown))
    rows.append((tr("Results"), call.results_on))
    return tuple((label, said_day(when)) for label, when in rows)


def _who(call: CallForPieces) -> Iterator[tuple[str, str]]:
    """Who runs and judges it, and which of them may send a piece."""
    yield tr("Hosted by"), call.club
    if call.place:
        yield tr("Place"), call.place
    for role, label, people in (("hosts", tr("Hosts"), call.hosts), ("judges", tr("Judges"), call.judges)):
        if people:
            sentence = (
                tr("{people} (may send a piece too)") if role in call.may_enter else tr("{people} (send no piece)")
            )
            yield label, sentence.format(people=in_a_row(people))


def _shown(
    call: CallForPieces, entry: CallEntry, pictures: tuple[_ShownPicture, ...], titles: Mapping[str, str]
) -> _ShownEntry:
    facts = [
        (tr("Made by"), entry.maker),
        (tr("Wood") if len(entry.woods) == 1 else tr("Woods"), in_a_row(entry.woods)),
    ]
    facts += [(word[:1].upper() + word[1:], printed) for word, printed in entry.sizes]
    if entry.techniques:
        facts.append((tr("Techniques"), in_a_row(entry.techniques)))
    after = titles.get(entry.inspired_by, "")
    return _ShownEntry(entry, _anchor(entry), pictures, call.prizes_of(entry), tuple(facts), after)


def _in_order(call: CallForPieces) -> list[CallEntry]:
    """The entries: those with a prize first, as they are read out, then by title."""
    places = {award.entry: place for place, award in reversed(list(enumerate(call.awards)))}
    return sorted(
        call.entries, key=lambda entry: (places.get(entry.name, len(places)), entry.title.casefold(), entry.name)
    )


def _by_day(calls: Sequence[CallForPieces]) -> list[CallForPieces]:
    """The newest first."""
    return sorted(calls, key=lambda call: (call.closes, call.name), reverse=True)


def _anchor(entry: CallEntry) -> str:
    return f"entry-{entry.name}"
