"""Which drawings each chapter of the trade's arithmetic yields.

This module owns the list alone.
"""

from __future__ import annotations

from collections.abc import Iterator

from handouts_build.figures import (
    cross_holes,
    divisions,
    fit,
    flutes,
    groove,
    hollow_reach,
    log_layout,
    off_axis,
    profile,
    ring_stack,
    snap_fit,
    sphere,
    spiral,
    stave,
    threads,
)
from handouts_build.figures.figure import Figure
from handouts_build.quantities import Rule
from handouts_build.sheet import Group

__all__ = ["drawings"]


def drawings(group: Group, rule: Rule) -> Iterator[Figure]:
    """The drawings of one group.

    Args:
        group: Worked out.
        rule: Marks that lengths read off a drawing are rounded to.
    """
    match group.chapter:
        case "sphere by facets":
            yield sphere.octagon(group)
            yield sphere.further_facets(group)
            yield sphere.end_view(group)
        case "divisions":
            yield divisions.marks(group)
        case "cross holes":
            yield cross_holes.section(group)
        case "cross-axis groove":
            yield groove.equator(group)
            yield groove.plane(group)
        case "tapered staves":
            yield stave.face(group)
        case "rings and staves":
            yield ring_stack.plan(group)
        case "stack" if group.stack is not None:
            yield ring_stack.section(group)
            yield ring_stack.cut_list(group)
            yield ring_stack.pattern(group)
        case "flutes":
            yield flutes.unrolled(group)
        case "spiral":
            yield spiral.grid(group)
        case "off-axis sections":
            yield off_axis.section(group)
        case "hollow-form reach":
            yield hollow_reach.bar(group)
        case "log layout":
            yield log_layout.end_view(group)
            yield log_layout.rim(group)
        case "fit":
            yield fit.joint(group)
        case "snap fit":
            yield snap_fit.section(group)
        case "threads":
            yield threads.section(group)
        case "profile" if group.shape is not None:
            yield profile.side_view(group, rule)
