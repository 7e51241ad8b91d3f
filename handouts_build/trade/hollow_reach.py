"""Reaching into a hollow form through its mouth: how far the bar stands over the rest, and how far aside it must reach.

This module owns the straight bar that lies along the axis. Walls are the workpiece's; how far a bar may stand out
is for its maker to say.

With the bar against the rim of the mouth on the side that it cuts, its middle lies M/2 − b/2 from the axis, so that a
tip on the widest place, W/2 from the axis, stands (W − M + b)/2 from the bar's middle. What must go in through the
mouth is that and the bar's other half. A bar held at the rest and loaded at its tip bends with the cube of its length.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.language import tr
from handouts_build.quantities import Err, Kind, Quantity
from handouts_build.trade.demands import more_than_nought
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Demand, Law

__all__ = ["HOLLOW_REACH"]

overhang = Law(
    "overhang", "o", "deep + rest", "How far the bar stands over the rest as it cuts the bottom", "bar-in-mouth",
    Err.OVER,
)  # fmt: skip
times = Law("times", "o/b", "overhang / bar", "Overhang, in diameters of the bar", "bar-in-mouth")
bends = Law(
    "bends", "x", "(overhang / (rest + deep / 2)) ^ 3",
    "Times that the bar bends as much at the bottom as halfway down, by the same cut", "cantilever", main=False,
)  # fmt: skip
reach = Law(
    "reach", "a", "max(bar / 2, (inside - mouth + bar) / 2)",
    "From the middle of the bar to the cutter's tip, to reach the widest place", "bar-in-mouth", Err.OVER,
)  # fmt: skip
tool_wide = Law(
    "tool_wide", "w", "reach + bar / 2", "Width of that tool: what must go in through the mouth", "bar-in-mouth",
    Err.OVER,
)  # fmt: skip


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """What the numbers do not say: who bounds the overhang, and how a catch is kept small."""
    remarks = [
        ChapterRemark(
            tr(
                "Cut at the center line or a hair above it, with the handle long and held against the body or "
                "in an arm rest: a tip that reaches {reach} aside twists the bar."
            ),
            "common practice, no published source",
        )
    ]
    if "most" not in known:
        remarks.append(
            ChapterRemark(
                tr("The maker of the tool says how far its bar may stand over the rest: stay within that."),
                "common practice, no published source",
            )
        )
    return tuple(remarks)


HOLLOW_REACH = Chapter(
    name="hollow-form reach",
    about="Hollowing through a mouth: overhang of the bar, how far aside its tip must reach, what the mouth lets in.",
    givens=(
        ChapterInput("mouth", "M", Kind.LENGTH, "Diameter of the mouth, inside"),
        ChapterInput("inside", "W", Kind.LENGTH, "Widest diameter of the inside"),
        ChapterInput("deep", "L", Kind.LENGTH, "Depth of the inside from the rim"),
        ChapterInput("bar", "b", Kind.LENGTH, "Diameter of the tool's bar", exact=True),
        ChapterInput("rest", "r", Kind.LENGTH, "From the tool rest to the rim", default="1/2 in"),
        ChapterInput(
            "most",
            "m",
            Kind.LENGTH,
            "Farthest that the tool's maker allows the bar to stand over the rest",
            optional=True,
        ),
    ),
    laws=(overhang, times, bends, reach, tool_wide),
    demands=(
        more_than_nought("mouth", "the mouth"),
        more_than_nought("inside", "the inside's diameter"),
        more_than_nought("deep", "the depth"),
        more_than_nought("bar", "the bar's diameter"),
        more_than_nought("rest", "the way from rest to rim"),
        Demand(
            "bar < mouth",
            "stop",
            "a bar {bar} thick does not go through a mouth of {mouth}",
            "make the mouth wider, or take a thinner bar",
            "bar",
        ),
        Demand(
            "overhang <= most",
            "stop",
            "the bar stands {overhang} over the rest, and its maker allows {most}",
            "take a thicker bar, or make the piece less deep",
            "most",
        ),
        Demand(
            "tool_wide <= mouth",
            "note",
            "a tool that reaches the widest place is {tool_wide} wide, and the mouth is {mouth}",
            "lead its tip in first and swing it, with a curved shank or a tip that swivels; or make the mouth wider",
            "mouth",
        ),
    ),
    remarks=_remarks,
)
