"""Stacks and tapered tubes as blanks of a project: what is sawn, what is cautioned, what is told of them."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from handouts_build.compute.blanks import round_mm, swing_mm
from handouts_build.compute.evening.stocking import stock_plan
from handouts_build.schema import ShopKeys
from handouts_build.sheet import Sheet
from tests.projects import demo_archive, worked

IN = 25.4
NO_SHOP = ShopKeys.model_validate({})


@pytest.fixture(scope="module")
def vase() -> Sheet:
    (sheet,) = (sheet for sheet in demo_archive().sheets if sheet.name == "segmented-vase")
    return sheet


def test_rings_of_the_vase_by_hand(vase: Sheet) -> None:
    """Over ring 4 the belly is 5 1/8 in: its flats stand 5 3/8 in apart, an edge is 5.375 tan 15° = 1.4402 in."""
    stack = vase.parts[0].blank.stack
    assert stack is not None
    assert (stack.segments, len(stack.rings), len(stack.courses)) == (72, 6, 8)
    ring = stack.rings[3]
    assert ring.across.m_as("mm") / IN == pytest.approx(5.375)
    assert ring.edge is not None
    assert ring.edge.m_as("mm") / IN == pytest.approx(5.375 * math.tan(math.radians(15)))
    assert ring.miter_printed is not None
    assert ring.miter_printed.lead == "15°"
    assert [ring.turn_deg for ring in stack.rings] == [0, 15, 0, 15, 0, 15]
    assert ring.mixed == ("black walnut", "black cherry")
    # Two of the same belly lie above one another: neither is wider than the other.
    assert stack.rings[2].across.m_as("mm") == pytest.approx(ring.across.m_as("mm"))
    assert stack.order[0].startswith("Glue up every ring")
    assert stack.order[-1] == "Glue ring 6 on ring 5, its joints over the middles of the segments below"


def test_a_stack_is_sawn_course_by_course_each_from_its_wood(vase: Sheet) -> None:
    stock = stock_plan(vase, (), seats=1, shop=NO_SHOP, remote=False)
    assert len(stock.lines) == 9
    assert [line.wood for line in stock.lines].count("black walnut") == 4
    (walnut, cherry) = (line for line in stock.lines if "ring 4" in line.part)
    assert walnut.section.startswith("6 segments, ")
    assert (walnut.wood, cherry.wood) == ("black walnut", "black cherry")
    assert walnut.long.lead == "1\u00a015/32\u00a0in"
    assert "mitered 15° at both ends" in walnut.section


def test_every_wood_of_a_stack_is_cautioned(vase: Sheet) -> None:
    """Walnut is reported to sensitize, and is in two rings and a pattern only; the part itself is of maple."""
    assert vase.parts[0].wood == "sugar maple"
    assert vase.woods == ("yellow-poplar", "black walnut", "sugar maple", "black cherry")
    assert any("sensitize" in box.title and "walnut" in box.title for box in vase.boxes)
    (turned,) = (step for step in vase.steps if step.number == 7)
    assert "Glued-up blank" in {box.title for box in turned.boxes}


def test_a_veneer_lies_between_two_rings(tmp_path: Path) -> None:
    sheet = worked(tmp_path, parts=PARTS)
    stack = sheet.parts[0].blank.stack
    assert stack is not None
    assert [course.says for course in stack.courses] == ["disk 1", "ring 1", "veneer 1", "ring 2", "ring 3"]
    veneer = stack.courses[2]
    assert veneer.inside is None
    assert veneer.across.m_as("mm") == pytest.approx(106)
    # A ring on a veneer is turned against the ring below the veneer.
    assert [ring.turn_deg for ring in stack.rings] == [0, 22.5, 0]
    assert sheet.parts[0].blank.told(lambda printed: printed.lead).startswith("length 51\u00a0mm")
    assert swing_mm(sheet.parts[0].blank) == pytest.approx(106 / math.cos(math.pi / 8))
    assert round_mm(sheet.parts[0].blank) == pytest.approx(106)


def test_of_many_rings_one_by_one_height_and_width_are_still_told(tmp_path: Path) -> None:
    """40 rings of 1 mm and a disk of 11 mm are 51 mm; their formulas in a row are longer than an author's may be."""
    before, _, after = PARTS.partition("      - disk")
    # Each of a width of its own, the widest 150 mm, so that the width is the most of many, one in the other.
    rings = [
        f"      - ring: {{segments: 4 + 4, high: 0.5 mm + 0.5 mm, across: {111 + number} mm}}" for number in range(40)
    ]
    parts = "\n".join([before + "      - disk: {high: 11 mm}", *rings, after[after.index("parts:") :]])
    sheet = worked(tmp_path, parts=parts)
    told = {row.name: row.value for group in sheet.groups for row in group.dimensions}
    assert told["courses.height"].m_as("mm") == pytest.approx(51)
    assert told["courses.width"].m_as("mm") == pytest.approx(150)


PARTS = """\
measure: millimeters
profiles:
  side: {says: Outside, along: [{cylinder: {diameter: 100 mm, long: 51 mm}}]}
  cavity: {says: Inside, along: [{cylinder: {diameter: 80 mm, long: 41 mm}}]}
stacks:
  courses:
    says: Courses
    outside: side
    inside: cavity
    inside at: 10 mm
    margin: 3 mm
    courses:
      - disk: {high: 10 mm}
      - ring: {segments: 8, high: 13 mm}
      - veneer: {high: 2 mm, wood: "walnut, black"}
      - ring: {segments: 8, high: 13 mm, count: 2}
parts:
  body:
    wood: maple, sugar
    blank: {stack: courses}
    steps:
      - {name: Turn it, say: Turn it.}
"""

TAPERED = """\
parts:
  body:
    wood: ash, white
    blank: {staves: 10, across: 7 in, inside: 5 1/2 in, across right: 10 in, long: 9 in}
    steps:
      - {name: Turn it, say: Turn it.}
"""


def test_a_tapered_tube_tells_tilt_taper_and_what_is_sawn(tmp_path: Path) -> None:
    """Slope atan(1.5 / 9) = 9.462°; sin tilt = sin 18° cos slope, tan taper = tan 18° sin slope; by hand."""
    sheet = worked(tmp_path, parts=TAPERED)
    blank = sheet.parts[0].blank
    sides = {side: value for side, value, _ in blank.sides}
    slope = math.atan(1.5 / 9)
    assert sides["bevel"].m_as("rad") == pytest.approx(math.asin(math.sin(math.radians(18)) * math.cos(slope)))
    assert sides["taper"].m_as("rad") == pytest.approx(math.atan(math.tan(math.radians(18)) * math.sin(slope)))
    assert sides["outer edge"].m_as("mm") / IN == pytest.approx(10 * math.tan(math.radians(18)))
    assert swing_mm(blank) == pytest.approx(10 * IN / math.cos(math.radians(18)))
    (line,) = stock_plan(sheet, (), seats=1, shop=NO_SHOP, remote=False).lines
    assert "edges tilted 17.8° and tapered" in line.section or "edges tilted 17.75° and tapered" in line.section
    assert line.long.lead == "9\u00a01/8\u00a0in"
