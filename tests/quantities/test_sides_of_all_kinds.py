"""The safe side of every kind of value, and a tenon and its hole as they are read."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.quantities import (
    UNITS,
    Err,
    Kind,
    Manner,
    Rule,
    exact,
    millimetres,
    numbers_told,
    of_kind,
    print_as,
    print_exact,
    print_quantity,
    read_quantity,
)
from tests.strategies import INCH_STEPS, MM_STEPS

IN_BASE = {
    # What one of each printed unit is in base units: mm, rad, min, g (NIST SP 811, B.8, exact but for π).
    "cm²": 100.0, "in²": 25.4**2, "cm³": 1000.0, "in³": 25.4**3, "g": 1.0, "kg": 1000.0, "oz": 28.349523125,
    "lb": 453.59237, "m/s": 60_000.0, "ft/min": 304.8, "kg/m³": 1e-6, "lb/ft³": 453.59237 / 28316846.592,
    "°": 3.141592653589793 / 180, "rpm": 1.0, "min": 1.0, "": 1.0,
}  # fmt: skip
OTHER_KINDS = [kind for kind in Kind if kind is not Kind.LENGTH]


def _read(text: str) -> tuple[float, float]:
    """The value of a printed text in base units, and a hundredth of its last digit."""
    number, unit = re.fullmatch(r"([0-9.,]+)\u00a0?(.*)", text.replace("−", "-")).groups()  # type: ignore[union-attr]
    places = len(number.partition(".")[2])
    return float(number.replace(",", "")) * IN_BASE[unit], 0.01 * 10.0**-places * IN_BASE[unit]


@pytest.mark.parametrize("kind", OTHER_KINDS)
@given(st.floats(1e-3, 1e6), st.sampled_from(("in", "mm")))
def test_every_kind_of_value_errs_to_its_side_in_both_units(kind: Kind, size: float, lead: str) -> None:
    """A quantity of oil that is to be no less is never printed less: 0.1645 in³ is 0.17, over."""
    value = of_kind(size, kind)
    for err in (Err.OVER, Err.UNDER):
        printed = print_quantity(value, Rule(lead=lead), err=err)
        for text in filter(None, (printed.lead, printed.other)):
            told, hair = _read(text)
            # Trailing noughts are left out, so that the last digit may be finer than it looks.
            slack = hair + 1e-9 * size
            if err is Err.OVER:
                assert told >= size - slack, text
            else:
                assert told <= size + slack, text


def test_a_quantity_of_oil_is_never_less_than_it_takes() -> None:
    oil = of_kind(0.1645 * 25.4**3, Kind.VOLUME)
    assert print_quantity(oil, Rule(), err=Err.OVER).lead == "0.17\u00a0in³"
    assert print_quantity(oil, Rule(), err=Err.UNDER).lead == "0.16\u00a0in³"


@given(st.floats(0.5, 500), st.sampled_from(INCH_STEPS), st.sampled_from(MM_STEPS))
def test_what_is_exact_is_never_rounded_to_a_mark(mm: float, inch: Fraction, millimetre: Fraction) -> None:
    """To four decimals of an inch, or the 64th that it is, and to a hundredth of a millimetre, whatever the rule."""
    for lead in ("in", "mm"):
        printed = print_exact(millimetres(mm), Rule(inch, millimetre, lead))
        assert printed.inch is not None
        assert printed.mm is not None
        assert abs(printed.inch - mm / 25.4) <= 0.5e-4 * 1.0001
        assert abs(printed.mm - mm) <= 0.5e-2 * 1.0001
        assert printed.lead == exact(millimetres(mm), lead)
        assert printed == print_as(millimetres(mm), Rule(inch, millimetre, lead), Manner(exact=True))


JOINTS = 100_000
INCH, MM = 0, 1
STEP = (0.001, 0.01)
"""What calipers are read to, inches and millimetres: common practice, no published source."""


@dataclass(frozen=True)
class Case:
    """A hole, how much smaller its tenon is, and how both are printed. Lengths in mm."""

    hole: float
    allowance: float
    manner: Manner
    """Of the hole."""
    err: Err
    """Of the tenon."""
    rule: Rule

    @property
    def tenon(self) -> float:
        return self.hole - self.allowance

    @property
    def tenon_manner(self) -> Manner:
        return Manner(self.err, fine=True, below="hole")


def _joints() -> Iterator[Case]:
    """Holes with allowances, from shop sizes and from nowhere in particular, in every way of printing them."""
    dice = random.Random(12)
    grades = ({"exact": True}, {"fine": True}, {})
    ways = [(Manner(hole, **grade), tenon) for grade, hole, tenon in product(grades, Err, Err)]
    rules = [Rule(inch, mm, lead) for inch, mm, lead in product(INCH_STEPS, MM_STEPS, ("in", "mm"))]
    shop = (25.4 / 64, 25.4 / 128, 0.4, 0.25, 0.1, 0.03, 0.0, -0.05, -0.2)
    for number in range(JOINTS):
        manner, err = ways[number % len(ways)]
        hole = dice.randint(16, 192) * 25.4 / 64 if dice.random() < 0.5 else dice.uniform(3, 80)
        allowance = dice.choice(shop) if dice.random() < 0.7 else dice.uniform(-0.25, 1)
        yield Case(hole, allowance, manner, err, dice.choice(rules))


def test_the_printed_tenon_goes_into_the_printed_hole_with_the_play_that_is_said() -> None:
    """A hundred thousand joints, all sides of rounding, both units as printed: within one step of calipers."""
    for case in _joints():
        wide = [float(told) for told in numbers_told(case.hole, case.rule, case.manner)]
        hole = (case.hole, wide[INCH], wide[MM])
        thick = [float(told) for told in numbers_told(case.tenon, case.rule, case.tenon_manner, hole=hole)]
        for unit, per_mm in ((INCH, 1 / 25.4), (MM, 1.0)):
            play = wide[unit] - thick[unit]
            off = (play - case.allowance * per_mm) / STEP[unit]
            assert abs(off) <= 1.0101, (case, unit)
            # A tenon is turned under, so that it has no less play than is said.
            assert off >= -0.0101 or case.err is not Err.UNDER, (case, unit)
            # It goes in, whichever side its author has it rounded to.
            assert play > 0 or case.allowance <= 0, (case, unit)


def test_the_texts_of_a_joint_say_those_numbers() -> None:
    for case in islice(_joints(), 0, None, JOINTS // 1000):
        hole, tenon = millimetres(case.hole), millimetres(case.tenon)
        wide = print_as(hole, case.rule, case.manner)
        thick = print_as(tenon, case.rule, case.tenon_manner, below=(hole, wide))
        for printed in (wide, thick):
            for text in (printed.lead, printed.other):
                told = printed.inch if text.endswith("in") else printed.mm
                assert told is not None
                read = read_quantity(text.replace(",", "").replace("−", "-"))
                assert read.m_as(UNITS["in" if text.endswith("in") else "mm"]) == pytest.approx(told, abs=1e-9), case
