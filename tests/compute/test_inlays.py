"""A plug and an inlay as a file says them: what is found of fit, grain and number, and what is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.compute.step_facts import operations_of
from handouts_build.schema import PartKeys
from handouts_build.sheet import Level, Sheet
from handouts_build.tables import lookup_wood
from tests.projects import worked

PARTS = """
parts:
  disk:
    wood: maple, sugar
    grain: {disk}
    count: {count}
    blank: {{square: 50 mm, long: 80 mm}}
    steps:
      - name: Turn it
        hold: {{by: [chuck], deep: 25 mm}}
        cut: [tenon: {{name: disk, diameter: {wide}, long: 8 mm, end: right}}, part off: {{at: 72 mm, keep: right}}]
        say: Turn it.
  lid:
    wood: walnut, black
    grain: {lid}
    blank: {{round: 120 mm, long: 30 mm}}
    steps:
      - name: Recess it
        hold: {{by: [faceplate]}}
        cut: [recess: {{diameter: 40 mm, deep: {deep}, end: right}}]
        say: Recess it.
      - name: Glue it
        let in: [{{put: disk, tenon: disk, hole: recess}}]
        say: Glue it.
      - name: Turn it flush
        cut: [part off: {{at: 28 mm, keep: left}}]
        say: Turn it flush.
"""
ALONG, ACROSS = "along the axis", "across the axis"


def _sheet(
    folder: Path, *, disk: str = ACROSS, lid: str = ACROSS, wide: str = "39.8 mm", deep: str = "6 mm", count: str = "1"
) -> Sheet:
    return worked(folder, parts=PARTS.format(disk=disk, lid=lid, wide=wide, deep=deep, count=count))


def _said(sheet: Sheet) -> list[tuple[Level, str]]:
    return [(found.level, found.message) for found in sheet.findings if "'disk'" in found.message]


def test_one_that_fits_lies_with_the_grain_and_is_turned_flush_is_found_well(tmp_path: Path) -> None:
    sheet = _sheet(tmp_path)
    assert _said(sheet) == []
    glued = list(sheet.steps)[2].stage
    assert glued is not None
    assert "'disk', of sugar maple" in glued.says
    assert ["5.95 mm", "6 mm"].count(
        next(str(f.printed) for f in glued.facts if f.name == "inset").split(" in")[0]
    ) <= 1


@pytest.mark.parametrize(
    ("given", "level", "message"),
    [
        ({"wide": "40.5 mm"}, Level.STOP, "too thick"),
        ({"wide": "38 mm"}, Level.MIND, "sits loosely"),
        ({"disk": ALONG}, Level.NOTE, "shows its end grain"),
        ({"lid": ALONG}, Level.MIND, "apart, across"),
    ],
)
def test_its_fit_and_its_grain_are_found(given: dict[str, str], level: Level, message: str, tmp_path: Path) -> None:
    """How far the two woods move apart: Wood Handbook, table 13-5, coefficient by tangential movement."""
    assert [told for found, told in _said(_sheet(tmp_path, **given)) if found is level and message in told]


def test_movement_is_that_of_the_wood_around_where_the_disk_lies_the_other_way(tmp_path: Path) -> None:
    """40 mm of black walnut moves 40 x 0.00274 x 4 along its rings (Wood Handbook, table 13-5): 0.44 mm."""
    walnut = lookup_wood("walnut, black")
    assert walnut is not None
    assert walnut.c_tangential is not None
    assert walnut.c_tangential.value == pytest.approx(0.00274)
    (told,) = [told for _, told in _said(_sheet(tmp_path, lid=ALONG)) if "apart, across" in told]
    assert "0.44\u00a0mm" in told


def test_a_recess_deeper_than_the_disk_leaves_it_sunk(tmp_path: Path) -> None:
    """10.5 mm deep, 8 mm thick, and 2 mm are turned off: 0.5 mm under."""
    (told,) = [told for level, told in _found(_sheet(tmp_path, deep="10.5 mm")) if "deeper than" in told]
    assert "0.5\u00a0mm" in told


def _found(sheet: Sheet) -> list[tuple[Level, str]]:
    return [(found.level, found.message) for found in sheet.findings]


def test_the_finished_piece_is_the_lid_with_the_disk_in_it(tmp_path: Path) -> None:
    """Its weight is that of walnut, and of maple where the disk is: densities of the Wood Handbook, at 12 percent."""
    sheet = _sheet(tmp_path)
    assert sheet.whole is not None
    weight = next(fact.value for fact in sheet.whole.facts if fact.name == "weight").to("g").magnitude
    last = list(sheet.steps)[-1].stage
    assert last is not None
    assert weight == pytest.approx(next(fact.value for fact in last.facts if fact.name == "weight").to("g").magnitude)
    walnut = 3.14159265 * 60**2 * 28 * 0.55 * 1.12 / 1000
    more = 3.14159265 * 20**2 * 4 * (0.63 - 0.55) * 1.12 / 1000
    assert weight == pytest.approx(walnut + more, rel=0.01)
    assert "120" in str(next(fact.printed for fact in sheet.whole.facts if fact.name in ("long", "across")))


def test_fewer_disks_than_holes_are_not_enough(tmp_path: Path) -> None:
    text = PARTS.replace(
        "recess: {{diameter: 40 mm, deep: {deep}, end: right}}",
        "end holes: {{name: recess, count: 3, diameter: 20 mm, circle: 60 mm, deep: {deep}, end: right}}",
    )
    parts = text.format(disk=ACROSS, lid=ACROSS, wide="19.8 mm", deep="6 mm", count="2")
    (told,) = [found for found in worked(tmp_path, parts=parts).findings if "3 holes take" in found.message]
    assert told.level is Level.STOP
    assert "count: 3" in told.remedy


def test_the_step_is_gluing_whether_it_says_so_or_not() -> None:
    step = {"name": "Glue it", "say": "Glue it.", "let in": [{"put": "disk", "tenon": "disk", "hole": "recess"}]}
    blank = {"round": "60 mm", "long": "30 mm"}
    part = PartKeys.model_validate({"wood": "maple, sugar", "blank": blank, "steps": [step]})
    assert "gluing" in operations_of(part, part.steps[0])
