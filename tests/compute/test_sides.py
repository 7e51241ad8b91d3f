"""One value prints as one size wherever it stands, and the side it is rounded to goes with it."""

from __future__ import annotations

import dataclasses
import json
from fractions import Fraction
from pathlib import Path

import pytest

from handouts_build.compute.solid.words import said
from handouts_build.figures.fit import joint
from handouts_build.outputs.pages.own_size import own_size
from handouts_build.outputs.papers.full import full_data
from handouts_build.paper import SIZES
from handouts_build.quantities import Err, Rule
from handouts_build.sheet import Sheet
from handouts_build.workpiece import Code, Verdict
from tests.projects import demo_archive, worked

RULE = "measure: millimetres\nmetric rule: 1 mm\n"
HANDLE = """
handle:
  says: Handle
  part: handle
  along:
    - ogee: {{from: 28 mm, to: 33 mm, long: 120 mm}}
    - ogee: {{to: 28 mm, long: 120 mm}}
    - tenon: {{diameter: {tenon}, long: 80 mm, says: handle tenon}}
"""
PARTS = """
parts:
  handle:
    wood: ash
    blank: {round: 40 mm, long: 340 mm}
    steps: [{name: Turn, say: Turn it.}]
"""


def _handle(folder: Path, *, hole: str = "25 mm", tenon: str = "fit.tenon", dimensions: str = "") -> Sheet:
    """A handle with a tenon in a drilled hole, told to whole millimetres."""
    return worked(
        folder,
        sizes=f"hole: {{is: {hole}, says: Hole}}",
        workings="fit: {chapter: fit, hole: hole, part: 33 mm}",
        profiles=HANDLE.format(tenon=tenon),
        **({"dimensions": dimensions} if dimensions else {}),
        extra=RULE,
        parts=PARTS,
    )


def _told(sheet: Sheet) -> set[str]:
    """How thick the tenon is, wherever the sheet says it."""
    shape = sheet.group("handle").shape
    assert shape is not None
    across = {str(one.printed) for one in shape.stations if "handle tenon" in one.what}
    return across | {str(one.printed) for one in sheet.dimensions if one.name in ("fit.tenon", "handle.neck", "thick")}


@pytest.mark.parametrize("hole", ["25 mm", "24 mm", "23.9 mm", "1 in", "7/8 in"])
def test_a_tenon_is_one_size_on_the_whole_sheet_and_never_its_holes(hole: str, tmp_path: Path) -> None:
    """A tenon is turned under its hole: common practice, no published source."""
    sheet = _handle(tmp_path, hole=hole)
    (told,) = _told(sheet)
    tenon, there = sheet.group("fit").printed["tenon"], sheet.group("fit").printed["hole"]
    assert told == str(tenon)
    assert str(there) == str(next(size.printed for size in sheet.sizes if size.name == "hole"))
    for thick, wide, play, step in ((tenon.inch, there.inch, 1 / 64, 0.001), (tenon.mm, there.mm, 25.4 / 64, 0.01)):
        assert thick is not None
        assert wide is not None
        assert -step / 100 <= wide - thick - play < step


def test_a_name_for_another_value_is_rounded_as_that_value_is(tmp_path: Path) -> None:
    sheet = _handle(tmp_path, tenon="thick", dimensions="thick: {formula: fit.tenon, says: Tenon}")
    assert _told(sheet) == {"24.6\u00a0mm (0.968\u00a0in)"}


def test_a_dimension_that_a_tenon_is_turned_to_is_rounded_down_unless_its_author_says_otherwise(tmp_path: Path) -> None:
    own = "thick: {formula: hole - 0.445 mm, says: Tenon}"
    sheet = _handle(tmp_path, tenon="thick", dimensions=own)
    thick = next(one for one in sheet.dimensions if one.name == "thick")
    assert (thick.err, thick.printed.lead) == (Err.UNDER, "24.55\u00a0mm")
    over = _handle(tmp_path, tenon="thick", dimensions=own.replace("Tenon}", "Tenon, err: over}"))
    assert next(one for one in over.dimensions if one.name == "thick").printed.lead == "24.56\u00a0mm"


def test_a_tenon_by_a_formula_is_rounded_down_too(tmp_path: Path) -> None:
    sheet = _handle(tmp_path, tenon="hole - 0.445 mm")
    assert {one.printed.lead for one in sheet.dimensions if one.name == "handle.neck"} == {"24.55\u00a0mm"}
    shape = sheet.group("handle").shape
    assert shape is not None
    assert {one.printed.lead for one in shape.stations if "handle tenon" in one.what} == {"24.55\u00a0mm"}


def test_the_page_gets_the_side_of_each_station_and_of_the_neck(tmp_path: Path) -> None:
    data = json.loads(own_size(_handle(tmp_path)))
    piece = next(one for one in data["pieces"] if one["name"] == "handle")
    manners = [how for what, _, _, how in piece["stations"] if "handle tenon" in what]
    assert manners
    assert all(how == {"err": "under", "fine": True, "below": "fit.hole"} for how in manners)
    neck = next(one for one in piece["dimensions"] if one["name"] == "handle.neck")
    stations = [[across, how] for _, _, across, how in piece["stations"]]
    # A station that was told its size goes before one where an element only ends at that size.
    assert neck["at"] == sorted(stations, key=lambda station: station[1] == {"err": "nearest"})


def test_a_neck_at_an_authors_own_size_prints_as_that_size_does(tmp_path: Path) -> None:
    """1/2 in is 12.7 mm, nearest to 12.5 on a rule of half millimetres (the international inch, 25.4 mm)."""
    sheet = worked(
        tmp_path,
        sizes="stem: {is: 1/2 in, says: Stem}",
        profiles="leg: {says: Leg, along: [{cylinder: {diameter: 1 in, long: 1 in}}, "
        "{cylinder: {diameter: stem, long: 2 in}}]}",
    )
    neck = next(one for one in sheet.dimensions if one.name == "leg.neck")
    assert str(neck.printed) == str(sheet.sizes[0].printed) == "1/2\u00a0in (12.5\u00a0mm)"


def test_a_bit_is_one_size_and_no_mark_of_a_rule(tmp_path: Path) -> None:
    """A 1/4 in bit is 6.35 mm (the international inch, 25.4 mm), and on no rule of half millimetres."""
    sheet = worked(
        tmp_path,
        sizes="bit: {is: 1/4 in, says: Bit}\nball: {is: 1/4 in, says: Ball}",
        workings="hole: {chapter: drilling, bit: bit, depth: 1 in}",
    )
    bit, ball = (str(size.printed) for size in sheet.sizes)
    assert bit == str(sheet.group("hole").printed["bit"]) == "1/4\u00a0in (6.35\u00a0mm)"
    assert ball == "1/4\u00a0in (6.5\u00a0mm)"


def test_a_chain_of_sizes_closes_in_each_unit(tmp_path: Path) -> None:
    """3 1/4 in high is 82 mm, under, and a floor of 3/8 in 10 mm: a depth of 73 mm would leave 9 (25.4 mm an inch)."""
    sheet = worked(
        tmp_path,
        sizes="across: {is: 4 in, says: Across}\nfloor: {is: 3/8 in, says: Floor}",
        dimensions="high: {formula: across - 3/4 in, says: High, err: under}\n"
        "deep: {formula: high - floor, says: Deep, err: under}",
        extra="metric rule: 1 mm\n",
    )
    told = {row.name: str(row.printed) for row in sheet.dimensions}
    assert told == {"high": "3\u00a01/4\u00a0in (82\u00a0mm)", "deep": "2\u00a07/8\u00a0in (72\u00a0mm)"}


def test_a_working_prints_what_has_a_name_as_it_is_printed_by_that_name(tmp_path: Path) -> None:
    sheet = worked(
        tmp_path,
        sizes="ball: {is: 2 1/4 in, says: Ball}",
        workings="marks: {chapter: divisions, divisions: 6, diameter: ball}",
    )
    assert (
        str(sheet.group("marks").printed["diameter"])
        == str(sheet.sizes[0].printed)
        == "2\u00a01/4\u00a0in (57\u00a0mm)"
    )


def test_the_drawing_of_a_pressed_joint_says_that_there_is_no_gap(tmp_path: Path) -> None:
    pressed = worked(
        tmp_path, sizes="hole: {is: 25 mm, says: Hole}",
        workings="fit: {chapter: fit, hole: hole, part: 33 mm, allowance: -0.1 mm}", extra=RULE,
    )  # fmt: skip
    told = joint(pressed.group("fit")).alt.replace("\u00a0", " ")
    assert "a tenon 25.1 mm (0.988 in) across in a hole 25 mm (0.9843 in)" in told
    assert "there is no gap" in told


def test_a_blank_is_rounded_up_an_opening_down_and_the_papers_say_so(tmp_path: Path) -> None:
    sheet = worked(
        tmp_path,
        sizes="across: {is: 5 in, says: Across}\ninside: {is: 3 in, says: Inside}",
        parts="parts:\n  ring:\n    blank: {staves: 12, across: across, inside: inside, long: 3 in}\n"
        "    wood: ash\n    steps: [{name: Turn, say: Turn it.}]\n",
    )
    sides = {what: str(printed) for what, _, printed in sheet.parts[0].blank.sides}
    assert (sides["length"], sides["opening"]) == ("3\u00a0in (76.5\u00a0mm)", "3\u00a0in (76\u00a0mm)")
    text = json.dumps(full_data(sheet, (), SIZES["a4"])[0], ensure_ascii=False)
    assert "Blanks, at least" in text
    assert " at most" in text
    blank = json.loads(own_size(sheet))["blanks"][0]
    assert {side["says"]: side["err"] for side in blank["sides"]}["the blank's opening"] == "under"


@pytest.mark.parametrize(("ratio", "shown"), [(10.5, "10.5"), (10.02, "10.1"), (15.0, "15")])
def test_a_ratio_over_its_limit_never_reads_as_the_limit(ratio: float, shown: str) -> None:
    numbers = {"ratio": ratio, "limit": 10.0, "long_mm": 12.7 * ratio, "neck_mm": 12.7}
    told = Verdict(Code.SLENDER, (), numbers)
    assert f"{shown} to 1; over 10 to 1 it can whip" in said(told, Rule()).message


def test_a_neck_read_off_the_solid_prints_at_the_mark_that_its_facets_hide() -> None:
    told = Verdict(Code.SLENDER, (), {"ratio": 12.0, "limit": 10.0, "long_mm": 152.3, "neck_mm": 12.69})
    message = said(told, Rule()).message
    assert "6\u00a0in (152.5\u00a0mm) long and, where it is thin, 1/2\u00a0in (12.5\u00a0mm) across" in message
    thin = dataclasses.replace(told, numbers={**told.numbers, "neck_mm": 24.6})
    assert "24\u00a0mm (15/16\u00a0in) across" in said(thin, Rule(lead="mm", millimetre=Fraction(1))).message


def test_a_measure_is_told_by_the_name_that_is_read_rightly() -> None:
    """A board across the grain has no length on the rack, staves are counted, and a second width says where."""
    (planter,) = (sheet for sheet in demo_archive().sheets if sheet.name == "staved-planter")
    base, tube = planter.parts
    told = [[side.before or side.after for side in part.blank.told_sides(part.grain)] for part in (base, tube)]
    assert told[0] == ["across", "by", "thickness"]
    assert told[1][:2] == ["staves", "width"]
    assert "width at the right" in told[1]
    count = tube.blank.told_sides(tube.grain)[0]
    assert (count.before, str(count.printed), count.after) == ("", "10", "staves")
