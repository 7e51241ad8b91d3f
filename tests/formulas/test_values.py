"""What formulas are worth, against exact fractions, pint's own registry and another evaluator."""

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
    FUNCTIONS,
    FormulaFault,
    Name,
    Number,
    function_of,
    names,
    parse,
    to_json,
    to_text,
    value_of,
)
from handouts_build.formulas.tree import Binary, Negative, Node
from handouts_build.formulas.tree import Sum as Sum_
from handouts_build.quantities import Kind, Quantity, count, kind_of, of_kind, quantity
from tests.strategies import NAMES, Sum, mixtures, sums

PINT = pint.UnitRegistry()
"""pint's own default registry: the outside reference for units that go together."""

KINDS = {0: Kind.NUMBER, 1: Kind.LENGTH, 2: Kind.AREA}
KNOWN: dict[str, Quantity] = {name: of_kind(float(value), KINDS[power]) for name, (value, power) in NAMES.items()}


def value(text: str, **known: Quantity) -> Quantity:
    return value_of(parse(text), {**KNOWN, **known}.__getitem__)


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


@given(sums())
def test_the_quick_way_in_plain_numbers_gives_the_same_value(one: Sum) -> None:
    found = function_of(parse(one.text))(lambda name: float(KNOWN[name].magnitude))
    assert found == pytest.approx(float(value(one.text).magnitude), rel=1e-12)


@pytest.mark.parametrize("function", FUNCTIONS)
def test_each_function_means_the_same_the_quick_way(function: str) -> None:
    for x in (0.3, 0.5, 1.0, 1 + 5e-10):
        given_ = {"x": count(x) if function not in ("sin", "cos", "tan") else of_kind(x, Kind.ANGLE)}
        text = f"{function}(x)" if FUNCTIONS[function][0] == 1 else f"{function}(x, 0.25)"
        plain = function_of(parse(text))(lambda _, x=x: x)
        assert plain == pytest.approx(float(value(text, **given_).magnitude), rel=1e-12), text


@pytest.mark.parametrize("text", ["1 / x", "sqrt(-1 - x)", "asin(2 + x)", "exp(800 + x)", "round_up(1, x)"])
def test_what_has_no_value_has_none_the_quick_way(text: str) -> None:
    with pytest.raises(FormulaFault, match="has no value"):
        function_of(parse(text))(lambda _: 0.0)


def test_a_sum_adds_its_term_for_every_whole_number() -> None:
    """The square pyramidal numbers: 1² + 2² + … + 24² = 4,900, the only one that is a square too."""
    tree = Sum_(0, "i", 24, parse("i^2 * x"))
    assert value_of(tree, {"x": count(1)}.__getitem__).magnitude == 4900
    assert function_of(tree)(lambda _: 1.0) == 4900
    assert [name.name for name in names(tree)] == ["x"]
    assert to_json(tree, str.upper) == ["sum", 24, ["*", ["^", ["name", "#"], ["num", 2.0, "2"]], ["name", "X"]]]
    assert to_text(tree) == "Σ(i² × x)"


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
