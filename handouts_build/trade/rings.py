"""Rings of segments and tubes of staves, glued up with flat sides.

This module owns the polygon that n straight pieces make: the miter or bevel, the edges
of one piece, the stock it takes, and how much of it is left once it is turned round.
Widths are measured from flat to flat, as the ring comes from the clamps; where n is odd,
that is twice the distance of a flat from the middle.

With R half the width outside and r half the opening, a piece is 2 R tan(180°/n) on its
outer edge and 2 r tan(180°/n) on its inner one. The largest round that can be turned has
the width outside; the smallest round opening that cleans up the corners inside is
2 r / cos(180°/n) across.

The saw goes across the strip at the miter, so that along the strip it takes kerf / cos(180°/n).
A strip that stays as it lies loses a wedge between any two pieces, and every piece takes its
whole outer edge of it. One that is turned over after each cut loses no wedge: pieces lie head
to tail, each takes the mean of its edges, and half their difference is lost once at each end.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.language import tr
from handouts_build.quantities import Err, Kind, Quantity
from handouts_build.trade.demands import more_than_nought, thin, whole
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Demand, Law

__all__ = ["FLIPPED", "INNER_EDGE", "MITER", "OUTER_EDGE", "RINGS", "STRIP", "THICK"]

MITER = Law(
    "miter", "μ", "180 deg / pieces",
    "Miter on each end of a segment, or bevel on each edge of a stave", "regular-polygon",
)  # fmt: skip
OUTER_EDGE = Law(
    "outer_edge", "s", "across * tan(180 deg / pieces)", "Outer edge of a piece, its longest", "regular-polygon",
    Err.OVER,
)  # fmt: skip
INNER_EDGE = Law(
    "inner_edge", "i", "inside * tan(180 deg / pieces)", "Inner edge of a piece", "regular-polygon", Err.OVER,
    main=False,
)  # fmt: skip
THICK = Law(
    "thick", "t", "(across - inside) / 2", "Wood of a piece from the outer edge to the inner", "regular-polygon",
    Err.OVER,
)  # fmt: skip
STRIP = Law(
    "strip", "S", "pieces * (outer_edge + kerf / cos(180 deg / pieces))",
    "Length of the strip for all pieces of one ring, saw cuts and all", "segment-strip", Err.OVER,
)  # fmt: skip
FLIPPED = Law(
    "flipped", "F",
    "pieces * ((outer_edge + inner_edge) / 2 + kerf / cos(180 deg / pieces)) + (outer_edge - inner_edge) / 2",
    "Length of the strip, if it is turned over after each cut", "segment-strip", Err.OVER, main=False,
)  # fmt: skip
corners = Law(
    "corners", "C", "across / cos(180 deg / pieces)", "Across the corners: what it swings until it is round",
    "regular-polygon", Err.OVER,
)  # fmt: skip
opening = Law(
    "opening", "o", "inside / cos(180 deg / pieces)", "Least round opening that cleans up the corners inside",
    "regular-polygon", Err.OVER,
)  # fmt: skip
wall = Law(
    "wall", "w", "(across - opening) / 2", "Thickest wall when it is round outside and in", "regular-polygon",
    Err.UNDER,
)  # fmt: skip


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """How the angle is set and proved."""
    if "pieces" not in known:
        return ()
    return (
        ChapterRemark(
            tr(
                "A saw that is out by a little is out by twice that at every joint: glue up two half rings, "
                "and true their ends to each other before the last two joints are closed."
            ),
            "common practice, no published source",
        ),
    )


RINGS = Chapter(
    name="rings and staves",
    about="A ring of segments or a tube of staves: miter, edges, the strip it takes, and the wall left when round.",
    givens=(
        ChapterInput("pieces", "n", Kind.NUMBER, "Number of segments or staves"),
        ChapterInput("across", "D", Kind.LENGTH, "Width outside, from flat to flat"),
        ChapterInput("inside", "d", Kind.LENGTH, "Width of the opening, from flat to flat"),
        ChapterInput("kerf", "k", Kind.LENGTH, "Width of the saw cut", default="1/8 in"),
    ),
    laws=(MITER, OUTER_EDGE, INNER_EDGE, THICK, STRIP, FLIPPED, corners, opening, wall),
    demands=(
        *whole("pieces", least=3, most=180),
        more_than_nought("across", "the width"),
        more_than_nought("inside", "the opening"),
        more_than_nought("kerf", "the saw cut"),
        Demand(
            "inside < across",
            "problem",
            "an opening of {inside} leaves nothing of a ring {across} wide",
            "make the opening smaller than the ring",
            "inside",
        ),
        Demand(
            "wall > 0 in",
            "stop",
            "turned round outside and in, nothing is left of the ring: its corners inside reach {opening} across",
            "make the opening smaller, or glue it up from more pieces",
            "inside",
        ),
        thin(
            "wall",
            limit=8,
            left="turned round outside and in, a wall of {wall} is the most that is left",
            remedy="make the opening smaller, or glue it up from more pieces",
        ),
    ),
    remarks=_remarks,
)
