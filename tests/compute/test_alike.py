"""Parts made several times alike, jigs, and steps that wait: what follows from them on the sheet.

Lengths and times are sums worked by hand. The weight of a stick is its volume times the density of the Wood Handbook's
equation for 12 percent moisture, which the chapter `wood` is tested for; here it is one stick against four.
"""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent

import pytest

from handouts_build.figures.arrangement import general_arrangement
from handouts_build.outputs.words import set_times, times, waiting
from handouts_build.quantities import UNITS
from handouts_build.sheet import Sheet
from tests.projects import worked

LEG = """\
parts:
  leg:
    says: The leg
    wood: ash, white
    {keys}
    blank: {{square: 1 3/4 in, long: 10 in}}
    steps:
      - {{name: Round it, say: "Make {{leg.count}} of it.", hold: {{by: [between centers]}},
         minutes: {{likely: 10, setup: 3}}, cut: [{{cylinder: {{diameter: 1 1/2 in}}}}], speed: 800 rpm}}
      - {{name: Seal it, say: Seal it., minutes: 4, wait: 2 days}}
      - {{name: Oil it, say: Oil it., minutes: 5, wait: 90 min}}
"""
JIG = """\
  {name}:
    says: {says}
    jig: true
    wood: any scrap
    blank: {blank}
    steps:
      - {{name: Make it, say: Make it., minutes: 30, wait: 12 h{more}}}
"""


def legs(folder: Path, keys: str, jigs: str = "", **maps: str) -> Sheet:
    return worked(folder, parts=LEG.format(keys=keys) + jigs, **maps)


def facts(sheet: Sheet) -> dict[str, float]:
    assert sheet.whole is not None
    return {fact.name: float(fact.value.magnitude) for fact in sheet.whole.facts}


def test_a_stick_is_told_whatever_the_length_of_its_formula(tmp_path: Path) -> None:
    """Two of 10 in and a kerf of 1/8 in between them are 20 1/8 in."""
    long = "10 in + 0 in" + " + 0 in" * 40
    sheet = worked(
        tmp_path, parts=LEG.format(keys="count: 4\n    per stick: 2").replace("long: 10 in", f"long: {long}")
    )
    assert 280 < len(long) <= 300
    (stick,) = (row for row in sheet.dimensions if row.name == "leg.stick")
    assert stick.value.m_as("mm") == pytest.approx(20.125 * 25.4)


@pytest.mark.parametrize("count", [2, 4, 6, 100])
def test_setting_up_counts_once_and_the_rest_for_each(tmp_path: Path, count: int) -> None:
    sheet = legs(tmp_path, f"count: {count}")
    assert sheet.minutes == 3 + count * (7 + 4 + 5)
    assert list(set_times(sheet)) == [(f"Time for each of {count}", 16, 3)]
    assert dict(times(sheet)) == {"Time to make them": sheet.minutes, "Time to show one": 19}
    assert sheet.parts[0].count == count
    (first, *_) = sheet.steps
    assert "".join(run.text for run in first.say[0]) == f"Make {count} of it."


def test_a_part_without_a_count_is_as_it_was(tmp_path: Path) -> None:
    sheet = worked(tmp_path, parts=LEG.format(keys="grain: along the axis").replace("{leg.count}", "one"))
    assert sheet.minutes == 19
    assert not list(set_times(sheet))
    assert not [row for row in sheet.dimensions if row.name.startswith("leg.")]
    assert "each" not in facts(sheet)


def test_a_set_weighs_as_often_as_it_is_made(tmp_path: Path) -> None:
    told = facts(legs(tmp_path, "count: 4"))
    assert told["weight"] == pytest.approx(4 * told["each"], rel=1e-12)


def test_the_drawing_says_how_many(tmp_path: Path) -> None:
    sheet = legs(tmp_path, "count: 6")
    figure = general_arrangement(sheet)
    assert figure is not None
    assert "Make 6, all alike." in figure.svg.replace("\N{NO-BREAK SPACE}", " ")
    assert "Make 6, all alike." in figure.alt


@pytest.mark.parametrize(("several", "long_in"), [(2, 20.125), (3, 30.25), (4, 40.375)])
def test_several_to_a_length_take_the_saw_cuts_between_them(tmp_path: Path, several: int, long_in: float) -> None:
    """n blanks end to end need n lengths and n - 1 cuts of 1/8 in."""
    sheet = legs(tmp_path, f"count: 4\n    per stick: {several}")
    (row,) = (row for row in sheet.dimensions if row.name == "leg.stick")
    assert row.value.m_as(UNITS["mm"]) == pytest.approx(25.4 * long_in)


def test_the_count_follows_a_size(tmp_path: Path) -> None:
    sheet = legs(tmp_path, "count: legs", sizes="legs: {is: 3, says: Legs, choices: [3, 4]}")
    assert sheet.parts[0].count == 3
    (row,) = (row for row in sheet.dimensions if row.name == "leg.count")
    assert row.tree == ["name", "legs"]


def test_a_profile_may_have_the_name_of_a_part_that_is_counted(tmp_path: Path) -> None:
    outline = "leg: {says: Outline, part: leg, along: [{cylinder: {diameter: 1 in, long: 9 in}}]}"
    sheet = legs(tmp_path, "count: 4", profiles=outline)
    assert {"leg.count", "leg.length"} <= {row.name for row in sheet.dimensions}


def test_waits_are_told_beside_the_minutes(tmp_path: Path) -> None:
    sheet = legs(tmp_path, "count: 4")
    assert sheet.waits == 2 * 24 * 60 + 90
    assert waiting(sheet).replace("\N{NO-BREAK SPACE}", " ") == "49 h 30 min"


KINDS = {
    "jam_chuck": (
        "Jam chuck",
        "{round: 3 in, long: 2 in}",
        (
            ", hold: {by: [chuck], deep: 3/4 in}, speed: 500 rpm, "
            "cut: [{recess: {diameter: 1 1/2 in, deep: 1/2 in, end: right}}]"
        ),
    ),
    "donut": (
        "Donut",
        "{round: 8 in, long: 3/4 in}",
        ", hold: {by: [faceplate]}, speed: 150 rpm, cut: [{bore: {diameter: 3 in, end: right}}]",
    ),
    "dowel": (
        "Drilling support: split dowel",
        "{round: 1 in, long: 6 in}",
        ", hold: {by: [bench]}, cut: [{flat: {distance: 1/16 in, angle: 0 deg, start: 1 in, end: 6 in}}]",
    ),
    "cradle": ("Cradle", "{wide: 4 in, thick: 2 in, long: 12 in}", ""),
    "gauge": ("Gauge", "{wide: 3 in, thick: 1/4 in, long: 5 in}", ""),
}


@pytest.mark.parametrize("name", KINDS)
def test_a_jig_is_worked_out_and_is_no_part_of_the_piece(tmp_path: Path, name: str) -> None:
    says, blank, more = KINDS[name]
    (tmp_path / "with").mkdir()
    (tmp_path / "without").mkdir()
    jig = JIG.format(name=name, says=f'"{says}"', blank=blank, more=more)
    sheet, plain = legs(tmp_path / "with", "count: 4", jig), legs(tmp_path / "without", "count: 4")
    assert [part.title for part in sheet.jigs] == [says]
    assert [part.name for part in sheet.parts] == ["leg"]
    assert [step.number for step in sheet.every_step] == [1, 2, 3, 4]
    # Its wood is nobody's business, and what is found is what was found without it.
    of_piece = [found for found in sheet.findings if "Step 4" not in found.about]
    assert [(found.about, found.message) for found in of_piece] == [
        (found.about, found.message) for found in plain.findings
    ]
    assert not [found for found in sheet.findings if "Step 4" in found.about]
    assert (sheet.minutes, sheet.waits, sheet.woods, sheet.tools) == (
        plain.minutes, plain.waits, plain.woods, plain.tools,
    )  # fmt: skip
    assert facts(sheet) == facts(plain)
    assert [box.id for box in sheet.boxes] == [box.id for box in plain.boxes]


def test_a_stretch_that_is_left_square_is_dimensioned_by_its_side(tmp_path: Path) -> None:
    """The diagonal of a square is its side times the root of two; calipers would find that across its corners."""
    parts = """\
    parts:
      post:
        wood: ash, white
        blank: {square: 50 mm, long: 200 mm}
        steps:
          - {name: Turn it, say: Turn it., hold: {by: [between centers]}, speed: 800 rpm,
             cut: [{cylinder: {diameter: 40 mm, start: 80 mm, end: 200 mm}}]}
    """
    sheet = worked(tmp_path, parts=dedent(parts))
    assert sheet.whole is not None
    assert sheet.whole.arrangement is not None
    (square,) = sheet.whole.arrangement.squares
    assert square.printed.mm == 50
    assert 0 < square.at[0] < 80
    assert all(2 * each.at[1] == pytest.approx(40, rel=0.003) for each in sheet.whole.arrangement.diameters)
