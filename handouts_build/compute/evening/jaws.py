"""Which jaws to pack: what the chuck closes on or opens into.

This module owns the search for the tenon or recess that a step is held by, and for the
jaws of the kit that take it. Whether a hold is sound is for the workpiece to say.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handouts_build.quantities import Printed, Quantity
from handouts_build.schema import Formula, Project, Shop, StepKeys
from handouts_build.sheet import Sheet, Step
from handouts_build.sheet.evening import PackItem

__all__ = ["held_on"]

_CLOSING = {"chuck", "wide jaws"}
_OPENING = {"chuck opening out"}


def held_on(sheet: Sheet, project: Project, shop: Shop, steps: Sequence[Step]) -> Iterator[PackItem]:
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
        found = {name: said for model in models for name, said in _features(model)}
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
            took = "open into" if opening else "close on"
            yield PackItem(f"Chuck jaws that {took} {printed}", ", ".join(_taking(shop, value, opening=opening)))


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
    known |= {one.name: (one.value, one.printed) for one in sheet.dimensions}
    return known.get(said)


def _taking(shop: Shop, value: Quantity, *, opening: bool) -> Iterator[str]:
    for jaws in shop.jaws:
        span = jaws.opens if opening else jaws.closes
        if span is not None and span.least <= value <= span.most:
            yield jaws.name
