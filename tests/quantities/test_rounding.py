"""Rounding to a rule's marks, on the safe side."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.quantities import Err, to_mark
from tests.strategies import INCH_STEPS, MM_STEPS

VALUES = st.floats(-5000, 5000, allow_nan=False)
STEPS = st.sampled_from((*INCH_STEPS, *MM_STEPS))
# A value this near to a mark (a share of the step) counts as on it, see the module.
HAIR = 0.01 * 1.000001


@given(VALUES, STEPS, st.sampled_from(Err))
def test_the_result_is_a_mark_less_than_a_step_away(value: float, step: Fraction, err: Err) -> None:
    mark = to_mark(value, step, err)
    assert mark % step == 0
    assert abs(mark - Fraction(value)) < step


@given(VALUES, STEPS)
def test_over_is_never_under_and_under_never_over(value: float, step: Fraction) -> None:
    slack = float(step) * HAIR
    assert float(to_mark(value, step, Err.OVER)) >= value - slack
    assert float(to_mark(value, step, Err.UNDER)) <= value + slack


@given(VALUES, STEPS)
def test_nearest_is_no_more_than_half_a_step_away(value: float, step: Fraction) -> None:
    assert abs(float(to_mark(value, step, Err.NEAREST)) - value) <= float(step) * (0.5 + 1.1e-6)


@given(st.integers(-(10**6), 10**6), STEPS, st.sampled_from(Err))
def test_a_value_on_a_mark_stays_there_even_through_millimetres(marks: int, step: Fraction, err: Err) -> None:
    exact = marks * step
    assert to_mark(float(exact), step, err) == exact
    there_and_back = float(exact * Fraction(127, 5)) / 25.4
    assert to_mark(there_and_back, step, err) == exact


@given(VALUES, VALUES, STEPS, st.sampled_from(Err))
def test_rounding_keeps_the_order_of_values(one: float, other: float, step: Fraction, err: Err) -> None:
    low, high = sorted((one, other))
    assert to_mark(low, step, err) <= to_mark(high, step, err)


@given(VALUES, STEPS)
def test_turning_the_sign_turns_the_safe_side(value: float, step: Fraction) -> None:
    assert to_mark(-value, step, Err.OVER) == -to_mark(value, step, Err.UNDER)


def test_halves_go_up() -> None:
    assert to_mark(2.5, Fraction(1), Err.NEAREST) == 3
    assert to_mark(-2.5, Fraction(1), Err.NEAREST) == -2


@pytest.mark.parametrize("step", [Fraction(0), Fraction(-1, 2)])
def test_a_step_of_nought_or_less_is_refused(step: Fraction) -> None:
    with pytest.raises(ValueError, match="more than nought"):
        to_mark(1.0, step, Err.OVER)


@pytest.mark.parametrize("value", [math.inf, -math.inf, math.nan])
def test_only_a_finite_value_is_rounded(value: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        to_mark(value, Fraction(1), Err.OVER)


@given(st.integers(-(10**6), 10**6), STEPS, st.floats(-0.0099, 0.0099), st.sampled_from(Err))
def test_a_value_within_a_hundredth_of_a_mark_is_on_the_mark(marks: int, step: Fraction, off: float, err: Err) -> None:
    assert to_mark((marks + off) * float(step), step, err) == marks * step


@given(st.integers(-(10**6), 10**6), STEPS, st.floats(0.0101, 0.4899))
def test_a_value_further_from_a_mark_goes_to_its_side(marks: int, step: Fraction, off: float) -> None:
    value = (marks + off) * float(step)
    assert [to_mark(value, step, err) / step - marks for err in (Err.UNDER, Err.NEAREST, Err.OVER)] == [0, 0, 1]
