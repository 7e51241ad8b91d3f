"""What a cut along a profile leaves unsaid: where an earlier step turned the same outline.

This module owns one hint: a hollow, or a profile cut again, that begins elsewhere than the
outline it goes by was turned. What follows from that is found by the workpiece.
"""

from __future__ import annotations

from collections.abc import Sequence

from handouts_build import workpiece as kernel
from handouts_build.schema import Formula, StepKeys, Written

__all__ = ["begins_elsewhere"]


def begins_elsewhere(steps: Sequence[StepKeys], step: int, cut: int) -> str:
    """That a cut begins elsewhere than its outline was turned before, as a sentence to follow a remedy; else empty.

    Args:
        steps: The part's, as the file has them.
        step: Which of them cuts, counting from 0.
        cut: Which of its cuts.
    """
    kind, keys = steps[step].cut[cut].only
    inside = keys.text("outside")
    outline = inside or keys.text("shape")
    called = "the outside" if inside else f"'{outline}'"
    if outline is None:
        return ""
    earlier = [item for before in steps[:step] for item in before.cut] + list(steps[step].cut[:cut])
    for before in reversed(earlier):
        was, turned = before.only
        if kernel.CUTS[was].shapes_outside() and turned.text("shape") == outline:
            at, here = (_text(found.written("at")) for found in (turned, keys))
            if at != here:
                return f"{called} was turned at {at}, and this {kind} starts at {here}: say at: {at}"
            return ""
    return ""


def _text(written: Written | None) -> str:
    return written.text if isinstance(written, Formula) else "0 in"
