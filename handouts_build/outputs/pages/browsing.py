"""Pages to find a piece by: one of all facets, a plain page for each of their values, and one of all pieces.

This module owns which pages there are, how they are paged, and what the browsing page's script
works with. Each page stands by itself: it works without a script and from a disk. What of a
piece answers to a facet is for `facets`.
"""

from __future__ import annotations

import hashlib
import json
import re
import unicodedata
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from handouts_build.language import tr, tr_about, tr_count
from handouts_build.outputs.output import AT, Card, Output
from handouts_build.outputs.pages.facets import FACETS, Facet, month_of
from handouts_build.outputs.pages.filling import filled, page

__all__ = ["FIND", "Value", "browsing_pages", "slug_of", "titles_of", "values_of"]

FIND = "find.md"
"""The page of all facets."""
_HOME = "find"
_SHOWN = 12
"""Values of a facet that the page of all facets names; the others are on a page of the facet's own."""
_ON_A_PAGE = 48
"""Cards on a page."""


@dataclass(frozen=True)
class Value:
    """One value of a facet, and the pieces that have it."""

    facet: str
    says: str
    """As it is kept: what is looked for and what addresses follow from."""
    shown: str
    """As it is read."""
    slug: str
    """As addresses have it."""
    cards: tuple[int, ...]
    """Which, from 0."""


def titles_of(cards: Sequence[Card]) -> dict[str, str]:
    """What each piece is called among the others, by its name: those of one title say what tells them apart.

    Args:
        cards: All pieces.
    """
    alike: dict[str, list[Card]] = {}
    for card in cards:
        alike.setdefault(card.title.casefold(), []).append(card)
    titles: dict[str, str] = {}
    for same in alike.values():
        written = Counter(name for card in same for name in set(_longer(card)))
        for card in same:
            apart = (name for name in _longer(card) if written[name] == 1)
            titles[card.name] = card.title if len(same) == 1 else next(apart, card.title)
    return titles


def _longer(card: Card) -> Iterator[str]:
    """What a piece may be called beside one of its own title, the shortest first."""
    folder = card.folder.replace("/", ", ")
    if card.by:
        yield tr("{title}, by {by}", title=card.title, by=card.by)
    if card.club:
        yield f"{card.title}, {card.club}"
    if folder:
        yield f"{card.title} ({folder})"
    if card.by and folder:
        yield tr("{title}, by {by} ({folder})", title=card.title, by=card.by, folder=folder)


def values_of(cards: Sequence[Card]) -> dict[str, tuple[Value, ...]]:
    """The values of each facet with the pieces that have it, in the order they are offered.

    Args:
        cards: All pieces.
    """
    made: dict[str, tuple[Value, ...]] = {}
    for facet in FACETS:
        having: dict[str, list[int]] = {}
        written: dict[str, str] = {}
        for index, card in enumerate(cards):
            for says in card.facets.get(facet.name, ()):
                # Two hands may write one word in two ways; the first is shown.
                written.setdefault(says.casefold(), says)
                pieces = having.setdefault(says.casefold(), [])
                if pieces[-1:] != [index]:
                    pieces.append(index)
        slugs: dict[str, str] = {}
        for folded in sorted(having):
            slug = slug_of(folded)
            slugs[folded] = slug if slug not in slugs.values() else f"{slug}-{_digest(folded)}"
        found = [
            Value(facet.name, written[key], facet.shown(written[key]), slugs[key], tuple(pieces))
            for key, pieces in having.items()
        ]
        made[facet.name] = tuple(sorted(found, key=lambda value: _place(facet, value)))
    return made


def _place(facet: Facet, value: Value) -> tuple[int, int, str]:
    """Where a value stands among those of its facet."""
    if value.says in facet.order:
        return facet.order.index(value.says), 0, ""
    if facet.name == "when":
        # What is next stands first.
        return len(facet.order), month_of(value.says), value.says.casefold()
    newest = -int(value.says) if facet.name == "year" else 0
    return len(facet.order), newest or -len(value.cards), value.says.casefold()


def slug_of(folded: str) -> str:
    """Words as addresses have them.

    Args:
        folded: In small letters.
    """
    plain = unicodedata.normalize("NFKD", folded).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:60].strip("-") or _digest(folded)


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:6]


def browsing_pages(cards: Sequence[Card], *, ending: str) -> Iterator[Output]:
    """Every page to find a piece by, and what the browsing page's script works with; none of a single piece.

    Args:
        cards: All pieces.
        ending: How the address of a page ends: `/` or `.html`.
    """
    if len(cards) < 2:
        return
    values, titles = values_of(cards), titles_of(cards)
    offered = [facet for facet in FACETS if _tells(values[facet.name], len(cards))]
    shown = [
        (facet, values[facet.name][:_SHOWN], len(values[facet.name]) if len(values[facet.name]) > _SHOWN else 0)
        for facet in offered
    ]
    # The page's own address is a folder's, or that of a file beside the folder.
    find = filled("find.md.j2", facets=shown, count=len(cards), at="../" if ending == "/" else "", ending=ending)
    yield page(FIND, find)
    yield Output(f"{_HOME}/pieces.js", _for_the_script(cards, titles, values, offered).encode())
    for facet, _, every in shown:
        if every:
            by_name = sorted(values[facet.name], key=lambda value: value.says.casefold())
            yield page(f"{_HOME}/{facet.name}.md", filled("facet.md.j2", facet=facet, values=by_name))
    order = sorted(range(len(cards)), key=lambda index: titles[cards[index].name].casefold())
    places = {index: place for place, index in enumerate(order)}
    lists = [("all", tr("All pieces"), tr("{cards} by name", cards=_pieces(len(cards))), order)]
    for facet in FACETS:
        for value in values[facet.name]:
            says = tr(
                "{facet}: {value}, {pieces}", facet=tr(facet.title), value=value.shown, pieces=_pieces(len(value.cards))
            )
            title = value.shown[:1].upper() + value.shown[1:]
            lists.append((f"{facet.name}-{value.slug}", title, says, sorted(value.cards, key=places.__getitem__)))
    for name, title, says, chosen in lists:
        yield from _paged(name, title, says, [cards[index] for index in chosen], titles, ending)


def _tells(values: Sequence[Value], count: int) -> bool:
    """Whether a facet tells one piece from another."""
    return any(len(value.cards) < count for value in values)


def _pieces(count: int) -> str:
    return tr_count("1 piece", "{count} pieces", count)


def _paged(
    name: str, title: str, says: str, cards: Sequence[Card], titles: Mapping[str, str], ending: str
) -> Iterator[Output]:
    """The pages of one list of pieces."""
    pages = -(-len(cards) // _ON_A_PAGE)
    for number in range(1, pages + 1):
        source = f"{_HOME}/{name}" if number == 1 else f"{_HOME}/{name}/{number}"
        first, below = f"{name}.md", f"{name}/"
        up = "" if number == 1 else "../"
        before, after = tr_about("the page before", "Before"), tr_about("the page after", "Next")
        turns = [
            (label, f"{up}{first}" if to == 1 else f"{up}{below}{to}.md")
            for label, to in ((before, number - 1), (after, number + 1))
            if 1 <= to <= pages
        ]
        text = filled(
            "pieces.md.j2", title=title, says=says, number=number, pages=pages, turns=turns, up=up, titles=titles,
            listed=cards[(number - 1) * _ON_A_PAGE : number * _ON_A_PAGE], AT=AT,
            at="../" * (source.count("/") + (1 if ending == "/" else 0)),
        )  # fmt: skip
        yield page(f"{source}.md", text)


def _for_the_script(
    cards: Sequence[Card], titles: Mapping[str, str], values: Mapping[str, Sequence[Value]], offered: Sequence[Facet]
) -> str:
    """What the browsing page's script is told: the values, and each piece with those it has, by their places."""
    having: list[list[list[int]]] = [[[] for _ in offered] for _ in cards]
    for at, facet in enumerate(offered):
        for place, value in enumerate(values[facet.name]):
            for index in value.cards:
                having[index][at].append(place)
    order = sorted(range(len(cards)), key=lambda index: titles[cards[index].name].casefold())
    entries = {
        "facets": [
            {
                "name": facet.name,
                "title": tr(facet.title),
                "several": facet.several,
                "values": [[value.slug, value.shown] for value in values[facet.name]],
            }
            for facet in offered
        ],
        "pieces": [[cards[index].name, titles[cards[index].name], having[index]] for index in order],
    }
    return f"handoutsFind.receive({json.dumps(entries, ensure_ascii=False, separators=(',', ':'))});\n"
