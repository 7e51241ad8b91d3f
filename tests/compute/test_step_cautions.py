"""Which cautions stand at a step: those that what is done there calls for, and no others.

What calls for which caution is common practice, no published source, but for the numbers
that a test names a source for.
"""

from __future__ import annotations

import math
from pathlib import Path
from types import SimpleNamespace

import pytest

from handouts_build.compute.solid.given import density_g_mm3
from handouts_build.compute.step_facts import tools_of
from handouts_build.sheet import Step
from handouts_build.sheet.findings import Level
from handouts_build.tables.cautions import rules
from tests.projects import demo_archive, worked

AT_THE_LATHE = {
    "large-diameter", "rim-speed", "green-wood", "spindle-lock", "sanding-hands", "sanding-heat", "finishing-on-lathe",
    "cloth-on-lathe", "slender", "overhang", "small-piece", "thin-wall", "broken-cut", "square-edge", "measuring",
    "drilling", "drill-on-lathe-by-hand", "tail-center-point", "catches", "roughing", "rest-clearance", "cracked",
}  # fmt: skip
"""Rules that say nothing true of work in the hand or at the bench."""
BRANCH = "{branch: 3 in, bark: 1/8 in, long: 5 in}"
STAVES = "{staves: 8, across: 3 in, inside: 1 1/2 in, long: 5 in}"


def steps_of(folder: Path, *steps: str, blank: str = "{square: 2 in, long: 5 in}", more: str = "") -> tuple[Step, ...]:
    """The steps of a piece with these keys for each."""
    parts = f"parts:\n  body:\n    wood: maple, sugar\n    blank: {blank}\n{more}    steps:\n"
    parts += "".join(f"      - {{name: Step {at}, say: Do it., {keys}}}\n" for at, keys in enumerate(steps))
    return worked(folder, parts=parts).parts[0].steps


def ids(step: Step) -> set[str]:
    return {box.id for box in step.boxes}


def test_what_is_done_in_the_hand_or_at_the_bench_calls_for_no_caution_of_turning_wood(tmp_path: Path) -> None:
    condition = "    condition: [green, cracked]\n"
    work = "work: [drying, sanding, finishing, measuring], tools: [cloth], abrasive: [paper], finish: [shellac]"
    for hold in ("hand", "bench"):
        turn = "hold: {by: [between centers]}, speed: 600 rpm, cut: [{cylinder: {diameter: 10 in}}]"
        rest = f"hold: {{by: [{hold}], tailstock: false}}, {work}, shape: [small piece, thin wall, open work]"
        turned, held = steps_of(tmp_path, turn, rest, blank="{square: 11 in, long: 150 in}", more=condition)
        assert {"large-diameter", "green-wood", "cracked", "slender", "catches", "roughing"} & ids(turned)
        assert ids(held) & AT_THE_LATHE == set()
        assert {"sanding-dust", "flammable-finish"} <= ids(held)


def test_no_demo_step_in_the_hand_or_at_the_bench_calls_for_a_caution_of_turning_wood() -> None:
    for sheet in demo_archive().sheets:
        for step in sheet.steps:
            if step.hold.split(":")[0] in ("hand", "bench"):
                assert ids(step) & AT_THE_LATHE == set(), (sheet.name, step.name)


@pytest.mark.parametrize("drying", ["drying", "heat drying"])
def test_green_wood_is_dry_after_the_step_that_dries_it(tmp_path: Path, drying: str) -> None:
    """Its cautions change, and it is weighed at 12 percent moisture: Wood Handbook, eq. 4-9 and 4-14."""
    hold = "hold: {by: [faceplate], tailstock: true}"
    rough, put_away, mounted, sanded = steps_of(
        tmp_path,
        f"{hold}, work: [roughing, faceplate turning], cut: [{{cylinder: {{diameter: 5 in}}}}]",
        f"hold: {{by: [hand]}}, work: [{drying}]",
        f"{hold}, work: [mounting], cut: [{{cylinder: {{name: again, diameter: 4 in}}}}]",
        f"{hold}, work: [sanding]",
        blank="{round: 6 in, long: 3 in}",
        more="    grain: across the axis\n    condition: [green]\n",
    )
    assert "green-wood" in ids(rough)
    assert not {"green-wood", "green-splits"} & ids(put_away)
    assert "green-splits" in ids(mounted)
    assert not {"green-wood", "green-splits"} & ids(sanded)
    (green,) = (one.value for one in rough.stage.facts if one.name == "weight")
    (dry,) = (one.value for one in mounted.stage.facts if one.name == "weight")
    wet, light = density_g_mm3("maple, sugar", ["green"]), density_g_mm3("maple, sugar", [])
    assert wet is not None
    assert light is not None
    volume = math.pi / 4 * 3 * 25.4**3
    assert float(green.m_as("g")) == pytest.approx(volume * 25 * wet, rel=1e-3)
    # Its height lies across the rings and is not turned again: 4.8 % of it from green to ovendry (table 4-3), of which
    # 18 of the 30 points to 12 percent (equation 4-7).
    assert float(dry.m_as("g")) == pytest.approx(volume * 16 * light * (1 - 0.048 * 18 / 30), rel=1e-3)


def test_wood_that_was_not_turned_before_it_dried_is_only_dry(tmp_path: Path) -> None:
    _, mounted = steps_of(
        tmp_path,
        "hold: {by: [bench]}, work: [drying]",
        "hold: {by: [faceplate]}, work: [mounting, faceplate turning]",
        more="    condition: [green]\n",
    )
    assert not {"green-wood", "green-splits"} & ids(mounted)


def test_glue_must_cure_where_the_work_is_turned_in_the_step_or_after_it(tmp_path: Path) -> None:
    glue = "hold: {by: [bench]}, work: [gluing], adhesive: [wood glue]"
    first, _, last = steps_of(tmp_path, glue, "hold: {by: [between centers]}, work: [spindle turning]", glue)
    assert "glue-cure" in ids(first)
    assert "glue-cure" not in ids(last)
    (both,) = steps_of(tmp_path, "hold: {by: [glue block]}, work: [gluing, drilling], adhesive: [cyanoacrylate]")
    assert "glue-cure" in ids(both)


@pytest.mark.parametrize(
    ("hold", "wanted"),
    [
        ("bench", {"drill-at-bench"}),
        ("hand", {"drill-hand-held"}),
        ("between centers", {"drill-on-lathe-by-hand", "spindle-lock"}),
    ],
)
def test_the_hold_says_which_caution_of_drilling_across_stands(tmp_path: Path, hold: str, wanted: set[str]) -> None:
    (step,) = steps_of(tmp_path, f"hold: {{by: [{hold}]}}, work: [drilling across]")
    every = {"drill-at-bench", "drill-hand-held", "drill-on-lathe-by-hand", "spindle-lock", "drilling"}
    assert ids(step) & every == wanted


def test_sanding_at_rest_makes_dust_and_traps_no_finger(tmp_path: Path) -> None:
    hold = "hold: {by: [chuck]}"
    at_rest, turning = steps_of(tmp_path, f"{hold}, work: [sanding at rest]", f"{hold}, work: [sanding]")
    assert {"sanding-dust"} == ids(at_rest) & {"sanding-dust", "sanding-hands", "sanding-heat"}
    assert {"sanding-dust", "sanding-hands", "sanding-heat"} <= ids(turning)


@pytest.mark.parametrize(
    "blank",
    [
        "{square: 3 in, long: 5 in}",
        "{wide: 4 in, thick: 3 in, long: 5 in}",
        "{round: 3 in, long: 5 in}",
        BRANCH,
        STAVES,
    ],
)
def test_the_first_turning_of_a_blank_is_roughing_though_the_author_forgot_to_say_so(
    tmp_path: Path, blank: str
) -> None:
    hold = "hold: {by: [between centers]}, work: [spindle turning]"
    first, second = steps_of(
        tmp_path,
        f"{hold}, cut: [{{cylinder: {{diameter: 2 1/2 in}}}}]",
        f"{hold}, cut: [{{cylinder: {{name: again, diameter: 2 1/4 in}}}}]",
        blank=blank,
    )
    assert "roughing" in ids(first)
    assert "roughing" not in ids(second)
    assert not {"broken-cut", "square-edge"} & (ids(first) | ids(second))
    without, again = steps_of(tmp_path, hold, hold, blank=blank)
    assert "roughing" in ids(without)
    assert "roughing" not in ids(again)


def test_a_square_that_is_roughed_in_two_steps_is_roughing_twice(tmp_path: Path) -> None:
    hold = "hold: {by: [between centers]}, work: [spindle turning]"
    cut = "cut: [{{cylinder: {{name: {0}, diameter: 1 1/2 in, start: {1}, end: {2}}}}}]"
    first, second, third = steps_of(
        tmp_path,
        f"{hold}, {cut.format('left', '1 in', '2 in')}",
        f"{hold}, {cut.format('right', '3 in', '4 in')}",
        f"{hold}, work: [sanding]".replace("work: [spindle turning], ", ""),
    )
    assert "roughing" in ids(first) & ids(second)
    # The square ends still turn.
    assert "square-edge" in ids(third)
    assert "roughing" not in ids(third)


def test_what_fell_off_a_turned_part_is_round() -> None:
    (box,) = (sheet for sheet in demo_archive().sheets if sheet.name == "lidded-box")
    (lid,) = (part for part in box.parts if part.falls_off)
    assert any("jam chuck" in step.hold for step in lid.steps)
    assert not any("roughing" in ids(step) for step in lid.steps)


def test_a_round_cut_meets_no_air_however_its_circles_are_drawn() -> None:
    """Off-axis, cross-axis and square work and natural edges apart, a demo's cuts are rounds about one axis.

    A ring of segments has corners inside until it is hollowed, and a bowl that has dried is oval until it is trued.
    """
    for sheet in demo_archive().sheets:
        for step in sheet.steps:
            if "broken-cut" in ids(step):
                cornered = ids(step) & {"off-axis", "cross-axis", "natural-edge"}
                cornered = cornered or step.name in ("Hollow the inside", "Turn the outside true", "Turn the inside")
                assert cornered, (sheet.name, step.name)


def test_corners_that_go_on_turning_are_said_at_every_step_at_the_lathe() -> None:
    (stick,) = (sheet for sheet in demo_archive().sheets if sheet.name == "three-sided-candlestick")
    (off,) = (step.number for step in stick.steps if "off-axis" in ids(step))
    after = [step for step in stick.steps if step.number > off and not step.hold.startswith(("hand", "bench"))]
    assert after
    assert all("square-edge" in ids(step) for step in after)


def test_a_thin_wall_is_found_by_the_solid(tmp_path: Path) -> None:
    """3 in across outside; a recess of 2.8 in leaves 0.1 in, 2.5 mm, and one of 2 in leaves 1/2 in."""
    hold = "hold: {by: [chuck], deep: 1 in}"
    accept = "accept: {thin web: It is to be thin.}"
    keys = (
        f"{hold}, work: [roughing], cut: [{{cylinder: {{diameter: 3 in, start: 1 in}}}}]",
        f"{hold}, work: [hollowing], cut: [{{recess: {{diameter: WIDE, deep: 1 in, end: right}}}}], {accept}",
    )
    for wide, thin in (("2.8 in", True), ("2 in", False)):
        _, hollowed = steps_of(
            tmp_path, *(one.replace("WIDE", wide) for one in keys), blank="{square: 4 in, long: 5 in}"
        )
        assert ("thin-wall" in ids(hollowed)) is thin


def test_a_steady_rest_bears_the_free_end(tmp_path: Path) -> None:
    keys = "work: [drilling], cut: [{bore: {diameter: 1/4 in, end: right, deep: 1 in}}]"
    for hold, far in (("[chuck]", True), ("[chuck, steady rest]", False)):
        accept = "accept: {overhang: It is so., short grip: It is so.}"
        (step,) = steps_of(
            tmp_path, f"hold: {{by: {hold}, deep: 1 in}}, {keys}, {accept}", blank="{round: 1 in, long: 12 in}"
        )
        assert ("overhang" in ids(step)) is far


def test_wood_whose_center_lies_off_the_axis_is_out_of_balance(tmp_path: Path) -> None:
    keys = "speed: 500 rpm, work: [off-axis turning], cut: [{cylinder: {diameter: 2 in}}]"
    for offset, out in (("1/2 in", True), ("1/16 in", False)):
        (step,) = steps_of(
            tmp_path, f"hold: {{by: [off-axis centers], offset: {offset}}}, {keys}", blank="{round: 2 in, long: 5 in}"
        )
        assert ("out-of-balance" in ids(step)) is out


def test_a_bit_that_is_meant_to_come_out_is_warned_of(tmp_path: Path) -> None:
    hold = "hold: {by: [chuck], deep: 1 in}, work: [drilling]"
    for deep, out in (("", True), (", deep: 2 in", False)):
        (step,) = steps_of(tmp_path, f"{hold}, cut: [{{bore: {{diameter: 1/4 in, end: right{deep}}}}}]")
        assert ("drill-through" in ids(step)) is out


@pytest.mark.parametrize(
    ("tools", "work", "found"),
    [
        (["round scraper", "narrow square-end scraper"], [], ["scraper"]),
        (["thin parting tool", "inside calipers"], [], ["calipers", "parting tool"]),
        (["skew chisel, 1/2 in", "bowl gouges"], [], ["bowl gouge", "skew chisel"]),
        (["fine saw"], [], ["handsaw"]),
        (["band saw", "table saw"], ["sawing"], ["bandsaw", "table saw"]),
        (["file"], ["sawing"], []),
        (["table saw"], ["sawing"], ["table saw"]),
        (["fine saw", "chainsaw"], ["sawing"], ["chainsaw", "handsaw"]),
        (["chisel"], ["carving"], []),
        (["rotary carver", "rotary tool"], ["carving"], ["rotary tool"]),
        (["finishing cloth", "dust collector", "scraper plane"], [], ["cloth"]),
    ],
)
def test_a_tool_is_known_by_what_it_is(tools: list[str], work: list[str], found: list[str]) -> None:
    assert sorted(tools_of(SimpleNamespace(tools=tools, work=work))) == found


def test_a_step_without_a_hold_goes_on_as_the_step_before(tmp_path: Path) -> None:
    first, second, talk = steps_of(
        tmp_path, "hold: {by: [chuck]}, work: [roughing]", "work: [spindle turning]", "work: [assembling]"
    )
    assert "chuck-key" in ids(first) & ids(second)
    assert "chuck-key" not in ids(talk)


def test_parting_says_one_thing_of_the_hand() -> None:
    (parting,) = (rule for rule in rules() if rule.id == "parting")
    said = " ".join((parting.hurts, *parting.do))
    assert "saw it with the lathe stopped" in said
    assert "loose, open hand" in said
    assert "never close it" in said


def test_the_profile_and_its_step_say_one_thing_of_slender_work(tmp_path: Path) -> None:
    long = "blank: {square: 2 in, long: 15 in}"
    parts = f"""\
    parts:
      body:
        wood: maple, sugar
        {long}
        steps:
          - name: Turn it
            say: Turn it.
            hold: {{by: [between centers], tailstock: true}}
            cut: [{{profile: {{shape: spindle}}}}]
            ACCEPT
    """
    profiles = "spindle: {says: Spindle, part: body, along: [{cylinder: {diameter: 1 in, long: 15 in}}]}"
    for accept, level in (("show: live", Level.MIND), ("accept: {slender: A hand backs it.}", Level.NOTE)):
        sheet = worked(tmp_path, parts=parts.replace("ACCEPT", accept), profiles=profiles)
        words = "can whip" if level is Level.MIND else "Slender on purpose"
        told = [one for one in sheet.findings if words in one.message]
        assert {one.level for one in told} == {level}
        assert all(("A hand backs it" in one.message) is (level is Level.NOTE) for one in told)
        (condition,) = (
            one for group in sheet.groups if group.name == "spindle" for one in group.conditions if words in one.message
        )
        assert condition.level == str(level)
