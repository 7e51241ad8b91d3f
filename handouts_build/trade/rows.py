"""Values that follow one from another by laws, row by row.

This module owns the list in which a long calculation stands: each row has a name, a
formula, and the full names of what the formula speaks of. The same rows give the values
here and, as trees, the values on a page. What the rows say is for those who write them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from handouts_build.formulas import Node, Numbers, function_of, names, parse
from handouts_build.formulas.tree import Sum

__all__ = ["CompiledFormula", "Row", "Rows", "law", "summed"]


@dataclass(frozen=True, eq=False)
class CompiledFormula:
    """A formula read once, to be used for many rows."""

    tree: Node

    def __post_init__(self) -> None:
        object.__setattr__(self, "work", function_of(self.tree))

    work: Any = field(init=False)
    """Its value from the numbers of its names."""


@cache
def law(text: str) -> CompiledFormula:
    """A formula from its text."""
    return CompiledFormula(parse(text))


@cache
def summed(text: str, *, index: str, last: int) -> CompiledFormula:
    """The sum of a term over the whole numbers from 0 to the last.

    Args:
        text: The term.
        index: The name in it that stands for the whole number.
        last: The last whole number.
    """
    return CompiledFormula(Sum(0, index, last, parse(text)))


@dataclass(frozen=True)
class Row:
    """One value: a formula, and what each of its names stands for."""

    name: str
    formula: CompiledFormula
    stands_for: Mapping[str, str]
    """For every name in the formula."""


@dataclass
class Rows:
    """Rows in an order that works: each speaks of givens and of rows before it."""

    all: list[Row] = field(default_factory=list)

    def add(self, name: str, formula: str | CompiledFormula, /, **stands_for: str) -> str:
        """Add a row.

        Args:
            name: Its name.
            formula: Its formula.
            **stands_for: What its names stand for, where that is not the name itself; names it has not are left out.

        Returns:
            The row's name.
        """
        used = law(formula) if isinstance(formula, str) else formula
        self.all.append(
            Row(
                name,
                used,
                {used_name.name: stands_for.get(used_name.name, used_name.name) for used_name in names(used.tree)},
            )
        )
        return name

    def worked(self, given: Mapping[str, float]) -> dict[str, float]:
        """The givens and every row's value, in base units.

        Raises:
            FormulaFault: Where a row has no value.
        """
        values = dict(given)
        for row in self.all:
            values[row.name] = row.formula.work(_looking(values, row.stands_for))
        return values


def _looking(values: Mapping[str, float], stands_for: Mapping[str, str]) -> Numbers:
    return lambda name: values[stands_for[name]]
