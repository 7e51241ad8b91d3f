"""Whether the kit goes on a lathe: thread, tapers, and room to drill.

This module owns these questions for the maker's own lathe and for a host's alike. That
an arbor goes into a larger socket with a sleeve, and never into a smaller one, follows
from the tapers' published diameters. Room to drill is that for wood, chuck, bit and drill
chuck in a row; what the two centers stand out by is not counted, which is on the safe
side. What to pack for a host's lathe is in `host`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from handouts_build.compute.step_facts import operations_of
from handouts_build.problems import Place
from handouts_build.quantities import Err, Quantity, Rule, print_quantity
from handouts_build.schema import Document, HoldKeys, ProjectKeys, ShopKeys, StepKeys
from handouts_build.schema.shop import LatheKeys
from handouts_build.sheet import Finding, Level, Part, Step
from handouts_build.tables.lathes import tapers

__all__ = ["CHUCKED", "kit_fits", "nearest_smaller", "room_to_drill", "room_to_drill_at_home"]

CHUCKED = frozenset({"chuck", "chuck opening out", "wide jaws", "screw chuck", "collet", "drill chuck"})
"""Holds by a chuck on the headstock's spindle."""
_THREADED = (CHUCKED | {"faceplate", "glue block"}) - {"collet", "drill chuck"}
"""What is screwed on to the spindle."""
_ABOUT = "The shop's lathe"
_HAIR_MM = 0.05
"""Less than this too little is the solid's own roughness."""


def nearest_smaller(taper: str, have: Collection[str]) -> str | None:
    """The thickest of the kit's tapers that a sleeve brings to a larger one; None where there is none.

    Args:
        taper: The name of the larger one, such as MT2.
        have: Names of those in the kit.
    """
    known = tapers()
    smaller = [name for name in have if known[name].number < known[taper].number]
    return max(smaller, key=lambda name: known[name].number) if smaller else None


def kit_fits(project: ProjectKeys, shop: ShopKeys, document: Document) -> Iterator[Finding]:
    """Whether chucks, plates, centers and the drill chuck go on the shop's own lathe, each told at its first step.

    Args:
        project: Its holds and work say what is mounted.
        shop: The kit, and the lathe; without one nothing is asked.
        document: For places.
    """
    lathe = shop.lathe
    if lathe is None:
        return
    for needs, found in ((_screwed_on, _thread(lathe, shop)), (_pushed_in, _taper(lathe, shop))):
        if found is None:
            continue
        key = next(
            (
                ("parts", name, "steps", index, "hold")
                for name, part in project.parts.items()
                for index, step in enumerate(part.steps)
                if step.hold is not None and needs(step.hold, operations_of(part, step))
            ),
            None,
        )
        if key is not None:
            yield Finding(Level.MIND, _ABOUT, *found, document.place(key), private=True)


def _screwed_on(hold: HoldKeys, work: Collection[str]) -> bool:
    del work
    return not _THREADED.isdisjoint(hold.by)


def _pushed_in(hold: HoldKeys, work: Collection[str]) -> bool:
    """A center at either end, or a drill chuck in the tailstock."""
    centers = {"between centers", "friction drive", "off-axis centers", "mandrel", "drill chuck"}
    return bool(hold.tailstock) or not centers.isdisjoint(hold.by) or "drilling" in work


def _thread(lathe: LatheKeys, shop: ShopKeys) -> tuple[str, str] | None:
    if lathe.thread is None or not shop.threads or lathe.thread in shop.threads:
        return None
    return (
        f"the spindle is {lathe.thread}, and the chuck goes on {' or '.join(shop.threads)} only",
        f"get a chuck insert or a spindle adapter for {lathe.thread}, and name the thread under 'threads'",
    )


def _taper(lathe: LatheKeys, shop: ShopKeys) -> tuple[str, str] | None:
    if lathe.taper is None or not shop.tapers or lathe.taper in shop.tapers:
        return None
    kit = " or ".join(shop.tapers)
    smaller = nearest_smaller(lathe.taper, shop.tapers)
    if smaller is not None:
        return (
            f"the lathe takes {lathe.taper}, and the centers and the drill chuck are {kit}",
            f"get a taper sleeve, {smaller} to {lathe.taper}, for each, and name {lathe.taper} under 'tapers'",
        )
    return (
        f"the lathe takes {lathe.taper}, and the centers and the drill chuck are {kit}: too thick to go in",
        f"get centers and a drill chuck with {lathe.taper} arbors; there is no sleeve from thick to thin",
    )


def room_to_drill_at_home(
    project: ProjectKeys, parts: Collection[Part], shop: ShopKeys, document: Document, rule: Rule
) -> Iterator[Finding]:
    """The same as `room_to_drill` for the shop's own lathe, at each step's place.

    Args:
        project: Its model.
        parts: Worked out, with their stages.
        shop: The kit and the lathe.
        document: For places.
        rule: For printing.
    """
    for part in parts:
        for index, step in enumerate(part.steps):
            place = document.place(("parts", part.name, "steps", index))
            about = f"Step {step.number}, {step.name}"
            keys = project.parts[part.name].steps[index]
            yield from room_to_drill(step, keys, shop.lathe, shop, about=about, place=place, rule=rule, there="")


def room_to_drill(
    step: Step,
    keys: StepKeys,
    lathe: LatheKeys | None,
    shop: ShopKeys,
    *,
    about: str,
    place: Place,
    rule: Rule,
    there: str,
) -> Iterator[Finding]:
    """Whether wood, bit and drill chuck have room in front of the tailstock, and the quill travels far enough.

    Args:
        step: Worked out; its stage tells what is drilled.
        keys: Its model.
        lathe: The lathe's model, if one is told of.
        shop: The kit.
        about: What a finding is about.
        place: Where.
        rule: For printing.
        there: Follows what the lathe has: `there`, or nothing at home.
    """
    drilled = step.stage.drilled if step.stage is not None else None
    if lathe is None or drilled is None:
        return
    wood, deep = drilled

    def over(value: Quantity) -> str:
        return str(print_quantity(value, rule, err=Err.OVER))

    def under(value: Quantity) -> str:
        return str(print_quantity(value, rule, err=Err.UNDER)) + there

    bit = shop.bit_reach if shop.bit_reach is not None and shop.bit_reach >= deep else deep
    row = [(wood, f"{over(wood)} of wood"), (bit, f"a bit that reaches {over(bit)}")]
    if keys.hold is not None and not CHUCKED.isdisjoint(keys.hold.by) and shop.chuck_long is not None:
        row.insert(0, (shop.chuck_long, f"the chuck of {over(shop.chuck_long)}"))
    if shop.drill_chuck_long is not None:
        row.append((shop.drill_chuck_long, f"the drill chuck of {over(shop.drill_chuck_long)}"))
    needed = sum((value for value, _ in row[1:]), row[0][0])
    if lathe.between is not None and needed.magnitude > lathe.between.magnitude + _HAIR_MM:
        told = ", ".join(said for _, said in row[:-1]) + f" and {row[-1][1]}"
        yield Finding(
            Level.MIND,
            about,
            f"{told} make {over(needed)}, and there are {under(lathe.between)} between centers",
            "drill before the blank is put in the chuck, use a shorter bit or a shorter blank, or a longer lathe",
            place,
        )
    if lathe.quill is not None and deep.magnitude > lathe.quill.magnitude + _HAIR_MM:
        yield Finding(
            Level.NOTE,
            about,
            f"the hole is {over(deep)} deep, and the quill travels {under(lathe.quill)}",
            "wind the quill back, stop the lathe, move the tailstock up and lock it, and go on",
            place,
        )
