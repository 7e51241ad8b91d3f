"""How far from round and from balance turning wood is, against closed forms."""

from __future__ import annotations

import math

import pytest

from handouts_build.workpiece import (
    BetweenCenters,
    Bore,
    Cylinder,
    End,
    JawsOnBlank,
    OffsetCenters,
    Round,
    Square,
    WorkStep,
    carry,
)

TRUE = BetweenCenters()


def test_a_square_is_out_of_round_by_its_corners_and_in_balance() -> None:
    """A square of the side a reaches a/2 and a/√2 from its middle."""
    _, stage = carry(Square(side_mm=50, long_mm=100), [WorkStep(name="mount", holds=(TRUE,))])
    assert stage.uneven == pytest.approx(1 - 1 / math.sqrt(2), abs=0.005)
    assert stage.unbalance == pytest.approx(0, abs=1e-6)


def test_a_round_is_round_though_it_is_bored() -> None:
    bore = WorkStep(name="bore", holds=(TRUE,), cuts=(Bore(name="bore", diameter_mm=20, end=End.RIGHT, deep_mm=40),))
    again = WorkStep(name="again", holds=(TRUE,))
    stages = carry(Round(diameter_mm=50, long_mm=100), [bore, again])
    assert [stage.uneven for stage in stages[1:]] == pytest.approx([0, 0], abs=0.003)


def test_corners_in_the_jaws_are_left_out() -> None:
    hold = JawsOnBlank(deep_mm=20)
    turned = WorkStep(name="turn", holds=(hold,), cuts=(Cylinder(name="round", diameter_mm=45, start_mm=20),))
    first, second = carry(Square(side_mm=50, long_mm=100), [turned, WorkStep(name="again", holds=(hold,))])[1:]
    assert first.uneven > 0.25
    assert second.uneven == pytest.approx(0, abs=0.003)


def test_a_round_that_is_set_off_swings_with_its_center() -> None:
    """Set off by d, a round of the radius r swings r + d, and its center goes around at d."""
    hold = OffsetCenters(offset_mm=10)
    _, stage = carry(Round(diameter_mm=50, long_mm=100), [WorkStep(name="mount", holds=(hold,))])
    assert stage.unbalance == pytest.approx(10 / 35, rel=0.01)
    assert stage.uneven == pytest.approx(1 - 15 / 35, rel=0.02)


@pytest.mark.parametrize("segments", [24, 48, 72, 96])
@pytest.mark.parametrize("left_mm", [49.5, 48.4, 40.0])
def test_a_round_turned_from_a_round_meets_no_air_at_any_number_of_sides(segments: int, left_mm: float) -> None:
    cut = WorkStep(name="turn", holds=(TRUE,), cuts=(Cylinder(name="round", diameter_mm=left_mm),))
    _, stage = carry(Round(diameter_mm=50, long_mm=100), [cut], segments=segments)
    assert [(one.share, one.last) for one in stage.air] in ([], [(0.0, 0.0)])


def test_the_blanks_own_side_is_bare_until_it_is_turned() -> None:
    half = WorkStep(name="half", holds=(TRUE,), cuts=(Cylinder(name="half", diameter_mm=45, end_mm=50),))
    again = WorkStep(name="again", holds=(TRUE,), cuts=(Cylinder(name="again", diameter_mm=40, end_mm=50),))
    rest = WorkStep(name="rest", holds=(TRUE,), cuts=(Cylinder(name="rest", diameter_mm=45),))
    stages = carry(Round(diameter_mm=50, long_mm=100), [half, again, rest])
    assert [stage.bare for stage in stages] == [False, True, False, True]
