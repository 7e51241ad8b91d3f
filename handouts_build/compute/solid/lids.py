"""What is said of a part that is put on another to be turned with it: its joint there, its weight, its picture.

This module owns these words. Which part may be put on which is in `put_on`, the words of any joint are in `fits`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from handouts_build import workpiece as kernel
from handouts_build.compute.solid.fits import JointJudge
from handouts_build.compute.solid.given import density_g_mm3
from handouts_build.compute.solid.measured import Measured
from handouts_build.compute.solid.words import the
from handouts_build.language import tr, tr_later
from handouts_build.quantities import Rule
from handouts_build.schema import Document, JointKeys, Key, PartKeys
from handouts_build.sheet.findings import Finding, Level

__all__ = ["lid_words", "put_on_findings", "with_lids"]

_HELD_BY = {
    "thread": tr_later("{part} is on, held by its thread alone."),
    "snap": tr_later("{part} is on, held by its bead and groove alone."),
    "friction": tr_later("{part} is on, held by its fit alone."),
}


def put_on_findings(
    now: Measured, joint: JointKeys, *, key: Key, about: str, document: Document, rule: Rule
) -> Iterator[Finding]:
    """What keeps a part from being put on as its joint is at that step; how it holds there the workpiece finds.

    Args:
        now: The stage that the step leaves.
        joint: The joint's keys.
        key: Where the step stands.
        about: What the findings are about.
        document: For places.
        rule: For printing.
    """
    if now.lid is None:
        return
    asked = kernel.Joint(piece=joint.put, onto=joint.into, tenon=joint.tenon or "", hole=joint.hole or "")
    judge = JointJudge(now.lid.fit, asked, joint, rule, document.place((*key, "hold", "put on")), about)
    found = [finding for finding in judge.findings() if finding.level is Level.STOP]
    # How it may be accepted is said at the joint.
    yield from (replace(finding, advice="") for finding in (found or judge.clashes()))


def lid_words(now: Measured) -> Iterator[str]:
    """What is put on and what holds it, as a sentence of the picture's alternative.

    Args:
        now: The stage that the step leaves.
    """
    if now.lid is not None:
        said = the(now.lid.part)
        yield tr(_HELD_BY[now.lid.kind], part=f"{said[:1].upper()}{said[1:]}")


def with_lids(
    densities: Sequence[float | None], stages: Sequence[Measured], parts: Mapping[str, PartKeys]
) -> Iterator[float | None]:
    """What a part's wood weighs at each stage with what is put on it, grams in a cubic millimetre of both.

    Args:
        densities: Of the part alone.
        stages: Its stages, the blank's first.
        parts: All parts' models.
    """
    for own, stage in zip(densities, stages, strict=True):
        if stage.lid is None:
            yield own
            continue
        other = density_g_mm3(parts[stage.lid.part].wood, ())
        if own is None or other is None:
            yield None
            continue
        weight = stage.volume_mm3 * own + stage.lid.volume_mm3 * other
        yield weight / (stage.volume_mm3 + stage.lid.volume_mm3)
