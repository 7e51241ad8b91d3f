"""Snap fits, against a ring laid out straight and the section of the bead that the workpiece turns."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.quantities import Quantity, inches, millimetres
from handouts_build.trade.snap_fit import SNAP_FIT


def _work(mouth: float, stands: float, wide: float, play: float, **more: Quantity) -> dict[str, Quantity]:
    return SNAP_FIT.work(
        mouth=millimetres(mouth), stands=millimetres(stands), wide=millimetres(wide), play=millimetres(play),
        rule=inches(1 / 32), **more,
    )  # fmt: skip


def test_a_small_box_worked_by_hand() -> None:
    """Mouth 44 mm, play 0.1, bead 0.2 high: 43.9 beside it, 44.3 over it, 0.3 mm or 0.68 percent to give."""
    found = _work(44, 0.2, 1.6, 0.1, outside=millimetres(60))
    assert found["spigot"].m_as("mm") == pytest.approx(43.9)
    assert found["bead"].m_as("mm") == pytest.approx(44.3)
    assert found["over"].m_as("mm") == pytest.approx(0.3)
    assert found["stretch"].magnitude == pytest.approx(0.6818, abs=1e-4)
    assert found["groove"].m_as("mm") == pytest.approx(44.4)
    assert found["behind"].m_as("mm") == pytest.approx(7.8)


@given(st.floats(20, 120), st.floats(0.15, 0.6), st.floats(1, 5))
def test_the_stretch_is_that_of_the_circumference(mouth: float, stands: float, wide: float) -> None:
    found = _work(mouth, stands, wide, 0.1)
    around, wider = math.pi * mouth, math.pi * found["bead"].m_as("mm")
    assert found["stretch"].magnitude == pytest.approx(100 * (wider - around) / around)


@given(st.floats(0.15, 0.6), st.floats(1, 5), st.floats(0.1, 0.9))
def test_the_slope_is_that_of_the_bead_where_the_lid_meets_it(stands: float, wide: float, share: float) -> None:
    """The half ellipse that the workpiece turns, its slope taken between two near points by numpy."""
    play = 2 * stands * share
    turn = np.linspace(0, math.pi / 2, 200_001)
    along, out = -wide / 2 * np.cos(turn), stands * np.sin(turn)
    met = int(np.searchsorted(out, play / 2))
    slope = math.atan2(out[met + 1] - out[met - 1], along[met + 1] - along[met - 1])
    found = _work(50, stands, wide, play)
    assert found["entry"].magnitude == pytest.approx(slope, abs=1e-3)
