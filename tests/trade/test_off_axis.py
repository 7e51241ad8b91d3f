"""Off-axis sections, against a scan of the overlapping circles and against the solid that is turned."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.quantities import Quantity, count, inches, millimetres
from handouts_build.trade.off_axis import OFF_AXIS
from handouts_build.workpiece import Cylinder, OffsetCenters, Round, WorkStep, carry


def _work(centers: int, blank: float, offset: float, diameter: float) -> dict[str, Quantity]:
    return OFF_AXIS.work(
        centers=count(centers), blank=millimetres(blank), offset=millimetres(offset), diameter=millimetres(diameter),
        rule=inches(1 / 32),
    )  # fmt: skip


def test_three_faces_worked_by_hand() -> None:
    """2 1/4 in round, centers 5/8 in off, 2 1/2 in about each: with 2R = 2.5 and e = 0.625 the edge solves
    r² + e r + e² = R², so r = (√(4R² − 3e²) − e)/2 = (2.2535 − 0.625)/2 in."""
    found = _work(3, 57.15, 15.875, 63.5)
    assert found["swing"].m_as("inch") == pytest.approx(3.5)
    assert found["solid"].m_as("inch") == pytest.approx(1.0)
    assert found["face"].m_as("inch") == pytest.approx(0.625)
    assert found["edge"].m_as("inch") == pytest.approx(0.8142, abs=1e-4)


@given(st.integers(2, 8), st.floats(1, 20), st.floats(1.1, 4))
def test_faces_and_edges_lie_on_the_circles_that_overlap(centers: int, offset: float, times: float) -> None:
    """The nearest and the farthest point of a ray scan of the overlap: every circle asked at every angle."""
    radius = offset * times
    found = _work(centers, 200.0, offset, 2 * radius)
    sides = 360 * centers
    reaches = []
    for side in range(sides):
        turn = math.tau * side / sides
        reaches.append(
            min(
                offset * math.cos(turn - math.tau * each / centers)
                + math.sqrt(radius**2 - (offset * math.sin(turn - math.tau * each / centers)) ** 2)
                for each in range(centers)
            )
        )
    assert found["face"].m_as("mm") == pytest.approx(min(reaches), rel=1e-9)
    assert found["edge"].m_as("mm") == pytest.approx(max(reaches), rel=1e-9)


def test_the_solid_shows_the_same_faces_the_same_swing_and_the_same_air() -> None:
    """Turned for real between centers set off by as much: the kernel measures, the chapter computes."""
    found = _work(1, 60.0, 12.0, 54.0)
    step = WorkStep(
        name="face", holds=(OffsetCenters(offset_mm=12.0),), cuts=(Cylinder(name="face", diameter_mm=54.0),)
    )
    stage = carry(Round(diameter_mm=60, long_mm=80), (step,), segments=256)[-1]
    xs = stage.wood.vertices[:, 0]
    assert xs.min() == pytest.approx(-found["face"].m_as("mm"), abs=0.05)
    assert 2 * stage.radius_before_mm == pytest.approx(found["swing"].m_as("mm"), rel=1e-3)
    assert 100 * stage.air[0].last == pytest.approx(found["air"].magnitude, abs=1.5)
