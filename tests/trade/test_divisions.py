"""Divisions, against a workshop chord table and published examples."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from strategies_trade import lengths

from handouts_build.quantities import Quantity, count, inches, millimetres
from handouts_build.tables import index_wheels
from handouts_build.trade.divisions import DIVISIONS

Rows = Callable[[str], list[dict[str, str]]]
Example = Callable[[str, str], dict[str, Any]]


def _work(divisions: int, diameter: Quantity, rule: Quantity) -> dict[str, Quantity]:
    return DIVISIONS.work(divisions=count(divisions), diameter=diameter, rule=rule)


def test_chords_match_every_row_of_the_workshop_table(published_rows: Rows, rule: Quantity) -> None:
    """chord_factors.csv: workshop spacing table, VERIFIED, four places."""
    rows = published_rows("chord_factors.csv")
    assert len(rows) >= 25
    for row in rows:
        chord = _work(int(row["n_divisions"]), millimetres(1), rule)["chord"]
        assert chord.magnitude == pytest.approx(float(row["chord_per_unit_diameter"]), abs=6e-5), row


def test_chords_match_the_handbook_side_in_a_circle(published_rows: Rows, rule: Quantity) -> None:
    """regular_polygons.csv, side per circumradius: from memory of the layout of Machinery's Handbook."""
    for row in published_rows("regular_polygons.csv"):
        chord = _work(int(row["n_sides"]), millimetres(2), rule)["chord"]
        assert chord.magnitude == pytest.approx(float(row["side_per_circumradius"]), abs=5e-5), row


def test_hexagon_steps_the_radius_six_times(published_example: Example, rule: Quantity) -> None:
    """geometry.yaml hexagon_R1, VERIFIED: radius 1, side 1, perimeter 6."""
    assert published_example("geometry.yaml", "hexagon_R1")["value"].startswith("R 1: side 1,")
    worked = _work(6, inches(2), rule)
    assert worked["chord"].magnitude == pytest.approx(25.4)
    assert worked["setting"].magnitude == pytest.approx(25.4)
    assert worked["closing"].magnitude == pytest.approx(0, abs=1e-9)


def test_seven_holes_on_radius_five(published_example: Example, rule: Quantity) -> None:
    """geometry.yaml bolt_circle_R5_n7, VERIFIED: chord 4.3388."""
    assert published_example("geometry.yaml", "bolt_circle_R5_n7")["value"].endswith("4.3388")
    assert _work(7, millimetres(10), rule)["chord"].magnitude == pytest.approx(4.3388, abs=5e-5)


@given(st.integers(2, 360), lengths)
def test_arcs_add_up_to_the_strip(divisions: int, diameter: Quantity) -> None:
    worked = _work(divisions, diameter, inches(1 / 32))
    assert worked["arc"].magnitude * divisions == pytest.approx(worked["strip"].magnitude)
    assert worked["strip"].magnitude == pytest.approx(math.pi * diameter.magnitude)
    assert math.degrees(worked["angle"].magnitude) == pytest.approx(360 / divisions)


@given(st.integers(2, 60), lengths)
def test_setting_is_a_mark_no_further_than_half_a_mark_from_the_chord(divisions: int, diameter: Quantity) -> None:
    rule = inches(1 / 32)
    worked = _work(divisions, diameter, rule)
    marks = worked["setting"].magnitude / rule.magnitude
    assert marks == pytest.approx(round(marks), abs=1e-9)
    assert abs(worked["setting"].magnitude - worked["chord"].magnitude) <= rule.magnitude / 2 * (1 + 1e-5)


@given(st.integers(3, 60), st.floats(20, 300).map(millimetres))
def test_closing_is_where_stepping_around_by_hand_arrives(divisions: int, diameter: Quantity) -> None:
    """Step by step around the circle, each step a chord of the setting."""
    worked = _work(divisions, diameter, inches(1 / 32))
    radius, setting = diameter.magnitude / 2, worked["setting"].magnitude
    turned = sum(math.acos(1 - setting**2 / (2 * radius**2)) for _ in range(divisions))
    assert worked["closing"].magnitude == pytest.approx(radius * (2 * math.pi - turned), abs=1e-6)


def test_steps_that_do_not_close_are_told_and_a_strip_offered(rule: Quantity) -> None:
    """7 divisions of 2 1/4 in: chord 0.9762 in, set to 31/32 in; 7 x 2 arcsin(0.96875/2.25) falls 0.058 in short."""
    worked = _work(7, inches(2.25), rule)
    assert worked["closing"].magnitude / 25.4 == pytest.approx(0.0581, abs=5e-5)
    told = [remark.text for remark in DIVISIONS.remarks(worked)]
    assert any("stop short by {|closing|} after" in text and "paper strip" in text for text in told)


def test_steps_that_end_past_the_first_mark_are_told_so(rule: Quantity) -> None:
    """12 divisions of 2 1/4 in: chord 2.25 sin 15° = 0.5823 in, set to 19/32 in; 12 x 2 arcsin(0.59375/2.25) is 0.14 in
    more than once around."""
    worked = _work(12, inches(2.25), rule)
    assert worked["closing"].magnitude / 25.4 == pytest.approx(-0.142, abs=5e-4)
    told = [remark.text for remark in DIVISIONS.remarks(worked)]
    assert any("overshoot by {|closing|} after" in text for text in told)


def test_steps_that_close_are_not_fussed_over(rule: Quantity) -> None:
    told = [remark.text for remark in DIVISIONS.remarks(_work(6, inches(2), rule))]
    assert not any("{|closing|}" in text for text in told)


@pytest.mark.parametrize(
    ("divisions", "serves"), [(7, "14 holes (count 2)"), (9, "36 holes (count 4)"), (14, "every one")]
)
def test_index_wheels_that_serve_are_named_with_their_count(divisions: int, serves: str, rule: Quantity) -> None:
    told = " ".join(remark.text for remark in DIVISIONS.remarks(_work(divisions, inches(2), rule)))
    assert serves in told


@pytest.mark.parametrize("divisions", [5, 6, 7, 8, 11, 13, 24, 50])
def test_wheels_said_to_serve_are_all_that_divide_evenly(divisions: int, rule: Quantity) -> None:
    told = " ".join(remark.text for remark in DIVISIONS.remarks(_work(divisions, inches(2), rule)))
    even = [wheel.holes for wheel in index_wheels() if wheel.holes % divisions == 0]
    if even:
        assert told.count(" holes (") == len(even)
        assert all(f"{holes} holes (" in told for holes in even)
    else:
        assert "None of the usual index wheels" in told
