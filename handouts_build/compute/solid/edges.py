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
from handouts_build.language import tr
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

    base, groove = f"'{joint.piece}'", tr("the {groove}", groove=joint.groove)
    if edge["catch_mm"] <= 0:
        yield EdgeSaid(
            Level.STOP,
            tr(
                "{base} is {edge} across, and does not reach into {groove}",
                base=base,
                edge=long(edge["edge_mm"]),
                groove=groove,
            ),
            tr("make it wider: the floor of the groove is {floor} across", floor=long(edge["groove_mm"])),
        )
        return
    if edge["room_mm"] < -_HAIR_MM:
        yield EdgeSaid(
            Level.STOP,
            tr(
                "{base} is {much} too wide for {groove}, which is {floor} across at its floor",
                base=base,
                much=long(-2 * edge["room_mm"]),
                groove=groove,
                floor=long(edge["groove_mm"]),
            ),
            tr("make it narrower, or turn it until its flats lie along the staves"),
        )
    else:
        yield from _moves(edge, base, groove, wood, long)
    yield from _thick(edge, base, groove, keys, long)
    if edge["open_share"] > _GAPS:
        yield EdgeSaid(
            Level.NOTE,
            tr("{base} does not reach behind the staves at their joints: it leaves gaps there", base=base),
            tr("where it is to hold earth or water, saw it to as many sides as there are staves"),
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
            tr(
                "{base} has {room} of room in {groove}, and swells by {swells} across its grain when it takes up "
                "{moisture} percent of moisture: it may burst the joints of the staves",
                base=base,
                room=long(max(0.0, room)),
                groove=groove,
                swells=long(swells),
                moisture=decimal(DAMP_PERCENT, 0),
            ),
            tr("make it {much} narrower, or the groove deeper", much=long(swells - max(0.0, room))),
        )
    left = edge["catch_mm"] - edge["room_mm"] - edge["edge_mm"] * share * DRY_PERCENT
    if left <= 0:
        yield EdgeSaid(
            Level.MIND,
            tr(
                "{base} lies {caught} behind the staves: pushed to one side, and {moisture} percent drier, it comes "
                "out of {groove} at the other",
                base=base,
                caught=long(edge["catch_mm"]),
                moisture=decimal(DRY_PERCENT, 0),
                groove=groove,
            ),
            tr("make the groove deeper, and the base as much wider"),
        )


def _thick(
    edge: dict[str, Any], base: str, groove: str, keys: JointKeys | LetInKeys, long: Callable[[float], str]
) -> Iterator[EdgeSaid]:
    """Whether its edge goes into the width of the groove, and does not rattle there."""
    play = edge["wide_mm"] - edge["thick_mm"]
    if play < -_HAIR_MM:
        yield EdgeSaid(
            Level.STOP,
            tr(
                "{base} is {thick} thick at its edge, and {groove} is {wide} wide",
                base=base,
                thick=long(edge["thick_mm"]),
                groove=groove,
                wide=long(edge["wide_mm"]),
            ),
            tr("plane it thinner, or saw the groove wider"),
        )
    elif play > joint_limits()["play"].value_mm and keys.loose:
        sentence = tr("{base} is {play} thinner than {groove} is wide", base=base, play=long(play), groove=groove)
        yield EdgeSaid(Level.NOTE, meant(tr("Loose on purpose"), sentence, keys.loose))
    elif play > joint_limits()["play"].value_mm:
        yield EdgeSaid(
            Level.MIND,
            tr("{base} is {play} thinner than {groove} is wide: it rattles", base=base, play=long(play), groove=groove),
            tr("leave it thicker, or saw the groove narrower"),
            "or say why it may, at the joint: loose: …",
        )
