"""How many of a part are made alike, and the length that several of its blanks are sawn from.

This module owns the names that follow from a part's `count` and `per stick`: `leg.count` and
`leg.stick`, for formulas and text. How they are told stands with what tells them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from handouts_build import workpiece as kernel
from handouts_build.compute.names import Definition, Ledger, Unsettled
from handouts_build.compute.prose import unfilled
from handouts_build.compute.working import dimension, spoken
from handouts_build.formulas import parse_joined
from handouts_build.language import tr
from handouts_build.quantities import Err, Kind, Manner, Quantity, Rule, inches
from handouts_build.schema import Formula, Key, PartKeys, ProjectKeys
from handouts_build.sheet import Dimension

__all__ = ["KERF", "MOST_ALIKE", "AlikeWork", "count_name", "stick_name"]

MOST_ALIKE = 100
"""Of one part: more than a stair has balusters."""
KERF = inches(0.125)
"""What a saw takes, where the shop file does not say: common practice, no published source."""
_SAWN = frozenset({kernel.Round, kernel.Square, kernel.Board})
"""Blanks that are a length of a stick."""


def count_name(part: str) -> str:
    """The name of how many are made of a part."""
    return f"{part}.count"


def stick_name(part: str) -> str:
    """The name of the length that several blanks of a part are sawn from."""
    return f"{part}.stick"


class AlikeWork:
    """The counted parts of a project on their way to dimensions.

    Args:
        project: Its model.
        ledger: Gives numbers and takes note of problems.
        rule: For printing.
        kerf: What each saw cut takes.
        take_in: Takes in each dimension once it is settled.
    """

    def __init__(
        self, project: ProjectKeys, *, ledger: Ledger, rule: Rule, kerf: Quantity, take_in: Callable[[Dimension], None]
    ) -> None:
        self._project, self._ledger, self._rule, self._take_in = project, ledger, rule, take_in
        # In the unit that says it without rounding, whichever leads.
        marks = float(kerf.m_as("inch")) * 64
        self._kerf = f"{round(marks)}/64 in" if abs(marks - round(marks)) < 1e-9 else f"{float(kerf.m_as('mm')):.9g} mm"

    def definitions(self) -> Iterator[Definition]:
        """What names follow from the parts, after noting what is counted that cannot be."""
        for name, part in self._project.parts.items():
            key: Key = ("parts", name)
            if part.count is not None and part.falls_off is not None:
                self._ledger.note(
                    (*key, "count"), "a part that falls off another is made as often as that one",
                    f"leave it out here, and count '{part.falls_off}'",
                )  # fmt: skip
            elif part.count is not None:
                run = partial(self._count, name, part, part.count)
                yield self._definition(count_name(name), (*key, "count"), part.count, run)
            if part.per_stick > 1 and (long := self._length(name, part)) is not None:
                text = f"{part.per_stick} * ({long.text}) + {part.per_stick - 1} * ({self._kerf})"
                whole = Formula(text, parse_joined(text))
                run = partial(self._stick, name, part, whole)
                yield self._definition(stick_name(name), (*key, "blank", "long"), whole, run)

    def _definition(self, name: str, key: Key, formula: Formula, run: Callable[[], None]) -> Definition:
        return Definition(name, key, ((formula, key),), frozenset({name}), run)

    def _length(self, name: str, part: PartKeys) -> Formula | None:
        """The formula of a blank's length; None after noting that no stick yields it."""
        long = part.blank.written("long")
        key: Key = ("parts", name, "per stick")
        if part.falls_off is not None or part.blank.shape not in _SAWN or not isinstance(long, Formula):
            message = "only a blank of its own that is sawn from a stick can be sawn several to a length"
            self._ledger.note(key, message, "leave it out, or make the blank round, square or a board")
            return None
        if part.count is None:
            message = f"{part.per_stick} to a length, and one is made"
            self._ledger.note(key, message, f"say how many are made: count: {part.per_stick}")
            return None
        return long

    def _count(self, name: str, part: PartKeys, formula: Formula) -> None:
        key: Key = ("parts", name, "count")
        value = self._ledger.value(formula, key, kind=Kind.NUMBER, label="'count'")
        found = float(value.magnitude)
        if not 1 <= found <= MOST_ALIKE or abs(found - round(found)) > 1e-9:
            self._ledger.note(key, f"'count' comes out as {found:g}", f"give a whole number from 1 to {MOST_ALIKE}")
            raise Unsettled
        if found < part.per_stick:
            message = f"{part.per_stick} to a length, and {found:g} made"
            self._ledger.note(("parts", name, "per stick"), message, "no more to a length than are made")
            raise Unsettled
        says = tr("Number to make of {part}, all alike", part=_title(name, part))
        self._row(count_name(name), value, formula, says, Err.NEAREST)

    def _stick(self, name: str, part: PartKeys, whole: Formula) -> None:
        value = self._ledger.value(whole, ("parts", name, "per stick"), kind=Kind.LENGTH, label="the length")
        says = tr(
            "Length to saw {blanks} of {part} from, saw cuts counted", blanks=part.per_stick, part=_title(name, part)
        )
        self._row(stick_name(name), value, whole, says, Err.OVER)

    def _row(self, name: str, value: Quantity, formula: Formula, says: str, err: Err) -> None:
        manner = Manner(err)
        self._ledger.values[name] = value
        self._ledger.manners[name] = manner
        row = dimension(
            name, value, says=says, symbol=spoken(name), tree=formula.tree, symbols=spoken,
            values=self._ledger.lookup, rule=self._rule, manner=manner, main=True, source=None,
        )  # fmt: skip
        self._ledger.printed[name] = row.printed
        self._take_in(row)


def _title(name: str, part: PartKeys) -> str:
    """What a part is called; by its name where its title holds a value."""
    title = unfilled(part.says or "")
    title = title if title and "{" not in title else spoken(name)
    return title[:1].lower() + title[1:]
