"""Chains of lengths: links in a row that come to a whole, so that they add up as they are printed.

This module owns which printed numbers give way, by a mark, where each is rounded by itself and the
sum is not. A length that is printed elsewhere too stays as it is there: one length, one number. In
a chain of which all are told elsewhere one number in that unit may be too many; which one is left
out is for the drawing to say.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from handouts_build.quantities.printing import Printed, Rule, print_marks
from handouts_build.quantities.registry import Quantity
from handouts_build.quantities.rounding import ON_THE_MARK, Err, to_mark

__all__ = ["Link", "close_chain", "closes"]

_INCH = 25.4
_UNITS = ("inch", "mm")
_HAIR = 1e-6
"""Sums of marks differ by less than this where they are one."""


@dataclass(frozen=True)
class Link:
    """A length of a chain, or the whole of it."""

    length: Quantity
    printed: Printed
    free: bool
    """Whether it is printed nowhere else, so that it may give way by a mark."""


def closes(links: Sequence[Printed], whole: Printed, unit: str) -> bool:
    """Whether printed lengths come to the printed whole.

    Args:
        links: In a row.
        whole: From the start of the first to the end of the last.
        unit: `inch` or `mm`.
    """
    numbers = [each.inch if unit == "inch" else each.mm for each in (*links, whole)]
    known = [number for number in numbers if number is not None]
    return len(known) < len(numbers) or abs(sum(known[:-1]) - known[-1]) < _HAIR


def close_chain(links: Sequence[Link], whole: Link, rule: Rule) -> tuple[list[Printed], Printed]:
    """Links and whole as they are printed so that they add up, in each unit by itself, where that can be had.

    The free links give way first, those that come nearest to their exact length so; then the whole, if that is free.
    No link is printed a mark or more from its exact length by it, and the whole no more than a mark.

    Args:
        links: In a row.
        whole: From the start of the first to the end of the last.
        rule: Marks of both units.

    Returns:
        The printed links and the printed whole.
    """
    chain = [*links, whole]
    values = [each.printed for each in chain]
    if any(each.inch is None or each.mm is None for each in values):
        return values[:-1], values[-1]
    for unit, step, per in zip(_UNITS, (rule.inch, rule.millimetre), (_INCH, 1.0), strict=True):
        sizes = [float(each.length.m_as("mm")) / per / float(step) for each in chain]
        marks = [float(getattr(printed, unit)) / float(step) for printed in values]
        moved = _moved(sizes, marks, [each.free for each in chain])
        if moved is None:
            continue
        for index, (before, after) in enumerate(zip(marks, moved, strict=True)):
            if abs(after - before) > ON_THE_MARK:
                values[index] = _instead(values[index], unit, to_mark(after * float(step), step, Err.NEAREST), rule)
    return values[:-1], values[-1]


def _moved(sizes: Sequence[float], marks: Sequence[float], free: Sequence[bool]) -> list[float] | None:
    """The numbers that close a chain, the whole last, in marks of the rule; None where none do."""
    found, last = list(marks), len(marks) - 1
    while abs(off := found[-1] - sum(found[:-1])) > ON_THE_MARK:
        if abs(off - round(off)) > ON_THE_MARK:
            # One of them is told as it is, which is on no mark.
            return None
        way = 1.0 if off > 0 else -1.0
        # The whole moves the other way than a link would.
        ways = [way] * last + [-way]
        errors = [abs(mark + each - size) for mark, each, size in zip(found, ways, sizes, strict=True)]
        may = [
            index
            for index, error in enumerate(errors)
            if free[index]
            and error < 1.0 + (ON_THE_MARK if index == last else -ON_THE_MARK)
            and found[index] + ways[index] >= 1.0 - ON_THE_MARK
        ]
        if not may:
            return None
        # The whole is the last to give way; of links that are as near, the longest.
        nearest = min(may, key=lambda index: (index == last, round(errors[index], 6), -sizes[index]))
        found[nearest] += ways[nearest]
    return found


def _instead(printed: Printed, unit: str, mark: Fraction, rule: Rule) -> Printed:
    """A printed length with another number in one unit; the other unit's text stays as it is."""
    made = print_marks(mark, mark, rule)
    inch, mm = (made.inch, printed.mm) if unit == "inch" else (printed.inch, made.mm)
    if rule.lead == ("in" if unit == "inch" else "mm"):
        return replace(printed, lead=made.lead, rounded=made.rounded, inch=inch, mm=mm)
    return replace(printed, other=made.other, inch=inch, mm=mm)
