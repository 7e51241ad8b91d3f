"""The finished piece: parts put together, weighed and hung.

This module owns the author's joints on their way to the workpiece, and what is said of
the whole. Its picture is drawn elsewhere.
"""

from __future__ import annotations

import functools
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from handouts_build import workpiece as kernel
from handouts_build.compute.names import Ledger, Unsettled
from handouts_build.compute.solid.arranged import arrangement, measured_view
from handouts_build.compute.solid.carry import Carried, Solids
from handouts_build.compute.solid.edges import edge_numbers
from handouts_build.compute.solid.fits import JointJudge
from handouts_build.compute.solid.joint_numbers import fit_numbers
from handouts_build.compute.solid.measured import Recall, carried
from handouts_build.compute.solid.words import FACETS, textured
from handouts_build.language import in_a_row, tr, tr_later
from handouts_build.problems import near_miss
from handouts_build.quantities import Kind, Printed, Rule, decimal, millimetres, print_quantity, quantity
from handouts_build.schema import JointKeys, ProjectKeys
from handouts_build.schema.models import AssemblyKeys
from handouts_build.sheet import Sheet
from handouts_build.sheet.findings import Finding, Level
from handouts_build.sheet.stages import StageFact, Whole

__all__ = ["Together", "assembled", "put_together"]

_ABOUT = tr_later("The finished piece")
_HAIR_MM = 0.05
_LEAN_DEG = 3.0
"""A hanging piece that leans more is minded: common practice, no published source."""

_PUT_TOGETHER = 4
"""Finished pieces of this run that are kept: a project at its own sizes and at its ready ones is measured, and drawn
afterwards."""


@dataclass(frozen=True)
class Together:
    """The finished piece, with all that puts it together again."""

    parts: tuple[Carried, ...]
    """The first stays where it is."""
    joints: tuple[kernel.Joint, ...]
    whole: Whole
    findings: tuple[Finding, ...] = ()


def assembled(
    parts: tuple[Carried, ...], joints: tuple[kernel.Joint, ...], shop: kernel.ShopLimits, *, up: str = ""
) -> kernel.Assembly:
    """The parts put together.

    Args:
        parts: The first stays where it is.
        joints: From the first part outward.
        shop: What the shop has.
        up: The end of the first part that is above, `left` or `right`; empty where the piece lies.

    Raises:
        WorkpieceFault: If a joint names what is not there.
    """
    pieces = tuple(
        kernel.Piece(
            name=part.plan.part,
            stage=_finished(part, shop),
            density_g_mm3=part.densities[-1] or 0.0,
        )
        for part in parts
    )
    return _assembly(pieces, joints, {"left": kernel.End.RIGHT, "right": kernel.End.LEFT}.get(up))


@functools.lru_cache(_PUT_TOGETHER)
def _assembly(
    pieces: tuple[kernel.Piece, ...], joints: tuple[kernel.Joint, ...], down: kernel.End | None
) -> kernel.Assembly:
    """The same; a stage that is kept is known again by being the very same."""
    return kernel.assemble(pieces, joints, down=down)


def _finished(part: Carried, shop: kernel.ShopLimits) -> kernel.Stage:
    """A part as it is in the end: by its own steps, or by those of the part that it was put on and turned with."""
    if part.turned_on is None:
        return carried(part.plan, shop, part.limits)[-1]
    host = part.turned_on
    return carried(host.plan, shop, host.limits)[-1].lids[part.plan.part]


def put_together(
    sheet: Sheet, project: ProjectKeys, solids: Solids, *, ledger: Ledger, recall: Recall
) -> Together | None:
    """The finished piece; None after noting why it cannot be.

    Args:
        sheet: The project, worked out.
        project: Its model.
        solids: Its parts.
        ledger: Takes note of problems.
        recall: Where results are kept.
    """
    keys = project.assembly
    joints = _joints(keys, solids, ledger) if keys is not None else ()
    if joints is None:
        return None
    inside = {item.put for part in project.parts.values() for step in part.steps for item in step.let_in}
    own = [part.name for part in sheet.parts if part.name in solids.parts and part.name not in inside]
    if not joints and not own:
        return None
    names = [joints[0].onto, *(joint.piece for joint in joints)] if joints else own[:1]
    parts = tuple(solids.parts[name] for name in dict.fromkeys(names))
    up = (keys.up or "") if keys is not None else ""
    hangs = bool(keys is not None and keys.hangs and up)

    def made() -> bytes:
        try:
            whole = assembled(parts, joints, solids.shop, up=up)
            view = measured_view(whole, [part.plan.segments for part in parts], up)
            return json.dumps({**_numbers(whole, up if hangs else ""), "view": view}).encode()
        except kernel.WorkpieceFault as fault:
            return json.dumps({"fault": [fault.message, fault.hint], "joint": _failing(parts, joints, solids)}).encode()

    key = repr(
        [(part.plan.blank, part.plan.steps, part.plan.segments, part.limits, part.densities[-1]) for part in parts]
    )
    found = json.loads(recall(repr((key, solids.shop, joints, up, hangs)), made))
    if "fault" in found:
        ledger.note(("assembly", "joints", found["joint"]), *found["fault"])
        return None
    whole = _whole(sheet, found, [part.plan.part for part in parts], joints, up, keys is not None and keys.cut_away)
    whole = replace(
        whole,
        says=" ".join(filter(None, (whole.says, _textured(parts)))),
        facts=(*whole.facts, *_grain(parts, found["moved_mm"], sheet.rule)),
    )
    asked = keys.joints if keys is not None else ()
    woods = {name: part.wood for name, part in project.parts.items()}
    findings = _findings(found, joints, asked, sheet.rule, ledger, solids.parts, woods)
    return Together(parts, joints, whole, tuple(findings))


def _failing(parts: tuple[Carried, ...], joints: tuple[kernel.Joint, ...], solids: Solids) -> int:
    """Which joint is the first that cannot be made."""
    for count in range(1, len(joints)):
        used = {joints[0].onto, *(joint.piece for joint in joints[:count])}
        try:
            assembled(tuple(part for part in parts if part.plan.part in used), joints[:count], solids.shop)
        except kernel.WorkpieceFault:
            return count - 1
    return len(joints) - 1


def _joints(assembly: AssemblyKeys, solids: Solids, ledger: Ledger) -> tuple[kernel.Joint, ...] | None:
    """The author's joints; None after noting what is wrong with them."""
    made = []
    for index, joint in enumerate(assembly.joints):
        key = ("assembly", "joints", index)
        failed = False
        for word, name in (("put", joint.put), ("into", joint.into)):
            if name not in solids.parts:
                hint = near_miss(name, solids.parts) or "a part that is joined needs cuts"
                ledger.note((*key, word), f"'{name}' is not a part that is carried as a solid", hint)
                failed = True
        try:
            turn = ledger.value(joint.turn, (*key, "turn"), kind=Kind.ANGLE) if joint.turn is not None else None
        except Unsettled:
            failed = True
        try:
            apart = ledger.value(joint.apart, (*key, "apart"), kind=Kind.LENGTH) if joint.apart is not None else None
        except Unsettled:
            failed = True
        if not failed:
            made.append(
                kernel.Joint(
                    piece=joint.put, onto=joint.into, tenon=joint.tenon or "", hole=joint.hole or "",
                    groove=joint.groove or "", far=joint.far,
                    turn_deg=kernel.in_deg(turn) if turn is not None else 0.0,
                    apart_mm=kernel.in_mm(apart) if apart is not None else 0.0,
                )
            )  # fmt: skip
    return tuple(made) if len(made) == len(assembly.joints) else None


def _numbers(whole: kernel.Assembly, hung_by: str) -> dict[str, Any]:
    """What is kept of the whole: plain numbers."""
    boxes = [placed.wood.box_mm for placed in whole.placed]
    low = [min(box[axis] for box in boxes) for axis in range(3)]
    high = [max(box[axis + 3] for box in boxes) for axis in range(3)]
    weighed = all(placed.piece.density_g_mm3 > 0 for placed in whole.placed)
    made: dict[str, Any] = {
        "volume_mm3": whole.volume_mm3,
        "weights_g": [placed.wood.volume_mm3 * placed.piece.density_g_mm3 for placed in whole.placed]
        if weighed
        else None,
        "center_mm": whole.center_mm,
        "moved_mm": [abs(placed.frame.origin[2]) for placed in whole.placed],
        "long_mm": high[2] - low[2],
        "across_mm": max(high[0] - low[0], high[1] - low[1]),
        "low_mm": low[2],
        "high_mm": high[2],
        "fits": [edge_numbers(fit) if isinstance(fit, kernel.EdgeFit) else fit_numbers(fit) for fit in whole.fits],
    }
    if hung_by:
        hanging = whole.hanging((0.0, 0.0, low[2] if hung_by == "left" else high[2]))
        made["tilt_deg"] = hanging.tilt_deg
    return made


def _whole(
    sheet: Sheet, found: dict[str, Any], names: list[str], joints: Sequence[kernel.Joint], up: str, cut_away: bool
) -> Whole:
    """What is said of the finished piece."""
    rule = sheet.rule
    arranged = arrangement(found["view"], sheet, names)
    # A length along the axis is printed as the drawing's chain of lengths has it, and a width that is the largest
    # diameter as that: the solid is as wide as the corners that its circles are drawn with.
    largest = next((each for each in arranged.diameters if each.largest), None)
    if largest is not None and abs(found["across_mm"] - 2 * largest.at[1]) <= FACETS * found["across_mm"]:
        across = largest.printed
    else:
        across = print_quantity(millimetres(found["across_mm"]), rule)
    numbers = {"long_mm": next(each.printed for each in arranged.lengths if each.overall), "across_mm": across}
    along, square = ("long_mm", "across_mm")
    if not up and found["across_mm"] > found["long_mm"]:
        # A piece that lies is as long as it is from end to end, whichever way its first part was turned.
        along, square = square, along
    long, across = numbers[along], numbers[square]
    facts = [
        StageFact("long", tr("Finished height") if up else tr("Finished length"), millimetres(found[along]), long),
        StageFact("across", tr("Finished width"), millimetres(found[square]), across),
    ]
    counts = {part.name: part.count for part in sheet.parts}
    alike = [(part.title, part.count) for part in sheet.parts if part.name in names and part.count > 1]
    facts += _weights(found["weights_g"], [counts[name] for name in names], rule)
    end = found["low_mm"] if up != "right" else found["high_mm"]
    # Of several alike one is drawn: where all of them balance does not follow.
    balances = not alike or len(names) == 1
    center = millimetres(abs(found["center_mm"][2] - end))
    where = tr("Center of gravity, from the top") if up else tr("Center of gravity, from the left end")
    if balances:
        facts.append(StageFact("center", where, center, print_quantity(center, rule)))
    if "tilt_deg" in found and balances:
        tilt = quantity(found["tilt_deg"], "deg")
        printed = Printed(f"{decimal(found['tilt_deg'], 1)}°", "", tilt)
        facts.append(StageFact("tilt", tr("Hangs out of plumb by"), tilt, printed))
    size = (
        tr("{long} high and {across} wide", long=long, across=across)
        if up
        else tr("{long} long and {across} wide", long=long, across=across)
    )
    if len(names) > 1:
        sentences = [
            tr(
                "{piece}, finished, put together from {parts} parts: {size}.",
                piece=sheet.title,
                parts=len(names),
                size=size,
            )
        ]
        sentences += [tr("{part}: one of {alike} alike is shown.", part=title, alike=count) for title, count in alike]
    elif alike:
        sentences = [
            tr("{piece}, finished, one of {alike} alike: {size}.", piece=sheet.title, alike=alike[0][1], size=size)
        ]
    else:
        sentences = [tr("{piece}, finished: {size}.", piece=sheet.title, size=size)]
    sentences += [
        tr(
            "Drawn {apart} apart at the {joint}; its sizes are those of the closed piece.",
            apart=print_quantity(millimetres(joint.apart_mm), rule),
            joint=joint.tenon or joint.groove,
        )
        for joint in joints
        if joint.apart_mm
    ]
    if cut_away:
        sentences.append(tr("A quarter is cut away to show the inside."))
    return Whole(" ".join(sentences), tuple(facts), up, cut_away, arranged)


def _weights(weights_g: Sequence[float] | None, counts: Sequence[int], rule: Rule) -> Iterator[StageFact]:
    """What the piece weighs, each of its parts as often as it is made; of a set, what each weighs too.

    Args:
        weights_g: Of one of each part; None where no table knows its wood.
        counts: How many are made of each.
        rule: For printing.
    """
    if weights_g is None:
        return

    def fact(name: str, says: str, grams: float) -> StageFact:
        weight = quantity(grams, "g")
        return StageFact(name, says, weight, print_quantity(weight, rule))

    whole = sum(weight * count for weight, count in zip(weights_g, counts, strict=True))
    if len(counts) == 1 and counts[0] > 1:
        yield fact("each", tr("Each weighs"), weights_g[0])
        yield fact("weight", tr("All {count} weigh", count=counts[0]), whole)
    else:
        yield fact("weight", tr("Weighs"), whole)


def _textured(parts: Sequence[Carried]) -> str:
    """What of the finished piece is textured, as a sentence; empty where nothing is."""
    bands = [
        textured(mark)
        for part in parts
        for step in part.plan.steps
        for mark in step.marks
        if isinstance(mark, kernel.TextureBand)
    ]
    return tr("Textured: {bands}.", bands=in_a_row(bands)) if bands else ""


def _grain(parts: Sequence[Carried], moved_mm: Sequence[float], rule: Rule) -> Iterator[StageFact]:
    """What the grain lacks where a part meets the one that it was parted from: kerf, spigot and all that was faced off.

    Both keep the places of the one blank, so that it is as much as the one is moved toward the other.
    """
    for part, moved in zip(parts, moved_mm, strict=True):
        blank = part.plan.blank
        if isinstance(blank, kernel.Offcut) and blank.steps == parts[0].plan.steps and moved > _HAIR_MM:
            lost = millimetres(moved)
            yield StageFact("grain", tr("Grain missing at the joint"), lost, print_quantity(lost, rule))


def _cut_at(part: Carried, name: str) -> int:
    """Number of the step at which something is cut; nought where no cut is called so."""
    steps = zip(part.plan.numbers, part.plan.steps, strict=True)
    return next((number for number, step in steps if any(cut.name == name for cut in step.cuts)), 0)


def _findings(
    found: dict[str, Any], joints: tuple[kernel.Joint, ...], keys: Sequence[JointKeys], rule: Rule, ledger: Ledger,
    parts: Mapping[str, Carried], woods: Mapping[str, str],
) -> Iterator[Finding]:  # fmt: skip
    """What is said of every joint, and of a piece that hangs askew."""
    for index, (fit, joint) in enumerate(zip(found["fits"], joints, strict=True)):
        place = ledger.document.place(("assembly", "joints", index))
        first = _cut_at(parts[joint.piece], joint.tenon) < _cut_at(parts[joint.onto], joint.hole)
        judge = JointJudge(fit, joint, keys[index], rule, place, tr(_ABOUT), first)
        judged = list(judge.edge(woods[joint.piece]) if joint.groove else judge.findings())
        yield from judged
        if not any(finding.level is Level.STOP for finding in judged):
            yield from judge.clashes()
    if found.get("tilt_deg", 0.0) > _LEAN_DEG:
        yield Finding(
            Level.MIND,
            tr(_ABOUT),
            tr("it hangs {tilt}° out of plumb", tilt=decimal(found["tilt_deg"], 1)),
            tr("move the point it hangs from over the center of gravity"),
            ledger.document.place(("assembly",)),
        )
