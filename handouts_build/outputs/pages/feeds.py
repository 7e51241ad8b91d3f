"""Feeds to follow (Atom, RFC 4287): new pieces, evenings, corrections and calls, of all, of a club, of a maker.

This module owns what becomes an entry and when. A piece enters with the day it was written, or was
first shown; an evening enters two months before it, and once more when it is cancelled; a call for
pieces two months before it opens, when it opens, and with its results. No clock is read here; what day
it is, is told.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from xml.etree import ElementTree

from handouts_build.language import in_a_row, tr
from handouts_build.outputs.output import Address, Card, Output, Showing
from handouts_build.outputs.pages.browsing import Value, titles_of, values_of
from handouts_build.outputs.words import HOW, said_time, said_zone
from handouts_build.outputs.words import day as said_day
from handouts_build.sheet.call import CallForPieces

__all__ = ["FEED", "feeds"]

FEED = "feed.xml"
"""The feed of everything."""
_ATOM = "http://www.w3.org/2005/Atom"
_BEFORE = timedelta(days=60)
"""How long before an evening it is told of."""
_MOST = 60
"""Entries in a feed: the newest."""


@dataclass(frozen=True)
class _News:
    """One thing that is new."""

    at: datetime
    id: str
    title: str
    way: str
    says: str
    by: str
    card: int = -1
    """Which piece it is of; less than nought for a call for pieces."""
    club: str = ""
    """Whose call it is of."""


def feeds(cards: Sequence[Card], address: Address, day: date, calls: Sequence[CallForPieces] = ()) -> Iterator[Output]:
    """The feed of everything, and one of each club and of each maker.

    Args:
        cards: All pieces.
        address: Where the archive is published; it has an address.
        day: Today: what is later has not happened.
        calls: Calls for pieces.
    """
    titles = titles_of(cards)
    every = [entry for index, card in enumerate(cards) for entry in _entries(card, titles[card.name], index, address)]
    every += [entry for call in calls for entry in _entries_of_call(call, address)]
    entries = sorted(
        (entry for entry in every if entry.at.date() <= day),
        key=lambda entry: (entry.at, entry.id),
        reverse=True,
    )
    yield Output(FEED, _feed(tr("Pieces and evenings"), FEED, entries, address))
    for facet in ("club", "maker"):
        for value in values_of(cards)[facet]:
            path = f"feeds/{facet}-{value.slug}.xml"
            of_them = [entry for entry in entries if entry.card in value.cards or _calls(entry, facet, value)]
            yield Output(path, _feed(tr("Pieces and evenings: {value}", value=value.shown), path, of_them, address))


def _entries(card: Card, title: str, index: int, address: Address) -> Iterator[_News]:
    """What is new of a piece, whenever that was."""
    page = address.of(f"projects/{card.name}{address.ending}")
    # What it was called first stays its id when it is renamed.
    known = address.of(f"p/{card.first_name}")
    if card.date:
        at = datetime.fromisoformat(card.date).replace(tzinfo=UTC)
        yield _News(at, known, title, page, card.summary, card.by, index)
    for number, (put_right, wrong) in enumerate(reversed(card.errata), start=1):
        at = datetime.fromisoformat(put_right).replace(tzinfo=UTC)
        yield _News(
            at, f"{known}/corrected-{number}", tr("Corrected: {title}", title=title), page, wrong, card.by, index
        )
    for showing in card.showings:
        way = address.of(f"projects/{card.name}/shown{address.ending}#shown-{showing.name}")
        starts = datetime.fromisoformat(showing.starts)
        announced = (starts - _BEFORE).astimezone(UTC).replace(hour=0, minute=0, second=0)
        heading = tr("{title}, {day}: {club}", title=title, day=said_day(starts), club=showing.club)
        if showing.cancelled:
            heading = tr("Cancelled: {told}", told=heading)
        yield _News(announced, f"{known}/{showing.name}", heading, way, _when(showing, starts), card.by, index)


def _calls(entry: _News, facet: str, value: Value) -> bool:
    """Whether news of a call are those of a club."""
    return facet == "club" and entry.club.casefold() == value.says.casefold()


def _entries_of_call(call: CallForPieces, address: Address) -> Iterator[_News]:
    """What is new of a call for pieces: that there will be one, that it is open, and its results."""
    way, known = address.of(f"calls/{call.name}{address.ending}"), address.of(f"c/{call.name}")
    for news, when, title in (
        ("announced", call.opens - _BEFORE, tr("Call for pieces: {title}", title=call.title)),
        ("open", call.opens, tr("Pieces can be sent now: {title}", title=call.title)),
        ("results", call.results_on, tr("Results: {title}", title=call.title)),
    ):
        says = tr(
            "{opens} to {closes}. {club}", opens=said_day(call.opens), closes=said_day(call.closes), club=call.club
        )
        at = datetime.combine(when, time(), UTC)
        yield _News(at, f"{known}/{news}", title, way, says, call.club, club=call.club)


def _when(showing: Showing, starts: datetime) -> str:
    how = "" if showing.how == "in the room" else tr(HOW[showing.how])
    begins = tr("{time} {zone}", time=said_time(starts), zone=said_zone(showing.zone))
    facts = [showing.cancelled, showing.place, how, begins]
    return in_a_row(filter(None, facts))


def _feed(title: str, path: str, entries: Sequence[_News], address: Address) -> bytes:
    ElementTree.register_namespace("", _ATOM)
    root = ElementTree.Element(_named("feed"))
    _told(root, "title", title)
    _told(root, "id", address.of(path))
    ElementTree.SubElement(root, _named("link"), rel="self", type="application/atom+xml", href=address.of(path))
    ElementTree.SubElement(root, _named("link"), rel="alternate", type="text/html", href=address.of(""))
    newest = entries[0].at if entries else datetime(1970, 1, 1, tzinfo=UTC)
    _told(root, "updated", newest.isoformat().replace("+00:00", "Z"))
    # Each entry has an author, or the feed has (RFC 4287, 4.1.1).
    _author(root, title)
    for entry in entries[:_MOST]:
        made = ElementTree.SubElement(root, _named("entry"))
        _told(made, "title", entry.title)
        _told(made, "id", entry.id)
        ElementTree.SubElement(made, _named("link"), rel="alternate", type="text/html", href=entry.way)
        _told(made, "updated", entry.at.isoformat().replace("+00:00", "Z"))
        if entry.by:
            _author(made, entry.by)
        _told(made, "summary", entry.says)
    ElementTree.indent(root, space=" ")
    written: bytes = ElementTree.tostring(root, encoding="utf-8", xml_declaration=True)
    return written + b"\n"


def _named(tag: str) -> str:
    return f"{{{_ATOM}}}{tag}"


def _told(above: ElementTree.Element, tag: str, text: str) -> None:
    # Letters that XML has no form for would make the whole feed unreadable.
    clean = "".join(sign for sign in text if sign >= " " or sign in "\n\t")
    ElementTree.SubElement(above, _named(tag)).text = clean


def _author(above: ElementTree.Element, name: str) -> None:
    author = ElementTree.SubElement(above, _named("author"))
    _told(author, "name", name)
