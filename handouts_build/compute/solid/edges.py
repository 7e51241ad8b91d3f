"""What is said of a base whose edge is let into a groove: whether it goes in, holds there, and may move.

This module owns the words and the limits. The two solids are measured by the workpiece.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import asdict
from typing import Any, NamedTuple

from handouts_build import workpiece as kernel
from handouts_build.compute.solid.words import length
from handouts_build.compute.working import meant
from handouts_build.quantities import Rule, decimal
from handouts_build.schema import JointKeys, LetInKeys
from handouts_build.sheet.findings import Level
from handouts_build.tables import lookup_wood
from handouts_build.tables.joints import joint_limits
from handouts_build.trade.staves import DAMP_PERCENT, DRY_PERCENT

__all__ = ["EdgeSaid", "edge_numbers", "edge_said"]

_HAIR_MM = 0.02
_GAPS = 0.01
"""An edge that reaches behind the staves over all but this share of a turn leaves no gaps."""


class EdgeSaid(NamedTuple):
    """One thing that is found at a joint."""

    level: Level
    message: str
    remedy: str = ""
    advice: str = ""


def edge_numbers(fit: kernel.EdgeFit) -> dict[str, Any]:
    """What is kept of an edge in its groove: plain numbers, mm."""
    return {"edge": asdict(fit.edge), "clashes": [(clash.other, clash.volume_mm3) for clash in fit.clashes]}


def edge_said(
    edge: dict[str, Any], joint: kernel.Joint, keys: JointKeys | LetInKeys, wood: str, rule: Rule
) -> Iterator[EdgeSaid]:
    """Whether a base goes into its groove, whether it stays there, and whether it has room to swell.

    Args:
        edge: As `edge_numbers` keeps it.
        joint: The joint.
        keys: The author's own keys of it.
        wood: The base's, by the author's word.
        rule: For printing.
    """

    def long(mm: float) -> str:
        return length(mm, rule)

    base, groove = f"'{joint.piece}'", f"the {joint.groove}"
    if edge["catch_mm"] <= 0:
        yield EdgeSaid(
            Level.STOP,
            f"{base} is {long(edge['edge_mm'])} across, and does not reach into {groove}",
            f"make it wider: the floor of the groove is {long(edge['groove_mm'])} across",
        )
        return
    if edge["room_mm"] < -_HAIR_MM:
        yield EdgeSaid(
            Level.STOP,
            f"{base} is {long(-2 * edge['room_mm'])} too wide for {groove}, which is {long(edge['groove_mm'])} across "
            "at its floor",
            "make it narrower, or turn it until its flats lie along the staves",
        )
    else:
        yield from _moves(edge, base, groove, wood, long)
    yield from _thick(edge, base, groove, keys, long)
    if edge["open_share"] > _GAPS:
        yield EdgeSaid(
            Level.NOTE,
            f"{base} does not reach behind the staves at their joints: it leaves gaps there",
            "where it is to hold earth or water, saw it to as many sides as there are staves",
        )


def _moves(edge: dict[str, Any], base: str, groove: str, wood: str, long: Callable[[float], str]) -> Iterator[EdgeSaid]:
    """Room to swell, and whether it stays caught when it shrinks, by the movement of its wood along the rings."""
    published = lookup_wood(wood)
    share = published.c_tangential.value if published is not None and published.c_tangential is not None else None
    if share is None:
        return
    room, swells = 2 * edge["room_mm"], edge["edge_mm"] * share * DAMP_PERCENT
    if room < swells - _HAIR_MM:
        yield EdgeSaid(
            Level.MIND,
            f"{base} has {long(max(0.0, room))} of room in {groove}, and swells by {long(swells)} across its grain "
            f"when it takes up {decimal(DAMP_PERCENT, 0)} percent of moisture: it may burst the joints of the staves",
            f"make it {long(swells - max(0.0, room))} narrower, or the groove deeper",
        )
    left = edge["catch_mm"] - edge["room_mm"] - edge["edge_mm"] * share * DRY_PERCENT
    if left <= 0:
        yield EdgeSaid(
            Level.MIND,
            f"{base} lies {long(edge['catch_mm'])} behind the staves: pushed to one side, and "
            f"{decimal(DRY_PERCENT, 0)} percent drier, it comes out of {groove} at the other",
            "make the groove deeper, and the base as much wider",
        )


def _thick(
    edge: dict[str, Any], base: str, groove: str, keys: JointKeys | LetInKeys, long: Callable[[float], str]
) -> Iterator[EdgeSaid]:
    """Whether its edge goes into the width of the groove, and does not rattle there."""
    play = edge["wide_mm"] - edge["thick_mm"]
    if play < -_HAIR_MM:
        yield EdgeSaid(
            Level.STOP,
            f"{base} is {long(edge['thick_mm'])} thick at its edge, and {groove} is {long(edge['wide_mm'])} wide",
            "plane it thinner, or saw the groove wider",
        )
    elif play > joint_limits()["play"].value_mm and keys.loose:
        yield EdgeSaid(Level.NOTE, meant("Loose", f"{base} is {long(play)} thinner than {groove} is wide", keys.loose))
    elif play > joint_limits()["play"].value_mm:
        yield EdgeSaid(
            Level.MIND,
            f"{base} is {long(play)} thinner than {groove} is wide: it rattles",
            "leave it thicker, or saw the groove narrower",
            "or say why it may, at the joint: loose: …",
        )
