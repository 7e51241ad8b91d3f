"""The sheet: workings and their proof, findings, author text, pictures; the same each time."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from handouts_build.quantities import UNITS, inches
from handouts_build.schema.models import WORKINGS
from handouts_build.sheet import Level
from tests.projects import PARTS, problems, worked

# --- workings and their proof ----------------------------------------------------------------------------------------


def test_an_octagon_is_worked_as_a_regular_octagon_about_a_circle(tmp_path: Path) -> None:
    """CRC Standard Mathematical Tables, regular polygons: side = 2 r tan(180°/n) (from memory of the tables)."""
    sheet = worked(tmp_path, workings="octagon: {chapter: sphere by facets, diameter: ball}")
    values = sheet.group("octagon").values
    assert values["side"].m_as(UNITS["in"]) == pytest.approx(2 * math.tan(math.pi / 8), rel=1e-12)
    assert values["setback"].m_as(UNITS["in"]) == pytest.approx(2 * (2 - math.sqrt(2)) / 2, rel=1e-12)


def test_each_dimension_shows_formula_numbers_result_rounding_and_source(tmp_path: Path) -> None:
    sheet = worked(tmp_path, workings="octagon: {chapter: sphere by facets, diameter: ball}")
    side = next(one for one in sheet.dimensions if one.name == "octagon.side")
    assert side.working.symbol
    assert "D" in side.working.formula
    assert "2\u00a0in" in side.working.numbers
    assert side.working.result == "0.8284\u00a0in"
    assert side.working.rounding
    assert side.working.source is not None
    assert side.tree


def test_a_remedy_has_its_numbers_put_in_and_a_page_can_put_in_others(tmp_path: Path) -> None:
    """The end circle of an octagon about 2 in is 0.8284 in across; a tenon of 7/8 in does not go into it."""
    given = "diameter: ball, tenon: 7/8 in, tenon long: 3/8 in"
    sheet = worked(tmp_path, workings=f"octagon: {{chapter: sphere by facets, {given}}}")
    (found,) = (one for one in sheet.findings if "does not fit in the end circle" in one.message)
    assert found.remedy.startswith("make the tenon 27/32\u00a0in (21.5\u00a0mm) across or less")
    (condition,) = (one for one in sheet.group("octagon").conditions if "does not fit" in one.message)
    assert condition.remedy.startswith("make the tenon {octagon.side} across or less")


def test_a_remark_knows_the_values_it_rests_on(tmp_path: Path) -> None:
    """How many mountings there are follows from the ribs; how deep the grooves are does not change it."""
    given = "ribs: 6, diameter: ball, wide: 1/2 in, deep: 1/4 in"
    sheet = worked(tmp_path, workings=f"""
        grooves: {{chapter: cross-axis groove, {given}}}
        around: {{chapter: divisions, divisions: 12, diameter: ball}}
    """)  # fmt: skip
    mountings = next(one for one in sheet.group("grooves").remarks if "mountings" in one.text)
    assert mountings.rests_on == ("grooves.ribs",)
    adding = next(one for one in sheet.group("around").remarks if one.text.startswith("Dividers at"))
    assert {"around.closing", "around.setting", "around.strip", "rule"} <= set(adding.rests_on)


def test_a_dimension_that_lies_on_a_mark_was_not_rounded(tmp_path: Path) -> None:
    (half,) = worked(tmp_path, dimensions="half: {formula: ball / 2, says: Half}").dimensions
    assert half.working.rounding == ""
    assert half.working.numbers == "2\u00a0in / 2"
    assert str(half.printed) == "1\u00a0in (25.5\u00a0mm)"


@pytest.mark.parametrize(("err", "text"), [("over", "1 11/32"), ("under", "1 5/16"), ("nearest", "1 11/32")])
def test_a_dimension_errs_to_the_side_it_says(err: str, text: str, tmp_path: Path) -> None:
    (third,) = worked(tmp_path, dimensions=f"third: {{formula: ball * 2 / 3, says: It, err: {err}}}").dimensions
    assert third.printed.lead == f"{text} in".replace(" ", "\u00a0")
    assert ("over" if third.printed.rounded > third.value else "under") in third.working.rounding


def test_every_chapter_can_be_reached_from_a_project_file(tmp_path: Path) -> None:
    """A working with nothing but its chapter is told what it lacks, and nothing else."""
    for chapter, model in WORKINGS.items():
        needed = {field.alias for field in model.model_fields.values() if field.is_required()} - {"chapter"}
        found = problems(tmp_path, workings=f"it: {{chapter: {chapter}}}")
        assert {problem.message for problem in found} == {f"'{key}' is missing" for key in needed}
        assert all(problem.hint for problem in found)


# --- findings --------------------------------------------------------------------------------------------------------


def test_a_condition_of_the_authors_that_fails_stops_the_piece(tmp_path: Path) -> None:
    keep = "keep:\n  - {that: ball >= 3 in, says: Too small to hold., remedy: Take {ball} again.}\n".replace(
        "{ball}", "more"
    )
    sheet = worked(tmp_path, extra=keep)
    (finding,) = sheet.findings
    assert finding.level is Level.STOP
    assert sheet.stopped
    assert finding.message == "Too small to hold. (it must be that ball >= 3 in)"
    assert finding.place.path == "keep[0].that"
    assert not worked(tmp_path, extra=keep.replace("3 in", "2 in")).findings


PROFILE = "rod: {says: Rod, part: body, along: [cylinder: {diameter: %s, long: %s}]}"


@pytest.mark.parametrize(
    ("diameter", "long", "said"),
    [
        ("3 in", "4 in", ()),
        ("3 1/16 in", "4 in", ("thick",)),
        ("3 in", "4 1/16 in", ("long",)),
        ("5 in", "5 in", ("long", "thick")),
    ],
)
def test_a_profile_larger_than_its_blank_stops_the_piece(
    diameter: str, long: str, said: tuple[str, ...], tmp_path: Path
) -> None:
    sheet = worked(tmp_path, profiles=PROFILE % (diameter, long))
    stops = [finding.message for finding in sheet.findings if finding.level is Level.STOP]
    assert len(stops) == len(said)
    assert all(any(word in message for message in stops) for word in said)


def test_a_bit_that_the_shop_lacks_is_noted(tmp_path: Path) -> None:
    holes = "holes: {chapter: cross holes, holes: 6, bit: 1/4 in, diameter: ball, bore: 3/4 in}"
    (tmp_path / "shop.yml").write_text("bits: [1/8 in]\n", encoding="utf-8")
    (note,) = (finding for finding in worked(tmp_path, workings=holes).findings if finding.level is Level.NOTE)
    assert "no bit of 1/4" in note.message
    (tmp_path / "shop.yml").write_text("bits: [6.35 mm]\n", encoding="utf-8")
    assert not [finding for finding in worked(tmp_path, workings=holes).findings if finding.level is Level.NOTE]


def test_findings_come_gravest_first(tmp_path: Path) -> None:
    (tmp_path / "shop.yml").write_text("bits: [1 in]\n", encoding="utf-8")
    sheet = worked(
        tmp_path,
        workings="holes: {chapter: cross holes, holes: 8, bit: 5/16 in, diameter: ball, bore: 3/4 in}",
        profiles=PROFILE % ("1/16 in", "3 in"),
    )
    levels = [list(Level).index(finding.level) for finding in sheet.findings]
    assert len(set(levels)) == 3
    assert levels == sorted(levels)


# --- author text -----------------------------------------------------------------------------------------------------


def test_text_becomes_paragraphs_of_runs_with_values_and_emphasis(tmp_path: Path) -> None:
    step = """name: Turn *it* to {ball}
        say: |
          Go *slowly* to
          { ball }.

          * not this * nor 2*3."""
    parts = PARTS.replace("{name: Turn it, say: Turn it.}", step)
    (step,) = worked(tmp_path, parts=parts).steps
    assert step.name == "Turn it to 2\u00a0in (51\u00a0mm)"
    first, second = step.say
    assert [(run.text, run.style) for run in first] == [
        ("Go ", "plain"),
        ("slowly", "emphasis"),
        (" to ", "plain"),
        ("2\u00a0in (51\u00a0mm)", "value"),
        (".", "plain"),
    ]
    assert [(run.text, run.style) for run in second] == [("* not this * nor 2*3.", "plain")]


def test_steps_are_counted_through_all_parts_and_tools_named_once(tmp_path: Path) -> None:
    parts = """
        parts:
          one:
            wood: ash
            blank: {round: 2 in, long: 3 in}
            steps: [{name: A, say: A., tools: [gouge, rule], minutes: 4}]
          two:
            wood: ash
            blank: {wide: 2 in, thick: 1 in, long: 3 in}
            steps: [{name: B, say: B., tools: [rule, masking tape], minutes: 2.5}]
    """
    sheet = worked(tmp_path, parts=parts, extra="supplies: [Masking tape, wax]\n")
    assert [step.number for step in sheet.steps] == [1, 2]
    assert sheet.tools == ("gouge", "rule"), "a list to tick has nothing twice"
    assert tuple(sheet.steps)[1].tools == ("rule", "masking tape")
    assert sheet.woods == ("ash",)
    assert sheet.minutes == 6.5
    assert [part.blank.shape for part in sheet.parts] == ["round", "board"]
    assert [what for what, _, _ in sheet.parts[1].blank.sides] == ["width", "thickness", "length"]


def test_a_blank_is_printed_over(tmp_path: Path) -> None:
    sheet = worked(tmp_path, parts=PARTS.replace("3 in, long", "2.01 in, long"))
    _, value, printed = sheet.parts[0].blank.sides[0]
    assert printed.rounded > value
    assert printed.lead == "2\u00a01/32\u00a0in"


# --- pure ------------------------------------------------------------------------------------------------------------


def test_the_same_project_gives_the_same_sheet(tmp_path: Path) -> None:
    (tmp_path / "projects").mkdir()
    demo = Path(__file__).parents[2] / "projects" / "lantern.yml"
    from handouts_build.site.build import read_projects

    one, two = (read_projects([demo], base=demo.parent).sheets[0] for _ in range(2))
    assert one == two


def test_a_picture_is_found_in_the_projects_own_folder(tmp_path: Path) -> None:
    (tmp_path / "piece" / "more").mkdir(parents=True)
    for name in ("a.JPG", "more/b.webp"):
        (tmp_path / "piece" / name).write_bytes(b"x")
    listed = "pictures:\n  - {file: a.JPG, shows: A}\n  - {file: more/b.webp, shows: 'B at {ball}'}\n"
    one, two = worked(tmp_path, extra=listed).pictures
    assert one.path == tmp_path / "piece" / "a.JPG"
    assert (two.file, two.shows) == ("more/b.webp", "B at 2\u00a0in (51\u00a0mm)")


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("b.jpg", "there is no picture"),
        ("a.svg", "not a picture that can be shown"),
        ("../piece.yml", "outside"),
        ("a/../../piece.yml", "outside"),
        ("more\\b.jpg", "outside"),
        (".", "not a picture"),
    ],
)
def test_what_is_no_picture_of_the_projects_is_a_problem(name: str, message: str, tmp_path: Path) -> None:
    (tmp_path / "piece").mkdir()
    (tmp_path / "piece" / "a.jpg").write_bytes(b"x")
    (problem,) = problems(tmp_path, extra=f"pictures:\n  - {{file: '{name}', shows: It}}\n")
    assert message in problem.message
    if name == "b.jpg":
        assert problem.hint == "did you mean 'a.jpg'?"


def test_inches_are_not_lost_on_the_way(tmp_path: Path) -> None:
    (size,) = worked(tmp_path, sizes="ball: {is: 3/8 in, says: It}").sizes
    assert size.value == inches(0.375)
    assert size.value.magnitude == 9.525
