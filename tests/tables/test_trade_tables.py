"""Sources, wood movement and index wheels: what is in the tables and on whose word."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

import handouts_build.tables
from handouts_build.tables import COMMON_PRACTICE, Standing, index_wheels, lookup_wood, source, sources
from handouts_build.tables.loading import read_rows

REFERENCE = Path(__file__).parents[1] / "reference"


def test_every_source_says_what_it_is_and_where_it_was_published() -> None:
    assert sources()
    for id_, one in sources().items():
        assert one.id == id_
        assert len(one.text) > 10
        if one.standing is Standing.COMMON_PRACTICE:
            assert one.reference == "no published source"
        if one.standing is Standing.MEMORY:
            assert "memory" in one.text or one.reference


def test_no_source_is_told_twice() -> None:
    texts = [(one.text, one.reference) for one in sources().values()]
    assert len(set(texts)) == len(texts)


def test_every_source_named_in_a_table_is_among_the_sources() -> None:
    home = Path(handouts_build.tables.__file__).parent
    named = {
        row[column]
        for file in home.glob("*.csv")
        for row in read_rows(file.name)
        for column in row
        if column == "source" or column.endswith("_source")
    }
    assert {COMMON_PRACTICE, "S-FIA", "S-SIZES", "S-LATHE"} <= named
    assert named - {""} <= set(sources())


def test_a_source_from_nowhere_is_refused() -> None:
    with pytest.raises(ValueError, match="no source 'S-NOWHERE'"):
        source("S-NOWHERE")


def test_movement_of_every_wood_is_as_published() -> None:
    """dimensional_change.csv: Wood Handbook Table 13-5 (FPL-GTR-190, 2010); its standing is on each row.

    The table's commercial red and white oak are the trade's names for groups; here the
    northern red and the white oak carry those figures.
    """
    with (REFERENCE / "dimensional_change.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    checked = 0
    for row in rows:
        species = {"Oak, red commercial": "red oak", "Oak, white commercial": "white oak", "Mahogany": "true mahogany"}
        wood = lookup_wood(species.get(row["species"], row["species"]))
        assert wood is not None, row["species"]
        for number, printed in ((wood.c_radial, row["c_radial"]), (wood.c_tangential, row["c_tangential"])):
            assert number is not None, row["species"]
            assert number.value == float(printed), row["species"]
            checked += 1
    assert checked == 2 * len(rows) == 90


def test_index_wheels_go_up_and_are_common_practice() -> None:
    """Common practice, no published source."""
    holes = [wheel.holes for wheel in index_wheels()]
    assert holes == sorted(set(holes))
    assert all(wheel.standing is Standing.COMMON_PRACTICE for wheel in index_wheels())
