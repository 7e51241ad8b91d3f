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
from handouts_build.schema.lathe_words import LOCKED, OFF_THE_LATHE, OUTSIDE, TURNED
from handouts_build.tables.caution_facts import WORDS, Fact
from handouts_build.workpiece import CUTS, BaseCut

__all__ = [
    "DRYING",
    "StepState",
    "dries",
    "natural_edge",
    "off_axis",
    "operations_of",
    "standing",
    "tools_of",
    "turned_in",
]

DRYING = frozenset({"drying", "heat drying"})
_SHAPED = TURNED - {"sanding", "power sanding", "finishing", "buffing", "burning"}
_ALSO = {
    "miter saw": "mitre saw, chop saw",
    "powered saw": "circular saw, scroll saw, jigsaw, fretsaw machine, track saw, reciprocating saw",
    "table saw": "saw bench",
    "rotary tool": "rotary carver, power carver, die grinder, flexible shaft, burr",
    "disk sander": "disc sander",
    "power sander": "belt sander, drum sander, orbital sander, spindle sander, random orbit sander, sanding machine",
    "angle grinder": "angle grinder with a carving disk",
    "bench grinder": "grinder, slow speed grinder, wet grinder, sharpening machine",
    "drill press": "pillar drill, bench drill",
    "hand-held drill": "power drill, electric drill, cordless drill, battery drill",
    "router": "trim router, palm router, laminate trimmer",
    "buffing wheel": "buffer, polishing wheel",
    "burning wire": "friction wire",
    "vacuum cleaner": "shop vacuum",
}
"""Other names of tools; a name of several words may be written as one."""
_NAMES = {
    name.strip().replace("-", " ").replace(" ", ""): word
    for word in WORDS[Fact.TOOL]
    for name in (word, *_ALSO.get(word, "").split(","))
    if name.strip()
}
_NATURAL_EDGE = "natural edge"
_POWERED = frozenset(
    {
        "planer", "thicknesser", "jointer", "shaper", "mortiser", "laser", "torch", "sander", "polisher", "engraver",
        "compressor", "nailer", "stapler", "airbrush", "multitool", "duplicator",
    }
)  # fmt: skip
"""Tools with a motor, a flame or compressed air, by the last word of their names, that no rule knows."""
_POWERED_BY = frozenset({"power", "powered", "electric", "cordless", "pneumatic", "air", "motorized", "laser", "heat"})


@dataclass(frozen=True)
class StepState:
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


def standing(part: PartKeys, step: StepKeys) -> StepState:
    """How the work stands at a step.

    Args:
        part: The part's keys.
        step: The step's keys, one of the part's.
    """
    steps = list(_in_turn(part.steps))
    index = next(at for at, held in enumerate(steps) if held.step is step)
    now, earlier = steps[index], steps[:index]
    off = part.falls_off is not None
    return StepState(
        hold=now.hold if step.hold is not None or now.works else None,
        on_lathe=now.on_lathe,
        turning=now.turning,
        turned_after=any(later.turning for later in steps[index:]),
        turned_before=off or any(past.shapes for past in earlier),
        first_turned=not off and now.turns_outside and not any(past.turns_outside for past in earlier),
        conditions=_conditions(part, earlier),
    )


def dries(part: PartKeys, step: StepKeys) -> bool:
    """Whether green wood is dry after a step.

    Args:
        part: The part's keys.
        step: The step's keys, one of the part's.
    """
    return next(held.dries for held in _in_turn(part.steps) if held.step is step)


@dataclass(frozen=True)
class _HeldStep:
    """A step and what holds the work in it."""

    step: StepKeys
    hold: HoldKeys | None

    @property
    def on_lathe(self) -> bool:
        return self.hold is None or turned_in(self.hold)

    @property
    def works(self) -> bool:
        """Whether something is done that the lathe holds the work for."""
        step = self.step
        return bool(step.cut) or step.speed is not None or not (TURNED | LOCKED).isdisjoint(step.work)

    @property
    def turning(self) -> bool:
        turned = not TURNED.isdisjoint(self.step.work) or any(cut.needs_lathe for cut in self.cuts)
        return self.on_lathe and (turned or self.step.speed is not None)

    @property
    def dries(self) -> bool:
        """Whether green wood is dry after it: not where it is turned meanwhile."""
        return not DRYING.isdisjoint(self.step.work) and not self.turning and not self.step.cut

    @property
    def shapes(self) -> bool:
        return self.turning and (bool(self.cuts) or not _SHAPED.isdisjoint(self.step.work))

    @property
    def turns_outside(self) -> bool:
        # Where a step says its cuts, they say it better than its work.
        cuts, work = self.cuts, self.step.work
        return self.turning and (any(cut.shapes_outside() for cut in cuts) if cuts else not OUTSIDE.isdisjoint(work))

    @property
    def cuts(self) -> list[type[BaseCut]]:
        """The kinds of cut it makes; what each is stands with the kind."""
        return [CUTS[item.only[0]] for item in self.step.cut]


def _in_turn(steps: Sequence[StepKeys]) -> Iterator[_HeldStep]:
    """The steps; one without a hold is held as in the step before."""
    hold = None
    for step in steps:
        hold = step.hold or hold
        yield _HeldStep(step, hold)


def turned_in(hold: HoldKeys) -> bool:
    """Whether the lathe can turn what is held so: not in the hand or at the bench alone.

    Args:
        hold: As the author wrote it.
    """
    return not OFF_THE_LATHE.issuperset(hold.by)


def operations_of(part: PartKeys, step: StepKeys, *, parted: bool = True) -> frozenset[str]:
    """What is done in a step, by all that is said of it: work, cuts, and what it is sanded, glued and finished with.

    A bore along the axis is drilling whether the author says so or not. Nothing that is said takes anything away.

    Args:
        part: The part's keys.
        step: The step's keys.
        parted: Whether wood falls off where a cut parts. Where the solid shows that none does, it faces an end.
    """
    found = set(step.work)
    for cut in (CUTS[item.only[0]] for item in step.cut):
        if cut.operation:
            found.add(cut.operation)
        elif cut.drills:
            found.add("drilling" if cut.along_axis else "drilling across")
        elif cut.parts:
            found |= {"parting"} if parted else {_turning_outside(part)}
        elif cut.hollows:
            found.add("hollowing")
        elif cut.turned:
            found.add(_turning_outside(part) if cut.shapes_outside() else "grooving")
        if cut.turned:
            found |= _turning_elsewhere(standing(part, step).hold)
    found |= {"sanding at rest"} if step.abrasive else set()
    found |= {"gluing"} if step.adhesive or step.let_in else set()
    found |= {"finishing"} if step.finish else set()
    return frozenset(found)


def _turning_outside(part: PartKeys) -> str:
    """What turning the outside is called, by how the grain lies."""
    along = part.grain == "along the axis" and part.blank.shape.own_grain is None
    return "spindle turning" if along else "faceplate turning"


def _turning_elsewhere(hold: HoldKeys | None) -> set[str]:
    """What turning is called besides, where the wood turns across its own axis or beside it, whatever is cut."""
    found = {"cross-axis turning"} if hold is not None and hold.written("in") else set()
    return found | ({"off-axis turning"} if off_axis(hold) else set())


def off_axis(hold: HoldKeys | None) -> bool:
    """Whether a hold has the wood turn beside its own axis, or leaning from it.

    Args:
        hold: As the author wrote it, if there is one.
    """
    return hold is not None and ("off-axis centers" in hold.by or not {"offset", "tilt"}.isdisjoint(hold.given()))


def tools_of(step: StepKeys) -> dict[str, list[str]]:
    """A step's tools in the words of the safety rules, each with the author's own words for it.

    A round scraper is a scraper, a fine saw a handsaw; a powered tool that no rule knows is told as one.
    """
    found: dict[str, list[str]] = {}
    for tool in step.tools:
        # After a comma stands a tool's size.
        name = re.split(r"[,(]", tool)[0].strip()
        for word in _tool(name):
            found.setdefault(word, []).append(name)
    return found


def _tool(name: str) -> Iterator[str]:
    """The safety rules' words for one tool; the last words of its name say what it is."""
    said = name.lower().replace("-", " ").split()
    # Of two words that both end the name, the longer one says it: a burning wire is no wire.
    for start in range(len(said)):
        word = _NAMES.get("".join(said[start:])) or _NAMES.get("".join(said[start:]).removesuffix("s"))
        if word is not None:
            yield word
            return
    if said and said[:1] == ["bit"]:
        yield "drill bit"
    elif said and re.search(r"saws?$", said[-1]):
        yield "handsaw"
    elif said and (said[-1].removesuffix("s") in _POWERED or not _POWERED_BY.isdisjoint(said)):
        yield "other powered tool"


def natural_edge(part: PartKeys) -> bool:
    """Whether the author says that a part keeps bark on its edge."""
    return any(_NATURAL_EDGE in step.shape for step in part.steps)


def _conditions(part: PartKeys, earlier: Sequence[_HeldStep]) -> frozenset[str]:
    """The author's words, the pith of a branch or log, and dry once a step has dried it."""
    found = frozenset(part.condition) | ({"pith"} if part.blank.shape.keeps_pith(part.blank.given()) else frozenset())
    dried = next((at for at, past in enumerate(earlier) if past.dries), None)
    if dried is None:
        return found
    roughed = any(past.shapes for past in earlier[:dried])
    return found - {"green"} | {"dry", *(["dried after roughing"] if roughed else [])}
