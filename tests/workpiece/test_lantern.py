"""The lantern of the demo project, carried through its steps: what a turner would meet."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest

from handouts_build.workpiece import Code, ShopLimits, Stage, WorkpieceFault
from handouts_build.workpiece.features import ring_points
from tests.workpiece.lantern import IN, Lantern


@pytest.fixture(scope="module")
def stages() -> tuple[Stage, ...]:
    return Lantern().stages()


def test_it_is_pierced_by_its_bore_and_six_windows(stages: tuple[Stage, ...]) -> None:
    """A ball with a bore is a ring, genus 1; each window into the bore adds one. Blind drive holes add none."""
    assert [stage.wood.genus for stage in stages] == [0, 0, 0, 0, 0, 0, 1, 7, 7, 7, 7, 7, 7]
    assert all(stage.pieces == 1 for stage in stages)


def test_the_ball_on_its_stubs_has_the_closed_form(stages: tuple[Stage, ...]) -> None:
    """A ball, two stubs beyond it, and what lies between each stub's cylinder and the ball's caps within it.

    Cap: π h² (3R - h) / 3 with h = R - √(R² - a²) (S-CAP in tests/reference).
    """
    plan = Lantern()
    radius, stub = plan.ball / 2, plan.tenon / 2
    fall = radius - math.sqrt(radius**2 - stub**2)
    collar = math.pi * stub**2 * fall - math.pi * fall**2 * (3 * radius - fall) / 3
    # The left end keeps the whole cylinder, the right the tenon after a gap of an eighth of an inch of it.
    left = math.pi * radius**2 * (plan.middle - radius)
    right = math.pi * radius**2 * (plan.long - plan.middle - radius - plan.tenon_long)
    tenon = math.pi * stub**2 * plan.tenon_long
    assert stages[5].volume_mm3 == pytest.approx(
        4 / 3 * math.pi * radius**3 + 2 * collar + left + right + tenon, rel=1e-3
    )


def test_its_webs_are_those_of_the_formulas(stages: tuple[Stage, ...]) -> None:
    """Drive holes stop a quarter inch short of the bore; windows are nearest to them at their floors."""
    webs = {web.names: web.left_mm for web in stages[7].webs}
    assert webs["drive holes", "bore"] == pytest.approx(IN / 4, abs=0.02)
    plan = Lantern()
    inner = plan.bore / 2 + IN / 4
    # From the rim of a drive hole's floor to the middle line of the window beside it, less the window's radius.
    turn, rim = math.pi / plan.ribs, plan.drive_bit / 2
    line = inner * math.sin(turn) - rim * math.cos(turn)
    assert webs["windows", "drive holes"] == pytest.approx(line - plan.window_bit / 2, abs=0.02)


def test_its_findings_are_the_thin_tenon_and_the_thin_ribs(stages: tuple[Stage, ...]) -> None:
    """A 3/4 in bore through a 7/8 in tenon leaves 1/16 in; drive holes of 1/8 in leave under 1/8 in of a 1/4 in rib."""
    found = [verdict for stage in stages for verdict in stage.verdicts]
    assert {verdict.code for verdict in found} == {Code.THIN_WEB}
    tenon = next(verdict for verdict in found if verdict.names == ("bore", "tenon"))
    assert tenon.numbers["left_mm"] == pytest.approx(IN / 16, rel=1e-3)
    assert (tenon.step, tenon.cut) == (5, 1)
    assert {verdict.names for verdict in found if verdict.step > 7} == {
        ("first groove", "drive holes"),
        ("groove 1", "drive holes"),
        ("groove 2", "drive holes"),
    }


def test_meant_meetings_are_all_met(stages: tuple[Stage, ...]) -> None:
    met = stages[-1].meetings
    for pair in (("bore", "windows"), ("bore", "groove"), ("windows", "first groove"), ("groove", "first groove")):
        assert met[frozenset(pair)] <= 1e-4


def test_its_floor_lies_where_it_was_cut_and_its_ribs_stand(stages: tuple[Stage, ...]) -> None:
    plan, wood = Lantern(), stages[-1].wood
    axis = stages[10].axis
    at_floor = [ring_points(axis, radii=[plan.floor + step], places=[0.0], around=240) for step in (-0.1, 0.1)]
    # Under the floor there is wood, less the windows and the bore's ends; over it none.
    assert wood.contains(at_floor[0]).mean() > 0.5
    assert not wood.contains(at_floor[1]).any()
    rib = np.array([[0.98 * plan.ball / 2, 0.0, plan.middle + 5]])
    assert wood.contains(rib).all()


def test_speed_follows_the_radius_about_the_present_axis(stages: tuple[Stage, ...]) -> None:
    """The square blank swings by half its diagonal; the ball by half of it; across, the flat poles' rims reach out."""
    plan = Lantern()
    assert stages[1].radius_before_mm == pytest.approx((plan.ball + IN / 4) / math.sqrt(2))
    assert stages[1].radius_mm == pytest.approx(plan.ball / 2, rel=1e-3)
    assert stages[5].radius_mm == pytest.approx(plan.ball / 2, rel=2e-3)
    pole = math.hypot(plan.ball / 2, plan.tenon / 2)
    assert stages[9].radius_before_mm == pytest.approx(pole, rel=1e-3)
    assert stages[-1].radius_mm < plan.ball / 2 * 1.01


def test_air_is_cut_where_the_ball_has_windows_and_a_bore(stages: tuple[Stage, ...]) -> None:
    """Roughing a square meets air at its flats; rounding a cylinder of one size meets none; the grooves meet some."""
    air = {one.name: one for stage in stages for one in stage.air}
    assert 0.3 < air["cylinder"].share < 0.7
    assert air["cylinder"].last == 0
    assert air["tenon"].share == 0
    assert air["8 flats"].share == pytest.approx(0, abs=0.02)
    assert air["first groove"].share > 0.2


def test_it_overhangs_its_jaws_by_the_ball(stages: tuple[Stage, ...]) -> None:
    held = stages[6].held
    assert held is not None
    assert held.overhang_mm == pytest.approx(Lantern().ball + IN / 8)
    assert held.diameter_mm == Lantern().tenon


def test_pencil_marks_lie_on_the_wood(stages: tuple[Stage, ...]) -> None:
    assert len(stages[2].lines) == 3
    for line in stages[2].lines:
        assert np.hypot(line[:, 0], line[:, 1]) == pytest.approx(Lantern().ball / 2, rel=1e-3)
    assert [len(dot) for dot in stages[7].lines] == [1] * 12


@pytest.mark.parametrize(
    ("change", "code", "names"),
    [
        ({"groove": 0.75 * IN}, Code.TWO_PIECES, ("groove 1",)),
        ({"drive_bit": 0.5 * IN}, Code.UNMEANT_BREAK_THROUGH, ("windows", "drive holes")),
        ({"window_bit": 0.5 * IN}, Code.UNMEANT_BREAK_THROUGH, ("window 1", "window 2")),
    ],
)
def test_a_wrong_dimension_is_found(change: dict[str, float], code: Code, names: tuple[str, ...]) -> None:
    """One size typed wrong, and the finding names what meets, is gone, or comes loose."""
    plan = dataclasses.replace(Lantern(), **change)
    verdicts = [verdict for stage in plan.stages() for verdict in stage.verdicts]
    assert names in [verdict.names for verdict in verdicts if verdict.code is code]


def test_a_bore_wider_than_the_tenon_leaves_nothing_to_hold_and_then_nothing_to_part_off() -> None:
    """The hold is found wanting before the step that cannot be done at all, and that finding is not lost."""
    with pytest.raises(WorkpieceFault) as caught:
        dataclasses.replace(Lantern(), bore=1.25 * IN).stages()
    assert caught.value.step == 7
    verdicts = [verdict for stage in caught.value.done for verdict in stage.verdicts]
    assert (Code.NOTHING_TO_HOLD, ("tenon",)) in [(verdict.code, verdict.names) for verdict in verdicts]


def test_a_small_lathe_cannot_swing_it() -> None:
    stages = Lantern().stages(shop=ShopLimits(swing_mm=80, rpm=(500, 1200)))
    found = {(verdict.code, verdict.step) for stage in stages for verdict in stage.verdicts}
    assert (Code.DOES_NOT_CLEAR_BED, 0) in found
    assert (Code.SPEED_OUTSIDE_LATHE, 2) in found
