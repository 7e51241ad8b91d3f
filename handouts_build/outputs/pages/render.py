"""Pages: a home page with a card for each project, and the pages of each project, as Markdown.

This module owns the pages that belong to no single project, and what goes out with a
project's own. Their form is in `templates/*.md.j2`, author text passes through
`pages.text`, and looks are in the style sheet. Markdown keeps the headings and links, so
that any site engine can list and follow them; everything else is HTML that no engine
changes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handouts_build.outputs.output import Card, Output, Showing
from handouts_build.outputs.page_content import PageContent
from handouts_build.outputs.pages.card_drawing import emblem
from handouts_build.outputs.pages.filling import clock, filled, page
from handouts_build.outputs.pages.own_size import own_size_script
from handouts_build.outputs.pages.project import pages_of
from handouts_build.outputs.pages.showings import demonstration_words, state_of
from handouts_build.outputs.pages.solid_files import solid_files
from handouts_build.outputs.photographs import for_paper, published
from handouts_build.outputs.words import times
from handouts_build.quantities import Kind, kind_of
from handouts_build.sheet import Picture, Sheet

__all__ = ["card", "project_pages", "shared_pages"]

_CARD_PX = 640
"""Longest side of a photograph on a card."""


def shared_pages(cards: Sequence[Card]) -> list[Output]:
    """The pages that belong to no single project.

    Args:
        cards: The projects, as `card` makes them.
    """
    clubs = list(dict.fromkeys(card.club for card in cards if card.club))
    every = sorted((showing for card in cards for showing in card.showings), key=lambda showing: showing.at)
    announced, held, cancelled = (
        [showing for showing in every if showing.state == state] for state in ("announced", "held", "cancelled")
    )
    titled = (("Announced", announced), ("Held", held[::-1]), ("Cancelled", cancelled[::-1]))
    lists = [(title, showings) for title, showings in titled if showings]
    home = filled("home.md.j2", clubs=clubs, cards=cards, announced=announced, shown=bool(every))
    made = [page("index.md", home)]
    if lists:
        made.append(page("demonstrations.md", filled("demonstrations.md.j2", lists=lists)))
    return made


def card(content: PageContent) -> Card:
    """What the shared pages say of a project."""
    from handouts_build.figures import themed

    sheet = content.sheet
    drawn = content.hero
    drawing = themed(emblem(drawn.svg)) if drawn is not None else ""
    words = filled(
        "card.md.j2", sheet=sheet, drawing=drawing, shot=content.pictures.finished, facts=list(_facts(sheet))
    )
    showings = (
        Showing(state_of(showing), showing.starts.timestamp(), filled("showing.md.j2", showing=words, sheet=sheet))
        for showing, words in ((showing, demonstration_words(showing, sheet)) for showing in content.demonstrations)
    )
    return Card(sheet.club, words, tuple(showings))


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


def _facts(sheet: Sheet) -> Iterator[tuple[str, str, str]]:
    """What a reader wants to know at a glance: what it is, its value, and the size's name if it is one."""
    first = next((size for size in sheet.sizes if kind_of(size.value) is Kind.LENGTH), None)
    if first is not None:
        yield first.says, str(first.printed), first.name
    for label, minutes in times(sheet):
        yield label, clock(minutes), ""
    if sheet.level:
        yield "Level", sheet.level, ""
    if sheet.woods:
        yield "Wood" if len(sheet.woods) == 1 else "Woods", "; ".join(sheet.woods), ""
    if sheet.techniques:
        yield "Techniques", ", ".join(sheet.techniques), ""
    if sheet.by:
        yield "Shown by", f"{sheet.by}, {sheet.club}" if sheet.club else sheet.by, ""
