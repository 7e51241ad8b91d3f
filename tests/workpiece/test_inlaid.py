"""Plugs and inlays, against volumes of cylinders and against what was cut."""

from __future__ import annotations

import math

import pytest

from handouts_build.workpiece import (
    BetweenCenters,
    Bore,
    Code,
    Cylinder,
    End,
    Faceplate,
    HolesAround,
    JawsOnBlank,
    Jig,
    LetIn,
    Offcut,
    PartOff,
    Recess,
    Round,
    Stage,
    Tenon,
    WorkpieceFault,
    WorkStep,
    carry,
)

WIDE, LONG, ACROSS, DEEP = 80.0, 40.0, 30.0, 5.0
RECESS = WorkStep(
    name="recess", holds=(Faceplate(),), cuts=(Recess(name="recess", diameter_mm=ACROSS, deep_mm=DEEP, end=End.RIGHT),)
)
HOST = Round(diameter_mm=WIDE, long_mm=LONG)


def _disk(diameter: float = 29.8, long: float = 8.0, *, hole: str = "recess", tenon: str = "disk") -> LetIn:
    turned = Tenon(name="disk", diameter_mm=diameter, long_mm=long, end=End.RIGHT)
    off = PartOff(name="off", at_mm=60 - long, keep=End.RIGHT)
    steps = (
        WorkStep(name="turn", holds=(BetweenCenters(),), cuts=(turned,)),
        WorkStep(name="part", holds=(JawsOnBlank(deep_mm=20.0),), cuts=(off,)),
    )
    return LetIn(part="disk", blank=Round(diameter_mm=diameter + 6, long_mm=60), steps=steps, tenon=tenon, hole=hole)


def _glue(item: LetIn) -> WorkStep:
    return WorkStep(name="glue", holds=(Jig(),), let_in=(item,))


def _faced(at: float) -> WorkStep:
    return WorkStep(
        name="face", holds=(Faceplate(),), cuts=(PartOff(name="face", at_mm=at, kerf_mm=12, keep=End.LEFT),)
    )


def _codes(stage: Stage) -> dict[Code, dict[str, float]]:
    ours = (Code.INLAY_SUNK, Code.INLAY_PROUD, Code.THIN_INLAY)
    return {found.code: dict(found.numbers) for found in stage.verdicts if found.code in ours}


def test_wood_and_glue_fill_the_hole_and_the_rest_stands_out_of_it() -> None:
    """Volumes of cylinders: π r² h."""
    last = carry(HOST, (RECESS, _glue(_disk())))[-1]
    out = math.pi * 14.9**2 * (8 - DEEP)
    assert last.volume_mm3 == pytest.approx(math.pi * (WIDE / 2) ** 2 * LONG + out, rel=1e-6)
    assert len(last.wood.pieces()) == 1
    (inset,) = last.insets
    assert inset.fit.play_mm == pytest.approx(0.2)
    assert inset.fit.spare_mm == pytest.approx(0.0)
    assert "recess" not in last.features


def test_one_that_is_turned_with_the_wood_around_it_is_flush() -> None:
    last = carry(HOST, (RECESS, _glue(_disk()), _faced(38.0)))[-1]
    assert _codes(last) == {}
    left = (last.insets[0].room & last.wood).volume_mm3
    assert left == pytest.approx(math.pi * 15**2 * (DEEP - 2), rel=1e-3)


@pytest.mark.parametrize(
    ("long", "faced", "code", "number", "value"),
    [
        (8.0, None, Code.INLAY_PROUD, "over_mm", 3.0),
        (4.0, None, Code.INLAY_SUNK, "under_mm", 1.0),
        (8.0, 35.5, Code.THIN_INLAY, "left_mm", 0.5),
        (8.0, 34.0, Code.THIN_INLAY, "left_mm", 0.0),
    ],
)
def test_one_that_is_not_flush_or_is_cut_through_is_found(
    long: float, faced: float | None, code: Code, number: str, value: float
) -> None:
    """The depth of the recess and the length of the disk say how far."""
    steps = (RECESS, _glue(_disk(long=long)), *([_faced(faced)] if faced is not None else []))
    found = _codes(carry(HOST, steps)[-1])
    assert list(found) == [code]
    assert found[code][number] == pytest.approx(value, abs=0.02)


def test_pegs_fill_every_hole_of_a_set_and_lie_flush_in_a_round_side() -> None:
    """Each fills π r² h, less what a round side of radius R falls away over it, r² / 8R in the mean."""
    holes = HolesAround(name="holes", each="hole", diameter_mm=8, count=6, at_mm=60, deep_mm=12)
    centers = (BetweenCenters(),)
    post = Round(diameter_mm=50, long_mm=120)
    steps = (
        WorkStep(name="drill", holds=centers, cuts=(holes,)),
        _glue(_disk(7.8, 16.0, hole="holes")),
        WorkStep(name="turn", holds=centers, cuts=(Cylinder(name="flush", diameter_mm=46),)),
    )
    last = carry(post, steps)[-1]
    assert _codes(last) == {}
    assert len(last.insets) == 6
    assert last.volume_mm3 == pytest.approx(math.pi * 23**2 * 120, rel=1e-4)
    each = {round((inset.room & last.wood).volume_mm3) for inset in last.insets}
    assert max(each) - min(each) <= 1
    # Two of its twelve millimetres are turned off.
    assert min(each) == pytest.approx(math.pi * 16 * (10 - 16 / (8 * 23)), rel=0.005)


def test_one_in_a_lid_goes_with_the_lid_when_that_is_parted_off() -> None:
    """The lid is 12 mm of the cylinder with the disk in it; the box keeps nothing of the disk to find fault with."""
    off = PartOff(name="lid off", at_mm=25, kerf_mm=3, keep=End.LEFT)
    steps = (RECESS, _glue(_disk(long=DEEP)), WorkStep(name="part", holds=(Faceplate(),), cuts=(off,)))
    box = carry(HOST, steps)[-1]
    lid = carry(Offcut(blank=HOST, steps=steps), (WorkStep(name="look", holds=(Jig(),)),))[-1]
    assert (_codes(box), box.insets) == ({}, ())
    assert (_codes(lid), [inset.hole for inset in lid.insets]) == ({}, ["recess"])
    assert lid.volume_mm3 == pytest.approx(math.pi * 40**2 * 12, rel=1e-6)


def test_a_hole_that_is_filled_no_longer_thins_the_wood_beside_it() -> None:
    """A bore that passes 1 mm beside the open recess is minded, beside the filled one it is not."""
    beside = WorkStep(
        name="bore", holds=(Faceplate(),), cuts=(Bore(name="bore", diameter_mm=20, deep_mm=34, end=End.LEFT),)
    )
    thin = [carry(HOST, (RECESS, *steps))[-1] for steps in ((beside,), (_glue(_disk(long=DEEP)), beside))]
    found = [[each for each in stage.verdicts if each.code is Code.THIN_WEB] for stage in thin]
    assert [set(each.names) for each in found[0]] == [{"bore", "recess"}]
    assert found[1] == []


@pytest.mark.parametrize(
    ("item", "message"),
    [
        (_disk(hole="reces"), "no hole called 'reces'"),
        (_disk(tenon="dsk"), "dsk"),
    ],
)
def test_what_is_not_there_is_refused_at_its_step(item: LetIn, message: str) -> None:
    with pytest.raises(WorkpieceFault, match=message) as caught:
        carry(HOST, (RECESS, _glue(item)))
    assert caught.value.step == 1
