"""Drawings of what is laid out on an end: off-axis centers where they are marked, and holes drilled around.

This module owns which steps call for one and what is told on it. The drawing itself is for
the figures.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

from handouts_build import workpiece as kernel
from handouts_build.compute.solid.arranged import Printing
from handouts_build.compute.solid.carry import Carried
from handouts_build.language import tr
from handouts_build.quantities import Printed, decimal, quantity
from handouts_build.sheet import Part, Sheet
from handouts_build.sheet.layouts import EndLayout, LaidOut, LayoutHole

__all__ = ["with_layouts"]

_RINGS = 2
"""A step that drills fewer rings of holes has nothing to be mixed up."""


_Told = tuple[tuple[str, ...], str, Printed]


def with_layouts(sheet: Sheet, parts: Mapping[str, Carried]) -> Sheet:
    """The sheet with its layouts, each named at the step that it belongs to.

    Args:
        sheet: The project, worked out.
        parts: Its parts that are carried as solids.
    """
    printing = Printing(sheet)
    layouts: list[EndLayout] = []
    made: list[Part] = []
    for part in sheet.every_part:
        carried = parts.get(part.name)
        found = dict(_of_part(part, carried, printing)) if carried is not None else {}
        layouts += found.values()
        steps = tuple(
            replace(step, figures=(*step.figures, found[index].name)) if index in found else step
            for index, step in enumerate(part.steps)
        )
        made.append(replace(part, steps=steps) if found else part)
    own = len(sheet.parts)
    return replace(sheet, parts=tuple(made[:own]), jigs=tuple(made[own:]), layouts=tuple(layouts)) if layouts else sheet


def _of_part(part: Part, carried: Carried, printing: Printing) -> Iterator[tuple[int, EndLayout]]:
    """The layouts of one part, each with the step it belongs to, counted from 0; one at most for a step."""
    drawn: set[int] = set()
    for index, step in enumerate(carried.plan.steps):
        offset = [hold for hold in step.holds if isinstance(hold, kernel.OffsetCenters)]
        around = [cut for cut in step.cuts if isinstance(cut, kernel.HolesAround)]
        ends = [cut for cut in step.cuts if isinstance(cut, kernel.AxialHoles) and cut.count > 1]
        if offset and all(_straight(hold) for hold in offset):
            # They are laid out where circles are drawn on the ends, if that is told before.
            marking = [
                earlier
                for earlier in range(index)
                if any(isinstance(mark, kernel.EndCircle) for mark in carried.plan.steps[earlier].marks)
            ]
            at, rings, circle = (
                (marking[-1] if marking else index),
                [_centers(offset, printing)],
                2 * offset[0].offset_mm,
            )
            titled = tr("{part}: off-axis centers on the end", part=part.title)
        elif len(around) >= _RINGS or ends:
            rings = [_around(cut, carried, index, printing) for cut in around]
            rings += [_into_end(cut, printing) for cut in ends]
            at, circle = index, 0.0
            titled = tr("{part}: holes, seen from the end", part=part.title)
        else:
            continue
        if at not in drawn:
            drawn.add(at)
            corners, across = _end(carried, at)
            name = f"{part.name}-layout-{at + 1}"
            printed = printing.of(across)
            yield at, EndLayout(name, titled, corners, across, printed, tuple(rings), circle, _bored(carried, at))


def _straight(hold: kernel.OffsetCenters) -> bool:
    """Whether both ends are set off alike, so that one drawing shows both."""
    return hold.right_offset_mm in (None, hold.offset_mm) and hold.right_angle_deg in (None, hold.angle_deg)


def _end(carried: Carried, index: int) -> tuple[tuple[tuple[float, float], ...], float]:
    """The wood's outline as a step finds it: corners, none where it is round, and its diameter or side in mm."""
    blank = carried.plan.blank
    if isinstance(blank, kernel.Square) and not any(step.cuts for step in carried.plan.steps[:index]):
        half = blank.side_mm / 2
        return ((half, half), (-half, half), (-half, -half), (half, -half)), blank.side_mm
    if isinstance(blank, kernel.Round) and not any(step.cuts for step in carried.plan.steps[:index]):
        return (), blank.diameter_mm
    return (), carried.stages[index].across_mm / kernel.round_factor(carried.plan.segments)


def _bored(carried: Carried, index: int) -> float:
    """Diameter of the widest bore along the axis that is there as a step begins, mm."""
    cuts = [cut for step in carried.plan.steps[:index] for cut in step.cuts]
    return max((cut.diameter_mm for cut in cuts if isinstance(cut, kernel.Bore)), default=0.0)


def _point(angle_deg: float, radius_mm: float) -> tuple[float, float]:
    """A place by its angle from the top, counterclockwise as seen from the tailstock."""
    turn = math.radians(angle_deg)
    return round(-radius_mm * math.sin(turn), 4) + 0.0, round(radius_mm * math.cos(turn), 4) + 0.0


def _centers(holds: list[kernel.OffsetCenters], printing: Printing) -> LaidOut:
    """Center marks off the axis, as they are used one after another."""
    marks = tuple(LayoutHole(_point(hold.angle_deg, hold.offset_mm)) for hold in holds)
    values: list[_Told] = [((tr("true center"), tr("to each")), "", printing.of(holds[0].offset_mm))]
    if len(marks) > 1:
        apart = (holds[1].angle_deg - holds[0].angle_deg) % 360
        angle = quantity(apart, "deg")
        values.append(((tr("from one"), tr("to the next")), "", printing.of(math.dist(marks[0].at, marks[1].at))))
        values.append(((tr("turned by"),), "", Printed(f"{decimal(apart, 1)}°", "", angle)))
    return LaidOut("center", marks, tuple(values))


def _around(cut: kernel.HolesAround, carried: Carried, index: int, printing: Printing) -> LaidOut:
    """Holes drilled toward the axis."""
    radius = carried.stages[index].across_mm / 2 / kernel.round_factor(carried.plan.segments)
    deep = cut.deep_mm if cut.deep_mm is not None else radius * (2 if cut.comes_out else 1)
    holes = tuple(
        LayoutHole(_point(cut.start_deg + 360 / cut.count * each, radius), cut.diameter_mm, deep)
        for each in range(cut.count)
    )
    values: list[_Told] = [((tr("bit"),), "Ø", printing.of(cut.diameter_mm))]
    if cut.deep_mm is not None:
        values.append(((tr("deep"),), "", printing.of(cut.deep_mm)))
    return LaidOut(cut.name or tr("holes"), holes, tuple(values))


def _into_end(cut: kernel.AxialHoles, printing: Printing) -> LaidOut:
    """Holes drilled along the axis, on a circle around it."""
    holes = tuple(
        LayoutHole(_point(cut.start_deg + 360 / cut.count * each, cut.circle_mm / 2), cut.diameter_mm)
        for each in range(cut.count)
    )
    values: list[_Told] = [
        ((tr("bit"),), "Ø", printing.of(cut.diameter_mm)),
        ((tr("circle"),), "Ø", printing.of(cut.circle_mm)),
    ]
    return LaidOut(cut.name or tr("end holes"), holes, tuple(values))
