"""Laminates as blanks of a project: what is sawn, what it weighs, how its woods move, what is told of it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from handouts_build.compute.blanks import high_mm, round_mm, swing_mm
from handouts_build.compute.evening.stocking import stock_plan
from handouts_build.outputs.data import sheet_json
from handouts_build.schema import ShopKeys
from handouts_build.sheet import Level, Sheet
from tests.projects import worked

PARTS = """
laminates:
  stripes:
    says: Stripes
    wide: {wide}
    boards:
      - {{thick: 20 mm, count: 2}}
      - {{thick: 4 mm, wood: "{wood}"}}
      - {{thick: 20 mm, count: 2}}
parts:
  piece:
    wood: walnut, black
    blank: {{laminate: stripes, long: 120 mm{more}}}
    steps:
      - name: Turn it
        hold: {{by: [between centers]}}
        cut: [cylinder: {{diameter: 30 mm}}]
        tools: [spindle roughing gouge]
        say: Turn it.
"""


def _sheet(folder: Path, *, wide: str = "60 mm", wood: str = "sugar maple", more: str = "") -> Sheet:
    return worked(folder, parts=PARTS.format(wide=wide, wood=wood, more=more))


def test_its_measures_follow_from_its_boards(tmp_path: Path) -> None:
    """Four of 20 mm and one of 4 mm are 84 mm."""
    sheet = _sheet(tmp_path)
    (part,) = sheet.parts
    known = {side: value.m_as("mm") for side, value, _ in part.blank.sides}
    assert known == pytest.approx({"width": 60, "thickness": 84, "length": 120})
    assert (round_mm(part.blank), high_mm(part.blank)) == pytest.approx((60, 120))
    assert swing_mm(part.blank) == pytest.approx((60**2 + 84**2) ** 0.5)
    assert part.woods == ("black walnut", "sugar maple")
    (group,) = (group for group in sheet.groups if group.name == "stripes")
    assert {row.name: row.value.m_as("mm") for row in group.dimensions} == pytest.approx(
        {"stripes.thick": 84, "stripes.wide": 60}
    )


def test_of_many_thin_boards_one_by_one_the_thickness_is_still_a_sum(tmp_path: Path) -> None:
    """43 of 2 mm are 86 mm; their formulas in a row are longer than an author's own may be. A mutated one did it."""
    boards = "\n".join("      - {thick: 2 mm + 0 mm}" for _ in range(43))
    first, _, rest = PARTS.format(wide="60 mm", wood="sugar maple", more="").partition("      - {thick: 20")
    parts = first + boards + "\n" + rest[rest.index("parts:") :]
    (group,) = (group for group in worked(tmp_path, parts=parts).groups if group.name == "stripes")
    assert group.dimensions[0].value.m_as("mm") == pytest.approx(86)


def test_its_boards_are_sawn_each_from_its_wood_and_as_long_as_they_lean(tmp_path: Path) -> None:
    """40 sin 10° + 120 cos 10° is 125.1 mm."""
    sheet = _sheet(tmp_path, more=", block: 40 mm, lean: 10 deg")
    stock = stock_plan(sheet, (), seats=1, shop=ShopKeys.model_validate({}), remote=False)
    assert [(line.wood, line.section) for line in stock.lines] == [
        ("black walnut", "4 boards, 60\u00a0mm (2\u00a03/8\u00a0in) by 20\u00a0mm (25/32\u00a0in), planed"),
        ("sugar maple", "60\u00a0mm (2\u00a03/8\u00a0in) by 4\u00a0mm (5/32\u00a0in), planed"),
    ]
    assert {line.long.lead for line in stock.lines} == {"125.5\u00a0mm"}


def test_it_weighs_what_its_boards_weigh(tmp_path: Path) -> None:
    """80 parts of walnut at 0.55 and 4 of sugar maple at 0.63, times 1.12 at 12 percent: Wood Handbook, table 5-3."""
    (step,) = _sheet(tmp_path).steps
    assert step.stage is not None
    weight = next(fact.value for fact in step.stage.facts if fact.name == "weight").m_as("g")
    volume = 3.14159265 * 15**2 * 120 / 1000
    assert weight == pytest.approx(volume * 1.12 * (80 * 0.55 + 4 * 0.63) / 84, rel=0.005)


def test_woods_that_move_unlike_are_minded_where_the_block_is_wide(tmp_path: Path) -> None:
    """Walnut 0.00274 and beech 0.00431 for each percent (Wood Handbook, table 13-5): 0.57 mm of 90 mm for 4 percent."""
    told = {}
    for wide in ("60 mm", "90 mm"):
        found = _sheet(tmp_path, wide=wide, wood="beech, American").findings
        told[wide] = [(each.level, each.message) for each in found if "wider than" in each.message]
    assert told["60 mm"] == []
    ((level, message),) = told["90 mm"]
    assert level is Level.MIND
    assert "0.57\u00a0mm" in message


def test_its_glue_is_cautioned_with_its_first_cut_and_its_boards_are_data(tmp_path: Path) -> None:
    sheet = _sheet(tmp_path)
    assert "Glued-up blank" in {box.title for step in sheet.steps for box in step.boxes}
    (part,) = json.loads(sheet_json(sheet))["parts"]
    assert [board["wood"] for board in part["blank"]["boards"]] == ["black walnut"] * 2 + ["sugar maple"] + [
        "black walnut"
    ] * 2


def test_every_wood_of_it_is_cautioned(tmp_path: Path) -> None:
    """Walnut is reported to sensitize: it is in the stripe only where the part is of maple."""
    text = PARTS.replace("wood: walnut, black", "wood: maple, sugar")
    parts = text.format(wide="60 mm", wood="walnut, black", more="")
    assert any("sensitize" in box.title and "walnut" in box.title for box in worked(tmp_path, parts=parts).boxes)
