"""The papers of a project as PDF.

This module owns that each is filled and set; which there are stands in `handouts_build.paper`. What each
shows is in a module of its own, such as `papers.short`, its looks in `templates/*.typ`, and
the typesetting in `papers.typeset`. Nothing is written to disk here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from handouts_build.figures.figure import Figure
from handouts_build.figures.shot import Shot
from handouts_build.outputs.papers.booklet import booklet
from handouts_build.outputs.papers.dimensions import dimensions_data
from handouts_build.outputs.papers.full import full_data
from handouts_build.outputs.papers.measuring import Measure
from handouts_build.outputs.papers.short import short_data
from handouts_build.outputs.papers.template_sheets import has_templates, templates_data
from handouts_build.outputs.papers.typeset import compiled, measured
from handouts_build.outputs.papers.workings import has_workings, workings_data
from handouts_build.paper import PROJECT, SIZES, Form, Paper
from handouts_build.sheet import Sheet

__all__ = ["paper_names", "papers"]


def papers(
    sheet: Sheet,
    figures: Sequence[Figure],
    *,
    paper: str = "letter",
    page_url: str = "",
    shots: Mapping[int, Shot] = MappingProxyType({}),
    finished: Shot | None = None,
    handed: str = "",
    form: Form = Form.PLAIN,
) -> dict[str, bytes]:
    """Every paper of a project on one size of paper.

    Args:
        sheet: The project, worked out.
        figures: Its drawings, the print versions.
        paper: `letter` or `a4`.
        page_url: Address of the project's page on the site, for the QR code; empty for none.
        shots: Pictures of the solid, by the number of the step.
        finished: The picture of the finished piece, if it is carried as a solid.
        handed: At which demonstration they are handed out, for their foot; empty for none.
        form: How they are set; those that cannot be set so are left out.

    Returns:
        PDF bytes by file name, such as `lantern-handout-letter.pdf`. There are no
        templates where nothing in the project yields one.

    Raises:
        ProjectError: If the text has signs that the fonts lack.
    """
    size, large = SIZES[paper], form is Form.LARGE_PRINT

    def heights(name: str) -> Measure:
        return lambda data: measured(PROJECT[name].template, data, file=sheet.file)

    filled: dict[str, Callable[[], tuple[dict[str, Any], dict[str, str]]]] = {
        "handout": lambda: short_data(
            sheet, figures, size, heights("handout"), page_url=page_url, shots=shots, finished=finished, large=large
        ),
        "dimensions": lambda: dimensions_data(
            sheet, figures, size, heights("dimensions"), page_url=page_url, large=large
        ),
        "templates": lambda: templates_data(sheet, size),
        "handout-full": lambda: full_data(sheet, figures, size, shots, finished),
        "workings": lambda: (workings_data(sheet, size), {}),
    }
    made = {}
    for kind in _kinds(sheet, paper):
        if form in kind.forms:
            data, drawings = filled[kind.name]()
            pdf = compiled(kind.template, {**data, "handed": handed}, drawings, file=sheet.file)
            made[kind.file(paper, sheet.name, form)] = booklet(pdf) if form is Form.BOOKLET else pdf
    return made


def paper_names(sheet: Sheet, paper: str) -> tuple[str, ...]:
    """What the papers of a project are called, without typesetting them.

    Args:
        sheet: The project, worked out.
        paper: `letter` or `a4`.
    """
    return tuple(kind.file(paper, sheet.name) for kind in _kinds(sheet, paper))


def _kinds(sheet: Sheet, paper: str) -> Iterator[Paper]:
    """The papers that are made of a project: all but its handout only where something in it yields some."""
    yields = {
        "dimensions": lambda: bool(sheet.sizes or sheet.groups or sheet.parts),
        "templates": lambda: has_templates(sheet, SIZES[paper]),
        "handout-full": lambda: any(sheet.steps),
        "workings": lambda: has_workings(sheet),
    }
    for kind in PROJECT.values():
        if kind.word in sheet.papers and (kind.name not in yields or yields[kind.name]()):
            yield kind
