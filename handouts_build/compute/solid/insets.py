"""What is said of a part that is let into another: its fit, its grain, how many there are, and what the two weigh.

This module owns the words and the limits of plugs and inlays at the step that glues them in. Whether they are flush in
the end is found by the workpiece and said in `words`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from handouts_build import workpiece as kernel
from handouts_build.compute.blanks import grain_of
from handouts_build.compute.solid.fits import JointJudge
from handouts_build.compute.solid.given import density_g_mm3
from handouts_build.compute.solid.measured import Measured, MeasuredInset
from handouts_build.compute.solid.words import length, the
from handouts_build.language import in_a_row, tr, tr_count
from handouts_build.quantities import Rule, decimal, millimetres, print_quantity
from handouts_build.schema import Document, Key, PartKeys, StepKeys
from handouts_build.sheet import Part
from handouts_build.sheet.findings import Finding, Level
from handouts_build.sheet.stages import StageFact
from handouts_build.tables import lookup_wood
from handouts_build.tables.joints import joint_limits
from handouts_build.trade.staves import DAMP_PERCENT

__all__ = ["inset_facts", "inset_findings", "inset_words", "too_few", "with_insets"]

_ALONG, _ACROSS = 0.3, 0.7
"""A hole leans from the grain by less than the first, as the sine of the angle, where it runs along it, and by more
than the second where it runs across."""
_ENDWISE = "along the axis"


def fresh(before: Measured, now: Measured) -> tuple[MeasuredInset, ...]:
    """What a step lets in.

    Args:
        before: The stage before it.
        now: The stage it leaves.
    """
    return now.insets[len(before.insets) :]


def inset_words(before: Measured, now: Measured, woods: Mapping[str, str]) -> Iterator[str]:
    """What a step lets in, as a sentence of its picture's alternative.

    Args:
        before: The stage before it.
        now: The stage it leaves.
        woods: Of each part, as it is said.
    """
    counts = Counter(inset.part for inset in fresh(before, now))
    if counts:
        parts = [
            tr_count("'{part}', of {wood}", "{count} times '{part}', of {wood}", count, part=part, wood=woods[part])
            for part, count in counts.items()
        ]
        yield tr("Glued in, in the color of its own wood: {parts}.", parts=in_a_row(parts))


def inset_facts(before: Measured, now: Measured, rule: Rule) -> Iterator[StageFact]:
    """How deep the first of each part sits in its hole.

    Args:
        before: The stage before the step.
        now: The stage it leaves.
        rule: For printing.
    """
    insets = {inset.part: inset for inset in reversed(fresh(before, now))}
    for inset in reversed(insets.values()):
        deep = millimetres(inset.fit["engaged_mm"])
        yield StageFact("inset", tr("Let in"), deep, print_quantity(deep, rule), the(inset.hole))


def inset_findings(
    before: Measured, now: Measured, step: StepKeys, *, key: Key, about: str, own: PartKeys,
    parts: Mapping[str, PartKeys], document: Document, rule: Rule,
) -> Iterator[Finding]:  # fmt: skip
    """What is found of all that a step lets in, like holes once.

    Args:
        before: The stage before it.
        now: The stage it leaves.
        step: Its model.
        key: Where the step stands.
        about: What the findings are about.
        own: The part with the holes.
        parts: All parts' models.
        document: For places.
        rule: For printing.
    """
    seen: set[tuple[Level, int, str]] = set()
    for inset in fresh(before, now):
        keys = step.let_in[inset.item]
        place = document.place((*key, "let in", inset.item))
        joint = kernel.Joint(piece=inset.part, onto="", tenon=keys.tenon, hole=inset.hole)
        judge = JointJudge(inset.fit, joint, keys, rule, place, about)
        found = list(judge.findings())
        if not any(finding.level is Level.STOP for finding in found):
            found += judge.clashes()
            found += _grain(inset, judge, own=own, let_in=parts[inset.part], rule=rule)
        for finding in found:
            # Of a set of holes each has a number of its own.
            same = (finding.level, inset.item, finding.message.replace(inset.hole, ""))
            if same not in seen:
                seen.add(same)
                yield finding


def _grain(
    inset: MeasuredInset, judge: JointJudge, *, own: PartKeys, let_in: PartKeys, rule: Rule
) -> Iterator[Finding]:
    """What its grain shows, and how far it and the wood around it move apart in damp air."""
    hole, endwise = the(inset.hole), grain_of(let_in) == _ENDWISE
    side = inset.across > _ACROSS if grain_of(own) == _ENDWISE else inset.across < _ALONG
    if side and endwise:
        yield judge.says(
            Level.NOTE,
            tr(
                "'{part}' shows its end grain in {hole}, among side grain: it drinks finish, and stays darker",
                part=inset.part,
                hole=hole,
            ),
            tr(
                "cut it across the grain, as a plug cutter does, and lay its grain along the grain around it: {line}; "
                "or choose a wood that may stand out",
                line="grain: across the axis",
            ),
        )
    moves = [_tangential(wood) for wood in (own.wood, let_in.wood)]
    if moves[0] is None or moves[1] is None:
        return
    around, within = moves[0], moves[1]
    # In the plane of the hole's mouth: end grain moves across all around, side grain in one direction alone.
    share = within if endwise else 0.0
    share = abs(around - within) if side is not endwise else share if side else around
    apart = inset.fit["hole_mm"] * share * DAMP_PERCENT
    if apart > joint_limits()["press"].value_mm:
        yield judge.says(
            Level.MIND,
            tr(
                "'{part}' and the wood around {hole} move {apart} apart, across, when both take up {moisture} percent "
                "of moisture: the glue line opens, or the thinner of the two splits",
                part=inset.part,
                hole=hole,
                apart=length(apart, rule),
                moisture=decimal(DAMP_PERCENT, 0),
            ),
            tr("lay its grain as the grain around it lies, make it narrower, or let it in without glue"),
        )


def _tangential(wood: str) -> float | None:
    """How far a wood moves along its rings, for each percent of moisture; None where no table has it."""
    published = lookup_wood(wood)
    found = published.c_tangential if published is not None else None
    return found.value if found is not None else None


def too_few(
    lasts: Mapping[str, Measured], parts: Sequence[Part], keys: Mapping[str, PartKeys], document: Document
) -> Iterator[Finding]:
    """Parts of which fewer are made than there are holes for them.

    Args:
        lasts: The last stage of each part.
        parts: Worked out.
        keys: Their models.
        document: For places.
    """
    counts = {part.name: part.count for part in parts}
    needed: Counter[str] = Counter()
    for name, last in lasts.items():
        needed.update(
            {part: count * counts.get(name, 1) for part, count in Counter(i.part for i in last.insets).items()}
        )
    for part, holes in needed.items():
        if counts[part] < holes:
            word = "count" if keys[part].count is not None else "wood"
            yield Finding(
                Level.STOP,
                tr("Part {part}", part=part),
                tr_count(
                    "{holes} holes take one of '{part}' each, and {count} is made",
                    "{holes} holes take one of '{part}' each, and {count} are made",
                    counts[part],
                    holes=holes,
                    part=part,
                ),
                tr("write {line}, or one or two more, to choose from", line=f"count: {holes}"),
                document.place(("parts", part, word)),
            )


def with_insets(
    densities: Sequence[float | None], stages: Sequence[Measured], parts: Mapping[str, PartKeys]
) -> Iterator[float | None]:
    """What a part's wood weighs at each stage with all that is let into it, grams in a cubic millimetre.

    Args:
        densities: Of its own wood.
        stages: Its stages, the blank's first.
        parts: All parts' models.
    """
    for own, stage in zip(densities, stages, strict=True):
        each = [(inset.volume_mm3, density_g_mm3(parts[inset.part].wood, ())) for inset in stage.insets]
        if own is None or any(weight is None for _, weight in each) or not stage.volume_mm3:
            yield own if not each else None
            continue
        more = sum(volume * (weight - own) for volume, weight in each if weight is not None)
        yield own + more / stage.volume_mm3
