"""Logs as solids, against closed forms: circular segments, the half cylinder, two cylinders that cross."""

from __future__ import annotations

import math

import numpy as np
import pytest

from handouts_build.workpiece import (
    AxialHoles,
    BetweenCenters,
    Code,
    Cylinder,
    End,
    HalfLog,
    Hollow,
    InHand,
    JawsOnTenon,
    Log,
    LogSection,
    ProfileCut,
    QuarterLog,
    WorkpieceFault,
    WorkStep,
    carry,
)
from handouts_build.workpiece.cuts.profile import Stub


def _segment(radius: float, face: float) -> float:
    """Area of a circular segment: R² acos(f/R) - f √(R² - f²) (Machinery's Handbook, from memory; elementary)."""
    return radius**2 * math.acos(face / radius) - face * math.sqrt(radius**2 - face**2)


@pytest.mark.parametrize(
    ("blank", "volume"),
    [
        (HalfLog(diameter_mm=200, long_mm=300), math.pi * 100**2 / 2 * 300),
        (HalfLog(diameter_mm=200, long_mm=300, bark_mm=6, saw_line_mm=15, kerf_mm=10), _segment(100, 20) * 300),
        (QuarterLog(diameter_mm=200, long_mm=300), math.pi * 100**2 / 4 * 300),
        (LogSection(diameter_mm=200, long_mm=300), math.pi * 100**2 * 300),
        # Sawn round to its own diameter: half of two equal cylinders that cross, 16/3 r³ (Archimedes, The Method).
        (HalfLog(diameter_mm=200, long_mm=200, round_mm=200), 8 / 3 * 100**3),
        (LogSection(diameter_mm=200, long_mm=200, round_mm=200), 16 / 3 * 100**3),
    ],
)
def test_a_log_has_its_volume(blank: Log, volume: float) -> None:
    stage = carry(blank, ())[0]
    assert stage.volume_mm3 == pytest.approx(volume, rel=1e-3)
    assert stage.box_mm[2] == pytest.approx(0, abs=0.05)
    assert stage.box_mm[5] == pytest.approx(blank.high_mm, abs=0.05)


def test_a_half_log_balances_where_a_half_cylinder_does() -> None:
    """4R/3π above the flat (any handbook of mechanics; elementary), in the middle of both other ways."""
    x, y, z = carry(HalfLog(diameter_mm=200, long_mm=260), ())[0].center_mm
    assert 100 - z == pytest.approx(4 * 100 / (3 * math.pi), rel=1e-3)
    assert (x, y) == pytest.approx((0, 0), abs=1e-6)


def test_bark_is_a_layer_of_its_thickness() -> None:
    blank = HalfLog(diameter_mm=200, long_mm=300, bark_mm=8)
    assert blank.bark_left_mm3(blank.solid(segments=72)) == pytest.approx(
        math.pi / 2 * (100**2 - 92**2) * 300, rel=0.04
    )


def test_the_pith_is_in_what_it_runs_through() -> None:
    whole = LogSection(diameter_mm=200, long_mm=300)
    assert whole.pith_left_mm(whole.solid(segments=72)) == pytest.approx(300, abs=0.1)
    clear = HalfLog(diameter_mm=200, long_mm=300, saw_line_mm=10)
    assert clear.pith_left_mm(clear.solid(segments=72)) == 0
    # 25 mm toward the bark it lies in the half that is kept; 25 mm the other way it does not.
    off = HalfLog(diameter_mm=200, long_mm=300, saw_line_mm=10, pith_mm=25)
    assert off.pith_left_mm(off.solid(segments=72)) == pytest.approx(300, abs=0.1)
    away = HalfLog(diameter_mm=200, long_mm=300, saw_line_mm=10, pith_mm=25, pith_deg=180)
    assert away.pith_left_mm(away.solid(segments=72)) == 0


def _bowl(across: float, high: float) -> tuple[WorkStep, ...]:
    side = ((0.0, across / 2), (high - 20.0, across / 4), (high - 20.0, 30.0), (high, 30.0))
    stub = Stub("tenon", high - 20.0, high, 60.0, End.RIGHT)
    deep = high - 32.0
    inside = ((0.0, across / 2 - 8.0), (deep, across / 2 - across / 4 * deep / (high - 20.0) - 8.0))
    return (
        WorkStep(
            name="outside", holds=(BetweenCenters(),),
            cuts=(ProfileCut(name="outside", points_mm=side, stubs=(stub,)),),
        ),
        WorkStep(
            name="inside", holds=(JawsOnTenon(tenon="tenon"),),
            cuts=(Hollow(name="inside", points_mm=inside, end=End.LEFT),),
        ),
    )  # fmt: skip


def test_the_rim_of_the_finished_bowl_is_where_two_cylinders_cross() -> None:
    """At √(R² - y²) over the middle of the log, all around; its bark is left and nothing of the saw."""
    blank = HalfLog(diameter_mm=250, long_mm=230, bark_mm=6, saw_line_mm=13, round_mm=215)
    last = carry(blank, _bowl(196.0, 112.0))[-1]
    own = last.mesh.vertices[np.unique(last.mesh.triangles[last.mesh.origins == 0])]
    bark = own[own[:, 2] < 60]
    assert len(bark) > 100
    assert 125 - bark[:, 2] == pytest.approx(np.sqrt(125**2 - bark[:, 1] ** 2), abs=0.1)
    lowest = bark[np.abs(bark[:, 0]) < 3][:, 2].max()
    rim = 196 / 2 - lowest / 92 * 49
    assert lowest == pytest.approx(125 - math.sqrt(125**2 - rim**2), abs=0.3)
    assert {verdict.code for verdict in last.verdicts} == {Code.BARK_LEFT}


def test_a_bowl_wider_than_its_log_is_long_keeps_what_the_saw_left() -> None:
    found = carry(HalfLog(diameter_mm=250, long_mm=180, bark_mm=6), _bowl(196.0, 112.0))[-1].verdicts
    (sawn,) = [verdict for verdict in found if verdict.code is Code.SAW_LEFT]
    assert sawn.numbers["area_mm2"] > 500


def test_a_seat_bears_the_drive_center_on_its_floor_and_a_hole_right_through_does_not() -> None:
    blank = HalfLog(diameter_mm=250, long_mm=230, bark_mm=6, round_mm=215)

    def codes(deep: float | None, seat: str | None) -> set[Code]:
        bored = AxialHoles(name="seat", count=1, circle_mm=0, diameter_mm=32, deep_mm=deep, end=End.LEFT)
        steps = (
            WorkStep(name="bore", holds=(InHand(),), cuts=(bored,)),
            WorkStep(
                name="turn", holds=(BetweenCenters(drive_mm=25, seat=seat),),
                cuts=(Cylinder(name="round", diameter_mm=210),),
            ),
        )  # fmt: skip
        return {verdict.code for stage in carry(blank, steps) for verdict in stage.verdicts}

    held = {Code.BEARS_ON_NOTHING, Code.NOTHING_TO_HOLD}
    assert not held & codes(12.0, "seat")
    assert Code.BEARS_ON_NOTHING in codes(12.0, None)
    assert Code.NOTHING_TO_HOLD in codes(None, "seat")


@pytest.mark.parametrize(
    ("blank", "says"),
    [
        (HalfLog(diameter_mm=200, long_mm=300, bark_mm=5, saw_line_mm=96), "the saw leaves no wood"),
        (HalfLog(diameter_mm=200, long_mm=300, pith_mm=100), "half the log or more"),
        (QuarterLog(diameter_mm=200, long_mm=300, saw_line_mm=75), "the saw leaves no wood"),
    ],
)
def test_a_log_that_has_no_such_wood_is_refused(blank: Log, says: str) -> None:
    with pytest.raises(WorkpieceFault, match=says):
        blank.solid(segments=72)
