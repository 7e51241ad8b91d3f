"""How much work a project may ask for, counted before any of it is done.

This module owns the bounds that need nothing but the file's own words. What one part may ask
of its solid is bounded in the workpiece, how large the file is by the reader.
"""

from __future__ import annotations

from collections.abc import Iterator

from handouts_build.problems import Problem
from handouts_build.schema import Document, Key, ProjectKeys

__all__ = ["MOST_BODIES", "MOST_PHOTOGRAPHS", "over_budget"]

_MOST_READY = 6
"""Ready sizes: each has a table and papers of its own."""
_MOST_PARTS = 40
_MOST_STEPS = 150
"""Steps of all parts: far more than an hour holds, and each has its cautions on the page and in every paper."""
_MOST_DRAWN = 98
"""Steps that cut, at every size: fourteen at seven sizes. Each is carried as a solid and drawn, some 0.3 s of processor
time on every size of paper."""
_MOST_ELEMENTS = 400
"""Elements of all profiles."""
MOST_PHOTOGRAPHS = 40
"""Of one project: each may have 50 million pixels."""
MOST_BODIES = 700
"""Cuts and holes of all parts, at every size: judging takes some 0.02 s of processor time for each."""


def over_budget(project: ProjectKeys, document: Document) -> Iterator[Problem]:
    """What a project has too many of, each at the place where they begin.

    Args:
        project: Its model; nothing of it need be worked out.
        document: For places.
    """
    steps = [step for part in project.parts.values() for step in part.steps]
    cutting = sum(bool(step.cut) for step in steps)
    sizes = 1 + min(len(project.ready_sizes), _MOST_READY)
    elements = sum(len(profile.along) for profile in project.profiles.values())
    counted: tuple[tuple[Key, int, int, str, str], ...] = (
        (("ready sizes",), len(project.ready_sizes), _MOST_READY, "ready sizes", "keep those that people ask for"),
        (("parts",), len(project.parts), _MOST_PARTS, "parts", "show a piece of so many parts as several projects"),
        (("parts",), len(steps), _MOST_STEPS, "steps in all parts", "put together what is done in one hold"),
        (
            ("parts",), cutting * sizes, _MOST_DRAWN,
            f"steps with cuts, {cutting} at {sizes} size{'s' if sizes > 1 else ''}",
            "put cuts made in one hold into one step, or leave ready sizes out",
        ),
        (("profiles",), elements, _MOST_ELEMENTS, "elements in all profiles", "draw what is alike once"),
        (("pictures",), len(project.pictures), MOST_PHOTOGRAPHS, "photographs", "keep the best of them"),
    )  # fmt: skip
    for key, found, most, what, hint in counted:
        if found > most:
            yield Problem(document.place(key), f"{found:,} {what}; at most {most:,} are worked out", hint)
