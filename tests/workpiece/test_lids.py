"""A lid turned on its own box: it sits where their joint has it, what is cut takes both, and the joint has to hold.

Volumes are checked against the closed form of a cylinder; a round is drawn with its own area.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from handouts_build.workpiece import (
    BaseCut,
    BetweenCenters,
    Code,
    Cylinder,
    End,
    JawsOnTenon,
    PartOff,
    PutOn,
    Recess,
    Round,
    Stage,
    Tenon,
    WorkpieceFault,
    WorkStep,
    carry,
)

LID = Round(diameter_mm=64, long_mm=30)
"""Its rim at 0 and a chucking tenon at its top, from 24 to 30."""
LID_STEPS = (
    WorkStep(
        name="rough", holds=(BetweenCenters(),),
        cuts=(Tenon(name="grip", diameter_mm=40, long_mm=6, end=End.RIGHT),),
    ),
    WorkStep(
        name="turn the lid", holds=(JawsOnTenon(tenon="grip"),),
        cuts=(Recess(name="seat", diameter_mm=50, deep_mm=10, end=End.LEFT),),
    ),
)  # fmt: skip
BOX = Round(diameter_mm=64, long_mm=68)


def _rough(spigot: float = 50.0) -> tuple[WorkStep, ...]:
    """The box with its tenon from 0 to 10 and its spigot from 60 to 68."""
    cuts = (
        Tenon(name="box's tenon", diameter_mm=40, long_mm=10, end=End.LEFT),
        Tenon(name="spigot", diameter_mm=spigot, long_mm=8, end=End.RIGHT),
    )
    return (WorkStep(name="rough", holds=(BetweenCenters(),), cuts=cuts),)


PUT_ON = PutOn(part="lid", blank=LID, steps=LID_STEPS, tenon="spigot", hole="seat")


def on_box(
    *cuts: BaseCut, spigot: float = 50.0, tailstock: bool = True, before: tuple[WorkStep, ...] = ()
) -> Stage:  # fmt: skip
    """The box's last stage, with the lid on it."""
    chuck = JawsOnTenon(tenon="box's tenon", tailstock=tailstock, put_on="lid")
    both = WorkStep(name="turn both", holds=(chuck,), cuts=cuts, put_on=PUT_ON)
    return carry(BOX, (*_rough(spigot), *before, both))[-1]


def codes(stage: Stage) -> list[str]:
    """What was found, in words."""
    return [found.code.value for found in stage.verdicts]


def test_the_lid_sits_with_its_rim_on_the_box_and_turns_with_it():
    stage = on_box()
    assert stage.lid is not None
    assert stage.lid.wood.box_mm[2] == pytest.approx(60.0, abs=1e-3)
    assert stage.mounted.box_mm[5] == pytest.approx(90.0, abs=1e-3)
    assert stage.wood.box_mm[5] == pytest.approx(68.0, abs=1e-3)
    assert stage.radius_before_mm == pytest.approx(32.0, abs=0.01)
    assert codes(stage) == []


def test_a_cut_over_the_joint_takes_its_ring_of_both():
    stage = on_box(Cylinder(name="side", diameter_mm=60, start_mm=40, end_mm=80))
    plain = on_box()
    ring = math.pi * (32**2 - 30**2)
    assert plain.volume_mm3 - stage.volume_mm3 == pytest.approx(20 * ring, rel=1e-4)
    assert plain.lids["lid"].volume_mm3 - stage.lids["lid"].volume_mm3 == pytest.approx(20 * ring, rel=1e-4)
    assert stage.chips_mm3 == pytest.approx(40 * ring, rel=1e-4)
    assert stage.removed.volume_mm3 == pytest.approx(40 * ring, rel=1e-4)
    assert codes(stage) == []


def test_a_cut_on_the_lid_alone_leaves_the_box_as_it_was():
    stage = on_box(PartOff(name="tenon away", at_mm=84, keep=End.LEFT))
    assert stage.volume_mm3 == pytest.approx(on_box().volume_mm3)
    assert stage.mounted.box_mm[5] == pytest.approx(84.0, abs=1e-3)
    # The tenon of the lid, less the kerf that is chips: 40 across, 6 long.
    assert stage.chips_mm3 + stage.waste_mm3 == pytest.approx(6 * math.pi * 20**2, rel=1e-4)
    assert [cut.name for cut in stage.made] == ["the outside", "box's tenon", "spigot"]
    assert codes(stage) == []


def test_it_comes_off_with_the_next_hold_and_goes_on_again_as_it_was_left():
    first = WorkStep(
        name="first", holds=(JawsOnTenon(tenon="box's tenon", tailstock=True, put_on="lid"),),
        cuts=(PartOff(name="tenon away", at_mm=84, keep=End.LEFT),),
        put_on=PUT_ON,
    )  # fmt: skip
    same = WorkStep(name="same", cuts=(Cylinder(name="top", diameter_mm=50, start_mm=78, end_mm=84),))
    off = WorkStep(name="off", holds=(JawsOnTenon(tenon="box's tenon"),))
    stages = carry(BOX, (*_rough(), first, same, off))
    assert stages[2].lid is not None
    assert stages[3].lid is not None
    assert stages[4].lid is None
    assert stages[4].mounted.box_mm[5] == pytest.approx(68.0, abs=1e-3)
    again = on_box(before=(first, same, off))
    assert again.mounted.box_mm[5] == pytest.approx(84.0, abs=1e-3)
    assert again.lids["lid"].volume_mm3 == pytest.approx(stages[3].lids["lid"].volume_mm3)


@pytest.mark.parametrize(("tailstock", "code"), [(True, Code.LOOSE_FIT), (False, Code.FLIES_OFF)])
def test_a_fit_with_play_holds_nothing(tailstock: bool, code: Code) -> None:
    (found,) = [one for one in on_box(spigot=49.8, tailstock=tailstock).verdicts if one.code is code]
    assert found.numbers["play_mm"] == pytest.approx(0.2, abs=1e-6)
    assert found.names == ("lid", "spigot")


def test_a_cut_that_takes_the_spigot_or_the_wall_around_it_cuts_its_hold():
    through = on_box(PartOff(name="through", at_mm=64, keep=End.LEFT, kerf_mm=3))
    assert Code.CUTS_ITS_HOLD.value in codes(through)
    # The lid's wall is gone where the spigot is.
    groove = on_box(Cylinder(name="waist", diameter_mm=49, start_mm=60.5, end_mm=70))
    assert Code.CUTS_ITS_HOLD.value in codes(groove)


def test_how_far_both_stand_out_is_judged_over_both():
    free = on_box(tailstock=False)
    # From the tenon's shoulder at 10 to the lid's top at 90, out of a tenon 40 across.
    assert free.held is not None
    assert free.held.overhang_mm == pytest.approx(80.0, abs=1e-3)
    assert free.held.diameter_mm == pytest.approx(40.0)
    assert on_box().held is None


def test_a_joint_that_is_not_made_yet_holds_nothing():
    item = replace(PUT_ON, tenon="lip")
    step = WorkStep(name="both", holds=(JawsOnTenon(tenon="box's tenon", put_on="lid"),), put_on=item)
    with pytest.raises(WorkpieceFault, match="'lip', by which 'lid' is held here, is not made yet"):
        carry(BOX, (*_rough(), step))
    early = replace(PUT_ON, steps=LID_STEPS[:1])
    with pytest.raises(WorkpieceFault, match="'seat', by which 'lid' is held here, is not made yet"):
        carry(BOX, (*_rough(), replace(step, put_on=early)))
