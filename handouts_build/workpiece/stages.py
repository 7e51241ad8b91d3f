"""The workpiece carried through its steps, one solid a stage.

This module owns the order of things: a step holds the wood, cuts it, and leaves a
stage with everything measured on it. It leaves wording to whoever prints and
pictures to whoever draws.

Each step rests on the one before and nothing else, so a stage is kept under a key of
all that led to it: edit a later step, and earlier stages are taken as they are.
"""

from __future__ import annotations

import functools
import hashlib
from collections import OrderedDict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeAlias

from handouts_build.problems import near_miss
from handouts_build.workpiece.axes import PART_AXIS, Axis, Vector
from handouts_build.workpiece.blanks import Blank
from handouts_build.workpiece.cuts_hollow import Hollow
from handouts_build.workpiece.cuts_inside import AxialHoles, Bore, Enlarge, Groove, HolesAround, Recess
from handouts_build.workpiece.cuts_outside import Ball, Cylinder, Facets, PartOff, ProfileCut, Tenon
from handouts_build.workpiece.cuts_still import CarveOval, Flat, Prism
from handouts_build.workpiece.cutting import Here, Made, Nature
from handouts_build.workpiece.faults import MOST_BODIES, MOST_CUTS, WorkpieceFault, count_within
from handouts_build.workpiece.features import Feature
from handouts_build.workpiece.findings import NOTHING_MM3, Meetings, Seen, bit_too_short, missing_meetings, walls
from handouts_build.workpiece.gaps import OUTSIDE, Web
from handouts_build.workpiece.holds import Hold
from handouts_build.workpiece.judge import judge, judge_speed
from handouts_build.workpiece.measures import AirCut, Held, Spindle, air_cut, held, radius_about_mm, spindle
from handouts_build.workpiece.solids import Mesh, Solid
from handouts_build.workpiece.verdicts import Code, Limits, ShopLimits, Verdict

__all__ = ["Cut", "Kept", "Stage", "Step", "carry"]

Cut: TypeAlias = (
    Cylinder
    | Facets
    | Ball
    | Tenon
    | ProfileCut
    | PartOff
    | Bore
    | Recess
    | HolesAround
    | AxialHoles
    | Groove
    | Hollow
    | Enlarge
    | Flat
    | Prism
    | CarveOval
)


@dataclass(frozen=True, kw_only=True)
class Step:
    """One thing done to a part: what holds it, what is cut."""

    name: str
    holds: tuple[Hold, ...] = ()
    """One, or several over which the same cuts are repeated; none: held as in the step before."""
    cuts: tuple[Cut, ...] = ()
    rpm: float | None = None
    """Speed the author gives."""


@dataclass(frozen=True, eq=False, kw_only=True)
class Stage:
    """The solid after a step, and what was read off it."""

    wood: Solid
    step: Step | None = None
    """None for the blank."""
    number: int = -1
    """Which step, counting from 0; -1 for the blank."""
    hold: Hold | None = None
    """As the step leaves it."""
    axis: Axis = PART_AXIS
    """Of that hold."""
    features: Mapping[str, Feature] = field(default_factory=dict)
    made: tuple[Made, ...] = ()
    """All cuts so far."""
    marks: Mapping[int, int] = field(default_factory=dict)
    meetings: Meetings = field(default_factory=dict)
    breached: frozenset[str] = frozenset()
    serials: tuple[int, ...] = ()
    """Of this step's cuts: faces with these origins are new."""
    chips_mm3: float = 0.0
    """Wood this step makes into chips."""
    waste_mm3: float = 0.0
    """Wood that falls off whole."""
    radius_before_mm: float = 0.0
    """Greatest distance of wood from the axis as the step begins: what the speed is set by."""
    radius_mm: float = 0.0
    """The same as it ends."""
    held: Held | None = None
    """How far the wood stands out of its hold; none between centers or at rest."""
    spindle: Spindle | None = None
    """Where the step turns the outside."""
    air: tuple[AirCut, ...] = ()
    webs: tuple[Web, ...] = ()
    """Wood that this step's cuts leave to others, least first."""
    pieces: int = 1
    """Pieces after the step; more than one is a verdict, and the largest goes on."""
    verdicts: tuple[Verdict, ...] = ()

    @property
    def volume_mm3(self) -> float:
        """Wood left, mm³; exact for rounds about one axis, since circles are drawn with their own area."""
        return self.wood.volume_mm3

    @property
    def center_mm(self) -> Vector:
        """Center of gravity, part coordinates."""
        return self.wood.center_mm

    @property
    def box_mm(self) -> tuple[float, float, float, float, float, float]:
        """Least x, y, z and greatest x, y, z."""
        return self.wood.box_mm

    @functools.cached_property
    def mesh(self) -> Mesh:
        """Triangles, each with the serial of the cut that left it."""
        return self.wood.mesh(dict(self.marks))

    @functools.cached_property
    def removed(self) -> Solid:
        """All that this step took, waste too."""
        taken = [one.chips for one in self.made if one.serial in self.serials and not one.chips.is_empty]
        return Solid.all_of(taken) if taken else Solid.empty()

    @property
    def least(self) -> Web | None:
        """The least wood that this step leaves between two cuts."""
        return self.webs[0] if self.webs else None


class Kept:
    """Stages by what led to them, the latest used kept longest.

    Args:
        most: Stages that are kept.
    """

    def __init__(self, *, most: int = 256) -> None:
        self._most = most
        self._stages: OrderedDict[bytes, Stage] = OrderedDict()

    def get(self, key: bytes) -> Stage | None:
        """A stage that was kept, if it still is."""
        if key in self._stages:
            self._stages.move_to_end(key)
        return self._stages.get(key)

    def put(self, key: bytes, stage: Stage) -> None:
        """Keep a stage."""
        self._stages[key] = stage
        while len(self._stages) > self._most:
            self._stages.popitem(last=False)


def carry(
    blank: Blank,
    steps: Sequence[Step],
    *,
    shop: ShopLimits | None = None,
    limits: Limits | None = None,
    segments: int = 96,
    kept: Kept | None = None,
) -> tuple[Stage, ...]:
    """Carry a blank through its steps.

    Args:
        blank: The stock.
        steps: In order.
        shop: What the shop has.
        limits: Where minding begins.
        segments: Sides that a circle about the axis is drawn with.
        kept: Stages of earlier calls, used and added to.

    Returns:
        The blank as the first stage, then one for each step.

    Raises:
        WorkpieceFault: With the step and the cut that cannot be carried out.
    """
    count_within(segments, "sides to a circle", least=16, most=512)
    _bounded(steps)
    shop, limits = shop or ShopLimits(), limits or Limits()
    digest = hashlib.sha256(repr((blank, shop, limits, segments)).encode())
    stages = [_blank(blank, segments) if (found := _kept(kept, digest.digest())) is None else found]
    _keep(kept, digest.digest(), stages[0])
    for index, step in enumerate(steps):
        digest.update(repr(step).encode())
        stage = _kept(kept, digest.digest())
        if stage is None:
            stage = _Work(stages[-1], step, index, shop, limits, segments).done()
            _keep(kept, digest.digest(), stage)
        stages.append(stage)
    _meets_are_known(steps, stages[-1])
    return tuple(stages)


def _kept(kept: Kept | None, key: bytes) -> Stage | None:
    return kept.get(key) if kept is not None else None


def _keep(kept: Kept | None, key: bytes, stage: Stage) -> None:
    if kept is not None:
        kept.put(key, stage)


def _bounded(steps: Sequence[Step]) -> None:
    """Refuse more work than is sane before any of it is done."""
    cuts = sum(len(step.cuts) * max(1, len(step.holds)) for step in steps)
    count_within(cuts, "cuts in one part", least=0, most=MOST_CUTS)
    bodies = sum(max(0, cut.bodies) * max(1, len(step.holds)) for step in steps for cut in step.cuts)
    count_within(bodies, "cuts and holes in one part", least=0, most=MOST_BODIES)
    names: dict[str, int] = {}
    for index, step in enumerate(steps):
        for place, cut in enumerate(step.cuts):
            if not cut.name or cut.name == OUTSIDE:
                raise WorkpieceFault(f"a cut is called '{cut.name}'", "give it another name", step=index, cut=place)
            if cut.name in names:
                hint = f"step {names[cut.name] + 1} has a cut of that name already"
                raise WorkpieceFault(f"two cuts are called '{cut.name}'", hint, step=index, cut=place)
            names[cut.name] = index


def _meets_are_known(steps: Sequence[Step], last: Stage) -> None:
    known = {OUTSIDE} | {name for one in last.made for name in (one.name, one.base, *one.features)}
    for index, step in enumerate(steps):
        for place, cut in enumerate(step.cuts):
            for name in cut.meets:
                if name not in known:
                    raise WorkpieceFault(
                        f"'{cut.name}' is to meet '{name}', which is no cut",
                        near_miss(name, known),
                        step=index,
                        cut=place,
                    )


def _blank(blank: Blank, segments: int) -> Stage:
    wood = blank.solid(segments=segments).marked()
    radius = radius_about_mm(wood, PART_AXIS)
    return Stage(wood=wood, marks={wood.mark: 0}, radius_before_mm=radius, radius_mm=radius)


class _Work:
    """One step being carried out."""

    def __init__(self, before: Stage, step: Step, number: int, shop: ShopLimits, limits: Limits, segments: int) -> None:
        self.before, self.step, self.number = before, step, number
        self.shop, self.limits, self.segments = shop, limits, segments
        self.wood = before.wood
        self.features = dict(before.features)
        self.made = list(before.made)
        self.marks = dict(before.marks)
        self.hold, self.axis = before.hold, before.axis
        self.seen = Seen(dict(before.meetings), set(before.breached))
        self.air: list[AirCut] = []
        self.chips_mm3 = self.waste_mm3 = 0.0
        self.radius_before_mm = 0.0
        self.pieces = 1

    def done(self) -> Stage:
        """The stage it leaves."""
        holds = self.step.holds or (self.before.hold,)
        for turn, hold in enumerate(holds):
            try:
                self._take(hold, again=not self.step.holds)
            except WorkpieceFault as fault:
                raise fault.at(step=self.number, cut=None) from None
            for place, cut in enumerate(self.step.cuts):
                name = f"{cut.name} {turn + 1}" if len(holds) > 1 else cut.name
                try:
                    self._cut(cut, name, place)
                except WorkpieceFault as fault:
                    raise fault.at(step=self.number, cut=place) from None
        fresh = self.made[len(self.before.made) :]
        self._verdicts(missing_meetings(fresh, self.made, self.seen.meetings))
        return self._stage(fresh)

    def _verdicts(self, found: Iterable[Verdict]) -> None:
        self.seen.verdicts += [replace(one, step=self.number) for one in found]

    def _take(self, hold: Hold | None, *, again: bool) -> None:
        """Mount the wood."""
        if hold is None:
            if self.step.cuts:
                raise WorkpieceFault("nothing holds the wood", "give this step, or one before it, a hold")
            return
        self.hold = hold
        self.axis = self.before.axis if again else hold.axis(self.wood, self.features)
        self.radius_before_mm = max(self.radius_before_mm, radius_about_mm(self.wood, self.axis))
        if not again or self.step.cuts:
            self._verdicts(judge(hold, self.wood, self.features, self.axis, shop=self.shop, limits=self.limits))
        if self.step.rpm is not None and hold.turns:
            self._verdicts(judge_speed(self.step.rpm, self.shop))

    def _cut(self, cut: Cut, name: str, place: int) -> None:
        """Make one cut and look at what it leaves."""
        if cut.needs_lathe and self.hold is not None and not self.hold.turns:
            raise WorkpieceFault(f"'{name}' needs the lathe, and the wood does not turn", "hold it on the lathe")
        here = Here.found(self.wood, self.axis, self.features, segments=self.segments)
        removal = replace(cut, name=name).removal(here)
        axis = removal.axis or self.axis
        body = removal.body.moved(axis).marked()
        chips, left = self.wood.split(body)
        serial = len(self.made) + 1
        self.marks[body.mark] = serial
        apart = tuple(one.moved(axis) for one in removal.apart)
        placed = [feature.placed(axis) for feature in removal.features]
        for feature in placed:
            if feature.name in self.features and feature.name != removal.of:
                raise WorkpieceFault(
                    f"two things are called '{feature.name}'", "give the cut, or its holes, another name"
                )
        new = Made(
            name=name, base=cut.name, serial=serial, step=self.number, cut=place, nature=cut.nature, meets=cut.meets,
            body=body, chips=chips, apart=apart, of=removal.of, converge=removal.converge,
            features=tuple(one.name for one in placed),
            probes=tuple(probe.placed(axis) for probe in removal.probes),
        )  # fmt: skip
        self._count(new, removal.waste.moved(axis) if removal.waste is not None else None)
        if chips.volume_mm3 < NOTHING_MM3:
            self._verdicts([Verdict(Code.CUTS_NOTHING, (name,), {}, self.number, place)])
            # Two faces that are one: the wood stays as it was, without their slivers.
            left = self.wood
        self._whole(left, new)
        self.features |= {one.name: one.seen(self.wood) for one in placed}
        if cut.turned:
            air = air_cut(name, chips, self.axis)
            self.air += [air] if air is not None else []
        if cut.bit_mm is not None and removal.depth_mm is not None:
            self._verdicts(bit_too_short(new, bit_mm=cut.bit_mm, depth_mm=removal.depth_mm, shop=self.shop))
        walls(new, self.made, self.wood, self.marks, seen=self.seen, limits=self.limits)
        self.made.append(new)

    def _count(self, new: Made, waste: Solid | None) -> None:
        fallen = (new.chips & waste).volume_mm3 if waste is not None else 0.0
        self.waste_mm3 += fallen
        self.chips_mm3 += new.chips.volume_mm3 - fallen

    def _whole(self, left: Solid, new: Made) -> None:
        """Go on with the largest piece."""
        pieces = left.pieces()
        if not pieces:
            raise WorkpieceFault(f"'{new.name}' leaves no wood", "check its sizes")
        self.wood = pieces[0]
        if len(pieces) > 1:
            self.pieces = max(self.pieces, len(pieces))
            self.waste_mm3 += sum(piece.volume_mm3 for piece in pieces[1:])
            numbers = {"pieces": float(len(pieces)), "loose_mm3": pieces[1].volume_mm3}
            self._verdicts([Verdict(Code.TWO_PIECES, (new.name,), numbers, self.number, new.cut, pieces[1].center_mm)])

    def _stage(self, fresh: Sequence[Made]) -> Stage:
        outside = any(cut.turned and cut.nature is Nature.OUTSIDE for cut in self.step.cuts)
        thin = spindle(self.wood, self.axis) if outside else None
        if thin is not None and thin.ratio > self.limits.slender:
            numbers = {"ratio": thin.ratio, "limit": self.limits.slender, "long_mm": thin.long_mm}
            numbers |= {"neck_mm": thin.neck_mm, "at_mm": thin.at_mm}
            self._verdicts([Verdict(Code.SLENDER, (), numbers)])
        out = held(self.hold, self.wood, self.features, self.axis) if self.hold is not None else None
        if out is not None and self.step.cuts and out.ratio > self.limits.overhang:
            numbers = {"ratio": out.ratio, "limit": self.limits.overhang}
            numbers |= {"overhang_mm": out.overhang_mm, "diameter_mm": out.diameter_mm}
            self._verdicts([Verdict(Code.OVERHANG, self.hold.needs if self.hold else (), numbers)])
        return Stage(
            wood=self.wood, step=self.step, number=self.number, hold=self.hold, axis=self.axis,
            features=self.features, made=tuple(self.made), marks=self.marks, meetings=self.seen.meetings,
            breached=frozenset(self.seen.breached), serials=tuple(one.serial for one in fresh),
            chips_mm3=self.chips_mm3, waste_mm3=self.waste_mm3, radius_before_mm=self.radius_before_mm,
            radius_mm=radius_about_mm(self.wood, self.axis), held=out, spindle=thin, air=tuple(self.air),
            webs=tuple(sorted(self.seen.webs, key=lambda web: web.left_mm)), pieces=self.pieces,
            verdicts=tuple(self.seen.verdicts),
        )  # fmt: skip
