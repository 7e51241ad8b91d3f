"""Threads, against the basic profile of ISO 68-1 and tables of metric and unified sizes, and a section drawn by hand.

The tables are from memory, and so is the profile they rest on: ISO 724 (metric, basic major, pitch and
minor diameters), ASME B1.1 (unified; basic pitch and minor diameters, inches). They were not looked up again.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.quantities import Quantity, count, inches, millimetres
from handouts_build.trade.threads import THREADS


def _work(diameter: Quantity, **more: Quantity) -> dict[str, Quantity]:
    return THREADS.work(diameter=diameter, rule=inches(1 / 32), **more)


@pytest.mark.parametrize(
    ("major", "pitch", "middle", "minor"),
    # ISO 724, the coarse series of ISO 261 and two fine pitches: from memory.
    [
        (6, 1.0, 5.350, 4.917),
        (10, 1.5, 9.026, 8.376),
        (12, 1.75, 10.863, 10.106),
        (20, 2.5, 18.376, 17.294),
        (36, 4.0, 33.402, 31.670),
        (20, 1.5, 19.026, 18.376),
        (30, 2.0, 28.701, 27.835),
    ],
)
def test_a_metric_thread_has_the_diameters_of_the_table(
    major: float, pitch: float, middle: float, minor: float
) -> None:
    found = _work(millimetres(major), pitch=millimetres(pitch))
    assert found["middle"].m_as("mm") == pytest.approx(middle, abs=6e-4)
    assert found["hole"].m_as("mm") == pytest.approx(minor, abs=6e-4)


@pytest.mark.parametrize(
    ("major", "threads", "middle", "minor"),
    # ASME B1.1, UNC 1/4-20, 1/2-13, 3/4-10, 1-8 and UN 1 1/2-16: basic pitch and minor diameters, from memory.
    [
        (0.25, 20, 0.2175, 0.1959),
        (0.5, 13, 0.4500, 0.4167),
        (0.75, 10, 0.6850, 0.6417),
        (1.0, 8, 0.9188, 0.8647),
        (1.5, 16, 1.4594, 1.4323),
    ],
)
def test_an_inch_thread_has_the_diameters_of_the_table(major: float, threads: int, middle: float, minor: float) -> None:
    found = _work(inches(major), per_inch=count(threads))
    assert found["middle"].m_as("inch") == pytest.approx(middle, abs=6e-5)
    assert found["hole"].m_as("inch") == pytest.approx(minor, abs=6e-5)


@given(st.floats(20, 200), st.floats(0.5, 4))
def test_the_profile_is_an_equilateral_triangle_with_its_ends_cut_off(diameter: float, pitch: float) -> None:
    """An eighth of its height is cut off the ridge and a quarter off the valley: what is left is the depth."""
    found = _work(millimetres(diameter), pitch=millimetres(pitch))
    height = pitch * math.sin(math.radians(60))
    assert found["depth"].m_as("mm") == pytest.approx(height - height / 8 - height / 4)
    assert (found["spigot"] - found["core"]).m_as("mm") == pytest.approx(2 * found["depth"].m_as("mm"))


def test_the_threads_of_a_small_box() -> None:
    """2 in across, 16 to the inch, two starts, 1/4 in of thread in thread. Worked by hand."""
    found = _work(inches(2), per_inch=count(16), starts=count(2), engaged=inches(0.25), outside=inches(2.5))
    assert found["pitch"].m_as("inch") == pytest.approx(0.0625)
    assert found["lead"].m_as("inch") == pytest.approx(0.125)
    assert found["turns"].magnitude == pytest.approx(2)
    assert found["hole"].m_as("inch") == pytest.approx(2 - 1.25 * 0.0625 * 0.866025, abs=1e-5)
    assert found["spigot"].m_as("inch") == pytest.approx(1.984375)
    assert found["behind"].m_as("inch") == pytest.approx(0.25)
    assert found["facing"].m_as("inch") == pytest.approx(1 / 64)
    # Lead over the way around at the pitch diameter.
    assert math.degrees(found["angle"].magnitude) == pytest.approx(
        math.degrees(math.atan(0.125 / (math.pi * 1.9594))), abs=0.01
    )
