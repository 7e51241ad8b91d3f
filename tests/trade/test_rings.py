"""Rings and staves, against the regular polygon as handbooks print it."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.quantities import UNITS, Quantity, count, inches, millimetres
from handouts_build.trade.rings import RINGS

Rows = Callable[[str], list[dict[str, str]]]
GEOMETRY = Path(__file__).parents[1] / "reference" / "geometry.yaml"


def _work(pieces: int, across: Quantity, inside: Quantity) -> dict[str, Quantity]:
    return RINGS.work(pieces=count(pieces), across=across, inside=inside, rule=inches(1 / 32))


def test_miters_and_edges_match_the_handbooks_polygons(published_rows: Rows) -> None:
    """regular_polygons.csv, miter and side per inradius: from memory of the layout of Machinery's Handbook."""
    rows = published_rows("regular_polygons.csv")
    assert len(rows) >= 10
    for row in rows:
        worked = _work(int(row["n_sides"]), millimetres(2), millimetres(1))
        assert worked["miter"].m_as(UNITS["deg"]) == pytest.approx(float(row["mitre_angle_deg"]), abs=5e-5), row
        assert worked["outer_edge"].magnitude == pytest.approx(float(row["side_per_inradius"]), abs=5e-5), row
        assert 2 / worked["corners"].magnitude == pytest.approx(float(row["inradius_per_circumradius"]), abs=5e-5), row


def test_a_twelve_piece_ring_six_inches_across_by_hand() -> None:
    """geometry.yaml mitre, VERIFIED: half the corner is 180/n degrees, the edge 2 R tan(180/n) on the flats."""
    said = next(row["value"] for row in yaml.safe_load(GEOMETRY.read_text("utf-8"))["formulas"] if row["id"] == "mitre")
    assert "= 180/n degrees" in said
    assert "R tan(180/n)" in said
    worked = _work(12, inches(6), inches(4))
    assert worked["miter"].m_as(UNITS["deg"]) == pytest.approx(15)
    assert worked["outer_edge"].m_as(UNITS["in"]) == pytest.approx(2 * 3 * math.tan(math.pi / 12))


@given(st.integers(3, 180), st.floats(20, 500), st.floats(0.1, 0.95))
def test_pieces_fill_the_ring_and_its_round_wall_lies_within(pieces: int, across: float, share: float) -> None:
    """n trapezoids of both edges and the thickness have the area between the two polygons, n tan(180°/n) (R² − r²)."""
    worked = _work(pieces, millimetres(across), millimetres(across * share))
    edges = worked["outer_edge"].magnitude + worked["inner_edge"].magnitude
    area = pieces * edges / 2 * worked["thick"].magnitude
    flat = pieces * math.tan(math.pi / pieces) * (across**2 - (across * share) ** 2) / 4
    assert area == pytest.approx(flat)
    assert worked["wall"].magnitude < worked["thick"].magnitude
    assert worked["strip"].magnitude > pieces * worked["outer_edge"].magnitude
