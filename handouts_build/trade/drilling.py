"""Drilling along the axis with the bit in the tailstock.

This module owns how fast, how deep by the quill's scale, in how many bites, and what
wood is left beyond and around. Holes around a part are for `cross_holes`, the fit of
a tenon for `fit`.

The depth of a hole is told to where it is at its full diameter. The point goes
deeper. On a twist bit it is a cone: of angle a on a bit of diameter d it is
d / (2 tan(a/2)) long. Brad point, spur and spade bits cut a flat floor with a point in
its middle, whose usual length the table of bits has.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.language import tr
from handouts_build.quantities import Err, Kind, Quantity, count, millimetres
from handouts_build.tables import bits
from handouts_build.trade.demands import more_than_nought, thin
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Demand, Law, LookupResult, Word

__all__ = ["DRILLING"]

speed = Law(
    "speed", "n", "round_down(min(1500 rpm, 500 in * 1 rpm / bit), 10 rpm)",
    "Speed to drill at, or slower", "bit-speed", Err.UNDER,
)  # fmt: skip
stop_depth = Law(
    "stop_depth", "z_s", "depth + point_long",
    "Depth on the quill's scale, from where the point touches the wood", "drill-stop", Err.UNDER,
)  # fmt: skip
left = Law("left", "w", "wood_length - stop_depth", "Wood left beyond the point", "drill-stop", Err.UNDER, left=True)
wall = Law("wall", "w_s", "(part - bit) / 2", "Wood left around the hole", "drill-stop", Err.UNDER, left=True)
bites = Law(
    "bites", "k", "round_up(depth / bite, 1)",
    "Times to feed in, draw out and clear the chips", "drill-bites",
)  # fmt: skip
sittings = Law(
    "sittings", "m", "round_up(stop_depth / travel, 1)",
    "Times the quill must be fed to its end and the tailstock moved up", "drill-stop",
)  # fmt: skip
deep = Law(
    "deep", "s", "depth / bit", "Depth over the bit's diameter", "drill-deep", main=False,
)  # fmt: skip


def _look_up(said: tuple[str, ...], givens: Mapping[str, Quantity]) -> LookupResult:
    """How long the point of such a bit is."""
    (name,) = said
    bit = bits()[name]
    if "point_long" in givens:
        return LookupResult({})
    return LookupResult(
        {"point_share": count(bit.point_share), "point_stands": millimetres(bit.point_stands_mm)},
        (ChapterRemark(tr(bit.says), bit.source),),
    )


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """How it is gone about."""
    remarks = [
        ChapterRemark(
            tr("Let the point touch the wood, set the quill's scale to 0 or mark the bit, and feed to {stop_depth}."),
            "drill-stop",
        ),
        ChapterRemark(
            tr("Draw the bit out and clear its flutes {bites} times. Packed chips jam it and heat it."), "drill-bites"
        ),
    ]
    if known["point_stands"].magnitude == 0 and known["point_long"].magnitude > 0:
        remarks.append(
            ChapterRemark(
                tr(
                    "Reckoned with a point {point_long} long, the cone of a twist bit ground to 118° unless another is "
                    "named. Measure your own bit's point."
                ),
                "bit-cone",
            )
        )
    if "left" in known and known["left"].magnitude <= 0:
        remarks.append(
            ChapterRemark(
                tr("It breaks through: back the far side with waste wood, or drill from both ends, and ease the feed."),
                "drill-stop",
            )
        )
    return tuple(remarks)


DRILLING = Chapter(
    name="drilling",
    about="A hole along the axis, drilled from the tailstock: speed, depth on the quill, bites, and the wood left.",
    givens=(
        ChapterInput("bit", "d", Kind.LENGTH, "Diameter of the bit", exact=True),
        ChapterInput("depth", "z", Kind.LENGTH, "Depth of the hole at its full diameter"),
        ChapterInput(
            "point_share",
            "p_d",
            Kind.NUMBER,
            "Length of the bit's point for each diameter; that of a twist bit ground to 118° if nothing is said",
            optional=True,
            default="1 / (2 * tan(59 deg))",
        ),
        ChapterInput(
            "point_stands",
            "p_0",
            Kind.LENGTH,
            "What the bit's point is longer than that by, whatever its diameter",
            optional=True,
            default="0 in",
            signed=True,
        ),
        ChapterInput(
            "point_long",
            "p",
            Kind.LENGTH,
            "Length of the bit's point",
            optional=True,
            default="bit * point_share + point_stands",
            signed=True,
        ),
        ChapterInput("wood_length", "L", Kind.LENGTH, "Length of wood there is along the hole", optional=True),
        ChapterInput("part", "D", Kind.LENGTH, "Smallest diameter of the part along the hole", optional=True),
        ChapterInput("bit_long", "l", Kind.LENGTH, "Length of the bit that stands out of the chuck", optional=True),
        ChapterInput("travel", "q", Kind.LENGTH, "Travel of the tailstock's quill", optional=True),
        ChapterInput(
            "bite", "b", Kind.LENGTH, "How deep to drill before the chips are cleared", optional=True, default="bit"
        ),
        ChapterInput("rpm", "n_c", Kind.SPEED, "Speed chosen", optional=True),
    ),
    words=(Word("bit_type", "What kind of bit it is", "a kind of bit", _look_up, tuple(bits())),),
    laws=(speed, stop_depth, left, wall, bites, sittings, deep),
    demands=(
        more_than_nought("bit", "the bit's diameter"),
        more_than_nought("depth", "the hole's depth"),
        Demand(
            "point_long >= 0 in",
            "problem",
            "the point is {point_long} long",
            "a length must be 0 or more",
            "point_long",
        ),
        more_than_nought("wood_length", "the length of wood"),
        more_than_nought("part", "the part's diameter"),
        more_than_nought("bit_long", "the bit's length"),
        more_than_nought("travel", "the quill's travel"),
        more_than_nought("bite", "a bite"),
        Demand("rpm > 0 rpm", "problem", "the speed is {rpm}", "give a speed such as 500 rpm", "rpm"),
        Demand(
            "bit < part",
            "problem",
            "the bit of {bit} is as wide as the part, {part}",
            "use a smaller bit or a thicker part",
            "bit",
        ),
        Demand(
            "bit_long >= stop_depth",
            "stop",
            "the bit stands out {bit_long} and must go in {stop_depth}: its chuck would meet the wood",
            "use a longer bit or an extension, or drill from both ends",
            "bit_long",
        ),
        Demand(
            "rpm <= speed",
            "mind",
            "{rpm} is faster than the {speed} for a bit of {bit}",
            "drill slower: a bit that grabs or burns is hard to hold",
            "rpm",
            "bit-speed",
        ),
        Demand(
            "left > 0 in",
            "mind",
            "the point comes out at the far side: it goes in {stop_depth}, and there are {wood_length} of wood",
            "back the far side with waste wood, or drill less deep",
            "depth",
        ),
        thin(
            "left",
            limit=8,
            left="only {left} of wood is left beyond the bit's point",
            remedy="drill less deep, or use a bit with a shorter point",
        ),
        thin(
            "wall",
            limit=8,
            left="only {wall} of wood is left around the hole",
            remedy="drill before the outside is turned down, or use a smaller bit",
        ),
        Demand(
            "travel >= stop_depth",
            "note",
            "the quill travels {travel} and the hole needs {stop_depth}: it is drilled in {sittings} goes",
            "wind the quill back, stop the lathe, move the tailstock up and lock it, and go on",
            "travel",
        ),
        Demand(
            "deep <= 10",
            "note",
            "the hole is {deep} times as deep as the bit is wide, and the bit will wander",
            "start in a dimple turned true, drill slowly, or drill from both ends",
            "depth",
            "drill-deep",
        ),
    ),
    remarks=_remarks,
)
