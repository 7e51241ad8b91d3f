"""A textured band on the wood: where it lies, and what later cuts leave of it, against plane geometry."""

from __future__ import annotations

import numpy as np
import pytest

from handouts_build.workpiece import (
    BaseCut,
    BetweenCenters,
    Code,
    Cylinder,
    Groove,
    Round,
    Stage,
    TextureBand,
    TextureTool,
    WorkpieceFault,
    WorkStep,
    carry,
)

HOLDS = (BetweenCenters(),)
BAND = TextureBand(name="band", start_mm=30, end_mm=60, tool=TextureTool.WHEEL)


def _stages(*later: BaseCut, band: TextureBand = BAND) -> tuple[Stage, ...]:
    """A round turned to 40 and textured in one step, then cut."""
    turned = WorkStep(name="turn", holds=HOLDS, cuts=(Cylinder(name="round", diameter_mm=40),), marks=(band,))
    steps = (turned, *(WorkStep(name=cut.name, holds=HOLDS, cuts=(cut,)) for cut in later))
    return carry(Round(diameter_mm=50, long_mm=100), steps)


def test_a_texture_lies_on_the_surface_that_the_steps_cuts_leave() -> None:
    (texture,) = _stages()[-1].textures
    points = np.concatenate(texture.lines)
    assert np.hypot(points[:, 0], points[:, 1]) == pytest.approx(20, abs=0.03)
    assert (points[:, 2].min(), points[:, 2].max()) == pytest.approx((30, 60))
    assert texture.left == 1


def test_a_texture_takes_nothing_away_and_is_no_pencil_line() -> None:
    plain = carry(
        Round(diameter_mm=50, long_mm=100),
        (WorkStep(name="turn", holds=HOLDS, cuts=(Cylinder(name="round", diameter_mm=40),)),),
    )[-1]
    stage = _stages()[-1]
    assert stage.volume_mm3 == pytest.approx(plain.volume_mm3)
    assert stage.lines == ()


def test_a_cut_elsewhere_leaves_all_of_it() -> None:
    *_, last = _stages(Groove(name="groove", at_mm=80, wide_mm=6, floor_mm=16))
    assert last.textures[0].left == 1
    assert [one.code for one in last.verdicts] == []


def test_a_groove_across_it_takes_the_share_that_it_is_wide() -> None:
    """A groove of 10 in a band of 30 takes a third of the strokes; the rings at both ends stay."""
    *_, before, last = _stages(Groove(name="groove", at_mm=45, wide_mm=10, floor_mm=16))
    strokes = [line for line in before.textures[0].lines if np.ptp(line[:, 2]) > 1]
    taken = sum(int(((line[:, 2] > 40) & (line[:, 2] < 50)).sum()) for line in strokes)
    assert last.textures[0].left == pytest.approx(1 - taken / before.textures[0].points, abs=0.02)
    (found,) = [one for one in last.verdicts if one.code is Code.TEXTURE_CUT_AWAY]
    assert found.names == ("band", "groove")


def test_turning_the_band_down_takes_it_and_is_told_once() -> None:
    *_, away, last = _stages(
        Cylinder(name="thinner", diameter_mm=38, start_mm=20, end_mm=70),
        Groove(name="groove", at_mm=80, wide_mm=6, floor_mm=16),
    )
    (found,) = [one for one in away.verdicts if one.code is Code.TEXTURE_CUT_AWAY]
    assert found.numbers["left"] == 0
    assert [one for one in last.verdicts if one.code is Code.TEXTURE_CUT_AWAY] == []


@pytest.mark.parametrize(("start", "end"), [(80.0, 120.0), (60.0, 30.0)])
def test_a_texture_past_the_wood_or_the_wrong_way_round_is_refused(start: float, end: float) -> None:
    with pytest.raises(WorkpieceFault):
        _stages(band=TextureBand(name="band", start_mm=start, end_mm=end, tool=TextureTool.WHEEL))
