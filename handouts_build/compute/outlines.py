"""A profile worked for a project.

This module owns the step from a `profiles:` entry to a group of the sheet: its
elements get their numbers, the trade makes the outline, and what can be read off
it is named and shown.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cached_property

from handouts_build.compute.names import Ledger, Piece, Unsettled
from handouts_build.compute.showing import filled, rounding
from handouts_build.compute.workings import source_of
from handouts_build.formulas import names
from handouts_build.quantities import Err, Kind, Printed, Quantity, Rule, exact, print_quantity
from handouts_build.schema import Element as Keys
from handouts_build.schema import Formula, Key, Profile
from handouts_build.sheet import Dimension, Finding, Group, Level, Segment, Shape, Station, Working
from handouts_build.trade.outlines import PROFILE_DEMANDS, PROFILE_VALUES
from handouts_build.trade.outlines import Profile as Outline
from handouts_build.trade.profiles import (
    Bead,
    Cavetto,
    Cove,
    Cylinder,
    Element,
    Ogee,
    Ovolo,
    ProfileFault,
    Round,
    RoundStart,
    Taper,
    Vee,
    outline,
)

__all__ = ["ProfileWork"]

_SIZES = ("long", "diameter", "from_", "to")
_USES = {
    "cylinder": {"diameter"},
    "tenon": {"diameter"},
    "fillet": {"diameter"},
    "taper": {"from_", "to"},
    "ogee": {"from_", "to"},
    "ovolo": {"from_", "to"},
    "cavetto": {"from_", "to"},
    "bead": {"diameter", "from_", "to"},
    "cove": {"diameter", "from_", "to"},
    "vee": {"diameter", "from_", "to"},
    "round": {"from_", "to"},
}
_NEEDS = {"taper": "to", "ogee": "to", "ovolo": "to", "cavetto": "to", "round": ""}


class ProfileWork:
    """One entry of `profiles:` on its way to a group.

    Args:
        name: The author's name for it.
        model: Its keys.
        ledger: Where values and problems go.
        rule: Marks to round to.
    """

    def __init__(self, name: str, model: Profile, *, ledger: Ledger, rule: Rule) -> None:
        self.name = name
        self.title = model.says
        self._model = model
        self._key: Key = ("profiles", name)
        self._ledger = ledger
        self._rule = rule
        self.group: Group | None = None
        self.findings: list[Finding] = []

    @cached_property
    def piece(self) -> Piece:
        """What the ledger settles."""
        formulas = tuple(
            (formula, (*key, size.strip("_")))
            for key, _, keys in self._items()
            for size in _SIZES
            if isinstance(formula := getattr(keys, size), Formula)
        )
        gives = frozenset(f"{self.name}.{one.name}" for one in PROFILE_VALUES)
        return Piece(self.name, self._key, formulas, gives, self._run)

    def _items(self) -> Iterator[tuple[Key, str, Keys]]:
        for index, item in enumerate(self._model.along):
            kind, keys = item.only
            yield (*self._key, "along", index, kind), kind, keys

    def _run(self) -> None:
        made: list[Element] = []
        failed = False
        for index, (key, kind, keys) in enumerate(self._items()):
            try:
                made.append(self._element(key, kind, keys, first=index == 0))
            except Unsettled:
                failed = True
        if failed:
            raise Unsettled
        try:
            drawn = outline(made)
        except ProfileFault as fault:
            self._ledger.note([key for key, _, _ in self._items()][fault.index], fault.message, fault.hint)
            raise Unsettled from None
        known = drawn.known()
        for name, value in known.items():
            self._ledger.values[f"{self.name}.{name}"] = value
        rows = tuple(self._rows(known))
        printed = {row.name.rpartition(".")[2]: row.printed for row in rows}
        for demand in PROFILE_DEMANDS:
            if not demand.met(known):
                place = self._ledger.document.place(self._key)
                self.findings.append(
                    Finding(Level(demand.level), self.title, filled(demand.message, printed), demand.remedy, place)
                )
        self.group = Group(
            name=self.name,
            title=self.title,
            chapter="profile",
            about="Elements along the axis, and what follows from them.",
            dimensions=rows,
            shape=self._shape(drawn),
            part=self._model.part or "",
            rests_on=tuple(
                dict.fromkeys(name.name for formula, _ in self.piece.formulas for name in names(formula.tree))
            ),
        )

    def _element(self, key: Key, kind: str, keys: Keys, *, first: bool) -> Element:
        """One element with its numbers."""
        for size in _SIZES[1:]:
            if getattr(keys, size) is not None and size not in _USES[kind]:
                uses = ", ".join(sorted(one.strip("_") for one in _USES[kind]))
                self._ledger.note(
                    (*key, size.strip("_")), f"a {kind} has no '{size.strip('_')}'", f"it takes long, {uses}"
                )
                raise Unsettled
        needed = _NEEDS.get(kind, "diameter")
        if needed and getattr(keys, needed) is None:
            self._ledger.note(
                key, f"this {kind} has no '{needed}'", f"give it: {{{kind}: {{{needed}: 1/2 in, long: 1/4 in}}}}"
            )
            raise Unsettled

        def given(size: str) -> Quantity | None:
            formula: Formula | None = getattr(keys, size)
            if formula is None:
                return None
            name = size.strip("_")
            return self._ledger.value(formula, (*key, name), kind=Kind.LENGTH, what=f"the {kind}'s {name}")

        def due(size: str) -> Quantity:
            value = given(size)
            assert value is not None
            return value

        long, label = due("long"), keys.says or ""
        make: dict[str, Callable[[], Element]] = {
            "taper": lambda: Taper(long=long, label=label, start=given("from_"), to=due("to")),
            "ogee": lambda: Ogee(long=long, label=label, start=given("from_"), to=due("to")),
            "ovolo": lambda: Ovolo(long=long, label=label, start=given("from_"), to=due("to")),
            "cavetto": lambda: Cavetto(long=long, label=label, start=given("from_"), to=due("to")),
            "bead": lambda: Bead(
                long=long, label=label, diameter=due("diameter"), start=given("from_"), end=given("to")
            ),
            "cove": lambda: Cove(
                long=long, label=label, diameter=due("diameter"), start=given("from_"), end=given("to")
            ),
            "vee": lambda: Vee(long=long, label=label, diameter=due("diameter"), start=given("from_"), end=given("to")),
            "round": lambda: (
                RoundStart(long=long, label=label, to=due("to"))
                if first and keys.to is not None
                else Round(long=long, label=label, start=given("from_"))
            ),
        }
        return make.get(kind, lambda: Cylinder(long=long, label=label, diameter=due("diameter"), kind=kind))()

    def _rows(self, known: dict[str, Quantity]) -> Iterator[Dimension]:
        for one in PROFILE_VALUES:
            value = known[one.name]
            printed = print_quantity(value, self._rule, err=one.err)
            said = one.name.replace("_", "\u00a0")
            working = Working(
                symbol=said,
                formula="",
                numbers="",
                result=exact(value, self._rule.lead),
                rounding=rounding(value, printed, self._rule, one.err),
                source=source_of(one.source),
            )
            yield Dimension(f"{self.name}.{one.name}", one.says, value, printed, one.err, one.main, working, [])

    def _shape(self, drawn: Outline) -> Shape:
        stations: list[Station] = []
        for one in drawn.stations:
            made = Station(one.what, one.x, self._print(one.x), one.diameter, self._print(one.diameter))
            # Where one element goes smoothly into the next, the place is told once.
            if stations and (stations[-1].at_printed, stations[-1].printed) == (made.at_printed, made.printed):
                stations[-1] = made
            else:
                stations.append(made)
        return Shape(
            segments=tuple(Segment(one.kind, one.name, one.start, one.end) for one in drawn.segments),
            points_mm=drawn.points,
            stations=tuple(stations),
        )

    def _print(self, value: Quantity) -> Printed:
        return print_quantity(value, self._rule, err=Err.NEAREST)
