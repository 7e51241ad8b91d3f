"""What a project file leaves unsaid and what it says makes plain, filled in as it is read.

This module owns those rules, one a thing, each with the sentence that the reference has of it. What the author
says stays: a rule fills a key that is left out, and to a step's `work` it only adds, so that nothing that is filled
in takes a caution away. What follows from the solid, and needs no word in the file, is for `compute`. Each rule is
common practice, no published source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from handouts_build.formulas import Name
from handouts_build.schema.cut_keys import HoldKeys
from handouts_build.schema.fields import Formula
from handouts_build.schema.lathe_words import LOCKED, OFF_THE_LATHE, TURNED
from handouts_build.schema.models import PartKeys, ProfileKeys, ProjectKeys, StepKeys
from handouts_build.schema.unsaid_drawings import drawings_of, profiles_of
from handouts_build.schema.unsaid_kit import OTHER_GRITS, SHINY_GRITS, UsualGrits, supplies_of
from handouts_build.tables.caution_facts import WORDS, Fact
from handouts_build.workpiece import CUTS, MARKS, BaseCut

__all__ = ["RULES", "UnsaidRule", "filled"]


@dataclass(frozen=True)
class UnsaidRule:
    """What is filled in where a file does not say it."""

    key: str
    says: str
    """What is filled in and when, as a sentence of the reference."""
    word: str = ""
    """The one word that it adds to a list, if it adds but one."""
    why: str = ""
    """Where it comes from, in a few words, for whoever looks at what was filled in."""


RULES = (
    UnsaidRule(
        "piece", "The words of `piece` that stand in `kind`: a hanging ornament is an `ornament`.", why="from its kind"
    ),
    UnsaidRule("says", "Of a part “The …”, with its name; of a jig its name alone.", why="from its name"),
    UnsaidRule("part", "Of a profile, the part that cuts it, where one part alone does.", why="the one that cuts it"),
    UnsaidRule("says", "Of a profile, “Profile of the …”, with the name of its part.", why="from the name of its part"),
    UnsaidRule(
        "hold",
        "That of the step before in its part, where the step cuts, marks, has a speed or says work of the lathe; not "
        "after a hold that is repeated over several pairs of holes or several angles.",
        why="as in the step before",
    ),
    UnsaidRule(
        "tailstock",
        "Of a hold between centers, by a friction drive or on off-axis centers, `true`.",
        why="from what holds it",
    ),
    UnsaidRule(
        "abrasive",
        "`paper`, where the tools name abrasives, sandpaper, or a sanding board, block or stick.",
        why="from its tools",
    ),
    UnsaidRule(
        "drawings",
        "The profiles that the step is the first to cut, and the workings whose numbers it is the first to use in its "
        "words or cuts, but those that another step's `drawings` name.",
        why="it is the first to cut it or to use its numbers",
    ),
    UnsaidRule(
        "tools",
        "A bit for each kind of hole that the step drills, by the hole's name and size, where no tool is a bit or a "
        "drill.",
        why="from its cuts",
    ),
    UnsaidRule(
        "tools",
        "The grits of `abrasives` that are named without any: those of the file's one grit sequence; else, as is "
        f"usual, {SHINY_GRITS} under shellac, lacquer, friction polish or cyanoacrylate, and {OTHER_GRITS} otherwise.",
        why="from the grit sequence or the finish",
    ),
    UnsaidRule(
        "supplies",
        "Each glue and finish of its steps that no supply stands for.",
        why="from the glue and finish of its steps",
    ),
    UnsaidRule(
        "meets",
        "Openings about one axis from one end, holes that reach the axis and an opening about it, and grooves about "
        "axes that cross, or deeper at one place, meet each other: it need not be said.",
    ),
    UnsaidRule(
        "work",
        "The lathe holds the part in another way than in the step before, or for the first time.",
        "mounting",
        "it is held in another way than before",
    ),
    UnsaidRule(
        "work",
        "The step is the first to turn the outside of its part, and the part fell off no other.",
        "roughing",
        "it is the first to turn the outside",
    ),
    UnsaidRule(
        "work",
        "Something is turned in a jam chuck, in wide jaws or on a vacuum chuck.",
        "reverse turning",
        "from what holds it",
    ),
    UnsaidRule(
        "work",
        "The lathe holds the part, and calipers, dividers, a gauge or a rule are among the tools.",
        "measuring",
        "from its tools",
    ),
    UnsaidRule("work", "The step has pencil marks.", "marking", "from its marks"),
    UnsaidRule("work", "A saw that has no motor is among the tools.", "sawing", "from its tools"),
    UnsaidRule("work", "A carving gouge is among the tools.", "carving", "from its tools"),
    UnsaidRule(
        "work",
        "Points are marked or holes drilled around a part that the lathe holds.",
        "indexing",
        "from its marks and cuts",
    ),
    UnsaidRule(
        "tools", "The tool that a texture is made with, where the step does not name it.", why="from its texture"
    ),
    UnsaidRule(
        "work",
        "A band is textured with a chatter tool, a texturing wheel or a wire brush; with others it is carved.",
        "texturing",
        "from its texture",
    ),
    UnsaidRule(
        "work",
        "The part turns about its own axis, and abrasives or sandpaper are among the tools; on another axis it is "
        "sanded at rest.",
        "sanding",
        "from its tools",
    ),
)
"""What is filled in, in the order of the reference."""

_HANDSAW = re.compile(r"saws?$")
_SAW_WITH_MOTOR = re.compile(r"band|chain|circular|scroll|jig|machine|power|cordless|electric|track|reciprocating")
_ON_A_BENCH = re.compile(r"^(?:table|miter|mitre|chop)[ -]?saw$")
_BACK_SIDE = frozenset({"jam chuck", "wide jaws", "vacuum chuck"})
_BY_BOTH_ENDS = frozenset({"between centers", "friction drive", "off-axis centers"})
_SAME_MOUNTING = frozenset({"says", "tailstock", "tail"})
"""Keys of a hold that may change while the wood stays where it is."""
_SANDPAPER = re.compile(r"\b(?:abrasives?|sand ?paper)\b")
_RUBBED = re.compile(r"\bsanding (?:board|stick|block)s?\b")
_MEASURES = re.compile(r"\b(?:calipers?|dividers|gauges?|story stick)$")
_DRILLS = re.compile(r"\b(?:bits?|drills?|augers?|gimlets?)\b(?! (?:chuck|guide|press))")
_NO_BIT = re.compile(r"\b(?:hand|center|power|electric|cordless|battery)[ -](?:held[ -])?drill\b")


def filled(project: ProjectKeys) -> ProjectKeys:
    """A project with what it leaves unsaid.

    Args:
        project: As it is written.

    Returns:
        A copy; what the author says is in it as it was.
    """
    drawings = drawings_of(project)
    cut_by: dict[str, list[str]] = {}
    papers = UsualGrits.of(project)
    parts = {}
    for name, part in project.parts.items():
        for profile in (profile for step in part.steps for profile in profiles_of(step)):
            cut_by.setdefault(profile, []).append(name)
        parts[name] = _part(part, drawings[name], title=_title(name, part), papers=papers)
    profiles = {
        name: _profile(profile, cut_by=list(dict.fromkeys(cut_by.get(name, ()))))
        for name, profile in project.profiles.items()
    }
    steps = (step for part in project.parts.values() for step in part.steps)
    supplies = [*project.supplies, *supplies_of(steps, project.supplies)]
    update: dict[str, Any] = {"parts": parts, "profiles": profiles, "supplies": supplies}
    if "piece" not in project.model_fields_set:
        update["piece"] = list(_pieces(project.kind or ""))
    return project.model_copy(update=update)


def _pieces(kind: str) -> Iterator[str]:
    for word in sorted(WORDS[Fact.PIECE]):
        if re.search(rf"\b{word}s?\b", kind.casefold()):
            yield word


def _title(name: str, part: PartKeys) -> str:
    """What a part is called that does not say it."""
    spoken = name.replace("_", " ")
    return spoken.capitalize() if part.jig else f"The {spoken}"


def _profile(profile: ProfileKeys, *, cut_by: list[str]) -> ProfileKeys:
    part = profile.part or (cut_by[0] if len(cut_by) == 1 else None)
    says = profile.says or (f"Profile of the {part.replace('_', ' ')}" if part else "Profile")
    return profile.model_copy(update={"part": part, "says": says})


def _part(part: PartKeys, drawings: Sequence[list[str]], *, title: str, papers: UsualGrits) -> PartKeys:
    """A part whose steps are filled in, in order.

    Args:
        part: As it is written.
        drawings: What belongs beside each step if the step does not say it.
        title: What it is called where it does not say it.
        papers: The grits of its abrasives.
    """
    steps: list[StepKeys] = []
    hold: HoldKeys | None = None
    turned = part.falls_off is not None
    for written, mine in zip(part.steps, drawings, strict=True):
        now = _Filling(written, hold)
        steps.append(now.step(roughs=now.turns_outside and not turned, drawings=mine, papers=papers))
        turned = turned or now.turns_outside
        hold = now.hold or hold
    update: dict[str, Any] = {"steps": steps}
    if part.says is None:
        update["says"] = title
    return part.model_copy(update=update)


class _Filling:
    """One step on its way.

    Args:
        written: The step.
        before: What held its part until now.
    """

    def __init__(self, written: StepKeys, before: HoldKeys | None) -> None:
        self.written, self.before = written, before
        self.cuts: list[type[BaseCut]] = [CUTS[item.only[0]] for item in written.cut]
        made = [MARKS[word].done(keys.text) for word, keys in (item.only for item in written.mark)]
        self.textures = [(work, tool) for work, tool in made if work]
        self.tools = [re.split(r"[,(]", tool)[0].strip().casefold() for tool in written.tools]
        self.unnamed = [tool for tool in dict.fromkeys(tool for _, tool in self.textures) if tool not in self.tools]
        goes_on = before is not None and self._at_the_lathe and not _repeated(before)
        own = _with_its_tailstock(written.hold) if written.hold is not None else None
        self.said_hold = own or (before if goes_on else None)
        self.hold = own or (before if self._at_the_lathe else None)
        self.on_lathe = self.hold is not None and not OFF_THE_LATHE.issuperset(self.hold.by)

    @property
    def _at_the_lathe(self) -> bool:
        """Whether something is done that the part is held for."""
        step = self.written
        said = not (TURNED | LOCKED).isdisjoint(step.work)
        return bool(step.cut or step.mark) or step.speed is not None or said

    @property
    def turning(self) -> bool:
        """Whether the lathe turns the part, by what is said of it."""
        said = self.written.speed is not None or not TURNED.isdisjoint(self.written.work)
        # What a saw could do as well is turned where a parting tool does it.
        parted = "parting tool" in self.tools and any(cut.parts for cut in self.cuts)
        return self.on_lathe and (said or parted or any(cut.needs_lathe for cut in self.cuts))

    @property
    def turns_outside(self) -> bool:
        """Whether a cut turns its outside."""
        return self.turning and any(cut.shapes_outside() for cut in self.cuts)

    def step(self, *, roughs: bool, drawings: list[str], papers: UsualGrits) -> StepKeys:
        """The step with what it leaves unsaid.

        Args:
            roughs: Whether it is the first that turns the outside of its part.
            drawings: What belongs beside it if it does not say it.
            papers: The grits of abrasives that are named without any.
        """
        step = self.written
        found = [*step.work, *(word for word in self._work(roughs=roughs) if word not in step.work)]
        tools = [*map(papers.named, step.tools), *self._bits(), *self.unnamed]
        update: dict[str, Any] = {"work": found, "tools": tools}
        if self.said_hold is not None:
            update["hold"] = self.said_hold
        if "abrasive" not in step.model_fields_set and self._sanded:
            update["abrasive"] = ["paper"]
        if "drawings" not in step.model_fields_set and drawings:
            update["drawings"] = drawings
        return step.model_copy(update=update)

    @property
    def _sanded(self) -> bool:
        return any(_SANDPAPER.search(tool) or _RUBBED.search(tool) for tool in self.tools)

    def _work(self, *, roughs: bool) -> Iterator[str]:
        hold, step = self.hold, self.written
        if self.on_lathe and hold is not None and _grip(hold) != (_grip(self.before) if self.before else None):
            yield "mounting"
        if roughs:
            yield "roughing"
        if (
            hold is not None
            and self.turning
            and any(cut.turned for cut in self.cuts)
            and not _BACK_SIDE.isdisjoint(hold.by)
        ):
            yield "reverse turning"
        if self.on_lathe and any(map(_MEASURES.search, self.tools)):
            yield "measuring"
        if len(step.mark) > len(self.textures):
            yield "marking"
        yield from dict.fromkeys(work for work, _ in self.textures)
        around = any(item.only[0] == "points" for item in step.mark) or any(
            cut.drills and not cut.along_axis for cut in self.cuts
        )
        if any(map(_sawn_by_hand, self.tools)):
            yield "sawing"
        if "carving gouge" in self.tools:
            yield "carving"
        if self.on_lathe and around:
            yield "indexing"
        if self.turning and not _on_another_axis(hold) and any(map(_SANDPAPER.search, self.tools)):
            yield "sanding"

    def _bits(self) -> Iterator[str]:
        """A bit for each kind of hole, where no tool is one."""
        if any(_DRILLS.search(_NO_BIT.sub("", tool)) for tool in self.tools):
            return
        for word, keys in (item.only for item in self.written.cut):
            kind, across = CUTS[word], keys.written("diameter")
            if kind.drills and isinstance(across, Formula):
                size = f", {{{across.tree.name}}}" if isinstance(across.tree, Name) else ""
                yield f"bit for the {keys.text('name') or kind.unnamed or kind.word}{size}"


def _sawn_by_hand(tool: str) -> bool:
    return bool(_HANDSAW.search(tool)) and not (_SAW_WITH_MOTOR.search(tool) or _ON_A_BENCH.search(tool))


def _with_its_tailstock(hold: HoldKeys) -> HoldKeys:
    """A hold whose tailstock bears on the part, where that is how it holds."""
    if hold.tailstock is None and not _BY_BOTH_ENDS.isdisjoint(hold.by):
        return hold.model_copy(update={"tailstock": True})
    return hold


def _repeated(hold: HoldKeys) -> bool:
    """Whether the cuts of a step are repeated over it, pair of holes by pair or angle by angle."""
    return any(
        isinstance(written, list) and len(written) > 1
        for written in (hold.written(word) for word in hold.given() & {"in", "angle"})
    )


def _grip(hold: HoldKeys) -> Mapping[str, object]:
    """What of a hold changes where the wood is mounted anew."""
    return {word: hold.written(word) for word in hold.given() - _SAME_MOUNTING}


def _on_another_axis(hold: HoldKeys | None) -> bool:
    return hold is not None and ("off-axis centers" in hold.by or not {"in", "offset", "tilt"}.isdisjoint(hold.given()))
