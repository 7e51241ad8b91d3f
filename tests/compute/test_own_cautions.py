"""A piece is held to its own cautions: what its wood, its finish, its hold and its tools call for."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import pytest

from handouts_build.compute.step_facts import tools_of
from handouts_build.sheet import Level, Sheet, Step
from handouts_build.tables.woods import lookup_wood
from tests.projects import demo_archive, worked


def piece(folder: Path, step: str, *, wood: str = "maple, sugar", extra: str = "", more: str = "") -> Sheet:
    parts = f"parts:\n  body:\n    wood: '{wood}'\n    blank: {{round: 2 in, long: 5 in}}\n{more}    steps:\n"
    return worked(folder, extra=extra, parts=f"{parts}      - {{name: Do it, say: Do it., {step}}}\n")


def ids(step: Step) -> set[str]:
    return {box.id for box in step.boxes}


def the_step(sheet: Sheet) -> Step:
    return sheet.parts[0].steps[0]


@pytest.mark.parametrize(
    ("tool", "box"),
    [
        ("table saw", "table-saw"),
        ("miter saw", "miter-saw"),
        ("mitre saw", "miter-saw"),
        ("band saw", "bandsaw"),
        ("narrow bandsaw", "bandsaw"),
        ("chain saw", "chainsaw"),
        ("scroll saw", "powered-saw"),
        ("disk sander", "disk-sander"),
        ("disc sander", "disk-sander"),
        ("belt sander", "power-sanding"),
        ("drill press", "drill-press"),
        ("cordless drill", "drill-on-lathe-by-hand"),
        ("trim router", "router"),
        ("rotary tool", "rotary-carver"),
        ("rotary carver", "rotary-carver"),
        ("burning wire", "burning-wire"),
        ("angle grinder", "angle-grinder"),
        ("bench grinder", "grinder"),
        ("fine saw", "handsaw"),
    ],
)
def test_every_powered_tool_has_its_cautions_whatever_the_work_is_called(tmp_path: Path, tool: str, box: str) -> None:
    assert box in ids(the_step(piece(tmp_path, f"hold: {{by: [bench]}}, tools: [{tool}]")))


@pytest.mark.parametrize("tool", ["planer", "electric eraser", "pneumatic chisel", "heat gun", "laser"])
def test_a_powered_tool_that_no_rule_knows_is_said_to_have_no_cautions_here(tmp_path: Path, tool: str) -> None:
    step = the_step(piece(tmp_path, f"hold: {{by: [bench]}}, tools: [{tool}, pencil]"))
    (box,) = (box for box in step.boxes if box.id == "powered-tool-unknown")
    assert box.title == f"No cautions are known here for {tool}"


def test_a_plain_hand_tool_is_no_powered_one() -> None:
    said = ["pencil", "paper strip", "hand drill", "mallet", "round scraper", "vise with soft jaws", "abrasives P120"]
    assert list(tools_of(SimpleNamespace(tools=said))) == ["scraper"]  # type: ignore[arg-type]


def test_a_bore_along_the_axis_is_drilling_though_nobody_says_so(tmp_path: Path) -> None:
    hold = "hold: {by: [chuck], deep: 1 in}"
    bored = the_step(piece(tmp_path, f"{hold}, cut: [{{bore: {{diameter: 1/2 in, end: right, deep: 1 in}}}}]"))
    assert "drilling" in ids(bored)
    across = "cut: [{holes: {diameter: 1/4 in, count: 2, at: 2 in, reach: axis}}]"
    assert "drill-at-bench" in ids(the_step(piece(tmp_path, f"hold: {{by: [bench]}}, {across}")))


def test_what_is_sanded_glued_or_finished_with_says_what_is_done(tmp_path: Path) -> None:
    step = the_step(piece(tmp_path, "hold: {by: [hand]}, abrasive: [paper], adhesive: [epoxy], finish: [lacquer]"))
    assert {"sanding-dust", "keep-joint-bare", "epoxy-skin", "flammable-finish"} <= ids(step)


def test_parting_off_in_a_chuck_does_not_speak_of_two_centers(tmp_path: Path) -> None:
    part = "work: [parting], cut: [{part off: {at: 4 in, keep: left}}]"
    for hold, two in (
        ("{by: [chuck], deep: 1 in}", False),
        ("{by: [chuck], deep: 1 in, tailstock: true}", True),
        ("{by: [between centers]}", True),
    ):
        step = the_step(piece(tmp_path, f"hold: {hold}, {part}"))
        assert "parting" in ids(step)
        assert ("parting-between-centers" in ids(step)) is two


def test_facing_an_end_is_no_parting_off_unless_the_author_says_so(tmp_path: Path) -> None:
    """The blank is 5 in long and the kerf 1/8 in."""
    hold = "hold: {by: [chuck], deep: 1 in}"
    for at, said, parts in (
        ("4 7/8 in", "", False),
        ("4 7/8 in", "work: [parting], ", True),
        ("4 in", "", True),
        ("4 in", "work: [spindle turning], ", True),
    ):
        cut = f"{said}cut: [{{part off: {{at: {at}, keep: left, kerf: 1/8 in}}}}]"
        assert ("parting" in ids(the_step(piece(tmp_path, f"{hold}, {cut}")))) is parts
    sawn = "hold: {by: [bench]}, work: [sawing], cut: [{part off: {at: 4 in, keep: left}}]"
    assert "parting" not in ids(the_step(piece(tmp_path, sawn)))


def test_a_part_held_by_hand_while_a_rotary_cutter_runs_is_refused(tmp_path: Path) -> None:
    for hold, refused in (("hand", True), ("bench", False), ("chuck", False)):
        sheet = piece(tmp_path, f"hold: {{by: [{hold}]}}, work: [carving], tools: [rotary tool]")
        found = [finding for finding in sheet.findings if finding.level is Level.STOP]
        assert bool(found) is refused
        if refused:
            assert "held in the hand while a rotary tool runs" in found[0].message


@pytest.mark.parametrize(
    ("wood", "use", "told"),
    [
        ("walnut, black", "toy", True),
        ("walnut, black", "food", True),
        ("walnut, black", "ornament", False),
        ("cherry, black", "toy", False),
        ("yew", "drink", True),
        ("sassafras", "food", True),
    ],
)
def test_a_toy_or_a_thing_for_food_in_a_wood_reported_to_sensitize_or_poison_is_minded(
    tmp_path: Path, wood: str, use: str, told: bool
) -> None:
    """The chart of American Woodturner, June 1990, lists black walnut and sassafras as sensitizers, yew as a toxin."""
    if lookup_wood(wood) is None:
        wood = next(name for name in ("yew, Pacific", "yew, european") if lookup_wood(name))
    sheet = piece(tmp_path, "hold: {by: [hand]}", wood=wood, extra=f"piece: [{use}]\n")
    found = [finding for finding in sheet.findings if "reported to" in finding.message]
    assert [finding.level for finding in found] == ([Level.MIND] if told else [])


def test_a_nut_oil_on_a_toy_is_minded(tmp_path: Path) -> None:
    sheet = piece(tmp_path, "hold: {by: [hand]}, work: [finishing], finish: [walnut oil]", extra="piece: [toy]\n")
    assert ["tree nut" in finding.message for finding in sheet.findings] == [True]


def test_no_demo_piece_breaks_its_own_cautions() -> None:
    for sheet in demo_archive().sheets:
        assert not [finding.message for finding in sheet.findings if "this piece is" in finding.message], sheet.name


def test_accepting_a_finding_keeps_its_caution(tmp_path: Path) -> None:
    hold = "hold: {by: [chuck], deep: 1 in}, work: [hollowing]"
    cut = "cut: [{recess: {diameter: 1.8 in, deep: 1 in, end: right}}]"
    for accept in ("", ", accept: {thin web: It is to be thin.}"):
        assert {"thin-or-meeting", "thin-wall"} <= ids(the_step(piece(tmp_path, f"{hold}, {cut}{accept}")))
