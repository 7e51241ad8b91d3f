"""The pictures of a part's steps, cropped for print.

This module owns which part of a picture is shown: its ink, as wide as that of all its part's pictures together.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from handouts_build.figures.figure import Figure
from handouts_build.figures.shot import Shot
from handouts_build.language import tr
from handouts_build.sheet import Part, Step

__all__ = ["step_pictures"]


def step_pictures(part: Part, shots: Mapping[int, Shot], *, wide_mm: float = 45.0) -> Iterator[tuple[Step, Figure]]:
    """The pictures of a part's steps without what is empty around them; all are of one scale and line up.

    Args:
        part: One part.
        shots: Pictures of the solid, by the number of the step.
        wide_mm: How wide they are set.
    """
    seen = [shots[step.number] for step in part.steps if step.number in shots]
    left, right = min((shot.ink[0] for shot in seen), default=0), max((shot.ink[2] for shot in seen), default=0)
    for step in part.steps:
        if step.number in shots:
            shot = shots[step.number]
            crop = (left, shot.ink[1], right, shot.ink[3])
            yield step, shot.on_paper(title=tr("Step {number}", number=step.number), wide_mm=wide_mm, crop=crop)
