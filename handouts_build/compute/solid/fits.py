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
        return f"the {self.joint.tenon} of '{self.joint.piece}'"

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
