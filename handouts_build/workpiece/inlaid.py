"""A part let into a hole of another and glued there, to be turned with it from then on: a plug, an inlay.

This module owns the wood that the two make together, and what is said of the inlay once all is cut: whether it
lies sunk, stands proud, or is thin. How it goes into its hole is for `join`, what is found of the fit for others.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from handouts_build.problems import near_miss
from handouts_build.workpiece.axes import PART_AXIS, Axis
from handouts_build.workpiece.cut import Made
from handouts_build.workpiece.faults import WorkpieceFault
from handouts_build.workpiece.features import Feature
from handouts_build.workpiece.join import Fit, Joint, Piece, Placed, joined, mouth_of
from handouts_build.workpiece.shrinkage import Shrinkage
from handouts_build.workpiece.solid import Solid
from handouts_build.workpiece.stage import LetIn, Stage
from handouts_build.workpiece.verdicts import Code, Limits, Subject, Thing, Verdict

__all__ = ["Inset", "filled", "goes_with", "holes_called", "let_in", "of_inlays"]

_RIM = 1.02
"""Beside the wall of a hole by this share of its radius, and by a hair, an inlay and the wood around it are felt."""
_HAIR_MM = 0.05
_TURNS = (np.arange(24) + 0.37) * 2 * math.pi / 24
_FAR_MM = 1.0
_ALL = 0.999
"""A larger share of what was let in than this is all of it."""


@dataclass(frozen=True, eq=False)
class Inset:
    """A part that was let into a hole, where it sits; part coordinates."""

    part: str
    hole: str
    axis: Axis
    """Of the hole, from its mouth inward."""
    diameter_mm: float
    """Of the hole."""
    outer_mm: float
    """Greatest distance of its wood from that axis as it was let in."""
    start_mm: float
    """Where it begins along that axis, less than nought where it stood out of the hole."""
    end_mm: float
    """Where it ends, or past its floor in a hole that has one."""
    room: Solid
    """All that it filled when it was let in, with the glue around it and under it."""
    fit: Fit
    """How it sat in its hole then."""
    item: int
    """Which of the things that its step lets in."""

    def shrunk(self, by: Shrinkage) -> Inset:
        """The same once the wood has dried that it is one with.

        Args:
            by: What is left of the part's sizes.
        """
        along, (least, largest) = by.along(self.axis), by.across(self.axis)
        return replace(
            self, axis=by.axis(self.axis), diameter_mm=self.diameter_mm * least, outer_mm=self.outer_mm * largest,
            start_mm=self.start_mm * along, end_mm=self.end_mm * along, room=self.room.scaled(by.factors),
        )  # fmt: skip


def holes_called(name: str, made: Sequence[Made], features: Mapping[str, Feature]) -> tuple[Feature, ...]:
    """One hole by its name, or all the holes of a cut by the cut's.

    Args:
        name: As the author has it.
        made: All cuts so far.
        features: What they left, by name.

    Raises:
        WorkpieceFault: If nothing is called so that is a hole.
    """
    if name in features:
        return (features[name],)
    several = next((cut.features for cut in made if cut.base == name and cut.apart), ())
    if not several:
        sets = [cut.base for cut in made if cut.apart]
        hint = near_miss(name, [*(hole for hole, each in features.items() if each.hollow), *sets])
        raise WorkpieceFault(f"there is no hole called '{name}'", hint or "cut it in a step before, and fill it once")
    return tuple(features[each] for each in several)


def let_in(item: LetIn, number: int, stage: Stage, *, wood: Solid, hole: Feature, made: Sequence[Made]) -> Inset:
    """A part set into one hole, with the glue that fills what is open around it and under it.

    Args:
        item: What is let in.
        number: Which of the things that the step lets in.
        stage: That part, finished.
        wood: The wood with the hole.
        hole: The hole.
        made: All cuts so far.

    Returns:
        Where it sits, and how.

    Raises:
        WorkpieceFault: If it has no such tenon, or the hole is none.
    """
    here = Stage(wood=wood, features={hole.name: hole})
    joint = Joint(piece=item.part, onto=item.part, tenon=item.tenon, hole=hole.name, turn_deg=item.turn_deg)
    base = Placed(Piece(name="", stage=here), PART_AXIS, wood)
    placed, fit = joined([base], base, Piece(name=item.part, stage=stage), joint)
    mouth = mouth_of(hole, wood, far=False)
    own = placed.wood.seen_from(mouth.axis).box_mm
    reach = max(map(abs, (*own, *wood.seen_from(mouth.axis).box_mm))) + _FAR_MM
    start, end = max(0.0, own[2]), own[5] if mouth.through else reach
    bodies = [body for cut in made for body in _bodies_of(cut, hole.name)]
    room = placed.wood
    if bodies and end > start:
        slab = Solid.box((-reach, -reach, start, reach, reach, end)).moved(mouth.axis)
        room = Solid.all_of([room, Solid.all_of(bodies) & slab])
    outer = max(map(abs, (own[0], own[1], own[3], own[4])))
    return Inset(item.part, hole.name, mouth.axis, mouth.diameter_mm, outer, own[2], end, room.marked(), fit, number)


def _bodies_of(cut: Made, hole: str) -> Iterator[Solid]:
    """What a cut takes for a hole."""
    if hole in cut.features:
        yield cut.apart[cut.features.index(hole)] if cut.apart else cut.body
    elif cut.of == hole:
        yield cut.body


def filled(cut: Made, inset: Inset) -> Made:
    """A cut whose hole is filled: what is beside it later is beside wood.

    Args:
        cut: As it was made.
        inset: What fills the hole.
    """
    if cut.of == inset.hole:
        return replace(cut, body=cut.body - inset.room, chips=cut.chips - inset.room)
    if inset.hole not in cut.features:
        return cut
    at = cut.features.index(inset.hole)
    others = [index for index in range(len(cut.placed)) if index != at]
    return replace(
        cut,
        body=cut.body - inset.room,
        chips=cut.chips - inset.room,
        apart=tuple(cut.apart[index] for index in others) if cut.apart else (),
        placed=tuple(cut.placed[index] for index in others),
        probes=tuple(probe for probe in cut.probes if probe.name != inset.hole),
    )


def goes_with(inset: Inset, fallen: Solid, chips: Solid, wood: Solid) -> bool:
    """Whether what was let in goes with wood that falls off.

    Args:
        inset: Where it sits.
        fallen: What falls off.
        chips: The same, with the kerf.
        wood: All the wood before it does.
    """
    own = (inset.room & wood).volume_mm3
    return not (inset.room & fallen).is_empty and (inset.room & chips).volume_mm3 > _ALL * own


def of_inlays(insets: Sequence[Inset], wood: Solid, *, limits: Limits) -> Iterator[Verdict]:
    """What is wrong with inlays when their part is finished.

    Args:
        insets: All that was let in.
        wood: The part at its end.
        limits: Where minding begins.
    """
    for inset in insets:
        about = (Thing(Subject.CUT, inset.part), Thing(Subject.CUT, inset.hole))
        own = (inset.room & wood).seen_from(inset.axis)
        left = _thickness_mm(own, inset)
        if left < limits.inlay_mm:
            yield Verdict(Code.THIN_INLAY, about, {"left_mm": left, "limit_mm": limits.inlay_mm})
        if left <= 0:
            continue
        under = _under_mm(own, (wood - inset.room).seen_from(inset.axis), inset)
        if under > limits.flush_mm:
            yield Verdict(Code.INLAY_SUNK, about, {"under_mm": under})
        elif under < -limits.flush_mm:
            yield Verdict(Code.INLAY_PROUD, about, {"over_mm": -under})


def _first(solid: Solid, radius: float, turn: float, reach: float) -> float | None:
    """Where a line along the axis first meets a solid; none where it meets none. mm."""
    x, y = radius * math.cos(turn), radius * math.sin(turn)
    hits = solid.hits(np.array([x, y, -reach]), np.array([x, y, reach]))
    return None if not hits else hits[0][0] - reach


def _thickness_mm(own: Solid, inset: Inset) -> float:
    """How thick an inlay is near its rim, where it is thinnest; nought where it is gone there."""
    if own.is_empty:
        return 0.0
    reach = max(map(abs, own.box_mm)) + _FAR_MM
    radius = inset.diameter_mm / 2 / _RIM - _HAIR_MM
    left = []
    for turn in _TURNS:
        x, y = radius * math.cos(turn), radius * math.sin(turn)
        met = [place for place, _ in own.hits(np.array([x, y, -reach]), np.array([x, y, reach]))]
        left.append(sum(out - into for into, out in zip(met[::2], met[1::2], strict=False)))
    return float(min(left))


def _under_mm(own: Solid, around: Solid, inset: Inset) -> float:
    """How far an inlay lies under the wood around it, in the mean along its rim; less than nought where it is over."""
    reach = max(map(abs, (*own.box_mm, *around.box_mm))) + _FAR_MM
    radius = inset.diameter_mm / 2
    found = []
    for turn in _TURNS:
        inner = _first(own, radius / _RIM - _HAIR_MM, float(turn), reach)
        outer = _first(around, radius * _RIM + _HAIR_MM, float(turn), reach)
        if inner is not None and outer is not None:
            found.append(inner - outer)
    return float(np.mean(found)) if found else 0.0
