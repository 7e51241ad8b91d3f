"""Each part of the own-size arithmetic alone, beside the library's: printing, reading, formulas."""

from __future__ import annotations

import random
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from handouts_build.formulas import FormulaFault, Node, holds, parse, to_json, to_text, value_of
from handouts_build.quantities import (
    FINE,
    Err,
    Kind,
    Manner,
    Rule,
    exact,
    millimetres,
    of_kind,
    print_as,
    print_exact,
    print_quantity,
)
from tests.browser.scripts import CONSTANTS, scripted

NUMBERS = "const own = window.handoutsOwnSize, numbers = own.numbers(constants.printing);"


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    made = scripted(browser)
    yield made
    made.close()


def _lengths() -> list[float]:
    """Lengths on marks, a hair beside them, halfway, and anywhere, in mm."""
    dice = random.Random(11)
    marks = [25.4 * number / 64 for number in (0, 1, 7, 16, 63, 64, 65, 144, 1_000, 64_000)]
    beside = [mark + way * share for mark in marks for way in (-1, 1) for share in (1e-9, 1e-7, 1e-4, 0.2)]
    metric = [0.05, 0.25, 0.5, 0.75, 1.0, 57.25, 57.5, 1e-7, 19_999.99]
    return [*marks, *beside, *metric, *(dice.uniform(0, 500) for _ in range(200))]


RULES = [
    Rule(Fraction(1, 32), Fraction(1, 2), "in"), Rule(Fraction(1, 64), Fraction(1, 10), "mm"),
    Rule(Fraction(1, 8), Fraction(1), "in"), Rule(Fraction(3, 32), Fraction(1, 2), "mm"),
]  # fmt: skip


def _as_data(rule: Rule) -> dict[str, Any]:
    return {
        "lead": rule.lead,
        "in": list(rule.inch.as_integer_ratio()),
        "mm": list(rule.millimetre.as_integer_ratio()),
    }


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: f"{rule.lead} {rule.inch} {rule.millimetre}")
@pytest.mark.parametrize("err", Err)
@pytest.mark.parametrize("fine", [False, True])
def test_lengths_print_on_the_marks_the_library_prints_and_on_the_safe_side(
    page: Page, rule: Rule, err: Err, fine: bool
) -> None:
    lengths = _lengths()
    found = page.evaluate(
        f"([constants, lengths, rule, err, fine]) => {{ {NUMBERS}"
        "  return lengths.map((x) => numbers.print(x, 'length', rule, err, fine)); }",
        [CONSTANTS, lengths, _as_data(rule), str(err), fine],
    )
    # A value is on a mark if it is as near as a hundredth of the step: that much is no error.
    step = FINE if fine else rule
    hair = 0.01001 * float(step.inch * Fraction(127, 5) if rule.lead == "in" else step.millimetre)
    for length, printed in zip(lengths, found, strict=True):
        expected = print_quantity(millimetres(length), rule, err=err, fine=fine)
        assert (printed["lead"], printed["other"]) == (expected.lead, expected.other), length
        assert printed["off"] == pytest.approx(float(expected.rounded.magnitude) - length, abs=1e-9)
        if err is Err.OVER:
            assert printed["off"] >= -hair
        if err is Err.UNDER:
            assert printed["off"] <= hair


@pytest.mark.parametrize("err", Err)
def test_a_tenon_is_printed_from_its_hole_as_the_library_prints_it(page: Page, err: Err) -> None:
    rule = RULES[0]
    pairs = [(hole, hole - play) for hole in (19.05, 10.0049, 25.4 / 3) for play in (0.396875, 0.01, 0.0, -0.1)]
    holes = [(hole, print_exact(millimetres(hole), rule)) for hole, _ in pairs]
    found = page.evaluate(
        f"([constants, pairs, rule, err]) => {{ {NUMBERS}"
        "  return pairs.map(([value, x]) => {"
        "    const hole = { value, printed: numbers.told(value, 'length', rule) };"
        "    return numbers.shown(x, 'length', rule, { err, fine: true }, hole); }); }",
        [CONSTANTS, pairs, _as_data(rule), str(err)],
    )
    for (hole, told), (_, tenon), printed in zip(holes, pairs, found, strict=True):
        expected = print_as(millimetres(tenon), rule, Manner(err, fine=True), below=(millimetres(hole), told))
        assert (printed["lead"], printed["other"]) == (expected.lead, expected.other), (hole, tenon)
        assert (printed["in"], printed["mm"]) == pytest.approx((expected.inch, expected.mm), abs=1e-12)


@pytest.mark.parametrize("kind", Kind, ids=lambda kind: kind.value)
@pytest.mark.parametrize("lead", ["in", "mm"])
def test_every_kind_of_quantity_is_told_as_the_library_tells_it(page: Page, kind: Kind, lead: str) -> None:
    dice = random.Random(kind.value)
    values = [0.0, 1.0, 2.0, 0.5, 0.125, 999.4, 999.6, 1e-7, 1e-5, 123_456.789, -3.25]
    values += [dice.choice([-1, 1]) * 10 ** dice.uniform(-6, 6) for _ in range(300)]
    found = page.evaluate(
        f"([constants, values, kind, lead, errs]) => {{ {NUMBERS}"
        "  return values.map((x) => errs.map((err) => numbers.exact(x, kind, lead, err))); }",
        [CONSTANTS, values, kind.value, lead, list(Err)],
    )
    for value, told in zip(values, found, strict=True):
        assert told == [exact(of_kind(value, kind), lead, err=err) for err in Err], value


FORMULAS = [
    "ball * 2 - 1/8 in", "ball / (2 * sin(30 deg))", "round_up(ball, 1/16 in)", "round_down(ball, 0.1 mm)",
    "max(ball, bore, 2 in) + min(1 in, bore)", "sqrt(ball * bore)", "-(ball - bore) ^ 2 / ball", "pi * ball",
    "abs(bore - ball)", "asin(bore / ball) + acos(1) + atan(2)", "ball * exp(1)", "cos(45 deg) * tan(10 deg) * ball",
    "ball - (bore - 1 in) - 2 mm", "(ball + bore) / (count * 2)", "ball / (bore - bore)", "sqrt(0 - count)",
    "asin(2)", "round_up(ball, 0 in)", "exp(1000)", "ball * exp(699) * exp(699)", "count ^ 3",
]  # fmt: skip
NAMES = {"ball": millimetres(57.15), "bore": millimetres(22.225), "count": of_kind(12, Kind.NUMBER)}

VALUES = f"""([constants, trees, known]) => {{ {NUMBERS}
  const {{ valueOf, written }} = own.formulas(constants.formulas, numbers);
  return trees.map((tree) => {{
    const words = written(tree, (name) => name);
    try {{ return [words, valueOf(tree, (name) => known[name])]; }}
    catch (fault) {{ if (!(fault instanceof own.Fault)) throw fault; return [words, fault.message]; }}
  }});
}}"""


def test_formulas_have_the_librarys_values_words_and_faults(page: Page) -> None:
    trees = [parse(text) for text in FORMULAS]
    known = {name: float(value.magnitude) for name, value in NAMES.items()}
    found = page.evaluate(VALUES, [CONSTANTS, [to_json(tree) for tree in trees], known])
    for tree, (words, value) in zip(trees, found, strict=True):
        assert words == to_text(tree)
        assert value == _worked(tree), words
    assert sum(isinstance(value, str) for _, value in found) == 6


def _worked(tree: Node) -> Any:
    """The library's value of a tree, or why it has none."""
    try:
        return pytest.approx(float(value_of(tree, NAMES.__getitem__).magnitude), rel=1e-12)
    except FormulaFault as fault:
        return fault.message


@pytest.mark.parametrize("sign", ["<", "<=", ">", ">="])
def test_comparisons_forgive_a_billionth_as_the_librarys_do(page: Page, sign: str) -> None:
    tree = parse(f"ball {sign} bore")
    pairs = [(1.0, 1.0), (1.0, 1.0 + 1e-10), (1.0 + 1e-10, 1.0), (1.0, 1.0 + 1e-8), (1.0 + 1e-8, 1.0), (0.0, 0.0)]
    found = page.evaluate(
        f"([constants, tree, pairs]) => {{ {NUMBERS} const {{ holds }} = own.formulas(constants.formulas, numbers);"
        "  return pairs.map(([ball, bore]) => holds(tree, (name) => ({ ball, bore })[name])); }",
        [CONSTANTS, to_json(tree), pairs],
    )
    assert found == [holds(tree, {"ball": millimetres(a), "bore": millimetres(b)}.__getitem__) for a, b in pairs]
