"""Archives that know of each other: what one tells of itself as plain data, and the page of those it was given.

This module owns the form and the page. Nothing is fetched: a webmaster is sent another archive's file and puts it by.
How such a file is read and judged is for `records.friends`.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import date
from importlib import resources

from handouts_build.language import in_a_row, tr, tr_later
from handouts_build.outputs.output import Address, Card, Output
from handouts_build.outputs.pages.filling import filled, page
from handouts_build.outputs.words import day as said_day
from handouts_build.sheet.friends import FORM, Friend

__all__ = ["ARCHIVE", "FRIENDS_PAGE", "archive_json", "archive_schema", "friends_page"]

ARCHIVE, FRIENDS_PAGE = "archive.json", "friends.md"
_NAMELESS = tr_later("Woodturning projects")
"""What an archive is called that belongs to no club."""


def archive_schema() -> str:
    """The JSON schema that `archive_json` keeps to."""
    return (resources.files("handouts_build.outputs") / "archive.schema.json").read_text(encoding="utf-8")


def archive_json(cards: Sequence[Card], address: Address) -> bytes:
    """What an archive tells other archives of itself.

    Args:
        cards: Its pieces.
        address: Where it is published; it has an address.
    """
    clubs = list(dict.fromkeys(card.club for card in cards if card.club))
    pieces = [
        {
            "title": card.title,
            "address": address.of(f"projects/{card.name}{address.ending}"),
            "summary": card.summary,
            "kind": in_a_row(card.facets.get("kind", ())),
            "level": in_a_row(card.facets.get("level", ())),
            "by": card.by,
            "club": card.club,
            "date": card.date,
            "techniques": list(card.facets.get("technique", ())),
            "woods": list(card.facets.get("wood", ())),
        }
        for card in sorted(cards, key=lambda card: (card.title.casefold(), card.name))
    ]
    announced = sorted(
        ((card, showing) for card in cards for showing in card.showings if showing.state == "announced"),
        key=lambda both: (both[1].at, both[0].name),
    )
    evenings = [
        {
            "title": showing.title,
            "address": address.of(f"projects/{card.name}/shown{address.ending}#shown-{showing.name}"),
            "club": showing.club,
            "place": showing.place,
            "how": showing.how,
            "starts": showing.starts,
        }
        for card, showing in announced
    ]
    entries = {
        "format": FORM, "title": in_a_row(clubs)[:300] or tr(_NAMELESS), "address": address.of(""), "clubs": clubs,
        "pieces": pieces, "evenings": evenings,
    }  # fmt: skip
    return (json.dumps(entries, ensure_ascii=False, indent=1) + "\n").encode()


def friends_page(friends: Sequence[Friend], day: date) -> Output:
    """The page of other archives: links, and nothing of theirs that is loaded.

    Args:
        friends: The other archives.
        day: Today: what is earlier is over.
    """
    rows = [
        (friend, [(*evening[:3], said_day(evening[3])) for evening in friend.evenings if evening[3] >= day])
        for friend in friends
    ]
    return page(FRIENDS_PAGE, filled("friends.md.j2", friends=rows))
