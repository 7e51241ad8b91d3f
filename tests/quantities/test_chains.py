"""Chains of lengths add up as printed. A check by another way: whole numbers of marks, counted."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as some

from handouts_build.quantities import Link, Printed, Rule, close_chain, closes, inches, print_quantity

RULE = Rule(Fraction(1, 32), Fraction(1, 2))


def _link(marks: int, *, free: bool) -> Link:
    length = inches(marks / 32)
    return Link(length, print_quantity(length, RULE), free)


@given(some.lists(some.integers(8, 400), min_size=2, max_size=8))
def test_free_links_come_to_the_whole_in_both_units_and_none_is_a_mark_off(marks: list[int]) -> None:
    links = [_link(each, free=True) for each in marks]
    told, whole = close_chain(links, _link(sum(marks), free=False), RULE)
    assert closes(told, whole, "inch")
    assert closes(told, whole, "mm")
    for link, printed in zip(links, told, strict=True):
        assert printed.inch == link.printed.inch
        assert printed.mm is not None
        assert abs(printed.mm - link.length.m_as("mm")) < 0.5
        assert f"{printed.mm:g}" in printed.other.replace(",", "")


def test_lengths_that_are_printed_elsewhere_stay_and_the_whole_gives_way() -> None:
    """24 + 41.5 + 83 beside 147.5: with the first two fixed the drop gives way, and with all three the whole."""
    fixed = [_link(marks, free=False) for marks in (38, 82, 28)]
    told, whole = close_chain(fixed, _link(148, free=True), RULE)
    assert [each.mm for each in told] == [each.printed.mm for each in fixed]
    assert whole.mm == sum(each.mm or 0 for each in told)


def test_a_chain_that_cannot_close_is_left_as_it_is() -> None:
    """A top's 12.5, 9.5 and 38 beside 60.5: each is told in a table too."""
    fixed = [_link(marks, free=False) for marks in (16, 12, 48)]
    told, whole = close_chain(fixed, _link(76, free=False), RULE)
    assert [each.mm for each in told] == [12.5, 9.5, 38.0]
    assert whole.mm == 60.5
    assert not closes(told, whole, "mm")
    assert closes(told, whole, "inch")


@pytest.mark.parametrize("unit", ["inch", "mm"])
def test_what_has_no_number_in_a_unit_is_no_chain_there(unit: str) -> None:
    bare = Printed("", "", inches(1))
    assert closes([bare], bare, unit)
