"""What a part's solid is judged and weighed by.

This module owns the shop's limits as the workpiece takes them, and what the wood of a
part weighs at each stage.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handouts_build import workpiece as kernel
from handouts_build.compute.blanks import as_stock
from handouts_build.compute.step_facts import dries
from handouts_build.quantities import Quantity, count
from handouts_build.schema import PartKeys, ShopKeys
from handouts_build.sheet import Part
from handouts_build.trade import CHAPTERS
from handouts_build.trade.law import WordFault

__all__ = ["densities", "density_g_mm3", "shop_limits"]


def shop_limits(shop: ShopKeys) -> kernel.ShopLimits:
    """What the shop can hold, swing and drill, as the workpiece takes it."""

    def mm(value: Quantity | None) -> float | None:
        return None if value is None else kernel.in_mm(value)

    lathe = shop.lathe
    speeds = lathe.speeds if lathe is not None else None
    reach = mm(shop.bit_reach)
    return kernel.ShopLimits(
        swing_mm=mm(lathe.swing) if lathe is not None else None,
        between_centers_mm=mm(lathe.between) if lathe is not None else None,
        rpm=(float(speeds.least.magnitude), float(speeds.most.magnitude)) if speeds is not None else None,
        jaws=tuple(
            kernel.Jaws(
                name=jaws.name,
                grip_mm=(kernel.in_mm(jaws.closes.least), kernel.in_mm(jaws.closes.most)) if jaws.closes else None,
                open_mm=(kernel.in_mm(jaws.opens.least), kernel.in_mm(jaws.opens.most)) if jaws.opens else None,
                deep_mm=mm(jaws.deep),
                dovetail_deg=None if jaws.dovetail is None else kernel.in_deg(jaws.dovetail),
            )
            for jaws in shop.jaws
        ),
        drive_centers_mm=tuple(kernel.in_mm(diameter) for diameter in shop.drive_centers),
        bits=tuple(kernel.Bit(diameter_mm=kernel.in_mm(diameter), reach_mm=reach) for diameter in shop.bits)
        if reach is not None
        else (),
    )


def density_g_mm3(wood: str, conditions: Sequence[str]) -> float | None:
    """What wood weighs, by the trade's chapter: green, or at 12 percent moisture.

    Args:
        wood: The author's word for it.
        conditions: The author's words for its state, `green` among them or not.

    Returns:
        Grams in a cubic millimetre; None where no table knows it.
    """
    chapter = CHAPTERS["wood"]
    try:
        looked = chapter.words[0].look_up((wood,), {})
    except WordFault:
        return None
    known = chapter.work(**looked.values, moisture=count(12))
    found = known.get("green_density" if "green" in conditions else "density")
    return None if found is None else float(found.magnitude)


def _mean(part: Part, conditions: Sequence[str]) -> float | None:
    """What its wood weighs; of several glued up, by how much of each is in the blank."""
    stack, laminate = part.blank.stack, part.blank.laminate
    if laminate is not None:
        boards = [(float(b.thick.magnitude), density_g_mm3(b.wood, conditions)) for b in laminate.boards]
        if any(weight is None for _, weight in boards):
            return None
        return sum(thick * weight for thick, weight in boards if weight) / sum(thick for thick, _ in boards)
    if stack is None:
        return density_g_mm3(part.wood, conditions)
    courses = as_stock(part.blank, grain=part.grain)
    assert isinstance(courses, kernel.GluedStack)
    shares = [0.0] * len(stack.woods)
    for course in courses.courses:
        for wood in course.woods:
            shares[wood] += course.volume_mm3 / len(course.woods)
    each = [density_g_mm3(wood, conditions) for wood in stack.woods]
    known = [(share, weight) for share, weight in zip(shares, each, strict=True) if weight is not None]
    if len(known) < len(each):
        return None
    return sum(share * weight for share, weight in known) / sum(shares)


def densities(part: Part, model: PartKeys) -> Iterator[float | None]:
    """What the wood weighs at each stage: green until a step dries it.

    Args:
        part: The part, worked out.
        model: Its model.

    Returns:
        Grams in a cubic millimetre, the blank's first; None where no table knows it.
    """
    fresh, dry = _mean(part, model.condition), _mean(part, ())
    dried = False
    yield fresh
    for step in model.steps:
        dried = dried or dries(model, step)
        yield dry if dried else fresh
