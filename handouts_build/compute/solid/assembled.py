"""The finished piece: parts put together, weighed and hung.

This module owns the author's joints on their way to the workpiece, and what is said of
the whole. Its picture is drawn elsewhere.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from typing import Any

from handouts_build import workpiece as kernel
from handouts_build.compute.names import Ledger, Unsettled
from handouts_build.compute.solid.arranged import arrangement, measured_view
from handouts_build.compute.solid.carry import Carried, Solids
from handouts_build.compute.solid.edges import edge_numbers, edge_said
from handouts_build.compute.solid.measured import Recall, carried
from handouts_build.compute.solid.words import length, the
from handouts_build.compute.working import meant
from handouts_build.problems import Place, near_miss
from handouts_build.quantities import Kind, Printed, Rule, decimal, millimetres, of_kind, print_quantity, quantity
from handouts_build.schema import JointKeys, ProjectKeys
from handouts_build.schema.models import AssemblyKeys
from handouts_build.sheet import Sheet
from handouts_build.sheet.findings import Finding, Level
from handouts_build.sheet.stages import StageFact, Whole
from handouts_build.tables.joints import joint_limits
from handouts_build.trade.snap_fit import MOST_STRETCH

__all__ = ["Together", "assembled", "put_together"]

_ABOUT = "The finished piece"
_FACETS = 1.002
"""A round is drawn with straight sides, whose corners stand out by no more than this."""
_HAIR_MM = 0.05
_SEATED = 0.5
"""Less of a tenon than this share in its hole is minded: common practice, no published source."""
_SAME_PITCH = 0.005
"""Two pitches that differ by less of the coarser run in each other over a few turns: common practice, no published
source."""
_CAUGHT = 0.5
"""Less of a thread's depth than this share behind the ridges of the other is minded: common practice, no published
source."""
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
    pieces = [
        kernel.Piece(
            name=part.plan.part,
            stage=carried(part.plan, shop, part.limits)[-1],
            density_g_mm3=part.densities[-1] or 0.0,
        )
        for part in parts
    ]
    down = {"left": kernel.End.RIGHT, "right": kernel.End.LEFT}.get(up)
    return kernel.assemble(pieces, joints, down=down)


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
    own = [part.name for part in sheet.parts if part.name in solids.parts]
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
        whole, says=whole.says + _textured(parts), facts=(*whole.facts, *_grain(parts, found["moved_mm"], sheet.rule))
    )
    asked = keys.joints if keys is not None else ()
    woods = {name: part.wood for name, part in project.parts.items()}
    told = _findings(found, joints, asked, sheet.rule, ledger, solids.parts, woods)
    return Together(parts, joints, whole, tuple(told))


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
    told = all(placed.piece.density_g_mm3 > 0 for placed in whole.placed)
    made: dict[str, Any] = {
        "volume_mm3": whole.volume_mm3,
        "weights_g": [placed.wood.volume_mm3 * placed.piece.density_g_mm3 for placed in whole.placed] if told else None,
        "center_mm": whole.center_mm,
        "moved_mm": [abs(placed.frame.origin[2]) for placed in whole.placed],
        "long_mm": high[2] - low[2],
        "across_mm": max(high[0] - low[0], high[1] - low[1]),
        "low_mm": low[2],
        "high_mm": high[2],
        "fits": [edge_numbers(fit) if isinstance(fit, kernel.EdgeFit) else _tenon_in_hole(fit) for fit in whole.fits],
    }
    if hung_by:
        hanging = whole.hanging((0.0, 0.0, low[2] if hung_by == "left" else high[2]))
        made["tilt_deg"] = hanging.tilt_deg
    return made


def _tenon_in_hole(fit: kernel.Fit) -> dict[str, Any]:
    """What is kept of a tenon in its hole."""
    return {
        "play_mm": fit.play_mm if math.isfinite(fit.hole_mm) else None,
        "engaged_mm": fit.engaged_mm,
        "spare_mm": fit.spare_mm if math.isfinite(fit.spare_mm) else None,
        "hole_mm": fit.hole_mm if math.isfinite(fit.hole_mm) else None,
        "tenon_mm": fit.tenon_mm,
        "named_mm": fit.named_mm,
        "long_mm": fit.long_mm,
        "beyond_mm": fit.beyond_mm,
        "gone": fit.gone,
        "thread": _thread(fit.thread) if fit.thread is not None else None,
        "snap": asdict(fit.snap) if fit.snap is not None else None,
        "half_threaded": fit.half_threaded,
        "clashes": [(clash.other, clash.volume_mm3) for clash in fit.clashes],
    }


def _thread(thread: kernel.ThreadFit) -> dict[str, Any]:
    """What is kept of one thread in another."""
    return {
        "pitch_mm": (thread.outside.pitch_mm, thread.inside.pitch_mm),
        "starts": (thread.outside.starts, thread.inside.starts),
        "relief_mm": (thread.outside.relief_mm, thread.inside.relief_mm),
        "depth_mm": min(thread.outside.depth_mm, thread.inside.depth_mm),
        "play_mm": thread.root_mm - thread.ridge_mm,
        "overlap_mm": thread.overlap_mm,
        "engaged_mm": thread.engaged_mm,
        "turns": thread.turns,
    }


def _whole(
    sheet: Sheet, found: dict[str, Any], names: list[str], joints: Sequence[kernel.Joint], up: str, cut_away: bool
) -> Whole:
    """What is said of the finished piece."""
    rule = sheet.rule
    arranged = arrangement(found["view"], sheet, names)
    # A length along the axis is printed as the drawing's chain of lengths has it.
    told = {
        "long_mm": next(each.printed for each in arranged.lengths if each.overall),
        "across_mm": print_quantity(millimetres(found["across_mm"]), rule),
    }
    along, square = ("long_mm", "across_mm")
    if not up and found["across_mm"] > found["long_mm"]:
        # A piece that lies is as long as it is from end to end, whichever way its first part was turned.
        along, square = square, along
    long, across = told[along], told[square]
    facts = [
        StageFact("long", "Finished height" if up else "Finished length", millimetres(found[along]), long),
        StageFact("across", "Finished width", millimetres(found[square]), across),
    ]
    counts = {part.name: part.count for part in sheet.parts}
    alike = [(part.title, part.count) for part in sheet.parts if part.name in names and part.count > 1]
    facts += _weights(found["weights_g"], [counts[name] for name in names], rule)
    end = found["low_mm"] if up != "right" else found["high_mm"]
    # Of several alike one is drawn: where all of them balance does not follow.
    balances = not alike or len(names) == 1
    center = millimetres(abs(found["center_mm"][2] - end))
    where = "Center of gravity, from the top" if up else "Center of gravity, from the left end"
    if balances:
        facts.append(StageFact("center", where, center, print_quantity(center, rule)))
    if "tilt_deg" in found and balances:
        tilt = quantity(found["tilt_deg"], "deg")
        printed = Printed(f"{decimal(found['tilt_deg'], 1)}°", "", tilt)
        facts.append(StageFact("tilt", "Hangs out of plumb by", tilt, printed))
    joined = f", put together from {len(names)} parts" if len(names) > 1 else ""
    high, wide = ("high", "wide") if up else ("long", "wide")
    of_set = f", one of {alike[0][1]} alike" if alike and len(names) == 1 else ""
    says = f"{sheet.title}, finished{joined}{of_set}: {long} {high} and {across} {wide}."
    if len(names) > 1:
        says += "".join(f" {title}: one of {count} alike is shown." for title, count in alike)
    for joint in joints:
        if joint.apart_mm:
            apart = print_quantity(millimetres(joint.apart_mm), rule)
            says += (
                f" Drawn {apart} apart at the {joint.tenon or joint.groove}; its sizes are those of the closed piece."
            )
    if cut_away:
        says += " A quarter is cut away to show the inside."
    return Whole(says, tuple(facts), up, cut_away, arranged)


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
        yield fact("each", "Each weighs", weights_g[0])
        yield fact("weight", f"All {counts[0]} weigh", whole)
    else:
        yield fact("weight", "Weighs", whole)


def _textured(parts: Sequence[Carried]) -> str:
    """What of the finished piece is textured, as a sentence; empty where nothing is."""
    bands = [
        f"{the(mark.name)} with a {mark.tool.value}"
        for part in parts
        for step in part.plan.steps
        for mark in step.marks
        if isinstance(mark, kernel.TextureBand)
    ]
    return f" Textured: {', '.join(bands)}." if bands else ""


def _grain(parts: Sequence[Carried], moved_mm: Sequence[float], rule: Rule) -> Iterator[StageFact]:
    """What the grain lacks where a part meets the one that it was parted from: kerf, spigot and all that was faced off.

    Both keep the places of the one blank, so that it is as much as the one is moved toward the other.
    """
    for part, moved in zip(parts, moved_mm, strict=True):
        blank = part.plan.blank
        if isinstance(blank, kernel.Offcut) and blank.steps == parts[0].plan.steps and moved > _HAIR_MM:
            lost = millimetres(moved)
            yield StageFact("grain", "Grain missing at the joint", lost, print_quantity(lost, rule))


@dataclass(frozen=True)
class _Judge:
    """What is said of one joint, by what was measured on its two solids."""

    fit: dict[str, Any]
    joint: kernel.Joint
    accepted: JointKeys
    """The author's own keys of it."""
    rule: Rule
    place: Place
    first: bool = False
    """Whether the tenon is cut before the hole."""

    @property
    def tenon(self) -> str:
        return f"the {self.joint.tenon} of '{self.joint.piece}'"

    def says(self, level: Level, message: str, remedy: str = "", *, advice: str = "") -> Finding:
        return Finding(level, _ABOUT, message, remedy, self.place, advice=advice)

    def findings(self) -> Iterator[Finding]:
        """Whether it goes in, how it seats, and what stands in its way."""
        hole = self.joint.hole
        if self.fit["tenon_mm"] <= 0:
            yield self.says(
                Level.STOP, f"a later cut took all the wood of {self.tenon}", "name the tenon that is there in the end"
            )
            return
        if self.fit["gone"] or self.fit["hole_mm"] is None:
            yield self.says(
                Level.STOP, f"a later cut took the wood around the {hole}, where {self.tenon} goes",
                "name the hole that is there when it is put together",
            )  # fmt: skip
        elif self.fit["thread"] is not None:
            yield from self._screwed(self.fit["thread"])
        elif self.fit["half_threaded"]:
            yield self.says(
                Level.STOP, f"only one of {self.tenon} and the {hole} has a thread",
                "name the two threads: the joint's tenon is the outside thread, its hole the inside thread",
            )  # fmt: skip
        elif self.fit["play_mm"] < 0:
            yield from self._too_thick()
        else:
            yield from self._room()
        if self.fit["snap"] is not None and self.fit["tenon_mm"] > 0:
            yield from self._snaps(self.fit["snap"])
        yield from self._waste()
        yield from self._depth()

    def _snaps(self, snap: dict[str, float]) -> Iterator[Finding]:
        """Whether a bead catches, lies in a groove, and gets there without splitting the lid."""
        hole, over = self.joint.hole, snap["bead_mm"] - snap["mouth_mm"]
        if over <= 0:
            yield self.says(
                Level.MIND,
                f"the bead on {self.tenon} is {length(snap['bead_mm'], self.rule)} across, and the {hole} "
                f"{length(snap['mouth_mm'], self.rule)}: it does not catch",
                "make the bead higher, or the hole narrower",
            )
            return
        if snap["groove_mm"] <= snap["mouth_mm"] + _HAIR_MM:
            yield self.says(
                Level.STOP,
                f"the bead on {self.tenon} comes to lie {length(snap['at_mm'], self.rule)} in from the mouth of the "
                f"{hole}, and there is no groove",
                "cut an inside groove there, or move the bead",
            )
        elif snap["groove_mm"] < snap["bead_mm"] - _HAIR_MM:
            yield self.says(
                Level.MIND,
                f"the groove is {length(snap['groove_mm'], self.rule)} across where the bead lies, and the bead "
                f"{length(snap['bead_mm'], self.rule)}: the lid stays stretched",
                "cut the groove deeper than the bead is high",
            )
        if over > MOST_STRETCH * snap["mouth_mm"]:
            yield self.says(
                Level.MIND,
                f"the {hole} has to stretch by {length(over, self.rule)} to let the bead on {self.tenon} pass, "
                f"{decimal(100 * over / snap['mouth_mm'], 1)} % of its width; more than "
                f"{decimal(100 * MOST_STRETCH, 0)} % may split it",
                "make the bead lower",
            )

    def _screwed(self, thread: dict[str, Any]) -> Iterator[Finding]:
        """Whether one thread goes into the other, and holds."""
        hole = self.joint.hole
        pitches, starts = thread["pitch_mm"], thread["starts"]
        if abs(pitches[0] - pitches[1]) > _SAME_PITCH * max(pitches) or starts[0] != starts[1]:
            told = [
                f"{length(pitch, self.rule)}{f' with {count} starts' if count > 1 else ''}"
                for pitch, count in zip(pitches, starts, strict=True)
            ]
            yield self.says(
                Level.STOP, f"the pitch of {self.tenon} is {told[0]}, and that of the {hole} {told[1]}",
                "cut both with one pitch: they do not go together",
            )  # fmt: skip
            return
        if self.first:
            yield self.says(
                Level.MIND, f"{self.tenon} is cut before the {hole}, which it has to go into",
                "cut the thread of the hole first: the one outside can be taken down until it fits, in small cuts",
            )  # fmt: skip
        if thread["play_mm"] <= 0:
            yield self.says(
                Level.STOP,
                f"the ridges of {self.tenon} are {length(-thread['play_mm'], self.rule)} too wide for the {hole}"
                if thread["play_mm"] < 0
                else f"{self.tenon} has no play in the {hole}",
                "turn the tenon a little thinner before the thread is cut: 1/64 in (0.4 mm) less across runs freely",
            )
        if thread["overlap_mm"] <= 0:
            yield self.says(
                Level.STOP,
                f"{self.tenon} slips through the {hole}: its ridges do not reach behind those of the other",
                "make the tenon thicker, or turn the hole to the thread's minor diameter",
            )
        elif thread["overlap_mm"] < _CAUGHT * thread["depth_mm"]:
            yield self.says(
                Level.MIND,
                f"{self.tenon} reaches only {length(thread['overlap_mm'], self.rule)} behind the ridges of the {hole}, "
                f"and the thread is {length(thread['depth_mm'], self.rule)} deep: less than half of it holds",
                "leave less play between the two, or cut a coarser thread",
            )
        if thread["turns"] < 1:
            yield self.says(
                Level.MIND,
                f"only {length(thread['engaged_mm'], self.rule)} of thread is in thread, "
                f"{decimal(thread['turns'], 1)} of a turn: a lid needs a whole one to hold all around",
                "make the thread longer or its pitch finer, or narrow the reliefs",
            )

    def edge(self, wood: str) -> Iterator[Finding]:
        """Of a part whose edge is let into a groove: whether it goes in, holds and may move."""
        for said in edge_said(self.fit["edge"], self.joint, self.accepted, wood, self.rule):
            yield self.says(said.level, said.message, said.remedy, advice=said.advice)

    def clashes(self) -> Iterator[Finding]:
        """Wood that stands where other wood is, for no reason that is told already."""
        put = f"{self.tenon} in the {self.joint.hole}"
        if self.joint.groove:
            put = f"the edge of '{self.joint.piece}' in the {self.joint.groove}"
        for other, volume_mm3 in self.fit["clashes"]:
            volume = print_quantity(of_kind(volume_mm3, Kind.VOLUME), self.rule)
            yield self.says(
                Level.STOP,
                f"with {put}, {volume} of '{self.joint.piece}' would stand in the wood of '{other}'",
                "turn one of them away there, or let the parts meet at the shoulder first",
            )

    def _too_thick(self) -> Iterator[Finding]:
        """A tenon that does not go in by hand: pressed or snapped in, or wood that was never cut."""
        hole, play = self.joint.hole, self.fit["play_mm"]
        hole_named, tenon_named = self.fit["named_mm"]
        much = length(-play, self.rule)
        if self.fit["tenon_mm"] > tenon_named + _HAIR_MM:
            yield self.says(
                Level.STOP,
                f"{self.tenon} is {length(self.fit['tenon_mm'], self.rule)} thick where it goes into the {hole}, "
                f"{much} too thick: it is to be {length(tenon_named, self.rule)}, but wood is left around it",
                "turn that wood away, or keep less of it",
            )
        elif self.fit["hole_mm"] < hole_named - _HAIR_MM:
            open_mm = self.fit["hole_mm"]
            opening = f"only {length(open_mm, self.rule)} of the {hole} is open" if open_mm else f"the {hole} is closed"
            yield self.says(
                Level.STOP,
                f"{opening} where {self.tenon} goes in: it is {much} too thick there",
                f"open the {hole} all the way in, or make the tenon thinner",
            )
        elif self.accepted.tight and -play <= joint_limits()["press"].value_mm:
            yield self.says(
                Level.NOTE,
                meant("Tight", f"{self.tenon} is {much} thicker than the {hole}", self.accepted.tight),
            )
        else:
            most = print_quantity(millimetres(joint_limits()["press"].value_mm), self.rule, fine=True)
            yield self.says(
                Level.STOP,
                f"{self.tenon} is {much} too thick for the {hole}",
                "make the tenon thinner or the hole wider",
                advice=f"or, if it is pressed or snapped in and no more than {most} thicker, say why at the joint: "
                "tight: …",
            )

    def _room(self) -> Iterator[Finding]:
        """Whether a tenon that goes in has room for glue, and not too much."""
        hole, limits, play = self.joint.hole, joint_limits(), self.fit["play_mm"]
        if play < limits["glue room"].value_mm and not self.accepted.tight:
            yield self.says(
                Level.NOTE,
                f"{self.tenon} is as thick as the {hole}: there is no room for glue",
                "turn it 1/64 in (0.4 mm) thinner where it is glued; one that is only pressed in is turned to fit",
                advice="or say so at the joint: tight: …",
            )
        if play <= limits["play"].value_mm:
            return
        most = print_quantity(millimetres(limits["play"].value_mm), Rule(lead=self.rule.lead))
        message = f"{self.tenon} is {length(play, self.rule)} thinner than the {hole}; over about {most}"
        if self.accepted.loose:
            told = f"{self.tenon} is {length(play, self.rule)} thinner than the {hole}"
            yield self.says(Level.NOTE, meant("Loose", told, self.accepted.loose))
        else:
            yield self.says(
                Level.MIND,
                f"{message} it sits loosely, and glue does not fill the gap",
                "turn the tenon to the hole, or make the hole smaller",
                advice="or say why it may, at the joint: loose: …",
            )

    def _waste(self) -> Iterator[Finding]:
        """Wood past the tenon's end, which has to go through the hole first."""
        fit, hole = self.fit, self.joint.hole
        if fit["hole_mm"] is not None and fit["beyond_mm"] > fit["hole_mm"] * _FACETS + _HAIR_MM:
            yield self.says(
                Level.STOP,
                f"wood {length(fit['beyond_mm'], self.rule)} across is left past the end of {self.tenon}, and has to "
                f"go through the {hole}, which is {length(fit['hole_mm'], self.rule)} across",
                "turn it away or part it off, or begin the profile so that the tenon is the end of the wood",
            )

    def _depth(self) -> Iterator[Finding]:
        """How far in it goes, and whether its shoulder then seats."""
        fit, hole = self.fit, self.joint.hole
        if fit["spare_mm"] is not None and fit["spare_mm"] < 0:
            yield self.says(
                Level.STOP,
                f"{self.tenon} is {length(-fit['spare_mm'], self.rule)} too long for the {hole}: its shoulder does not "
                "seat",
                "make the tenon shorter or the hole deeper",
            )
        if fit["engaged_mm"] <= 0:
            yield self.says(
                Level.STOP, f"{self.tenon} does not reach into the {hole}", "check which end of the hole it goes into"
            )
        elif fit["engaged_mm"] < _SEATED * fit["long_mm"]:
            yield self.says(
                Level.MIND,
                f"only {length(fit['engaged_mm'], self.rule)} of {self.tenon} is in the {hole}, and it is "
                f"{length(fit['long_mm'], self.rule)} long: its shoulder meets wood before the hole's mouth, or the "
                "hole is short",
                "clear the wood around the mouth, or make the hole as long as the tenon",
            )


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
        judge = _Judge(fit, joint, keys[index], rule, place, first)
        told = list(judge.edge(woods[joint.piece]) if joint.groove else judge.findings())
        yield from told
        if not any(finding.level is Level.STOP for finding in told):
            yield from judge.clashes()
    if found.get("tilt_deg", 0.0) > _LEAN_DEG:
        yield Finding(
            Level.MIND,
            _ABOUT,
            f"it hangs {decimal(found['tilt_deg'], 1)}° out of plumb",
            "move the point it hangs from over the center of gravity",
            ledger.document.place(("assembly",)),
        )
