"""What is said of a tenon in its hole: too tight, too loose, no room for glue, waste in its way."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.sheet import Finding, Level, Sheet
from handouts_build.site.build import read_archive
from tests.projects import demo_archive, worked

PARTS = """
parts:
  block:
    wood: ash
    blank: {{round: 60 mm, long: 50 mm}}
    steps:
      - name: Bore
        hold: {{by: [between centers]}}
        cut: [{{bore: {{diameter: 25 mm, end: right}}}}]
        say: Bore it.
  leg:
    wood: ash
    blank: {{{blank}}}
    steps:
      - name: Turn
        hold: {{by: [between centers]}}
        cut: [{cut}]
        say: Turn it.
assembly:
  joints: [{{put: leg, tenon: peg, into: block, hole: bore{more}}}]
"""
PLAIN = "{{tenon: {{name: peg, diameter: {0}, long: 40 mm, end: right}}}}"
PROFILES = """
leg_shape:
  says: Leg
  part: leg
  along: [{cylinder: {diameter: 30 mm, long: 60 mm}}, {tenon: {diameter: 24.6 mm, long: 40 mm, says: peg}}]
"""


def _sheet(folder: Path, *, cut: str, blank: str = "round: 40 mm, long: 100 mm", more: str = "") -> Sheet:
    return worked(folder, profiles=PROFILES, parts=PARTS.format(cut=cut, blank=blank, more=more))


def _joint(sheet: Sheet) -> list[Finding]:
    return [one for one in sheet.findings if "peg" in one.message]


@pytest.mark.parametrize(
    ("tenon", "level", "says"),
    [
        ("25.2 mm", Level.STOP, "too thick for the bore"),
        ("25 mm", Level.NOTE, "no room for glue"),
        ("24.6 mm", None, ""),
        ("24.2 mm", None, ""),
        ("23.9 mm", Level.MIND, "sits loosely, and glue does not fill the gap"),
        ("3/8 in", Level.MIND, "thinner than the bore; over about 1 mm (1/32 in) it sits loosely"),
    ],
)
def test_a_tenon_fits_its_hole_with_room_for_glue_and_no_more(
    tenon: str, level: Level | None, says: str, tmp_path: Path
) -> None:
    """From a hair to 1/32 in of play across suits glue: common practice, no published source."""
    found = _joint(_sheet(tmp_path, cut=PLAIN.format(tenon)))
    assert [one.level for one in found] == ([level] if level else [])
    assert all(says in one.message.replace("\u00a0", " ") for one in found)


def test_a_joint_may_be_loose_for_a_reason(tmp_path: Path) -> None:
    sheet = _sheet(tmp_path, cut=PLAIN.format("20 mm"), more=", loose: It lifts out")
    (found,) = _joint(sheet)
    assert (found.level, found.message.endswith(". It lifts out")) == (Level.NOTE, True)


PROFILE = "{profile: {shape: leg_shape}}"


@pytest.mark.parametrize(
    ("blank", "cut", "across"),
    [
        ("square: 38 mm, long: 120 mm", PROFILE, 53.7),
        ("round: 38 mm, long: 120 mm", PROFILE, 38.0),
        ("round: 38 mm, long: 120 mm", f"{PROFILE}, {{cylinder: {{diameter: 20 mm, start: 100 mm}}}}", None),
        ("round: 38 mm, long: 120 mm", f"{PROFILE}, {{part off: {{at: 100 mm, keep: left}}}}", None),
        ("round: 38 mm, long: 100 mm", PROFILE, None),
    ],
)
def test_waste_past_a_tenon_that_is_wider_than_its_hole_stops_the_joint(
    blank: str, cut: str, across: float | None, tmp_path: Path
) -> None:
    """A square 38 mm wide is 38 √2 = 53.7 mm across its corners (Pythagoras)."""
    found = _joint(_sheet(tmp_path, blank=blank, cut=cut))
    if across is None:
        assert found == []
        return
    (one,) = found
    assert one.level is Level.STOP
    assert "has to go through the bore, which is 25 mm (0.984 in) across" in one.message.replace("\u00a0", " ")
    told = float(one.message.partition("wood ")[2].partition("\u00a0mm")[0])
    assert told == pytest.approx(across, rel=0.01)


def test_the_demo_joints_are_as_they_should_be() -> None:
    for sheet in demo_archive().sheets:
        assert not [one for one in sheet.findings if one.about == "The finished piece"], sheet.name


def test_a_tight_joint_may_be_said(tmp_path: Path) -> None:
    """Pressed or snapped in, up to 0.25 mm thicker than its hole: common practice, no published source."""
    for tenon, level in (("25 mm", None), ("25.2 mm", Level.NOTE), ("25.4 mm", Level.STOP)):
        sheet = _sheet(tmp_path, cut=PLAIN.format(tenon), more=", tight: It snaps over the rim")
        assert [found.level for found in _joint(sheet)] == ([level] if level else [])


FINDINGS = {
    "profile-left-uncut": (Level.STOP, "8 mm (0.315 in) too thick"),
    "far-end-of-a-through-bore": (None, ""),
}


@pytest.mark.parametrize("name", FINDINGS)
def test_joints_whose_verdict_is_known(name: str, tmp_path: Path) -> None:
    """24 mm of wood left on a tenon of 15.7 stop a joint; a through bore that is only shorter does not."""
    level, says = FINDINGS[name]
    (tmp_path / f"{name}.yml").write_bytes((Path(__file__).parent / "joints" / f"{name}.yml").read_bytes())
    (sheet,) = read_archive(tmp_path, base=tmp_path).sheets
    found = [one for one in sheet.findings if one.about == "The finished piece"]
    assert [one.level for one in found] == ([level] if level else [])
    assert all(says in one.message.replace("\u00a0", " ") for one in found)


STAVES = """
parts:
  tube:
    wood: oak, white
    blank: {{staves: 8, across: 160 mm, inside: 120 mm, long: 150 mm}}
    steps:
      - name: Saw
        hold: {{by: [bench]}}
        cut: [{{stave groove: {{name: croze, at: 20 mm, wide: 10 mm, deep: {deep}}}}}]
        say: Saw it.
  base:
    wood: {wood}
    blank: {{wide: 150 mm, thick: 150 mm, long: {thick}}}
    steps:
      - name: Shape
        hold: {{by: [{hold}]}}
        cut: [{cut}]
        say: Saw it.
assembly:
  joints: [{{put: base, into: tube, groove: croze{more}}}]
"""


def _let_in(folder: Path, **more: str) -> list[tuple[Level, str]]:
    told = {
        "deep": "6 mm", "wood": "oak, white", "thick": "9.5 mm", "hold": "bench", "more": "",
        "cut": "{prism: {flats: 8, across: 129 mm}}",
    } | more  # fmt: skip
    sheet = worked(folder, parts=STAVES.format(**told))
    return [
        (one.level, one.message.replace("\u00a0", " "))
        for one in sheet.findings
        if "croze" in one.message or "base" in one.message
    ]


def test_a_base_with_room_for_four_percent_of_moisture_is_well(tmp_path: Path) -> None:
    """White oak moves by 0.00365 along the rings for 1 percent (Wood Handbook, Table 13-5): 129 mm by 1.88 mm for 4
    percent, and the floor of the groove is 3 mm wider than the base."""
    assert _let_in(tmp_path) == []


@pytest.mark.parametrize(
    ("more", "level", "says"),
    [
        ({"cut": "{prism: {flats: 8, across: 133 mm}}"}, Level.STOP, "1 mm (0.039 in) too wide for the croze"),
        ({"cut": "{prism: {flats: 8, across: 119 mm}}"}, Level.STOP, "does not reach into the croze"),
        ({"cut": "{prism: {flats: 8, across: 131 mm}}"}, Level.MIND, "swells by"),
        ({"thick": "11 mm"}, Level.STOP, "11 mm (0.433 in) thick at its edge, and the croze is 10 mm"),
        ({"thick": "8 mm"}, Level.MIND, "it rattles"),
        ({"thick": "8 mm", "more": ", loose: It lifts out"}, Level.NOTE, "It lifts out"),
        ({"deep": "3 mm", "cut": "{prism: {flats: 8, across: 123.6 mm}}"}, Level.MIND, "comes out of the croze at the"),
        ({"cut": "{cylinder: {diameter: 129 mm}}", "hold": "faceplate"}, Level.NOTE, "leaves gaps"),
    ],
)
def test_a_base_in_its_groove_goes_in_holds_and_may_move(
    more: dict[str, str], level: Level, says: str, tmp_path: Path
) -> None:
    found = _let_in(tmp_path, **more)
    assert [one for one, message in found if says in message] == [level], found


def test_a_base_of_wood_that_no_table_knows_is_not_judged_by_its_movement(tmp_path: Path) -> None:
    assert _let_in(tmp_path, wood="some wood", cut="{prism: {flats: 8, across: 131.9 mm}}") == []
