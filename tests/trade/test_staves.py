"""Tapered staves, against printed compound angles and the vectors of sloping faces."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.quantities import UNITS, Quantity, count, degrees, inches, millimetres
from handouts_build.trade.staves import STAVES, TAPER, TILT

CROWN = ((4, 38.0, 31.62, 33.86), (4, 45.0, 35.26, 30.00), (4, 52.0, 38.24, 25.81))
"""Crown molding at a square corner, as manuals of compound miter saws print it, from memory: sides of the room, slope
of the molding from the wall, miter, blade tilt. At 52 degrees the two are worked by hand with the same rule."""


@pytest.mark.parametrize(("sides", "slope", "miter", "tilt"), CROWN)
def test_angles_are_those_printed_for_crown_molding(sides: int, slope: float, miter: float, tilt: float) -> None:
    given_ = {"pieces": count(sides), "slope": degrees(slope)}
    assert TAPER(**given_).m_as(UNITS["deg"]) == pytest.approx(miter, abs=0.006)
    assert TILT(**given_).m_as(UNITS["deg"]) == pytest.approx(tilt, abs=0.006)


def _work(pieces: int, bottom: float, top: float, high: float, thick: float, **more: Quantity) -> dict[str, Quantity]:
    return STAVES.work(
        pieces=count(pieces), bottom=millimetres(bottom), top=millimetres(top), high=millimetres(high),
        thick=millimetres(thick), rule=inches(1 / 32), **more,
    )  # fmt: skip


@given(st.integers(3, 40), st.floats(40, 300), st.floats(40, 300), st.floats(30, 400))
def test_a_stave_is_the_face_of_its_pyramid(pieces: int, bottom: float, top: float, high: float) -> None:
    """Corners of the two polygons give the face; its normal and its neighbor's give the angle between them."""
    worked = _work(pieces, bottom, top, high, 5.0)
    corners = []
    for across, place in ((bottom, 0.0), (top, high)):
        radius = across / 2 / math.cos(math.pi / pieces)
        angles = [math.pi * (2 * corner + 1) / pieces for corner in range(3)]
        corners.append([np.array([radius * math.cos(one), radius * math.sin(one), place]) for one in angles])
    low, up = corners
    first = np.cross(low[1] - low[0], up[0] - low[0])
    second = np.cross(low[2] - low[1], up[1] - low[1])
    cos = float(first @ second) / float(np.linalg.norm(first) * np.linalg.norm(second))
    assert worked["tilt"].m_as(UNITS["rad"]) == pytest.approx(math.acos(min(1.0, cos)) / 2, abs=1e-6)
    along = (up[0] + up[1] - low[0] - low[1]) / 2
    edge = up[0] - low[0]
    lean = float(along @ edge) / float(np.linalg.norm(along) * np.linalg.norm(edge))
    assert worked["taper"].m_as(UNITS["rad"]) == pytest.approx(math.acos(min(1.0, lean)), abs=1e-6)
    assert worked["long"].m_as("mm") == pytest.approx(float(np.linalg.norm(along)))
    ends = sorted([float(np.linalg.norm(low[1] - low[0])), float(np.linalg.norm(up[1] - up[0]))])
    assert [worked[name].m_as("mm") for name in ("narrow_end", "wide_end")] == pytest.approx(ends)


@given(st.integers(3, 60), st.floats(60, 300), st.floats(50, 300))
def test_a_tube_that_does_not_taper_is_the_straight_one(pieces: int, across: float, high: float) -> None:
    worked = _work(pieces, across, across, high, 5.0)
    assert worked["tilt"].m_as(UNITS["deg"]) == pytest.approx(180 / pieces)
    assert worked["taper"].m_as(UNITS["deg"]) == pytest.approx(0, abs=1e-9)
    assert worked["long"].m_as("mm") == pytest.approx(high)
    assert worked["opening"].m_as("mm") == pytest.approx(across - 10)


def test_a_base_fills_the_opening_and_its_groove() -> None:
    """Half way up a tube of 100 and 140 mm the outside is 120 mm, the level wall 10 / cos θ, the groove 3 mm deep."""
    worked = _work(10, 100, 140, 200, 10.0, up=millimetres(100), deep=millimetres(3))
    level = 10 / math.cos(math.atan(20 / 200))
    assert worked["base"].m_as("mm") == pytest.approx(120 - 2 * level + 6)
    assert "base" not in _work(10, 100, 140, 200, 10.0)


def test_a_base_gets_the_room_that_its_wood_takes_by_published_moisture_and_movement() -> None:
    """White oak changes by 0.00365 of its width along the rings for 1 percent (Wood Handbook, Table 13-5), and settles
    at 7.7 percent in air of 40 percent and at 12.0 in air of 65, at 70 °F (Table 4-2)."""
    worked = _work(
        10, 100, 140, 200, 10.0, up=millimetres(100), deep=millimetres(3), base_movement=count(0.00365),
        humidity_from=count(40), humidity_to=count(65),
    )  # fmt: skip
    wide = worked["base"].m_as("mm")
    assert worked["room"].m_as("mm") == pytest.approx(wide * 0.00365 * (12.0 - 7.7), abs=0.03)
    assert worked["base_wide"].m_as("mm") == pytest.approx(wide - worked["room"].m_as("mm"))


def test_a_base_that_only_dries_gets_no_room() -> None:
    worked = _work(
        10, 100, 140, 200, 10.0, up=millimetres(100), deep=millimetres(3), base_movement=count(0.00365),
        humidity_from=count(60), humidity_to=count(40),
    )  # fmt: skip
    assert worked["room"].m_as("mm") == 0
