"""A profile worked for a project.

This module owns the step from a `profiles:` entry to a group of the sheet: its
elements get their numbers, the trade makes the outline, and what can be read off
it is named and shown. The trade's rows go along as trees, for other sizes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cached_property, partial, reduce

from handouts_build.compute.chapters import source_of
from handouts_build.compute.names import Definition, Ledger, Unsettled
from handouts_build.compute.working import chained, filled, meant, result_of, rounding
from handouts_build.formulas import Name, Node, sum_of_names, to_json
from handouts_build.formulas.tree import Binary
from handouts_build.language import tr
from handouts_build.quantities import (
    Kind,
    Link,
    Manner,
    Printed,
    Quantity,
    Rule,
    close_chain,
    print_as,
    print_exact,
    print_quantity,
)
from handouts_build.schema import ElementKeys, Formula, Key, ProfileKeys
from handouts_build.sheet import Condition, Dimension, Finding, Follows, Group, Level, Segment, Shape, Station, Working
from handouts_build.trade.elements import (
    BeadElement,
    CavettoElement,
    CoveElement,
    CylinderElement,
    Element,
    OgeeElement,
    OvoloElement,
    ProfileFault,
    RoundElement,
    RoundStartElement,
    TaperElement,
    VeeElement,
)
from handouts_build.trade.fit import TENON
from handouts_build.trade.law import Demand
from handouts_build.trade.outlines import INSIDE_VALUES, PROFILE_DEMANDS, PROFILE_VALUES, OutlineMeasure
from handouts_build.trade.outlines import Profile as Outline
from handouts_build.trade.profiles import OutlinePlan, planned

__all__ = ["ProfileWork"]

_SLENDER = "slender"
"""The source of the demand that a step may accept."""
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


def _said(demand: Demand, because: str) -> Demand:
    """A demand in the reader's words; as the author's reason leaves it where there is one: a note, with the reason."""
    if not because or demand.source != _SLENDER:
        return replace(demand, message=tr(demand.message), remedy=tr(demand.remedy))
    # No braces of the author's: those are for values.
    reason = because.replace("{", "").replace("}", "")
    text = tr("{slenderness} times as long as its neck of {neck} is thick")
    return replace(demand, level="note", message=meant(tr("Slender on purpose"), text, reason), remedy="")


class ProfileWork:
    """One entry of `profiles:` on its way to a group.

    Args:
        name: The author's name for it.
        model: Its keys.
        ledger: Where values and problems go.
        rule: Marks to round to.
        inside: Whether it is hollowed: it then speaks of depth and opening, not of a blank.
        slender_because: Why the author accepts that it is slender in the step that turns it, if so: what is said of
            the profile and of its step must not differ.
    """

    def __init__(
        self,
        name: str,
        model: ProfileKeys,
        *,
        ledger: Ledger,
        rule: Rule,
        inside: bool = False,
        slender_because: str = "",
    ) -> None:
        self.name = name
        self.title = model.says or tr("Profile")
        self._model = model
        self._key: Key = ("profiles", name)
        self._ledger = ledger
        self._rule = rule
        self._values = INSIDE_VALUES if inside else PROFILE_VALUES
        # Room neither whips nor breaks.
        self._demands = () if inside else tuple(_said(demand, slender_because) for demand in PROFILE_DEMANDS)
        self.group: Group | None = None
        self.findings: list[Finding] = []
        self.slender: list[Finding] = []
        """Apart, for a part's solid may tell of it too."""
        self._given: dict[str, Quantity] = {}
        self._formulas: dict[str, tuple[str, Formula]] = {}
        self._manners: dict[str, Manner] = {}
        self._named: set[str] = set()
        """Sizes of elements that only name a value, and are printed as it is."""

    @cached_property
    def definition(self) -> Definition:
        """What the ledger settles."""
        formulas = tuple(
            (formula, (*key, size.strip("_")))
            for key, _, keys in self._items()
            for size in _SIZES
            if isinstance(formula := getattr(keys, size), Formula)
        )
        gives = frozenset(f"{self.name}.{measure.name}" for measure in PROFILE_VALUES)
        return Definition(self.name, self._key, formulas, gives, self._run)

    def _items(self) -> Iterator[tuple[Key, str, ElementKeys]]:
        for index, item in enumerate(self._model.along):
            kind, keys = item.only
            yield (*self._key, "along", index, kind), kind, keys

    def _run(self) -> None:
        made: list[Element] = []
        failed = False
        for index, (key, kind, keys) in enumerate(self._items()):
            try:
                made.append(self._element(key, kind, keys, number=index + 1))
            except Unsettled:
                failed = True
        if failed:
            raise Unsettled
        places = [key for key, _, _ in self._items()]
        try:
            plan = planned(made)
        except ProfileFault as fault:
            self._ledger.note(places[fault.index], fault.message, fault.hint)
            raise Unsettled from None
        for check in plan.failed(self._given):
            values = {name: print_exact(self._given[full], self._rule) for name, full in check.stands_for.items()}
            self._ledger.note(places[check.index], filled(check.demand.message, values), check.demand.remedy)
            failed = True
        if failed:
            raise Unsettled
        drawn = plan.drawn(self._given)
        known = drawn.known()
        rows = tuple(self._rows(known, drawn))
        for row in rows:
            self._ledger.values[row.name], self._ledger.manners[row.name] = row.value, row.manner
            self._ledger.printed[row.name] = row.printed
        printed = {row.name.rpartition(".")[2]: row.printed for row in rows}
        for demand in self._demands:
            if not demand.met(known):
                place = self._ledger.document.place(self._key)
                (self.slender if demand.source == _SLENDER else self.findings).append(
                    Finding(
                        Level(demand.level),
                        self.title,
                        filled(demand.message, printed),
                        demand.remedy,
                        place,
                        judged=True,
                    )
                )
        self.group = Group(
            name=self.name,
            title=self.title,
            chapter="profile",
            about=tr("Elements along the axis, and what follows from them."),
            dimensions=rows,
            shape=self._shape(drawn, printed["length"]),
            part=self._model.part or "",
            conditions=tuple(
                Condition(
                    to_json(demand.tree, self._full),
                    demand.level,
                    filled(demand.message, {name: f"{{{self._full(name)}}}" for name in known}),
                    demand.remedy,
                )
                for demand in self._demands
            ),
            follows=self._follows(plan),
        )

    def _full(self, name: str) -> str:
        """The full name of one of the profile's values."""
        return f"{self.name}.{name}"

    def _follows(self, plan: OutlinePlan) -> Follows:
        """The trade's rows with full names."""
        checks = []
        for check in plan.checks:
            full = {name: self._full(given) for name, given in check.stands_for.items()}
            message = filled(tr(check.demand.message), {name: f"{{{full_name}}}" for name, full_name in full.items()})
            tree = to_json(check.demand.tree, full.__getitem__)
            checks.append(Condition(tree, check.demand.level, message, tr(check.demand.remedy), str(check.index + 1)))
        return Follows(
            sizes=tuple(
                (self._full(name), label, name, self._given[name], to_json(formula.tree))
                for name, (label, formula) in self._formulas.items()
            ),
            rows=tuple(
                (
                    self._full(row.name),
                    to_json(row.formula.tree),
                    {name: self._full(known) for name, known in row.stands_for.items()},
                )
                for row in plan.rows.all
            ),
            checks=tuple(checks),
            stations=tuple(
                (point.what, self._full(point.x), self._full(point.diameter), self._manner(point.diameter))
                for segment in plan.segments
                for point in segment.points
            ),
            length=to_json(named) if (named := self._length_tree()) is not None else None,
        )

    def _element(self, key: Key, kind: str, keys: ElementKeys, *, number: int) -> Element:
        """One element with its numbers."""
        for size in _SIZES[1:]:
            if getattr(keys, size) is not None and size not in _USES[kind]:
                uses = ", ".join(sorted(size_name.strip("_") for size_name in _USES[kind]))
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
            label = f"the {kind}'s {name}"
            value = self._ledger.value(formula, (*key, name), kind=Kind.LENGTH, label=label)
            self._given[f"{number}.{name}"] = value
            self._formulas[f"{number}.{name}"] = label, formula
            # A tenon is turned to a hole, by calipers: rounded up to the hole's own size it would not go in.
            alone = TENON if kind == "tenon" and size == "diameter" else Manner()
            named = self._ledger.manner(formula)
            if named is not None:
                self._named.add(f"{number}.{name}")
            self._manners[f"{number}.{name}"] = named or alone
            return value

        def due(size: str) -> Quantity:
            value = given(size)
            assert value is not None
            return value

        long, label = due("long"), keys.says or ""
        make: dict[str, Callable[[], Element]] = {
            "taper": lambda: TaperElement(long=long, label=label, start=given("from_"), to=due("to")),
            "ogee": lambda: OgeeElement(long=long, label=label, start=given("from_"), to=due("to")),
            "ovolo": lambda: OvoloElement(long=long, label=label, start=given("from_"), to=due("to")),
            "cavetto": lambda: CavettoElement(long=long, label=label, start=given("from_"), to=due("to")),
            "bead": lambda: BeadElement(
                long=long, label=label, diameter=due("diameter"), start=given("from_"), end=given("to")
            ),
            "cove": lambda: CoveElement(
                long=long, label=label, diameter=due("diameter"), start=given("from_"), end=given("to")
            ),
            "vee": lambda: VeeElement(
                long=long, label=label, diameter=due("diameter"), start=given("from_"), end=given("to")
            ),
            "round": lambda: (
                RoundStartElement(long=long, label=label, to=due("to"))
                if number == 1 and keys.to is not None
                else RoundElement(long=long, label=label, start=given("from_"))
            ),
        }
        return make.get(kind, lambda: CylinderElement(long=long, label=label, diameter=due("diameter"), kind=kind))()

    def _manner(self, name: str) -> Manner:
        """How one of the elements' sizes is printed; to the nearest mark where it only follows."""
        return self._manners.get(name, Manner())

    def _print(self, value: Quantity, manner: Manner, chain: tuple[float, float] | None = None) -> Printed:
        return print_as(value, self._rule, manner, below=self._ledger.hole(manner), chain=chain)

    @cached_property
    def _comes_to(self) -> tuple[str, ...]:
        """The names that the elements' lengths together are the sum of; none where there is more to it."""
        return sum_of_names(formula.tree for name, (_, formula) in self._formulas.items() if name.endswith(".long"))

    def _length_tree(self) -> Node | None:
        """The sum of those names; None where there are none."""
        named: list[Node] = [Name(0, name) for name in self._comes_to]
        return reduce(partial(Binary, 0, "+"), named) if named else None

    def _row_manner(self, measure: OutlineMeasure, drawn: Outline) -> Manner:
        """How a row is printed, which is as what it is the size of is printed elsewhere: one size on one page.

        The neck and the widest place are as the stations are that they are at, the length as what it is
        by name.
        """
        if measure.name in ("neck", "widest"):
            points = (point.diameter for segment in drawn.segments for point in segment.points)
            there = (name for name in points if drawn.values[name] == drawn.values[measure.name])
            # A place that an element only ends at is as the one that was told that size.
            return next((manner for name in there if (manner := self._manner(name)) != Manner()), Manner())
        if measure.name == "length" and len(self._comes_to) == 1:
            return self._ledger.manners.get(self._comes_to[0], Manner())
        return Manner(measure.err)

    def _rows(self, known: dict[str, Quantity], drawn: Outline) -> Iterator[Dimension]:
        for measure in self._values:
            value = known[measure.name]
            manner = self._row_manner(measure, drawn)
            tree = self._length_tree() if measure.name == "length" else None
            chain = chained(tree, self._ledger.printed) if tree is not None else None
            printed = self._print(value, manner, chain)
            rounded = rounding(value, printed, self._rule, manner)
            said = measure.name.replace("_", "\u00a0")
            working = Working(
                symbol=said,
                formula="",
                numbers="",
                result=result_of(value, self._rule, rounded=bool(rounded)),
                rounding=rounded,
                source=source_of(measure.source),
            )
            yield Dimension(
                f"{self.name}.{measure.name}", tr(measure.says), value, printed, manner, measure.main, working, []
            )

    def _shape(self, drawn: Outline, whole: Printed) -> Shape:
        stations: list[Station] = []
        points = [point for segment in drawn.segments for point in segment.points]
        for station, point in zip(drawn.stations, points, strict=True):
            across = self._print(station.diameter, self._manner(point.diameter))
            place = print_quantity(station.x, self._rule)
            made = Station(station.what, station.x, place, station.diameter, across, point.element, point.edge)
            # Where one element goes smoothly into the next, the place is told once.
            if stations and (stations[-1].at_printed, stations[-1].printed) == (made.at_printed, made.printed):
                stations[-1] = made
            else:
                stations.append(made)
        return Shape(
            segments=tuple(self._segments(drawn, whole)),
            points_mm=drawn.points,
            stations=tuple(stations),
        )

    def _segments(self, drawn: Outline, whole: Printed) -> Iterator[Segment]:
        """The elements, their lengths printed so that they come to the whole as it is printed."""
        links = []
        for number, segment in enumerate(drawn.segments, start=1):
            start, end = drawn.span(segment)
            size = f"{number}.long"
            named = self._ledger.named(self._formulas[size][1])
            long = named or self._print(end - start, self._manner(size))
            links.append(Link(end - start, long, free=size not in self._named))
        (start, _), (_, end) = drawn.span(drawn.segments[0]), drawn.span(drawn.segments[-1])
        lengths, _ = close_chain(links, Link(end - start, whole, free=False), self._rule)
        for segment, long in zip(drawn.segments, lengths, strict=True):
            yield Segment(segment.kind, segment.name, *drawn.span(segment), long)
