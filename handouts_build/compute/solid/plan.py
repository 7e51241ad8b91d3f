"""A part's steps as the workpiece takes them: blank, holds, cuts and marks in plain millimetres.

This module owns the way from the author's keys to the workpiece's. Formulas get their
numbers from the ledger, names go over as they are. Carrying the steps out, and what is
found, is in `solids`.
"""

from __future__ import annotations

import dataclasses
import itertools
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from handouts_build import workpiece as kernel
from handouts_build.compute.blanks import grain_of, is_glued, measures
from handouts_build.compute.names import Ledger, Unsettled
from handouts_build.compute.solid.holds import holds_of
from handouts_build.problems import near_miss
from handouts_build.quantities import Kind, Quantity
from handouts_build.schema import Formula, Key
from handouts_build.sheet import Blank, Shape

__all__ = ["CUTS", "MARKS", "PartPlan", "kernel_field", "part_plan"]

CUTS: Mapping[str, type[Any]] = {
    "cylinder": kernel.Cylinder,
    "facets": kernel.Facets,
    "ball": kernel.Ball,
    "tenon": kernel.Tenon,
    "profile": kernel.ProfileCut,
    "part off": kernel.PartOff,
    "bore": kernel.Bore,
    "recess": kernel.Recess,
    "holes": kernel.HolesAround,
    "end holes": kernel.AxialHoles,
    "groove": kernel.Groove,
    "hollow": kernel.Hollow,
    "enlarge": kernel.Enlarge,
    "flat": kernel.Flat,
    "prism": kernel.Prism,
    "oval": kernel.CarveOval,
}
"""The workpiece's cut for each of the author's words."""

MARKS: Mapping[str, type[Any]] = {
    "ring": kernel.RingLine,
    "line": kernel.AlongLine,
    "circle": kernel.EndCircle,
    "points": kernel.Dots,
}
"""The workpiece's mark for each of the author's words."""

_GRAINS = {one.value: one for one in kernel.Grain}
_RING = {"width": "across_mm", "opening": "inside_mm"}
_STOCK: Mapping[str, tuple[type[Any], Mapping[str, str]]] = {
    "round": (kernel.Round, {"diameter": "diameter_mm"}),
    "square": (kernel.Square, {"side": "side_mm"}),
    "board": (kernel.Board, {"width": "wide_mm", "thickness": "thick_mm"}),
    "branch": (
        kernel.Branch,
        {"diameter": "diameter_mm", "bark": "bark_mm", "pith off the axis": "pith_mm", "pith angle": "pith_deg"},
    ),
    "glued-up ring": (kernel.GluedRing, _RING),
    "glued-up staves": (kernel.Staves, _RING),
}
"""The workpiece's blank for each of the sheet's, with its field for each measure."""
_CALLED = {"part off": "parting cut", "enlarge": "enlarged hole", "prism": "flats"}
"""What a cut is called that has no name, where that is not its kind."""
_ORDINALS = ("", "second ", "third ", "fourth ", "fifth ", "sixth ", "seventh ", "eighth ", "ninth ", "tenth ")


@dataclass(frozen=True)
class PartPlan:
    """One part ready to be carried through its steps."""

    part: str
    blank: kernel.Blank | kernel.Offcut
    steps: tuple[kernel.Step, ...]
    keys: tuple[Key, ...]
    """Where each step stands in the file."""
    numbers: tuple[int, ...]
    """Each step's number in the project."""
    segments: int = 72
    """Sides that a circle about the axis is drawn with."""


def kernel_field(name: str, model: type[Any]) -> str:
    """The workpiece's field for one of the author's keys: `keep_left` is `keep_left_mm`, `first` is `start_deg`."""
    known = {one.name for one in dataclasses.fields(model)}
    bare = name.strip("_")
    wanted = ("start_deg",) if bare == "first" else (f"{bare}_mm", f"{bare}_deg", bare)
    return next((one for one in wanted if one in known), "")


def part_plan(
    name: str,
    part: Any,
    *,
    blank: Blank,
    first: int,
    shapes: Mapping[str, Shape | None],
    ledger: Ledger,
    others: Mapping[str, PartPlan],
    segments: int,
) -> PartPlan | None:
    """A part as the workpiece takes it; None after noting why it cannot be.

    Args:
        name: The part's.
        part: Its model.
        blank: Worked out.
        first: Number of its first step in the project.
        shapes: Profiles by name; None where a profile has a problem of its own.
        ledger: Gives numbers and takes note of problems.
        others: Parts before this one, for what falls off them.
        segments: Sides that a circle about the axis is drawn with.
    """
    plan = _Plan(name, shapes, ledger)
    noted = len(ledger.problems)
    stock = plan.stock(part, blank, others)
    steps = [plan.step(step, index) for index, step in enumerate(part.steps)]
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


class _Plan:
    """The making of one part's plan."""

    def __init__(self, name: str, shapes: Mapping[str, Shape | None], ledger: Ledger) -> None:
        self.key: Key = ("parts", name)
        self.shapes = shapes
        self.ledger = ledger
        self._called: dict[str, int] = {}

    def stock(self, part: Any, blank: Blank, others: Mapping[str, PartPlan]) -> kernel.Blank | kernel.Offcut | None:
        """The blank."""
        if part.falls_off is not None:
            return self._offcut(part.falls_off, others)
        known = measures(blank)
        sizes: dict[str, Any] = {"long_mm": kernel.in_mm(known["length"]), "grain": _GRAINS[grain_of(part)]}
        for what, field in _STOCK[blank.shape][1].items():
            if what in known:
                sizes[field] = kernel.in_deg(known[what]) if field.endswith("_deg") else kernel.in_mm(known[what])
        if is_glued(blank):
            sizes["pieces"] = round(float(known["pieces"].magnitude))
        made: kernel.Blank = _STOCK[blank.shape][0](**sizes)
        return made

    def _offcut(self, name: str, others: Mapping[str, PartPlan]) -> kernel.Offcut | None:
        key = (*self.key, "falls off")
        if name not in others:
            hint = near_miss(name, others) or "name a part before this one whose steps part it off"
            self.ledger.note(key, f"'{name}' is not a part before this one that has cuts", hint)
            return None
        source = others[name]
        parting = [
            index
            for index, step in enumerate(source.steps)
            if any(isinstance(cut, kernel.PartOff) for cut in step.cuts)
        ]
        if not parting or isinstance(source.blank, kernel.Offcut):
            self.ledger.note(key, f"nothing falls off '{name}'", "give one of its steps a cut that parts off")
            return None
        return kernel.Offcut(blank=source.blank, steps=source.steps, step=parting[0])

    def step(self, step: Any, index: int) -> kernel.Step | None:
        """One step."""
        key: Key = (*self.key, "steps", index)
        noted = len(self.ledger.problems)
        holds = holds_of(step.hold, (*key, "hold"), self.number, self.ledger) if step.hold is not None else ()
        cuts = [self._cut(item, (*key, "cut", at)) for at, item in enumerate(step.cut)]
        marks = [self._mark(item, (*key, "mark", at)) for at, item in enumerate(step.mark)]
        if len(self.ledger.problems) > noted or None in cuts or None in marks or holds is None:
            return None
        return kernel.Step(
            name=step.name,
            holds=holds,
            cuts=tuple(cut for cut in cuts if cut is not None),
            marks=tuple(mark for mark in marks if mark is not None),
            rpm=float(step.speed.magnitude) if step.speed is not None else None,
        )

    def number(self, said: Any, key: Key, field: str, what: str) -> Any:
        """What a key comes to, as the workpiece's field takes it.

        Raises:
            Unsettled: After noting the problem.
        """
        if not isinstance(said, Formula):
            return {"left": kernel.End.LEFT, "right": kernel.End.RIGHT}.get(said, said)
        if field.endswith("_mm"):
            return kernel.in_mm(self.ledger.value(said, key, kind=Kind.LENGTH, what=what, place=True))
        if field.endswith("_deg"):
            return kernel.in_deg(self.ledger.value(said, key, kind=Kind.ANGLE, what=what))
        found: Quantity = self.ledger.value(said, key, kind=Kind.NUMBER, what=what)
        count = float(found.magnitude)
        if abs(count - round(count)) > 1e-9 or abs(count) > 1e6:
            self.ledger.note(key, f"{what} comes out as {count:g}", "a whole number is due")
            raise Unsettled
        return round(count)

    def _values(self, kind: str, keys: Any, model: type[Any], key: Key, *, but: frozenset[str]) -> dict[str, Any]:
        """The keys that are given, by the workpiece's fields."""
        made: dict[str, Any] = {}
        failed = False
        for name in type(keys).model_fields:
            said = getattr(keys, name)
            if said is None or name in but:
                continue
            field = kernel_field(name, model)
            word = name.strip("_").replace("_", " ")
            try:
                made[field] = self.number(
                    said, (*key, word), field, f"the {kind}'{'' if kind.endswith('s') else 's'} {word}"
                )
            except Unsettled:
                failed = True
        if failed:
            raise Unsettled
        return made

    def _cut(self, item: Any, key: Key) -> kernel.Cut | None:
        kind, keys = item.only
        key = (*key, kind)
        special: Mapping[str, Callable[[str, Any, Key], kernel.Cut]] = {
            "profile": self._profile,
            "hollow": self._hollow,
            "holes": self._holes,
        }
        name = self._name(kind, keys.name)
        try:
            if kind in special:
                return special[kind](name, keys, key)
            values = self._values(kind, keys, CUTS[kind], key, but=frozenset({"name", "meets"}))
            made: kernel.Cut = CUTS[kind](name=name, meets=tuple(keys.meets), **values)
            return made
        except Unsettled:
            return None
        except kernel.WorkpieceFault as fault:
            self.ledger.note(key, fault.message, fault.hint)
            return None

    def _name(self, kind: str, given: str | None) -> str:
        """The author's name for a cut, or its kind, counted where there are several."""
        if given is not None:
            return given
        word = _CALLED.get(kind, kind)
        before = self._called.get(word, 0)
        self._called[word] = before + 1
        return f"{_ORDINALS[before]}{word}" if before < len(_ORDINALS) else f"{word} {before + 1}"

    def _mark(self, item: Any, key: Key) -> kernel.Mark | None:
        kind, keys = item.only
        try:
            made: kernel.Mark = MARKS[kind](**self._values(kind, keys, MARKS[kind], (*key, kind), but=frozenset()))
            return made
        except Unsettled:
            return None

    def _holes(self, name: str, keys: Any, key: Key) -> kernel.Cut:
        values = self._values("holes", keys, kernel.HolesAround, key, but=frozenset({"name", "meets", "reach"}))
        return kernel.HolesAround(name=name, meets=tuple(keys.meets), reach=kernel.Reach(keys.reach), **values)

    def _shape(self, name: str, key: Key, *, turned: bool) -> Shape:
        """A profile, perhaps the other way round."""
        if name not in self.shapes:
            self.ledger.note(key, f"'{name}' is not a profile", near_miss(name, self.shapes))
        shape = self.shapes.get(name)
        if shape is None:
            raise Unsettled
        if not turned:
            return shape
        long = shape.points_mm[-1][0]
        return dataclasses.replace(shape, points_mm=tuple((long - x, radius) for x, radius in shape.points_mm[::-1]))

    def _profile(self, name: str, keys: Any, key: Key) -> kernel.Cut:
        shape = self._shape(keys.shape, (*key, "shape"), turned=keys.reversed)
        values = self._values("profile", keys, kernel.ProfileCut, key, but=_SHAPED | {"keep_left", "keep_right"})
        left, right = (
            0.0 if said is None else self.number(said, (*key, word), "keep_mm", f"the profile's {word}") / 2
            for word, said in (("keep left", keys.keep_left), ("keep right", keys.keep_right))
        )
        middle = shape.points_mm[-1][0] / 2
        points = tuple((x, max(radius, left if x < middle else right)) for x, radius in shape.points_mm)
        stubs = tuple(_stubs(shape, turned=keys.reversed))
        return kernel.ProfileCut(name=name, meets=tuple(keys.meets), points_mm=points, stubs=stubs, **values)

    def _hollow(self, name: str, keys: Any, key: Key) -> kernel.Cut:
        meets = tuple(keys.meets)
        values = self._values("hollow", keys, kernel.Hollow, key, but=_SHAPED | {"wall", "floor"})
        if keys.shape is not None:
            shape = self._shape(keys.shape, (*key, "shape"), turned=keys.reversed)
            return kernel.Hollow(name=name, meets=meets, points_mm=shape.points_mm, **values)
        shape = self._shape(keys.outside, (*key, "outside"), turned=keys.reversed)
        start = values.get("at_mm", 0.0)
        thick = [
            self.number(getattr(keys, one), (*key, one), f"{one}_mm", f"the hollow's {one}")
            for one in ("wall", "floor")
        ]
        return kernel.hollow_to_wall(
            name,
            outer_mm=[(x + start, radius) for x, radius in shape.points_mm],
            wall_mm=thick[0],
            floor_mm=thick[1],
            end=values["end"],
            meets=meets,
        )


_SHAPED = frozenset({"name", "meets", "shape", "outside", "reversed"})


def _stubs(shape: Shape, *, turned: bool) -> list[kernel.Stub]:
    """The tenons at the ends of a profile, by what they are called."""
    long = shape.points_mm[-1][0]
    found = []
    for segment in shape.segments:
        if segment.kind != "tenon":
            continue
        start, stop = kernel.in_mm(segment.start), kernel.in_mm(segment.end)
        if turned:
            start, stop = long - stop, long - start
        middle = (start + stop) / 2
        radius = next(r1 for (x1, r1), (x2, _) in itertools.pairwise(shape.points_mm) if x2 > middle >= x1)
        end = kernel.End.LEFT if middle < long / 2 else kernel.End.RIGHT
        found.append(kernel.Stub(segment.says or "tenon", start, stop, 2 * radius, end))
    return found
