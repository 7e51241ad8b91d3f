"""The opening of a glued-up ring or tube: a hole with a name, there before any cut."""

from __future__ import annotations

import math

import pytest

from handouts_build.workpiece import (
    BetweenCenters,
    Bore,
    Code,
    End,
    GluedRing,
    HolesAround,
    Jaws,
    JawsInRecess,
    Joint,
    Piece,
    Round,
    ShopLimits,
    Stage,
    Staves,
    Tenon,
    WorkpieceFault,
    WorkStep,
    assemble,
    carry,
)

TUBE = Staves(pieces=12, across_mm=120, inside_mm=60, long_mm=100)
RING = GluedRing(pieces=12, across_mm=120, inside_mm=60, long_mm=30)
CENTERS = (BetweenCenters(drive_mm=80, tail_mm=80),)


def _cut(*cuts: HolesAround | Bore, blank: Staves | GluedRing = TUBE) -> Stage:
    return carry(blank, (WorkStep(name="cut", holds=CENTERS, cuts=cuts),))[-1]


def _codes(stage: Stage) -> list[tuple[Code, tuple[str, ...]]]:
    return [(one.code, one.names) for one in stage.verdicts]


def test_jaws_open_out_in_it_and_its_width_is_from_flat_to_flat() -> None:
    hold = JawsInRecess(recess="opening")
    for blank in (TUBE, RING):
        for least, wrong in ((50.0, False), (70.0, True)):
            shop = ShopLimits(jaws=(Jaws(name="jaws", open_mm=(least, 90.0)),))
            stage = carry(
                blank,
                (WorkStep(name="bore", holds=(hold,), cuts=(Bore(name="b", diameter_mm=66, end=End.RIGHT),)),),
                shop=shop,
            )
            found = [one.numbers["have_mm"] for one in stage[-1].verdicts if one.code is Code.HOLD_OUT_OF_RANGE]
            assert found == ([60] if wrong else [])


def test_a_hole_drilled_into_it_says_so_and_one_that_misses_it_is_told() -> None:
    """The wall is (120 - 60) / 2 = 30 thick at a flat."""
    into = HolesAround(name="eye", diameter_mm=8, count=1, at_mm=50, deep_mm=40, start_deg=0)
    assert (Code.UNMEANT_BREAK_THROUGH, ("eye", "opening")) in _codes(_cut(into))
    meant = HolesAround(name="eye", diameter_mm=8, count=1, at_mm=50, deep_mm=40, start_deg=0, meets=("opening",))
    assert _codes(_cut(meant)) == []
    short = HolesAround(name="eye", diameter_mm=8, count=1, at_mm=50, deep_mm=10, start_deg=0, meets=("opening",))
    assert (Code.MEANT_MEETING_MISSING, ("eye", "opening")) in _codes(_cut(short))


def test_boring_it_wider_needs_no_word() -> None:
    """What is left is the twelve-sided tube less a round of 70: 12 tan(15°) 60² - π 35², times its length."""
    stage = _cut(Bore(name="b", diameter_mm=70, end=End.RIGHT))
    assert [code for code, _ in _codes(stage) if code is Code.UNMEANT_BREAK_THROUGH] == []
    area = 12 * math.tan(math.pi / 12) * 60**2 - math.pi * 35**2
    assert stage.volume_mm3 == pytest.approx(area * 100, rel=1e-3)


def _plug() -> Stage:
    cut = Tenon(name="plug", diameter_mm=59.6, long_mm=15, end=End.RIGHT)
    return carry(Round(diameter_mm=90, long_mm=25), (WorkStep(name="turn", holds=CENTERS, cuts=(cut,)),))[-1]


@pytest.mark.parametrize(("far", "place"), [(False, -5.0), (True, 105.0)])
def test_a_plug_goes_into_either_end_of_it(far: bool, place: float) -> None:
    """Its shoulder lies on the end, so that the middle of its flange of 10 is 5 outside."""
    base = _cut(HolesAround(name="eye", diameter_mm=4, count=1, at_mm=50, deep_mm=10))
    joint = Joint(piece="plug", tenon="plug", onto="tube", hole="opening", far=far)
    whole = assemble([Piece(name="tube", stage=base), Piece(name="plug", stage=_plug())], [joint])
    (fit,) = whole.fits
    assert fit.play_mm == pytest.approx(0.4)
    assert fit.engaged_mm == pytest.approx(15)
    assert fit.clashes == ()
    box = whole.placed[1].wood.box_mm
    flange = (box[2] - 0 if not far else box[5] - 100) / 2
    assert flange == pytest.approx(place if not far else place - 100, abs=0.01)


def test_a_plug_in_an_opening_that_is_bored_away_has_no_wood_around_it() -> None:
    joint = Joint(piece="plug", tenon="plug", onto="tube", hole="opening")
    for bore, gone in ((40, False), (80, True)):
        base = _cut(Bore(name="b", diameter_mm=bore, end=End.RIGHT))
        (fit,) = assemble([Piece(name="tube", stage=base), Piece(name="plug", stage=_plug())], [joint]).fits
        assert fit.gone is gone


def test_other_blanks_have_none() -> None:
    step = WorkStep(
        name="bore", holds=CENTERS, cuts=(Bore(name="b", diameter_mm=10, end=End.LEFT, meets=("opening",)),)
    )
    with pytest.raises(WorkpieceFault, match="'opening', which is no cut"):
        carry(Round(diameter_mm=60, long_mm=50), (step,))
