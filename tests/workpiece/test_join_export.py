"""Parts put together, and solids as files."""

from __future__ import annotations

import dataclasses
import io
import json
import math
import struct

import numpy as np
import pytest
import trimesh

from handouts_build.workpiece import (
    BetweenCenters,
    Bore,
    ColoredSolid,
    Cylinder,
    End,
    HolesAround,
    Joint,
    PartOff,
    Piece,
    Recess,
    Round,
    Stage,
    Tenon,
    WorkpieceFault,
    WorkStep,
    assemble,
    carry,
    glb,
    stl,
)
from handouts_build.workpiece.axes import Axis
from handouts_build.workpiece.cut import BaseCut
from handouts_build.workpiece.cuts.thread import InsideThread, OutsideThread
from handouts_build.workpiece.join import mouth_of
from handouts_build.workpiece.solid import Solid
from tests.workpiece.lantern import IN, Lantern, drop, lantern_with_drop

CENTERS = (BetweenCenters(),)


def block(*, deep: float | None = 20.0) -> Stage:
    """A round 60 across and 50 long, bored 12 wide from its right end."""
    bore = Bore(name="bore", diameter_mm=12, end=End.RIGHT, deep_mm=deep)
    return carry(Round(diameter_mm=60, long_mm=50), (WorkStep(name="bore", holds=CENTERS, cuts=(bore,)),))[-1]


def leg(*, tenon: float = 11.5, long: float = 15.0) -> Stage:
    """A round 24 across and 100 long with a tenon at its left end."""
    cut = Tenon(name="tenon", diameter_mm=tenon, long_mm=long, end=End.LEFT)
    return carry(Round(diameter_mm=24, long_mm=100), (WorkStep(name="turn", holds=CENTERS, cuts=(cut,)),))[-1]


INTO = Joint(piece="leg", tenon="tenon", onto="block", hole="bore")


def test_a_tenon_sits_with_its_shoulder_on_the_face() -> None:
    """The leg's shoulder, 15 from its end, lies on the block's right face at 50; its far end at 50 + 85."""
    base, part = block(), leg()
    whole = assemble([Piece(name="block", stage=base), Piece(name="leg", stage=part)], [INTO])
    box = whole.placed[1].wood.box_mm
    assert (box[2], box[5]) == pytest.approx((35, 135), abs=1e-6)
    (fit,) = whole.fits
    assert fit.play_mm == pytest.approx(0.5)
    assert fit.engaged_mm == pytest.approx(15)
    assert fit.spare_mm == pytest.approx(5)
    assert fit.clashes == ()
    assert whole.volume_mm3 == pytest.approx(base.volume_mm3 + part.volume_mm3)
    assert whole.wood.volume_mm3 == pytest.approx(whole.volume_mm3, rel=1e-4)


def test_a_tenon_too_thick_or_too_long_is_told_by_its_fit() -> None:
    base = block()
    thick = leg(tenon=12.5)
    (fit,) = assemble([Piece(name="block", stage=base), Piece(name="leg", stage=thick)], [INTO]).fits
    assert fit.play_mm == pytest.approx(-0.5)
    assert (fit.hole_mm, fit.tenon_mm) == (12, 12.5)
    long = leg(long=26)
    (fit,) = assemble([Piece(name="block", stage=base), Piece(name="leg", stage=long)], [INTO]).fits
    assert fit.spare_mm == pytest.approx(-6)


def test_wood_past_a_tenons_end_goes_through_the_hole_and_a_skirt_around_it_does_not() -> None:
    """A stub 20 across is told; a skirt of 56 to 64 around the tenon goes over the block, not into its bore."""
    base, part = block(deep=None), leg()
    pieces = [Piece(name="block", stage=base), Piece(name="leg", stage=part)]
    (plain,) = assemble(pieces, [INTO]).fits
    assert plain.beyond_mm == 0
    for inner, outer, told in ((0.0, 10.0, 20.0), (28.0, 32.0, 0.0)):
        past = Solid.turned([(-10, inner), (2, inner), (2, outer), (-10, outer)], segments=72)
        longer = dataclasses.replace(part, wood=Solid.all_of([part.wood, past]))
        (fit,) = assemble([pieces[0], Piece(name="leg", stage=longer)], [INTO]).fits
        assert fit.beyond_mm == pytest.approx(told, rel=0.003)


def test_the_whole_balances_between_its_parts() -> None:
    """The center of gravity of two parts lies on the line between theirs, by their weights (statics, any textbook)."""
    base, part = block(deep=None), leg()
    pieces = [
        Piece(name="block", stage=base, density_g_mm3=0.6e-3),
        Piece(name="leg", stage=part, density_g_mm3=0.9e-3),
    ]
    whole = assemble(pieces, [dataclasses.replace(INTO, far=True)])
    weights = [base.volume_mm3 * 0.6e-3, part.volume_mm3 * 0.9e-3]
    centers = [one.wood.center_mm[2] for one in whole.placed]
    assert whole.weight_g == pytest.approx(sum(weights))
    assert whole.center_mm[2] == pytest.approx(np.average(centers, weights=weights))
    assert whole.placed[1].wood.box_mm[2] < 0


def test_it_hangs_straight_from_its_axis_and_tilts_from_beside_it() -> None:
    """tan(tilt) = offset / drop."""
    base, part = block(), leg()
    whole = assemble([Piece(name="block", stage=base), Piece(name="leg", stage=part)], [INTO])
    assert whole.hanging((0.0, 0.0, 0.0)).tilt_deg == pytest.approx(0, abs=1e-3)
    drop_mm = whole.center_mm[2]
    assert math.tan(math.radians(whole.hanging((10.0, 0.0, 0.0)).tilt_deg)) == pytest.approx(10 / drop_mm, rel=1e-3)


def test_a_leg_in_a_side_hole_stands_across() -> None:
    hole = HolesAround(name="bore", diameter_mm=12, count=1, at_mm=25, deep_mm=18, start_deg=90)
    base = carry(Round(diameter_mm=60, long_mm=50), (WorkStep(name="drill", holds=CENTERS, cuts=(hole,)),))[-1]
    part = leg()
    whole = assemble([Piece(name="block", stage=base), Piece(name="leg", stage=part)], [INTO])
    center = whole.placed[1].wood.center_mm
    assert center[0] == pytest.approx(0, abs=1e-6)
    assert center[2] == pytest.approx(25, abs=1e-6)
    assert center[1] > 60
    assert whole.fits[0].clashes == ()


@pytest.mark.parametrize(
    ("joint", "says"),
    [
        (Joint(piece="leg", tenon="tenon", onto="block", hole="tenon"), "nothing here is called 'tenon'"),
        (Joint(piece="leg", tenon="none", onto="block", hole="bore"), "nothing here is called 'none'"),
        (Joint(piece="legg", tenon="tenon", onto="block", hole="bore"), "no part is called 'legg'"),
        (Joint(piece="leg", tenon="tenon", onto="block", hole="bore", far=True), "no other end"),
        (Joint(piece="block", tenon="tenon", onto="leg", hole="bore"), "cannot go onto"),
    ],
)
def test_a_joint_that_names_what_is_not_there_is_refused(joint: Joint, says: str) -> None:
    pieces = [Piece(name="block", stage=block()), Piece(name="leg", stage=leg())]
    with pytest.raises(WorkpieceFault) as caught:
        assemble(pieces, [joint])
    assert says in caught.value.message


def test_a_part_left_over_is_refused() -> None:
    with pytest.raises(WorkpieceFault, match="joined to nothing"):
        assemble([Piece(name="block", stage=block()), Piece(name="leg", stage=leg())], [])


def test_the_drop_hangs_below_the_lantern() -> None:
    whole = assemble(*lantern_with_drop())
    assert whole.placed[1].wood.box_mm[5] > whole.placed[0].wood.box_mm[5] + 60
    assert whole.hanging((0.0, 0.0, whole.placed[0].wood.box_mm[2])).tilt_deg == pytest.approx(0, abs=0.05)
    assert whole.fits[0].play_mm == pytest.approx(0.75 * IN - 18.8)


def _chunks(data: bytes) -> tuple[dict[str, object], bytes]:
    """The two chunks of a GLB, by the glTF 2.0 specification (Khronos, ISO/IEC 12113), section 4.4."""
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack_from("<I4s", data, 12)
    assert (kind, size % 4) == (b"JSON", 0)
    document = json.loads(data[20 : 20 + size])
    binary, kind = struct.unpack_from("<I4s", data, 20 + size)
    assert (kind, binary % 4) == (b"BIN\0", 0)
    assert 28 + size + binary == len(data)
    return document, data[28 + size :]


def test_glb_is_read_back_by_trimesh_with_its_volume() -> None:
    """Metres, so a thousandth of a thousandth of a thousandth of the millimetres' volume."""
    stage = Lantern().stages()[-1]
    data = glb([ColoredSolid("ball", stage.wood)])
    document, binary = _chunks(data)
    assert document["buffers"] == [{"byteLength": len(binary)}]
    scene = trimesh.load(io.BytesIO(data), file_type="glb")
    (mesh,) = scene.dump() if hasattr(scene, "dump") else [scene]
    mesh.merge_vertices(merge_norm=True, merge_tex=True)
    assert mesh.volume * 1e9 == pytest.approx(stage.volume_mm3, rel=1e-4)
    # The axis stands upright: y in the file.
    assert mesh.extents[1] * 1e3 == pytest.approx(stage.box_mm[5] - stage.box_mm[2], rel=1e-5)


def test_glb_holds_a_node_for_each_part_and_is_the_same_each_time() -> None:
    looks = [ColoredSolid("ball", Lantern().stages()[-1].wood), ColoredSolid("drop", drop().wood, (0.8, 0.7, 0.5))]
    data = glb(looks)
    document, _ = _chunks(data)
    assert [node["name"] for node in document["nodes"]] == ["ball", "drop", "whole"]  # type: ignore[index, union-attr]
    assert data == glb(
        [ColoredSolid("ball", Lantern().stages()[-1].wood), ColoredSolid("drop", drop().wood, (0.8, 0.7, 0.5))]
    )


def test_a_coarser_glb_is_smaller_and_hardly_less_wood() -> None:
    wood = Lantern().stages()[-1].wood
    assert len(glb([ColoredSolid("ball", wood)], coarse_mm=0.03)) < len(glb([ColoredSolid("ball", wood)]))
    assert wood.simplified(0.03).volume_mm3 == pytest.approx(wood.volume_mm3, rel=5e-3)


def test_stl_is_read_back_by_trimesh_with_its_volume() -> None:
    """84 bytes and 50 a triangle, the binary kind."""
    stage = block()
    data = stl(stage.wood)
    assert len(data) == 84 + 50 * stage.wood.triangle_count
    mesh = trimesh.load(io.BytesIO(data), file_type="stl")
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx(stage.volume_mm3, rel=1e-5)
    assert data == stl(block().wood)


def _pieces(base: Stage, part: Stage) -> list[Piece]:
    return [Piece(name="block", stage=base), Piece(name="leg", stage=part)]


def _turned(*cuts: BaseCut) -> Stage:
    """A round 24 across and 100 long, turned."""
    return carry(Round(diameter_mm=24, long_mm=100), (WorkStep(name="turn", holds=CENTERS, cuts=cuts),))[-1]


TENON = Tenon(name="tenon", diameter_mm=11.5, long_mm=15, end=End.LEFT)


def test_a_joint_is_judged_on_the_wood_and_not_on_the_name_of_a_cut() -> None:
    """A tenon turned down to 10 after it was named at 11.5 is 10 thick; one cut short to 9 is 9 long."""
    thinner = _turned(TENON, Cylinder(name="thinner", diameter_mm=10, end_mm=15))
    (fit,) = assemble(_pieces(block(), thinner), [INTO]).fits
    assert fit.tenon_mm == pytest.approx(10, abs=0.01)
    assert fit.play_mm == pytest.approx(2, abs=0.01)
    shorter = _turned(TENON, PartOff(name="end", at_mm=6, keep=End.RIGHT))
    (fit,) = assemble(_pieces(block(), shorter), [INTO]).fits
    assert (fit.long_mm, fit.engaged_mm, fit.tenon_mm) == pytest.approx((9, 9, 11.5))


def test_wood_in_a_hole_is_in_the_tenons_way() -> None:
    """A pin of 4 left standing across a bore of 12, 4 from its mouth: the axis is in wood there."""
    base = block()
    pin = Solid.cylinder(radius_mm=2, start_mm=-8, end_mm=8, segments=48)
    across = pin.moved(Axis((0.0, 0.0, 46.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)))
    blocked = dataclasses.replace(base, wood=Solid.all_of([base.wood, across]))
    (fit,) = assemble(_pieces(blocked, leg()), [INTO]).fits
    assert fit.hole_mm == 0


def test_a_through_bore_that_was_parted_shorter_still_has_its_far_end() -> None:
    """50 less the 20 parted off: a tenon of 15 is 15 deep in it from the far end, with its shoulder at 20."""
    bore = Bore(name="bore", diameter_mm=12, end=End.RIGHT)
    off = PartOff(name="off", at_mm=20, keep=End.RIGHT)
    base = carry(Round(diameter_mm=60, long_mm=50), (WorkStep(name="bore", holds=CENTERS, cuts=(bore, off)),))[-1]
    whole = assemble(_pieces(base, leg()), [dataclasses.replace(INTO, far=True)])
    (fit,) = whole.fits
    assert not fit.gone
    assert fit.engaged_mm == pytest.approx(15)
    assert whole.placed[1].wood.box_mm[5] == pytest.approx(35)


def test_a_holes_mouth_is_where_wood_is_first_around_it() -> None:
    """A recess wider than the bore takes its first 5 away, and wood beside the recess is no wood around the bore."""
    recess = Recess(name="recess", diameter_mm=30, end=End.RIGHT, deep_mm=5)
    bore = Bore(name="bore", diameter_mm=12, end=End.RIGHT, deep_mm=20)
    made = carry(Round(diameter_mm=60, long_mm=50), (WorkStep(name="bore", holds=CENTERS, cuts=(bore, recess)),))[-1]
    mouth = mouth_of(made.features["bore"], made.wood, far=False)
    assert mouth.long_mm == pytest.approx(15)
    assert mouth.axis.origin == pytest.approx((0, 0, 45))


@pytest.mark.parametrize(("outside", "inside"), [(False, False), (True, False), (False, True), (True, True)])
def test_a_thread_on_one_of_two_is_told_apart_from_none_and_from_both(outside: bool, inside: bool) -> None:
    screwed = OutsideThread(name="out", tenon="tenon", pitch_mm=2)
    tapped = InsideThread(name="in", hole="seat", pitch_mm=2)
    seat = Recess(name="seat", diameter_mm=20, end=End.RIGHT, deep_mm=20)
    tenon = Tenon(name="tenon", diameter_mm=22, long_mm=15, end=End.LEFT)
    base = carry(
        Round(diameter_mm=60, long_mm=50),
        (WorkStep(name="seat", holds=CENTERS, cuts=(seat, tapped) if inside else (seat,)),),
    )[-1]
    leg = carry(
        Round(diameter_mm=30, long_mm=100),
        (WorkStep(name="turn", holds=CENTERS, cuts=(tenon, screwed) if outside else (tenon,)),),
    )[-1]
    hole, spigot = ("in" if inside else "seat"), ("out" if outside else "tenon")
    (fit,) = assemble(_pieces(base, leg), [dataclasses.replace(INTO, hole=hole, tenon=spigot)]).fits
    assert fit.half_threaded is (outside != inside)
    assert (fit.thread is not None) is (outside and inside)


def test_a_part_that_runs_into_another_beside_the_joint_is_told_with_how_much() -> None:
    """A collar of 40 across, 5 behind the shoulder, in a block with a rim of 35 that stands 8 proud: 3 deep of it."""
    base, part = block(), leg()
    rim = Solid.turned([(49.9, 17.5), (58, 17.5), (58, 28), (49.9, 28)], segments=96)
    collar = Solid.turned([(20, 11), (30, 11), (30, 20), (20, 20)], segments=96)
    proud = dataclasses.replace(base, wood=Solid.all_of([base.wood, rim]))
    wide = dataclasses.replace(part, wood=Solid.all_of([part.wood, collar]))
    (fit,) = assemble(_pieces(proud, wide), [INTO]).fits
    (clash,) = fit.clashes
    assert clash.other == "block"
    assert clash.volume_mm3 == pytest.approx(math.pi * (20**2 - 17.5**2) * 3, rel=0.01)


def test_two_tenons_that_meet_in_one_bore_are_told() -> None:
    """From both ends of 50 a tenon of 30: 10 of each stands in the other, π/4 11.5² 10."""
    base, part = block(deep=None), leg(long=30)
    both = [*_pieces(base, part), Piece(name="other", stage=part)]
    joints = [INTO, Joint(piece="other", tenon="tenon", onto="block", hole="bore", far=True)]
    first, second = assemble(both, joints).fits
    assert first.clashes == ()
    (clash,) = second.clashes
    assert clash.other == "leg"
    assert clash.volume_mm3 == pytest.approx(math.pi / 4 * 11.5**2 * 10, rel=0.01)
