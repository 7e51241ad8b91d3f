"""The speed of a step is judged for the wood as the step finds it: round or not, drilled or turned.

Diameter in inches times rpm from 6000 to 9000, and half the low end for what is out of balance: common practice, no
published source. A lathe's manual (S-LATHE) prints 1510, 850 and 360 rpm for roughing to 50, to 150 and over 150 mm.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.sheet import Level, Sheet
from tests.projects import worked

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


def windows(sheet: Sheet) -> list[str]:
    stages = [step.stage for step in sheet.steps]
    return ["" if one is None else one.speeds.replace("\u00a0", " ") for one in stages]


def swings(sheet: Sheet) -> list[list[float]]:
    stages = [step.stage for step in sheet.steps if step.stage is not None]
    return [[float(one.value.magnitude) / 25.4 for one in stage.facts if one.name == "swing"] for stage in stages]


def judged(sheet: Sheet) -> list[tuple[Level, str]]:
    return [(one.level, one.message) for one in sheet.findings if "swings" in one.message]


def test_a_square_is_judged_by_where_an_unbalanced_blank_starts(tmp_path: Path) -> None:
    """6 in square swings 8.485 in: 6000 / 8.485 / 2 is 353."""
    rough = f"hold: {CENTERS}, work: [roughing], cut: [{{cylinder: {{diameter: 6 in}}}}], speed: 1000 rpm"
    sheet = part(tmp_path, "{square: 6 in, long: 5 in}", rough)
    assert windows(sheet) == ["start at 350 rpm or slower"]
    ((level, message),) = judged(sheet)
    assert level is Level.MIND
    assert message.startswith("the wood is not yet round and swings 8.485")


def test_a_round_swings_what_it_was_turned_to_and_a_square_its_diagonal(tmp_path: Path) -> None:
    """Neither the corners a circle is drawn with nor the steps before it change that: 2.5 sqrt(2) is 3.5355."""
    one, two, three = (
        f"hold: {CENTERS}, speed: 500 rpm, cut: [{{cylinder: {{diameter: {size}}}}}]"
        for size in ("2 in", "1 3/4 in", "1 1/2 in")
    )
    sheet = part(tmp_path, "{square: 2 1/2 in, long: 5 in}", one, two, three)
    assert swings(sheet) == [[pytest.approx(size, abs=1e-6)] for size in (2.5 * 2**0.5, 2, 1.75)]


@pytest.mark.parametrize(("rpm", "many"), [(1500, 0), (1600, 1)])
def test_a_small_square_is_roughed_at_what_a_lathes_manual_prints(tmp_path: Path, rpm: int, many: int) -> None:
    rough = f"hold: {CENTERS}, cut: [{{cylinder: {{diameter: 3/4 in}}}}], speed: {rpm} rpm"
    sheet = part(tmp_path, "{square: 3/4 in, long: 5 in}", rough)
    assert len(judged(sheet)) == many
    assert windows(sheet) == ["start at 1,000 rpm or slower"]


def test_once_it_is_round_it_has_its_window(tmp_path: Path) -> None:
    steps = (
        f"hold: {CENTERS}, cut: [{{cylinder: {{diameter: 6 in}}}}], speed: 350 rpm",
        f"hold: {CENTERS}, cut: [{{cylinder: {{diameter: 5 in}}}}], speed: 1400 rpm",
    )
    sheet = part(tmp_path, "{square: 6 in, long: 5 in}", *steps)
    assert windows(sheet) == ["start at 350 rpm or slower", "1,000 to 1,500 rpm"]
    assert not judged(sheet)


def test_corners_that_the_jaws_close_on_do_not_count(tmp_path: Path) -> None:
    hold = "{by: [chuck], deep: 1 in, tailstock: true}"
    steps = (
        f"hold: {hold}, cut: [{{cylinder: {{diameter: 3 in, start: 1 in}}}}]",
        f"hold: {hold}, cut: [{{cylinder: {{diameter: 2 in, start: 1 in}}}}]",
    )
    long = part(tmp_path, "{square: 3 in, long: 5 in}", *steps)
    assert windows(long)[1] == "1,410 to 2,120 rpm"
    shallow = part(
        tmp_path, "{square: 3 in, long: 5 in}", *(one.replace("deep: 1 in", "deep: 1/2 in") for one in steps)
    )
    assert windows(shallow)[1] == "start at 700 rpm or slower"


def test_a_branch_starts_slow_until_its_bark_is_turned_away(tmp_path: Path) -> None:
    steps = (
        f"hold: {CENTERS}, cut: [{{tenon: {{diameter: 2 in, long: 1/2 in, end: left}}}}], speed: 2000 rpm",
        f"hold: {CENTERS}, cut: [{{cylinder: {{diameter: 2 3/4 in}}}}]",
        f"hold: {CENTERS}, cut: [{{cylinder: {{diameter: 2 1/2 in}}}}]",
    )
    sheet = part(tmp_path, "{branch: 3 in, bark: 1/8 in, long: 6 in}", *steps)
    assert windows(sheet) == [*["start at 1,000 rpm or slower"] * 2, "2,000 to 3,000 rpm"]
    ((_, message),) = judged(sheet)
    assert message.startswith("the wood still bears its bark")


def test_a_ring_that_is_bored_has_a_swing_a_start_and_a_finding(tmp_path: Path) -> None:
    """12 segments, 8 in over the flats: 8 / cos 15 degrees is 8.282 in.

    9000 / 8.282 is 1086, and 3000 is more than twice that.
    """
    bore = "hold: {by: [glue block]}, cut: [{bore: {diameter: 5 1/4 in, end: right}}], speed: 3000 rpm"
    sheet = part(tmp_path, "{segments: 12, across: 8 in, inside: 5 in, long: 2 in}", bore)
    assert windows(sheet) == ["start at 360 rpm or slower"]
    assert swings(sheet) == [[pytest.approx(8.2822, abs=1e-4)]]
    assert [level for level, _ in judged(sheet)] == [Level.STOP]


def test_a_step_that_drills_says_what_the_bit_asks_for(tmp_path: Path) -> None:
    """500 in times rpm over the bit's inches, common practice: 500 rpm for a bit of 1 in."""
    drill = "hold: {by: [chuck], deep: 1 in}, work: [drilling], cut: [{bore: {diameter: 1 in, end: right, deep: 1 in}}]"
    sheet = part(tmp_path, "{round: 2 in, long: 4 in}", drill)
    assert windows(sheet) == ["drill at 500 rpm or slower"]


def test_a_sanded_step_has_no_low_end_and_wood_at_rest_no_speed_at_all(tmp_path: Path) -> None:
    steps = (
        f"hold: {CENTERS}, cut: [{{cylinder: {{diameter: 6 in}}}}]",
        f"hold: {CENTERS}, work: [sanding], speed: 3200 rpm",
        f"hold: {CENTERS}, work: [finishing]",
        "hold: {by: [bench]}, cut: [{holes: {diameter: 1/4 in, count: 2, at: 2 in, reach: axis}}]",
    )
    sheet = part(tmp_path, "{round: 7 in, long: 4 in}", *steps)
    assert windows(sheet)[1:] == ["up to 1,500 rpm", "", ""]
    assert [bool(one) for one in swings(sheet)] == [True, True, False, False]
    assert [level for level, _ in judged(sheet)] == [Level.STOP]


@pytest.mark.parametrize("across", ["5 in", "127 mm", "4.25 in", "100 mm", "6 in", "3 7/16 in", "9 in", "12 1/2 in"])
@pytest.mark.parametrize("blank", ["staves: 12, inside: 3 in, across: across, long: 3 in", "round: across, long: 3 in"])
def test_the_same_speed_is_told_by_the_step_and_by_the_chapter(tmp_path: Path, across: str, blank: str) -> None:
    wide = "ring.corners" if "staves" in blank else "across"
    steps = (
        f"hold: {CENTERS}, cut: [{{cylinder: {{diameter: across - 1/8 in}}}}]",
        f"hold: {CENTERS}, cut: [{{cylinder: {{diameter: across - 1/4 in}}}}]",
    )
    sheet = part(
        tmp_path, f"{{{blank}}}", *steps, sizes=f"across: {{is: {across}, says: Across}}",
        workings=f"""
            ring: {{chapter: rings and staves, pieces: 12, across: across, inside: 3 in}}
            first: {{chapter: speed, diameter: {wide}}}
            then: {{chapter: speed, diameter: across - 1/8 in}}
        """,
    )  # fmt: skip
    told = {one.name: one.printed.lead.replace("\u00a0", " ") for one in sheet.dimensions}
    window = [f"{told[f'{name}.low'].removesuffix(' rpm')} to {told[f'{name}.high']}" for name in ("first", "then")]
    if "staves" in blank:
        window[0] = f"start at {told['first.start']} or slower"
    assert windows(sheet) == window
