"""A part's steps as the workpiece takes them: blank, holds, cuts and marks in plain millimetres.

This module owns the order of a part's steps and what its blank is. How the keys of a cut
or a mark become the workpiece's fields is in `declared`. Carrying the steps out, and what
is found, is in `carry`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from handouts_build import workpiece as kernel
from handouts_build.compute.blanks import as_stock, grain_of
from handouts_build.compute.names import Ledger, Unsettled
from handouts_build.compute.solid.declared import Reading
from handouts_build.compute.solid.dryings import dryings
from handouts_build.compute.solid.holds import holds_of
from handouts_build.compute.solid.put_on import joint_between, told_apart
from handouts_build.problems import near_miss
from handouts_build.quantities import Kind
from handouts_build.schema import (
    CutItem,
    Formula,
    HoldKeys,
    JointKeys,
    Key,
    LetInKeys,
    MarkItem,
    PartKeys,
    StepKeys,
    WorkingKeys,
)
from handouts_build.sheet import Blank, Shape
from handouts_build.tables import bits
from handouts_build.workpiece.declared import KeyKind, keys_of

__all__ = ["PartPlan", "part_plan"]

_SAME_MM = 0.01
"""Sizes of a hole that differ by no more are those of one hole."""
_ORDINALS = ("", "second ", "third ", "fourth ", "fifth ", "sixth ", "seventh ", "eighth ", "ninth ", "tenth ")


@dataclass(frozen=True)
class PartPlan:
    """One part ready to be carried through its steps."""

    part: str
    blank: kernel.BaseBlank | kernel.Offcut
    steps: tuple[kernel.WorkStep, ...]
    keys: tuple[Key, ...]
    """Where each step stands in the file."""
    numbers: tuple[int, ...]
    """Each step's number in the project."""
    segments: int = 72
    """Sides that a circle about the axis is drawn with."""

    @property
    def bodies(self) -> int:
        """Cuts and holes, each counted as often as it is made."""
        made = sum((1 + max(0, cut.bodies)) * max(1, len(step.holds)) for step in self.steps for cut in step.cuts)
        return made + sum(len(step.let_in) for step in self.steps)


def part_plan(
    name: str,
    part: PartKeys,
    *,
    blank: Blank,
    first: int,
    shapes: Mapping[str, Shape | None],
    workings: Mapping[str, WorkingKeys],
    ledger: Ledger,
    others: Mapping[str, PartPlan],
    parts: Mapping[str, PartKeys],
    joints: Sequence[JointKeys],
    segments: int,
) -> PartPlan | None:
    """A part as the workpiece takes it; None after noting why it cannot be.

    Args:
        name: The part's.
        part: Its model.
        blank: Worked out.
        first: Number of its first step in the project.
        shapes: Profiles by name; None where a profile has a problem of its own.
        workings: Of the project, for what drying does.
        ledger: Gives numbers and takes note of problems.
        others: Parts before this one, for what falls off them, is let in or put on.
        parts: All parts' models.
        joints: Of the finished piece: by one of them a part is put on this one.
        segments: Sides that a circle about the axis is drawn with.
    """
    plan = _PartPlanner(name, shapes, ledger, parts, joints)
    noted = len(ledger.problems)
    stock = plan.stock(part, blank, others)
    # What fell off wood that was dry by then is dry, whatever is said of it.
    green = "green" in part.condition and not (isinstance(stock, kernel.Offcut) and _dry_as_it_falls(stock))
    solid = blank.stack is None and blank.laminate is None
    dried = dryings(part, workings, ledger.values, green=green, solid=solid)
    steps = [
        plan.step(step, index, dries, others) for index, (step, dries) in enumerate(zip(part.steps, dried, strict=True))
    ]
    if stock is None or len(ledger.problems) > noted or any(step is None for step in steps):
        return None
    return PartPlan(
        name,
        stock,
        tuple(step for step in steps if step is not None),
        tuple(("parts", name, "steps", index) for index in range(len(steps))),
        tuple(range(first, first + len(steps))),
        segments,
    )


class _PartPlanner:
    """The making of one part's plan."""

    def __init__(
        self, name: str, shapes: Mapping[str, Shape | None], ledger: Ledger,
        parts: Mapping[str, PartKeys], joints: Sequence[JointKeys],
    ) -> None:  # fmt: skip
        self.key: Key = ("parts", name)
        self.name, self.parts, self.joints = name, parts, joints
        self.ledger = ledger
        self.reading = Reading(ledger, shapes)
        self._called: dict[str, int] = {}

    def stock(
        self, part: PartKeys, blank: Blank, others: Mapping[str, PartPlan]
    ) -> kernel.BaseBlank | kernel.Offcut | None:
        """The blank."""
        if part.falls_off is not None:
            return self._offcut(part.falls_off, others)
        return as_stock(blank, grain=grain_of(part))

    def _offcut(self, name: str, others: Mapping[str, PartPlan]) -> kernel.Offcut | None:
        key = (*self.key, "falls off")
        if name not in others:
            hint = near_miss(name, others) or "name a part before this one whose steps part it off"
            self.ledger.note(key, f"'{name}' is not a part before this one that has cuts", hint)
            return None
        source = others[name]
        parts = any(cut.parts for step in source.steps for cut in step.cuts)
        if not parts or isinstance(source.blank, kernel.Offcut):
            self.ledger.note(key, f"nothing falls off '{name}'", "give one of its steps a cut that parts off")
            return None
        return kernel.Offcut(blank=source.blank, steps=source.steps)

    def step(
        self, step: StepKeys, index: int, dries: kernel.Drying | None, others: Mapping[str, PartPlan]
    ) -> kernel.WorkStep | None:
        """One step."""
        key: Key = (*self.key, "steps", index)
        noted = len(self.ledger.problems)
        holds = holds_of(step.hold, (*key, "hold"), self.reading) if step.hold is not None else ()
        cuts = [self._cut(item, (*key, "cut", at)) for at, item in enumerate(step.cut)]
        marks = [self._mark(item, (*key, "mark", at)) for at, item in enumerate(step.mark)]
        let_in = [self._let_in(keys, (*key, "let in", at), others) for at, keys in enumerate(step.let_in)]
        put_on = self._put_on(step.hold, (*key, "hold"), others) if step.hold is not None else None
        if len(self.ledger.problems) > noted or None in cuts or None in marks or holds is None:
            return None
        return kernel.WorkStep(
            name=step.name,
            holds=holds,
            cuts=tuple(cut for cut in cuts if cut is not None),
            marks=tuple(mark for mark in marks if mark is not None),
            rpm=float(step.speed.magnitude) if step.speed is not None else None,
            let_in=tuple(item for item in let_in if item is not None),
            put_on=put_on,
            dries=dries,
        )

    def _let_in(self, keys: LetInKeys, key: Key, others: Mapping[str, PartPlan]) -> kernel.LetIn | None:
        """A part that is glued into a hole of this one."""
        source = others.get(keys.put)
        if source is None:
            hint = near_miss(keys.put, others) or "name a part before this one that is cut to shape"
            self.ledger.note((*key, "put"), f"'{keys.put}' is not a part before this one that has cuts", hint)
            return None
        if isinstance(source.blank, kernel.Offcut):
            self.ledger.note(
                (*key, "put"), f"'{keys.put}' falls off another part", "let in a part that has a blank of its own"
            )
            return None
        try:
            turn = self._turn_deg(keys.turn, key)
        except Unsettled:
            return None
        return kernel.LetIn(
            part=keys.put, blank=source.blank, steps=source.steps, tenon=keys.tenon, hole=keys.hole, turn_deg=turn
        )

    def _put_on(self, hold: HoldKeys, key: Key, others: Mapping[str, PartPlan]) -> kernel.PutOn | None:
        """A part that a hold puts on this one; None where it puts none on, or after noting why it cannot."""
        part = hold.text("put on")
        if part is None:
            return None
        at = (*key, "put on")
        wrong = told_apart(self.name, part, hold, parts=self.parts, carried=others)
        if wrong is not None:
            self.ledger.note(at, *wrong)
            return None
        joint = joint_between(self.name, part, self.joints)
        if joint is None:
            hint = f"give the two a joint, with a tenon and a hole: assembly: {{joints: [{{put: {self.name}, …}}]}}"
            self.ledger.note(at, f"nothing joins '{part}' and '{self.name}'", hint)
            return None
        try:
            turn = self._turn_deg(joint.turn, ("assembly", "joints", self.joints.index(joint)))
        except Unsettled:
            return None
        return kernel.PutOn(
            part=part, blank=others[part].blank, steps=others[part].steps, tenon=joint.tenon or "",
            hole=joint.hole or "", tenon_on_it=joint.put == part, far=joint.far, turn_deg=turn,
        )  # fmt: skip

    def _turn_deg(self, turn: Formula | None, key: Key) -> float:
        """How far a part is turned in its joint, degrees; none where it is not said.

        Raises:
            Unsettled: After noting why it has no value.
        """
        return 0.0 if turn is None else kernel.in_deg(self.ledger.value(turn, (*key, "turn"), kind=Kind.ANGLE))

    def _cut(self, item: CutItem, key: Key) -> kernel.BaseCut | None:
        word, keys = item.only
        kind = kernel.CUTS[word]
        name = self._name(kind, keys.text("name"))
        try:
            cut = kind(**{**self.reading.fields(kind, keys, (*key, word), called=word), "name": name})
            return _pointed(cut, self.ledger)
        except Unsettled:
            return None

    def _name(self, kind: type[kernel.BaseCut], given: str | None) -> str:
        """The author's name for a cut, or what its kind is called, counted where there are several."""
        if given is not None:
            return given
        word = kind.unnamed or kind.word
        before = self._called.get(word, 0)
        self._called[word] = before + 1
        return f"{_ORDINALS[before]}{word}" if before < len(_ORDINALS) else f"{word} {before + 1}"

    def _mark(self, item: MarkItem, key: Key) -> kernel.BaseMark | None:
        word, keys = item.only
        kind = kernel.MARKS[word]
        named = any(declared.kind is KeyKind.OWN_NAME for declared in keys_of(kind))
        own = {"name": keys.text("name") or word} if named else {}
        try:
            return kind(**own, **self.reading.fields(kind, keys, (*key, word), called=word))
        except Unsettled:
            return None


def _dry_as_it_falls(offcut: kernel.Offcut) -> bool:
    """Whether the wood that falls off another part has dried by then."""
    for step in offcut.steps:
        if any(cut.parts for cut in step.cuts):
            break
        if step.dries is not None:
            return True
    return False


def _pointed(cut: kernel.BaseCut, ledger: Ledger) -> kernel.BaseCut:
    """A bore with its bit's point: as long as the table of bits has it, or as its own working reckons with.

    A working that names no bit reckons with the cone of a twist bit, so the floor of the hole is that cone.
    """
    if not isinstance(cut, kernel.Bore):
        return cut
    twist = bits()[kernel.BitType.TWIST.value].point_share * cut.diameter_mm
    if cut.bit_type is None:
        point = _reckoned(cut, ledger)
        if point is None:
            return cut
        like = kernel.BitType.TWIST if abs(point - twist) <= _SAME_MM else kernel.BitType.BRAD_POINT
        return replace(cut, bit_type=like, point_mm=point)
    bit = bits()[cut.bit_type.value]
    return replace(cut, point_mm=bit.point_share * cut.diameter_mm + bit.point_stands_mm)


def _reckoned(cut: kernel.Bore, ledger: Ledger) -> float | None:
    """The length of the point that a working reckons with for a hole as wide and deep, mm; None where none does."""
    for name, point in ledger.values.items():
        working, dot, short = name.rpartition(".")
        if not dot or short != "point_long" or cut.deep_mm is None:
            continue
        wide, deep = ledger.values.get(f"{working}.bit"), ledger.values.get(f"{working}.depth")
        if wide is None or deep is None:
            continue
        if max(abs(kernel.in_mm(wide) - cut.diameter_mm), abs(kernel.in_mm(deep) - cut.deep_mm)) <= _SAME_MM:
            return kernel.in_mm(point)
    return None
