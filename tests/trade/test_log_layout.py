"""A bowl laid out in a log, against handbook forms, sums by numpy, and what green wood is known to weigh."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from handouts_build.quantities import UNITS, Kind, Quantity, inches, millimetres, of_kind
from handouts_build.trade import CHAPTERS
from handouts_build.trade.log_layout import LOG_LAYOUT

POUNDS_A_CUBIC_FOOT = 0.45359237e3 / 304.8**3
"""Grams in a cubic millimetre; the pound and the foot are exact (NIST SP 811)."""


def _work(**more: Quantity) -> dict[str, Quantity]:
    usual = {"diameter": inches(10), "long": inches(9), "across": inches(7.75), "pith_clear": inches(0.5)}
    return LOG_LAYOUT.work(**{**usual, "kerf": inches(0.375), **more})


def _in(value: Quantity) -> float:
    return float(value.m_as("inch"))


def test_a_half_log_is_half_a_cylinder() -> None:
    """Sawn through the middle: area πR²/2, center of gravity 4R/3π over the face (handbooks of mechanics)."""
    worked = _work(pith_clear=inches(0))
    assert worked["end_grain"].m_as("inch**2") == pytest.approx(math.pi * 25 / 2)
    assert _in(worked["centroid"]) == pytest.approx(4 * 5 / (3 * math.pi))
    assert (_in(worked["height"]), _in(worked["face_wide"])) == pytest.approx((5, 10))


@pytest.mark.parametrize(
    ("high", "chord", "area"),
    # Circular segments of radius 1, as Machinery's Handbook tables them: from memory, by central angle 60°, 90°, 120°.
    [(0.13397, 1.0, 0.09059), (0.29289, 1.41421, 0.28540), (0.5, 1.73205, 0.61418)],
)
def test_a_segment_is_as_the_tables_of_segments_have_it(high: float, chord: float, area: float) -> None:
    worked = _work(diameter=inches(20), pith_clear=inches(10 * (1 - high)))
    assert _in(worked["height"]) == pytest.approx(10 * high, abs=1e-3)
    assert _in(worked["face_wide"]) == pytest.approx(10 * chord, abs=1e-3)
    assert worked["end_grain"].m_as("inch**2") == pytest.approx(100 * area, abs=0.01)


@given(st.floats(60, 600), st.floats(0, 0.95))
def test_area_and_center_are_those_of_strips_added_up(diameter: float, off: float) -> None:
    """The segment in 20,000 strips across, summed by numpy."""
    radius, face = diameter / 2, off * diameter / 2
    heights = face + (np.arange(20_000) + 0.5) / 20_000 * (radius - face)
    strips = 2 * np.sqrt(radius**2 - heights**2) * (radius - face) / 20_000
    worked = _work(diameter=millimetres(diameter), pith_clear=millimetres(face), across=millimetres(1))
    assert float(worked["end_grain"].magnitude) == pytest.approx(strips.sum(), rel=1e-4)
    center = (strips * heights).sum() / strips.sum() - face
    assert float(worked["centroid"].magnitude) == pytest.approx(center, rel=2e-4, abs=1e-6)


@given(st.floats(60, 600), st.floats(0, 0.5), st.floats(0.1, 0.99))
def test_the_rim_lies_in_the_bark(diameter: float, off: float, share: float) -> None:
    """At each angle the point (r cos θ, r sin θ, height) is a radius of the log away from the log's middle."""
    radius, face = diameter / 2, off * diameter / 2
    rim = share * math.sqrt(radius**2 - face**2)
    worked = _work(diameter=millimetres(diameter), pith_clear=millimetres(face), across=millimetres(2 * rim))
    for name, degrees in (("height", 0), ("halfway", 45), ("saddle", 90)):
        up = float(worked[name].magnitude) + face
        assert math.hypot(rim * math.sin(math.radians(degrees)), up) == pytest.approx(radius)
    assert worked["drop"].magnitude == pytest.approx((worked["height"] - worked["saddle"]).magnitude)


@given(st.floats(60, 600), st.floats(0, 0.5), st.floats(0.05, 0.9))
def test_the_largest_bowl_is_as_low_as_may_be_at_its_low_sides(diameter: float, off: float, low: float) -> None:
    radius, face = diameter / 2, off * diameter / 2
    least = low * (radius - face)
    usual = {"diameter": millimetres(diameter), "pith_clear": millimetres(face), "low": millimetres(least)}
    largest = _work(**usual, long=millimetres(2 * diameter), across=millimetres(1))["largest"]
    assume(largest.magnitude > 1)
    assert _work(**usual, across=largest)["saddle"].m_as("mm") == pytest.approx(least, abs=1e-6)
    assert _work(**usual, long=largest / 2, across=millimetres(1))["largest"] == largest / 2


@pytest.mark.parametrize(
    ("wood", "gravity", "moisture", "pounds"),
    # Green weights as the trade's tables print them, pounds a cubic foot (USDA "Weights of Various Woods Grown in the
    # United States", FPL-0218: from memory): black cherry 45, sugar maple 56, northern red oak 63, black walnut 58.
    [
        ("cherry", 0.47, 58, 45), ("sugar maple", 0.56, 65, 56), ("northern red oak", 0.56, 80, 63),
        ("walnut", 0.51, 90, 58),
    ],
)  # fmt: skip
def test_a_green_half_log_weighs_what_the_tables_say(wood: str, gravity: float, moisture: float, pounds: int) -> None:
    """By specific gravity and green moisture (Wood Handbook FPL-GTR-282, tables 5-3 and 4-1, eq. 4-14), within 5 %."""
    density = CHAPTERS["wood"].work(
        specific_gravity=of_kind(gravity, Kind.NUMBER), green_moisture=of_kind(moisture, Kind.NUMBER)
    )
    weight = _work(pith_clear=inches(0), density=density["green_density"])["weight"]
    cubic_mm = math.pi / 2 * (5 * 25.4) ** 2 * 9 * 25.4
    assert weight.m_as("g") == pytest.approx(pounds * POUNDS_A_CUBIC_FOOT * cubic_mm, rel=0.05), wood


def test_the_start_is_the_speed_chapters() -> None:
    worked = _work(sawn_round=inches(8.25), off_center=inches(0.125))
    swing = {"diameter": inches(8.5)}
    assert worked["start"] == CHAPTERS["speed"].work(**swing)["start"]
    assert worked["corner_start"] < worked["start"]


def test_what_is_off_center_pulls_as_on_any_wheel() -> None:
    """e ω²/g: 1/8 in at 350 rpm, ω = 36.65 rad/s, so 4.265 m/s², which is 0.435 g. Worked by hand."""
    worked = _work(sawn_round=inches(8.25), off_center=inches(0.125))
    assert worked["start"].m_as(UNITS["rpm"]) == pytest.approx(350)
    assert float(worked["pull"].magnitude) == pytest.approx(0.4349, abs=2e-4)


def test_the_saw_line_leaves_the_face_where_it_is_wanted() -> None:
    """Half the kerf goes on each side of the line."""
    worked = _work(pith_clear=inches(0.5), pith_off=inches(0.25))
    assert _in(worked["saw_line"]) + 0.375 / 2 == pytest.approx(0.75)
