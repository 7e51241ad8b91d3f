"""What holds the wood: where a hold bears on it, and whether a cut takes that away.

The wood by which it is held is a shell two voxels thick: under jaws or a jam rim the outside, around
jaws that open or a screw the wall of the hole, under a faceplate the face. It is surely taken away when
a third of it goes, more than skin deep, and surely not when the cut does not come near it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy import ndimage

from tests.oracle.fields import Floats, Frame
from tests.oracle.lattice import Bools
from tests.oracle.reading import angle, maybe
from tests.oracle.wood import Hole, Removed, Wood

GONE = 0.35
"""Share of the shell."""
WIDE_HOLE = 30.0
"""No center bears in a hole so wide, mm; the points of common ones are up to an inch across. Common practice, no
published source."""
_CLOSING = ("chuck", "wide jaws", "collet", "drill chuck")
_PLATES = ("faceplate", "glue block", "double-sided tape", "hot-melt glue")


BEHIND = ("inside groove", "inside cove", "undercut", "inside thread")
"""Cuts into the wall of a hole, which are reached through its mouth."""


class Unheld(Exception):
    """A hold that is not judged here."""


@dataclass(frozen=True, eq=False)
class Held:
    """One hold on the wood as it was mounted."""

    by: str
    frame: Frame
    shell: Bools
    """The wood it is held by."""
    whole: int
    """Voxels that the shell would have if nothing of it were gone."""
    end: str = ""
    """The end that is held; none between centers or at rest."""
    centers: tuple[str, ...] = ()
    """Ends at which a center stands."""
    turns: bool = True
    sure: bool = True
    """Whether the keys say enough for the shell to be known."""
    drive: float | None = None
    pins: tuple[Bools, ...] = ()
    """Of two holes, the wood around each."""


def mounted(hold: dict[str, Any], wood: Wood) -> list[Held]:
    """A hold, once for every pair of holes or angle that it names."""
    by = next(one for one in hold["by"] if one != "steady rest")
    if by in ("between centers", "off-axis centers"):
        return list(_centers(hold, by, wood))
    if by in ("bench", "hand"):
        none = np.zeros_like(wood.voxels)
        return [Held(by, Frame.of_part(), none, 0, turns=False)]
    turns = hold.get("angle", 0)
    if isinstance(turns, list):
        return [held for turn in turns for held in mounted(hold | {"angle": turn}, wood)]
    if by in _PLATES:
        return [_plate(hold, by, wood)]
    on = hold.get("on")
    if on is not None:
        if on not in wood.features:
            raise Unheld(f"nothing is called {on}")
        return [_by_feature(hold, by, wood, wood.features[on])]
    if by not in (*_CLOSING, "jam chuck"):
        raise Unheld(by)
    return [_bare(hold, by, wood)]


def _tail(hold: dict[str, Any], end: str) -> tuple[str, ...]:
    other = "right" if end == "left" else "left"
    return (other,) if hold.get("tailstock") else ()


def _centers(hold: dict[str, Any], by: str, wood: Wood) -> Any:
    none = np.zeros_like(wood.voxels)
    drive = maybe(hold, "drive")
    if hold.get("in"):
        pairs = hold["in"] if isinstance(hold["in"][0], list) else [hold["in"]]
        for pair in pairs:
            mouths = [wood.features[name].frame.now().origin for name in pair]
            frame = Frame.along((mouths[0] + mouths[1]) / 2, mouths[1] - mouths[0])
            pins = tuple(_ring(wood, wood.features[name]) for name in pair)
            yield Held(by, frame, none, 0, centers=("first", "second"), drive=drive, pins=pins)
        return
    offset = maybe(hold, "offset") or 0.0
    other = maybe(hold, "right offset")
    said = hold.get("angle", "0 deg")
    for one in said if isinstance(said, list) else [said]:
        left, right = (
            _off(offset, angle(one)),
            _off(offset if other is None else other, angle(hold.get("right angle", one))),
        )
        frame = Frame(left, np.eye(3))
        if not np.allclose(left, right):
            low, high = (wood.face(Frame.of_part(), last=last) or 0.0 for last in (False, True))
            along = right - left + (high - low) * np.array([0.0, 0.0, 1.0])
            start = left + low * np.array([0.0, 0.0, 1.0])
            frame = Frame.leaning(start - low * along / np.linalg.norm(along), along)
        yield Held(by, frame, none, 0, centers=("left", "right"), drive=drive)


def _off(offset: float, degrees: float) -> Floats:
    """How far a center stands off the axis, x, y and z."""
    turn = math.radians(degrees)
    return offset * np.array([math.cos(turn), math.sin(turn), 0.0])


def _plate(hold: dict[str, Any], by: str, wood: Wood) -> Held:
    end = hold.get("end", "left")
    diameter = maybe(hold, "diameter")
    frame = Frame.of_part()
    points = frame.local(wood.lattice.middles)
    face = wood.face(frame, last=end == "right") or 0.0
    layer = np.abs(points[:, 2] - face) < 2 * wood.voxel
    under = np.hypot(points[:, 0], points[:, 1]) < (diameter or 1e9) / 2
    shell = (layer & under).reshape(wood.voxels.shape) & wood.voxels
    frame = _aside(hold, frame, face, end=end)
    return Held(by, frame, shell, int(shell.sum()), end=end, centers=_tail(hold, end), sure=diameter is not None)


def _by_feature(hold: dict[str, Any], by: str, wood: Wood, hole: Hole) -> Held:
    opening = by in ("chuck opening out", "screw chuck")
    if (opening and not hole.hollow) or (by in _CLOSING and hole.hollow):
        raise Unheld(f"{by} on {hole.name}")
    should = _ring(wood, hole)
    shell = should & wood.voxels
    direction = hole.frame.across[2, 2] * (-1 if hole.hollow else 1)
    end = "left" if direction < 0 else "right"
    # A glued ring's opening has as many sides as there are pieces.
    sure = hole.long > 2 * wood.voxel
    # It turns on the feature's own line, which may lie beside the part's.
    x, y, place = hole.frame.now().origin
    frame = _aside(hold, Frame(np.array([x, y, 0.0]), np.eye(3)), float(place), end=end)
    # Where in a hollow it bears is not said.
    sure = sure and hole.wall is None
    return Held(by, frame, shell, int(should.sum()), end=end, centers=_tail(hold, end), sure=sure)


def _aside(hold: dict[str, Any], own: Frame, place: float, *, end: str) -> Frame:
    """The axis of a hold at one end that is set off the wood's own, or leans from it, where the wood leaves the hold.

    A tilt leans it away from the wood's own the way of the offset, seen from the hold; places on it are counted as on
    the wood's own at that point.

    Args:
        hold: Its keys.
        own: The wood's own axis.
        place: Where on that the wood leaves the hold.
        end: The end that is held.
    """
    off, lean = maybe(hold, "offset") or 0.0, math.radians(angle(hold.get("tilt", 0)))
    if not off and not lean:
        return own
    turn = math.radians(angle(hold.get("angle", 0)))
    away = np.array([math.cos(turn), math.sin(turn), 0.0])
    out = -1.0 if end == "right" else 1.0
    along = math.cos(lean) * np.array([0.0, 0.0, 1.0]) + out * math.sin(lean) * away
    through = own.origin + place * np.array([0.0, 0.0, 1.0]) + off * away
    return Frame.leaning(through - place * along, along)


def _ring(wood: Wood, hole: Hole) -> Bools:
    """The shell about a hole, or under the skin of a stub, as it was when it was made."""
    points = hole.frame.local(wood.lattice.middles)
    if hole.wall is not None:
        # All the wood behind a hollow's wall.
        into = hole.wall(wood.lattice.middles)
        behind = (into > 0) & (into < 2 * wood.voxel) & (points[:, 2] > 0)
        return np.asarray(behind.reshape(wood.voxels.shape) & wood.voxels)
    out = np.hypot(points[:, 0], points[:, 1])
    radius, thick = hole.radius_at(points[:, 2]), 2 * wood.voxel
    ring = (out > radius) & (out < radius + thick) if hole.hollow else (out < radius) & (out > radius - thick)
    along = (points[:, 2] > 0) & (points[:, 2] < hole.long)
    return np.asarray((ring & along).reshape(wood.voxels.shape))


def _bare(hold: dict[str, Any], by: str, wood: Wood) -> Held:
    end, deep = hold.get("end", "left"), maybe(hold, "deep")
    last = end == "right"
    face = wood.face(Frame.of_part(), last=last) or 0.0
    reach = deep or 2.0
    frame = _aside(hold, Frame.of_part(), face + (-1 if last else 1) * (deep or 0.0), end=end)
    points = wood.lattice.middles[:, 2].reshape(wood.voxels.shape)
    within = points > face - reach if last else points < face + reach
    filled = wood.voxels & within
    shell = np.zeros_like(filled)
    for layer in np.flatnonzero(filled.any(axis=(0, 1))):
        solid = ndimage.binary_fill_holes(filled[:, :, layer])
        shell[:, :, layer] = filled[:, :, layer] & ~ndimage.binary_erosion(solid, iterations=2)
    return Held(by, frame, shell, int(shell.sum()), end=end, centers=_tail(hold, end), sure=deep is not None)


def holes_at(wood: Wood, frame: Frame, end: str) -> float:
    """Width of the hole at an end about an axis, mm; nought where there is wood."""
    face = wood.face(frame, last=end == "right")
    if face is None:
        return 0.0
    inward = -1.0 if end == "right" else 1.0
    at = face + inward * wood.voxel
    radii = np.arange(0.0, wood.across, wood.voxel / 4)
    wooden = np.zeros(len(radii), dtype=bool)
    for turn in np.arange(12) * 2 * np.pi / 12 + 0.1:
        line = np.column_stack([radii * np.cos(turn), radii * np.sin(turn), np.full(len(radii), at)])
        wooden |= wood.field(frame.part(line)) < 0
    return 2 * float(radii[int(wooden.argmax())]) if wooden.any() else 0.0


def taken(held: Held, cut: Removed, chips: Bools, wood: Wood) -> tuple[bool, bool]:
    """Whether a cut surely takes away what holds the wood, or cannot be reached; and whether that may be said."""
    if not held.turns:
        return False, False
    surely = maybe = False
    maybe |= any((ndimage.binary_dilation(chips, iterations=2) & pin).any() for pin in held.pins)
    if cut.end:
        closed = (held.end, *held.centers)
        if cut.kind in ("bore", "recess", "hollow", *BEHIND) or (cut.kind == "end holes" and cut.end == held.end):
            surely |= cut.end in closed
        elif cut.kind == "end holes":
            maybe |= cut.end in closed
            on_axis = np.hypot(*cut.holes[0].frame.origin[:2]) < cut.holes[0].diameter / 2
            surely |= cut.end in closed and bool(on_axis)
    # Where the tool runs: what falls off with a parting cut was not touched.
    lost = np.count_nonzero(chips & held.shell)
    near = np.count_nonzero(ndimage.binary_dilation(chips, iterations=2) & held.shell)
    if held.shell.any() and near:
        maybe = True
        # Of a hold that was gone already it is said as much, and no more.
        whole = np.count_nonzero(held.shell) >= 0.8 * held.whole
        beneath = held.shell & ndimage.binary_erosion(wood.voxels)
        deep = np.count_nonzero(chips & beneath) >= 0.25 * max(np.count_nonzero(beneath), 1)
        if held.sure and whole and deep and lost >= GONE * np.count_nonzero(held.shell):
            surely = True
    maybe |= "first" in held.centers and bool(cut.end)
    # Whether an enlarged hole is reached from its mouth or from its far end is not said.
    maybe |= cut.kind == "enlarge"
    return surely, maybe or surely or _at_a_center(held, chips, wood)


def _at_a_center(held: Held, chips: Bools, wood: Wood) -> bool:
    """Whether a cut takes wood near where a center bears."""
    points = held.frame.local(wood.lattice.middles)
    out = np.hypot(points[:, 0], points[:, 1]).reshape(chips.shape)
    taken_there = chips & (out < max(6.0, 3 * wood.voxel))
    places = points[taken_there.ravel()][:, 2]
    ends = {"left": places < points[:, 2].min() + 8 * wood.voxel, "right": places > points[:, 2].max() - 8 * wood.voxel}
    return any(bool(ends[end].any()) for end in held.centers if end in ends)


__all__ = ["GONE", "WIDE_HOLE", "Held", "Unheld", "holes_at", "mounted", "taken"]
