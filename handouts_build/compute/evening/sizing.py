"""The size of what is packed: of a bit that is named without one, and of the centers.

This module owns where such a size comes from: the holes that a step drills, and what its hold says of the centers.
A drive center that the project gives no diameter is the kit's smallest, as it is for the workpiece that judges it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from handouts_build.formulas import FormulaFault, value_of
from handouts_build.language import in_a_row, tr, tr_later
from handouts_build.quantities import Quantity, print_exact
from handouts_build.schema import Formula, HoldKeys, ProjectKeys, ShopKeys, StepKeys
from handouts_build.sheet import Sheet, Step

__all__ = ["ToolSizes", "is_center"]

_UNSAID_BIT = tr_later("the project does not say which size")
_CENTERED = {"between centers", "off-axis centers"}
_CENTERS = {"drive center": tr_later("drive center {size}"), "live center": tr_later("live center {size}")}
"""Centers that no tool is named for, each with its size."""


def is_center(tools: str) -> bool:
    """Whether something, or one of several things, is a center that work is held by.

    Args:
        tools: Their names.
    """
    return bool(re.search(r"\bcenters?\b(?! (?:drill|finder|punch))", tools.casefold()))


class ToolSizes:
    """What sizes the tools of a project are called for in."""

    def __init__(self, sheet: Sheet, project: ProjectKeys, shop: ShopKeys) -> None:
        """Look at a project.

        Args:
            sheet: The project, worked out.
            project: Its model, for holds and cuts.
            shop: The kit, for its drive centers.
        """
        self._sheet, self._project, self._shop = sheet, project, shop
        self._values = {size.name: size.value for size in sheet.sizes}
        self._values |= {dimension.name: dimension.value for dimension in sheet.dimensions}
        self._printed = {size.name: str(size.printed) for size in sheet.sizes}
        self._printed |= {dimension.name: str(dimension.printed) for dimension in sheet.dimensions}

    def of_tools(self, steps: Sequence[Step], models: Mapping[int, StepKeys]) -> dict[str, str]:
        """Sizes of bits and centers whose names do not hold them, by the tool as the steps call it.

        Args:
            steps: Those that are turned.
            models: The model of each step, by its number.
        """
        found: dict[str, dict[str, None]] = {}
        for step in steps:
            model = models[step.number]
            for tool in step.tools:
                sizes = self._of_bit(tool, model) if _is_unsized_bit(tool) else self._of_center(tool, model.hold)
                found.setdefault(tool, {}).update(dict.fromkeys(sizes))
        phrases = {tool: in_a_row(sizes) for tool, sizes in found.items() if sizes}
        return {tool: tr(_UNSAID_BIT) for tool in found if _is_unsized_bit(tool)} | phrases

    def of_centers(self, holds: Sequence[HoldKeys]) -> str:
        """What a drive center and a live center must be, for holds that no tool is named for.

        Args:
            holds: Those of the steps that are turned.
        """
        sizes = in_a_row(
            dict.fromkeys(
                tr(says, size=size)
                for hold in holds
                for center, says in _CENTERS.items()
                for size in self._of_center(center, hold)
            )
        )
        return sizes or tr("the project does not say how wide the drive center is")

    def _of_bit(self, tool: str, model: StepKeys) -> Iterator[str]:
        """The holes that a step drills, or the one of them that the bit is named for."""
        holes = [(str(keys.text("name") or kind), keys) for kind, keys in (item.only for item in model.cut)]
        drilled = [(name, keys) for name, keys in holes if keys.kind.drills]  # type: ignore[attr-defined]
        named = [(name, keys) for name, keys in drilled if name.casefold() in tool.casefold()]
        for _, keys in named or drilled:
            yield from self._printed_of(keys.written("diameter"))

    def _of_center(self, tool: str, hold: HoldKeys | None) -> Iterator[str]:
        """What a center must be for a hold; nothing where the tool is no center, or nothing is said."""
        said = tool.casefold()
        if hold is None or not _CENTERED & set(hold.by) or not is_center(tool):
            return
        if pairs := hold.written("in"):
            holes = (
                {name for pair in pairs if isinstance(pair, list) for name in pair} if isinstance(pairs, list) else ()
            )
            pins = {size for hole in holes for size in self._of_hole(str(hole))}
            yield from (tr("its pin fits a hole of {size}", size=size) for size in sorted(pins))
        if re.search(r"\bdrive\b", said):
            sizes = list(self._printed_of(hold.written("drive")))
            if sizes:
                yield from (tr("{size} across", size=size) for size in sizes)
            elif self._shop.drive_centers and not pairs:
                yield tr(
                    "{size} across, the kit's smallest",
                    size=print_exact(min(self._shop.drive_centers), self._sheet.rule),
                )
        elif re.search(r"\blive\b", said):
            yield from (
                tr("with a pad or cone {size} across", size=size) for size in self._printed_of(hold.written("tail"))
            )

    def _of_hole(self, name: str) -> Iterator[str]:
        """The diameter of a hole by its name; those of a ring of holes are numbered."""
        numberless = re.sub(r" \d+$", "", name)
        for part in self._project.parts.values():
            for kind, keys in (item.only for step in part.steps for item in step.cut):
                if {name, numberless} & {keys.text("each"), keys.text("name"), kind}:
                    yield from self._printed_of(keys.written("diameter"))

    def _printed_of(self, written: object) -> Iterator[str]:
        """A length as it is, in both units; nothing where none is written."""
        if not isinstance(written, Formula):
            return
        if written.text in self._printed:
            yield self._printed[written.text]
            return
        try:
            value: Quantity = value_of(written.tree, self._values.__getitem__)
        except FormulaFault:
            # It rests on a chapter's own name, which is said where the step is.
            return
        yield str(print_exact(value, self._sheet.rule))


def _is_unsized_bit(tool: str) -> bool:
    """Whether something drills, and its name says no size."""
    said = tool.casefold()
    return bool(re.search(r"\b(?:bits?|drill)\b", said)) and not re.search(r"\d|hand|guide|center|chuck|press", said)
