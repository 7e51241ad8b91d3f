"""Where solids are carried while projects are worked out.

This module owns what goes in and out beside the sheet: where results are kept, and each
project's solids for whoever draws them. It loads no geometry until a part has a cut.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from handouts_build.sheet import Group, Part, Sheet
from handouts_build.sheet.findings import Level

if TYPE_CHECKING:
    from handouts_build.compute.names import Ledger
    from handouts_build.compute.solid.assembled import Together
    from handouts_build.compute.solid.carry import Solids
    from handouts_build.quantities import Rule
    from handouts_build.schema import ProjectKeys, ShopKeys

__all__ = ["SolidSession"]


_FINE, _COARSE = 72, 48
"""Sides that a circle is drawn with: at the author's sizes, and at ready sizes, which have papers only."""


def _now(_: str, make: Callable[[], bytes]) -> bytes:
    """Keep nothing."""
    return make()


class SolidSession:
    """Carries the parts of projects.

    Args:
        recall: Gives what is kept under a text, or makes it now.
    """

    def __init__(self, recall: Callable[[str, Callable[[], bytes]], bytes] = _now) -> None:
        self.recall = recall
        self.solids: dict[str, Solids] = {}
        """By the name of the sheet they belong to."""
        self.together: dict[str, Together] = {}
        """The finished pieces, by the name of the sheet."""

    def as_it_is(self) -> SolidSession:
        """One with the solids that are here now, which stay where this one goes on to others."""
        now = SolidSession(self.recall)
        now.solids, now.together = dict(self.solids), dict(self.together)
        return now

    def carry(self, name: str, project: ProjectKeys, ledger: Ledger, *, parts: Sequence[Part], groups: Sequence[Group],
              shop: ShopKeys, rule: Rule, coarse: bool) -> Solids | None:  # fmt: skip
        """Carry a project's parts.

        Args:
            name: Of the sheet.
            project: Its model.
            ledger: Gives numbers and takes note of problems.
            parts: Worked out.
            groups: For profiles.
            shop: The maker's kit.
            rule: For printing.
            coarse: Whether circles have fewer sides, which is quicker.

        Returns:
            What the solids say; None where no part has cuts.
        """
        if not any(step.cut for part in project.parts.values() for step in part.steps):
            return None
        from handouts_build.compute.solid.carry import carry_parts

        found = carry_parts(
            project, ledger.document, parts=parts, groups=groups, shop=shop, rule=rule, ledger=ledger,
            recall=self.recall, segments=_COARSE if coarse else _FINE,
        )  # fmt: skip
        self.solids[name] = found
        return found

    def finish(self, sheet: Sheet, project: ProjectKeys, ledger: Ledger) -> Sheet:
        """The sheet with the finished piece, if its parts were carried.

        Args:
            sheet: The project, worked out.
            project: Its model.
            ledger: Takes note of problems.

        Raises:
            ProjectError: If the parts cannot be put together.
        """
        solids = self.solids.get(sheet.name)
        if solids is None or not solids.parts:
            return sheet
        from handouts_build.compute.solid.assembled import put_together
        from handouts_build.compute.solid.layouts import with_layouts

        sheet = with_layouts(sheet, solids.parts)
        together = put_together(sheet, project, solids, ledger=ledger, recall=self.recall)
        ledger.refuse()
        if together is None:
            return sheet
        self.together[sheet.name] = together
        order = list(Level)
        findings = sorted(
            (*sheet.findings, *together.findings), key=lambda finding: (order.index(finding.level), finding.place)
        )
        return replace(sheet, whole=together.whole, findings=tuple(findings))
