"""What drying does to a part's wood at each step, by the trade's chapter of drying.

This module owns which working a drying step goes by, and from what moisture to what. The shares come from the
chapter's own laws, so that the solid and the working on the page cannot disagree. What the wood then becomes is for
the workpiece.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handouts_build import workpiece as kernel
from handouts_build.compute.step_facts import DRYING
from handouts_build.quantities import Quantity
from handouts_build.schema import PartKeys, WorkingKeys
from handouts_build.tables import lookup_wood
from handouts_build.trade import CHAPTERS
from handouts_build.trade.law import WordFault

__all__ = ["dryings"]

_CHAPTER = CHAPTERS["drying"]
_FROM, _TO = "moisture_from", "moisture_to"
_SHRINK = ("shrink_tangential", "shrink_radial")


def dryings(
    part: PartKeys, workings: Mapping[str, WorkingKeys], values: Mapping[str, Quantity], *, green: bool, solid: bool
) -> tuple[kernel.Drying | None, ...]:
    """What each step's drying does to the wood; None where it does not dry, or is as dry already.

    A step goes by a working of drying among its `drawings`, else by the first that is of the part's wood, else by the
    table of woods and the chapter's defaults. The wood dries from that working's moisture the first time, and from
    where it came to after that.

    Args:
        part: Its model.
        workings: Of the project.
        values: All that is settled, by full name.
        green: Whether the part is green to begin with.
        solid: Whether it is one piece of one wood.
    """
    made: list[kernel.Drying | None] = []
    now: Quantity | None = None
    dried = False
    for step in part.steps:
        if not green or DRYING.isdisjoint(step.work):
            made.append(None)
            continue
        known = _known(part, step.drawings, workings, values) if solid else None
        if known is None:
            made.append(None if dried else kernel.Drying())
        else:
            start = known[_FROM] if now is None else now
            wetter = float(start.magnitude) > float(known[_TO].magnitude)
            made.append(_drying(known, start) if wetter else None)
            now = known[_TO] if wetter else start
        dried = True
    return tuple(made)


def _known(
    part: PartKeys, drawings: Sequence[str], workings: Mapping[str, WorkingKeys], values: Mapping[str, Quantity]
) -> dict[str, Quantity] | None:
    """Moistures and shrinkages that a step's drying goes by; None where nothing tells them."""
    ours = [name for name, working in workings.items() if working.chapter == _CHAPTER.name]
    wood = lookup_wood(part.wood)
    alike = (
        name for name in ours if wood is not None and lookup_wood(getattr(workings[name], "wood", None) or "") == wood
    )
    name = next((name for name in drawings if name in ours), None) or next(alike, None)
    if name is not None:
        full = {key: values[f"{name}.{key}"] for key in (_FROM, _TO, *_SHRINK) if f"{name}.{key}" in values}
        return full if len(full) == 2 + len(_SHRINK) else None
    try:
        found = _CHAPTER.completed(_CHAPTER.words[0].look_up((part.wood,), {}).values)
    except WordFault:
        return None
    return found if found.keys() >= {_FROM, _TO, *_SHRINK} else None


def _drying(known: Mapping[str, Quantity], start: Quantity) -> kernel.Drying:
    """By how much the wood shrinks from one moisture to the other."""
    worked = _CHAPTER.work(**{key: known[key] for key in (_TO, *_SHRINK)}, **{_FROM: start})
    along, across = (float(worked[law].magnitude) / 100 for law in ("along_rings", "across_rings"))
    return kernel.Drying(along_rings=along, across_rings=across)
