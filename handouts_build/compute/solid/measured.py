"""What is kept of a part carried through its steps: plain numbers, no solids.

This module owns the numbers that the sheet needs of each stage, and their form as
text, so that an unchanged part is not carried again. Which numbers are said, and how,
is in `solids`.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass, replace
from typing import Any

from handouts_build import workpiece as kernel
from handouts_build.compute.solid.joint_numbers import fit_numbers
from handouts_build.compute.solid.plan import PartPlan

__all__ = ["Measured", "MeasuredInset", "MeasuredLid", "Recall", "Side", "carried", "measured"]

Side = tuple[tuple[float, float], ...]
"""An outline: distance from a profile's left end, and radius, in mm."""

Recall = Callable[[str, Callable[[], bytes]], bytes]
"""Gives what is kept under a text, or makes it now."""

_AS_WIDE = 0.98
"""Of the widest wood, what is nearly as wide counts in."""
_HOLES = 8
"""Holes of one ring that are looked at: the ring is much alike all around."""

KEPT = kernel.StageCache(most=96)
"""Stages of this run: pictures take them from here, and a later edit begins at the first step that changed."""


@dataclass(frozen=True)
class MeasuredInset:
    """A part that was let into a hole."""

    part: str
    hole: str
    volume_mm3: float
    """Of it and its glue, as much as is left at the stage."""
    across: float
    """How far the hole's axis leans from the blank's own, as the sine of the angle: 0 along it, 1 across it."""
    item: int
    """Which of the things that its step lets in."""
    fit: dict[str, Any]
    """As `fit_numbers` keeps it."""


@dataclass(frozen=True)
class MeasuredLid:
    """A part that is put on this one and turns with it."""

    part: str
    volume_mm3: float
    """As the step leaves it."""
    begun_mm3: float
    """As the step begins."""
    kind: str
    """What holds it: `thread`, `snap` or `friction`."""
    fit: dict[str, Any]
    """As `fit_numbers` keeps it."""


@dataclass(frozen=True)
class Measured:
    """One stage."""

    volume_mm3: float
    chips_mm3: float
    radius_before_mm: float
    radius_mm: float
    long_mm: float
    """Along the blank's own axis."""
    across_mm: float
    """Twice the greatest distance from the blank's own axis."""
    widest_mm: tuple[float, float]
    """How far from the left end its widest wood reaches, and from the right end."""
    turned: bool
    """Whether a tool on the rest cuts turning wood."""
    spins: bool
    """Whether the wood turns, or may turn: what is parted off may be sawn off too."""
    parted: bool = False
    """Whether a parting cut lets wood fall off; it faces an end where nothing stood past its kerf."""
    uneven: float = 0.0
    """How far from round the wood is as the step begins, 0 to 1."""
    unbalance: float = 0.0
    """How far its center of gravity lies off the axis as the step begins, over the greatest radius."""
    bark: bool = False
    """Whether it bears bark."""
    bare: bool = False
    """Whether a tool takes off some of the blank's own side, which nothing has turned yet."""
    deep: tuple[tuple[float, float], ...] = ()
    """Diameter and depth of what is drilled."""
    air: tuple[tuple[str, float, float], ...] = ()
    """Cut, and share of a turn in which it meets no wood: on the whole, and at the finished surface."""
    webs: tuple[tuple[str, str, float], ...] = ()
    """Two cuts and the wood left between them, least first."""
    overhang_mm: float | None = None
    held_mm: float | None = None
    """Diameter held."""
    slender: float | None = None
    """Length over least diameter."""
    toward_tail: kernel.Vector | None = None
    """From the headstock to the tail, in part coordinates; none where it does not turn."""
    loose: int = 0
    """Rings that are loose on it."""
    sides: tuple[tuple[int, Side], ...] = ()
    """Cut along a profile, and the wood's outline over that profile as the step leaves it."""
    insets: tuple[MeasuredInset, ...] = ()
    """All that was let in so far."""
    lid: MeasuredLid | None = None
    """What is put on it."""
    verdicts: tuple[kernel.Verdict, ...] = ()


def carried(plan: PartPlan, shop: kernel.ShopLimits, limits: kernel.Limits) -> tuple[kernel.Stage, ...]:
    """A part's stages, the blank first; from this run's store where they are there.

    Args:
        plan: The part.
        shop: What the shop has.
        limits: Where minding begins.

    Raises:
        WorkpieceFault: With the step and the cut that cannot be carried out.
    """
    return kernel.carry(plan.blank, plan.steps, shop=shop, limits=limits, segments=plan.segments, kept=KEPT)


def measured(
    plan: PartPlan, *, shop: kernel.ShopLimits, limits: kernel.Limits, recall: Recall
) -> tuple[Measured, ...] | kernel.WorkpieceFault:
    """The numbers of each stage, the blank's first, or the fault that ends it.

    Args:
        plan: The part.
        shop: What the shop has.
        limits: Where minding begins.
        recall: Where results are kept.
    """

    def made() -> bytes:
        try:
            stages = carried(plan, shop, limits)
        except kernel.WorkpieceFault as fault:
            entry = {"message": fault.message, "hint": fault.hint, "step": fault.step, "cut": fault.cut}
            return json.dumps({"fault": entry}).encode()
        found = [asdict(_measured(stage, plan, limits)) for stage in stages]
        return json.dumps({"stages": found}, default=lambda word: word.value).encode()

    # Frozen dataclasses of plain numbers: their text says all that the solid is made from.
    found = json.loads(recall(repr((plan.blank, plan.steps, shop, limits, plan.segments)), made))
    if "fault" in found:
        saved = found["fault"]
        return kernel.WorkpieceFault(saved["message"], saved["hint"], step=saved["step"], cut=saved["cut"])
    return tuple(_read(stage) for stage in found["stages"])


def _measured(stage: kernel.Stage, plan: PartPlan, limits: kernel.Limits) -> Measured:
    segments = plan.segments
    cuts = stage.step.cuts if stage.step is not None else ()
    points = stage.wood.vertices
    square = points[:, 0] ** 2 + points[:, 1] ** 2
    wide = points[square > _AS_WIDE**2 * square.max(), 2]
    held = stage.held
    spins = stage.hold is not None and stage.hold.turns
    return Measured(
        volume_mm3=stage.volume_mm3,
        chips_mm3=stage.chips_mm3,
        radius_before_mm=stage.radius_before_mm,
        radius_mm=stage.radius_mm,
        long_mm=stage.mounted.box_mm[5] - stage.mounted.box_mm[2],
        loose=len(stage.loose),
        across_mm=2 * kernel.radius_about_mm(stage.mounted, kernel.PART_AXIS, segments=segments),
        parted=stage.offcut is not None,
        uneven=stage.uneven,
        unbalance=stage.unbalance,
        bark=isinstance(plan.blank, kernel.BaseBlank) and plan.blank.bark_left_mm3(stage.as_grown) > limits.bark_mm3,
        bare=stage.bare,
        widest_mm=(float(wide.max()) - stage.box_mm[2], stage.box_mm[5] - float(wide.min())),
        turned=any(cut.turned for cut in cuts) and spins,
        spins=spins and (not cuts or any(cut.needs_lathe or cut.parts for cut in cuts)),
        deep=tuple(_drilled(stage)),
        air=tuple((air.name, air.share, air.last) for air in stage.air),
        webs=tuple((*web.names, web.left_mm) for web in stage.webs[:8]),
        overhang_mm=held.overhang_mm if held else None,
        held_mm=held.diameter_mm if held else None,
        toward_tail=stage.toward_tail,
        slender=_sane(stage.spindle.ratio) if stage.spindle else None,
        sides=tuple(_sides(stage, segments)),
        insets=tuple(_inset(inset, stage) for inset in stage.insets),
        lid=_lid(stage.lid) if stage.lid is not None else None,
        verdicts=tuple(replace(found, numbers=_numbers(stage, found), at_mm=None) for found in stage.verdicts),
    )


def _inset(inset: kernel.Inset, stage: kernel.Stage) -> MeasuredInset:
    """What is kept of a part that was let in."""
    left = (inset.room & stage.wood).volume_mm3
    x, y, _ = inset.axis.direction
    return MeasuredInset(inset.part, inset.hole, left, math.hypot(x, y), inset.item, fit_numbers(inset.fit))


def _lid(lid: kernel.Lid) -> MeasuredLid:
    """What is kept of a part that is put on."""
    kind = "thread" if lid.fit.thread is not None else "snap" if lid.fit.snap is not None else "friction"
    return MeasuredLid(lid.item.part, lid.stage.volume_mm3, lid.begun.volume_mm3, kind, fit_numbers(lid.fit))


def _numbers(stage: kernel.Stage, found: kernel.Verdict) -> dict[str, float]:
    """The numbers of a finding, with how far two cuts share wood where they break into each other."""
    made = {name: _sane(value) for name, value in found.numbers.items()}
    if found.code is kernel.Code.UNMEANT_BREAK_THROUGH and len(found.about) == 2:
        first, second = (_bodies(stage, subject.name) for subject in found.about)
        over = max((_shared_mm(body, other) for body in first for other in second), default=0.0)
        if over > 0:
            made["over_mm"] = over
    return made


@dataclass(frozen=True, eq=False)
class _CutBody:
    """What a cut, or one of its holes, takes."""

    all: kernel.Solid
    chips: kernel.Solid
    """What of it was wood."""
    axis: kernel.Axis


def _bodies(stage: kernel.Stage, name: str) -> list[_CutBody]:
    """What goes by a name: one hole, or a cut with as many of its holes as are worth looking at."""
    for cut in stage.made:
        axes = [stage.features[feature].axis for feature in cut.features]
        if name in cut.features and cut.apart:
            at = cut.features.index(name)
            return [_CutBody(cut.apart[at], cut.apart[at] & cut.chips, axes[at])]
        if name == cut.name or name in cut.features:
            if cut.apart:
                holes = zip(cut.apart[:_HOLES], axes, strict=False)
                return [_CutBody(body, body & cut.chips, axis) for body, axis in holes]
            return [_CutBody(cut.body, cut.chips, axes[0] if axes else cut.axis)]
    return _bodies(stage.lid.stage, name) if stage.lid is not None else []


def _shared_mm(body: _CutBody, other: _CutBody) -> float:
    """How far, along the first one's axis, two cuts take the same wood."""
    shared = kernel.Solid.all_of([body.all & other.chips, body.chips & other.all])
    boxes = [piece.seen_from(body.axis).box_mm for piece in shared.pieces()]
    return max((box[5] - box[2] for box in boxes), default=0.0)


def _sides(stage: kernel.Stage, segments: int) -> Iterator[tuple[int, Side]]:
    """The wood's outline over each profile that this step cut, about the axis it was last cut on."""
    axes = {cut.cut: cut.axis for cut in stage.made if cut.serial in stage.serials}
    for index, cut in enumerate(stage.step.cuts if stage.step is not None else ()):
        if cut.outline_mm is None:
            continue
        at, (first, _), (last, _) = cut.outline_at_mm, cut.outline_mm[0], cut.outline_mm[-1]
        wood = stage.wood if stage.lid is None else stage.mounted
        axis = axes.get(index, stage.axis)
        found = kernel.silhouette(
            wood, axis, start_mm=at + first, end_mm=at + last, segments=segments, hollow=cut.hollows
        )
        yield index, tuple((round(place - at, 4), radius) for place, radius in found)


def _drilled(stage: kernel.Stage) -> Iterator[tuple[float, float]]:
    """Diameter and depth of each hole that this step's bits make."""
    made = {cut.serial: cut for cut in stage.made}
    for serial in stage.serials:
        for name in made[serial].features[:1]:
            feature = stage.features[name]
            if feature.kind in (kernel.FeatureKind.BORE, kernel.FeatureKind.HOLE):
                yield feature.diameter_mm, feature.long_mm
    if stage.lid is not None:
        yield from _drilled(stage.lid.stage)


def _sane(value: float) -> float:
    """A number that text can hold."""
    return min(float(value), 1e6)


def _verdict(kept: dict[str, Any]) -> kernel.Verdict:
    """A finding as it was kept."""
    about = tuple(kernel.Thing(kernel.Subject(subject["subject"]), subject["name"]) for subject in kept["about"])
    return kernel.Verdict(kernel.Code(kept["code"]), about, kept["numbers"], kept["step"], kept["cut"])


def _read(kept: dict[str, Any]) -> Measured:
    """Numbers as they were kept."""
    verdicts = tuple(map(_verdict, kept.pop("verdicts")))
    insets = tuple(MeasuredInset(**inset) for inset in kept.pop("insets"))
    lid = kept.pop("lid")
    pairs: dict[str, Any] = {name: tuple(map(tuple, kept.pop(name))) for name in ("deep", "air", "webs")}
    sides = tuple((cut, tuple(map(tuple, side))) for cut, side in kept.pop("sides"))
    kept["widest_mm"] = tuple(kept["widest_mm"])
    kept["toward_tail"] = kept["toward_tail"] and tuple(kept["toward_tail"])
    return Measured(**kept, **pairs, sides=sides, insets=insets, verdicts=verdicts, lid=lid and MeasuredLid(**lid))
