"""What the own-size panel of a project's page shows before any script runs.

This module owns the panel's fields and the rows of a dimensions table. What the
script works with is in `pages.own_size`; its form is in `templates/own-size.md.j2`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup

from handouts_build.language import labelled
from handouts_build.outputs.pages.own_size import entry, marks
from handouts_build.outputs.pages.text import prose, setting
from handouts_build.sheet import Dimension, Group, Sheet, Size

__all__ = ["Panel", "SizeField", "line_setting", "main_groups", "own_panel"]


@dataclass(frozen=True)
class SizeField:
    """One size to type or to choose."""

    size: Size
    text: str
    """What stands in it at first."""
    options: tuple[tuple[str, str], ...]
    """The choices: what is typed for one, and how it reads."""


@dataclass(frozen=True)
class Panel:
    """The panel of one project."""

    fields: tuple[SizeField, ...]
    marks: tuple[tuple[str, str], ...]
    """The rule's marks in the leading unit: value and text."""
    mark: str
    """The value of the author's own."""
    templates: bool
    """Whether there is anything to cut out at one's own size."""


def own_panel(sheet: Sheet) -> Panel:
    """The panel of a project at its written sizes."""
    lead = sheet.rule.lead
    step = sheet.rule.inch if lead == "in" else sheet.rule.millimetre
    mark = f"{step.numerator}/{step.denominator}"
    fields = tuple(SizeField(size, entry(size.value, lead), tuple(_options(size, lead))) for size in sheet.sizes)
    steps = tuple(
        (f"{mark.numerator}/{mark.denominator}", f"{mark if lead == 'in' else f'{float(mark):g}'}\u00a0{lead}")
        for mark in marks(sheet, lead)
    )
    chapters = {group.chapter for group in sheet.groups}
    cut = bool(chapters & {"sphere by facets", "divisions"})
    return Panel(fields, steps, mark, cut)


def _options(size: Size, lead: str) -> Iterator[tuple[str, str]]:
    for value, text in zip(size.options, size.choices, strict=False):
        yield entry(value, lead), text


def line_setting(sheet: Sheet, text: str) -> Markup:
    """One line of author text as HTML, with the values in it that a page may work out again.

    Args:
        sheet: The project, worked out.
        text: The line; something may stand before the author's words and a colon.
    """
    for line in sheet.lines:
        said = "".join(run.text for run in line)
        if text == said or text.endswith(labelled("", said)):
            return setting(text.removesuffix(said)) + prose(line)
    return setting(text)


def main_groups(sheet: Sheet) -> list[tuple[Group, list[Dimension]]]:
    """The groups that have main dimensions, with those."""
    return [
        (group, main)
        for group in sheet.groups
        if (main := [dimension for dimension in group.dimensions if dimension.main])
    ]
