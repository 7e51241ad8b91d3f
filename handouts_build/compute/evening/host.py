"""The host's lathe against the piece and the kit.

This module owns what will not go on the lathe there, and what thread, taper and
speed ask for. Lathes are judged by what their manuals say of them: swing and the
distance between centers; what the rest and a chuck take is said as a caution.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handouts_build.compute.evening.stocking import section_of
from handouts_build.compute.fittings import CHUCKED, nearest_smaller, room_to_drill
from handouts_build.language import in_a_row, tr, tr_later
from handouts_build.problems import Place
from handouts_build.quantities import Err, Rule, exact, print_quantity
from handouts_build.schema import DemonstrationKeys, ProjectKeys, ShopKeys
from handouts_build.sheet import Finding, Level, Part, Sheet
from handouts_build.sheet.evening import PackItem

__all__ = ["adapters", "host_findings", "told_lathe"]

_ABOUT = tr_later("The host's lathe")


def told_lathe(asked: DemonstrationKeys, rule: Rule) -> Iterator[tuple[str, str]]:
    """What is known of the host's lathe: name and value.

    Args:
        asked: The demonstration.
        rule: How lengths are printed.
    """
    lathe = asked.lathe
    if lathe is None:
        return
    for name, value in ((tr("Swing"), lathe.swing), (tr("Between centers"), lathe.between)):
        if value is not None:
            yield name, str(print_quantity(value, rule, err=Err.UNDER))
    if lathe.thread:
        yield tr("Spindle thread"), lathe.thread
    if lathe.taper:
        yield tr("Taper"), lathe.taper
    if lathe.speeds:
        yield (
            tr("Speeds"),
            tr(
                "{least} to {most}",
                least=exact(lathe.speeds.least, rule.lead),
                most=exact(lathe.speeds.most, rule.lead),
            ),
        )


def host_findings(
    sheet: Sheet, project: ProjectKeys, asked: DemonstrationKeys, shop: ShopKeys, parts: Sequence[Part], place: Place
) -> Iterator[Finding]:
    """What will not do, and what wants care.

    Args:
        sheet: The project.
        project: Its model, for speeds and holds.
        asked: The demonstration.
        shop: The kit.
        parts: Those that are turned there.
        place: Where the file speaks of the lathe.
    """
    lathe = asked.lathe
    missing = [
        word
        for word, value in (
            (tr("swing"), lathe and lathe.swing),
            (tr("distance between centers"), lathe and lathe.between),
            (tr("spindle thread"), lathe and lathe.thread),
            (tr("taper"), lathe and lathe.taper),
            (tr("speeds"), lathe and lathe.speeds),
        )
        if not value
    ]
    if missing and asked.how != "by video":
        said = in_a_row(missing)
        yield Finding(
            Level.NOTE, tr(_ABOUT), tr("not said of the lathe there: {said}", said=said), tr("ask the host"), place
        )
    if lathe is None:
        return
    for part in parts:
        yield from _too_large(sheet, project, part, lathe, shop, place)
        yield from _too_fast(project, part, lathe, sheet.rule, place)
        for step, keys in zip(part.steps, project.parts[part.name].steps, strict=True):
            about = tr("The host's lathe, {step}", step=step.name)
            yield from room_to_drill(step, keys, lathe, shop, about=about, place=place, rule=sheet.rule, there=True)


def _too_large(
    sheet: Sheet, project: ProjectKeys, part: Part, lathe: object, shop: ShopKeys, place: Place
) -> Iterator[Finding]:
    swing, between = getattr(lathe, "swing", None), getattr(lathe, "between", None)
    section, long = section_of(part.blank)
    across = section.across
    if swing is not None and across >= swing:
        yield Finding(
            Level.STOP,
            tr(_ABOUT),
            tr(
                "the blank of {title} is {across} across, and the lathe there swings {swing}",
                title=part.title,
                across=_told(across, sheet.rule),
                swing=_told(swing, sheet.rule, err=Err.UNDER),
            ),
            tr("bring it rounded, choose a smaller size, or ask for another lathe"),
            place,
        )
    elif swing is not None and across.magnitude >= 0.8 * swing.magnitude:
        yield Finding(
            Level.MIND,
            tr(_ABOUT),
            tr(
                "the blank of {title} is {across} across in a swing of {swing}: the base of the tool "
                "rest may not pass under it",
                title=part.title,
                across=_told(across, sheet.rule),
                swing=_told(swing, sheet.rule, err=Err.UNDER),
            ),
            tr("ask what clears the tool rest's base"),
            place,
        )
    if between is None:
        return
    holds = {word for step in project.parts[part.name].steps if step.hold for word in step.hold.by}
    needed = long
    there = _told(between, sheet.rule, err=Err.UNDER)
    sentence = tr(
        "the blank of {title} is {long} long, and there are {between} between centers there",
        title=part.title, long=_told(long, sheet.rule), between=there,
    )  # fmt: skip
    if holds & CHUCKED and shop.chuck_long is not None:
        needed = long + shop.chuck_long
        sentence = tr(
            "the blank of {title} is {long} long, with the chuck {needed}, and there are {between} between centers "
            "there",
            title=part.title, long=_told(long, sheet.rule), needed=_told(needed, sheet.rule), between=there,
        )  # fmt: skip
    if needed > between:
        yield Finding(
            Level.STOP,
            tr(_ABOUT),
            sentence,
            tr("choose a shorter size, bring it cut to length, or ask for another lathe"),
            place,
        )


def _too_fast(project: ProjectKeys, part: Part, lathe: object, rule: Rule, place: Place) -> Iterator[Finding]:
    speeds = getattr(lathe, "speeds", None)
    if speeds is None:
        return
    for step in project.parts[part.name].steps:
        if step.speed is not None and not speeds.least <= step.speed <= speeds.most:
            too_fast = step.speed > speeds.most
            said = {
                "name": step.name,
                "speed": exact(step.speed, rule.lead),
                "limit": exact(speeds.most if too_fast else speeds.least, rule.lead),
            }
            yield Finding(
                Level.MIND,
                tr(_ABOUT),
                tr("'{name}' asks for {speed}, faster than the lathe there can run ({limit})", **said)
                if too_fast
                else tr("'{name}' asks for {speed}, slower than the lathe there can run ({limit})", **said),
                tr("plan it at a speed that lathe has"),
                place,
            )


def _told(value: object, rule: Rule, *, err: Err = Err.OVER) -> str:
    """What is needed is told over, and what there is under."""
    return str(print_quantity(value, rule, err=err))  # type: ignore[arg-type]


def adapters(asked: DemonstrationKeys, shop: ShopKeys, place: Place) -> tuple[list[PackItem], list[Finding]]:
    """What must be packed so that chuck and centers go on the lathe there.

    Args:
        asked: The demonstration, for that lathe.
        shop: The kit, for its threads and tapers.
        place: Where the demonstration's file speaks of the lathe.

    Returns:
        The adapters to pack, and what there is to mind.
    """
    items: list[PackItem] = []
    found: list[Finding] = []
    lathe, own = asked.lathe, shop.lathe
    thread = lathe.thread if lathe else None
    if thread:
        ours = own.thread if own else None
        if thread in shop.threads and thread != ours:
            items.append(
                PackItem(
                    tr("Chuck insert or adapter for a spindle of {thread}", thread=thread),
                    tr("own lathe: {own}", own=ours) if ours else tr("own lathe: not said"),
                )
            )
        elif thread != ours and thread not in shop.threads:
            mine = ours or tr("the chuck's own thread")
            items.append(
                PackItem(
                    tr("Spindle adapter, {thread} to {mine}", thread=thread, mine=mine),
                    tr("not in the kit: borrow or buy it"),
                )
            )
            found.append(
                Finding(
                    Level.MIND,
                    tr(_ABOUT),
                    tr("the spindle there is {thread}, and nothing in the kit goes on it", thread=thread),
                    tr("borrow the host's chuck, or get an adapter; try it before the day"),
                    place,
                )
            )
    taper = lathe.taper if lathe else None
    if taper:
        ours = own.taper if own else None
        have = {*shop.tapers, *((ours,) if ours else ())}
        smaller = nearest_smaller(taper, have)
        if taper in have:
            if taper != ours:
                items.append(
                    PackItem(
                        tr("Centers and drill chuck on {taper} arbors", taper=taper),
                        tr("own lathe: {own}", own=ours) if ours else tr("own lathe: not said"),
                    )
                )
        elif smaller is not None:
            items.append(
                PackItem(
                    tr("Taper sleeves, {smaller} to {taper}", smaller=smaller, taper=taper),
                    tr("one for each center and the drill chuck"),
                )
            )
            found.append(
                Finding(
                    Level.NOTE,
                    tr(_ABOUT),
                    tr(
                        "the taper there is {taper}, and the kit's thickest that goes in is {smaller}",
                        taper=taper,
                        smaller=smaller,
                    ),
                    tr(
                        "bring a sleeve, {smaller} to {taper}, for each center and for the drill chuck",
                        smaller=smaller,
                        taper=taper,
                    ),
                    place,
                )
            )
        else:
            items.append(
                PackItem(
                    tr("Centers and drill chuck on {taper} arbors", taper=taper), tr("not in the kit: borrow them")
                )
            )
            found.append(
                Finding(
                    Level.MIND,
                    tr(_ABOUT),
                    tr("the taper there is {taper}, and no arbor in the kit is as small", taper=taper)
                    if have
                    else tr("the taper there is {taper}, and the shop file says no taper", taper=taper),
                    tr("borrow the host's centers, or get some with that taper"),
                    place,
                )
            )
    return items, found
