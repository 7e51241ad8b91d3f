"""Settling a project's names: order, circles, follow-up noise, bounds, the rule, scaling."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from handouts_build.problems import MOST
from handouts_build.quantities import UNITS
from handouts_build.trade.sphere import SPHERE
from tests.projects import PARTS, problems, worked

SAME_FOLDER = settings(
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow], max_examples=25
)


# --- the order of names ----------------------------------------------------------------------------------------------


def test_a_chain_of_dimensions_is_settled_in_whatever_order_it_is_written(tmp_path: Path) -> None:
    """As long a chain as a file may name, written from its end to its beginning."""
    links = 190
    chain = "\n".join(f"d{n}: {{formula: d{n + 1} + 1 mm, says: Link}}" for n in range(links))
    sheet = worked(tmp_path, dimensions=f"{chain}\nd{links}: {{formula: ball, says: End}}")
    values = {one.name: float(one.value.magnitude) for one in sheet.dimensions}
    assert values["d0"] == pytest.approx(50.8 + links)


def test_dimensions_stand_in_the_order_in_which_formulas_name_them(tmp_path: Path) -> None:
    """Not in a set's, which is another in every process: the same input has the same rows."""
    named = [f"d{n}" for n in (7, 2, 9, 0, 5, 8, 1, 3, 6, 4)]
    every = "\n".join(f"{name}: {{formula: 1 in, says: It}}" for name in sorted(named))
    sheet = worked(tmp_path, dimensions=f"all: {{formula: {' + '.join(named)}, says: Sum}}\n{every}")
    assert [one.name for one in sheet.dimensions] == [*named, "all"]


def test_two_hundred_names_are_worked_out_and_one_more_is_not(tmp_path: Path) -> None:
    many = [f"d{n}: {{formula: ball, says: It}}" for n in range(200)]
    assert sum(1 for _ in worked(tmp_path, dimensions="\n".join(many[:199])).dimensions) == 199
    (problem,) = problems(tmp_path, dimensions="\n".join(many))
    assert "201 values; at most 200" in problem.message


def test_each_circle_is_told_once_and_what_hangs_on_it_is_not_blamed(tmp_path: Path) -> None:
    found = problems(
        tmp_path,
        dimensions="""
            a: {formula: b, says: It}
            b: {formula: c, says: It}
            c: {formula: a, says: It}
            d: {formula: d, says: It}
            hangs: {formula: a + d, says: It}
        """,
    )
    said = sorted(problem.message.rpartition(": ")[2] for problem in found)
    assert len(said) == 2
    assert set(said[0].split(" → ")) == {"a", "b", "c"}
    assert said[1] == "d → d"


def test_a_circle_through_a_working_is_found(tmp_path: Path) -> None:
    (problem,) = problems(
        tmp_path,
        dimensions="wide: {formula: octagon.side, says: It}",
        workings="octagon: {chapter: sphere by facets, diameter: wide}",
    )
    assert "circle" in problem.message
    assert "octagon" in problem.message


def test_what_follows_from_a_fault_is_not_reported_again(tmp_path: Path) -> None:
    (problem,) = problems(
        tmp_path,
        dimensions="""
            a: {formula: nothing, says: It}
            b: {formula: a * 2, says: It}
        """,
        workings="octagon: {chapter: sphere by facets, diameter: b}",
        parts=PARTS.replace("Turn it.}", "'Turn it to {b}, then {octagon.side}.'}"),
    )
    assert "'nothing' is not known" in problem.message


def test_a_number_without_its_unit_is_blamed_once_and_where_it_stands(tmp_path: Path) -> None:
    (problem,) = problems(
        tmp_path,
        sizes="ball: {is: 2, says: Ball}",
        dimensions="half: {formula: ball / 2, says: Half}\nless: {formula: half - 1/8 in, says: Less}",
        workings="""
            octagon: {chapter: sphere by facets, diameter: ball}
            other: {chapter: sphere by facets, diameter: half}
        """,
        profiles="rod: {says: Rod, along: [cylinder: {diameter: half, long: ball}]}",
    )
    # Which of the uses is met first is of no weight; that the size is named is.
    assert "'ball'" in str(problem)


def test_other_faults_are_told_beside_a_missing_unit(tmp_path: Path) -> None:
    found = problems(
        tmp_path,
        sizes="ball: {is: 2, says: Ball}",
        dimensions="""
            a: {formula: ball + 1 in, says: A}
            b: {formula: bell + 1 in, says: B}
            c: {formula: 1 in + 1, says: C}
        """,
    )
    assert len(found) == 3


def test_who_has_very_many_faults_is_told_of_the_first(tmp_path: Path) -> None:
    text = " ".join(f"{{x{n}}}" for n in range(150))
    found = problems(tmp_path, parts=PARTS.replace("Turn it.}", f"'{text}'}}"))
    assert len(found) == MOST


# --- sizes -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("size", "message"),
    [
        ("{is: 2 in, says: It, least: 3 in}", "outside its own bounds: least is 3"),
        ("{is: 2 in, says: It, most: 1 in}", "outside its own bounds: most is 1"),
        ("{is: 2 in, says: It, most: 3}", "measure different things"),
        ("{is: 2 in, says: It, least: 1 deg}", "measure different things"),
        ("{is: 6, says: It, choices: [4, 8]}", "not one of its own choices"),
        ("{is: 6, says: It, choices: [6 in]}", "has no unit"),
        ("{is: -6, says: It}", "more than nought"),
        ("{is: 0 deg, says: It}", "more than nought"),
        ("{is: 21 m, says: It}", "longer than 20 m"),
    ],
)
def test_a_size_keeps_to_its_own_bounds(size: str, message: str, tmp_path: Path) -> None:
    (problem,) = problems(tmp_path, sizes=f"ball: {size}")
    assert message in problem.message


def test_a_size_on_its_bound_is_within_it(tmp_path: Path) -> None:
    sheet = worked(tmp_path, sizes="ball: {is: 2 in, says: It, least: 50.8 mm, most: 2 in, choices: [2 in, 3 in]}")
    (size,) = sheet.sizes
    assert str(size.least) == str(size.most) == "2\u00a0in (51\u00a0mm)"
    assert size.choices == ("2\u00a0in (51\u00a0mm)", "3\u00a0in (76\u00a0mm)")


# --- the rule --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("rule", ["1/16 in", "1/64 in", "0.01 in", "1 in", "0.1 in"])
def test_an_inch_rule_may_have_any_mark_that_rules_have(rule: str, tmp_path: Path) -> None:
    inch = worked(tmp_path, extra=f"rule: {rule}\n").rule.inch
    number = rule.removesuffix(" in")
    assert inch == Fraction(number)


@pytest.mark.parametrize(
    "line", ["rule: 1/3 in", "rule: 1/1000 in", "rule: 1 mm", "rule: 20 in", "metric rule: 0.005 mm"]
)
def test_a_mark_that_no_rule_has_is_a_problem(line: str, tmp_path: Path) -> None:
    (problem,) = problems(tmp_path, extra=line + "\n")
    assert "rule is marked every" in problem.message


def test_the_leading_unit_and_the_rule_are_known_in_formulas_and_text(tmp_path: Path) -> None:
    sheet = worked(
        tmp_path,
        extra="measure: millimeters\nmetric rule: 1 mm\n",
        dimensions="near: {formula: 'round_up(ball, rule)', says: It}",
        parts=PARTS.replace("Turn it.}", '"To {near}, marks {rule}."}'),
    )
    (near,) = sheet.dimensions
    assert near.value.m_as(UNITS["mm"]) == 51
    (step,) = sheet.steps
    text = "".join(run.text for run in step.say[0])
    assert text == "To 51\u00a0mm (2\u00a0in), marks 1\u00a0mm (1/32\u00a0in)."


# --- scaling ---------------------------------------------------------------------------------------------------------


SCALED = """
octagon: {chapter: sphere by facets, diameter: ball, tenon: ball / 4, tenon long: ball / 8, parting: ball / 16}
windows: {chapter: cross holes, holes: 6, bit: ball / 9, diameter: ball, bore: ball / 3}
grooves: {chapter: cross-axis groove, ribs: 6, diameter: ball, wide: ball / 5, deep: ball / 8, bore: ball / 3}
"""


@given(st.integers(8, 64))
@SAME_FOLDER
def test_a_piece_of_twice_the_size_has_twice_the_dimensions(tmp_path: Path, sixteenths: int) -> None:
    """Lengths go with the size, areas with its square, volumes with its cube, counts and angles stay."""
    small, large = (
        worked(tmp_path, sizes=f"ball: {{is: {amount}/16 in, says: Ball}}", workings=SCALED)
        for amount in (sixteenths, 2 * sixteenths)
    )
    # What is set to the mark of a rule does not grow with the piece.
    marked = {f"octagon.{law.name}" for law in SPHERE.laws if "rule" in law.needs}
    for one, two in zip(small.dimensions, large.dimensions, strict=True):
        if one.name in marked:
            continue
        power = dict(one.value.dimensionality).get("[length]", 0)
        factor = 2 ** float(power)
        assert float(two.value.magnitude) == pytest.approx(float(one.value.magnitude) * factor, rel=1e-9, abs=1e-9), (
            one.name
        )
