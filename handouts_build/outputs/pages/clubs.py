"""Pages of the clubs of an archive: what each is, its evenings, its pieces, and its feed.

This module owns them. A club is among the clubs of a piece that is its own or was shown to it; one that is only named
by a piece, and not among the archive's `clubs`, has the plain page of its facet and no other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markupsafe import Markup

from handouts_build.language import tr
from handouts_build.outputs.output import AT, Address, Card, Output, Showing
from handouts_build.outputs.pages.browsing import slug_of, titles_of, values_of
from handouts_build.outputs.pages.filling import filled, page
from handouts_build.sheet.clubs import COLORS, Club

__all__ = ["club_pages", "way_to"]

_HOME = "clubs"
_SHOWN = 12
"""Pieces on a club's page; the others are on the page of the facet."""


def way_to(club: Club) -> str:
    """A club's page, from the site's first page."""
    return f"{_HOME}/{slug_of(club.name.casefold())}.md"


def club_pages(clubs: Sequence[Club], cards: Sequence[Card], *, address: Address) -> Iterator[Output]:
    """A page for each club.

    Args:
        clubs: Those of the archive.
        cards: All pieces.
        address: Where the archive is published.
    """
    found = {value.says.casefold(): value for value in values_of(cards)["club"]}
    titles = titles_of(cards)
    for club in clubs:
        value = found.get(club.name.casefold())
        own = [cards[index] for index in value.cards] if value else []
        evenings = [
            showing for card in cards for showing in card.showings if showing.club.casefold() == club.name.casefold()
        ]
        text = filled(
            "club.md.j2", club=club, tint=_tint(club), titles=titles, count=len(own),
            listed=sorted(own, key=lambda card: titles[card.name].casefold())[:_SHOWN],
            all_of_it=f"../find/club-{value.slug}.md" if value and len(cards) > 1 else "",
            feed=f"../feeds/club-{value.slug}.xml" if value and address.site_url else "",
            lists=list(_by_state(evenings)), AT=AT, at="../" * (2 if address.ending == "/" else 1),
        )  # fmt: skip
        yield page(way_to(club), text)


def _by_state(evenings: Sequence[Showing]) -> Iterator[tuple[str, list[Markup]]]:
    """The club's evenings: those that are ahead, next first, and those that were, last first."""
    for label, state, turned in ((tr("Announced"), "announced", 1), (tr("Held"), "held", -1)):
        chosen = [showing for showing in evenings if showing.state == state]
        ordered = sorted(chosen, key=lambda showing: turned * showing.at)
        if ordered:
            # Links of theirs go from the site's first page.
            yield label, [Markup(showing.words.replace("](projects/", "](../projects/")) for showing in ordered]


def _tint(club: Club) -> Markup:
    """The club's color as a style; empty where it has none."""
    if not club.color:
        return Markup()
    light, dark = COLORS[club.color]
    return Markup(f' style="--hb-club: var(--hb-light, {light}) var(--hb-dark, {dark})"')
