"""Pages: a home page with a card for each project, and the pages of each project, as Markdown.

This module owns the pages that belong to no single project, and what goes out with a
project's own. Their form is in `templates/*.md.j2`, author text passes through
`pages.text`, and looks are in the style sheet. Markdown keeps the headings and links, so
that any site engine can list and follow them; everything else is HTML that no engine
changes.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence

from handouts_build.language import in_a_row, phrases_in_a_row, tr
from handouts_build.outputs.output import AT, NOWHERE, Address, Card, Output, Showing
from handouts_build.outputs.page_content import PageContent
from handouts_build.outputs.pages.browsing import browsing_pages, titles_of
from handouts_build.outputs.pages.card_drawing import emblem
from handouts_build.outputs.pages.clubs import club_pages, way_to
from handouts_build.outputs.pages.facets import facets_of
from handouts_build.outputs.pages.filling import clock, filled, page
from handouts_build.outputs.pages.own_size import own_size_script
from handouts_build.outputs.pages.project import pages_of
from handouts_build.outputs.pages.showings import demonstration_words, state_of
from handouts_build.outputs.pages.solid_files import solid_files
from handouts_build.outputs.pages.text import plain
from handouts_build.outputs.photographs import for_paper, published
from handouts_build.outputs.words import times
from handouts_build.quantities import Kind, kind_of
from handouts_build.sheet import Picture, Sheet
from handouts_build.sheet.call import CallForPieces
from handouts_build.sheet.clubs import Club
from handouts_build.sheet.evening import PublicDemonstration

__all__ = ["card", "card_script", "facts_of", "project_pages", "shared_pages"]

_AT_HOME = 24
"""Cards on the home page, where they are all."""

_CARD_PX = 640
"""Longest side of a photograph on a card."""


def shared_pages(
    cards: Sequence[Card],
    *,
    address: Address = NOWHERE,
    calls: Sequence[tuple[CallForPieces, str]] | None = None,
    friends: bool = False,
    clubs: Sequence[Club] = (),
) -> list[Output]:
    """The pages that belong to no single project.

    Args:
        cards: The projects, as `card` makes them.
        address: Where the archive is published.
        calls: Calls for pieces that are announced, each with its days in a sentence; None where there never was a call.
        friends: Whether there is a page of other archives.
        clubs: Those that have pages of their own.
    """
    named = list(dict.fromkeys(card.club for card in cards if card.club))
    every = sorted((showing for card in cards for showing in card.showings), key=lambda showing: showing.at)
    announced, held, cancelled = (
        [showing for showing in every if showing.state == state] for state in ("announced", "held", "cancelled")
    )
    titled = ((tr("Announced"), announced), (tr("Held"), held[::-1]), (tr("Cancelled"), cancelled[::-1]))
    lists = [(title, showings) for title, showings in titled if showings]
    home = filled(
        "home.md.j2", clubs=named, listed=_at_home(cards), count=len(cards), announced=announced, shown=bool(every),
        titles=titles_of(cards), at="", AT=AT, follow=bool(address.site_url), calls=calls, friends=friends,
        pages_of_clubs=[(club.name, way_to(club)) for club in clubs],
    )  # fmt: skip
    made = [page("index.md", home)]
    if lists:
        made.append(
            page("demonstrations.md", filled("demonstrations.md.j2", lists=lists, follow=bool(address.site_url)))
        )
    return [*made, *browsing_pages(cards, ending=address.ending), *club_pages(clubs, cards, address=address)]


def _at_home(cards: Sequence[Card]) -> Sequence[Card]:
    """The cards on the home page: all of a few, else those that were shown last or will be."""
    if len(cards) <= _AT_HOME:
        return cards
    return sorted(cards, key=lambda card: -max((showing.at for showing in card.showings), default=0))[: _AT_HOME // 2]


def card(content: PageContent) -> Card:
    """What the shared pages say of a project."""
    from handouts_build.figures import themed

    sheet = content.sheet
    drawn = content.hero
    values = {
        "sheet": sheet, "drawing": themed(emblem(drawn.svg)) if drawn is not None else "",
        "shot": content.pictures.finished, "facts": list(facts_of(sheet)), "AT": AT,
    }  # fmt: skip
    words, few = (filled("card.md.j2", **values, few=few).strip() for few in (False, True))
    showings = [_showing(showing, sheet) for showing in content.demonstrations]
    first = min((showing.starts.date() for showing in content.demonstrations if showing.held), default=None)
    written = sheet.date or first
    return Card(
        sheet.name, sheet.title, content.folder, sheet.by, sheet.club, words, few, facets_of(content), tuple(showings),
        plain(sheet.summary), written.isoformat() if written else "",
        tuple((erratum.day.isoformat(), plain((erratum.wrong,))) for erratum in sheet.errata),
        (*sheet.formerly[-1:], sheet.name)[0],
    )  # fmt: skip


def _showing(showing: PublicDemonstration, sheet: Sheet) -> Showing:
    """One demonstration as the shared pages, the feeds and the calendar tell of it."""
    words = filled("showing.md.j2", showing=demonstration_words(showing, sheet), sheet=sheet)
    return Showing(
        state_of(showing), showing.starts.timestamp(), words, showing.name, sheet.title, showing.starts.isoformat(),
        showing.ends.isoformat() if showing.ends else "", showing.zone, showing.club, showing.place, showing.how,
        showing.cancelled,
    )  # fmt: skip


def card_script(card: Card) -> str:
    """A card's words as the browsing page's script takes them in."""
    return f"handoutsFind.card({json.dumps([card.name, card.few], ensure_ascii=False)});\n"


def _on_the_card(content: PageContent) -> tuple[Picture, ...]:
    """The photograph on a piece's card: its first, where it has neither solid nor drawing."""
    drawn = content.hero is not None or content.pictures.finished is not None
    return () if drawn else content.sheet.pictures[:1]


def _card_photograph(picture: Picture, sheet: Sheet) -> bytes:
    content, _, _ = for_paper(picture, file=sheet.file, most_px=_CARD_PX)
    return content


def project_pages(content: PageContent) -> list[Output]:
    """A project's pages, what they work its numbers out from, its solids and its own pictures."""
    home, sheet = f"projects/{content.sheet.name}", content.sheet
    return [
        *pages_of(content),
        *([Output(f"{home}/{sheet.name}-own-size.js", own_size_script(sheet).encode())] if sheet.sizes else []),
        *solid_files(content),
        *(Output(f"{home}/{picture.published}", published(picture, file=sheet.file)) for picture in sheet.photographs),
        *(Output(f"{home}/{picture.card}", _card_photograph(picture, sheet)) for picture in _on_the_card(content)),
    ]


def facts_of(sheet: Sheet) -> Iterator[tuple[str, str, str]]:
    """What a reader wants to know at a glance: what it is, its value, and the size's name if it is one."""
    first = next((size for size in sheet.sizes if kind_of(size.value) is Kind.LENGTH), None)
    if first is not None:
        yield first.says, str(first.printed), first.name
    for label, minutes in times(sheet):
        yield label, clock(minutes), ""
    if sheet.level:
        yield tr("Level"), tr(sheet.level), ""
    if sheet.woods:
        yield tr("Wood") if len(sheet.woods) == 1 else tr("Woods"), phrases_in_a_row(sheet.told_woods), ""
    if sheet.techniques:
        yield tr("Techniques"), in_a_row(sheet.techniques), ""
    if sheet.by:
        yield tr("Shown by"), f"{sheet.by}, {sheet.club}" if sheet.club else sheet.by, ""
