"""The formula language: how it is read and written, what it refuses, and comparisons."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.formulas import (
    DEEPEST,
    LONGEST,
    FormulaFault,
    holds,
    names,
    parse,
    to_text,
    value_of,
)
from handouts_build.quantities import Kind, Quantity, count, inches, of_kind
from tests.strategies import NAMES

KINDS = {0: Kind.NUMBER, 1: Kind.LENGTH, 2: Kind.AREA}
KNOWN: dict[str, Quantity] = {name: of_kind(float(value), KINDS[power]) for name, (value, power) in NAMES.items()}


def value(text: str, **known: Quantity) -> Quantity:
    return value_of(parse(text), {**KNOWN, **known}.__getitem__)


def fault(text: str) -> FormulaFault:
    with pytest.raises(FormulaFault) as caught:
        value(text)
    assert caught.value.message
    return caught.value


# --- how it is read --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1 + 2 * 3", 7),
        ("(1 + 2) * 3", 9),
        ("10 - 3 - 2", 5),
        ("12 / 3 / 2", 2),
        ("-3^2", -9),
        ("(-3)^2", 9),
        ("2 * -3", -6),
        ("3 - -2", 5),
        ("2 1/2 * 2", 5),
        ("7/16", 0.4375),
        ("ribs / 2 / 3", 1),
        ("6 × 2 ÷ 3 − 1", 3),
        ("ribs/3", 2),
        ("ribs^2 / 4", 9),
        ("ribs ^ 2 + 1", 37),
        ("(ribs^2)^2", 1296),
    ],
)
def test_signs_bind_as_at_school(text: str, expected: float) -> None:
    assert float(value(text).magnitude) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("text", "mm"), [("2/3 in", 2 / 3 * 25.4), ("ball - 1/64 in", 57.15 - 25.4 / 64), ('3/8"', 9.525)]
)
def test_a_fraction_with_a_unit_is_one_measure(text: str, mm: float) -> None:
    assert float(value(text).magnitude) == pytest.approx(mm)


@pytest.mark.parametrize(
    ("text", "offset", "message"),
    [
        ("ball + 3", 5, "cannot be added"),
        ("ball - ribs", 5, "cannot be taken from"),
        ("1 + ball", 2, "cannot be added"),
        ("ball / (ribs - 6)", 5, "divides by nought"),
        ("ball / 0", 5, "divides by nought"),
        ("sqrt(-4)", 0, "no square root"),
        ("2 * asin(2)", 4, "from -1 to 1"),
        ("sin(2)", 0, "needs an angle"),
        ("sin(ball)", 0, "needs an angle"),
        ("exp(ball)", 0, "needs a plain number"),
        ("exp(701)", 0, "too large"),
        ("atan(ball)", 0, "needs a plain number"),
        ("min(ball, 2)", 0, "values of one kind"),
        ("round_up(ball, 1)", 0, "values of one kind"),
        ("round_up(ball, 0 in)", 0, "more than nought"),
        ("round_down(exp(700) * exp(700), 1)", 20, "too large"),
        ("sin(exp(700) * exp(700) * 1 deg)", 13, "too large"),
        ("1 / (1 / exp(700) / exp(700))", 2, "divides by nought"),
        ("ball < 1 in", 5, "a comparison has no value"),
        ("bal", 0, "'bal' is not known"),
        ("2 * drop.nek", 4, "'drop.nek' is not known"),
        ("ball ** 2", 5, "'**'"),
        ("ball^7", 4, "a power of 7"),
        ("ball^1", 4, "a power of 1"),
        ("ball^22", 4, "a power of 22"),
        ("9^6^6", 3, "raised again"),
        ("ball^-1", 4, "only a whole number"),
        ("ball^ribs", 4, "only a whole number"),
        ("ball^2.5", 6, "'.5' does not fit"),
        ("ball = 2", 5, "'='"),
        ("25,4 mm", 2, "decimal comma"),
        ("sine(2 deg)", 0, "'sine' is not a function"),
        ("min(ball)", 0, "2 to 8 values, not 1"),
        ("abs()", 0, "1 value, not 0"),
        ("Ball / 2", 0, "'Ball' does not fit"),
        ("2 ball", 2, "'ball' does not fit"),
        ("ball ribs", 5, "'ribs' does not fit"),
        ("1/0 in", 0, "divides by nought"),
        ("ball +", 5, "stops too soon"),
        ("(ball", 4, "stops too soon"),
        ("", 0, "stops too soon"),
        ("ball)", 4, "')' does not fit"),
        ("ball; ribs", 4, "';"),
        ("ball & ribs", 5, "'&'"),
        ("0.1.2", 3, "does not fit"),
        ("٣", 0, "does not fit"),
    ],
)
def test_a_fault_is_told_where_it_is(text: str, offset: int, message: str) -> None:
    found = fault(text)
    assert message in found.message
    assert found.offset == offset


def test_a_near_miss_of_a_function_is_named() -> None:
    assert "'sin'" in fault("sine(2 deg)").hint


def test_length_and_depth_are_bounded() -> None:
    assert "characters long" in fault("1" + "+1" * LONGEST).message
    assert "deep" in fault("(" * (DEEPEST + 1) + "1" + ")" * (DEEPEST + 1)).message
    assert float(value("(" * DEEPEST + "1" + ")" * DEEPEST).magnitude) == 1
    assert float(value("1" + "+1" * 149).magnitude) == 150
    assert float(value("-" * (LONGEST - 1) + "1").magnitude) == -1


def test_the_names_of_a_formula_are_found_as_often_as_they_stand_there() -> None:
    tree = parse("ball + max(ball, drop.neck) * pi - -rule^2")
    assert [name.name for name in names(tree)] == ["ball", "ball", "drop.neck", "rule"]


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("a - (b + c)", "a − (b + c)"),
        ("a - (b - c)", "a − (b − c)"),
        ("(a - b) - c", "a − b − c"),
        ("a / (b * c)", "a / (b × c)"),
        ("(a + b) * c", "(a + b) × c"),
        ("a + (b * c)", "a + b × c"),
        ("-(a + b)", "−(a + b)"),
        ("(-a)^2", "(−a)²"),
        ("(2 in)^2", "(2\u00a0in)²"),
        ("sqrt(a)^3", "√(a)³"),
        ("(a^2)^3", "(a²)³"),
        ("a^2 / b", "a² / b"),
        ("3^2", "3²"),
        ("(a / b)^2", "(a / b)²"),
        ("a <= b", "a ≤ b"),
        ("asin(a) + 30 deg", "arcsin(a) + 30°"),
        ("abs(a - b)", "|a − b|"),
        ("round_up(a, b)", "round up(a, b)"),
        ("2 * pi", "2 × π"),
    ],
)
def test_a_tree_is_written_with_the_brackets_it_needs(text: str, written: str) -> None:
    assert to_text(parse(text)) == written


def test_a_value_below_nought_is_put_in_with_brackets() -> None:
    assert to_text(parse("a - b"), lambda _: "−3") == "(−3) − (−3)"


def test_a_measure_that_is_put_in_and_raised_has_brackets() -> None:
    """2 1/4 in² would be an area of its own."""
    assert to_text(parse("a^2"), lambda _: "2\u00a01/4\u00a0in") == "(2\u00a01/4\u00a0in)²"


# --- comparisons -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "truth"),
    [
        ("ball > 2 in", True),
        ("ball < 2 in", False),
        ("ball <= 2 1/4 in", True),
        ("ball >= 2 1/4 in", True),
        ("ball < 2 1/4 in", False),
        ("ball > 2 1/4 in", False),
        ("0.1 + 0.2 <= 0.3", True),
        ("0.1 + 0.2 >= 0.3", True),
        ("0.1 + 0.2 > 0.3", False),
        ("3 * (1 in / 3) >= 25.4 mm", True),
        ("ribs > -1", True),
    ],
)
def test_comparisons_take_values_a_billionth_apart_as_equal(text: str, truth: bool) -> None:
    assert holds(parse(text), KNOWN.__getitem__) is truth


@given(st.floats(0.001, 1e6), st.floats(-1, 1))
def test_equal_within_the_tolerance_and_not_beyond_it(x: float, way: float) -> None:
    close, apart = x * (1 + way * 0.9e-9), x * (1 + math.copysign(3e-9, way))
    known = {"x": count(x), "close": count(close), "apart": count(apart)}
    assert holds(parse("x <= close"), known.__getitem__)
    assert holds(parse("x >= close"), known.__getitem__)
    assert holds(parse("x < apart"), known.__getitem__) is (apart > x)
    assert holds(parse("x > apart"), known.__getitem__) is (apart < x)


@pytest.mark.parametrize(
    ("text", "message"),
    [("ball > 2", "cannot be compared"), ("ball + ball", "not a comparison"), ("-(ball)", "not a comparison")],
)
def test_what_cannot_be_compared_is_a_fault(text: str, message: str) -> None:
    with pytest.raises(FormulaFault, match=message):
        holds(parse(text), KNOWN.__getitem__)


def test_a_comparison_of_comparisons_is_not_a_formula() -> None:
    with pytest.raises(FormulaFault, match="does not fit"):
        parse("1 < 2 < 3")


# --- hostile text ----------------------------------------------------------------------------------------------------


@given(st.text(alphabet="ab.()+-*/^<>=, 0123456789½°\"'einmpi_sqrt", max_size=LONGEST + 10))
def test_any_text_is_a_value_or_a_fault(text: str) -> None:
    known = {"a": inches(1), "b": count(2), "a.b": inches(3)}
    try:
        tree = parse(text)
        value_of(tree, known.__getitem__)
    except FormulaFault as wrong:
        offset = wrong.offset
    else:
        offset = 0
    assert 0 <= offset <= max(0, len(text))
