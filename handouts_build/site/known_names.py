"""The names that may be used in a project's formulas and text, each with its value and what it means.

This module owns the list, and which holes and tenons there are to hold by, to meet or to
fill at a step. The values are the sheet's and the wood's; the table in the terminal is
laid out here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from handouts_build.problems import Place, Problem, ProjectError, near_miss
from handouts_build.quantities import millimetres, print_quantity
from handouts_build.schema import filled_in
from handouts_build.sheet import Group, Part, Sheet, Step
from handouts_build.site.known_lengths import KnownLengths

if TYPE_CHECKING:
    from handouts_build.site.build import Archive

__all__ = ["KnownName", "known_names", "names_at_step", "table_of_filled_in", "table_of_names"]


@dataclass(frozen=True)
class KnownName:
    """One name, and what stands behind it."""

    name: str
    lead: str
    """Its value in the unit that leads."""
    other: str
    """The same in the other; empty where there is none."""
    says: str


def known_names(sheet: Sheet) -> dict[str, tuple[KnownName, ...]]:
    """Every name that a formula or a text of a project may use, under the heading it stands below.

    Args:
        sheet: The project, worked out.
    """
    rule = sheet.rule
    mark = print_quantity(millimetres(float(rule.inch) * 25.4 if rule.lead == "in" else float(rule.millimetre)), rule)
    made = {
        "Sizes": tuple(KnownName(size.name, size.printed.lead, size.printed.other, size.says) for size in sheet.sizes),
        **{group.title: tuple(_of(group)) for group in sheet.groups},
        "Always there": (
            KnownName("rule", mark.lead, mark.other, "the finest mark on the rule"),
            KnownName("pi", "3.14159", "", "the circle's number"),
        ),
    }
    return {title: rows for title, rows in made.items() if rows}


def _of(group: Group) -> Iterator[KnownName]:
    """What a chapter was told and what follows."""
    for given in group.givens:
        name = f"{group.name}.{given.name}" if group.name else given.name
        yield KnownName(name, given.printed.lead, given.printed.other, given.says)
    for row in group.dimensions:
        yield KnownName(row.name, row.printed.lead, row.printed.other, row.says)


def names_at_step(archive: Archive, where: str) -> dict[str, tuple[KnownName, ...]]:
    """The holes, tenons and other places that a step of a project finds on its wood, by the names to call them.

    Args:
        archive: The one project, worked out.
        where: `PART/STEP`, the step by its number in the part or by the beginning of its name.

    Returns:
        What is there before the step, for `on`, `in`, `hole` and joints; and the cuts so far, for `meets`.

    Raises:
        ProjectError: If there is no such part or step.
    """
    from handouts_build.compute.solid.measured import carried

    (sheet,) = archive.sheets
    part, step = _found(sheet, where)
    solids = archive.session.solids.get(sheet.name)
    held = solids.parts.get(part.name) if solids is not None else None
    title = f"On the wood at step {step.number}, {step.name}"
    if solids is None or held is None:
        return {f"{title}: the part has no cuts, and nothing to name": ()}
    stage = carried(held.plan, solids.shop, held.limits)[part.steps.index(step)]
    rows, lengths = [], KnownLengths(sheet, part.steps[: part.steps.index(step)])
    for feature in stage.features.values():
        across, long = map(lengths.told, (feature.diameter_mm, feature.long_mm))
        size = f"{across[0]} × {long[0]}", f"{across[1]} × {long[1]}"
        there = "" if feature.left(stage.wood) >= held.limits.left else "; cut away by now"
        rows.append(KnownName(feature.name, *size, f"{feature.kind.value}, across × long{there}"))
    named = {row.name for row in rows}
    cuts = dict.fromkeys(cut.base for cut in stage.made[1:] if cut.base not in named)
    return {title: (*rows, *(KnownName(name, "", "", "cut, for meets") for name in cuts))}


def _found(sheet: Sheet, where: str) -> tuple[Part, Step]:
    """A part and its step by what was typed."""
    called, _, wanted = where.partition("/")
    part = next((part for part in sheet.every_part if part.name == called), None)
    if part is None:
        parts = [part.name for part in sheet.every_part]
        hint = f"write the part before it: {parts[0]}/{called}" if called.isdecimal() else near_miss(called, parts)
        raise ProjectError([Problem(Place(where), f"'{called}' is not a part of {sheet.title}", hint)])
    for index, step in enumerate(part.steps, 1):
        if wanted == str(index) or (wanted and step.name.casefold().startswith(wanted.casefold())):
            return part, step
    steps = "\n".join(f"{called}/{index}  {step.name}" for index, step in enumerate(part.steps, 1))
    message = f"'{wanted}' is not a step of {called}" if wanted else "say which step: PART/STEP"
    raise ProjectError([Problem(Place(where), message, steps)])


def table_of_filled_in(path: Path, shown: str, where: str = "", sheet: Sheet | None = None) -> Iterator[str]:
    """What a file does not say and is taken for granted, as lines for the terminal: where, key, value, and from what.

    Args:
        path: The project file.
        shown: How messages name it.
        where: `PART/STEP`, for one step alone; empty for all.
        sheet: The project, worked out; needed for one step.

    Raises:
        ProjectError: If the file is not well formed, or has no such step.
    """
    rows = filled_in(path, shown)
    if where and sheet is not None:
        part, step = _found(sheet, where)
        rows = tuple(row for row in rows if row.where == f"{part.name}/{part.steps.index(step) + 1}")
    if not rows:
        return
    yield "Filled in, where the file does not say it; what you write yourself goes before it"
    wide = [max(len(getattr(row, column)) for row in rows) for column in ("where", "key", "what")]
    for row in rows:
        cells = zip((row.where, row.key, row.what), wide, strict=True)
        yield f"  {'  '.join(f'{text:<{room}}' for text, room in cells)}  (filled in: {row.why})"
    yield ""


def table_of_names(names: dict[str, tuple[KnownName, ...]]) -> Iterator[str]:
    """The names as lines for the terminal: name, value in both units, meaning."""
    rows = [row for group in names.values() for row in group]
    wide, lead, other = (
        max((len(getattr(row, column)) for row in rows), default=0) for column in ("name", "lead", "other")
    )
    for title, group in names.items():
        yield title
        for row in group:
            yield f"  {row.name:<{wide}}  {row.lead:>{lead}}  {row.other:>{other}}  {row.says}".rstrip()
        yield ""
