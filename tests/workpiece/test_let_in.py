"""A base in the groove of a tube of staves, against plane trigonometry of regular polygons."""

from __future__ import annotations

import math

import pytest

from handouts_build.workpiece import (
    AxialHoles,
    BetweenCenters,
    Board,
    Cylinder,
    EdgeFit,
    End,
    Jig,
    Joint,
    Piece,
    Prism,
    Stage,
    StaveGroove,
    Staves,
    WorkpieceFault,
    WorkStep,
    assemble,
    carry,
)

BENCH = (Jig(),)
N, INSIDE, WALL, LONG = 10, 120.0, 20.0, 150.0
GROOVE = StaveGroove(name="groove", at_mm=20, wide_mm=10, deep_mm=6)
JOINT = Joint(piece="base", onto="tube", groove="groove")


def _tube(groove: StaveGroove = GROOVE, *, grows: float = 0.0) -> Stage:
    blank = Staves(
        pieces=N, across_mm=INSIDE + 2 * WALL, inside_mm=INSIDE, long_mm=LONG,
        right_mm=INSIDE + 2 * WALL + grows if grows else None,
    )  # fmt: skip
    return carry(blank, (WorkStep(name="saw", holds=BENCH, cuts=(groove,)),))[-1]


def _base(cut: Prism | Cylinder, *, thick: float = 9.5) -> Stage:
    holds = BENCH if isinstance(cut, Prism) else (BetweenCenters(),)
    blank = Board(wide_mm=150, thick_mm=150, long_mm=thick)
    return carry(blank, (WorkStep(name="base", holds=holds, cuts=(cut,)),))[-1]


def _fit(base: Stage, tube: Stage | None = None, joint: Joint = JOINT) -> EdgeFit:
    whole = assemble([Piece(name="tube", stage=tube or _tube()), Piece(name="base", stage=base)], [joint])
    (fit,) = whole.fits
    assert isinstance(fit, EdgeFit)
    return fit


def _decagon(across: float) -> float:
    """Area of a regular polygon by its width from flat to flat: n tan(180°/n) times the square of half of it."""
    return N * math.tan(math.pi / N) * (across / 2) ** 2


def test_a_groove_takes_the_ring_between_two_polygons() -> None:
    whole = _decagon(INSIDE + 2 * WALL) - _decagon(INSIDE)
    taken = (_decagon(INSIDE + 12) - _decagon(INSIDE)) * 10
    assert _tube().volume_mm3 == pytest.approx(whole * LONG - taken, rel=1e-6)


def test_a_groove_in_tapered_staves_stands_upright_at_its_depth_in_its_middle() -> None:
    """Half way up a tube that grows by 30 the opening is 135 wide, and the floor of a groove 6 deep 147."""
    tube = _tube(StaveGroove(name="groove", at_mm=LONG / 2, wide_mm=10, deep_mm=6), grows=30.0)
    assert tube.features["groove"].diameter_mm == pytest.approx(INSIDE + 15 + 12, abs=1e-3)
    fit = _fit(_base(Prism(name="edge", flats=N, across_mm=146)), tube)
    assert fit.edge.room_mm == pytest.approx(0.5, abs=1e-2)
    # Above the groove the opening is 5 · 30/150 = 1 wider than in its middle, half of it on one side.
    assert fit.edge.catch_mm == pytest.approx((146 - 136) / 2, abs=0.02)


def test_a_base_of_as_many_sides_is_caught_all_around_with_its_room_and_its_play() -> None:
    fit = _fit(_base(Prism(name="edge", flats=N, across_mm=130)))
    edge = fit.edge
    assert (edge.edge_mm, edge.groove_mm) == pytest.approx((130, 132), abs=0.05)
    assert (edge.room_mm, edge.catch_mm) == pytest.approx((1, 5), abs=0.02)
    assert (edge.wide_mm, edge.thick_mm, edge.open_share) == pytest.approx((10, 9.5, 0.0))
    assert fit.clashes == ()


def test_a_disk_leaves_gaps_at_the_joints_of_the_staves() -> None:
    """A corner of the opening lies 60 / cos 18° = 63.09 from the axis; a disk of 62 ends within acos(60 / 62) of each
    flat's middle, which leaves 1 - acos(60 / 62) / 18° of a turn open."""
    edge = _fit(_base(Cylinder(name="disk", diameter_mm=124))).edge
    assert edge.open_share == pytest.approx(1 - math.degrees(math.acos(60 / 62)) / 18, abs=0.02)
    assert edge.catch_mm == pytest.approx(2, abs=0.03)  # a circle is drawn with straight sides


def test_a_base_that_is_turned_off_its_staves_does_not_go_in() -> None:
    """By half a side: a corner at 130 / 2 / cos 18° stands before a flat of the groove at 66."""
    edge = _fit(_base(Prism(name="edge", flats=N, across_mm=130)), joint=Joint(
        piece="base", onto="tube", groove="groove", turn_deg=180 / N
    )).edge  # fmt: skip
    assert edge.room_mm == pytest.approx(66 - 65 / math.cos(math.pi / N), abs=0.06)


def test_a_base_too_small_is_caught_nowhere_and_one_too_thick_stands_in_the_staves() -> None:
    assert _fit(_base(Prism(name="edge", flats=N, across_mm=118))).edge.catch_mm < 0
    thick = _fit(_base(Prism(name="edge", flats=N, across_mm=130), thick=14))
    assert thick.edge.thick_mm == pytest.approx(14)
    (clash,) = thick.clashes
    assert clash.volume_mm3 == pytest.approx((_decagon(130) - _decagon(INSIDE)) * 4, rel=0.01)


@pytest.mark.parametrize(
    ("groove", "says"),
    [
        (StaveGroove(name="groove", at_mm=20, wide_mm=10, deep_mm=20), "goes through staves"),
        (StaveGroove(name="groove", at_mm=2, wide_mm=10, deep_mm=6), "past the end of the wood"),
    ],
)
def test_a_groove_that_staves_cannot_have_is_refused(groove: StaveGroove, says: str) -> None:
    with pytest.raises(WorkpieceFault, match=says):
        _tube(groove)


def test_a_board_has_no_staves() -> None:
    with pytest.raises(WorkpieceFault, match="no staves to saw a groove into"):
        carry(Board(wide_mm=90, thick_mm=90, long_mm=90), (WorkStep(name="saw", holds=BENCH, cuts=(GROOVE,)),))


def test_an_edge_goes_into_a_groove_in_staves_and_into_nothing_else() -> None:
    drilled = WorkStep(
        name="drill", holds=BENCH,
        cuts=(AxialHoles(name="hole", count=1, circle_mm=0, diameter_mm=8, end=End.RIGHT, deep_mm=4),),
    )  # fmt: skip
    block = carry(Board(wide_mm=90, thick_mm=90, long_mm=30), (drilled,))[-1]
    with pytest.raises(WorkpieceFault, match="is no groove in staves"):
        _fit(_base(Prism(name="edge", flats=N, across_mm=130)), block, Joint(piece="base", onto="tube", groove="hole"))


def test_an_opening_that_tapers_is_held_by_all_along() -> None:
    """The wood around it is there, whichever end is wider."""
    for grows in (30.0, -30.0, 0.0):
        assert _tube(grows=grows).features["opening"].wood_share == pytest.approx(1.0)
