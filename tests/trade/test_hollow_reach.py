"""Reaching through a mouth, against drawn-out examples and a beam summed by numpy."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.quantities import Quantity, inches, millimetres
from handouts_build.trade.hollow_reach import HOLLOW_REACH


def _work(**given_: Quantity) -> dict[str, Quantity]:
    return HOLLOW_REACH.work(**{"rest": inches(0.5), **given_}, rule=inches(1 / 32))


def test_a_small_hollow_form_worked_by_hand() -> None:
    """Mouth 1 1/4, widest 3, deep 3 1/2, bar 1/2 in: the bar's middle is 3/8 in off the axis, the wall 1 1/2 in."""
    found = _work(mouth=inches(1.25), inside=inches(3), deep=inches(3.5), bar=inches(0.5))
    assert found["overhang"].m_as("inch") == pytest.approx(4)
    assert found["times"].magnitude == pytest.approx(8)
    assert found["reach"].m_as("inch") == pytest.approx(1.5 - 3 / 8)
    assert found["tool_wide"].m_as("inch") == pytest.approx(1.5 - 3 / 8 + 1 / 4)


@given(st.floats(20, 300), st.floats(5, 60))
def test_the_bar_bends_as_a_beam_held_at_the_rest(deep: float, rest: float) -> None:
    """Euler-Bernoulli: the slope is the sum of M/EI along the bar, the deflection the sum of the slope."""

    def deflection(long: float) -> float:
        along = np.linspace(0.0, long, 4001)
        step = along[1]
        bent = long - along
        slope = np.concatenate([[0.0], np.cumsum((bent[1:] + bent[:-1]) / 2 * step)])
        return float(np.sum((slope[1:] + slope[:-1]) / 2 * step))

    found = _work(
        mouth=millimetres(30), inside=millimetres(70), deep=millimetres(deep), bar=millimetres(12),
        rest=millimetres(rest),
    )  # fmt: skip
    assert found["bends"].magnitude == pytest.approx(deflection(deep + rest) / deflection(deep / 2 + rest), rel=1e-5)


@given(st.floats(20, 60), st.floats(60, 200), st.floats(6, 19))
def test_the_tip_touches_the_widest_place_while_the_bar_touches_the_mouth(
    mouth: float, inside: float, bar: float
) -> None:
    found = _work(mouth=millimetres(mouth), inside=millimetres(inside), deep=millimetres(90), bar=millimetres(bar))
    middle = mouth / 2 - bar / 2
    assert middle + found["reach"].m_as("mm") == pytest.approx(inside / 2)
