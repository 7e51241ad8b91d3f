"""Parts as solids: the keys go over whole, numbers agree with formulas, and a wrong dimension is found out."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

import pytest

from handouts_build.compute.project import compute
from handouts_build.compute.solid.measured import carried
from handouts_build.compute.solid.session import SolidSession
from handouts_build.compute.solid.words import said
from handouts_build.quantities import Rule
from handouts_build.schema import ShopKeys, load_file, load_project
from handouts_build.schema.cut_keys import ACCEPTED
from handouts_build.sheet import Sheet
from handouts_build.sheet.findings import Finding, Level
from handouts_build.workpiece import Code, Subject, Thing, Verdict
from tests.projects import demo_archive, worked

PROJECTS = Path(__file__).parents[2] / "projects"


def _carried(name: str, *changes: tuple[str, str], folder: Path) -> tuple[Sheet, SolidSession]:
    """A demo project, with some of its text changed, at its own sizes."""
    text = (PROJECTS / f"{name}.yml").read_text(encoding="utf-8")
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    path = folder / "piece.yml"
    path.write_text(text, encoding="utf-8")
    shop, _ = load_file(ShopKeys, PROJECTS / "shop.yml", "shop.yml")
    project, document = load_project(path, "piece.yml")
    session = SolidSession()
    return compute(project, document, name="piece", folder=folder / "piece", shop=shop, session=session), session


def _stops(sheet: Sheet) -> list[Finding]:
    return [one for one in sheet.findings if one.level is Level.STOP]


DROP = "tenon: {name: tenon, diameter: collar.tenon"
WRONG = {
    # Half of (2 1/4 in − 3/4 in) is 3/4 in of wood over the bore: 15/16 in is 3/16 in too deep.
    "drive holes too deep": (
        ("deep: drive.depth_to_stop", "deep: 15/16 in"),
        ("the drive holes break into the bore over 0.187\u00a0in (4.76\u00a0mm)",),
    ),
    "grooves too wide": (
        ("wide: groove_wide, floor: floor, meets", "wide: 1 1/16 in, floor: floor, meets"),
        ("groove 1 breaks into the drive holes over",),
    ),
    "windows too wide": (
        ("diameter: window_bit, count: ribs", "diameter: 5/8 in, count: ribs"),
        ("the windows break into the drive holes over", "window 1 breaks into window 2 over"),
    ),
    # 3/4 in of wood, drilled 1/2 in deep: 1/4 in stays.
    "windows too shallow": (
        ("reach: axis, first: 180 deg / ribs", "deep: 1/2 in, meets: [bore], first: 180 deg / ribs"),
        ("the windows should meet the bore and do not: 0.25\u00a0in (6.35\u00a0mm) of wood stays",),
    ),
    "floor of the grooves at the bore": (
        ("floor: floor, meets", "floor: bore / 2 + 1/32 in, meets"),
        ("groove 1 breaks into the drive holes over", "it is to be held by drive hole 1, of whose wood 0 % is there"),
    ),
    # The bore is 3/4 in.
    "tenon thicker than its hole": (
        (DROP, DROP.replace("collar.tenon", "13/16 in")),
        ("the tenon of 'drop' is 0.063\u00a0in (1.59\u00a0mm) too thick for the bore",),
    ),
}


@pytest.mark.parametrize("case", WRONG)
def test_a_wrong_dimension_in_the_lantern_is_found_with_both_cuts_and_the_number(case: str, tmp_path: Path) -> None:
    change, wanted = WRONG[case]
    sheet, _ = _carried("lantern", change, folder=tmp_path)
    stops = _stops(sheet)
    for message in wanted:
        assert any(one.message.startswith(message) for one in stops), [one.message for one in stops]
    assert all(one.remedy and one.place.line for one in stops)


def test_every_demo_piece_can_be_made_and_held_as_written() -> None:
    archive = demo_archive()
    assert [one.message for sheet in archive.sheets for one in _stops(sheet)] == []
    assert all(sheet.whole is not None for sheet in archive.sheets)


def test_the_candlesticks_column_is_as_the_formulas_say(tmp_path: Path) -> None:
    """A point of three circles of radius r, set off by d: (√(4r² − 3d²) − d)/2 at the edges, r − d at the faces."""
    sheet, session = _carried("three-sided-candlestick", folder=tmp_path)
    values = {one.name: float(one.value.magnitude) for one in sheet.dimensions}
    part = session.solids["piece"].parts["candlestick"]
    stage = carried(part.plan, session.solids["piece"].shop, part.limits)[3]
    edges = stage.wood.section(75.0)
    corners = [math.hypot(x, y) for x, y in edges[:, 0]]
    middles = [math.hypot(*((start + end) / 2)) for start, end in edges]
    # Circles are drawn with their own area: a radius is out by (π/n)²/3 at most, 0.06 % at 72 sides.
    assert max(corners) == pytest.approx(values["edge"], rel=2e-3)
    assert min(middles) == pytest.approx(values["face"], rel=2e-3)
    assert part.stages[3].radius_before_mm == pytest.approx(values["swing"] / 2, rel=2e-2)


PARTS = """\
parts:
  body:
    wood: maple, sugar
    {more}
    blank: {{round: ball, long: 4 in}}
    steps:
      - name: Turn it
        say: Turn it.
        hold: {hold}
        {step}
        cut: {cut}
"""


def _parts(cut: str, *, hold: str = "{by: [between centers]}", step: str = "show: live", more: str = "") -> str:
    return PARTS.format(cut=cut, hold=hold, step=step, more=more or "grain: along the axis")


def test_weight_and_chips_are_those_of_a_plain_cylinder(tmp_path: Path) -> None:
    """Sugar maple: basic gravity 0.56, shrinks 14.7 percent (Wood Handbook FPL-GTR-282, tables 5-3a and 4-3).

    At 12 percent by equations 4-9, 4-11 and 4-14: 0.56 / (1 − 0.147 × 18/30) × 1.12 g/cm³.
    """
    sheet = worked(tmp_path, parts=_parts("[{cylinder: {diameter: 1 in}}]"))
    stage = sheet.parts[0].steps[0].stage
    assert stage is not None
    facts = {one.name: float(one.value.magnitude) for one in stage.facts}
    left = math.pi / 4 * 25.4**2 * 101.6
    assert facts["weight"] == pytest.approx(left * 0.56e-3 / (1 - 0.147 * 0.6) * 1.12, rel=1e-3)
    assert facts["chips"] == pytest.approx(3 * left, rel=1e-6)


def test_speeds_are_those_of_the_largest_diameter_about_the_axis(tmp_path: Path) -> None:
    """A 4 in blank set off by 1 in swings 6 in.

    Off its axis it is out of balance: it starts where diameter in inches times rpm is 3000, common practice. It is the
    first that is turned of it, so that it is roughed: for 150 mm a bench lathe's manual (S-LATHE) says 360 rpm, which
    is less than those 500.
    """
    parts = _parts(
        "[{cylinder: {diameter: 3 1/2 in}}]",
        hold="{by: [off-axis centers], offset: 1 in, tailstock: true}",
        step="speed: 2000 rpm",
    )
    sheet = worked(tmp_path, sizes="ball: {is: 4 in, says: Ball}", parts=parts)
    limit = sheet.parts[0].steps[0].limit
    assert limit is not None
    assert limit.printed == "360\u00a0rpm"
    (fast,) = (one for one in sheet.findings if "must not exceed" in one.message)
    assert fast.level is Level.MIND
    assert "2,000\u00a0rpm is over the 360\u00a0rpm" in fast.message
    assert "swings 6" in limit.because


THIN = (
    "[{bore: {diameter: 1/2 in, end: right, deep: 2 in}}, "
    "{bore: {name: second, diameter: 3/4 in, end: left, deep: 1.95 in}}]"
)


def test_thin_wood_is_minded_and_with_a_reason_it_is_noted_and_the_reason_printed(tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    hold = "{by: [faceplate], tailstock: true}"
    plain = worked(tmp_path / "a", parts=_parts(THIN, hold=hold))
    (minded,) = (one for one in plain.findings if "of wood is left" in one.message)
    assert minded.level is Level.MIND
    assert minded.message.startswith("only 0.05\u00a0in (1.27\u00a0mm) of wood is left between the second and the bore")
    accepted = worked(tmp_path / "b", parts=_parts(THIN, hold=hold, step="accept: {thin web: It is only a pen.}"))
    (noted,) = (one for one in accepted.findings if "on purpose" in one.message)
    assert noted.level is Level.NOTE
    between = "between the second and the bore. It is only a pen"
    assert noted.message == f"Thin on purpose: 0.05\u00a0in (1.27\u00a0mm) {between}"


def test_what_is_accepted_and_not_found_is_told(tmp_path: Path) -> None:
    parts = _parts("[{cylinder: {diameter: 1 in}}]", step="accept: {overhang: I hold it.}")
    (told,) = worked(tmp_path, parts=parts).findings
    assert (told.level, told.message) == (Level.NOTE, "'overhang' is accepted here, and the solid does not find it")


def test_a_part_without_cuts_has_no_solid(tmp_path: Path) -> None:
    sheet = worked(tmp_path)
    assert sheet.whole is None
    assert [step.stage for step in sheet.steps] == [None]


@pytest.mark.parametrize("code", list(Code))
def test_every_finding_of_the_workpiece_has_words_and_a_remedy(code: Code) -> None:
    names = """left have_mm least_mm most_mm left_mm limit_mm need_mm bit_mm pieces loose_mm3 ratio limit long_mm
        neck_mm out_mm hole_mm free_mm overhang_mm diameter_mm rpm most_rpm radius_mm swing_mm gap_mm across_mm
        mouth_mm deep_mm wide_mm need_mm area_mm2 bore_mm play_mm run_mm have_deg jaws_deg right
        under_mm over_mm"""
    numbers = dict.fromkeys(names.split(), 2.0)
    words = said(Verdict(code, (Thing(Subject.CUT, "windows"), Thing(Subject.CUT, "bore")), numbers), Rule())
    assert words.message
    assert words.remedy
    assert code.value not in ACCEPTED or words.level is Level.MIND
    # Readers cannot accept anything: the author is told so by `check`.
    assert "accept" not in f"{words.message} {words.remedy}"


def test_an_unchanged_part_is_not_carried_again(tmp_path: Path) -> None:
    made: list[str] = []
    kept: dict[str, bytes] = {}

    def recall(told: str, make: Callable[[], bytes]) -> bytes:
        if told not in kept:
            made.append(told)
            kept[told] = make()
        return kept[told]

    path = tmp_path / "piece.yml"
    path.write_text((PROJECTS / "spinning-tops.yml").read_text(encoding="utf-8"), encoding="utf-8")
    shop, _ = load_file(ShopKeys, PROJECTS / "shop.yml", "shop.yml")
    project, document = load_project(path, "piece.yml")
    sheets = [
        compute(project, document, name="piece", folder=tmp_path / "piece", shop=shop, session=SolidSession(recall))
        for _ in range(2)
    ]
    assert len(made) == 3  # disk, stem, and both together
    assert sheets[0] == sheets[1]


def test_a_box_falls_off_its_lid_and_goes_together_again(tmp_path: Path) -> None:
    sheet, session = _carried("lidded-box", folder=tmp_path)
    lid, box = sheet.parts
    assert (lid.falls_off, box.falls_off) == ("", "lid")
    together = session.together["piece"]
    values = {one.name: float(one.value.magnitude) for one in sheet.dimensions}
    sizes = {one.name: float(one.value.magnitude) for one in sheet.sizes}
    facts = {one.name: float(one.value.magnitude) for one in together.whole.facts}
    # Body and lid one on the other: nothing of either is lost but the parting cut.
    assert facts["long"] == pytest.approx(sizes["body"] + sizes["lid"], abs=0.01)
    assert values["seat"] > values["inside"]
    # Closed, the spigot is within the lid, and the parting cut is gone: so much of the grain is missing.
    assert facts["grain"] == pytest.approx(sizes["spigot_long"] + values["cut"], abs=0.01)


def test_the_lantern_hangs_plumb_and_weighs_what_its_woods_do(tmp_path: Path) -> None:
    _, session = _carried("lantern", folder=tmp_path)
    facts = {one.name: float(one.value.magnitude) for one in session.together["piece"].whole.facts}
    assert facts["tilt"] == pytest.approx(0, abs=1e-3)
    parts = session.solids["piece"].parts
    by_hand = sum(one.stages[-1].volume_mm3 * (one.densities[-1] or 0) for one in parts.values())
    assert facts["weight"] == pytest.approx(by_hand, rel=1e-6)


def test_green_wood_weighs_less_from_the_step_that_dries_it(tmp_path: Path) -> None:
    """Black cherry: basic specific gravity 0.47, green heartwood 58 percent (Wood Handbook tables 5-3a and 4-1)."""
    _, session = _carried("twice-turned-bowl", folder=tmp_path)
    densities = session.solids["piece"].parts["bowl"].densities
    assert densities[1] == pytest.approx(0.47e-3 * 1.58, rel=0.02)
    assert densities[4] == pytest.approx(0.50e-3 * 1.12, rel=0.02)


def test_air_in_the_grooves_calls_for_its_box_at_that_step(tmp_path: Path) -> None:
    sheet, _ = _carried("lantern", folder=tmp_path)
    grooves = [step for step in sheet.steps if "groove" in step.name.lower()]
    assert grooves
    assert all("broken-cut" in {box.id for box in step.boxes} for step in grooves)


def test_a_meeting_that_a_later_step_misses_is_told_at_the_cut_that_says_it(tmp_path: Path) -> None:
    """The step that makes the other cut may have fewer cuts than the one before it."""
    sheet = worked(
        tmp_path,
        parts="""\
parts:
  body:
    wood: maple, sugar
    blank: {round: 3 in, long: 4 in}
    steps:
      - name: First
        say: Turn it.
        hold: {by: [chuck], deep: 1/2 in}
        cut:
          - bore: {name: opening, diameter: 3/8 in, end: right, deep: 1/2 in}
          - holes: {name: early, diameter: 1/8 in, count: 1, at: 3 in, deep: 1/4 in, meets: [late]}
      - name: Second
        say: Drill it.
        hold: {by: [hand]}
        cut:
          - holes: {name: late, diameter: 1/8 in, count: 1, at: 2 in, deep: 1/4 in}
""",
    )
    (missing,) = [one for one in sheet.findings if "should meet" in one.message]
    assert missing.place.path.endswith("steps[0].cut[1].holes")
