"""A project's parts carried through their steps as solids, judged, and told in numbers.

This module owns what the sheet says of the solid: a stage for each step, and findings
with their place. The keys go over to the workpiece in `solid.plan`; what is kept
between runs is in `solid.measured`, what the safety rules ask for in `solid.facts`,
the finished piece in `solid.assembled`, wording in `solid.words`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from handouts_build import workpiece as kernel
from handouts_build.compute.budgets import MOST_BODIES
from handouts_build.compute.names import Ledger
from handouts_build.compute.solid.facts import NO_WOOD_MM, SOME_AIR, solid_facts
from handouts_build.compute.solid.given import densities, shop_limits
from handouts_build.compute.solid.hints import begins_elsewhere
from handouts_build.compute.solid.insets import inset_facts, inset_findings, inset_words, too_few, with_insets
from handouts_build.compute.solid.lids import lid_words, put_on_findings, with_lids
from handouts_build.compute.solid.limits import thin_wood
from handouts_build.compute.solid.measured import Measured, Recall, measured
from handouts_build.compute.solid.on_purpose import on_purpose
from handouts_build.compute.solid.plan import PartPlan, part_plan
from handouts_build.compute.solid.put_on import joint_between
from handouts_build.compute.solid.speeds import turning
from handouts_build.compute.solid.words import alike, held, said, textured, the
from handouts_build.compute.speed_limits import Turning
from handouts_build.compute.step_facts import natural_edge
from handouts_build.language import listed, phrases_in_a_row, tr, tr_count, tr_later
from handouts_build.problems import Problem
from handouts_build.quantities import (
    Kind,
    Printed,
    Quantity,
    Rule,
    count,
    decimal,
    millimetres,
    of_kind,
    print_quantity,
    quantity,
)
from handouts_build.schema import Document, Key, PartKeys, ProjectKeys, ShopKeys, StepKeys
from handouts_build.sheet import Group, Part, Shape
from handouts_build.sheet.findings import Acceptance, Finding, Level
from handouts_build.sheet.stages import Side, StageFact, StageSummary
from handouts_build.tables.woods import said_wood
from handouts_build.workpiece.declared import keys_of

__all__ = ["Carried", "Solids", "carry_parts"]

_OF_THE_LOG = frozenset({kernel.Code.PITH_LEFT, kernel.Code.BARK_LEFT, kernel.Code.SAW_LEFT})
_MISPLACED = frozenset({kernel.Code.TWO_PIECES, kernel.Code.UNMEANT_BREAK_THROUGH, kernel.Code.CUTS_NOTHING})
_AT_REST = frozenset({"hand", "bench"})
_TURNED_AROUND = {
    1.0: tr_later("Turned around since the step before: its left end is at the headstock, on the left."),
    -1.0: tr_later("Turned around since the step before: its right end is at the headstock, on the left."),
}
_ON_ITS_SIDE = tr_later("Turned around since the step before: its side is at the headstock, on the left.")


@dataclass(frozen=True)
class Carried:
    """One part, with all that carries it again."""

    plan: PartPlan
    limits: kernel.Limits
    densities: tuple[float | None, ...]
    """Grams in a cubic millimetre, as the wood is at each stage; None where no table knows it."""
    stages: tuple[Measured, ...]
    """The blank's first."""
    turned_on: Carried | None = None
    """The part that it is put on and turned with, which leaves it as it is in the end."""


@dataclass(frozen=True)
class Solids:
    """What the solids say of a project."""

    parts: Mapping[str, Carried] = field(default_factory=dict)
    shop: kernel.ShopLimits = field(default_factory=kernel.ShopLimits)
    stages: Mapping[int, StageSummary] = field(default_factory=dict)
    """By the step's number."""
    turning: Mapping[int, Turning] = field(default_factory=dict)
    """The wood while it turns, by the step's number; not of steps at which the lathe stands."""
    facts: Mapping[int, dict[str, Any]] = field(default_factory=dict)
    """What the safety rules ask for, by the step's number."""
    findings: tuple[Finding, ...] = ()
    needless: tuple[Finding, ...] = ()
    """What is accepted and not found: for the author, at the author's own sizes."""

    @property
    def slender(self) -> frozenset[str]:
        """The parts that are found slender at some step."""
        return frozenset(
            name
            for name, part in self.parts.items()
            if any(found.code is kernel.Code.SLENDER for stage in part.stages for found in stage.verdicts)
        )


def carry_parts(
    project: ProjectKeys,
    document: Document,
    *,
    parts: Sequence[Part],
    groups: Sequence[Group],
    shop: ShopKeys,
    rule: Rule,
    ledger: Ledger,
    recall: Recall,
    segments: int = 72,
) -> Solids:
    """Carry every part that has cuts.

    Args:
        project: Its model.
        document: For places.
        parts: Worked out.
        groups: For profiles.
        shop: The maker's kit.
        rule: For printing.
        ledger: Takes note of problems.
        recall: Where results are kept.
        segments: Sides that a circle about the axis is drawn with.
    """
    limits_of_shop = shop_limits(shop)
    shapes: dict[str, Shape | None] = dict.fromkeys(project.profiles)
    shapes |= {group.name: group.shape for group in groups if group.shape is not None}
    plans: dict[str, PartPlan] = {}
    made: dict[str, Carried] = {}
    stages: dict[int, StageSummary] = {}
    turns: dict[int, Turning] = {}
    facts: dict[int, dict[str, Any]] = {}
    findings: list[Finding] = []
    needless: list[Finding] = []
    bodies = 0
    joints = project.assembly.joints if project.assembly is not None else ()
    for part in parts:
        model = project.parts[part.name]
        if not any(step.cut for step in model.steps):
            continue
        first = part.steps[0].number
        plan = part_plan(
            part.name,
            model,
            blank=part.blank,
            first=first,
            shapes=shapes,
            workings=project.workings,
            ledger=ledger,
            others=plans,
            parts=project.parts,
            joints=joints,
            segments=segments,
        )
        if plan is None:
            continue
        if plan.bodies <= MOST_BODIES:
            # Of more the workpiece itself says where they begin.
            bodies += plan.bodies * (1 + len(project.ready_sizes))
        if bodies > MOST_BODIES:
            message = f"{bodies:,} cuts and holes in all parts up to this one, each counted at every ready size"
            hint = f"at most {MOST_BODIES} are worked out: leave ready sizes out, or make several projects of it"
            ledger.note(("parts", part.name), message, hint)
            break
        thin = thin_wood(part)
        found = measured(plan, shop=limits_of_shop, limits=thin.limits, recall=recall)
        if isinstance(found, kernel.WorkpieceFault):
            ledger.note(_blamed(found, plan, model), f"{found.message}", found.hint)
            # What went wrong before is likely why, and is told in the same round.
            plan = replace(plan, steps=plan.steps[: found.step or 0])
            earlier = measured(plan, shop=limits_of_shop, limits=thin.limits, recall=recall)
            if not isinstance(earlier, kernel.WorkpieceFault):
                carried = Carried(plan, thin.limits, tuple(densities(part, model)), earlier)
                telling = _Telling(part, project, carried, rule, document, thin.why, limits_of_shop)
                for finding in (finding for index in range(len(plan.steps)) for finding in telling.findings(index)):
                    if finding.level is Level.STOP:
                        remedy = phrases_in_a_row(filter(None, (finding.remedy, finding.advice)))
                        ledger.problems.append(Problem(finding.place, finding.message, remedy))
            continue
        plans[part.name] = plan
        own = tuple(with_insets(tuple(densities(part, model)), found, project.parts))
        weights = with_lids(own, found, project.parts)
        carried = Carried(plan, thin.limits, tuple(weights), found)
        made[part.name] = carried
        for lid in dict.fromkeys(step.put_on.part for step in plan.steps if step.put_on is not None):
            made[lid] = replace(made[lid], turned_on=carried)
        telling = _Telling(part, project, carried, rule, document, thin.why, limits_of_shop)
        for index in range(len(model.steps)):
            stages[first + index] = telling.stage(index)
            turned = telling.turning(index)
            if turned is not None:
                turns[first + index] = turned
            swing = turned.swing_mm if turned is not None else None
            facts[first + index] = solid_facts(
                plan, found, carried.densities, model.steps[index], index=index, swing_mm=swing
            )
            findings += telling.findings(index)
            needless += telling.needless(index)
    findings += too_few({name: part.stages[-1] for name, part in made.items()}, parts, project.parts, document)
    return Solids(made, limits_of_shop, stages, turns, facts, tuple(findings), tuple(needless))


def _blamed(fault: kernel.WorkpieceFault, plan: PartPlan, model: PartKeys) -> Key:
    """Where the blame for a fault lies."""
    if fault.step is None:
        return ("parts", plan.part, "blank" if "blank" in fault.message else "steps")
    key = plan.keys[fault.step]
    step = model.steps[fault.step]
    if fault.cut is not None:
        return (*key, "cut", fault.cut, step.cut[fault.cut].only[0])
    if step.let_in and not step.cut:
        return (*key, "let in")
    if fault.message.startswith("a mark"):
        return (*key, "mark")
    return (*key, "hold") if step.hold is not None else key


class _Telling:
    """One part's stages on their way to the sheet."""

    def __init__(
        self,
        part: Part,
        project: ProjectKeys,
        carried: Carried,
        rule: Rule,
        document: Document,
        thin_because: str,
        shop: kernel.ShopLimits,
    ) -> None:
        self.part, self.carried, self.rule, self.document = part, carried, rule, document
        self.parts, self.model = project.parts, project.parts[part.name]
        self.joints = project.assembly.joints if project.assembly is not None else ()
        self.thin_because, self.shop = thin_because, shop

    def stage(self, index: int) -> StageSummary:
        """What the sheet says of the stage after a step."""
        step = self.model.steps[index]
        return StageSummary(
            index=index + 1,
            says=self._says(index),
            facts=tuple(self._facts(index)),
            changed=bool(step.cut or step.mark or step.let_in or self.carried.plan.steps[index].shrinks),
            cut_away=step.cut_away,
            sides=tuple(self._sides(index)),
            drilled=self._drilled(index),
        )

    def _drilled(self, index: int) -> tuple[Quantity, Quantity] | None:
        """How far the wood stands out, and the deepest hole, where the step drills with a bit in the tailstock."""
        now, step = self.carried.stages[index + 1], self.model.steps[index]
        along = [cut for cut in self.carried.plan.steps[index].cuts if cut.along_axis]
        bits = {cut.bit_mm for cut in along}
        deep = max((deep for bit, deep in now.deep if bit in bits), default=0.0)
        at_rest = step.hold is not None and not _AT_REST.isdisjoint(step.hold.by)
        if not deep or at_rest:
            return None
        out = now.overhang_mm if now.overhang_mm is not None else self.carried.stages[index].long_mm
        return millimetres(out), millimetres(deep)

    def _sides(self, index: int) -> Iterator[Side]:
        """The wood from the side, over each profile that the step cut, from the profile's first end."""
        for cut, points in self.carried.stages[index + 1].sides:
            _, keys = self.model.steps[index].cut[cut].only
            shaped = self.carried.plan.steps[index].cuts[cut]
            shape, outline = keys.text("shape"), shaped.outline_mm
            if shape is not None and outline is not None and points:
                long = outline[-1][0]
                turned = tuple((round(long - place, 4), radius) for place, radius in reversed(points))
                yield Side(shape, turned if keys.written("reversed") else points, shaped.hollows)

    def findings(self, index: int) -> Iterator[Finding]:
        """What was found at a step, each thing once."""
        step = self.model.steps[index]
        key = self.carried.plan.keys[index]
        about = self._about(index)
        told_already: set[tuple[kernel.Code, int | None, tuple[kernel.Thing, ...]]] = set()
        earlier = self.carried.stages[1 : index + 1]
        slender = [stage.slender for stage in earlier if stage.slender is not None]
        odd = any(found.code is kernel.Code.NOT_ROUND for stage in earlier for found in stage.verdicts)
        dried = [found.about for stage in earlier for found in stage.verdicts if found.code is kernel.Code.DRIED_OVAL]
        for found, count_of in alike(self.carried.stages[index + 1].verdicts):
            # Cuts repeated over several holds find the same thing each time.
            same = (found.code, found.cut, found.about[1:])
            again = found.code is kernel.Code.SLENDER and any(found.numbers["ratio"] <= ratio for ratio in slender)
            again = again or (found.code is kernel.Code.NOT_ROUND and odd)
            again = again or (found.code is kernel.Code.DRIED_OVAL and found.about in dried)
            meant = found.code is kernel.Code.BARK_LEFT and natural_edge(self.model)
            if same in told_already or again or meant:
                continue
            told_already.add(same)
            words = said(found, self.rule, thin_because=self.thin_because, places=count_of)
            place = self.document.place(self._place(found, key, step))
            reason = step.accept.get(found.code.value)
            if reason is not None:
                message = on_purpose(found, self.rule, reason, places=count_of)
                yield Finding(Level.NOTE, about, message, "", place, accepted=True)
            else:
                advice = self._acceptance(found, index)
                if found.code in _MISPLACED and found.cut is not None:
                    advice = begins_elsewhere(self.model.steps, found.step, found.cut) or advice
                acceptance = Acceptance(found.code.value, key) if found.code.acceptable else None
                yield Finding(
                    words.level, about, words.message, words.remedy, place, advice=advice, acceptance=acceptance
                )
        before, now = self.carried.stages[index : index + 2]
        joint = joint_between(self.part.name, now.lid.part, self.joints) if now.lid is not None else None
        if joint is not None and self.carried.plan.steps[index].put_on is not None:
            yield from put_on_findings(now, joint, key=key, about=about, document=self.document, rule=self.rule)
        yield from inset_findings(
            before, now, step, key=key, about=about, own=self.model, parts=self.parts, document=self.document,
            rule=self.rule,
        )  # fmt: skip

    def _acceptance(self, found: kernel.Verdict, index: int) -> str:
        """The very line that accepts a finding, and where it goes; empty where it may not be accepted."""
        if not found.code.acceptable:
            return ""
        number = self.carried.plan.numbers[index]
        return f"or write under step {number}: accept: {{{found.code.value}: why}}"

    def needless(self, index: int) -> Iterator[Finding]:
        """What a step accepts that is not found there."""
        step, key = self.model.steps[index], self.carried.plan.keys[index]
        found = {verdict.code.value for verdict in self.carried.stages[index + 1].verdicts}
        for code in step.accept:
            if code not in found:
                message = tr("'{finding}' is accepted here, and the solid does not find it", finding=code)
                remedy = tr("take it out of '{key}'", key="accept")
                place = self.document.place((*key, "accept", code))
                yield Finding(Level.NOTE, self._about(index), message, remedy, place, private=True)

    def _about(self, index: int) -> str:
        """What a step's findings are about."""
        number, name = self.carried.plan.numbers[index], self.part.steps[index].name
        return tr("Step {number}, {name}", number=number, name=name)

    def _place(self, found: kernel.Verdict, key: Key, step: StepKeys) -> Key:
        if found.cut is not None:
            # A meeting that is missing is blamed on the cut that says it, which may be in an earlier step.
            at = (*self.carried.plan.keys[found.step], "cut", found.cut)
            return (*at, self.model.steps[found.step].cut[found.cut].only[0])
        if found.code in _OF_THE_LOG:
            return ("parts", self.part.name, "blank", keys_of(self.model.blank.shape)[0].word)
        return (*key, "hold") if step.hold is not None else key

    def turning(self, index: int) -> Turning | None:
        """The wood of a step while it turns; None where the lathe stands, or nothing tells that it runs."""
        before, now = self.carried.stages[index : index + 2]
        step, plan = self.model.steps[index], self.carried.plan
        runs = step.speed is not None or any(cut.needs_lathe for cut in plan.steps[index].cuts)
        if not now.spins or not runs:
            return None
        return turning(
            self.part.blank, self.model, step, plan.steps[index], before=before, now=now, segments=plan.segments,
            lathe_rpm=self.shop.rpm[1] if self.shop.rpm is not None else None,
        )  # fmt: skip

    def _facts(self, index: int) -> Iterator[StageFact]:
        """The numbers that are shown beside a step."""
        now, step = self.carried.stages[index + 1], self.model.steps[index]
        if turned := self.turning(index):
            yield self._length("swing", tr("Swings"), turned.swing_mm)
        name, share = max(((name, share) for name, share, _ in now.air), key=lambda air: air[1], default=("", 0.0))
        if share >= SOME_AIR:
            value = count(share)
            printed = Printed(tr("{share} % of each turn", share=decimal(100 * share, 0)), "", value)
            about = tr("while cutting {cut}", cut=the(name))
            yield StageFact("air", tr("Tool in the air"), value, printed, about)
        for mark in self.carried.plan.steps[index].marks:
            if isinstance(mark, kernel.TextureBand):
                wide = mark.end_mm - mark.start_mm
                yield self._length("texture", tr("Textured width"), wide, about=the(mark.name))
        yield from inset_facts(self.carried.stages[index], now, self.rule)
        if now.overhang_mm is not None and now.held_mm and step.cut and now.overhang_mm > 2 * now.held_mm:
            yield self._length("overhang", tr("Stands out of its hold"), now.overhang_mm)
        near = [web for web in now.webs if NO_WOOD_MM < web[2] < 2 * self.carried.limits.web_mm]
        for first, second, left in near[:1]:
            between = tr("between {first} and {second}", first=the(first), second=the(second))
            yield self._length("web", tr("Thinnest wood"), left, about=between)
        density = self.carried.densities[index + 1]
        if (step.cut or step.let_in) and density is not None:
            volume = now.volume_mm3 + (now.lid.volume_mm3 if now.lid is not None else 0.0)
            weight = quantity(volume * density, "g")
            says = tr("Weighs now, with {part}", part=the(now.lid.part)) if now.lid is not None else tr("Weighs now")
            yield StageFact("weight", says, weight, print_quantity(weight, self.rule))
        if now.chips_mm3 > 0:
            chips = of_kind(now.chips_mm3, Kind.VOLUME)
            yield StageFact("chips", tr("Chips"), chips, print_quantity(chips, self.rule))

    def _length(self, name: str, says: str, value_mm: float, *, about: str = "") -> StageFact:
        value = millimetres(value_mm)
        return StageFact(name, says, value, print_quantity(value, self.rule, fine=name == "web"), about)

    def _says(self, index: int) -> str:
        """The picture in words."""
        now, step = self.carried.stages[index + 1], self.model.steps[index]
        kernel_step = self.carried.plan.steps[index]
        across, long = (str(print_quantity(millimetres(size), self.rule)) for size in (now.across_mm, now.long_mm))
        if now.lid is None:
            sentences = [
                tr(
                    "{part} after this step: {across} across at its widest and {long} long.",
                    part=self.part.title, across=across, long=long,
                )
            ]  # fmt: skip
        else:
            sentences = [
                tr(
                    "{part}, with {other} on, after this step: {across} across at its widest and {long} long.",
                    part=self.part.title, other=the(now.lid.part), across=across, long=long,
                )
            ]  # fmt: skip
        sentences += self._dried(index)
        if kernel_step.cuts:
            sentences.append(
                tr_count(
                    "What this step takes away is hatched: {cuts}.",
                    "What this step takes away is hatched: {cuts}, {count} times.",
                    max(1, len(kernel_step.holds)),
                    cuts=listed([the(cut.name) for cut in kernel_step.cuts]),
                )
            )
        blank = self.carried.plan.blank
        if isinstance(blank, kernel.BaseBlank) and blank.pith_at_mm is not None:
            both = blank.bark_mm > 0
            sentences.append(
                tr("Bark and pith are drawn dark where they show.")
                if both
                else tr("The pith is drawn dark where it shows.")
            )
        textures = [mark for mark in kernel_step.marks if isinstance(mark, kernel.TextureBand)]
        if len(step.mark) > len(textures):
            sentences.append(tr("Pencil lines drawn in this step stand out."))
        if textures:
            bands = listed([textured(mark) for mark in textures])
            sentences.append(tr("This step textures {bands}; slanting strokes stand for it.", bands=bands))
        woods = {name: said_wood(part.wood) for name, part in self.parts.items()}
        sentences += inset_words(self.carried.stages[index], now, woods)
        sentences += self._turned_around(index)
        if self.part.steps[index].hold:
            hold = self.part.steps[index].hold
            sentences.append(tr("{held}.", held=held(hold)))
        sentences += lid_words(now)
        sentences += [
            tr("{says} ({about}): {size}.", says=fact.says, about=fact.about, size=fact.printed)
            for fact in self._facts(index)
            if fact.name in ("web", "air")
        ]
        return " ".join(sentences)

    def _dried(self, index: int) -> Iterator[str]:
        """How much smaller the wood is once it has dried in this step, as its picture shows it."""
        dries = self.carried.plan.steps[index].dries
        if dries is None or not dries.changes:
            return
        shrunk = self.carried.plan.blank.stock.shrinks(dries)
        least, most, short = (
            f"{decimal(100 * (1 - left), 1)} %" if left < 1 else ""
            for left in (max(shrunk.x, shrunk.y), min(shrunk.x, shrunk.y), shrunk.z)
        )
        if shrunk.x == shrunk.y:
            across = tr("{most} all around", most=most)
        elif least:
            across = tr("{most} one way across and {least} the other", most=most, least=least)
        else:
            across = tr("{most} across the grain", most=most)
        if short:
            yield tr("It has dried: it is narrower by {across}, and shorter by {short}.", across=across, short=short)
        else:
            yield tr("It has dried: it is narrower by {across}.", across=across)

    def _turned_around(self, index: int) -> Iterator[str]:
        """Which end is at the headstock, where the part lies otherwise in the lathe than in the step before."""
        *_, before, now = kernel.lying(stage.toward_tail for stage in self.carried.stages[: index + 2])
        if now != before:
            yield tr(_TURNED_AROUND.get(now.direction[2], _ON_ITS_SIDE))
