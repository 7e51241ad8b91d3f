"""What must hold between the pieces of a project once its numbers are known.

This module owns the checks that no chapter can make alone: profiles against their
blanks, bits against the shop, woods against the table.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from handouts_build.compute.blanks import high_mm, high_tree, round_mm, round_tree, wood_places
from handouts_build.compute.names import Ledger
from handouts_build.compute.step_facts import tools_of
from handouts_build.compute.working import filled
from handouts_build.formulas import to_json
from handouts_build.language import listed, tr, tr_count, tr_later
from handouts_build.problems import near_miss
from handouts_build.quantities import UNITS, Quantity, Rule, exact, millimetres, print_quantity
from handouts_build.schema import Document, Key, PartKeys, ProjectKeys, ShopKeys
from handouts_build.sheet import Blank, Condition, Finding, Group, Level, Part
from handouts_build.tables.finishes import lookup_finish
from handouts_build.tables.woods import lookup_wood, suggest_wood
from handouts_build.trade.law import Demand
from handouts_build.workpiece import Bore, in_mm

if TYPE_CHECKING:
    from handouts_build.compute.solid.plan import PartPlan

__all__ = [
    "bits_are_one",
    "bits_are_there",
    "filed_under_something",
    "held_by_more_than_a_hand",
    "hollowed",
    "kept_to_its_own_cautions",
    "profiles_fit",
    "rule_of",
    "slender_because",
    "steps_are_told_apart",
    "woods_known",
]

_MARKS = {"in": {1, 2, 4, 8, 16, 32, 64, 128, 10, 20, 50, 100}, "mm": {1, 2, 5, 10, 20, 50, 100}}
_MARKS_SAID = {"in": "write 1/16 in, 1/32 in or 1/64 in", "mm": "write 1 mm, 0.5 mm or 0.1 mm"}
_SAME_BIT_MM = 0.01


def rule_of(project: ProjectKeys, ledger: Ledger) -> Rule:
    """The marks on the rules at the bench.

    Args:
        project: Says them, or leaves them at 1/32 in and 0.5 mm.
        ledger: Takes note of marks that no rule has.
    """
    inch = _mark(project.rule, Rule.inch, "in", ("rule",), ledger)
    mm = _mark(project.metric_rule, Rule.millimetre, "mm", ("metric rule",), ledger)
    return Rule(inch, mm, "mm" if project.metric else "in")


def _mark(said: Quantity | None, default: Fraction, unit: str, key: Key, ledger: Ledger) -> Fraction:
    if said is None:
        return default
    exactly = Fraction(float(said.m_as(UNITS[unit])))
    mark = exactly.limit_denominator(128)
    if mark.denominator not in _MARKS[unit] or mark > 10 or abs(mark - exactly) > exactly / 10**6:
        ledger.note(
            key,
            f"no {'inch' if unit == 'in' else 'millimetre'} rule is marked every {exact(said, unit)}",
            _MARKS_SAID[unit],
        )
        return default
    return mark


_FITS = {
    side: Demand("needs <= has", "stop", message, tr_later("choose a larger blank or draw the profile in"))
    for side, message in (
        ("thick", tr_later("the profile is {needs} thick and its blank only {has}")),
        ("long", tr_later("the profile is {needs} long and its blank only {has}")),
    )
}


def profiles_fit(
    groups: tuple[Group, ...],
    parts: tuple[Part, ...],
    rule: Rule,
    ledger: Ledger,
    *,
    named: Collection[str],
    natural: Collection[str],
) -> tuple[tuple[Group, ...], list[Finding]]:
    """A profile must fit in the blank it is turned from.

    Args:
        groups: Of the sheet; those with a shape and a part are asked.
        parts: Of the sheet.
        rule: For printing.
        ledger: Takes note of a part that is not there.
        named: Every part of the project, those too whose blank could not be worked out.
        natural: Those that keep bark on their edge.

    Returns:
        The groups, with these conditions in those that are asked, and what is found.
    """
    blanks = {part.name: part.blank for part in parts}
    made, found = [], []
    for group in groups:
        if group.follows is not None and group.part in blanks:
            fits = []
            for name, side, has, tree in _asked(blanks[group.part], natural=group.part in natural):
                needs = group.values[name]
                said = {"needs": group.printed[name], "has": print_quantity(has, rule)}
                full = {"needs": f"{group.name}.{name}", "has": f"{group.name}.blank_{side}"}
                demand = _FITS[side]
                message, remedy = tr(demand.message), tr(demand.remedy)
                text = filled(message, {short: f"{{{name}}}" for short, name in full.items()})
                condition = Condition(to_json(demand.tree, full.__getitem__), demand.level, text, remedy)
                fits.append((full["has"], has, tree, condition))
                if not demand.met({"needs": needs, "has": has}):
                    place = ledger.document.place(("profiles", group.name))
                    found.append(Finding(Level.STOP, group.title, filled(message, said), remedy, place, judged=True))
            group = replace(group, follows=replace(group.follows, fits=tuple(fits)))
        elif group.follows is not None and group.part and group.part not in named:
            hint = near_miss(group.part, named)
            ledger.note(("profiles", group.name, "part"), f"'{group.part}' is not a part", hint)
        made.append(group)
    return tuple(made), found


def hollowed(project: ProjectKeys) -> frozenset[str]:
    """The profiles that are hollowed: outlines of room, not of wood."""
    cuts = (item.only for part in project.parts.values() for step in part.steps for item in step.cut)
    return frozenset(shape for kind, keys in cuts if kind == "hollow" and (shape := keys.text("shape")))


def slender_because(project: ProjectKeys, profile: str) -> str:
    """Why a step that turns a profile accepts that the part is slender; empty where none does.

    Args:
        project: Its steps.
        profile: The profile's name.
    """
    steps = (step for part in project.parts.values() for step in part.steps if "slender" in step.accept)
    turned = (step for step in steps for item in step.cut if getattr(item.only[1], "shape", None) == profile)
    return next((step.accept["slender"] for step in turned), "")


def _asked(blank: Blank, *, natural: bool) -> Iterator[tuple[str, str, Quantity, list[Any]]]:
    """What of a profile is held to what of a blank: name and word, the blank's value and formula."""
    yield "widest", "thick", millimetres(round_mm(blank, natural=natural)), round_tree(blank, natural=natural)
    yield "length", "long", millimetres(high_mm(blank)), high_tree(blank)


def steps_are_told_apart(project: ProjectKeys, ledger: Ledger) -> None:
    """No two steps of a part share a name: runs, demonstrations and the stopwatch call them by it.

    Args:
        project: Its steps are looked at.
        ledger: Takes note of every name that is there already.
    """
    for name, part in project.parts.items():
        seen: set[str] = set()
        for index, step in enumerate(part.steps):
            if step.name.casefold() in seen:
                ledger.note(
                    ("parts", name, "steps", index, "name"),
                    f"this part already has a step called '{step.name}'",
                    "give one of the two another name: a demonstration and its runs call steps by their names",
                )
            seen.add(step.name.casefold())


def bits_are_there(groups: tuple[Group, ...], shop: ShopKeys, document: Document) -> Iterator[Finding]:
    """A bit that the shop does not list is worth a note; a shop that lists none is not asked.

    Args:
        groups: Those that name a bit.
        shop: The kit.
        document: For places.
    """
    for group in groups:
        bit = group.values.get("bit")
        if not shop.bits or bit is None:
            continue
        if not any(abs(bit.magnitude - have.magnitude) < _SAME_BIT_MM for have in shop.bits):
            yield Finding(
                Level.NOTE,
                group.title,
                tr("the shop file lists no bit of {bit}", bit=group.printed["bit"]),
                tr("add it to the shop file, or choose a bit that is there"),
                document.place(("workings", group.name, "bit")),
                private=True,
            )


def bits_are_one(
    groups: Sequence[Group], plans: Iterable[PartPlan], rule: Rule, document: Document
) -> Iterator[Finding]:
    """A bore that names its bit, and a drilling chapter of the same hole that reckons with the point of another.

    Args:
        groups: Those of a drilling chapter are looked at.
        plans: The parts' steps, in plain millimetres.
        rule: For printing.
        document: For places.
    """
    # A point that was measured is that of the author's own bit.
    measured = {group.name for group in groups for given in group.givens if given.name == "point_long" and given.key}
    drilled = [group for group in groups if group.chapter == "drilling" and group.name not in measured]
    for key, bore in _bores(plans):
        if bore.bit_type is None or bore.deep_mm is None:
            continue
        for group in drilled:
            bit, depth, point = (in_mm(group.values[name]) for name in ("bit", "depth", "point_long"))
            one_hole = max(abs(bit - bore.diameter_mm), abs(depth - bore.deep_mm)) < _SAME_BIT_MM
            if not one_hole or abs(point - bore.point_mm) < _SAME_BIT_MM:
                continue
            printed, own = (print_quantity(millimetres(mm), rule) for mm in (point, bore.point_mm))
            yield Finding(
                Level.MIND,
                group.title,
                tr(
                    "the depth on the quill reckons with a point of {told}, and that of the {bit} which bores this "
                    "hole is {own}",
                    told=printed,
                    bit=bore.bit_type.value,
                    own=own,
                ),
                tr("write {line} in the chapter too", line=f"bit type: {bore.bit_type.value}"),
                document.place((*key, "bore", "bit type")),
            )


def _bores(plans: Iterable[PartPlan]) -> Iterator[tuple[Key, Bore]]:
    """Every bore, with the place of its cut."""
    for plan in plans:
        for key, step in zip(plan.keys, plan.steps, strict=True):
            yield from (((*key, "cut", place), cut) for place, cut in enumerate(step.cuts) if isinstance(cut, Bore))


def woods_known(project: ProjectKeys, document: Document) -> Iterator[Finding]:
    """A wood that is not in the table is told at its line, with what follows from that and the likely names.

    So is one whose weight nobody published, where steps would tell it.

    Args:
        project: Its parts.
        document: For places.
    """
    for name, part in project.parts.items():
        for word, key in wood_places(name, part, project):
            wood, place = lookup_wood(word), document.place(key)
            if wood is None:
                yield Finding(
                    Level.MIND,
                    tr(_WOOD),
                    tr(
                        "'{wood}' is not a wood known here: no weight, no movement and no reported reaction is looked "
                        "up",
                        wood=word,
                    ),
                    tr("find out which wood it is, and what has been reported of its dust"),
                    place,
                    advice=suggest_wood(word) or "the woods known here stand on the page 'Woods'",
                )
            elif any(step.cut for step in part.steps) and not _weighed(word, part):
                message = (
                    tr("no weight of green {wood} is published here, so that none is told of it", wood=wood.spoken)
                    if "green" in part.condition
                    else tr("no weight of {wood} is published here, so that none is told of it", wood=wood.spoken)
                )
                yield Finding(Level.NOTE, tr(_WOOD), message, tr("weigh the blank if its weight matters"), place)


def filed_under_something(project: ProjectKeys, document: Document) -> Iterator[Finding]:
    """What the archive would list a piece by and its file does not say: for its author, as a note.

    Args:
        project: The model.
        document: For places.
    """
    said = {"kind": project.kind, "level": project.level, "techniques": project.techniques}
    missing = [key for key, value in said.items() if not value]
    if missing:
        yield Finding(
            Level.NOTE,
            tr("The archive"),
            tr_count(
                "{listed} is not said, so that nobody finds the piece by it",
                "{listed} are not said, so that nobody finds the piece by them",
                len(missing),
                listed=listed(missing),
            ),
            tr("say what the piece is, whom it suits and what it teaches, such as {line}", line="kind: bowl"),
            document.place(("title",)),
            private=True,
        )


_WOOD = tr_later("The wood")
_USES = {
    "toy": tr_later("this piece is a toy"),
    "spinning top": tr_later("this piece is a toy"),
    "food": tr_later("this piece is for food"),
    "drink": tr_later("this piece is for drink"),
    "jewelry": tr_later("this piece is worn next to the skin"),
}
"""Pieces that are chewed, eaten from or worn, in the order in which they are told."""
_SENSITIZES, _POISONS = "sensitizer", "direct toxin"
_REPORTED = {
    (_SENSITIZES,): tr_later("{wood} is reported to sensitize people, and {use}"),
    (_POISONS,): tr_later("{wood} is reported to be poisonous, and {use}"),
    (_SENSITIZES, _POISONS): tr_later("{wood} is reported to sensitize people and reported to be poisonous, and {use}"),
    (_POISONS, _SENSITIZES): tr_later("{wood} is reported to be poisonous and reported to sensitize people, and {use}"),
}
"""Reactions to a wood that count against such a piece, and how they are told."""


def kept_to_its_own_cautions(project: ProjectKeys, document: Document) -> Iterator[Finding]:
    """A piece for the mouth or the skin in a wood reported to sensitize or poison, or finished with the oil of a nut.

    Args:
        project: Its parts and what the piece is for.
        document: For places.
    """
    use = next((tr(says) for word, says in _USES.items() if word in project.piece), "")
    if not use:
        return
    for name, part in project.parts.items():
        for word, key in wood_places(name, part, project):
            wood = lookup_wood(word)
            reported = wood.reaction_words(conditions=frozenset(part.condition)) if wood is not None else ()
            sentence = _REPORTED.get(tuple(word for word in reported if word in (_SENSITIZES, _POISONS)))
            if wood is not None and sentence is not None:
                message = tr(sentence, wood=wood.spoken, use=use)
                remedy = tr(
                    "choose a wood that the chart of reactions does not list; that none is reported proves nothing"
                )
                yield Finding(Level.MIND, tr(_WOOD), message, remedy, document.place(key))
        for index, step in enumerate(part.steps):
            oils = [known for finish in step.finish if (known := lookup_finish(finish)) and "tree nut" in known.traits]
            if oils:
                message = tr("{oil} is pressed from a tree nut, and {use}", oil=oils[0].title.lower(), use=use)
                place = document.place(("parts", name, "steps", index, "finish"))
                remedy = tr("choose another finish, or say on the piece what is on it")
                yield Finding(Level.MIND, tr("The finish, {step}", step=step.name), message, remedy, place)


_CUTTERS = {
    "rotary tool": tr_later("the part is held in the hand while a rotary tool runs"),
    "router": tr_later("the part is held in the hand while a router runs"),
    "angle grinder": tr_later("the part is held in the hand while an angle grinder runs"),
}
"""Tools whose cutter runs while the tool is held: common practice, no published source."""


def held_by_more_than_a_hand(project: ProjectKeys, document: Document) -> Iterator[Finding]:
    """A part that is held in the hand while a rotary cutter runs is not to be worked so.

    Args:
        project: Its steps' holds and tools.
        document: For places.
    """
    for name, part in project.parts.items():
        for index, step in enumerate(part.steps):
            cutters = [said for word, said in _CUTTERS.items() if word in tools_of(step)]
            if cutters and step.hold is not None and set(step.hold.by) == {"hand"}:
                remedy = tr("hold it in a vise or a clamp, or on the locked lathe")
                place = document.place(("parts", name, "steps", index, "hold"))
                yield Finding(Level.STOP, tr("The hold, {step}", step=step.name), tr(cutters[0]), remedy, place)


def _weighed(wood: str, part: PartKeys) -> bool:
    # Loads the workpiece, which a part with cuts needs anyway.
    from handouts_build.compute.solid.given import density_g_mm3

    return density_g_mm3(wood, part.condition) is not None
