"""Reading quantities as they are written in a shop."""

from __future__ import annotations

import contextlib
import re
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.quantities import (
    UNITS,
    Kind,
    QuantityFault,
    kind_of,
    of_kind,
    read_number,
    read_quantity,
    shop_fraction,
    written_pattern,
)
from tests.strategies import INCH_STEPS, millimetres_exact, shop_fractions

PINT = pint.UnitRegistry()
"""pint's own default registry: an outside reference for the factors."""


@pytest.mark.parametrize(
    ("written", "inches"),
    [
        ("2 1/4 in", Fraction(9, 4)),
        ("2-1/4 in", Fraction(9, 4)),
        ("2¼ in", Fraction(9, 4)),
        ("2 ¼ in", Fraction(9, 4)),
        ("2\u00a01/4\u00a0in", Fraction(9, 4)),
        ("2.25 in", Fraction(9, 4)),
        ("9/4in", Fraction(9, 4)),
        ('3/8"', Fraction(3, 8)),
        ("3/8″", Fraction(3, 8)),
        ("½ in", Fraction(1, 2)),
        (".5 in", Fraction(1, 2)),
        ("  1 in ", Fraction(1)),
        ("1 ft", Fraction(12)),
    ],
)
def test_a_length_may_be_written_in_each_of_the_shops_ways(written: str, inches: Fraction) -> None:
    # NIST SP 811 (2008), B.6: 1 inch = 25.4 mm exactly.
    assert read_quantity(written).m_as(UNITS["mm"]) == float(inches * Fraction("25.4"))


@pytest.mark.parametrize(
    ("written", "hint"),
    [
        ("25,4 mm", "25.4 mm"),
        ("2 inches", "write 2 in"),
        ("2 1/4 inch", "write 2 1/4 in"),
        ("10 degrees", "write 10 deg"),
        ("5 mins", "write 5 min"),
        ("1 1 in", ""),
        ("two in", ""),
        ("1e3 mm", ""),
        ("0x10 mm", ""),
        ("1_000 mm", ""),
        ("in", ""),
        ("", ""),
        ("--1 in", ""),
        ("1 in in", ""),
        ("1 parsec", ""),
        ("1 1/2 1/2 in", ""),
        ("٣ in", ""),
        ("1" * 50 + " in", "round it"),
        ("1 1/0 in", "lower number of a fraction"),
    ],
)
def test_anything_else_is_refused_with_a_hint(written: str, hint: str) -> None:
    with pytest.raises(QuantityFault) as caught:
        read_quantity(written)
    assert caught.value.hint
    assert hint in caught.value.hint


@pytest.mark.parametrize("written", ["1 1/2 in", "25,4 mm", "1½ in"])
def test_what_pint_would_misread_is_read_or_refused_here(written: str) -> None:
    """pint 0.25 reads these as 0.5 in, 254 mm and 1 in."""
    try:
        found = read_quantity(written)
    except QuantityFault:
        assert written == "25,4 mm"
    else:
        assert found.m_as(UNITS["in"]) == pytest.approx(1.5, rel=1e-15)


@given(shop_fractions())
def test_a_shop_fraction_of_an_inch_is_kept_exactly(inches: Fraction) -> None:
    # The exact product with 25.4 rounded once to a float, not a float product of floats.
    assert read_quantity(f"{shop_fraction(inches)} in").magnitude == float(inches * Fraction(127, 5))


@given(shop_fractions())
def test_a_printed_shop_fraction_is_read_back_as_itself(inches: Fraction) -> None:
    assert read_number(shop_fraction(inches)) == inches


@given(millimetres_exact())
def test_millimetres_are_read_as_written(mm: Fraction) -> None:
    assert read_quantity(f"{float(mm):.2f} mm").magnitude == float(mm)


@given(st.sampled_from(INCH_STEPS), st.integers(0, 3000))
def test_a_minus_sign_turns_the_value_round(step: Fraction, marks: int) -> None:
    plain = read_quantity(f"{shop_fraction(step * marks)} in").magnitude
    for sign in "-−":
        assert read_quantity(f"{sign}{shop_fraction(step * marks)} in").magnitude == -plain


@given(st.text(max_size=60))
def test_any_text_is_a_quantity_or_a_fault(text: str) -> None:
    """Nothing but a `QuantityFault` may come of it."""
    with contextlib.suppress(QuantityFault):
        assert kind_of(read_quantity(text)) is not None


@pytest.mark.parametrize(
    ("unit", "outside"),
    [
        ("in", "inch"), ("ft", "foot"), ("mm", "millimeter"), ("cm", "centimeter"), ("m", "meter"), ("deg", "degree"),
        ("rad", "radian"), ("s", "second"), ("min", "minute"), ("h", "hour"), ("g", "gram"), ("kg", "kilogram"),
        ("lb", "pound"), ("oz", "ounce"),
    ],
)  # fmt: skip
def test_units_have_the_size_that_an_outside_registry_gives_them(unit: str, outside: str) -> None:
    base = {Kind.LENGTH: "millimeter", Kind.ANGLE: "radian", Kind.TIME: "minute", Kind.MASS: "gram"}
    mine = read_quantity(f"3 {unit}")
    kind = kind_of(mine)
    assert kind is not None
    assert mine.magnitude == pytest.approx(PINT.Quantity(3, outside).m_as(base[kind]), rel=1e-12)


def test_rpm_are_turns_a_minute_and_not_an_angle() -> None:
    """ISO 80000-3: rotational frequency is a count over a time (from memory of its text)."""
    speed = read_quantity("1200 rpm")
    assert kind_of(speed) is Kind.SPEED
    assert kind_of(speed * read_quantity("2 in")) is Kind.RIM_SPEED


def test_an_angle_and_a_number_are_not_alike() -> None:
    assert kind_of(read_quantity("180 deg")) is Kind.ANGLE
    assert kind_of(read_quantity("180")) is Kind.NUMBER
    with pytest.raises(pint.DimensionalityError):
        read_quantity("180 deg") + read_quantity("1")


@pytest.mark.parametrize("kind", Kind)
def test_every_kind_can_be_said_to_an_author(kind: Kind) -> None:
    assert kind.says
    assert kind_of(of_kind(2.0, kind)) is kind


@given(
    st.one_of(
        st.from_regex(r"[-−]?[0-9]{1,3}[- ]?[0-9/.½]{0,4} ?(in|mm|rpm|deg|\"|inn|)", fullmatch=True),
        st.text(max_size=9),
    )
)
def test_an_editors_pattern_lets_through_what_is_read_and_nothing_of_another_form(text: str) -> None:
    fits = re.search(written_pattern(), text) is not None
    with contextlib.suppress(QuantityFault):
        read_quantity(text)
        assert fits, text
    if fits:
        # Of what has the right form, a number may still be none.
        with contextlib.suppress(QuantityFault):
            read_quantity(text)
            return
        assert re.search(r"/ ?0", text), text


@pytest.mark.parametrize("kind", [Kind.LENGTH, Kind.SPEED, Kind.ANGLE])
def test_the_pattern_of_a_kind_asks_for_one_of_its_units(kind: Kind) -> None:
    for unit in UNITS:
        fits = re.search(written_pattern(kind), f"2 {unit}") is not None
        assert fits == (kind_of(read_quantity(f"2 {unit}")) is kind)
    assert re.search(written_pattern(kind), "2") is None
