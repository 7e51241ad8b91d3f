"""Sources, wood movement and index wheels: what is in the tables and on whose word."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from handouts_build.tables import Standing, index_wheels, movement, movements, sources

REFERENCE = Path(__file__).parents[1] / "reference"


def test_every_source_says_what_it_is_and_where_it_was_published() -> None:
    assert sources()
    for id_, source in sources().items():
        assert source.id == id_
        assert source.text
        assert source.reference
        if source.standing is Standing.COMMON_PRACTICE:
            assert source.reference == "no published source"


def test_movement_of_every_wood_is_as_published() -> None:
    """dimensional_change.csv: Wood Handbook Table 13-5 (FPL-GTR-190, 2010); its standing is on each row."""
    with (REFERENCE / "dimensional_change.csv").open(encoding="utf-8", newline="") as file:
        published = {row["species"]: row for row in csv.DictReader(file)}
    assert {one.species for one in movements()} == set(published)
    for one in movements():
        row = published[one.species]
        assert (one.radial, one.tangential) == (float(row["c_radial"]), float(row["c_tangential"]))
        assert one.standing == row["status"]


def test_wood_moves_more_along_the_rings_than_from_the_pith_outward() -> None:
    """True of every wood in Wood Handbook Table 13-5."""
    assert all(one.tangential > one.radial > 0 for one in movements())


@pytest.mark.parametrize("name", ["Walnut, black", "black walnut", "BLACK  WALNUT", "walnut,black"])
def test_a_wood_is_found_by_its_name_in_either_order(name: str) -> None:
    found = movement(name)
    assert found is not None
    assert found.species == "Walnut, black"
    assert found.tangential == 0.00274


def test_every_wood_is_found_by_each_of_its_names_and_no_two_share_one() -> None:
    for one in movements():
        for name in (one.species, *one.also):
            assert movement(name) is one, name


def test_a_wood_not_in_the_table_has_no_movement() -> None:
    assert movement("pink ivory") is None
    assert movement("") is None


def test_index_wheels_go_up_and_are_common_practice() -> None:
    """Common practice, no published source."""
    holes = [wheel.holes for wheel in index_wheels()]
    assert holes == sorted(set(holes))
    assert all(wheel.standing is Standing.COMMON_PRACTICE for wheel in index_wheels())
