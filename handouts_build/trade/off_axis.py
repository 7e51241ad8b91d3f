"""Sections turned about centers off the axis: what is left, what swings, and where the tool cuts air.

This module owns the circles of a section square to the axis, with the centers evenly around it. How the
wood is held there is for the workpiece, how fast it may start for the speed chapter.

With e from the true center to each of n others and R the radius that is turned about each, the
section is where n circles overlap. In the way of a center its own circle is farthest out; the face that it
cuts lies opposite, R − e from the true center. Two neighboring circles cross midway between two faces, at r with
r² + e² + 2 r e cos(180°/n) = R². A circle of radius R about a center e off the middle of a round blank of
radius B leaves the blank where e² + R² + 2 e R cos φ = B².
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.language import tr
from handouts_build.quantities import Err, Kind, Quantity
from handouts_build.trade.demands import more_than_nought, whole
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Demand, Law

__all__ = ["OFF_AXIS"]

swing = Law(
    "swing", "S", "blank + 2 * offset", "What the round blank swings about such a center: keep all clear of it",
    "off-axis-circles", Err.OVER,
)  # fmt: skip
solid = Law(
    "solid", "s", "max(0 in, blank - 2 * offset)",
    "Diameter about such a center within which the wood is solid; farther out it is a ghost",
    "off-axis-circles", Err.UNDER,
)  # fmt: skip
face = Law(
    "face", "f", "diameter / 2 - offset", "From the true center to the middle of each face", "off-axis-circles",
)  # fmt: skip
edge = Law(
    "edge", "r",
    "sqrt(max((diameter / 2) ^ 2 - (offset * sin(180 deg / centers)) ^ 2, 0 in * 1 in))"
    " - offset * cos(180 deg / centers)",
    "From the true center to each edge, where two faces meet", "off-axis-circles",
)  # fmt: skip
air = Law(
    "air", "a",
    "100 * acos(max(-1, min(1, (blank ^ 2 / 4 - offset ^ 2 - diameter ^ 2 / 4) / (offset * diameter)))) / (180 deg)",
    "Percent of each turn with the tool in the air, as it ends a face of the whole blank", "off-axis-circles",
    main=False,
)  # fmt: skip


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """How the circles are found at the lathe."""
    del known
    return (
        ChapterRemark(
            tr(
                "Set the rest clear of {swing} and turn the blank by hand. Against a dark card the ghost reaches out "
                "to that, and the wood is solid within {solid}."
            ),
            "common practice, no published source",
        ),
    )


OFF_AXIS = Chapter(
    name="off-axis sections",
    about="Turning about centers beside the true one: swing, ghost and solid diameter, faces and edges of the section.",
    givens=(
        ChapterInput("centers", "n", Kind.NUMBER, "Number of centers, evenly around the true one"),
        ChapterInput("blank", "D", Kind.LENGTH, "Diameter of the round blank"),
        ChapterInput("offset", "e", Kind.LENGTH, "From the true center to each of the others"),
        ChapterInput("diameter", "d", Kind.LENGTH, "Diameter that is turned about each of them"),
    ),
    laws=(swing, solid, face, edge, air),
    demands=(
        *whole("centers", least=1, most=60),
        more_than_nought("blank", "the blank's diameter"),
        more_than_nought("offset", "the offset"),
        more_than_nought("diameter", "the diameter turned"),
        Demand(
            "face > 0 in",
            "stop",
            "{diameter} about a center {offset} off the true one leaves no wood on the true one",
            "turn a larger diameter, or set the centers off less",
            "diameter",
        ),
        Demand(
            "diameter < swing",
            "stop",
            "the blank swings {swing}, so a tool at {diameter} takes nothing",
            "turn a smaller diameter, or set the centers off more",
            "diameter",
        ),
        Demand(
            "edge <= blank / 2",
            "note",
            "the faces do not meet within the blank: some of its round of {blank} stays",
            "for sharp edges turn a smaller diameter, or set the centers off more",
            "diameter",
        ),
    ),
    remarks=_remarks,
)
