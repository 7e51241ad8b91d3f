"""One step carried out: the wood mounted, drawn on, cut, and looked at.

This module owns the order in which a step's holds and cuts are made and measured.
What the measures mean is in `findings`, `judge` and `measures`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from handouts_build.workpiece.axes import PART_AXIS, Axis, Floats
from handouts_build.workpiece.blanks import BaseBlank
from handouts_build.workpiece.cut import BaseCut, Here, Made, Nature, Removal
from handouts_build.workpiece.cuts.hollow import Hollow
from handouts_build.workpiece.faults import WorkpieceFault
from handouts_build.workpiece.features import Feature
from handouts_build.workpiece.findings import (
    NOTHING_MM3,
    StepFindings,
    bit_too_short,
    missing_meetings,
    narrow_mouth,
    unreached,
    walls,
)
from handouts_build.workpiece.grip import after, lets_go
from handouts_build.workpiece.holds import BaseHold
from handouts_build.workpiece.inlaid import Inset, filled, goes_with, holes_called, let_in
from handouts_build.workpiece.judge import judge, judge_speed
from handouts_build.workpiece.lids import Lid, grip_of, joint_holds, put_on
from handouts_build.workpiece.marks import TextureBand, drawn, left_of, textured
from handouts_build.workpiece.measures import (
    AirCut,
    air_cut,
    bare_side_mm2,
    held,
    out_of_balance,
    out_of_round,
    radius_about_mm,
    spindle,
)
from handouts_build.workpiece.shrinkage import AS_GROWN, Shrinkage
from handouts_build.workpiece.solid import Solid
from handouts_build.workpiece.stage import LetIn, PutOn, Stage, WorkStep
from handouts_build.workpiece.verdicts import Code, Limits, ShopLimits, Subject, Thing, Verdict, cut_named
from handouts_build.workpiece.web import OUTSIDE

__all__ = ["Work"]

_WAFER_MM = 1.0
"""Wood past a kerf that is no thicker does not come off whole: common practice, no published source."""
_TEXTURE_LOST = 0.1
"""A texture that a step leaves more of than all but this share is told as whole: a groove beside it takes its edge."""
_BARE_MM2 = 50.0
"""Less of the blank's own side than this is a sliver."""
_SKIN_MM = 0.05
"""A piece that is no thicker throughout is none: it stands between a circle and the straight sides it is drawn with."""


class Work:
    """One step being carried out."""

    def __init__(
        self, before: Stage, step: WorkStep, number: int, shop: ShopLimits, limits: Limits, segments: int,
        finished: Callable[[LetIn | PutOn], Stage], blank: BaseBlank,
    ) -> None:  # fmt: skip
        self.finished, self.blank, self.shrinkage = finished, blank, before.shrinkage
        self.before, self.step, self.number = before, step, number
        self.shop, self.limits, self.segments = shop, limits, segments
        self.wood = before.wood
        self.features = dict(before.features)
        self.made = list(before.made)
        self.loose = list(before.loose)
        self.marks = dict(before.marks)
        self.hold, self.axis = before.hold, before.axis
        self.seen = StepFindings(dict(before.meetings), set(before.breached))
        self.air: list[AirCut] = []
        self.chips_mm3 = self.waste_mm3 = 0.0
        self.radius_before_mm = self.uneven = self.unbalance = 0.0
        self.bare = False
        self.pieces = 1
        self.lines: list[Floats] = []
        self.textures = list(before.textures)
        self.insets = list(before.insets)
        self.offcut_insets: list[Inset] = []
        self.offcut: Solid | None = None
        self.neck: Verdict | None = None
        self.lid: Lid | None = None
        self.on_it: Work | None = None
        """The same step being carried out on what is put on this part."""

    def done(self) -> Stage:
        """The stage it leaves."""
        holds = self.step.holds or (self.before.hold,)
        for turn, hold in enumerate(holds):
            try:
                if turn == 0:
                    self._put_on()
                self._take(hold, again=not self.step.holds)
            except WorkpieceFault as fault:
                raise fault.at(step=self.number, cut=None) from None
            if turn == 0:
                self._let_in()
                self._draw()
            for place, cut in enumerate(self.step.cuts):
                name = f"{cut.name} {turn + 1}" if len(holds) > 1 else cut.name
                try:
                    self._cut(cut, name, place)
                except WorkpieceFault as fault:
                    raise fault.at(step=self.number, cut=place) from None
        fresh = self._fresh()
        self._missing(fresh)
        return self._stage(fresh)

    def _missing(self, fresh: Sequence[Made]) -> None:
        """Note what the cuts should meet and do not."""
        if not self.seen.enough:
            # Each keeps its step: the cut that says it may be one of a step before.
            self.seen.verdicts += missing_meetings(fresh, self.made, self.seen.meetings)

    def _fresh(self) -> list[Made]:
        """The cuts that this step made."""
        return self.made[len(self.before.made) :]

    @property
    def _turning(self) -> Solid:
        """All wood that turns: the part's own, and what is put on it."""
        if self.lid is None or self.on_it is None:
            return self.wood
        return Solid.all_of([self.wood, self.on_it.wood.moved(self.lid.frame)])

    @property
    def _known(self) -> dict[str, Feature]:
        """What a cut may go by: the part's own features, then those of what is put on it."""
        if self.lid is None or self.on_it is None:
            return self.features
        theirs = {name: feature.placed(self.lid.frame) for name, feature in self.on_it.features.items()}
        return {**theirs, **self.features}

    def _put_on(self) -> None:
        """Put on what the hold says, or leave on what the step before had on."""
        item = self.step.put_on if self.step.holds else (self.before.lid.item if self.before.lid is not None else None)
        if item is None:
            return
        stage = self.before.lids.get(item.part) or self.finished(item)
        lid = put_on(item, stage, wood=self.wood, features=self.features)
        # What is put on dries by steps of its own.
        step = replace(self.step, holds=(), marks=(), let_in=(), put_on=None, dries=None)
        self.lid = lid
        self.on_it = Work(stage, step, self.number, self.shop, self.limits, self.segments, self.finished, self.blank)

    def _mount_lid(self, hold: BaseHold, *, again: bool) -> None:
        """Let what is put on turn on the joint that holds it."""
        if self.lid is None or self.on_it is None:
            return
        on_it = self.on_it
        grip = grip_of(self.lid, hold)
        on_it.hold, on_it.axis = grip, self.lid.lathe(self.axis)
        sits_on = self.features[self.lid.sits_on]
        left = sits_on.left(self.wood)
        if left < self.limits.left:
            about = (Thing(Subject.FEATURE, sits_on.name),)
            self._verdicts([Verdict(Code.NOTHING_TO_HOLD, about, {"left": left, "least": self.limits.left})])
        found = judge(
            replace(grip, tailstock=False), on_it.wood, on_it.features, on_it.axis,
            shop=ShopLimits(), limits=self.limits, segments=self.segments,
        )  # fmt: skip
        self._verdicts(verdict for verdict in found if verdict.code in (Code.NOTHING_TO_HOLD, Code.DRIED_OVAL))
        if not again:
            self._verdicts(joint_holds(self.lid, hold, self.limits))

    def _verdicts(self, found: Iterable[Verdict]) -> None:
        self.seen.verdicts += [replace(verdict, step=self.number) for verdict in found]

    def _take(self, hold: BaseHold | None, *, again: bool) -> None:
        """Mount the wood."""
        if hold is None:
            if self.step.cuts:
                raise WorkpieceFault("nothing holds the wood", "give this step, or one before it, a hold")
            return
        self.hold = hold
        self.axis = self.before.axis if again else hold.axis(self.wood, self.features)
        # Rings that are loose swing with the wood; they are there as the step before left them.
        wood = self._turning
        swung = (radius_about_mm(body, self.axis, segments=self.segments) for body in (wood, *self.before.rings))
        self.radius_before_mm = max(self.radius_before_mm, *swung)
        if hold.turns:
            self.uneven = max(self.uneven, out_of_round(wood, self.axis, hold=hold))
            self.unbalance = max(self.unbalance, out_of_balance(wood, self.axis, segments=self.segments))
        self._mount_lid(hold, again=again)
        if not again or self.step.cuts:
            found = judge(
                hold, wood, self.features, self.axis,
                shop=self.shop, limits=self.limits, segments=self.segments,
            )  # fmt: skip
            before = self.before.step
            if again and before is not None and any(lets_go(hold, cut) for cut in before.cuts):
                self._verdicts([Verdict(Code.PARTED_FROM_ITS_CENTER)])
            # What was wrong when it was mounted has been said; that its hold has gone since is new.
            self._verdicts(verdict for verdict in found if not again or verdict.code is Code.NOTHING_TO_HOLD)
        if self.step.rpm is not None and hold.turns:
            self._verdicts(judge_speed(self.step.rpm, self.shop))

    def _draw(self) -> None:
        """Put the step's marks on the wood."""
        if self.step.marks:
            here = Here.found(self._turning, self.axis, self._known, segments=self.segments)
            try:
                self.lines = [line for mark in self.step.marks if not mark.stays for line in drawn(mark, here)]
            except WorkpieceFault as fault:
                raise fault.at(step=self.number, cut=None) from None

    def _let_in(self) -> None:
        """Glue parts into their holes; from then on they are the same wood."""
        for number, item in enumerate(self.step.let_in):
            try:
                part = self.finished(item)
                for hole in holes_called(item.hole, self.made, self.features):
                    inset = let_in(item, number, part, wood=self.wood, hole=hole, made=self.made)
                    for serial, cut in enumerate(self.made):
                        self.made[serial] = filled(cut, inset)
                        if hole.name in cut.features:
                            self.marks[inset.room.mark] = serial
                    del self.features[hole.name]
                    self.wood = Solid.all_of([self.wood, inset.room])
                    self.wood.require()
                    self.insets.append(inset)
            except WorkpieceFault as fault:
                # Where the other part failed is told there.
                raise WorkpieceFault(fault.message, fault.hint, step=self.number) from None

    def _texture(self) -> None:
        """See what the step's cuts leave of earlier textures, and put its own on the wood that they leave."""
        for index, texture in enumerate(self.textures):
            left = left_of(texture, self.wood) if self.step.cuts else texture
            if texture.left - left.left > _TEXTURE_LOST:
                about = (cut_named(texture.mark.name), *(cut_named(cut.name) for cut in self.step.cuts))
                self._verdicts([Verdict(Code.TEXTURE_CUT_AWAY, about, {"left": left.left})])
            self.textures[index] = left
        for mark in self.step.marks:
            if isinstance(mark, TextureBand):
                here = Here.found(self.wood, self.axis, self.features, segments=self.segments)
                try:
                    self.textures.append(textured(mark, here))
                except WorkpieceFault as fault:
                    raise fault.at(step=self.number, cut=None) from None

    def _cut(self, cut: BaseCut, name: str, place: int) -> None:
        """Make one cut and look at what it leaves."""
        if cut.needs_lathe and self.hold is not None and not self.hold.turns:
            raise WorkpieceFault(f"'{name}' needs the lathe, and the wood does not turn", "hold it on the lathe")
        if cut.tailstock_away and self.hold is not None:
            self.hold = replace(self.hold, tailstock=False)
        here = Here.found(self._turning, self.axis, self._known, segments=self.segments)
        removal = replace(cut, name=name).taken(here)
        if self.lid is None or self.on_it is None:
            self._make(cut, removal, name, place)
            return
        on_it, lid = self.on_it, self.lid
        if cut.tailstock_away and on_it.hold is not None:
            on_it.hold = replace(on_it.hold, tailstock=False)
        own_axis = lid.lathe(removal.axis) if removal.axis is not None else None
        on_lid = on_it._meets(removal, own_axis or on_it.axis)
        mounted = self.wood
        if not on_lid or self._meets(removal, removal.axis or self.axis):
            self._make(cut, removal, name, place)
        if on_lid:
            on_it._make(cut, replace(removal, axis=own_axis), name, place)
        sits_on = self.features[lid.sits_on]
        if sits_on.left(self.wood) < self.limits.left <= sits_on.left(mounted):
            about = (cut_named(name), Thing(Subject.FEATURE, sits_on.name))
            self._verdicts([replace(Verdict(Code.CUTS_ITS_HOLD, about, {"left": sits_on.left(self.wood)}), cut=place)])

    def _meets(self, removal: Removal, axis: Axis) -> bool:
        """Whether a cut takes any of the wood."""
        return (self.wood & removal.body.moved(axis)).volume_mm3 >= NOTHING_MM3

    def _make(self, cut: BaseCut, removal: Removal, name: str, place: int) -> None:
        """Make a cut whose body is known, and look at what it leaves."""
        axis = removal.axis or self.axis
        body = removal.body.moved(axis).marked()
        chips, left = self.wood.split(body)
        serial = len(self.made)
        self.marks[body.mark] = serial
        apart = tuple(hole.moved(axis) for hole in removal.apart)
        placed = [feature.placed(axis) for feature in removal.features]
        for feature in placed:
            if feature.name in self.features and feature.name != removal.of:
                raise WorkpieceFault(
                    f"two things are called '{feature.name}'", "give the cut, or its holes, another name"
                )
        new = Made(
            name=name, base=cut.name, serial=serial, step=self.number, cut=place, nature=cut.nature, meets=cut.meets,
            body=body, chips=chips, mark=body.mark, axis=self.axis, apart=apart, of=removal.of,
            converge=removal.converge, to_axis=removal.to_axis, ridged=removal.ridged, placed=tuple(placed),
            probes=tuple(probe.placed(axis) for probe in removal.probes),
            opens=OUTSIDE in cut.meets or any(PART_AXIS.shares_line(feature.axis) for feature in placed),
        )  # fmt: skip
        fallen, swept = chips.split(removal.waste.moved(axis)) if removal.waste is not None else (None, chips)
        if fallen is not None and self._is_wafer(fallen, axis):
            fallen, swept = None, chips
        mounted = self.wood
        self._count(chips, fallen)
        if chips.volume_mm3 < NOTHING_MM3:
            self._verdicts([Verdict(Code.CUTS_NOTHING, (cut_named(name),), {}, self.number, place)])
            # Two faces that are one: the wood stays as it was, without their slivers.
            left = self.wood
        if removal.loose is not None:
            ring = removal.loose.placed(axis)
            freed, left = left.split(ring.body)
            self.loose.append(replace(ring, body=freed))
        self._whole(left, new)
        if removal.hook is not None:
            self._verdicts(unreached(removal.hook, new, self.limits))
        if self.hold is not None:
            found = after(
                self.hold, cut, new, self.features, self.axis, self.limits,
                begun=self.before.wood, before=mounted, wood=self.wood, segments=self.segments, opened=placed,
            )  # fmt: skip
            self._held(found)
        self.features |= {feature.name: feature.seen(self.wood) for feature in placed}
        if isinstance(cut, Hollow):
            self._verdicts(narrow_mouth(cut, new, self.limits))
        if cut.turned:
            air = air_cut(name, swept, self.axis, segments=self.segments)
            self.air += [air] if air is not None else []
            if cut.nature is Nature.OUTSIDE and bare_side_mm2(swept, self.axis, self.marks) > _BARE_MM2:
                self.bare = True
        if cut.bit_mm is not None and removal.depth_mm is not None:
            self._verdicts(bit_too_short(new, bit_mm=cut.bit_mm, depth_mm=removal.depth_mm, shop=self.shop))
        walls(new, self.made, self.wood, seen=self.seen, limits=self.limits)
        self.made.append(new)

    def _is_wafer(self, fallen: Solid, axis: Axis) -> bool:
        """Whether what lies past a parting tool is so thin that it is faced off as chips, and nothing falls."""
        if fallen.is_empty:
            return True
        box = fallen.seen_from(axis).box_mm
        return box[5] - box[2] < _WAFER_MM

    def _held(self, found: Iterable[Verdict]) -> None:
        """Note what a cut does to its hold; of thin necks, the one that most stands out past in this step."""
        for verdict in found:
            if verdict.code is not Code.THIN_NECK:
                self._verdicts([verdict])
            elif self.neck is None or verdict.numbers["ratio"] > self.neck.numbers["ratio"]:
                self.neck = verdict

    def _count(self, chips: Solid, fallen: Solid | None) -> None:
        """Chips are swept up; what falls off whole may become another part."""
        off = 0.0 if fallen is None else fallen.volume_mm3
        self.waste_mm3 += off
        self.chips_mm3 += chips.volume_mm3 - off
        if fallen is not None and off > NOTHING_MM3:
            self.offcut = fallen
            # What is let into it goes with it.
            went = [inset for inset in self.insets if goes_with(inset, fallen, chips, self.wood)]
            self.offcut_insets += went
            self.insets = [inset for inset in self.insets if inset not in went]

    def _whole(self, left: Solid, new: Made) -> None:
        """Go on with the largest piece."""
        pieces = left.pieces()
        if not pieces:
            raise WorkpieceFault(f"'{new.name}' leaves no wood", "check its sizes")
        # Of a plate the volume is half its area times its thickness.
        pieces = [piece for piece in pieces if piece is pieces[0] or 2 * piece.volume_mm3 > _SKIN_MM * piece.area_mm2]
        self.wood = pieces[0]
        if len(pieces) > 1:
            self.pieces = max(self.pieces, len(pieces))
            self.waste_mm3 += sum(piece.volume_mm3 for piece in pieces[1:])
            numbers = {"pieces": float(len(pieces)), "loose_mm3": pieces[1].volume_mm3}
            self._verdicts(
                [Verdict(Code.TWO_PIECES, (cut_named(new.name),), numbers, self.number, new.cut, pieces[1].center_mm)]
            )

    def _dry(self, by: Shrinkage) -> None:
        """Let the wood shrink, and all that is on it and in it with it."""
        green = [
            name for name, feature in self.features.items() if feature.thread is not None and feature.green is None
        ]
        self.features = {name: feature.shrunk(by) for name, feature in self.features.items()}
        self._verdicts(
            Verdict(Code.THREAD_DRIED, (Thing(Subject.FEATURE, name),), self.features[name].oval) for name in green
        )
        if by == AS_GROWN:
            return
        self.shrinkage = self.shrinkage.then(by)
        self.wood = self.wood.scaled(by.factors)
        self.axis = by.axis(self.axis)
        self.made = [cut.shrunk(by) for cut in self.made]
        self.loose = [ring.shrunk(by) for ring in self.loose]
        self.lines = [by.points(line) for line in self.lines]
        self.textures = [texture.shrunk(by) for texture in self.textures]
        self.insets = [inset.shrunk(by) for inset in self.insets]
        self.offcut_insets = [inset.shrunk(by) for inset in self.offcut_insets]
        self.offcut = self.offcut and self.offcut.scaled(by.factors)

    def _stage(self, fresh: Sequence[Made]) -> Stage:
        if self.neck is not None:
            self._verdicts([self.neck])
        self._texture()
        if self.step.dries is not None:
            self._dry(self.blank.shrinks(self.step.dries))
        lid = self._lid_after()
        whole = self._turning
        outside = any(cut.turned and cut.nature is Nature.OUTSIDE for cut in self.step.cuts)
        thin = spindle(whole, self.axis, segments=self.segments) if outside else None
        steadied = self.hold is not None and self.hold.steadied
        if thin is not None and thin.ratio > self.limits.slender and not steadied:
            numbers = {"ratio": thin.ratio, "limit": self.limits.slender, "long_mm": thin.long_mm}
            numbers |= {"neck_mm": thin.neck_mm, "at_mm": thin.at_mm}
            self._verdicts([Verdict(Code.SLENDER, (), numbers)])
        # A hold on the outside is measured as it is mounted: a cut may take the held end away.
        mounted = self.wood if self.hold is None or self.hold.needs else self.before.wood
        mounted = mounted if lid is None else Solid.all_of([mounted, lid.begun])
        out = None
        if self.hold is not None:
            round_to = self.limits.round
            out = held(self.hold, mounted, self.features, round_to=round_to, segments=self.segments)
        if out is not None and self.step.cuts and out.ratio > self.limits.overhang:
            numbers = {"ratio": out.ratio, "limit": self.limits.overhang}
            numbers |= {"overhang_mm": out.overhang_mm, "diameter_mm": out.diameter_mm}
            about = tuple(Thing(Subject.FEATURE, name) for name in self.hold.needs) if self.hold else ()
            self._verdicts([Verdict(Code.OVERHANG, about, numbers)])
        return Stage(
            wood=self.wood, step=self.step, number=self.number, hold=self.hold, axis=self.axis,
            features=self.features, made=tuple(self.made), loose=tuple(self.loose), marks=self.marks,
            lines=tuple(self.lines), textures=tuple(self.textures), insets=tuple(self.insets),
            offcut_insets=tuple(self.offcut_insets), lid=lid,
            lids={**self.before.lids, lid.item.part: lid.stage} if lid is not None else self.before.lids,
            meetings=self.seen.meetings,
            breached=frozenset(self.seen.breached), serials=tuple(cut.serial for cut in fresh),
            chips_mm3=self.chips_mm3, waste_mm3=self.waste_mm3, radius_before_mm=self.radius_before_mm,
            radius_mm=radius_about_mm(whole, self.axis, segments=self.segments), held=out, spindle=thin,
            air=tuple(self.air), shrinkage=self.shrinkage, uneven=self.uneven, unbalance=self.unbalance, bare=self.bare,
            webs=tuple(sorted(self.seen.webs, key=lambda web: web.left_mm)), pieces=self.pieces, offcut=self.offcut,
            verdicts=tuple(self.seen.verdicts),
        )  # fmt: skip

    def _lid_after(self) -> Lid | None:
        """What is put on, as the step leaves it; what was found of it counts as found here."""
        if self.lid is None or self.on_it is None:
            return None
        self.on_it._missing(self.on_it._fresh())
        stage = self.on_it._stage(self.on_it._fresh())
        self.chips_mm3, self.waste_mm3 = self.chips_mm3 + stage.chips_mm3, self.waste_mm3 + stage.waste_mm3
        self.pieces, self.bare = max(self.pieces, stage.pieces), self.bare or stage.bare
        self.air += stage.air
        self.seen.webs += stage.webs
        for found in stage.verdicts:
            if found.code is Code.MEANT_MEETING_MISSING:
                # The cut that says it may be one of the other part's own steps.
                self._verdicts([replace(found, cut=None)])
            elif found.code is not Code.SLENDER:
                # The two are one spindle, which is told of both.
                self._verdicts([found])
        return replace(self.lid, stage=stage)
