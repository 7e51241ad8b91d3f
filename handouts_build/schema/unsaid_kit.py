"""The grits and supplies that a project file leaves unsaid and its finishes and glues make plain.

This module owns which papers go under which finish where nobody says it, and which supply stands for which glue or
finish. Each is common practice, no published source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from handouts_build.schema.models import ProjectKeys, StepKeys
from handouts_build.tables import lookup_finish
from handouts_build.tables.caution_facts import WORDS, Fact
from handouts_build.trade.abrasive import GRIT_SEQUENCE

__all__ = ["OTHER_GRITS", "SHINY_GRITS", "UsualGrits", "stands_for", "supplies_of"]

SHINY_GRITS = "P180, P240, P320, P400"
"""Under a finish that shines, which shows every scratch."""
OTHER_GRITS = "P120, P180, P240, P320"
_SHINY = frozenset({"shellac", "lacquer", "friction polish", "cyanoacrylate"})
_ALIKE = ("oil", "wax", "lacquer", "varnish")
"""Words of finishes by which one is meant that is called more fully elsewhere."""
_GLUES = WORDS[Fact.ADHESIVE]
_OTHER_GLUE = {"cyanoacrylate": ("ca glue", "superglue", "super glue"), "hot-melt glue": ("hot glue",)}
_SOLD_AS = {"cyanoacrylate": "cyanoacrylate glue", "epoxy": "two-part epoxy"}


@dataclass(frozen=True)
class UsualGrits:
    """The grits that abrasives have which are named without any."""

    grits: str

    @classmethod
    def of(cls, project: ProjectKeys) -> UsualGrits:
        """Those of the one grit sequence that a project works out, else those that are usual under its finish.

        Args:
            project: As it is written.

        Returns:
            The grits; none where it has several sequences.
        """
        # A working's keys are made from its chapter, so that no checker knows them.
        sequences = [
            getattr(working, "grits", ())
            for working in project.workings.values()
            if working.chapter == GRIT_SEQUENCE.name
        ]
        if sequences:
            return cls(", ".join(sequences[0]) if len(sequences) == 1 else "")
        finishes = {finish for part in project.parts.values() for step in part.steps for finish in step.finish}
        return cls(SHINY_GRITS if finishes & _SHINY else OTHER_GRITS)

    def named(self, tool: str) -> str:
        """A tool of a step, with its grits if it is abrasives without any.

        Args:
            tool: As it is written.
        """
        return f"{tool} {self.grits}" if self.grits and tool.strip().casefold() == "abrasives" else tool


def supplies_of(steps: Iterable[StepKeys], supplies: Sequence[str]) -> Iterator[str]:
    """The glues and finishes of steps that no supply stands for, as they are sold.

    Args:
        steps: All of a project.
        supplies: Those that it names.
    """
    for kind in dict.fromkeys(kind for step in steps for kind in (*step.adhesive, *step.finish)):
        if not any(stands_for(supply, kind) for supply in supplies):
            finish = None if kind in _GLUES else lookup_finish(kind)
            yield _SOLD_AS.get(kind) or (finish.title.casefold() if finish else kind)


def stands_for(supply: str, kind: str) -> bool:
    """Whether a supply is that glue or finish, by its name or by one that is as good.

    Args:
        supply: As a file names it.
        kind: A word of the safety rules.
    """
    said = " ".join(supply.casefold().split())
    if kind in said or any(other in said for other in _OTHER_GLUE.get(kind, ())):
        return True
    if kind in _GLUES:
        return said in ("glue", "glues")
    finish = lookup_finish(kind)
    if finish is not None and any(name.casefold() in said for name in (finish.title, *finish.aliases)):
        return True
    words = re.findall(r"[a-z]+", said)
    return any(word in words and word in kind.split() for word in _ALIKE)
