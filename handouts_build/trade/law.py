"""A law of the trade: one result, its formula, and where the formula comes from.

This module owns the frame the chapters are written in. A law's formula stands
once, in the project's own formula language; from that one text come the value,
the working on the page, and the tree that a page evaluates by itself. A law is
also a plain function on quantities: `setback(diameter=inches(2.25))`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from handouts_build.formulas import Node, holds, names, parse, value_of
from handouts_build.quantities import Err, Kind, Quantity

__all__ = ["Chapter", "Demand", "Given", "Law", "Remark"]


@dataclass(frozen=True)
class Given:
    """Something a chapter must be told, or may be."""

    name: str
    """Its name in formulas."""
    symbol: str
    """Its letter in print, such as D."""
    kind: Kind
    says: str
    """What it is, for the reference page and the working."""
    optional: bool = False
    """Whether the results that need it are simply left out without it."""
    default: str = ""
    """Formula used when it is not given; may use the givens before it."""
    wood: bool = False
    """Whether it may be a wood's name, standing for that wood's movement coefficient."""

    @property
    def key(self) -> str:
        """The key in a project file: the name with spaces."""
        return self.name.replace("_", " ")


@dataclass(frozen=True)
class Law:
    """One result that follows from what is given.

    Calling it with quantities by name gives the result; `FormulaFault` is raised
    where it has none.
    """

    name: str
    symbol: str
    formula: str
    says: str
    source: str
    """Id in the table of sources."""
    err: Err = Err.NEAREST
    """The safe side when it is rounded to a mark."""
    fine: bool = False
    """Whether it is printed in thousandths rather than marks."""
    main: bool = True
    """Whether it belongs on the dimensions sheet, not only in the working."""

    @cached_property
    def tree(self) -> Node:
        """The formula, read once."""
        return parse(self.formula)

    @cached_property
    def needs(self) -> frozenset[str]:
        """Names the formula uses."""
        return frozenset(name.name for name in names(self.tree))

    def __call__(self, **given: Quantity) -> Quantity:
        """The value in base units.

        Args:
            **given: A quantity for every name in `needs`.
        """
        return value_of(self.tree, given.__getitem__)


@dataclass(frozen=True)
class Demand:
    """A condition a chapter puts on what it is given and what follows."""

    holds: str
    """The comparison that should be true."""
    level: str
    """`problem` (cannot be worked out), or a finding: `stop`, `mind` or `note`."""
    message: str
    """Said when it is not true; `{name}` stands for a value."""
    remedy: str
    at: str = ""
    """The given to blame, if one."""
    source: str = ""
    """Id in the table of sources, where the limit is one that somebody set."""

    @cached_property
    def tree(self) -> Node:
        """The comparison, read once."""
        return parse(self.holds)

    @cached_property
    def needs(self) -> frozenset[str]:
        """Names the comparison uses."""
        return frozenset(name.name for name in names(self.tree))

    def met(self, known: Mapping[str, Quantity]) -> bool:
        """Whether the condition holds, or cannot be judged from what is known."""
        if not self.needs <= known.keys():
            return True
        return holds(self.tree, known.__getitem__)


@dataclass(frozen=True)
class Remark:
    """Something worth saying that is not one number: `{name}` stands for a value."""

    text: str
    source: str
    """Id in the table of sources."""


@dataclass(frozen=True)
class Chapter:
    """A chapter of the trade's arithmetic: givens in, results out."""

    name: str
    """As a project file calls it."""
    about: str
    """What it works out, in a sentence."""
    givens: tuple[Given, ...]
    laws: tuple[Law, ...]
    demands: tuple[Demand, ...] = ()
    remarks: Callable[[Mapping[str, Quantity]], tuple[Remark, ...]] = field(default=lambda _known: ())
    """Remarks that follow from the values."""

    def workable(self, known: frozenset[str]) -> Iterator[Law]:
        """The laws that can be worked from what is given, in order.

        Args:
            known: Names of the givens there are; results join as they come.
        """
        have = set(known)
        for law in self.laws:
            if law.needs <= have:
                have.add(law.name)
                yield law

    def work(self, **given: Quantity) -> dict[str, Quantity]:
        """Every value of the chapter, givens and results, by name.

        Raises:
            FormulaFault: Where a result does not exist.
        """
        known = dict(given)
        for one in self.givens:
            if one.name not in known and one.default:
                known[one.name] = value_of(parse(one.default), known.__getitem__)
        for law in self.workable(frozenset(known)):
            known[law.name] = law(**{name: known[name] for name in law.needs})
        return known
