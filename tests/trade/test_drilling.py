"""Drilling, against the geometry of the bit and by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.quantities import count, inches, millimetres
from handouts_build.trade.drilling import DRILLING, bites, speed


@pytest.mark.parametrize(
    ("bit_in", "expected"), [(0.125, 1500), (0.25, 1500), (0.5, 1000), (1, 500), (2, 250), (3, 160)]
)
def test_speed_falls_as_the_bit_grows(bit_in: float, expected: float) -> None:
    """500 in × rpm and never over 1500 rpm: common practice, no published source."""
    assert speed(bit=inches(bit_in)).magnitude == expected


def test_point_of_a_twist_bit_is_three_tenths_of_its_diameter() -> None:
    """118° point: 0.5 / tan 59° = 0.3004 of the diameter, the workshop figure 0.3 d."""
    worked = DRILLING.work(bit=millimetres(10), depth=millimetres(20))
    assert worked["point_long"].magnitude == pytest.approx(3.0, abs=0.05)
    assert worked["stop_depth"].magnitude == pytest.approx(20 + 5 / math.tan(math.radians(59)))


def test_depth_bites_sittings_and_wood_left_by_hand() -> None:
    worked = DRILLING.work(
        bit=inches(1), depth=inches(3), point_long=inches(1 / 8), wood_length=inches(4), part=inches(2),
        travel=inches(2.5), bite=inches(1 / 2),
    )  # fmt: skip
    assert worked["stop_depth"].magnitude == pytest.approx(25.4 * 3.125)
    assert worked["left"].magnitude == pytest.approx(25.4 * 0.875)
    assert worked["wall"].magnitude == pytest.approx(25.4 * 0.5)
    assert worked["bites"].magnitude == 6
    assert worked["sittings"].magnitude == 2
    assert worked["deep"].magnitude == pytest.approx(3)


def test_breaking_through_calls_for_backing() -> None:
    through = DRILLING.work(bit=inches(1 / 2), depth=inches(2), wood_length=inches(2))
    short = DRILLING.work(bit=inches(1 / 2), depth=inches(1), wood_length=inches(2))
    assert any("back the far side" in one.text for one in DRILLING.remarks(through))
    assert not any("back the far side" in one.text for one in DRILLING.remarks(short))


@given(st.floats(1, 50), st.floats(1, 300))
def test_bites_reach_the_depth_and_no_bite_is_wasted(bite: float, depth: float) -> None:
    found = bites(depth=millimetres(depth), bite=millimetres(bite))
    assert found.units == count(1).units
    assert (found.magnitude - 1) * bite < depth * (1 + 1e-6)
    assert found.magnitude * bite >= depth * (1 - 1e-5)


def test_a_bit_that_is_not_named_is_said_to_be_a_twist_bit() -> None:
    told = [each.text for each in DRILLING.remarks(DRILLING.work(bit=inches(1 / 2), depth=inches(2)))]
    assert any("twist bit ground to 118°" in text for text in told)
    spade = DRILLING.work(bit=inches(1), depth=inches(2), point_share=count(0), point_stands=millimetres(12))
    assert not any("118°" in each.text for each in DRILLING.remarks(spade))
