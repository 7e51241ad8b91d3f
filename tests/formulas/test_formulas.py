"""The formula language: read, worked out, written and handed on."""

from __future__ import annotations

import json
import math
import operator
import re
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.formulas import (
    DEEPEST,
    FUNCTIONS,
    LONGEST,
    FormulaFault,
    Name,
    Number,
    holds,
    names,
    parse,
    to_json,
    to_text,
    value_of,
)
from handouts_build.formulas.tree import Binary, Negative, Node
from handouts_build.quantities import Kind, Quantity, count, inches, kind_of, of_kind, quantity
from tests.strategies import NAMES, Sum, mixtures, sums

PINT = pint.UnitRegistry()
"""pint's own default registry: the outside reference for units that go together."""

KINDS = {0: Kind.NUMBER, 1: Kind.LENGTH, 2: Kind.AREA}
KNOWN: dict[str, Quantity] = {name: of_kind(float(value), KINDS[power]) for name, (value, power) in NAMES.items()}


def value(text: str, **known: Quantity) -> Quantity:
    return value_of(parse(text), {**KNOWN, **known}.__getitem__)


def fault(text: str) -> FormulaFault:
    with pytest.raises(FormulaFault) as caught:
        value(text)
    assert caught.value.message
    return caught.value


# --- against fractions, which are exact ------------------------------------------------------------------------------


@given(sums())
def test_a_formula_has_the_value_that_exact_fractions_give(one: Sum) -> None:
    found = value(one.text)
    assert kind_of(found) is KINDS[one.power]
    largest = max(1.0, abs(float(one.value)))
    assert float(found.magnitude) == pytest.approx(float(one.value), rel=1e-9, abs=1e-9 * largest * 1e3)


@given(mixtures())
def test_units_go_together_where_pints_own_registry_lets_them(text: str) -> None:
    """The same tree by Python's arithmetic on pint's default registry: same value, or a fault in both."""
    tree = parse(text)
    try:
        reference = _by_pint(tree)
    except (pint.DimensionalityError, ZeroDivisionError):
        with pytest.raises(FormulaFault):
            value_of(tree, KNOWN.__getitem__)
        return
    found = value_of(tree, KNOWN.__getitem__)
    assert float(found.magnitude) == pytest.approx(float(_in_mm(reference)), rel=1e-9, abs=1e-9)
    assert dict(found.dimensionality) == dict(reference.dimensionality)


def _in_mm(found: pint.Quantity) -> float:
    """In powers of a millimetre; nothing else is in these trees."""
    power = dict(found.dimensionality).get("[length]", 0)
    return float(found.m_as(PINT.mm**power))


def _by_pint(node: Node) -> pint.Quantity:
    match node:
        case Number():
            found = re.fullmatch(r"(?:(\d+) )?(\d+(?:\.\d+)?(?:/\d+)?) ?([a-z]*)", node.text)
            assert found
            whole, part, unit = found.groups()
            return PINT.Quantity(float(int(whole or 0) + Fraction(part)), unit or "dimensionless")
        case Name():
            amount, power = NAMES[node.name]
            return PINT.Quantity(float(amount), PINT.mm**power)
        case Negative():
            return -_by_pint(node.of)
        case Binary():
            left, right = _by_pint(node.left), _by_pint(node.right)
            if node.op == "^":
                return left ** int(right.magnitude)
            work = {"+": operator.add, "-": operator.sub, "*": operator.mul, "/": operator.truediv}[node.op]
            # pint adds a bare nought to anything; a formula does not.
            if node.op in "+-" and left.dimensionality != right.dimensionality:
                raise pint.DimensionalityError(left.units, right.units)
            return work(left, right)
        case _:
            raise AssertionError(node)


@given(sums())
def test_what_is_written_from_a_tree_reads_as_an_equal_value(one: Sum) -> None:
    tree = parse(one.text)
    again = to_text(tree).replace("π", "pi").replace("²", "^2").replace("√", "sqrt").replace("°", " deg")
    assert _at(again) == pytest.approx(_at(one.text), rel=1e-12, abs=1e-9)


def _at(text: str) -> float:
    return float(value(text).magnitude)


@given(sums())
def test_the_json_tree_gives_the_same_value_to_another_evaluator(one: Sum) -> None:
    tree = json.loads(json.dumps(to_json(parse(one.text))))
    assert _json_value(tree, lambda name: float(NAMES[name][0])) == pytest.approx(_at(one.text), rel=1e-12, abs=1e-9)


def _json_value(tree: list[Any], name: Callable[[str], float]) -> float:
    """A tiny evaluator of the JSON form, as a page's script would have: floats in base units, no units checked."""
    head, *rest = tree
    if head == "num":
        return float(rest[0])
    if head == "name":
        return math.pi if rest[0] == "pi" else name(rest[0])
    if head == "neg":
        return -_json_value(rest[0], name)
    if head == "call":
        function, *arguments = rest
        x = [_json_value(one, name) for one in arguments]
        return {
            "abs": lambda: abs(x[0]), "min": lambda: min(x), "max": lambda: max(x), "sqrt": lambda: math.sqrt(x[0]),
            "sin": lambda: math.sin(x[0]), "cos": lambda: math.cos(x[0]), "tan": lambda: math.tan(x[0]),
            "asin": lambda: math.asin(x[0]), "acos": lambda: math.acos(x[0]), "atan": lambda: math.atan(x[0]),
            "exp": lambda: math.exp(x[0]),
            "round_up": lambda: math.ceil(x[0] / x[1] - 1e-6) * x[1],
            "round_down": lambda: math.floor(x[0] / x[1] + 1e-6) * x[1],
        }[function]()  # fmt: skip
    left, right = (_json_value(one, name) for one in rest)
    return {
        "+": lambda: left + right, "-": lambda: left - right, "*": lambda: left * right,
        "/": lambda: left / right, "^": lambda: left**right,
    }[head]()  # fmt: skip


CALLS = [
    ("abs(1 in - ball)", 1.25 * 25.4),
    ("min(ball, 2 in, 60 mm)", 50.8),
    ("max(ball, 2 in, 60 mm)", 60.0),
    ("sqrt(ball * ball)", 57.15),
    ("sqrt(16)", 4.0),
    ("sin(30 deg)", 0.5),
    ("cos(60 deg)", 0.5),
    ("tan(45 deg)", 1.0),
    ("asin(0.5)", math.pi / 6),
    ("acos(0.5)", math.pi / 3),
    ("atan(1)", math.pi / 4),
    ("exp(1)", math.e),
    ("round_up(2.3 in, 1/2 in)", 2.5 * 25.4),
    ("round_down(2.3 in, 1/2 in)", 2.0 * 25.4),
    ("round_up(2.5 in, 1/2 in)", 2.5 * 25.4),
    ("round_down(7, 2)", 6.0),
    ("pi * ball", math.pi * 57.15),
]


@pytest.mark.parametrize(("text", "expected"), CALLS)
def test_each_function_does_what_its_name_says(text: str, expected: float) -> None:
    assert float(value(text).magnitude) == pytest.approx(expected, rel=1e-12)
    tree = json.loads(json.dumps(to_json(parse(text))))
    assert _json_value(tree, lambda name: float(NAMES[name][0])) == pytest.approx(expected, rel=1e-12)


def test_every_function_is_tried_above() -> None:
    assert {name for name in FUNCTIONS if any(f"{name}(" in text for text, _ in CALLS)} == set(FUNCTIONS)


@given(st.floats(-1, 1))
def test_an_arc_is_an_angle_and_its_function_turns_it_back(x: float) -> None:
    known = {"x": count(x)}
    assert kind_of(value("asin(x)", **known)) is Kind.ANGLE
    assert float(value("sin(asin(x))", **known).magnitude) == pytest.approx(x, abs=1e-12)
    assert float(value("cos(acos(x))", **known).magnitude) == pytest.approx(x, abs=1e-12)


@given(st.floats(0.1, 500), st.floats(0.01, 20))
def test_rounding_up_is_never_under_and_by_less_than_a_step(mm: float, step: float) -> None:
    known = {"x": quantity(mm, "mm"), "step": quantity(step, "mm")}
    up, down = (float(value(f"round_{way}(x, step)", **known).magnitude) for way in ("up", "down"))
    hair = step * 2e-6
    assert mm - hair <= up < mm + step + hair
    assert mm - step - hair < down <= mm + hair


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
