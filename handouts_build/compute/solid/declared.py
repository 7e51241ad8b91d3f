"""Keys as an author wrote them, to the fields of what the workpiece declares.

This module owns that way, for any kind of cut, mark or hold: formulas get their numbers
from the ledger, profiles their points, words their meaning, and names go over as they are.
It knows no kind by name.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from typing import Any

from handouts_build import workpiece as kernel
from handouts_build.compute.names import Ledger, Unsettled
from handouts_build.problems import near_miss
from handouts_build.quantities import Kind, Quantity
from handouts_build.schema import DeclaredKeys, Formula, Key, Written
from handouts_build.sheet import Shape
from handouts_build.workpiece.declared import DeclaredKey, KeyKind, keys_of

__all__ = ["Reading"]


class Reading:
    """Reads declared keys.

    Args:
        ledger: Gives numbers and takes note of problems.
        shapes: Profiles by name; None where a profile has a problem of its own.
    """

    def __init__(self, ledger: Ledger, shapes: Mapping[str, Shape | None]) -> None:
        self.ledger, self.shapes = ledger, shapes

    def fields(self, kind: type, keys: DeclaredKeys, at: Key, *, called: str) -> dict[str, Any]:
        """The fields of a kind, from the keys that are given.

        Args:
            kind: The workpiece's, which declares its keys.
            keys: As the author wrote them.
            at: Where they stand.
            called: What messages call the thing.

        Raises:
            Unsettled: After noting all problems of these keys.
        """
        made: dict[str, Any] = {}
        failed = False
        for declared in keys_of(kind):
            written = keys.written(declared.word)
            if written is None or declared.kind is KeyKind.OWN_NAME:
                continue
            try:
                value = self.value(declared, written, (*at, declared.word), called=called)
            except Unsettled:
                failed = True
                continue
            if isinstance(value, Shape):
                made[declared.field] = value.points_mm
                if declared.second:
                    made[declared.second] = tuple(_tenons(value))
            else:
                made[declared.field] = value
        if failed:
            raise Unsettled
        return made

    def value(self, declared: DeclaredKey, written: Written, at: Key, *, called: str) -> Any:
        """What one key comes to, as its field takes it; of a profile, its shape.

        Args:
            declared: The key.
            written: What stands under it.
            at: Where.
            called: What messages call the thing whose key it is.

        Raises:
            Unsettled: After noting the problem.
        """
        if isinstance(written, Formula):
            return self.number(declared.kind, written, at, declared.called(called))
        if declared.choices is not None:
            return declared.choices(written)
        if declared.kind is KeyKind.OUTLINE:
            return self._shape(str(written), at)
        return tuple(written) if isinstance(written, list) else written

    def number(self, kind: KeyKind, written: Formula, at: Key, called: str) -> float | int:
        """What a formula comes to: mm, degrees, or a whole number.

        Args:
            kind: What is due.
            written: The formula.
            at: Where it stands.
            called: How a message calls it.

        Raises:
            Unsettled: After noting the problem.
        """
        if kind is KeyKind.LENGTH:
            return kernel.in_mm(self.ledger.value(written, at, kind=Kind.LENGTH, label=called, place=True))
        if kind in (KeyKind.ANGLE, KeyKind.ANGLES):
            return kernel.in_deg(self.ledger.value(written, at, kind=Kind.ANGLE, label=called))
        found: Quantity = self.ledger.value(written, at, kind=Kind.NUMBER, label=called)
        number = float(found.magnitude)
        if abs(number - round(number)) > 1e-9 or abs(number) > 1e6:
            self.ledger.note(at, f"{called} comes out as {number:g}", "a whole number is due")
            raise Unsettled
        return round(number)

    def _shape(self, name: str, at: Key) -> Shape:
        if name not in self.shapes:
            self.ledger.note(at, f"'{name}' is not a profile", near_miss(name, self.shapes))
        shape = self.shapes.get(name)
        if shape is None:
            raise Unsettled
        return shape


def _tenons(shape: Shape) -> Iterator[kernel.Stub]:
    """The tenons of a profile, by what they are called."""
    long = shape.points_mm[-1][0]
    for segment in shape.segments:
        if segment.kind != "tenon":
            continue
        start, stop = kernel.in_mm(segment.start), kernel.in_mm(segment.end)
        middle = (start + stop) / 2
        radius = next(r1 for (x1, r1), (x2, _) in itertools.pairwise(shape.points_mm) if x2 > middle >= x1)
        end = kernel.End.LEFT if middle < long / 2 else kernel.End.RIGHT
        yield kernel.Stub(segment.says or "tenon", start, stop, 2 * radius, end)
