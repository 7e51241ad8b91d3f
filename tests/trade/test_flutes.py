"""Flutes laid out, against screw thread geometry, chord tables, a helix summed by numpy, and the solid itself.

The lead angles are those of ISO metric coarse threads (ISO 724) as in Machinery's Handbook, from memory; the chord for
a circle of 1 is that of the tables of shop handbooks, sin(180°/n), as kept in tests/reference.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.quantities import Quantity, count, inches, millimetres
from handouts_build.trade.flutes import FLUTES
from handouts_build.workpiece import Flutes, InHand, Round, WorkStep, carry


def _work(
    diameter: float, bit: float, deep: float, *, number: int = 12, long: float = 100.0, turns: float = 0.0
) -> dict[str, Quantity]:
    return dict(
        FLUTES.work(
            count=count(number), diameter=millimetres(diameter), bit=millimetres(bit), deep=millimetres(deep),
            long=millimetres(long), turns=count(turns), rule=inches(1 / 32),
        )
    )  # fmt: skip


@pytest.mark.parametrize(
    ("lead", "diameter", "degrees"), [(1.0, 5.350, 3 + 24 / 60), (1.5, 9.026, 3 + 2 / 60), (2.5, 18.376, 2 + 29 / 60)]
)
def test_a_whole_turn_leans_as_a_screw_thread_does(lead: float, diameter: float, degrees: float) -> None:
    """A thread's lead angle is told from the ring, a flute's from the axis."""
    found = _work(diameter, 1.0, 0.1, number=1, long=lead, turns=1.0)["steep"]
    assert 90 - math.degrees(found.magnitude) == pytest.approx(degrees, abs=0.01)


@pytest.mark.parametrize(("number", "chord"), [(6, 0.5), (8, 0.382683), (12, 0.258819), (24, 0.130526)])
def test_the_spacing_is_the_chord_of_the_tables(number: int, chord: float) -> None:
    """Chords of a circle of 1: shop spacing table."""
    assert _work(100, 6, 1, number=number)["chord"].magnitude == pytest.approx(100 * chord, abs=1e-3)


@given(st.floats(10, 200), st.floats(20, 400), st.floats(0, 4))
def test_a_flute_is_as_long_as_the_curve_in_space(diameter: float, long: float, turns: float) -> None:
    """The curve (r cos t, r sin t, p t / 2π), summed by numpy over short chords."""
    found = _work(diameter, diameter / 10, diameter / 50, long=long, turns=turns)
    t = np.linspace(0, 2 * math.pi * turns, 20001)
    points = np.stack([diameter / 2 * np.cos(t), diameter / 2 * np.sin(t), np.linspace(0, long, 20001)])
    summed = float(np.linalg.norm(np.diff(points, axis=1), axis=0).sum())
    assert found["way"].magnitude == pytest.approx(summed, rel=1e-5)


@given(st.floats(20, 100), st.floats(0.05, 0.3), st.floats(0.1, 0.45))
def test_where_a_straight_flute_opens_both_circles_meet(diameter: float, share: float, sunk: float) -> None:
    bit = diameter * share
    deep = bit * sunk
    found = _work(diameter, bit, deep)
    edge = diameter / 2 * np.array([math.cos(found["half"].magnitude), math.sin(found["half"].magnitude)])
    middle = np.array([diameter / 2 - deep + bit / 2, 0.0])
    assert float(np.linalg.norm(edge - middle)) == pytest.approx(bit / 2, rel=1e-6)
    assert found["wide"].magnitude == pytest.approx(2 * edge[1], rel=1e-6)
    assert found["land"].magnitude == pytest.approx(
        math.pi * diameter / 12 - diameter * found["half"].magnitude, rel=1e-6, abs=1e-6
    )


@pytest.mark.parametrize(("turns", "number"), [(0.0, 12), (0.25, 10), (0.5, 8)])
def test_the_solid_shows_the_same_land(turns: float, number: int) -> None:
    """The least wood between two flutes of the solid is the chord over the land; an eighth of a millimetre in all."""
    found = _work(50, 8, 2, number=number, long=90, turns=turns)
    cut = Flutes(
        name="flutes", count=number, diameter_mm=8, deep_mm=2, start_mm=5, end_mm=95,
        pitch_mm=90 / turns if turns else None,
    )  # fmt: skip
    step = WorkStep(name="carve", holds=(InHand(),), cuts=(cut,))
    webs = carry(Round(diameter_mm=50, long_mm=100), (step,))[-1].webs
    between = next(web for web in webs if "the outside" not in web.names)
    assert between.left_mm == pytest.approx(found["land"].magnitude, abs=0.3)
