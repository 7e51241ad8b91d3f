"""Lengths as a project prints them: one that is a value of the project's reads as that does everywhere.

This module owns which of a project's values a length is.
"""

from __future__ import annotations

from collections.abc import Iterable

from handouts_build.quantities import UNITS, Kind, kind_of, millimetres, print_quantity
from handouts_build.sheet import Dimension, Given, Sheet, Step

__all__ = ["KnownLengths"]

_SAME_MM = 1e-6


class KnownLengths:
    """The lengths that steps of a project may show.

    Args:
        sheet: The project, worked out.
        steps: The steps; what they are turned to goes before other values that are as long.
    """

    def __init__(self, sheet: Sheet, steps: Iterable[Step]) -> None:
        self.rule = sheet.rule
        rows: list[Dimension | Given] = []
        for group in sheet.groups:
            rows += [*group.dimensions, *group.givens]
        values = {size.name: (size.value, size.printed) for size in sheet.sizes}
        values |= {row.name: (row.value, row.printed) for row in rows}
        named = [values[number.name] for step in steps for number in step.numbers if number.name in values]
        self._known = [
            (float(value.m_as(UNITS["mm"])), printed)
            for value, printed in (*named, *values.values())
            if kind_of(value) is Kind.LENGTH
        ]

    def told(self, value_mm: float) -> tuple[str, str]:
        """A length in both units.

        Args:
            value_mm: The length in millimeters.
        """
        printed = next((printed for known, printed in self._known if abs(known - value_mm) < _SAME_MM), None)
        printed = printed or print_quantity(millimetres(value_mm), self.rule)
        return printed.lead, printed.other
