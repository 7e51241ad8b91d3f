"""What a step really does, read from the author's closed words.

This module owns whether the lathe holds and turns the work at a step, what state its
wood is in by then, and which tools a step's tools are. It leaves the numbers to the solid,
and what follows from it all to the safety rules. Each of these readings is common practice, no published source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from handouts_build.schema import HoldKeys, PartKeys, StepKeys
from handouts_build.tables.caution_facts import WORDS, Fact
from handouts_build.workpiece import CUTS, HELPING, HOLDS, BaseCut

__all__ = ["DRYING", "Standing", "standing", "tools_of"]

DRYING = frozenset({"drying", "heat drying"})
"""Work after which green wood is dry."""
_OFF_THE_LATHE = frozenset(word for kind in HOLDS if not kind.turns for word in kind.words) - HELPING
_OUTSIDE = frozenset(
    {"roughing", "spindle turning", "faceplate turning", "off-axis turning", "cross-axis turning", "reverse turning"}
)
_TURNED = _OUTSIDE | {
    "reverse running", "hollowing", "boring", "grooving", "drilling", "parting", "threading", "texturing", "sanding",
    "power sanding", "burning", "finishing", "buffing",
}  # fmt: skip
"""Work that is done on turning wood, where the lathe holds it."""
_LOCKED = frozenset({"indexing", "drilling across"})
"""Work that is done on wood that the lathe holds at rest."""
_SHAPED = _TURNED - {"sanding", "power sanding", "finishing", "buffing", "burning"}
_POWERED_SAWS = re.compile(r"(band|chain|table|circular|scroll|miter|mitre|jig)[ -]?saw")


@dataclass(frozen=True)
class Standing:
    """How the work stands at one step."""

    hold: HoldKeys | None
    """The step's own, or that of the step before where this one goes on at the lathe."""
    on_lathe: bool
    """Whether the lathe holds it; not where it is held in the hand or at the bench alone."""
    turning: bool
    """Whether the lathe turns it."""
    turned_after: bool
    """Whether it is turned in this step or in a later one."""
    turned_before: bool
    """Whether it was shaped turning in an earlier step, or fell off a part that was."""
    first_turned: bool
    """Whether this is the first step that turns its outside."""
    conditions: frozenset[str]
    """What state the wood is in as the step begins."""


def standing(part: PartKeys, step: StepKeys) -> Standing:
    """How the work stands at a step.

    Args:
        part: The part's keys.
        step: The step's keys, one of the part's.
    """
    steps = list(_in_turn(part.steps))
    index = next(at for at, held in enumerate(steps) if held.step is step)
    now, earlier = steps[index], steps[:index]
    off = part.falls_off is not None
    return Standing(
        hold=now.hold if step.hold is not None or now.works else None,
        on_lathe=now.on_lathe,
        turning=now.turning,
        turned_after=any(later.turning for later in steps[index:]),
        turned_before=off or any(past.shapes for past in earlier),
        first_turned=not off and now.turns_outside and not any(past.turns_outside for past in earlier),
        conditions=_conditions(part, earlier),
    )


@dataclass(frozen=True)
class _Held:
    """A step and what holds the work in it."""

    step: StepKeys
    hold: HoldKeys | None

    @property
    def on_lathe(self) -> bool:
        return self.hold is None or not _OFF_THE_LATHE.issuperset(self.hold.by)

    @property
    def works(self) -> bool:
        """Whether something is done that the lathe holds the work for."""
        step = self.step
        return bool(step.cut) or step.speed is not None or not (_TURNED | _LOCKED).isdisjoint(step.work)

    @property
    def turning(self) -> bool:
        turned = not _TURNED.isdisjoint(self.step.work) or any(cut.needs_lathe for cut in self.cuts)
        return self.on_lathe and (turned or self.step.speed is not None)

    @property
    def shapes(self) -> bool:
        return self.turning and (bool(self.cuts) or not _SHAPED.isdisjoint(self.step.work))

    @property
    def turns_outside(self) -> bool:
        # Where a step says its cuts, they say it better than its work.
        cuts, work = self.cuts, self.step.work
        return self.turning and (any(cut.shapes_outside() for cut in cuts) if cuts else not _OUTSIDE.isdisjoint(work))

    @property
    def cuts(self) -> list[type[BaseCut]]:
        """The kinds of cut it makes; what each is stands with the kind."""
        return [CUTS[item.only[0]] for item in self.step.cut]


def _in_turn(steps: Sequence[StepKeys]) -> Iterator[_Held]:
    """The steps; one without a hold is held as in the step before."""
    hold = None
    for step in steps:
        hold = step.hold or hold
        yield _Held(step, hold)


def tools_of(step: StepKeys) -> list[str]:
    """A step's tools in the words of the safety rules: a round scraper is a scraper, a fine saw a handsaw."""
    found = {word for tool in step.tools for word in _tool(tool)}
    if "sawing" in step.work and found.isdisjoint({"bandsaw", "chainsaw"}) and not _powered(step.tools):
        found.add("handsaw")
    if "carving" in step.work and "rotary carver" not in found:
        found.add("carving gouge")
    return sorted(found)


def _tool(said: str) -> Iterator[str]:
    # The last word of a tool's name says what it is; after a comma stands its size.
    name = re.split(r"[,(]", said.lower())[0].strip()
    for word in WORDS[Fact.TOOL]:
        if re.search(rf"(^|[\s-]){re.escape(word)}s?$", name):
            yield word
    powered = _POWERED_SAWS.search(name)
    if powered is None and re.search(r"saws?$", name):
        yield "handsaw"
    elif powered is not None and powered[1] in ("band", "chain"):
        yield f"{powered[1]}saw"


def _powered(tools: Sequence[str]) -> bool:
    return any(_POWERED_SAWS.search(tool.lower()) for tool in tools)


def _conditions(part: PartKeys, earlier: Sequence[_Held]) -> frozenset[str]:
    """The author's words, a branch's pith, and dry once a step has dried it."""
    found = frozenset(part.condition) | ({"pith"} if part.blank.branch is not None else frozenset())
    dried = next((at for at, past in enumerate(earlier) if not DRYING.isdisjoint(past.step.work)), None)
    if dried is None:
        return found
    roughed = any(past.shapes for past in earlier[:dried])
    return found - {"green"} | {"dry", *(["dried after roughing"] if roughed else [])}
