"""Whether the kit goes on a lathe: thread, tapers, and room to drill.

This module owns these questions for the maker's own lathe and for a host's alike. That
an arbor goes into a larger socket with a sleeve, and never into a smaller one, follows
from the tapers' published diameters. Room to drill is that for wood, chuck, bit and drill
chuck in a row; what the two centers stand out by is not counted, which is on the safe
side. What to pack for a host's lathe is in `host`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from handouts_build.compute.step_facts import operations_of
from handouts_build.language import listed, tr, tr_later
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
_ABOUT = tr_later("The shop's lathe")
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
            yield Finding(Level.MIND, tr(_ABOUT), *found, document.place(key), private=True)


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
        tr("the spindle is {there}, and the chuck goes on {kit} only", there=lathe.thread, kit=_either(shop.threads)),
        tr(
            "get a chuck insert or a spindle adapter for {there}, and name the thread under '{key}'",
            there=lathe.thread, key="threads",
        ),
    )  # fmt: skip


def _taper(lathe: LatheKeys, shop: ShopKeys) -> tuple[str, str] | None:
    if lathe.taper is None or not shop.tapers or lathe.taper in shop.tapers:
        return None
    kit = _either(shop.tapers)
    smaller = nearest_smaller(lathe.taper, shop.tapers)
    if smaller is not None:
        return (
            tr("the lathe takes {there}, and the centers and the drill chuck are {kit}", there=lathe.taper, kit=kit),
            tr(
                "get a taper sleeve, {smaller} to {there}, for each, and name {there} under '{key}'",
                smaller=smaller, there=lathe.taper, key="tapers",
            ),
        )  # fmt: skip
    return (
        tr(
            "the lathe takes {there}, and the centers and the drill chuck are {kit}: too thick to go in",
            there=lathe.taper, kit=kit,
        ),
        tr(
            "get centers and a drill chuck with {there} arbors; there is no sleeve from thick to thin",
            there=lathe.taper,
        ),
    )  # fmt: skip


def _either(names: Sequence[str]) -> str:
    """One of several, as a sentence lists them."""
    text, *others = names
    for other in others:
        text = tr("{names} or {last}", names=text, last=other)
    return text


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
            about = tr("Step {number}, {name}", number=step.number, name=step.name)
            keys = project.parts[part.name].steps[index]
            yield from room_to_drill(step, keys, shop.lathe, shop, about=about, place=place, rule=rule)


def room_to_drill(
    step: Step,
    keys: StepKeys,
    lathe: LatheKeys | None,
    shop: ShopKeys,
    *,
    about: str,
    place: Place,
    rule: Rule,
    there: bool = False,
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
        there: Whether the lathe is a host's, and not the shop's own.
    """
    drilled = step.stage.drilled if step.stage is not None else None
    if lathe is None or drilled is None:
        return
    wood, deep = drilled

    def over(value: Quantity) -> str:
        return str(print_quantity(value, rule, err=Err.OVER))

    def under(value: Quantity) -> str:
        printed = print_quantity(value, rule, err=Err.UNDER)
        return tr("{size} there", size=printed) if there else str(printed)

    bit = shop.bit_reach if shop.bit_reach is not None and shop.bit_reach >= deep else deep
    row = [
        (wood, tr("{long} of wood", long=over(wood))),
        (bit, tr("a bit that reaches {deep}", deep=over(bit))),
    ]
    if keys.hold is not None and not CHUCKED.isdisjoint(keys.hold.by) and shop.chuck_long is not None:
        row.insert(0, (shop.chuck_long, tr("the chuck of {long}", long=over(shop.chuck_long))))
    if shop.drill_chuck_long is not None:
        row.append((shop.drill_chuck_long, tr("the drill chuck of {long}", long=over(shop.drill_chuck_long))))
    needed = sum((value for value, _ in row[1:]), row[0][0])
    if lathe.between is not None and needed.magnitude > lathe.between.magnitude + _HAIR_MM:
        lengths = listed(said for _, said in row)
        yield Finding(
            Level.MIND,
            about,
            tr(
                "{told} make {needed}, and there are {between} between centers",
                told=lengths,
                needed=over(needed),
                between=under(lathe.between),
            ),
            tr("drill before the blank is put in the chuck, use a shorter bit or a shorter blank, or a longer lathe"),
            place,
        )
    if lathe.quill is not None and deep.magnitude > lathe.quill.magnitude + _HAIR_MM:
        yield Finding(
            Level.NOTE,
            about,
            tr("the hole is {deep} deep, and the quill travels {far}", deep=over(deep), far=under(lathe.quill)),
            tr("wind the quill back, stop the lathe, move the tailstock up and lock it, and go on"),
            place,
        )
