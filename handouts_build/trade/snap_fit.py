"""A lid that snaps on: bead and groove, how far the lid's rim stretches, and how steep the bead meets it.

This module owns the numbers of an annular snap fit of wood. Whether a bead in the file catches on the solid,
and lies in its groove, is for the assembly to judge; how both move with the seasons is the fit chapter's.

The bead's section is half an ellipse, h high and w wide, on a spigot that is p smaller than the mouth. As the lid
goes on, its edge meets the bead at p/2 above the spigot, where with q = p / 2h the ellipse rises at
tan η = (2h/w) √(1 − q²) / q. The lid's rim must widen by all of the interference, which is a strain of
(bead − mouth) / mouth around it, if the spigot does not give at all: the safe side.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.language import tr
from handouts_build.quantities import Err, Kind, Quantity
from handouts_build.trade.demands import more_than_nought, thin
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Demand, Law

__all__ = ["MOST_STRETCH", "SNAP_FIT"]

MOST_STRETCH = 0.01
"""A rim of wood that is stretched by more may split along its grain: common practice, no published source."""

spigot = Law(
    "spigot", "d", "mouth - play", "Spigot beside the bead, by calipers", "snap-ring", Err.UNDER, fine=True,
)  # fmt: skip
bead = Law(
    "bead", "B", "spigot + 2 * stands", "Over the bead, by calipers: turn the spigot to this first", "snap-ring",
    fine=True,
)  # fmt: skip
over = Law(
    "over", "i", "bead - mouth", "Interference: how far the lid's rim must widen", "snap-ring", fine=True,
)  # fmt: skip
stretch = Law(
    "stretch", "ε", "100 * over / mouth", "Percent that the lid's rim stretches around", "snap-ring", main=False,
)  # fmt: skip
groove = Law(
    "groove", "G", "bead + play", "Across the groove in the lid, so that nothing stays stretched", "snap-ring",
    Err.OVER, fine=True,
)  # fmt: skip
groove_deep = Law("groove_deep", "g", "(groove - mouth) / 2", "Depth of that groove", "snap-ring", Err.OVER, fine=True)
entry = Law(
    "entry", "η", "atan(2 * stands / wide * sqrt(max(0, 1 - (play / (2 * stands)) ^ 2)) / (play / (2 * stands)))",
    "Slope of the bead where the lid's edge meets it", "snap-ring", main=False,
)  # fmt: skip
behind = Law(
    "behind", "t", "(outside - groove) / 2", "Wood of the lid behind its groove", "thin-wood", Err.UNDER, left=True,
)  # fmt: skip


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """How a snap is fitted, and why lid and box come from one blank."""
    del known
    return (
        ChapterRemark(
            tr(
                "Cut the groove first. Turn the spigot to {bead}, leave the bead, and take it down in shavings "
                "until the lid goes on with a click and comes off with two fingers."
            ),
            "common practice, no published source",
        ),
        ChapterRemark(
            tr(
                "Lid and box from one blank, their grain lined up, go oval the same way as the seasons change; turned "
                "crosswise the one binds where the other is loose."
            ),
            "common practice, no published source",
        ),
    )


SNAP_FIT = Chapter(
    name="snap fit",
    about="A lid that snaps on: spigot, bead and groove by calipers, how far the rim stretches, how steep it goes on.",
    givens=(
        ChapterInput("mouth", "M", Kind.LENGTH, "Diameter of the lid's hole at its mouth"),
        ChapterInput("stands", "h", Kind.LENGTH, "How far the bead stands out of the spigot, all around"),
        ChapterInput("wide", "w", Kind.LENGTH, "Width of the bead, along the axis"),
        ChapterInput("play", "p", Kind.LENGTH, "How much smaller than the hole the spigot is", default="0.1 mm"),
        ChapterInput("outside", "O", Kind.LENGTH, "Diameter of the lid, outside", optional=True),
    ),
    laws=(spigot, bead, over, stretch, groove, groove_deep, entry, behind),
    demands=(
        more_than_nought("mouth", "the mouth"),
        more_than_nought("stands", "the bead's height"),
        more_than_nought("wide", "the bead's width"),
        more_than_nought("play", "the play"),
        Demand(
            "over > 0 in",
            "mind",
            "a bead {stands} high on a spigot {play} smaller than its hole does not catch",
            "make the bead higher, or the spigot larger",
            "stands",
        ),
        Demand(
            f"stretch <= {100 * MOST_STRETCH:g}",
            "mind",
            f"the rim stretches by {{stretch}} percent; more than {100 * MOST_STRETCH:g} may split it",
            "make the bead lower",
            "stands",
            source="snap-stretch",
        ),
        Demand(
            "entry <= 45 deg",
            "note",
            "the lid meets the bead at {entry}: steeper than 45° it is pushed back and not apart",
            "make the bead wider, or soften the edge of the lid's mouth",
            "wide",
        ),
        Demand(
            "behind > 0 in",
            "stop",
            "a groove {groove} across goes through a lid {outside} across",
            "make the lid wider, or the groove shallower",
            "outside",
        ),
        thin(
            "behind",
            limit=8,
            left="only {behind} of the lid is left behind its groove",
            remedy="make the lid wider, or its hole narrower",
        ),
    ),
    remarks=_remarks,
)
