"""The workpiece carried through its steps, one solid a stage.

This module owns the order of steps and the keeping of stages. Each step rests on the
one before and nothing else, so a stage is kept under a key of all that led to it:
edit a later step, and earlier stages are taken as they are.
"""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from handouts_build.problems import near_miss
from handouts_build.workpiece.axes import PART_AXIS
from handouts_build.workpiece.blanks import OPENING, BaseBlank, Glued
from handouts_build.workpiece.cut import Made, Nature
from handouts_build.workpiece.faults import MOST_BODIES, MOST_CUTS, MOST_HOLES, WorkpieceFault, count_within
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.inlaid import Inset, of_inlays
from handouts_build.workpiece.loose import rings_judged
from handouts_build.workpiece.measures import radius_about_mm
from handouts_build.workpiece.shrinkage import AS_GROWN
from handouts_build.workpiece.solid import Solid
from handouts_build.workpiece.stage import LetIn, PutOn, Stage, WorkStep
from handouts_build.workpiece.verdicts import Code, Limits, ShopLimits, Verdict
from handouts_build.workpiece.web import OUTSIDE
from handouts_build.workpiece.work import Work

__all__ = ["Offcut", "StageCache", "carry"]


class StageCache:
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
        """Keep a stage.

        Args:
            key: Digest of all that led to it.
            stage: The stage.
        """
        self._stages[key] = stage
        while len(self._stages) > self._most:
            self._stages.popitem(last=False)


@dataclass(frozen=True, kw_only=True)
class Offcut:
    """What falls off another part, as the blank of this one: the lid of a box.

    It stays where it was: places are measured as on the other part, and what was made on
    it is there to hold by.
    """

    blank: BaseBlank
    steps: tuple[WorkStep, ...]
    """Of the other part; it is what falls off at the first of them at which something does."""

    @property
    def stock(self) -> BaseBlank:
        """The other part's blank."""
        return self.blank


def carry(
    blank: BaseBlank | Offcut,
    steps: Sequence[WorkStep],
    *,
    shop: ShopLimits | None = None,
    limits: Limits | None = None,
    segments: int = 72,
    kept: StageCache | None = None,
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
        WorkpieceFault: With the step and the cut that cannot be carried out, and the stages before it.
    """
    count_within(segments, "sides to a circle", least=16, most=512)
    _bounded(steps)
    shop, limits = shop or ShopLimits(), limits or Limits()
    digest = hashlib.sha256(repr((blank, shop, limits, segments)).encode())
    first = _kept(kept, digest.digest())
    if first is None:
        first = _first(blank, segments=segments, shop=shop, limits=limits, kept=kept)
    stages = [first]

    def finished(item: LetIn | PutOn) -> Stage:
        return carry(item.blank, item.steps, shop=shop, limits=limits, segments=segments, kept=kept)[-1]

    _keep(kept, digest.digest(), stages[0])
    for index, step in enumerate(steps):
        digest.update(repr(step).encode())
        stage = _kept(kept, digest.digest())
        if stage is None:
            try:
                stage = Work(stages[-1], step, index, shop, limits, segments, finished, blank.stock).done()
            except WorkpieceFault as fault:
                fault.done = tuple(stages)
                raise
            _keep(kept, digest.digest(), stage)
        stages.append(stage)
    _meets_are_known(steps, stages[-1])
    if steps:
        digest.update(b"finished")
        last = _kept(kept, digest.digest()) or _finished(stages[-1], blank.stock, limits, segments)
        _keep(kept, digest.digest(), last)
        stages[-1] = last
    return tuple(stages)


def _finished(last: Stage, blank: BaseBlank, limits: Limits, segments: int) -> Stage:
    """The last stage with what only the finished part shows."""
    of_insets = of_inlays(last.insets, last.wood, limits=limits)
    found = (
        *_as_grown(blank, last, limits),
        *(replace(verdict, step=last.number) for verdict in of_insets),
        *rings_judged(last.loose, last.wood, last.made, limits=limits, segments=segments),
    )
    return replace(last, verdicts=(*last.verdicts, *found)) if found else last


def _as_grown(blank: BaseBlank, last: Stage, limits: Limits) -> Iterator[Verdict]:
    """What wood as it grew leaves in the finished part: pith, bark, and where the log was too small."""
    long = blank.pith_left_mm(last.as_grown)
    if long > limits.pith_mm:
        yield Verdict(Code.PITH_LEFT, (), {"long_mm": long}, last.number)
    bark = blank.bark_left_mm3(last.as_grown) * last.shrinkage.volume
    if bark > limits.bark_mm3:
        yield Verdict(Code.BARK_LEFT, (), {"bark_mm3": bark}, last.number)
    own = last.mesh.vertices[last.mesh.triangles[last.mesh.origins == 0]].astype(float)
    sawn = blank.saw_left_mm2(last.shrinkage.undone.points(own))
    if sawn > limits.saw_mm2:
        yield Verdict(Code.SAW_LEFT, (), {"area_mm2": sawn}, last.number)


def _kept(kept: StageCache | None, key: bytes) -> Stage | None:
    return kept.get(key) if kept is not None else None


def _keep(kept: StageCache | None, key: bytes, stage: Stage) -> None:
    if kept is not None:
        kept.put(key, stage)


def _bounded(steps: Sequence[WorkStep]) -> None:
    """Refuse more work than is sane before any of it is done."""
    cuts = bodies = 0
    for index, step in enumerate(steps):
        for place, cut in enumerate(step.cuts):
            times = max(1, len(step.holds))
            cuts, bodies = cuts + times, bodies + max(0, cut.bodies) * times
            try:
                count_within(cut.bodies, cut.several, least=min(cut.bodies, 1), most=MOST_HOLES)
                count_within(cuts, "cuts in one part, up to this one", least=0, most=MOST_CUTS)
                count_within(bodies, "cuts and holes in one part, up to this one", least=0, most=MOST_BODIES)
            except WorkpieceFault as fault:
                raise fault.at(step=index, cut=place) from None
    names: dict[str, int] = {}
    for index, step in enumerate(steps):
        for place, cut in enumerate(step.cuts):
            if not cut.name or cut.name == OUTSIDE:
                raise WorkpieceFault(f"a cut is called '{cut.name}'", "give it another name", step=index, cut=place)
            if cut.name in names:
                hint = f"step {names[cut.name] + 1} has a cut of that name already"
                raise WorkpieceFault(f"two cuts are called '{cut.name}'", hint, step=index, cut=place)
            names[cut.name] = index


def _meets_are_known(steps: Sequence[WorkStep], last: Stage) -> None:
    made = (*last.made, *(cut for stage in last.lids.values() for cut in stage.made))
    known = {name for cut in made for name in (cut.name, cut.base, *cut.features)}
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


def _first(
    blank: BaseBlank | Offcut, *, segments: int, shop: ShopLimits, limits: Limits, kept: StageCache | None
) -> Stage:
    """The blank as a stage."""
    features: dict[str, Feature] = {}
    insets: tuple[Inset, ...] = ()
    shrinkage = AS_GROWN
    if isinstance(blank, Offcut):
        parting = (index for index, step in enumerate(blank.steps) if any(cut.parts for cut in step.cuts))
        sources = (
            carry(blank.blank, blank.steps[: index + 1], shop=shop, limits=limits, segments=segments, kept=kept)[-1]
            for index in parting
        )
        source = next((stage for stage in sources if stage.offcut is not None), None)
        if source is None or source.offcut is None:
            raise WorkpieceFault("nothing falls off there that could be a blank", "give a step a cut that parts off")
        whole, features, insets = source.offcut, dict(source.features), source.offcut_insets
        shrinkage = source.shrinkage
    else:
        whole = blank.solid(segments=segments)
    wood = whole.marked()
    radius = radius_about_mm(wood, PART_AXIS, segments=segments)
    around = Solid.box(wood.box_mm, wider_mm=10.0) - wood
    outside = Made(
        name=OUTSIDE, base=OUTSIDE, serial=0, step=-1, cut=0, nature=Nature.OUTSIDE, meets=(),
        body=around, chips=Solid.empty(), mark=wood.mark,
    )  # fmt: skip
    made = [outside]
    ring = blank.stock
    if isinstance(ring, Glued):
        hole = Feature(
            OPENING,
            FeatureKind.BORE,
            PART_AXIS,
            ring.inside_mm + min(0.0, ring.grows_mm),
            ring.long_mm,
            through=True,
            sides=ring.pieces,
            grows_mm=ring.grows_mm,
        )
        features.setdefault(OPENING, hole.seen(wood))
    air = ring.opening(over_mm=20.0)
    room = ring.opening()
    if air is not None and room is not None:
        made[0] = replace(outside, body=around - air)
        air = air.marked()
        own = Made(
            name=OPENING, base=OPENING, serial=1, step=-1, cut=0, nature=Nature.INSIDE, meets=(),
            body=air, chips=room, mark=air.mark, placed=(features[OPENING],) if OPENING in features else (),
        )  # fmt: skip
        made.append(own)
    return Stage(
        wood=wood,
        features=features,
        made=tuple(made),
        marks={wood.mark: 0},
        radius_before_mm=radius,
        radius_mm=radius,
        insets=insets,
        shrinkage=shrinkage,
    )
