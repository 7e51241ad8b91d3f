"""The pages of one project: before, at the lathe, and afterwards.

This module owns which pages there are and the facts that stand on each: the first says
what the piece is and what it needs, one is for whoever stands at the lathe, and what is
asked afterwards has pages of its own. All are filled from one sheet. Their form is in
`templates/*.md.j2`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

from markupsafe import Markup

from handouts_build.figures.figure import Figure
from handouts_build.language import tr
from handouts_build.outputs.citations import Citations
from handouts_build.outputs.foremost import foremost
from handouts_build.outputs.output import Output
from handouts_build.outputs.page_content import PageContent
from handouts_build.outputs.pages.facets import facets_of, times_of
from handouts_build.outputs.pages.filling import clock, filled, page
from handouts_build.outputs.pages.likeness import PLACE
from handouts_build.outputs.pages.own_size_panel import line_setting, main_groups, own_panel
from handouts_build.outputs.pages.page_place import FIRST, LATHE, SHOWN, SIZES_PAGE, WORKINGS, PagePlace
from handouts_build.outputs.pages.showings import affected, demonstration_words, heading_of
from handouts_build.outputs.pages.solid_files import models
from handouts_build.outputs.pages.structured import events, how_to, picture_of
from handouts_build.outputs.words import UNIT_NAMES, set_times, times, waiting
from handouts_build.paper import PROJECT, SIZES
from handouts_build.sheet import Level, Paragraph, SafetyBox, Sheet, Step

__all__ = ["pages_of"]


def pages_of(content: PageContent) -> Iterator[Output]:
    """Every page of a project.

    Args:
        content: The project.
    """
    common = _common(content)
    has = _has(content.sheet)
    wanted = [(FIRST, "project.md.j2", _first(content))]
    if has["steps"]:
        wanted += [(LATHE, "lathe.md.j2", _at_the_lathe(content))]
    if has["numbers"]:
        wanted += [(SIZES_PAGE, "sizes.md.j2", _sizes(content))]
    if content.demonstrations:
        wanted += [(SHOWN, "shown.md.j2", {"data_of_it": events(content), "image": picture_of(content)})]
    # Last, for it lists the sources that the others name.
    if has["workings"]:
        wanted += [(WORKINGS, "workings.md.j2", _workings(content))]
    for name, template, values in wanted:
        place = PagePlace(content.sheet.name, name, folders=content.at == "")
        ways = {"place": place, "way": place.to, "link": place.link, "at": place.files, "source_at": place.source}
        yield page(place.path, filled(template, **common, **ways, **values))


def _has(sheet: Sheet) -> dict[str, bool]:
    """What there is of a project: a write-up of words and photographs alone has no more than its first page."""
    numbers = bool(sheet.sizes or sheet.groups)
    return {"steps": any(sheet.steps), "numbers": numbers, "workings": numbers or sheet.whole is not None}


def _common(content: PageContent) -> dict[str, Any]:
    """What every page of a project may ask for."""
    from handouts_build.figures import themed

    sheet = content.sheet
    lead, other = ("in", "mm") if sheet.rule.lead == "in" else ("mm", "in")
    return {
        "sheet": sheet,
        "has": _has(sheet),
        "own_sizes": bool(sheet.sizes) and not content.for_good,
        "sources": Citations(),
        "origin": partial(_origin, sheet),
        "leads": (tr(UNIT_NAMES[lead]), tr(UNIT_NAMES[other])),
        "line": partial(line_setting, sheet),
        "themed": themed,
        "turned": content.pictures,
        "shown": [demonstration_words(showing, sheet) for showing in content.demonstrations],
        "shown_heading": heading_of(content.demonstrations),
        "FIRST": FIRST, "LATHE": LATHE, "SIZES_PAGE": SIZES_PAGE, "WORKINGS": WORKINGS, "SHOWN": SHOWN,
    }  # fmt: skip


def _origin(sheet: Sheet, name: str) -> tuple[str, str]:
    """The page and the place on it that tell where a value comes from: its working, or the field it is chosen in.

    Args:
        sheet: The project, worked out.
        name: The value's full name.
    """
    if any(size.name == name for size in sheet.sizes):
        return SIZES_PAGE, f"own-{name}"
    if any(dimension.name == name for dimension in sheet.dimensions):
        return WORKINGS, f"working-{name}"
    return WORKINGS, f"given-{name}"


def _first(content: PageContent) -> dict[str, Any]:
    """What the piece's own page says."""
    sheet = content.sheet
    return {
        "LIKE": Markup(PLACE),
        "times": times_of(facets_of(content)),
        "affected": affected,
        "data_of_it": how_to(content),
        "image": picture_of(content),
        "hero": content.hero,
        "facts": list(_glance(sheet)),
        "findings": [finding for level in (Level.MIND, Level.NOTE) for finding in sheet.told if finding.level is level],
        "careful": [step.number for step in sheet.every_step if step.care or step.new_boxes],
        "needs": list(_needs(sheet)),
        "papers": list(_papers(content, sheet.name)),
        "data": content.data.removeprefix(f"projects/{sheet.name}/"),
    }


def _glance(sheet: Sheet) -> Iterator[tuple[str, str, str]]:
    """What a reader wants to know before all else, beside the wood, each with the names of the counts it rests on."""
    counted = " ".join(dimension.name for dimension in sheet.dimensions if dimension.name.endswith(".count"))
    for label, minutes in times(sheet):
        yield label, clock(minutes), counted
    for label, each, setup in set_times(sheet):
        once = tr("{each}, after {setup} of setting up once", each=clock(each), setup=clock(setup))
        yield label, once if setup else clock(each), counted
    if wait := waiting(sheet):
        yield tr("Waiting besides"), wait, ""
    if sheet.level:
        yield tr("Level"), tr(sheet.level), ""


def _at_the_lathe(content: PageContent) -> dict[str, Any]:
    """What the page at the lathe says of each step."""
    first_seen: set[str] = set()
    beside: dict[int, list[Figure]] = {}
    most: dict[int, SafetyBox | Paragraph | None] = {}
    seen: set[str] = set()
    for step in content.sheet.every_step:
        # A drawing stands once, at the first step that calls for it.
        beside[step.number] = [
            figure for figure in content.figures if figure.group in step.figures and figure.name not in first_seen
        ]
        first_seen.update(figure.name for figure in beside[step.number])
        most[step.number] = chosen = foremost(step, seen)
        if isinstance(chosen, SafetyBox):
            seen.add(chosen.id)
    return {"beside": beside, "most": most, "rest": _rest(content.sheet, most), "again": _again(content.sheet, most)}


def _rest(
    sheet: Sheet, most: dict[int, SafetyBox | Paragraph | None]
) -> dict[int, tuple[list[SafetyBox], list[Paragraph]]]:
    """For each step, the cautions beside the one that matters most: boxes that are whole here, and the author's."""
    return {
        step.number: (
            [box for box in step.boxes if box.id in step.new_boxes and box is not most[step.number]],
            [care for care in step.care if care is not most[step.number]],
        )
        for step in sheet.every_step
    }


def _again(sheet: Sheet, most: dict[int, SafetyBox | Paragraph | None]) -> dict[int, list[tuple[SafetyBox, int]]]:
    """For each step, the boxes that only an earlier step shows in full, with that step's number."""
    full = {name: step.number for step in sheet.every_step for name in step.new_boxes}

    def earlier(step: Step) -> Iterator[tuple[SafetyBox, int]]:
        for box in step.boxes:
            if box.id not in step.new_boxes and box.id in full and box is not most[step.number]:
                yield box, full[box.id]

    return {step.number: list(earlier(step)) for step in sheet.every_step}


def _sizes(content: PageContent) -> dict[str, Any]:
    """What the page of all sizes says."""
    sheet = content.sheet
    return {
        "groups": main_groups(sheet),
        "own": own_panel(sheet),
        "ready": [(ready, main_groups(ready.sheet), list(_papers(content, ready.name))) for ready in sheet.ready],
    }


def _workings(content: PageContent) -> dict[str, Any]:
    """What the page of workings says."""
    sheet = content.sheet
    at_steps = {name for step in sheet.every_step for name in step.figures}
    return {
        "workings": [group for group in sheet.groups if group.dimensions or group.remarks],
        "stations": [group for group in sheet.groups if group.shape is not None and group.shape.stations],
        "stacks": [group for group in sheet.groups if group.stack is not None],
        "elsewhere": {
            group.name: [
                figure for figure in content.figures if figure.group == group.name and figure.group not in at_steps
            ]
            for group in sheet.groups
        },
        "whole": [(fact.says, str(fact.printed), "") for fact in sheet.whole.facts] if sheet.whole else [],
        "models": list(models(content)),
    }


def _needs(sheet: Sheet) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Lists of what is needed beside the wood."""
    if sheet.tools:
        yield tr("Tools"), sheet.tools
    if sheet.supplies:
        yield tr("Supplies"), sheet.supplies


@dataclass(frozen=True)
class _Offer:
    """One paper in all its sizes."""

    title: str
    says: str
    files: tuple[tuple[str, str], ...]
    """Size of sheet and path in the project's own folder."""


def _papers(content: PageContent, name: str) -> Iterator[_Offer]:
    """The papers of a project or of one of its ready sizes, each with the sizes of sheet it comes in.

    Args:
        content: The project.
        name: Its name, or that of the ready size.
    """
    home = f"projects/{content.sheet.name}/"
    for paper in PROJECT.values():
        files = {tr(size.title): f"{home}{paper.file(size.name, name)}" for size in SIZES.values()}
        found = tuple((title, path.removeprefix(home)) for title, path in files.items() if path in content.papers)
        if found:
            yield _Offer(tr(paper.title), tr(paper.says), found)
