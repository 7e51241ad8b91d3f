"""The one caution of a step that matters most.

This module owns which it is, for whoever has room for one: a page at the lathe, a short
handout. The others are never lost: they stand one tap away, or where all stand.
"""

from __future__ import annotations

from collections.abc import Collection

from handouts_build.outputs.words import SIGNALS
from handouts_build.sheet import Paragraph, SafetyBox, Step

__all__ = ["foremost"]


def foremost(step: Step, earlier: Collection[str]) -> SafetyBox | Paragraph | None:
    """A danger, else the author's own first caution, else the gravest box: one that is new here before all others.

    Args:
        step: The step.
        earlier: Ids of the boxes that stood at earlier steps as the one that matters most.

    Returns:
        A box, or a paragraph of the author's; None where the step has no caution.
    """
    boxes = sorted(
        step.boxes, key=lambda box: (box.id not in step.new_boxes, box.id in earlier, SIGNALS.index(box.signal))
    )
    gravest = next((box for box in boxes if box.signal == SIGNALS[0]), None)
    if gravest is not None:
        return gravest
    return step.care[0] if step.care else next(iter(boxes), None)
