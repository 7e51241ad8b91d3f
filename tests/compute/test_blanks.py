"""Blanks of every kind: their measures, what is found of them, and what is sawn for them."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from handouts_build.compute.blanks import round_mm, swing_mm
from handouts_build.compute.evening.stocking import section_of, stock_plan
from handouts_build.compute.solid.limits import thin_wood
from handouts_build.outputs.pages.own_size import own_size
from handouts_build.schema import ShopKeys
from handouts_build.sheet import Sheet
from handouts_build.sheet.findings import Level
from tests.projects import worked

IN = 25.4
RING = "{segments: 12, across: 6 in, inside: 4 in, long: 1 in}"
STAVES = "{staves: 8, across: 4 in, inside: 2 1/2 in, long: 9 in}"
BRANCH = "{branch: 3 in, bark: 1/8 in, pith: 1/4 in, pith angle: 90 deg, long: 5 in}"

PARTS = """\
parts:
  body:
    wood: {wood}
    {more}
    blank: {blank}
    steps:
      - name: Turn it
        say: Turn it.
        hold: {hold}
        {step}
        cut: {cut}
"""


def _worked(
    folder: Path, blank: str, cut: str, *, hold: str = "{by: [faceplate]}", step: str = "show: live",
    more: str = "show: true", wood: str = "'maple, sugar'",
) -> Sheet:  # fmt: skip
    more = "condition: []" if more == "show: true" else more
    return worked(folder, parts=PARTS.format(blank=blank, cut=cut, hold=hold, step=step, more=more, wood=wood))


def _sides(sheet: Sheet) -> dict[str, float]:
    return {what: float(value.magnitude) for what, value, _ in sheet.parts[0].blank.sides}


def _weight_g(sheet: Sheet) -> float:
    stage = sheet.parts[0].steps[0].stage
    assert stage is not None
    return next(float(fact.value.magnitude) for fact in stage.facts if fact.name == "weight")


MAPLE = 0.56e-3 / (1 - 0.147 * 0.6) * 1.12
"""Sugar maple at 12 percent, g/mm³: Wood Handbook FPL-GTR-282, tables 5-3a and 4-3, equations 4-9, 4-11 and 4-14."""


@pytest.mark.parametrize(("blank", "pieces", "across", "inside", "long"), [(RING, 12, 6, 4, 1), (STAVES, 8, 4, 2.5, 9)])
def test_a_glued_up_blank_weighs_its_polygons_area_times_its_length(
    blank: str, pieces: int, across: float, inside: float, long: float, tmp_path: Path
) -> None:
    """A ring of n flats has the area n tan(180°/n) (R² − r²): regular polygon, geometry.yaml. The cut takes a face."""
    sheet = _worked(tmp_path, blank, "[{part off: {at: 1/2 in, keep: right, kerf: 1/2 in}}]")
    area = pieces * math.tan(math.pi / pieces) * (across**2 - inside**2) / 4 * IN**2
    assert _weight_g(sheet) == pytest.approx(area * (long - 0.5) * IN * MAPLE, rel=1e-6)


def test_a_ring_tells_the_miter_and_the_longest_edge_of_a_segment(tmp_path: Path) -> None:
    """The miter is 180/n degrees, the edge 2 R tan(180/n): geometry.yaml mitre. A ring's grain runs around."""
    sheet = _worked(tmp_path, RING, "[{cylinder: {diameter: 5 3/4 in}}]")
    sides = _sides(sheet)
    assert math.degrees(sides["miter"]) == pytest.approx(15)
    assert sides["outer edge"] == pytest.approx(6 * IN * math.tan(math.pi / 12))
    blank = sheet.parts[0].blank
    assert (sheet.parts[0].grain, blank.shape) == ("around the axis", "glued-up ring")
    assert blank.told().startswith("12 segments, width 6")
    assert "miter 15°" in blank.told()
    assert swing_mm(blank) == pytest.approx(6 * IN / math.cos(math.pi / 12))
    assert round_mm(blank) == pytest.approx(6 * IN)
    assert "segmented" in {box.id for box in sheet.parts[0].steps[0].boxes}


def test_an_own_size_works_the_miter_out_again(tmp_path: Path) -> None:
    """The page gets the author's formulas grown into the law's: no name of the law is left in the tree."""
    sizes = "ball: {is: 12, says: Segments}\nwide: {is: 6 in, says: Width}"
    parts = PARTS.format(
        blank="{segments: ball, across: wide, inside: 4 in, long: 1 in}", cut="[]", hold="{by: [hand]}",
        step="show: live", more="condition: []", wood="'maple, sugar'",
    )  # fmt: skip
    sheet = worked(tmp_path, sizes=sizes, parts=parts)
    (blank,) = json.loads(own_size(sheet))["blanks"]
    trees = {
        side["says"].removeprefix("the blank's "): (side["kind"], json.dumps(side["tree"])) for side in blank["sides"]
    }
    assert trees["miter"][0] == "angle"
    assert '["name", "ball"]' in trees["miter"][1]
    assert '["name", "wide"]' in trees["outer edge"][1]
    assert "pieces" not in trees["outer edge"][1]
    assert trees["segments"][0] == "number"


def test_grain_is_as_the_author_says_where_he_says_it(tmp_path: Path) -> None:
    sheet = _worked(tmp_path, RING, "[{cylinder: {diameter: 5 3/4 in}}]", more="grain: along the axis")
    assert sheet.parts[0].grain == "along the axis"


PITH = "the pith runs"
BARK = "bark stays on the finished part"


@pytest.mark.parametrize(
    ("cut", "found"),
    [
        # Turned under the bark (3 − 2/8 in), the pith 1/4 in off the axis still in it.
        ("[{cylinder: {diameter: 2 5/8 in}}]", {PITH}),
        ("[{cylinder: {diameter: 2 7/8 in}}]", {PITH, BARK}),
        # A bore of 3/4 in takes a pith 1/4 in off the axis away; one of 3/8 in does not reach it.
        ("[{cylinder: {diameter: 2 5/8 in}}, {bore: {diameter: 3/4 in, end: right}}]", set()),
        ("[{cylinder: {diameter: 2 5/8 in}}, {bore: {diameter: 3/8 in, end: right}}]", {PITH}),
    ],
)
def test_pith_and_bark_in_the_finished_part_are_minded(cut: str, found: set[str], tmp_path: Path) -> None:
    """That a branch cracks from its pith as it dries: common practice, no published source."""
    sheet = _worked(tmp_path, BRANCH, cut)
    told = [one for one in sheet.findings if one.message.startswith((PITH, BARK))]
    assert {start for start in (PITH, BARK) if any(one.message.startswith(start) for one in told)} == found
    assert all(one.level is Level.MIND and one.place.path == "parts.body.blank.branch" for one in told)
    assert "pith" in {box.id for box in sheet.parts[0].steps[0].boxes}


def test_the_pith_is_as_long_as_the_wood_around_it(tmp_path: Path) -> None:
    sheet = _worked(tmp_path, BRANCH, "[{part off: {at: 2 in, keep: left}}]")
    (told,) = (one for one in sheet.findings if one.message.startswith(PITH))
    assert told.message.startswith("the pith runs 2 in (50.8\u00a0mm)".replace("2 in", "2\u00a0in"))


def test_pith_may_be_accepted_with_a_reason_that_is_printed(tmp_path: Path) -> None:
    step = "accept: {pith left: It is a carver's mallet and may crack., bark left: It is a rustic one.}"
    sheet = _worked(tmp_path, BRANCH, "[{cylinder: {diameter: 2 7/8 in}}]", step=step)
    told = [one for one in sheet.findings if one.message.startswith(("Pith left on purpose: it runs", "Bark left on"))]
    assert [one.level for one in told] == [Level.NOTE] * 2
    assert "finished part. It is a carver's mallet and may crack" in " ".join(one.message for one in told)


def test_bark_calls_for_its_box_until_it_is_turned_away(tmp_path: Path) -> None:
    again = "      - {name: Again, say: Again., cut: [{cylinder: {name: again, diameter: 2 in}}]}\n"
    parts = PARTS.format(
        blank=BRANCH, cut="[{cylinder: {diameter: 2 5/8 in}}]", hold="{by: [between centers]}", step="show: live",
        more="condition: []", wood="'maple, sugar'",
    )  # fmt: skip
    first, second = worked(tmp_path, parts=parts + again).parts[0].steps
    assert "natural-edge" in {box.id for box in first.boxes}
    assert "natural-edge" not in {box.id for box in second.boxes}


def test_the_stock_of_a_ring_is_its_segments_with_miter_and_edge(tmp_path: Path) -> None:
    """12 segments of 1.61 in on the outer edge, 1 in by 1 in; by hand, 6 tan 15° = 1.6077 in."""
    sheet = _worked(tmp_path, RING, "[{cylinder: {diameter: 5 3/4 in}}]")
    sticks = '{"sticks": [{"name": "A", "wood": "maple, sugar", "wide": "1 in", "thick": "1 in", "long": "4 ft"}]}'
    stock = stock_plan(sheet, (), seats=2, shop=ShopKeys.model_validate(json.loads(sticks)), remote=False)
    (line,) = stock.lines
    assert line.section.startswith("12 segments for each ring, 1\u00a0in")
    assert "mitered 15° at both ends (polygon geometry)" in line.section
    assert line.long.lead == "1\u00a05/8\u00a0in"
    assert stock.board_feet == pytest.approx(2 * 12 * 6 * math.tan(math.pi / 12) / 144)
    # 47 in of 48 hold 27 pieces of 1.6077 + 1/8 in; 24 are wanted.
    assert sum(len(cut.pieces) for cut in stock.cuts) == 24
    assert not stock.missing


def test_a_ring_with_one_segment_too_few_is_a_ring_too_few(tmp_path: Path) -> None:
    sheet = _worked(tmp_path, RING, "[{cylinder: {diameter: 5 3/4 in}}]")
    sticks = '{"sticks": [{"name": "A", "wood": "maple, sugar", "wide": "1 in", "thick": "1 in", "long": "40 in"}]}'
    stock = stock_plan(sheet, (), seats=2, shop=ShopKeys.model_validate(json.loads(sticks)), remote=False)
    ((part, many, why),) = stock.missing
    assert (part, many, why) == ("The body", 1, "the sticks are used up")


def test_staves_are_sawn_to_length_and_beveled(tmp_path: Path) -> None:
    """8 staves beveled 22.5°, 4 tan 22.5° = 1.6569 in wide: regular_polygons.csv, 0.8284 to the inradius."""
    sheet = _worked(tmp_path, STAVES, "[{cylinder: {diameter: 3 3/4 in}}]")
    (line,) = stock_plan(sheet, (), seats=1, shop=ShopKeys.model_validate({}), remote=False).lines
    assert line.section.startswith("8 staves for each, 1\u00a011/16\u00a0in")
    assert "both edges beveled 22.5° (polygon geometry)" in line.section
    assert line.long.lead == "9\u00a0in"
    section, long = section_of(sheet.parts[0].blank)
    assert section.across.magnitude == pytest.approx(4 * IN / math.cos(math.pi / 8))
    assert long.magnitude == pytest.approx(9 * IN)


def test_a_branch_is_stock_over_its_bark(tmp_path: Path) -> None:
    sheet = _worked(tmp_path, BRANCH, "[{cylinder: {diameter: 2 5/8 in}}]")
    (line,) = stock_plan(sheet, (), seats=1, shop=ShopKeys.model_validate({}), remote=False).lines
    assert line.section.endswith("branch, over the bark")
    assert round_mm(sheet.parts[0].blank) == pytest.approx(2.75 * IN)


@pytest.mark.parametrize(
    ("wood", "blank", "grain", "share"),
    [
        # Specific gravity at 12 percent, Wood Handbook table 5-3: walnut 0.55, sugar maple 0.63, basswood 0.37.
        ("walnut, black", "{round: 1 in, long: 4 in}", "along the axis", 1 / 16),
        ("maple, sugar", "{round: 1 in, long: 4 in}", "along the axis", 0.55 / 0.63 / 16),
        ("basswood, American", "{round: 1 in, long: 4 in}", "along the axis", 0.55 / 0.37 / 16),
        ("walnut, black", "{round: 1 in, long: 4 in}", "across the axis", 1.25 / 16),
        ("walnut, black", "{round: 6 in, long: 4 in}", "along the axis", 1 / 8),
        ("walnut, black", "{round: 3/8 in, long: 4 in}", "along the axis", 1 / 32),
        ("stick from the hedge", "{round: 1 in, long: 4 in}", "along the axis", 1.1 / 16),
    ],
)
def test_thin_wood_goes_by_size_wood_and_grain(wood: str, blank: str, grain: str, share: float, tmp_path: Path) -> None:
    """Shares and factors: common practice, no published source; the specific gravities are published."""
    sheet = _worked(tmp_path, blank, "[]", hold="{by: [hand]}", more=f"grain: {grain}", wood=f"'{wood}'")
    assert thin_wood(sheet.parts[0]).limits.web_mm == pytest.approx(share * IN, rel=1e-3)
