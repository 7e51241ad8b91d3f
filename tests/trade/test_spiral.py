"""Spirals, against screw thread geometry, a second way of measuring a helix, and a grid drawn by steps."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from strategies_trade import lengths

from handouts_build.quantities import Quantity, count, inches, millimetres
from handouts_build.trade import CHAPTERS
from handouts_build.trade.spiral import SPIRAL


def _work(diameter: Quantity, pitch: Quantity, *, long: Quantity | None = None, strands: int = 1, lines: int = 4):
    return SPIRAL.work(
        diameter=diameter, pitch=pitch, long=long or pitch, strands=count(strands), lines=count(lines),
        rule=inches(1 / 32),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("lead", "diameter", "degrees"),
    # Lead angles at the pitch diameter of ISO metric coarse threads (ISO 724: M6 5.350, M10 9.026, M20 18.376 mm),
    # as in Machinery's Handbook: from memory, 3° 24', 3° 2' and 2° 29'.
    [(1.0, 5.350, 3 + 24 / 60), (1.5, 9.026, 3 + 2 / 60), (2.5, 18.376, 2 + 29 / 60)],
)
def test_the_angle_is_the_lead_angle_of_a_screw(lead: float, diameter: float, degrees: float) -> None:
    found = _work(millimetres(diameter), millimetres(lead))["angle"]
    assert math.degrees(found.magnitude) == pytest.approx(degrees, abs=0.01)


@given(lengths, st.floats(5, 200).map(millimetres), st.floats(0.2, 6))
def test_a_strand_is_as_long_as_the_curve_in_space(diameter: Quantity, pitch: Quantity, turns: float) -> None:
    """The curve (r cos t, r sin t, p t / 2π), summed by numpy over short chords."""
    worked = _work(diameter, pitch, long=pitch * turns)
    t = np.linspace(0, 2 * math.pi * turns, 20001)
    r, p = diameter.magnitude / 2, pitch.magnitude
    points = np.stack([r * np.cos(t), r * np.sin(t), p * t / (2 * math.pi)])
    assert worked["turns"].magnitude == pytest.approx(turns)
    assert worked["strip"].magnitude == pytest.approx(np.linalg.norm(np.diff(points, axis=1), axis=0).sum(), rel=1e-5)


@given(lengths, st.floats(5, 200).map(millimetres), st.integers(1, 8), st.integers(1, 8))
def test_on_the_grid_a_strand_climbs_one_ring_for_every_line(
    diameter: Quantity, pitch: Quantity, strands: int, times: int
) -> None:
    lines = max(2, strands * times)
    worked = _work(diameter, pitch, strands=strands, lines=lines)
    assert worked["ring"].magnitude * lines == pytest.approx(pitch.magnitude)
    assert worked["line"].magnitude * lines == pytest.approx(math.pi * diameter.magnitude)
    assert math.tan(worked["angle"].magnitude) == pytest.approx(worked["ring"].magnitude / worked["line"].magnitude)
    # The nearest point of the next strand, found by trying: the least distance between two parallel lines.
    around = np.linspace(-2, 2, 8001) * math.pi * diameter.magnitude
    along = around * pitch.magnitude / (math.pi * diameter.magnitude) + pitch.magnitude / strands
    assert worked["across"].magnitude == pytest.approx(np.hypot(around, along).min(), rel=1e-3, abs=1e-2)


def test_a_double_twist_of_the_usual_proportions() -> None:
    """Two strands, 2 in through, 4 in of pitch on 8 lines: grid of 0.785 by 1/2 in. Worked by hand."""
    worked = _work(inches(2), inches(4), strands=2, lines=8)
    assert worked["line"].m_as("inch") == pytest.approx(0.7854, abs=1e-4)
    assert worked["ring"].m_as("inch") == pytest.approx(0.5)
    assert worked["between"].m_as("inch") == pytest.approx(2)
    assert math.degrees(worked["angle"].magnitude) == pytest.approx(32.48, abs=0.01)
    assert worked["across"].m_as("inch") == pytest.approx(1.687, abs=1e-3)
    says = [remark.text for remark in CHAPTERS["spiral"].remarks({**worked, "strands": count(2), "lines": count(8)})]
    assert says[-1] == "The {strands} strands begin at every 4th line."


def test_strands_that_begin_between_the_lines_are_minded() -> None:
    given_ = {"strands": count(3), "lines": count(8), "diameter": inches(2), "pitch": inches(4), "long": inches(8)}
    (demand,) = [one for one in SPIRAL.demands if one.level == "mind"]
    assert not demand.met(given_)
    assert demand.met({**given_, "lines": count(9)})
