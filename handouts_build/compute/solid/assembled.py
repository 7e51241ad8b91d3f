"""The finished piece: parts put together, weighed and hung.

This module owns the author's joints on their way to the workpiece, and what is said of
the whole. Its picture is drawn elsewhere.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from handouts_build import workpiece as kernel
from handouts_build.compute.names import Ledger, Unsettled
from handouts_build.compute.solid.carry import Carried, Solids
from handouts_build.compute.solid.measured import Recall, carried
from handouts_build.compute.solid.words import length
from handouts_build.problems import Place, near_miss
from handouts_build.quantities import Kind, Printed, Rule, decimal, millimetres, print_quantity, quantity
from handouts_build.sheet import Sheet
from handouts_build.sheet.findings import Finding, Level
from handouts_build.sheet.stages import StageFact, Whole
from handouts_build.tables.joints import joint_limits

__all__ = ["Together", "assembled", "put_together"]

_ABOUT = "The finished piece"
_FACETS = 1.002
"""A round is drawn with straight sides, whose corners stand out by no more than this."""
_HAIR_MM = 0.05
_LEAN_DEG = 3.0
"""A hanging piece that leans more is minded: common practice, no published source."""


@dataclass(frozen=True)
class Together:
    """The finished piece, with all that puts it together again."""

    parts: tuple[Carried, ...]
    """The first stays where it is."""
    joints: tuple[kernel.Joint, ...]
    whole: Whole
    findings: tuple[Finding, ...] = ()


def assembled(parts: tuple[Carried, ...], joints: tuple[kernel.Joint, ...], shop: kernel.ShopLimits) -> kernel.Assembly:
    """The parts put together.

    Raises:
        WorkpieceFault: If a joint names what is not there.
    """
    pieces = [
        kernel.Piece(
            name=one.plan.part, stage=carried(one.plan, shop, one.limits)[-1], density_g_mm3=one.densities[-1] or 0.0
        )
        for one in parts
    ]
    return kernel.assemble(pieces, joints)


def put_together(sheet: Sheet, project: Any, solids: Solids, *, ledger: Ledger, recall: Recall) -> Together | None:
    """The finished piece; None after noting why it cannot be.

    Args:
        sheet: The project, worked out.
        project: Its model.
        solids: Its parts.
        ledger: Takes note of problems.
        recall: Where results are kept.
    """
    said = project.assembly
    joints = _joints(said, solids, ledger) if said is not None else ()
    if joints is None:
        return None
    names = [next(iter(solids.parts)), *(joint.piece for joint in joints)] if joints else [next(iter(solids.parts))]
    if joints:
        names[0] = joints[0].onto
    parts = tuple(solids.parts[name] for name in dict.fromkeys(names))
    up = (said.up or "") if said is not None else ""
    hangs = bool(said is not None and said.hangs and up)

    def made() -> bytes:
        try:
            return json.dumps(_numbers(assembled(parts, joints, solids.shop), up if hangs else "")).encode()
        except kernel.WorkpieceFault as fault:
            return json.dumps({"fault": [fault.message, fault.hint], "joint": _failing(parts, joints, solids)}).encode()

    key = repr([(one.plan.blank, one.plan.steps, one.plan.segments, one.limits, one.densities[-1]) for one in parts])
    found = json.loads(recall(repr((key, solids.shop, joints, up, hangs)), made))
    if "fault" in found:
        ledger.note(("assembly", "joints", found["joint"]), *found["fault"])
        return None
    whole = _whole(sheet, found, [_title(sheet, one) for one in parts], up, said is not None and said.cut_away)
    asked = said.joints if said is not None else ()
    return Together(parts, joints, whole, tuple(_findings(found, joints, asked, sheet.rule, ledger)))


def _failing(parts: tuple[Carried, ...], joints: tuple[kernel.Joint, ...], solids: Solids) -> int:
    """Which joint is the first that cannot be made."""
    for count in range(1, len(joints)):
        used = {joints[0].onto, *(joint.piece for joint in joints[:count])}
        try:
            assembled(tuple(one for one in parts if one.plan.part in used), joints[:count], solids.shop)
        except kernel.WorkpieceFault:
            return count - 1
    return len(joints) - 1


def _joints(said: Any, solids: Solids, ledger: Ledger) -> tuple[kernel.Joint, ...] | None:
    """The author's joints; None after noting what is wrong with them."""
    made = []
    for index, one in enumerate(said.joints):
        key = ("assembly", "joints", index)
        failed = False
        for word, name in (("put", one.put), ("into", one.into)):
            if name not in solids.parts:
                hint = near_miss(name, solids.parts) or "a part that is joined needs cuts"
                ledger.note((*key, word), f"'{name}' is not a part that is carried as a solid", hint)
                failed = True
        try:
            turn = ledger.value(one.turn, (*key, "turn"), kind=Kind.ANGLE) if one.turn is not None else None
        except Unsettled:
            failed = True
        if not failed:
            made.append(
                kernel.Joint(
                    piece=one.put, tenon=one.tenon, onto=one.into, hole=one.hole, far=one.far,
                    turn_deg=kernel.in_deg(turn) if turn is not None else 0.0,
                )
            )  # fmt: skip
    return tuple(made) if len(made) == len(said.joints) else None


def _numbers(whole: kernel.Assembly, hung_by: str) -> dict[str, Any]:
    """What is kept of the whole: plain numbers."""
    boxes = [one.wood.box_mm for one in whole.placed]
    low = [min(box[axis] for box in boxes) for axis in range(3)]
    high = [max(box[axis + 3] for box in boxes) for axis in range(3)]
    told = all(one.piece.density_g_mm3 > 0 for one in whole.placed)
    made: dict[str, Any] = {
        "volume_mm3": whole.volume_mm3,
        "weight_g": whole.weight_g if told else None,
        "center_mm": whole.center_mm,
        "long_mm": high[2] - low[2],
        "across_mm": max(high[0] - low[0], high[1] - low[1]),
        "low_mm": low[2],
        "high_mm": high[2],
        "fits": [
            {
                "play_mm": fit.play_mm,
                "engaged_mm": fit.engaged_mm,
                "spare_mm": fit.spare_mm if math.isfinite(fit.spare_mm) else None,
                "overlap_mm3": fit.overlap_mm3,
                "hole_mm": fit.hole_mm,
                "beyond_mm": fit.beyond_mm,
                "gone": fit.gone,
            }
            for fit in whole.fits
        ],
    }
    if hung_by:
        hanging = whole.hanging((0.0, 0.0, low[2] if hung_by == "left" else high[2]))
        made["tilt_deg"] = hanging.tilt_deg
    return made


def _title(sheet: Sheet, one: Carried) -> str:
    return next(part.title for part in sheet.parts if part.name == one.plan.part)


def _whole(sheet: Sheet, found: dict[str, Any], titles: list[str], up: str, cut_away: bool) -> Whole:
    """What is said of the finished piece."""
    rule = sheet.rule
    along, square = ("long_mm", "across_mm")
    if not up and found["across_mm"] > found["long_mm"]:
        # A piece that lies is as long as it is from end to end, whichever way its first part was turned.
        along, square = square, along
    long, across = (print_quantity(millimetres(found[name]), rule) for name in (along, square))
    facts = [
        StageFact("long", "Finished height" if up else "Finished length", millimetres(found[along]), long),
        StageFact("across", "Finished width", millimetres(found[square]), across),
    ]
    if found["weight_g"] is not None:
        weight = quantity(found["weight_g"], "g")
        facts.append(StageFact("weight", "Weighs", weight, print_quantity(weight, rule)))
    end = found["low_mm"] if up != "right" else found["high_mm"]
    center = millimetres(abs(found["center_mm"][2] - end))
    where = "Center of gravity, from the top" if up else "Center of gravity, from the left end"
    facts.append(StageFact("center", where, center, print_quantity(center, rule)))
    if "tilt_deg" in found:
        tilt = quantity(found["tilt_deg"], "deg")
        printed = Printed(f"{decimal(found['tilt_deg'], 1)}°", "", tilt)
        facts.append(StageFact("tilt", "Hangs out of plumb by", tilt, printed))
    joined = f", put together from {len(titles)} parts" if len(titles) > 1 else ""
    high, wide = ("high", "wide") if up else ("long", "wide")
    says = f"{sheet.title}, finished{joined}: {long} {high} and {across} {wide}."
    if cut_away:
        says += " A quarter is cut away to show the inside."
    return Whole(says, tuple(facts), up, cut_away)


def _room(play_mm: float, what: str, hole: str, said: Any, rule: Rule, place: Place) -> Iterator[Finding]:
    """Whether a tenon that goes in has room for glue, and not too much."""
    limits = joint_limits()
    if play_mm < limits["glue room"].value_mm:
        yield Finding(
            Level.NOTE,
            _ABOUT,
            f"{what} is as thick as the {hole}: there is no room for glue",
            "turn it 1/64 in (0.4 mm) thinner where it is glued; one that is only pressed in is turned to fit",
            place,
        )
    if play_mm <= limits["play"].value_mm:
        return
    most = print_quantity(millimetres(limits["play"].value_mm), Rule(lead=rule.lead))
    message = f"{what} is {length(play_mm, rule)} thinner than the {hole}; over about {most}"
    if said.loose:
        yield Finding(
            Level.NOTE, _ABOUT, f"{message} it sits loosely. Accepted, because: {said.loose.rstrip('.')}", "", place
        )
    else:
        yield Finding(
            Level.MIND,
            _ABOUT,
            f"{message} it sits loosely, and glue does not fill the gap",
            "turn the tenon to the hole, or make the hole smaller",
            place,
            advice="or say why it may, at the joint: loose: …",
        )


def _findings(
    found: dict[str, Any], joints: tuple[kernel.Joint, ...], said: Sequence[Any], rule: Rule, ledger: Ledger
) -> Iterator[Finding]:
    """Tenons that do not go in, do not seat or sit loosely, waste in their way, and a piece that hangs askew."""
    for index, (fit, joint) in enumerate(zip(found["fits"], joints, strict=True)):
        place = ledger.document.place(("assembly", "joints", index))
        what = f"the {joint.tenon} of '{joint.piece}'"
        if fit["play_mm"] < 0:
            yield Finding(
                Level.STOP,
                _ABOUT,
                f"{what} is {length(-fit['play_mm'], rule)} too thick for the {joint.hole}",
                "make the tenon thinner or the hole wider",
                place,
            )
        elif fit["gone"]:
            yield Finding(
                Level.STOP, _ABOUT, f"a later cut took the wood around the {joint.hole}, where {what} goes",
                "name the hole that is there when it is put together", place,
            )  # fmt: skip
        else:
            yield from _room(fit["play_mm"], what, joint.hole, said[index], rule, place)
        if fit["beyond_mm"] > fit["hole_mm"] * _FACETS + _HAIR_MM:
            yield Finding(
                Level.STOP,
                _ABOUT,
                f"wood {length(fit['beyond_mm'], rule)} across is left past the end of {what}, and has to go through "
                f"the {joint.hole}, which is {length(fit['hole_mm'], rule)} across",
                "turn it away or part it off, or begin the profile so that the tenon is the end of the wood",
                place,
            )
        if fit["spare_mm"] is not None and fit["spare_mm"] < 0:
            yield Finding(
                Level.STOP,
                _ABOUT,
                f"{what} is {length(-fit['spare_mm'], rule)} too long for the {joint.hole}: its shoulder does not seat",
                "make the tenon shorter or the hole deeper",
                place,
            )
        if fit["engaged_mm"] <= 0:
            yield Finding(
                Level.STOP, _ABOUT, f"{what} does not reach into the {joint.hole}",
                "check which end of the hole it goes into", place,
            )  # fmt: skip
    if found.get("tilt_deg", 0.0) > _LEAN_DEG:
        yield Finding(
            Level.MIND,
            _ABOUT,
            f"it hangs {decimal(found['tilt_deg'], 1)}° out of plumb",
            "move the point it hangs from over the center of gravity",
            ledger.document.place(("assembly",)),
        )
