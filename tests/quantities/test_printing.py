"""Printing quantities: both units, the safe side, and read back."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.language import speaking
from handouts_build.quantities import (
    REFUSALS,
    UNITS,
    Err,
    Manner,
    Printed,
    Rule,
    count,
    decimal,
    degrees,
    exact,
    inches,
    millimetres,
    of_kind,
    print_as,
    print_quantity,
    quantity,
    read_quantity,
    shop_fraction,
)
from handouts_build.quantities.registry import Kind
from tests.strategies import INCH_STEPS, MM_STEPS, lengths_mm, shop_fractions

RULES = st.builds(Rule, st.sampled_from(INCH_STEPS), st.sampled_from(MM_STEPS), st.sampled_from(("in", "mm")))


def read_back(printed: str) -> float:
    """A printed length, in millimetres."""
    return float(read_quantity(printed.replace(",", "")).m_as(UNITS["mm"]))


@given(shop_fractions(), RULES, st.sampled_from(Err))
def test_a_length_on_the_rules_mark_prints_and_reads_back_as_itself(inch: Fraction, rule: Rule, err: Err) -> None:
    on_the_mark = inch - inch % rule.inch or rule.inch
    printed = print_quantity(quantity(on_the_mark, "in"), rule, err=err)
    text = printed.lead if rule.lead == "in" else printed.other
    assert text == f"{shop_fraction(on_the_mark)}\u00a0in"
    assert read_back(text) == float(on_the_mark * Fraction(127, 5))


@given(lengths_mm(), RULES, st.sampled_from(Err))
def test_both_units_err_to_the_safe_side_by_less_than_a_mark(mm: float, rule: Rule, err: Err) -> None:
    printed = print_quantity(millimetres(mm), rule, err=err)
    for text in (printed.lead, printed.other):
        step = float(rule.inch) * 25.4 if text.endswith("in") else float(rule.millimetre)
        off = read_back(text) - mm
        # Within a hundredth of a mark is on it.
        hair = step * 0.01001
        assert abs(off) < step + hair
        if err is Err.OVER:
            assert off >= -hair
        elif err is Err.UNDER:
            assert off <= hair
        else:
            assert abs(off) <= step / 2 + hair


@given(lengths_mm(), RULES, st.sampled_from(Err))
def test_the_rounded_value_is_what_the_leading_text_says(mm: float, rule: Rule, err: Err) -> None:
    printed = print_quantity(millimetres(mm), rule, err=err)
    assert printed.lead.endswith(rule.lead)
    assert read_back(printed.lead) == pytest.approx(float(printed.rounded.magnitude), rel=1e-12)


@given(lengths_mm(), st.sampled_from(("in", "mm")))
def test_a_fine_print_is_within_half_a_thousandth(mm: float, lead: str) -> None:
    printed = print_quantity(millimetres(mm), Rule(lead=lead), fine=True)
    for text in (printed.lead, printed.other):
        half = 0.0005 * 25.4 if text.endswith("in") else 0.005
        assert read_back(text) == pytest.approx(mm, abs=half * 1.001)


@pytest.mark.parametrize(
    ("inch", "mm"),
    [
        # NIST SP 811 (2008), B.6: 1 in = 2.54 E+01 mm, 1 ft = 3.048 E-01 m, both exact.
        ("1 in", "25.4"),
        ("12 in", "304.8"),
        ("1 ft", "304.8"),
    ],
)
def test_the_inch_is_exactly_25_4_mm(inch: str, mm: str) -> None:
    assert Fraction(str(read_quantity(inch).m_as(UNITS["mm"]))) == Fraction(mm)


def test_converted_values_are_rounded_as_nist_shows() -> None:
    """NIST SP 811 (2008), B.7: 36 ft rounded to the nearest foot is 10.9728 m, told as 11.0 m.

    NIST's style guide: 36 in. is 91 cm, not 91.44 cm. Here the step is set by the rule instead
    of by counting digits; with the step NIST comes to, the numbers are NIST's.
    """
    feet = print_quantity(read_quantity("36 ft"), Rule(millimetre=Fraction(100), lead="mm"))
    assert read_back(feet.lead) == 11_000
    inch = print_quantity(read_quantity("36 in"), Rule(millimetre=Fraction(10), lead="mm"))
    assert read_back(inch.lead) == 910


def test_the_metric_form_is_rounded_from_the_exact_value_not_from_the_inch_form() -> None:
    # 2.34 in is 59.436 mm; the nearest 1/32 in is 2 11/32 in = 59.53 mm, which would print as 59.5 too,
    # so take a rule of 1/2 in: from 2 1/2 in one would get 63.5 mm.
    printed = print_quantity(inches(2.34), Rule(inch=Fraction(1, 2)))
    assert str(printed) == "2\u00a01/2\u00a0in (59.5\u00a0mm)"


@given(lengths_mm(), st.floats(0.01, 100))
def test_the_exact_value_scales_with_the_piece(mm: float, by: float) -> None:
    assert (millimetres(mm) * by).magnitude == pytest.approx(mm * by, rel=1e-15)
    assert inches(mm / 25.4).magnitude == pytest.approx(mm, rel=1e-14)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (Fraction(9, 4), "2\u00a01/4"),
        (Fraction(3), "3"),
        (Fraction(13, 32), "13/32"),
        (Fraction(0), "0"),
        (Fraction(-1, 8), "−1/8"),
        (Fraction(-17, 8), "−2\u00a01/8"),
    ],
)
def test_a_shop_fraction_is_whole_then_reduced_part(value: Fraction, text: str) -> None:
    assert shop_fraction(value) == text


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [(1234.5, 1, "1,234.5"), (2.0, 3, "2"), (-0.0001, 2, "0"), (-1.5, 1, "−1.5"), (100.0, 0, "100")],
)
def test_a_decimal_has_no_trailing_noughts_and_a_true_minus(value: float, places: int, text: str) -> None:
    assert decimal(value, places) == text


@pytest.mark.parametrize(
    ("value", "lead", "text"),
    [
        (quantity(Fraction(9, 4), "in"), "in", "2\u00a01/4\u00a0in"),
        (inches(0.659), "in", "0.659\u00a0in"),
        (inches(1), "mm", "25.4\u00a0mm"),
        (degrees(22.5), "in", "22.5°"),
        (count(6), "in", "6"),
        (count(0.00274), "in", "0.00274"),
        (count(9.24612), "in", "9.246"),
        (quantity(1200, "rpm"), "in", "1,200\u00a0rpm"),
        (quantity(3.5, "min"), "in", "3.5\u00a0min"),
        (of_kind(645.16, Kind.AREA), "in", "1\u00a0in²"),
        (of_kind(645.16, Kind.AREA), "mm", "6.45\u00a0cm²"),
        (of_kind(16387.064, Kind.VOLUME), "in", "1\u00a0in³"),
        (of_kind(16387.064, Kind.VOLUME), "mm", "16.4\u00a0cm³"),
        (quantity(1, "lb"), "in", "16\u00a0oz"),
        (quantity(1, "lb"), "mm", "454\u00a0g"),
        # 1 oz = 28.349 523 g (NIST SP 811, B.8): a gram is 0.035 oz, and never nought.
        (quantity(1, "g"), "in", "0.04\u00a0oz"),
        (quantity(0.3, "g"), "mm", "0.3\u00a0g"),
        (quantity(0, "g"), "mm", "0\u00a0g"),
        (of_kind(0.04, Kind.VOLUME), "mm", "0.00004\u00a0cm³"),
        (of_kind(304_800, Kind.RIM_SPEED), "in", "1,000\u00a0ft/min"),
        (of_kind(60_000, Kind.RIM_SPEED), "mm", "1\u00a0m/s"),
        (of_kind(1e-3, Kind.DENSITY), "mm", "1,000\u00a0kg/m³"),
        # NIST SP 811 (2008), B.9: 1 lb/ft³ = 1.601846 E+01 kg/m³, so water's 1000 kg/m³ is 62.4 lb/ft³.
        (of_kind(1e-3, Kind.DENSITY), "in", "62.4\u00a0lb/ft³"),
    ],
)
def test_each_kind_prints_in_its_own_unit(value, lead: str, text: str) -> None:
    assert exact(value, lead) == text


@pytest.mark.parametrize("kind", [Kind.AREA, Kind.VOLUME, Kind.MASS, Kind.RIM_SPEED, Kind.DENSITY])
@pytest.mark.parametrize("lead", ["in", "mm"])
def test_what_has_two_units_is_told_in_both(kind: Kind, lead: str) -> None:
    printed = print_quantity(of_kind(5000.0, kind), Rule(lead=lead))
    assert printed.other
    assert printed.other != printed.lead


def test_angles_and_counts_have_one_form() -> None:
    assert str(print_quantity(degrees(60), Rule())) == "60°"
    assert str(print_quantity(count(6), Rule())) == "6"


def test_the_amount_of_a_change_is_told_whichever_way_round_a_language_says_it() -> None:
    change = Printed("narrower by 0.012 in", "0.3 mm", inches(0.012), way="narrower by {amount}")
    assert (change.amount, str(change)) == ("0.012 in (0.3 mm)", "narrower by 0.012 in (0.3 mm)")
    manner = Manner(fine=True, ways=("{amount} looser", "{amount} tighter"))
    with speaking("en-XA"):
        told = print_as(millimetres(-0.3), Rule(), manner)
    assert told.amount == print_as(millimetres(0.3), Rule(), manner).amount
    assert not told.lead.endswith("tighter")


def test_a_refusal_is_said_with_its_limit_and_leaves_the_other_places() -> None:
    assert REFUSALS["long"].said == ("{what} is longer than 20 m", "is its unit right?")
    assert REFUSALS["nought"].said == ("{what} must be more than nought", "")
