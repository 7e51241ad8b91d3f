"""What is said of a tenon in its hole: whether it goes in, how it seats, and what stands in its way.

This module owns the words of a joint and its limits. The two solids are measured by the workpiece, the numbers that are
kept of it are in `joint_numbers`; a base in a groove is in `edges`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from handouts_build import workpiece as kernel
from handouts_build.compute.solid.edges import edge_said
from handouts_build.compute.solid.words import length
from handouts_build.compute.working import meant
from handouts_build.language import tr
from handouts_build.problems import Place
from handouts_build.quantities import Kind, Rule, decimal, millimetres, of_kind, print_quantity
from handouts_build.schema import JointKeys, LetInKeys
from handouts_build.sheet.findings import Finding, Level
from handouts_build.tables.joints import joint_limits
from handouts_build.trade.snap_fit import MOST_STRETCH

__all__ = ["JointJudge"]

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


@dataclass(frozen=True)
class JointJudge:
    """What is said of one joint, by what was measured on its two solids."""

    fit: dict[str, Any]
    joint: kernel.Joint
    accepted: JointKeys | LetInKeys
    """The author's own keys of it."""
    rule: Rule
    place: Place
    about: str
    """What the findings are about: the finished piece, or a step."""
    first: bool = False
    """Whether the tenon is cut before the hole."""

    @property
    def tenon(self) -> str:
        """What goes in, in words."""
        return tr("the {tenon} of '{piece}'", tenon=self.joint.tenon, piece=self.joint.piece)

    def says(self, level: Level, message: str, remedy: str = "", *, advice: str = "") -> Finding:
        """A finding at the joint.

        Args:
            level: How grave it is.
            message: What is wrong.
            remedy: What would be right.
            advice: What else an author may do.
        """
        return Finding(level, self.about, message, remedy, self.place, advice=advice)

    def findings(self) -> Iterator[Finding]:
        """Whether it goes in, how it seats, and what stands in its way."""
        hole = self.joint.hole
        if self.fit["tenon_mm"] <= 0:
            yield self.says(
                Level.STOP,
                tr("a later cut took all the wood of {tenon}", tenon=self.tenon),
                tr("name the tenon that is there in the end"),
            )
            return
        if self.fit["gone"] or self.fit["hole_mm"] is None:
            yield self.says(
                Level.STOP,
                tr("a later cut took the wood around the {hole}, where {tenon} goes", hole=hole, tenon=self.tenon),
                tr("name the hole that is there when it is put together"),
            )
        elif self.fit["thread"] is not None:
            yield from self._screwed(self.fit["thread"])
        elif self.fit["half_threaded"]:
            yield self.says(
                Level.STOP,
                tr("only one of {tenon} and the {hole} has a thread", tenon=self.tenon, hole=hole),
                tr("name the two threads: the joint's tenon is the outside thread, its hole the inside thread"),
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
                tr(
                    "the bead on {tenon} is {bead} across, and the {hole} {mouth}: it does not catch",
                    tenon=self.tenon,
                    bead=length(snap["bead_mm"], self.rule),
                    hole=hole,
                    mouth=length(snap["mouth_mm"], self.rule),
                ),
                tr("make the bead higher, or the hole narrower"),
            )
            return
        if snap["groove_mm"] <= snap["mouth_mm"] + _HAIR_MM:
            yield self.says(
                Level.STOP,
                tr(
                    "the bead on {tenon} comes to lie {at} in from the mouth of the {hole}, and there is no groove",
                    tenon=self.tenon,
                    at=length(snap["at_mm"], self.rule),
                    hole=hole,
                ),
                tr("cut an inside groove there, or move the bead"),
            )
        elif snap["groove_mm"] < snap["bead_mm"] - _HAIR_MM:
            yield self.says(
                Level.MIND,
                tr(
                    "the groove is {groove} across where the bead lies, and the bead {bead}: the lid stays stretched",
                    groove=length(snap["groove_mm"], self.rule),
                    bead=length(snap["bead_mm"], self.rule),
                ),
                tr("cut the groove deeper than the bead is high"),
            )
        if over > MOST_STRETCH * snap["mouth_mm"]:
            yield self.says(
                Level.MIND,
                tr(
                    "the {hole} has to stretch by {over} to let the bead on {tenon} pass, {share} % of its width; more "
                    "than {most} % may split it",
                    hole=hole,
                    over=length(over, self.rule),
                    tenon=self.tenon,
                    share=decimal(100 * over / snap["mouth_mm"], 1),
                    most=decimal(100 * MOST_STRETCH, 0),
                ),
                tr("make the bead lower"),
            )

    def _screwed(self, thread: dict[str, Any]) -> Iterator[Finding]:
        """Whether one thread goes into the other, and holds."""
        hole = self.joint.hole
        pitches, starts = thread["pitch_mm"], thread["starts"]
        if abs(pitches[0] - pitches[1]) > _SAME_PITCH * max(pitches) or starts[0] != starts[1]:
            outside, inside = (
                tr("{pitch} with {starts} starts", pitch=length(pitch, self.rule), starts=count)
                if count > 1
                else length(pitch, self.rule)
                for pitch, count in zip(pitches, starts, strict=True)
            )
            yield self.says(
                Level.STOP,
                tr(
                    "the pitch of {tenon} is {outside}, and that of the {hole} {inside}",
                    tenon=self.tenon,
                    outside=outside,
                    hole=hole,
                    inside=inside,
                ),
                tr("cut both with one pitch: they do not go together"),
            )
            return
        if self.first:
            yield self.says(
                Level.MIND,
                tr("{tenon} is cut before the {hole}, which it has to go into", tenon=self.tenon, hole=hole),
                tr("cut the thread of the hole first: the one outside can be taken down until it fits, in small cuts"),
            )
        if thread["play_mm"] <= 0:
            yield self.says(
                Level.STOP,
                tr(
                    "the ridges of {tenon} are {play} too wide for the {hole}",
                    tenon=self.tenon,
                    play=length(-thread["play_mm"], self.rule),
                    hole=hole,
                )
                if thread["play_mm"] < 0
                else tr("{tenon} has no play in the {hole}", tenon=self.tenon, hole=hole),
                tr(
                    "turn the tenon a little thinner before the thread is cut: 1/64 in (0.4 mm) less across runs freely"
                ),
            )
        if thread["overlap_mm"] <= 0:
            yield self.says(
                Level.STOP,
                tr(
                    "{tenon} slips through the {hole}: its ridges do not reach behind those of the other",
                    tenon=self.tenon,
                    hole=hole,
                ),
                tr("make the tenon thicker, or turn the hole to the thread's minor diameter"),
            )
        elif thread["overlap_mm"] < _CAUGHT * thread["depth_mm"]:
            yield self.says(
                Level.MIND,
                tr(
                    "{tenon} reaches only {overlap} behind the ridges of the {hole}, and the thread is "
                    "{depth} deep: less than half of it holds",
                    tenon=self.tenon,
                    overlap=length(thread["overlap_mm"], self.rule),
                    hole=hole,
                    depth=length(thread["depth_mm"], self.rule),
                ),
                tr("leave less play between the two, or cut a coarser thread"),
            )
        if thread["turns"] < 1:
            yield self.says(
                Level.MIND,
                tr(
                    "only {engaged} of thread is in thread, {turns} of a turn: a lid needs a whole one "
                    "to hold all around",
                    engaged=length(thread["engaged_mm"], self.rule),
                    turns=decimal(thread["turns"], 1),
                ),
                tr("make the thread longer or its pitch finer, or narrow the reliefs"),
            )

    def edge(self, wood: str) -> Iterator[Finding]:
        """Of a part whose edge is let into a groove: whether it goes in, holds and may move."""
        for said in edge_said(self.fit["edge"], self.joint, self.accepted, wood, self.rule):
            yield self.says(said.level, said.message, said.remedy, advice=said.advice)

    def clashes(self) -> Iterator[Finding]:
        """Wood that stands where other wood is, for no reason that is told already."""
        put = tr("{tenon} in the {hole}", tenon=self.tenon, hole=self.joint.hole)
        if self.joint.groove:
            put = tr("the edge of '{piece}' in the {groove}", piece=self.joint.piece, groove=self.joint.groove)
        for other, volume_mm3 in self.fit["clashes"]:
            volume = print_quantity(of_kind(volume_mm3, Kind.VOLUME), self.rule)
            yield self.says(
                Level.STOP,
                tr(
                    "with {put}, {volume} of '{piece}' would stand in the wood of '{other}'",
                    put=put,
                    volume=volume,
                    piece=self.joint.piece,
                    other=other,
                ),
                tr("turn one of them away there, or let the parts meet at the shoulder first"),
            )

    def _too_thick(self) -> Iterator[Finding]:
        """A tenon that does not go in by hand: pressed or snapped in, or wood that was never cut."""
        hole, play = self.joint.hole, self.fit["play_mm"]
        hole_named, tenon_named = self.fit["named_mm"]
        much = length(-play, self.rule)
        if self.fit["tenon_mm"] > tenon_named + _HAIR_MM:
            yield self.says(
                Level.STOP,
                tr(
                    "{tenon} is {thick} thick where it goes into the {hole}, {much} too thick: it is to be {meant}, "
                    "but wood is left around it",
                    tenon=self.tenon,
                    thick=length(self.fit["tenon_mm"], self.rule),
                    hole=hole,
                    much=much,
                    meant=length(tenon_named, self.rule),
                ),
                tr("turn that wood away, or keep less of it"),
            )
        elif self.fit["hole_mm"] < hole_named - _HAIR_MM:
            open_mm = self.fit["hole_mm"]
            if open_mm:
                sentence = tr(
                    "only {opening} of the {hole} is open where {tenon} goes in: it is {much} too thick there",
                    opening=length(open_mm, self.rule),
                    hole=hole,
                    tenon=self.tenon,
                    much=much,
                )
            else:
                sentence = tr(
                    "the {hole} is closed where {tenon} goes in: it is {much} too thick there",
                    hole=hole,
                    tenon=self.tenon,
                    much=much,
                )
            yield self.says(
                Level.STOP,
                sentence,
                tr("open the {hole} all the way in, or make the tenon thinner", hole=hole),
            )
        elif self.accepted.tight and -play <= joint_limits()["press"].value_mm:
            yield self.says(
                Level.NOTE,
                meant(
                    tr("Tight on purpose"),
                    tr("{tenon} is {much} thicker than the {hole}", tenon=self.tenon, much=much, hole=hole),
                    self.accepted.tight,
                ),
            )
        else:
            most = print_quantity(millimetres(joint_limits()["press"].value_mm), self.rule, fine=True)
            yield self.says(
                Level.STOP,
                tr("{tenon} is {much} too thick for the {hole}", tenon=self.tenon, much=much, hole=hole),
                tr("make the tenon thinner or the hole wider"),
                advice=f"or, if it is pressed or snapped in and no more than {most} thicker, say why at the joint: "
                "tight: …",
            )

    def _room(self) -> Iterator[Finding]:
        """Whether a tenon that goes in has room for glue, and not too much."""
        hole, limits, play = self.joint.hole, joint_limits(), self.fit["play_mm"]
        if play < limits["glue room"].value_mm and not self.accepted.tight:
            yield self.says(
                Level.NOTE,
                tr("{tenon} is as thick as the {hole}: there is no room for glue", tenon=self.tenon, hole=hole),
                tr("turn it 1/64 in (0.4 mm) thinner where it is glued; one that is only pressed in is turned to fit"),
                advice="or say so at the joint: tight: …",
            )
        if play <= limits["play"].value_mm:
            return
        most = print_quantity(millimetres(limits["play"].value_mm), Rule(lead=self.rule.lead))
        if self.accepted.loose:
            sentence = tr(
                "{tenon} is {play} thinner than the {hole}", tenon=self.tenon, play=length(play, self.rule), hole=hole
            )
            yield self.says(Level.NOTE, meant(tr("Loose on purpose"), sentence, self.accepted.loose))
        else:
            yield self.says(
                Level.MIND,
                tr(
                    "{tenon} is {play} thinner than the {hole}; over about {most} it sits loosely, and glue does not "
                    "fill the gap",
                    tenon=self.tenon,
                    play=length(play, self.rule),
                    hole=hole,
                    most=most,
                ),
                tr("turn the tenon to the hole, or make the hole smaller"),
                advice="or say why it may, at the joint: loose: …",
            )

    def _waste(self) -> Iterator[Finding]:
        """Wood past the tenon's end, which has to go through the hole first."""
        fit, hole = self.fit, self.joint.hole
        if fit["hole_mm"] is not None and fit["beyond_mm"] > fit["hole_mm"] * _FACETS + _HAIR_MM:
            yield self.says(
                Level.STOP,
                tr(
                    "wood {beyond} across is left past the end of {tenon}, and has to go through the {hole}, which is "
                    "{across} across",
                    beyond=length(fit["beyond_mm"], self.rule),
                    tenon=self.tenon,
                    hole=hole,
                    across=length(fit["hole_mm"], self.rule),
                ),
                tr("turn it away or part it off, or begin the profile so that the tenon is the end of the wood"),
            )

    def _depth(self) -> Iterator[Finding]:
        """How far in it goes, and whether its shoulder then seats."""
        fit, hole = self.fit, self.joint.hole
        if fit["spare_mm"] is not None and fit["spare_mm"] < 0:
            yield self.says(
                Level.STOP,
                tr(
                    "{tenon} is {spare} too long for the {hole}: its shoulder does not seat",
                    tenon=self.tenon,
                    spare=length(-fit["spare_mm"], self.rule),
                    hole=hole,
                ),
                tr("make the tenon shorter or the hole deeper"),
            )
        if fit["engaged_mm"] <= 0:
            yield self.says(
                Level.STOP,
                tr("{tenon} does not reach into the {hole}", tenon=self.tenon, hole=hole),
                tr("check which end of the hole it goes into"),
            )
        elif fit["engaged_mm"] < _SEATED * fit["long_mm"]:
            yield self.says(
                Level.MIND,
                tr(
                    "only {engaged} of {tenon} is in the {hole}, and it is {long} long: its shoulder "
                    "meets wood before the hole's mouth, or the hole is short",
                    engaged=length(fit["engaged_mm"], self.rule),
                    tenon=self.tenon,
                    hole=hole,
                    long=length(fit["long_mm"], self.rule),
                ),
                tr("clear the wood around the mouth, or make the hole as long as the tenon"),
            )
