"""A lid turned on its own box, as a file says it: what is found and told of its joint, and the piece in the end."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from handouts_build.compute.solid.given import density_g_mm3
from handouts_build.sheet import Level, Sheet, Step
from tests.projects import worked

PARTS = """
parts:
  lid:
    wood: walnut, black
    blank: {{round: 60 mm, long: 24 mm}}
    steps:
      - name: Hollow it
        hold: {{by: [chuck], end: right, deep: 15 mm}}
        cut: [{lid}]
        say: Hollow it.
  box:
    wood: maple, sugar
    blank: {{round: 60 mm, long: 58 mm}}
    steps:
      - name: Turn the spigot
        hold: {{by: [chuck], deep: 15 mm}}
        cut: [{box}]
        say: Turn it.
      - name: Turn both
        hold: {{by: [chuck], deep: 15 mm, put on: lid, tailstock: {tail}}}
        cut: [{both}]
        speed: 800 rpm
{more}
        say: Turn both.
      - name: Take it off
        hold: {{by: [chuck], deep: 15 mm}}
        cut: [cylinder: {{diameter: {eased}, start: 50 mm}}]
        say: Ease it.
assembly:
  joints: [{{put: box, tenon: {tenon}, into: lid, hole: {hole}, tight: It goes on with a tap.}}]
"""
SEAT = "recess: {name: seat, diameter: 50 mm, deep: 10 mm, end: left}"
SPIGOT = "tenon: {{name: spigot, diameter: {wide}, long: 8 mm, end: right}}"
SIDE = "cylinder: {diameter: 56 mm, start: 40 mm, end: 74 mm}"


def box(
    folder: Path, *, wide: str = "50 mm", tail: str = "true", lid: str = SEAT, spigot: str = "", both: str = SIDE,
    more: str = "", tenon: str = "spigot", hole: str = "seat", eased: str = "49.8 mm",
) -> Sheet:  # fmt: skip
    """A box of 50 mm with its spigot, and a lid of 24 mm."""
    made = PARTS.format(
        lid=lid, box=spigot or SPIGOT.format(wide=wide), tail=tail, both=both, more=more, tenon=tenon, hole=hole,
        eased=eased,
    )  # fmt: skip
    return worked(folder, parts=made)


def the_step(sheet: Sheet) -> Step:
    """At which the lid is on."""
    return next(step for step in sheet.steps if step.name == "Turn both")


def told(sheet: Sheet) -> list[tuple[Level, str]]:
    """What is found of the joint."""
    return [(found.level, found.message) for found in sheet.findings if "play" in found.message]


def test_a_tight_lid_is_turned_with_its_box_and_told(tmp_path: Path) -> None:
    sheet = box(tmp_path)
    assert [found for found in sheet.findings if found.level is not Level.NOTE] == []
    step = the_step(sheet)
    assert step.hold == "chuck, with the lid on"
    assert step.stage is not None
    assert "with the lid on, after this step" in step.stage.says
    assert "The lid is on, held by its fit alone." in step.stage.says
    assert "lid-held-by-its-fit" in {one.id for one in step.boxes}
    # Rounds of 60 mm less a ring down to 56 mm: 34 mm of it along both, in the two woods.
    ring = math.pi / 4 * (60**2 - 56**2)
    spigot = math.pi / 4 * 50**2
    maple, walnut = (density_g_mm3(wood, ()) or 0.0 for wood in ("maple, sugar", "walnut, black"))
    body = math.pi / 4 * 60**2 * 50 + 8 * spigot - 10 * ring
    cap = math.pi / 4 * 60**2 * 24 - 10 * spigot - 24 * ring
    weight = next(fact for fact in step.stage.facts if fact.name == "weight")
    assert weight.says == "Weighs now, with the lid"
    assert float(weight.value.m_as("g")) == pytest.approx(body * maple + cap * walnut, rel=2e-3)


def test_the_finished_lid_is_as_it_was_turned_on_the_box(tmp_path: Path) -> None:
    """The finished piece is 56 mm across only where both were turned; the rest of the box stays 60."""
    whole = box(tmp_path, both="cylinder: {diameter: 56 mm, start: 20 mm, end: 74 mm}").whole
    assert whole is not None
    weight = next(fact for fact in whole.facts if fact.name == "weight")
    ring = math.pi / 4 * (60**2 - 56**2)
    maple, walnut = (density_g_mm3(wood, ()) or 0.0 for wood in ("maple, sugar", "walnut, black"))
    body = math.pi / 4 * (60**2 * 50 + 49.8**2 * 8) - 30 * ring
    cap = math.pi / 4 * (60**2 * 24 - 50**2 * 10) - 24 * ring
    assert float(weight.value.m_as("g")) == pytest.approx(body * maple + cap * walnut, rel=2e-3)


@pytest.mark.parametrize(
    ("tail", "level", "message"),
    [
        (
            "true",
            Level.MIND,
            "the spigot has 0.2\u00a0mm (0.008\u00a0in) of play in the joint by which the lid is held",
        ),
        ("false", Level.STOP, "and no tail center is up: nothing turns it, and it flies off"),
    ],
)
def test_a_fit_with_play_holds_nothing(tail: str, level: Level, message: str, tmp_path: Path) -> None:
    (found,) = told(box(tmp_path, wide="49.8 mm", tail=tail, eased="49.6 mm"))
    assert found[0] is level
    assert message in found[1]


def test_play_that_is_taken_up_may_be_accepted_where_the_tail_center_is_up(tmp_path: Path) -> None:
    more = "        accept: {loose fit: A turn of tissue paper takes it up.}"
    (found,) = told(box(tmp_path, wide="49.8 mm", eased="49.6 mm", more=more))
    assert found[0] is Level.NOTE
    assert found[1].startswith("Loose on purpose: the spigot has 0.2\u00a0mm (0.008\u00a0in) of play under the lid.")


def test_one_that_is_too_thick_cannot_be_put_on(tmp_path: Path) -> None:
    sheet = box(tmp_path, wide="51 mm")
    stops = [found.message for found in sheet.findings if found.level is Level.STOP and found.about.startswith("Step")]
    assert any("too thick for the seat" in message for message in stops)


def test_no_cut_may_take_the_joint(tmp_path: Path) -> None:
    sheet = box(tmp_path, both="part off: {at: 54 mm, keep: left}")
    assert any("takes away the spigot, by which the wood is held" in found.message for found in sheet.findings)


def test_a_screwed_lid_is_held_by_its_thread_which_runs_one_way(tmp_path: Path) -> None:
    lid = (
        "recess: {name: seat, diameter: 47 mm, deep: 12 mm, end: left}, "
        "inside thread: {name: nut, hole: seat, pitch: 1.5 mm, relief: 3 mm}"
    )
    spigot = (
        "tenon: {name: spigot, diameter: 46.8 mm, long: 9 mm, end: right}, "
        "outside thread: {name: screw, tenon: spigot, pitch: 1.5 mm, relief: 3 mm}"
    )
    sheet = box(tmp_path, lid=lid, spigot=spigot, tail="false", tenon="screw", hole="nut", eased="60 mm")
    ids = {one.id for one in the_step(sheet).boxes}
    assert "lid-held-by-its-thread" in ids
    assert "lid-held-by-its-fit" not in ids
    stage = the_step(sheet).stage
    assert stage is not None
    assert "held by its thread alone" in stage.says
    assert [found.message for found in sheet.findings if "flies off" in found.message] == []
