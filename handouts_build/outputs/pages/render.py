"""Pages: a home page with a card for each project, and one page for each project, as Markdown.

This module owns which pages there are and the facts that stand on them. Their form
is in `templates/*.md.j2`, author text passes through `pages.text`, and looks are in
the style sheet. Markdown keeps the headings and links, so that any site engine can
list and follow them; everything else is HTML that no engine changes.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, partial
from typing import Any

from handouts_build.figures.figure import Figure
from handouts_build.outputs.citations import Citations
from handouts_build.outputs.output import Card, Output, Showing
from handouts_build.outputs.page_content import PageContent
from handouts_build.outputs.pages.card_drawing import emblem
from handouts_build.outputs.pages.own_size_panel import line_setting, main_groups, own_panel
from handouts_build.outputs.pages.showings import demonstration_words, heading_of, state_of
from handouts_build.outputs.pages.solid_files import models, solid_files
from handouts_build.outputs.pages.text import cell, framed, heading, lines, plain, prose, setting, yaml_text
from handouts_build.outputs.photographs import published
from handouts_build.outputs.words import (
    BOUNDS,
    LAST_WORD,
    LEVELS,
    REMEDY,
    SHOW_WORDS,
    SIDES,
    SIDES_SAY,
    SIGNALS,
    UNIT_NAMES,
    cut_from,
    times,
)
from handouts_build.paper import PROJECT, SIZES
from handouts_build.quantities import Kind, kind_of
from handouts_build.sheet import Level, SafetyBox, Sheet, Size

__all__ = ["card", "project_pages", "shared_pages"]

_LIKENESS = {"sphere by facets", "profile"}
"""Chapters whose drawings look like the piece."""


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
    home = _filled("home.md.j2", clubs=clubs, cards=cards, announced=announced, shown=bool(every))
    made = [_page("index.md", home)]
    if lists:
        made.append(_page("demonstrations.md", _filled("demonstrations.md.j2", lists=lists)))
    return made


def card(content: PageContent) -> Card:
    """What the shared pages say of a project."""
    from handouts_build.figures import themed

    sheet = content.sheet
    hero = _hero(content)
    drawing = themed(emblem(hero.svg)) if hero is not None else ""
    words = _filled(
        "card.md.j2", sheet=sheet, drawing=drawing, shot=content.pictures.finished, facts=list(_facts(sheet))
    )
    showings = (
        Showing(state_of(showing), showing.starts.timestamp(), _filled("showing.md.j2", showing=words, sheet=sheet))
        for showing, words in ((showing, demonstration_words(showing, sheet)) for showing in content.demonstrations)
    )
    return Card(sheet.club, words, tuple(showings))


def project_pages(content: PageContent) -> list[Output]:
    """A project's page, its solids and its own pictures."""
    home, sheet = f"projects/{content.sheet.name}", content.sheet
    return [
        _page(f"{home}.md", _project(content)),
        *solid_files(content),
        *(Output(f"{home}/{picture.published}", published(picture, file=sheet.file)) for picture in sheet.pictures),
    ]


@cache
def _templates() -> Any:
    """The templates, ready to fill: everything put in is escaped unless it is markup already."""
    import jinja2

    found = jinja2.Environment(
        loader=jinja2.PackageLoader("handouts_build.outputs.pages"),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    found.filters.update(
        t=setting,
        prose=prose,
        cell=cell,
        heading=heading,
        lines=lines,
        yaml_text=yaml_text,
        plain=plain,
        clock=_clock,
        bounds=_bounds,
    )
    found.globals.update(
        SHOW_WORDS=SHOW_WORDS,
        SIDES=SIDES,
        SIDES_SAY=SIDES_SAY,
        SIGNALS=SIGNALS,
        LAST_WORD=LAST_WORD,
        LEVELS=LEVELS,
        REMEDY=REMEDY,
        UNIT_NAMES=UNIT_NAMES,
        cut_from=cut_from,
    )
    return found


def _filled(name: str, **values: Any) -> str:
    """A template filled, with no more than one empty line in a row."""
    text: str = _templates().get_template(name).render(**values)
    return re.sub(r"\n{3,}", "\n\n", text)


def _clock(minutes: float) -> str:
    """Minutes as a person says them."""
    hours, rest = divmod(round(minutes), 60)
    return " ".join(
        part for part in (f"{hours} h" if hours else "", f"{rest} min" if rest or not hours else "") if part
    )


def _page(path: str, text: str) -> Output:
    """A page of Markdown."""
    return Output(path, framed(text).encode())


def _project(content: PageContent) -> str:
    """One project's page."""
    from handouts_build.figures import themed

    sheet = content.sheet
    sources = Citations()
    shown = {name for step in sheet.steps for name in step.figures}
    first_seen: set[str] = set()
    beside: dict[int, list[Figure]] = {}
    for step in sheet.steps:
        # A drawing stands once, beside the first step that calls for it.
        beside[step.number] = [
            figure for figure in content.figures if figure.group in step.figures and figure.name not in first_seen
        ]
        first_seen.update(figure.name for figure in beside[step.number])
    return _filled(
        "project.md.j2",
        sheet=sheet,
        hero=_hero(content),
        facts=list(_facts(sheet)),
        findings=[finding for level in (Level.MIND, Level.NOTE) for finding in sheet.told if finding.level is level],
        careful=[step.number for step in sheet.steps if step.care or step.new_boxes],
        again=_again(sheet),
        needs=list(_needs(sheet)),
        groups=main_groups(sheet),
        stations=[group for group in sheet.groups if group.shape is not None and group.shape.stations],
        beside=beside,
        elsewhere={
            group.name: [
                figure for figure in content.figures if figure.group == group.name and figure.group not in shown
            ]
            for group in sheet.groups
        },
        workings=[group for group in sheet.groups if group.dimensions or group.remarks],
        sources=sources,
        papers=list(_papers(content, sheet.name)),
        shown=[demonstration_words(showing, content.sheet) for showing in content.demonstrations],
        shown_heading=heading_of(content.demonstrations),
        data=content.data.removeprefix("projects/"),
        leads=_leads(sheet),
        own=own_panel(sheet),
        line=partial(line_setting, sheet),
        ready=[(ready, main_groups(ready.sheet), list(_papers(content, ready.name))) for ready in sheet.ready],
        themed=themed,
        turned=content.pictures,
        at=content.at,
        whole=[(fact.says, str(fact.printed), "") for fact in sheet.whole.facts] if sheet.whole else [],
        models=list(models(content)),
    )


def _hero(content: PageContent) -> Figure | None:
    """The drawing that stands for the piece: of a ball or a profile before anything else, for they look like it."""
    like = {group.name for group in content.sheet.groups if group.chapter in _LIKENESS}
    return next(iter((*(figure for figure in content.figures if figure.group in like), *content.figures)), None)


def _again(sheet: Sheet) -> dict[int, list[tuple[SafetyBox, int]]]:
    """For each step, the boxes that an earlier step shows in full, with that step's number."""
    full = {name: step.number for step in sheet.steps for name in step.new_boxes}
    return {
        step.number: [(box, full[box.id]) for box in step.boxes if box.id not in step.new_boxes and box.id in full]
        for step in sheet.steps
    }


def _bounds(size: Size) -> str:
    """What a size may be, as HTML; empty where anything goes."""
    told = {word: bound.lead for word, bound in (("least", size.least), ("most", size.most)) if bound is not None}
    return setting(BOUNDS["both" if len(told) == 2 else next(iter(told))].format(**told)) if told else ""


def _leads(sheet: Sheet) -> tuple[str, str]:
    """What the two columns of values are called, the unit that leads first."""
    lead, other = ("in", "mm") if sheet.rule.lead == "in" else ("mm", "in")
    return UNIT_NAMES[lead], UNIT_NAMES[other]


def _facts(sheet: Sheet) -> Iterator[tuple[str, str, str]]:
    """What a reader wants to know at a glance: what it is, its value, and the size's name if it is one."""
    first = next((size for size in sheet.sizes if kind_of(size.value) is Kind.LENGTH), None)
    if first is not None:
        yield first.says, str(first.printed), first.name
    for label, minutes in times(sheet):
        yield label, _clock(minutes), ""
    if sheet.level:
        yield "Level", sheet.level, ""
    if sheet.woods:
        yield "Wood" if len(sheet.woods) == 1 else "Woods", "; ".join(sheet.woods), ""
    if sheet.techniques:
        yield "Techniques", ", ".join(sheet.techniques), ""
    if sheet.by:
        yield "Shown by", f"{sheet.by}, {sheet.club}" if sheet.club else sheet.by, ""


def _needs(sheet: Sheet) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Lists of what is needed beside the wood."""
    if sheet.tools:
        yield "Tools", sheet.tools
    if sheet.supplies:
        yield "Supplies", sheet.supplies


@dataclass(frozen=True)
class _Offer:
    """One paper in all its sizes."""

    title: str
    says: str
    files: tuple[tuple[str, str], ...]
    """Size of sheet and path from the project's page."""


def _papers(content: PageContent, name: str) -> Iterator[_Offer]:
    """The papers of a project or of one of its ready sizes, each with the sizes of sheet it comes in.

    Args:
        content: The project.
        name: Its name, or that of the ready size.
    """
    home = f"projects/{content.sheet.name}"
    for paper in PROJECT.values():
        files = {size.title: f"{home}/{paper.file(size.name, name)}" for size in SIZES.values()}
        found = tuple(
            (title, path.removeprefix("projects/")) for title, path in files.items() if path in content.papers
        )
        if found:
            yield _Offer(paper.title, paper.says, found)
