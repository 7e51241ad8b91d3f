"""Speeds, against the definition of rim speed, the printed tables and the rules as published."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.quantities import UNITS, Quantity, inches, millimetres, quantity
from handouts_build.trade import LookupResult
from handouts_build.trade.speed import OPERATIONS, SPEED, high, rim, start

Rows = Callable[[str], list[dict[str, str]]]


def rpm(value: float) -> Quantity:
    return quantity(value, "rpm")


def feet_a_minute(speed: Quantity) -> float:
    return float(speed.m_as(UNITS["ft"] / UNITS["min"]))


def manual(operation: str, diameter: Quantity) -> LookupResult:
    (word,) = SPEED.words
    return word.look_up((operation,), {"diameter": diameter})


@pytest.mark.parametrize(
    ("diameter_in", "turns", "expected_ft_min"),
    [
        # Northcott 1876 as quoted: 2000 ft/min is 7639 in × rpm.
        (1, 7639.4, 2000),
        (10, 763.94, 2000),
        # The rule of thumb, 6000 and 9000 in × rpm, in the same source's conversion: 1571 and 2356 ft/min.
        (6, 1000, 1571),
        (9, 1000, 2356),
        # v[ft/min] = π D[in] n / 12, by hand: π × 12 × 500 / 12.
        (12, 500, 1570.8),
    ],
)
def test_rim_speed_is_that_of_the_quoted_conversions(diameter_in: float, turns: float, expected_ft_min: float) -> None:
    found = feet_a_minute(rim(diameter=inches(diameter_in), rpm=rpm(turns)))
    assert found == pytest.approx(expected_ft_min, abs=0.5)


def test_rim_speed_in_metric_is_pi_d_n_over_1000() -> None:
    """v[m/min] = π D[mm] n / 1000: 200 mm at 1000 rpm is 628.3 m/min."""
    found = rim(diameter=millimetres(200), rpm=rpm(1000))
    assert found.m_as(UNITS["m"] / UNITS["min"]) == pytest.approx(628.3, abs=0.05)


@pytest.mark.parametrize(
    ("diameter_in", "begin", "most"), [(3, 1000, 3000), (4, 750, 2250), (6, 500, 1500), (8, 370, 1125), (12, 250, 750)]
)
def test_diameter_times_rpm_is_at_most_9000_and_3000_to_start(diameter_in: float, begin: float, most: float) -> None:
    """Common practice, no published source."""
    assert start(diameter=inches(diameter_in)).magnitude == begin
    assert high(diameter=inches(diameter_in)).magnitude == most


def test_small_work_goes_no_faster_than_the_school_book_of_1919_has_it() -> None:
    """Milton and Wohlers 1919: 2400 to 3000 rpm is the fastest it names, up to 3 in."""
    for diameter in (0.25, 1, 2, 3):
        assert high(diameter=inches(diameter)).magnitude == 3000


def test_every_line_of_the_lathe_manual_reaches_the_sheet(published_rows: Rows) -> None:
    """lathe_speeds.csv: operator manual of a bench lathe, VERIFIED; 5 diameters, 3 cuts, at both ends of each line."""
    checked = 0
    for row in published_rows("lathe_speeds.csv"):
        for diameter in (float(row["dia_over_mm"]) + 0.1, float(row["dia_to_mm"])):
            for operation in OPERATIONS:
                looked = manual(operation, millimetres(diameter))
                worked = SPEED.work(diameter=millimetres(diameter), **looked.values)
                assert worked["manual"].magnitude == float(row[f"{operation}_rpm"]), row
                checked += 1
    assert checked == 30


def test_past_the_manuals_swing_no_speed_is_made_up() -> None:
    looked = manual("roughing", millimetres(321))
    assert not looked.values
    assert [verdict.level for verdict in looked.verdicts] == ["note"]


def test_a_working_of_speed_names_no_speed_but_what_bounds_it() -> None:
    """One speed a step is the author's: a rule or a printed table only says what it must not exceed."""
    for diameter in (2, 5, 8):
        for remark in SPEED.remarks(SPEED.work(diameter=inches(diameter))):
            assert "rpm" not in remark.text.replace("times rpm", "") or "at most" in remark.text


def test_an_unbalanced_blank_starts_at_a_third_and_weak_work_turns_at_half() -> None:
    """Common practice, no published source."""
    worked = SPEED.work(diameter=inches(10))
    assert (worked["start"].magnitude, worked["weak"].magnitude, worked["high"].magnitude) == (300, 450, 900)


@given(st.floats(76.2, 1000), st.floats(1.1, 4))
def test_bounds_fall_as_the_diameter_grows(diameter: float, factor: float) -> None:
    small, large = SPEED.work(diameter=millimetres(diameter)), SPEED.work(diameter=millimetres(diameter * factor))
    for name in ("high", "start", "weak"):
        assert large[name].magnitude <= small[name].magnitude


@given(st.floats(76.2, 1000))
def test_rounded_bounds_keep_to_the_slow_side(diameter: float) -> None:
    """Within a step of the exact rule, and never over it."""
    for law, product, step in ((start, 3000, 10), (high, 9000, 1)):
        exact = product * 25.4 / diameter
        assert exact - step <= law(diameter=millimetres(diameter)).magnitude <= exact * (1 + 1e-6)
