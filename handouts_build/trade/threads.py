"""A screw thread in wood: what to turn the lid's hole and the box's spigot to, and how far they go into each other.

This module owns the basic profile of 60° and its numbers. It is that of ISO 68-1 for pitches in
millimetres and of ASME B1.1 for threads per inch, which have one shape. The hole is turned to the
minor diameter and the spigot to the major one, less an allowance; both are cut equally deep.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.language import tr
from handouts_build.quantities import Err, Kind, Quantity
from handouts_build.trade.demands import more_than_nought, thin, whole
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Demand, Law

__all__ = ["THREADS", "chasing"]

sharp = Law(
    "sharp", "H", "sqrt(3) / 2 * pitch", "Height of the sharp triangle of 60°", "iso-68-1", main=False, fine=True
)
depth = Law("depth", "h", "5 / 8 * sharp", "Depth of the thread, on one side", "iso-68-1", fine=True)
hole = Law(
    "hole", "D_1", "diameter - 2 * depth",
    "Hole in the lid, turned first: the thread's minor diameter, by calipers", "iso-68-1", fine=True,
)  # fmt: skip
middle = Law(
    "middle", "D_2", "diameter - 3 / 4 * sharp",
    "Pitch diameter, halfway between ridges and valleys", "iso-68-1", main=False, fine=True,
)  # fmt: skip
spigot = Law(
    "spigot", "d", "diameter - allowance",
    "Spigot on the box: its thread's major diameter, by calipers", "thread-allowance", Err.UNDER, fine=True,
    below="diameter",
)  # fmt: skip
core = Law(
    "core", "d_1", "spigot - 2 * depth",
    "Bottom of the thread on the spigot", "iso-68-1", Err.UNDER, fine=True, main=False,
)  # fmt: skip
overlap = Law(
    "overlap", "b", "(spigot - hole) / 2",
    "How far the ridges lie behind each other, on one side", "iso-68-1", fine=True, main=False, left=True,
)  # fmt: skip
lead = Law("lead", "L", "starts * pitch", "How far the lid goes in one turn", "lead-angle", fine=True, main=False)
angle = Law(
    "angle", "λ", "atan(lead / (pi * middle))", "Angle at which the thread climbs", "lead-angle", main=False,
)  # fmt: skip
turns = Law("turns", "N", "engaged / lead", "Turns that close the lid", "helix")
facing = Law(
    "facing",
    "f",
    "lead / 8",
    "Facing this off the box's rim turns the closed lid an eighth of a turn on",
    "helix",
    fine=True,
)
behind = Law(
    "behind", "w", "(outside - diameter) / 2",
    "Wood of the lid behind its thread", "thin-wood", Err.UNDER, left=True,
)  # fmt: skip
within = Law(
    "within", "w_1", "(core - inside) / 2",
    "Wood of the spigot within its thread", "thin-wood", Err.UNDER, left=True,
)  # fmt: skip
chasing = Law("chasing", "n", "400 rpm", "Chase by hand no faster than", "thread-speed", exact=True, main=False)


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """In which order, how it is tried, and how the grain is brought to meet."""
    remarks = [
        ChapterRemark(
            tr("Cut the lid's thread first. Then take the spigot's down in small cuts, and try the lid after each."),
            "thread-order",
        ),
        ChapterRemark(
            tr(
                "Dense wood with a fine grain holds a thread: box, holly, hard maple, fruit woods. In coarse "
                "wood choose a coarser pitch."
            ),
            "thread-wood",
        ),
    ]
    if "facing" in known:
        remarks.append(
            ChapterRemark(
                tr(
                    "Where the grain does not meet as the lid closes, face the box's rim back a shaving at a time: "
                    "{facing} turns the lid an eighth of a turn on."
                ),
                "helix",
            )
        )
    return tuple(remarks)


THREADS = Chapter(
    name="threads",
    about="A screw thread in a lid and on its box: what hole and spigot are turned to, depth, turns, wood behind it.",
    givens=(
        ChapterInput("diameter", "D", Kind.LENGTH, "Across the bottom of the lid's thread: its major diameter"),
        ChapterInput("per_inch", "t", Kind.NUMBER, "Threads per inch, where no pitch is given", optional=True),
        ChapterInput(
            "pitch", "P", Kind.LENGTH, "From one ridge to the next; from the threads per inch if not given",
            optional=True, default="1 in / max(per_inch, 1)", exact=True,
        ),
        ChapterInput("starts", "s", Kind.NUMBER, "How many threads run side by side", optional=True, default="1"),
        ChapterInput(
            "allowance", "a", Kind.LENGTH, "How much smaller the spigot is than the bottom of the lid's thread",
            optional=True, default="1/64 in",
        ),
        ChapterInput("engaged", "e", Kind.LENGTH, "Length of thread in thread, reliefs left out", optional=True),
        ChapterInput("outside", "D_o", Kind.LENGTH, "Outside diameter of the lid around its thread", optional=True),
        ChapterInput("inside", "d_i", Kind.LENGTH, "Inside diameter of the box within its spigot", optional=True),
    ),
    laws=(sharp, depth, hole, middle, spigot, core, overlap, lead, angle, turns, facing, behind, within, chasing),
    demands=(
        more_than_nought("diameter", "the diameter"),
        Demand(
            "per_inch >= 1", "problem", "{per_inch} threads per inch", "give 1 or more, such as 16", "per_inch",
        ),
        Demand(
            "diameter <= 0 in",
            "problem",
            "a thread needs a pitch",
            "give a pitch, such as 1/16 in, or threads per inch: per inch: 16",
            unless="pitch",
        ),
        more_than_nought("pitch", "the pitch"),
        *whole("starts", least=1, most=8),
        Demand(
            "abs(pitch * per_inch - 1 in) <= 1/1000 in",
            "problem",
            "the pitch is given twice: as {pitch}, and as {per_inch} threads per inch",
            "keep one of pitch and per inch",
            "pitch",
        ),
        Demand(
            "pitch * 4 < diameter",
            "problem",
            "a pitch of {pitch} is too coarse for a thread {diameter} across",
            "give a pitch of less than a quarter of the diameter",
            "pitch",
        ),
        Demand(
            "allowance >= 0 in", "problem", "the allowance is {allowance}: the lid does not go on",
            "give 0 in or more, such as 1/64 in", "allowance",
        ),
        Demand(
            "diameter < outside",
            "problem",
            "the thread is deeper than the lid's wall: it is {diameter} across, and the lid {outside}",
            "make the thread smaller or the lid wider",
            "outside",
        ),
        Demand(
            "inside < core",
            "problem",
            "the thread is deeper than the spigot's wall: its bottom is {core} across, and the box {inside} inside",
            "make the inside narrower or the thread wider",
            "inside",
        ),
        Demand(
            "overlap > 0 in", "stop", "the lid slips off: the ridges of the two threads do not reach behind each other",
            "give a smaller allowance or a coarser pitch", "allowance",
        ),
        Demand(
            "abs(overlap - depth / 4) >= depth / 4",
            "mind",
            "the ridges lie only {overlap} behind each other, less than half of the thread's depth of {depth}",
            "give a smaller allowance or a coarser pitch",
            "allowance",
            "thread-allowance",
        ),
        Demand(
            "turns >= 1",
            "mind",
            "the lid closes in {turns} turns: it needs a whole one to hold all around",
            "make the thread longer, its pitch finer, or its starts fewer",
            "engaged",
            "thread-turns",
        ),
        thin(
            "behind", limit=8, left="only {behind} of the lid is left behind its thread",
            remedy="make the lid wider or the thread smaller",
        ),
        thin(
            "within", limit=16, left="only {within} of the spigot is left within its thread",
            remedy="make the inside narrower or the thread wider",
        ),
    ),
    remarks=_remarks,
)  # fmt: skip
