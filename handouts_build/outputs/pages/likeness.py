"""What to make before a piece, after it, and what is like it: pieces that share techniques, by level.

This module owns what counts as like it and what is said of it. It stands on a piece's page, and
follows from all the others: so it is put there when they are known.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence

from handouts_build.language import in_a_row, phrases_in_a_row, tr, tr_later
from handouts_build.outputs.output import Card
from handouts_build.outputs.pages.browsing import Value, titles_of, values_of
from handouts_build.outputs.pages.facets import SKILLS
from handouts_build.outputs.pages.filling import filled

__all__ = ["PLACE", "likenesses"]

PLACE = "<!--hb-like-->"
"""Stands on a piece's page where this is put."""

_BEFORE, _LIKE, _AFTER = tr_later("Before this, try"), tr_later("Like it"), tr_later("After this, try")
_MOST = 3
"""Pieces in one list."""
_OF_A_KIND = 0.25
"""What being of one kind counts beside a technique that half of the pieces have."""
_LINKED = ("kind", "technique", "wood")


def likenesses(cards: Sequence[Card]) -> dict[str, str]:
    """What a piece's page says of the others, by the piece's name: Markdown; empty where there is nothing to say.

    Args:
        cards: All pieces.
    """
    if len(cards) < 2:
        return {card.name: "" for card in cards}
    titles, values = titles_of(cards), values_of(cards)
    linked: dict[int, list[Value]] = {}
    having: dict[str, list[int]] = {}
    for name in _LINKED:
        for value in values[name]:
            for index in value.cards:
                if len(value.cards) > 1:
                    linked.setdefault(index, []).append(value)
            if name == "technique":
                having[value.says.casefold()] = list(value.cards)
    kinds = {value.says.casefold(): value.cards for value in values["kind"]}
    made: dict[str, str] = {}
    for index, card in enumerate(cards):
        lists = list(_lists(index, cards, having, kinds))
        values_here = linked.get(index, [])
        words = filled("like.md.j2", lists=lists, titles=titles, values=values_here) if lists or values_here else ""
        made[card.name] = words
    return made


def _lists(
    index: int, cards: Sequence[Card], having: dict[str, list[int]], kinds: dict[str, tuple[int, ...]]
) -> Iterator[tuple[str, list[tuple[Card, str]]]]:
    """Each list's label, and its pieces with what they share."""
    card = cards[index]
    score: dict[int, float] = defaultdict(float)
    shared: dict[int, list[str]] = {}
    for technique in card.facets.get("technique", ()):
        others = having.get(technique.casefold(), [])
        for other in others:
            # What few pieces teach says more than what most do.
            score[other] += math.log1p(len(cards) / len(others))
            shared.setdefault(other, []).append(technique)
    for kind in card.facets.get("kind", ()):
        for other in kinds.get(kind.casefold(), ()):
            score[other] += _OF_A_KIND
    score.pop(index, None)
    ranked = sorted(score, key=lambda other: (-score[other], cards[other].name))
    level = _level(card)
    groups: dict[str, list[int]] = {tr(label): [] for label in (_BEFORE, _LIKE, _AFTER)}
    for other in ranked:
        theirs = _level(cards[other])
        apart = 0 if level is None or theirs is None else theirs - level
        label = tr(_LIKE if apart == 0 else _BEFORE if apart < 0 else _AFTER)
        if len(groups[label]) < _MOST:
            groups[label].append(other)
    for label, found in groups.items():
        if found:
            yield label, [(cards[other], _why(cards[other], shared.get(other, ()))) for other in found]


def _level(card: Card) -> int | None:
    found = card.facets.get("level", ())
    return SKILLS.index(found[0]) if found and found[0] in SKILLS else None


def _why(card: Card, shared: Sequence[str]) -> str:
    """What the two have in common, and whom the other suits."""
    phrases = [*card.facets.get("level", ()), in_a_row(shared) or in_a_row(card.facets.get("kind", ()))]
    return phrases_in_a_row(filter(None, phrases))
