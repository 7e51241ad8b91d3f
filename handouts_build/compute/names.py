"""The order in which names are settled.

This module owns the graph of names: who needs whom, cycles, unknown names, and
running each definition once in an order that works. What a definition computes is its own
affair. It goes by iteration, never recursion, so a long chain cannot run it dry.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter

from handouts_build.formulas import FormulaFault, Name, UnitFault, names, value_of
from handouts_build.problems import MOST, Problem, ProjectError, near_miss
from handouts_build.quantities import LONGEST_MM, REFUSALS, Kind, Manner, Printed, Quantity, exact, kind_of
from handouts_build.schema import Document, Formula, Key, written

__all__ = ["Definition", "Ledger", "Unsettled"]

_OR_A_NUMBER = "write a number, with its unit where it has one, or a name that this file gives"


class Unsettled(Exception):
    """A value that cannot be had because of a problem that is already noted."""


@dataclass(frozen=True)
class Definition:
    """Something that gives values to names once others have theirs."""

    name: str
    """The author's name for it."""
    key: Key
    """Where it stands in the file."""
    formulas: tuple[tuple[Formula, Key], ...]
    """Every formula it reads, with its place; their names are what it needs."""
    gives: frozenset[str]
    """Full names it may give a value to."""
    run: Callable[[], None]
    """Settles it; raises `Unsettled` after noting a problem."""


class Ledger:
    """The values settled so far and the problems found on the way.

    Args:
        document: The file, for places.
    """

    def __init__(self, document: Document) -> None:
        self.document = document
        self.values: dict[str, Quantity] = {}
        self.manners: dict[str, Manner] = {}
        self.printed: dict[str, Printed] = {}
        self.problems: list[Problem] = []
        self._definitions: dict[str, Definition] = {}
        self._failed: set[str] = set()
        self._blamed: set[str] = set()
        self._known: set[str] = set()

    def note(self, key: Key, message: str, hint: str = "", *, offset: int | None = None) -> None:
        """Note a problem at a place in the file.

        Args:
            key: The key to blame.
            message: What is wrong.
            hint: What would be right.
            offset: Letters of the key's text before the one to blame; None for the whole.

        Raises:
            ProjectError: Once there are so many that one cause must be behind them.
        """
        self.problems.append(Problem(self.document.place(key, offset=offset), message, hint))
        if len(self.problems) >= MOST:
            self.refuse()

    def add(self, definition: Definition) -> None:
        """Take in a definition; two of one name are a problem."""
        if definition.name in self._definitions:
            other = self._definitions[definition.name]
            self.note(
                definition.key,
                f"the name '{definition.name}' is already used at {written(other.key)}",
                "choose another name",
            )
            return
        self._definitions[definition.name] = definition
        self._known |= definition.gives

    def settle(self) -> None:
        """Run every definition in an order that works, noting cycles and unknown names."""
        # In the order they are named, not a set's: rows stand in the order in which they are worked out.
        graph: dict[str, dict[str, None]] = {}
        for definition in self._definitions.values():
            needs: dict[str, None] = {}
            for formula, key in definition.formulas:
                for used in names(formula.tree):
                    base = self._base(used.name)
                    if base in self._definitions:
                        needs[base] = None
                    elif base != "rule":
                        self._unknown(used.name, key, used.offset)
                        self._failed.add(definition.name)
            graph[definition.name] = needs
        while True:
            try:
                order = tuple(TopologicalSorter(graph).static_order())
                break
            except CycleError as error:
                around: list[str] = error.args[1][::-1]
                first = self._definitions[around[0]]
                self.note(
                    first.key,
                    "this goes round in a circle: " + " → ".join(around),
                    "one of them must be given, not worked out",
                )
                self._failed.update(around)
                for name in around:
                    graph[name] = {}
        for name in order:
            definition = self._definitions[name]
            if name in self._failed or graph[name].keys() & self._failed:
                self._failed.add(name)
                continue
            try:
                definition.run()
            except Unsettled:
                self._failed.add(name)

    def value(
        self, formula: Formula, key: Key, *, kind: Kind | None = None, label: str = "this", place: bool = False
    ) -> Quantity:
        """The value of a formula, checked for its kind.

        Args:
            formula: The formula.
            key: Where it stands.
            kind: What it must measure, if that is known; a length must be more than nought.
            label: How a message calls it.
            place: Whether it is a place along an axis, which may be nought or less.

        Raises:
            Unsettled: After noting the problem.
        """
        try:
            found = value_of(formula.tree, self.lookup)
        except FormulaFault as fault:
            hint = fault.hint
            if isinstance(fault, UnitFault) and (bare := self._not_yet_blamed(formula)):
                hint = "does '{}' lack its unit, such as in or mm?".format("' or '".join(bare))
            self.note(key, fault.message, hint, offset=fault.offset)
            raise Unsettled from None
        if kind is not None and kind_of(found) is not kind:
            self._wrong_kind(formula, key, found, kind, label)
            raise Unsettled
        if kind_of(found) is Kind.LENGTH and not place:
            self.check_length(found, key, label)
        return found

    def check_length(self, length: Quantity, key: Key, label: str) -> None:
        """See that a length is one that can be turned.

        Args:
            length: The length.
            key: Where it stands.
            label: How a message calls it.

        Raises:
            Unsettled: After noting the problem.
        """
        if length.magnitude <= 0:
            both = f"{exact(length, 'in')} ({exact(length, 'mm')})"
            self.note(key, *REFUSALS["length"].filled(what=label, length=both))
        elif length.magnitude > LONGEST_MM:
            self.note(key, *REFUSALS["long"].filled(what=label))
        else:
            return
        raise Unsettled

    def _wrong_kind(self, formula: Formula, key: Key, found: Quantity, kind: Kind, label: str) -> None:
        """Note that a value does not measure what it should, at the number that lacks its unit if that is plain."""
        is_ = kind_of(found)
        if is_ is not Kind.NUMBER:
            self.note(key, f"{label} comes out as {_a(is_)}, where {_a(kind)} is due", f"it should be {kind.says}")
        elif not any(names(formula.tree)):
            self.note(key, *REFUSALS["bare"].filled(text=formula.text, right=kind.says))
        elif len(bare := self._not_yet_blamed(formula)) == 1:
            (name,) = bare
            message = f"'{name}' is a plain number, and {_a(kind)} is due where it is used, at {written(key)}"
            self.note((*self._definitions[name].key, "is"), message, f"write {kind.says}")
        else:
            self.note(key, f"{label} comes out as a plain number, where {_a(kind)} is due", f"it should be {kind.says}")

    def _not_yet_blamed(self, formula: Formula) -> list[str]:
        """The sizes without a unit that a formula rests on, each blamed for one fault of units only.

        Raises:
            Unsettled: If one of them is blamed already.
        """
        bare: dict[str, None] = {}
        waiting, seen = [formula], {formula.text}
        while waiting:
            for name in names(waiting.pop().tree):
                definition = self._definitions.get(name.name)
                if definition is None or kind_of(self.values[name.name]) is not Kind.NUMBER:
                    continue
                if definition.key[0] == "sizes":
                    bare[name.name] = None
                for inner, _ in definition.formulas:
                    if inner.text not in seen:
                        seen.add(inner.text)
                        waiting.append(inner)
        if bare.keys() & self._blamed:
            raise Unsettled
        self._blamed |= bare.keys()
        return list(bare)

    def manner(self, formula: Formula) -> Manner | None:
        """How a value is printed that a formula only names, which is as it is printed there; None of any other."""
        return self.manners.get(formula.tree.name, Manner()) if isinstance(formula.tree, Name) else None

    def named(self, formula: Formula) -> Printed | None:
        """The printed form of a value that a formula only names, if it is printed already."""
        return self.printed.get(formula.tree.name) if isinstance(formula.tree, Name) else None

    def hole(self, manner: Manner) -> tuple[Quantity, Printed] | None:
        """The hole that a value printed in such a manner goes into: exact, and as it is printed."""
        if manner.below not in self.values or manner.below not in self.printed:
            return None
        return self.values[manner.below], self.printed[manner.below]

    def lookup(self, name: str) -> Quantity:
        """The value of a full name.

        Raises:
            Unsettled: If its definition has a problem that is noted already.
            FormulaFault: If there is no such name.
        """
        if name in self.values:
            return self.values[name]
        base = self._base(name)
        if base in self._failed:
            raise Unsettled
        if name in self._known:
            raise FormulaFault(f"'{name}' is not worked out here", f"{base} is not given all it needs for that")
        raise FormulaFault(f"'{name}' is not known", near_miss(name, self._near(name)))

    def _base(self, name: str) -> str:
        """The definition that gives a full name: its own, or the one that is named before its first dot."""
        return name if name in self._definitions else name.partition(".")[0]

    def _near(self, name: str) -> Iterable[str]:
        base, dot, _ = name.partition(".")
        if dot and base in self._definitions:
            return sorted(self._definitions[base].gives)
        return sorted(self._known | {"rule"})

    def _unknown(self, name: str, key: Key, offset: int) -> None:
        hint = near_miss(name, self._near(name)) or _OR_A_NUMBER
        self.note(key, f"'{name}' is not known", hint, offset=offset)

    def refuse(self) -> None:
        """Stop if any problem was noted.

        Raises:
            ProjectError: With all of them.
        """
        if self.problems:
            raise ProjectError(self.problems)


def _a(kind: Kind | None) -> str:
    if kind is None:
        return "a mixture of units"
    return f"{'an' if kind.value[0] in 'aeiou' else 'a'} {kind.value}"
