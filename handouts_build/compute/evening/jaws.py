"""Which jaws to pack: what the chuck closes on or opens into.

This module owns the search for the tenon or recess that a step is held by, and for the
jaws of the kit that take it. Whether a hold is sound is for the workpiece to say.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set

from handouts_build.compute.blanks import shape_of
from handouts_build.language import in_a_row, tr
from handouts_build.quantities import Printed, Quantity
from handouts_build.schema import Formula, ProjectKeys, ShopKeys, StepKeys
from handouts_build.sheet import Part, Sheet, Step
from handouts_build.sheet.evening import PackItem

__all__ = ["held_on"]

_CLOSING = {"chuck", "wide jaws"}
_OPENING = {"chuck opening out"}


def held_on(sheet: Sheet, project: ProjectKeys, shop: ShopKeys, steps: Sequence[Step]) -> Iterator[PackItem]:
    """An entry for each diameter that jaws hold, with the jaws of the kit that take it.

    Args:
        sheet: The project.
        project: Its model, for holds and cuts.
        shop: The kit.
        steps: Those that are turned there.
    """
    numbers = {step.number for step in steps}
    for part in sheet.parts:
        models = project.parts[part.name].steps
        found = dict(_turned(project, part.name)) | {name: said for model in models for name, said in _features(model)}
        yield from _on_the_square(part, models, shop, numbers)
        for step, model in zip(part.steps, models, strict=True):
            hold = model.hold
            on = hold.text("on") if hold is not None else None
            if step.number not in numbers or hold is None or hold.text("jaws") or on is None or on not in found:
                continue
            known = _known(sheet, found[on])
            if known is None or not {*_CLOSING, *_OPENING} & set(hold.by):
                continue
            value, printed = known
            opening = bool(_OPENING & set(hold.by))
            what = (
                tr("Chuck jaws that open into {size}", size=printed)
                if opening
                else tr("Chuck jaws that close on {size}", size=printed)
            )
            yield PackItem(what, in_a_row(_taking(shop, value, opening=opening)))


def _turned(project: ProjectKeys, part: str) -> Iterator[tuple[str, str]]:
    """The tenons and the like along a part's profiles, by what the author calls them, each with its diameter."""
    for profile in project.profiles.values():
        if profile.part not in (None, part):
            continue
        for element in profile.along:
            for kind in type(element).model_fields:
                said = getattr(element, kind)
                diameter = getattr(said, "diameter", None)
                if said is not None and diameter is not None and getattr(said, "says", None):
                    yield said.says, diameter.text


def _on_the_square(part: Part, models: Sequence[StepKeys], shop: ShopKeys, numbers: Set[int]) -> Iterator[PackItem]:
    """The jaws that grip a square blank before it was turned round: a square lies in them by its flats."""
    shape = shape_of(part.blank)
    if not shape.is_square:
        return
    side = next(((value, printed) for name, value, printed in part.blank.sides if name in shape.section), None)
    for step, model in zip(part.steps, models, strict=True):
        if model.hold is None or not set(model.hold.by) & {*_CLOSING, "between centers"}:
            continue
        grips = bool(_CLOSING & set(model.hold.by)) and not model.hold.text("on") and not model.hold.text("jaws")
        if not grips:
            # From here on it is round.
            return
        if step.number in numbers and side is not None:
            value, printed = side
            yield PackItem(
                tr("Chuck jaws that close on a square of {size}", size=printed), in_a_row(_taking(shop, value))
            )
            return


def _features(model: StepKeys) -> Iterator[tuple[str, str]]:
    """The tenons and recesses that a step cuts, by name, each with its diameter as the author wrote it."""
    for item in model.cut:
        kind, keys = item.only
        diameter = keys.written("diameter")
        if kind in ("tenon", "recess") and isinstance(diameter, Formula):
            yield keys.text("name") or kind, diameter.text


def _known(sheet: Sheet, said: str) -> tuple[Quantity, Printed] | None:
    """The value of a name on the sheet; None for a longer formula."""
    known = {size.name: (size.value, size.printed) for size in sheet.sizes}
    known |= {dimension.name: (dimension.value, dimension.printed) for dimension in sheet.dimensions}
    return known.get(said)


def _taking(shop: ShopKeys, value: Quantity, *, opening: bool = False) -> Iterator[str]:
    for jaws in shop.jaws:
        span = jaws.opens if opening else jaws.closes
        if span is not None and span.least <= value <= span.most:
            yield jaws.name
