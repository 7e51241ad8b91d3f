"""A step's speed is its author's, and must not exceed the least of what bounds it, said or shown.

Diameter in inches times rpm at most 9000, a third of that for what is out of balance and half for what is weak or
weakly held: common practice, no published source. A lathe's manual (S-LATHE) prints 1510, 850 and 360 rpm for roughing
to 50, to 150 and over 150 mm, and 2180, 1510, 1230, 850 and 360 for general cuts to 50, 100, 150, 200 and 320 mm.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from handouts_build.compute.speed_limits import of_blank, speed_limit
from handouts_build.sheet import Level, Sheet
from handouts_build.tables.caution_facts import Fact
from tests.projects import demo_archive, demo_project, demo_steps, vocabulary, with_word, worked

PART = """\
parts:
  body:
    wood: maple, sugar
    blank: {blank}
    steps:
"""
CENTERS = "{by: [between centers]}"


def part(folder: Path, blank: str, *steps: str, **keys: str) -> Sheet:
    lines = "".join(f"      - {{name: Step {at}, say: Do it., {step}}}\n" for at, step in enumerate(steps))
    return worked(folder, parts=PART.format(blank=blank) + lines, **keys)


def limits(sheet: Sheet) -> list[str]:
    return [step.limit.printed.replace("\u00a0", " ") if step.limit else "" for step in sheet.steps]


def reasons(sheet: Sheet) -> list[str]:
    return [step.limit.because if step.limit else "" for step in sheet.steps]


def swings(sheet: Sheet) -> list[list[float]]:
    stages = [step.stage for step in sheet.steps if step.stage is not None]
    return [[float(one.value.magnitude) / 25.4 for one in stage.facts if one.name == "swing"] for stage in stages]


def judged(sheet: Sheet) -> list[tuple[Level, str]]:
    return [(one.level, one.message) for one in sheet.findings if "must not exceed" in one.message]


def test_a_square_is_roughed_at_what_a_lathes_manual_prints(tmp_path: Path) -> None:
    """6 in square swings 8.485 in, 215.5 mm: 360 rpm."""
    rough = f"hold: {CENTERS}, work: [roughing], cut: [{{cylinder: {{diameter: 6 in}}}}], speed: 1000 rpm"
    sheet = part(tmp_path, "{square: 6 in, long: 5 in}", rough)
    assert limits(sheet) == ["360 rpm"]
    ((level, message),) = judged(sheet)
    assert level is Level.MIND
    assert "for roughing where it swings 8 1/2 in" in message.replace("\u00a0", " ")


def test_a_round_swings_what_it_was_turned_to_and_a_square_its_diagonal(tmp_path: Path) -> None:
    """Neither the corners a circle is drawn with nor the steps before it change that: 2.5 sqrt(2) is 3.5355."""
    one, two, three = (
        f"hold: {CENTERS}, speed: 500 rpm, cut: [{{cylinder: {{diameter: {size}}}}}]"
        for size in ("2 in", "1 3/4 in", "1 1/2 in")
    )
    sheet = part(tmp_path, "{square: 2 1/2 in, long: 5 in}", one, two, three)
    assert swings(sheet) == [[pytest.approx(size, abs=1e-6)] for size in (2.5 * 2**0.5, 2, 1.75)]


@pytest.mark.parametrize(("rpm", "told"), [(1510, 0), (1520, 1)])
def test_a_small_square_is_bounded_by_the_manual_until_the_author_calls_it_unbalanced(
    tmp_path: Path, rpm: int, told: int
) -> None:
    rough = f"hold: {CENTERS}, cut: [{{cylinder: {{diameter: 3/4 in}}}}], speed: {rpm} rpm"
    sheet = part(tmp_path, "{square: 3/4 in, long: 5 in}", rough)
    assert len(judged(sheet)) == told
    assert limits(sheet) == ["1,510 rpm"]
    for word in ("not yet round", "out of balance", "natural edge"):
        assert limits(part(tmp_path, "{square: 3/4 in, long: 5 in}", f"{rough}, shape: [{word}]")) == ["1,000 rpm"]


def test_once_it_is_round_it_may_turn_as_the_manual_has_it(tmp_path: Path) -> None:
    steps = (
        f"hold: {CENTERS}, cut: [{{cylinder: {{diameter: 6 in}}}}], speed: 350 rpm",
        f"hold: {CENTERS}, cut: [{{cylinder: {{diameter: 5 in}}}}], speed: 850 rpm",
    )
    sheet = part(tmp_path, "{square: 6 in, long: 5 in}", *steps)
    assert limits(sheet) == ["360 rpm", "850 rpm"]
    assert not judged(sheet)


def test_corners_that_the_jaws_close_on_do_not_count(tmp_path: Path) -> None:
    hold = "{by: [chuck], deep: 1 in, tailstock: true}"
    steps = (
        f"hold: {hold}, cut: [{{cylinder: {{diameter: 3 in, start: 1 in}}}}]",
        f"hold: {hold}, cut: [{{cylinder: {{diameter: 2 in, start: 1 in}}}}]",
    )
    long = part(tmp_path, "{square: 3 in, long: 5 in}", *steps)
    assert reasons(long)[1].startswith("one lathe's manual, for turning")
    shallow = part(
        tmp_path, "{square: 3 in, long: 5 in}", *(step.replace("deep: 1 in", "deep: 1/2 in") for step in steps)
    )
    assert reasons(shallow)[1].startswith("one lathe's manual, for roughing")


def test_a_branch_starts_slow_until_its_bark_is_turned_away(tmp_path: Path) -> None:
    steps = (
        f"hold: {CENTERS}, cut: [{{tenon: {{diameter: 2 in, long: 1/2 in, end: left}}}}], speed: 2000 rpm",
        f"hold: {CENTERS}, cut: [{{cylinder: {{diameter: 2 3/4 in}}}}]",
        f"hold: {CENTERS}, cut: [{{cylinder: {{diameter: 2 1/2 in}}}}]",
    )
    sheet = part(tmp_path, "{branch: 3 in, bark: 1/8 in, long: 6 in}", *steps)
    # The manual's 850 rpm for roughing is less than the 1000 that an unbalanced blank of 3 in may start at.
    assert limits(sheet) == ["850 rpm", "850 rpm", "1,510 rpm"]
    assert len(judged(sheet)) == 1


def test_a_ring_that_is_bored_has_a_swing_a_start_and_a_finding(tmp_path: Path) -> None:
    """12 segments, 8 in over the flats: 8 / cos 15 degrees is 8.282 in; 3000 / 8.282 is 362.

    9000 / 8.282 is 1086, and 3000 is more than twice that. A hole of 5 1/4 in is bored and not drilled.
    """
    bore = "hold: {by: [glue block]}, cut: [{bore: {diameter: 5 1/4 in, end: right}}], speed: 3000 rpm"
    sheet = part(tmp_path, "{segments: 12, across: 8 in, inside: 5 in, long: 2 in}", bore)
    assert limits(sheet) == ["360 rpm"]
    assert swings(sheet) == [[pytest.approx(8.2822, abs=1e-4)]]
    assert [level for level, _ in judged(sheet)] == [Level.STOP]


def test_a_step_that_drills_is_bounded_by_the_bit_whatever_it_says(tmp_path: Path) -> None:
    """500 in times rpm over the bit's inches, common practice: 500 rpm for a bit of 1 in."""
    drill = "hold: {by: [chuck], deep: 1 in}, WORK cut: [{bore: {diameter: 1 in, end: right, deep: 1 in}}]"
    for work in ("", "work: [drilling],", "work: [boring],", "work: [drilling, spindle turning, sanding],"):
        sheet = part(tmp_path, "{round: 2 in, long: 4 in}", drill.replace("WORK", work))
        assert limits(sheet) == ["500 rpm"]
        assert reasons(sheet) == ["the bit is 1\u00a0in (25.5\u00a0mm)"]


def test_sanding_has_no_row_in_the_manual_and_wood_at_rest_no_limit_at_all(tmp_path: Path) -> None:
    steps = (
        f"hold: {CENTERS}, cut: [{{cylinder: {{diameter: 6 in}}}}]",
        f"hold: {CENTERS}, work: [sanding], speed: 3200 rpm",
        f"hold: {CENTERS}, work: [finishing]",
        "hold: {by: [bench]}, cut: [{holes: {diameter: 1/4 in, count: 2, at: 2 in, reach: axis}}]",
    )
    sheet = part(tmp_path, "{round: 7 in, long: 4 in}", *steps)
    assert limits(sheet)[1:] == ["1,500 rpm", "", ""]
    assert [bool(swing) for swing in swings(sheet)] == [True, True, False, False]
    assert [level for level, _ in judged(sheet)] == [Level.STOP]


@pytest.mark.parametrize("across", ["8 in", "12 in", "7 in", "3 in", "200 mm", "11 in"])
def test_a_speed_at_which_diameter_times_rpm_is_just_9000_is_not_over_it(tmp_path: Path, across: str) -> None:
    number, unit = across.split()
    most = math.floor(9000 / (float(number) / (25.4 if unit == "mm" else 1)) + 1e-9)
    for speed, told in ((most, 0), (most + 1, 1)):
        step = f"hold: {CENTERS}, work: [sanding], speed: {speed} rpm"
        sheet = part(tmp_path, f"{{round: {across}, long: 4 in}}", step)
        assert len(judged(sheet)) == told
        assert ("rim-speed" in {box.id for box in sheet.parts[0].steps[0].boxes}) is (told == 1)


def test_a_half_log_that_is_out_of_balance_is_not_told_600_to_900(tmp_path: Path) -> None:
    """3000 / 10: said to be out of balance, with a solid and without one."""
    rough = f"hold: {CENTERS}, work: [roughing], shape: [out of balance], speed: 600 rpm"
    for cut in ("", ", cut: [{cylinder: {diameter: 9 1/2 in}}]"):
        sheet = part(tmp_path, "{round: 10 in, long: 5 in}", rough + cut)
        assert limits(sheet) == ["300 rpm"]
        assert [level for level, _ in judged(sheet)] == [Level.MIND]


def test_a_weak_hold_a_long_overhang_and_the_lathe_bound_a_speed(tmp_path: Path) -> None:
    # Neither is roughed: what is first turned of the outside of a part is bounded lower than by its hold.
    bored = "cut: [{recess: {diameter: 1 in, deep: 1/8 in, end: right}}], speed: 900 rpm"
    held = "accept: {overhang: It is so., short grip: It is so.}"
    jam = "hold: {by: [jam chuck], deep: 1/4 in}, work: [sanding], speed: 900 rpm"
    assert reasons(part(tmp_path, "{round: 4 in, long: 3 in}", jam))[0].startswith("a jam chuck holds by friction")
    out = part(tmp_path, "{round: 2 in, long: 16 in}", f"hold: {{by: [chuck], deep: 1 in}}, {bored}, {held}")
    assert limits(out) == ["1,500 rpm"]
    (tmp_path / "shop.yml").write_text("lathe: {speeds: {least: 100 rpm, most: 900 rpm}}\n", encoding="utf-8")
    lathe = part(tmp_path, "{round: 2 in, long: 4 in}", f"hold: {CENTERS}, work: [sanding], speed: 900 rpm")
    assert (limits(lathe), reasons(lathe)) == (["900 rpm"], ["the lathe turns no faster"])


@pytest.mark.parametrize("fact", [Fact.SHAPE, Fact.CONDITION, Fact.OPERATION, Fact.HOLD])
def test_no_word_of_any_vocabulary_lets_a_step_go_faster(fact: Fact) -> None:
    """Every word is added to every demo step that turns, on the bounds themselves."""
    checked = 0
    for sheet in demo_archive().sheets:
        project = demo_project(sheet.name)
        for part_, step, made in demo_steps(sheet, project):
            before = of_blank(part_, step, blank=made.blank, bits_mm=(), lathe_rpm=None)
            if before is None or (fact is Fact.HOLD and step.hold is None):
                continue
            least = speed_limit(before, sheet.rule).rpm
            for word in sorted(vocabulary(fact)):
                wider, said = with_word(part_, step, fact, word)
                after = of_blank(wider, said, blank=made.blank, bits_mm=(), lathe_rpm=None)
                assert after is not None
                assert speed_limit(after, sheet.rule).rpm <= least, (sheet.name, step.name, word)
                checked += 1
    assert checked > 400


def test_no_demo_step_exceeds_its_limit_and_every_one_that_turns_has_one() -> None:
    turned = 0
    for sheet in demo_archive().sheets:
        assert not judged(sheet), sheet.name
        for step in sheet.steps:
            if step.speed:
                assert step.limit is not None, step.name
                assert float(step.speed.split("\u00a0")[0].replace(",", "")) <= step.limit.rpm.magnitude, step.name
                turned += 1
    assert turned >= 30
