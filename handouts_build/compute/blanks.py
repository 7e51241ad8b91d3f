"""A part's blank, worked out: its measures, and what they come to.

This module owns the way from the author's blank to the sheet's, and how wide a blank is
across: what swings, and the largest round that can be turned from it. Sticks to cut it
from are for `stocking`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from handouts_build import workpiece as kernel
from handouts_build.compute.names import Ledger, Unsettled
from handouts_build.formulas import to_json
from handouts_build.language import tr
from handouts_build.problems import near_miss
from handouts_build.quantities import Err, Kind, Quantity, Rule, print_quantity
from handouts_build.schema import BlankKeys, Formula, Key, PartKeys, ProjectKeys
from handouts_build.sheet import Blank, Course, Group, Laminate, Part, Stack
from handouts_build.sheet.blank import safe_side, side_words
from handouts_build.tables.wood_tones import wood_tone
from handouts_build.trade.law import Law
from handouts_build.trade.rings import MITER, OUTER_EDGE
from handouts_build.trade.rows import law
from handouts_build.trade.staves import SLOPE, TAPER, TILT, WIDE_END
from handouts_build.workpiece.declared import KeyKind, keys_of

__all__ = [
    "across",
    "along",
    "as_stock",
    "blank_of",
    "by_formula",
    "grain_of",
    "high_mm",
    "high_tree",
    "is_glued",
    "is_ring",
    "measures",
    "named_by_kind",
    "round_mm",
    "round_tree",
    "shape_of",
    "swing_mm",
    "wood_places",
    "woods_of",
    "worked",
]

_KINDS = {KeyKind.LENGTH: Kind.LENGTH, KeyKind.ANGLE: Kind.ANGLE, KeyKind.COUNT: Kind.NUMBER}


def shape_of(blank: Blank) -> type[kernel.BaseBlank]:
    """What the workpiece declares of a blank's shape."""
    return kernel.BLANKS[blank.shape]


def is_glued(blank: Blank) -> bool:
    """Whether it is glued up from smaller pieces."""
    return shape_of(blank).glued


def is_ring(blank: Blank) -> bool:
    """Whether it is one ring of segments, or one tube of staves."""
    return issubclass(shape_of(blank), kernel.Glued)


def woods_of(part: PartKeys, project: ProjectKeys) -> tuple[str, ...]:
    """The author's words for the woods of a part, each once: its own, or those of its courses.

    Args:
        part: Its model.
        project: The project's, for its stacks.
    """
    return tuple(wood for wood, _ in wood_places("", part, project))


def wood_places(name: str, part: PartKeys, project: ProjectKeys) -> Iterator[tuple[str, Key]]:
    """The author's words for the woods of a part, each once, and where each stands first.

    Args:
        name: The part's.
        part: Its model.
        project: The project's, for its stacks.
    """
    stack = project.stacks.get(part.blank.text("stack") or "")
    laminate = project.laminates.get(part.blank.text("laminate") or "")
    own: Key = ("parts", name, "wood")
    found: dict[str, Key] = {}
    if laminate is not None:
        for number, board in enumerate(laminate.boards):
            place: Key = ("laminates", part.blank.text("laminate") or "", "boards", number, "wood")
            found.setdefault(board.wood or part.wood, place if board.wood else own)
        yield from found.items()
        return
    if stack is None:
        yield part.wood, own
        return
    for index, item in enumerate(stack.courses):
        kind, course = item.only
        key: Key = ("stacks", part.blank.text("stack") or "", "courses", index, kind)
        if course.woods:
            for at, wood in enumerate(course.woods):
                found.setdefault(wood, (*key, "woods", at))
        else:
            found.setdefault(course.wood or part.wood, (*key, "wood") if course.wood else own)
    yield from found.items()


def measures(blank: Blank) -> dict[str, Quantity]:
    """A blank's measures by what they are; the pieces of a ring are `pieces`."""
    found = {side: value for side, value, _ in blank.sides}
    if is_ring(blank):
        found["pieces"] = found[shape_of(blank).called]
    return found


Numbers = Mapping[str, tuple[float, list[Any]]]
"""Values in base units by name, each with its formula."""


def by_formula(blank: Blank) -> dict[str, tuple[float, list[Any]]]:
    """A blank's measures by what they are, `_` for a space as formulas have it, with the author's formulas."""
    found = zip(blank.sides, blank.trees, strict=True)
    return {side.replace(" ", "_"): (float(value.to_base_units().magnitude), tree) for (side, value, _), tree in found}


def across(blank: Blank, *, natural: bool = False) -> tuple[str, str]:
    """Formulas over a blank's measures: what it swings, on its corners, and the largest round that it has.

    Args:
        blank: Worked out.
        natural: Whether its bark may stay.
    """
    return shape_of(blank).across(measures(blank), natural=natural)


def along(blank: Blank) -> str:
    """A formula over a blank's measures: how long it is along the axis that it turns on."""
    return shape_of(blank).along(measures(blank))


def worked(text: str, known: Numbers) -> tuple[float, list[Any]]:
    """A number by a formula, and the formula with those of its names put in.

    Args:
        text: The formula.
        known: For each of its names the value, in base units, and the tree it follows from.

    Returns:
        The value, in base units, and its tree.
    """
    formula = law(text)
    below = {name: tree for name, (_, tree) in known.items()}
    return formula.work(lambda name: known[name][0]), _grown(to_json(formula.tree), below)


def named_by_kind(groups: Iterable[Group], parts: Iterable[Part]) -> tuple[Group, ...]:
    """The groups, what rings and staves share called as it is called in the one kind that the piece is glued from.

    Args:
        groups: Of the whole piece.
        parts: Whose blanks say which kinds there are.

    Returns:
        The groups, in their order; as they were where the piece is glued from both kinds or from none.
    """
    kinds = {shape for part in parts if issubclass(shape := shape_of(part.blank), kernel.Glued)}
    if len(kinds) != 1:
        return tuple(groups)
    says = tr(kinds.pop().miter_says)
    return tuple(
        replace(
            group,
            dimensions=tuple(
                replace(dimension, says=says) if dimension.name == f"{group.name}.{MITER.name}" else dimension
                for dimension in group.dimensions
            ),
        )
        for group in groups
    )


def swing_mm(blank: Blank) -> float:
    """How wide it is across its corners: what swings when it turns about its middle, mm."""
    return worked(across(blank)[0], by_formula(blank))[0]


def round_mm(blank: Blank, *, natural: bool = False) -> float:
    """Diameter of the largest round that can be turned from it, mm.

    Args:
        blank: The blank.
        natural: Whether the piece keeps a natural edge; else the round is what is left without the bark.
    """
    return worked(across(blank, natural=natural)[1], by_formula(blank))[0]


def round_tree(blank: Blank, *, natural: bool = False) -> list[Any]:
    """How the largest round follows from the author's formulas, as a tree for the page's own sizes.

    Args:
        blank: The blank.
        natural: Whether the piece keeps a natural edge.
    """
    return worked(across(blank, natural=natural)[1], by_formula(blank))[1]


def high_mm(blank: Blank) -> float:
    """How long it is along the axis that it turns on, mm."""
    return worked(along(blank), by_formula(blank))[0]


def high_tree(blank: Blank) -> list[Any]:
    """How that length follows from the author's formulas."""
    return worked(along(blank), by_formula(blank))[1]


def grain_of(part: PartKeys) -> str:
    """How a part's grain lies; around the axis in a ring of segments, unless the author says otherwise."""
    own = part.blank.shape.own_grain
    return own.value if own is not None and "grain" not in part.model_fields_set else str(part.grain)


def as_stock(blank: Blank, *, grain: str) -> kernel.BaseBlank:
    """A blank as the workpiece takes it.

    Args:
        blank: Worked out.
        grain: How its grain lies, in the author's words.
    """
    shape: type[Any] = shape_of(blank)
    known = measures(blank)
    given = ((declared, known.get(declared.noun)) for declared in keys_of(shape))
    fields: dict[str, Any] = {
        declared.field: _plain(declared.kind, value) for declared, value in given if value is not None
    }
    if blank.stack is not None:
        woods = blank.stack.woods
        fields["courses"] = tuple(_course(course, woods) for course in blank.stack.courses)
        fields["tones"] = tuple(map(wood_tone, woods))
    if blank.laminate is not None:
        woods = blank.laminate.woods
        boards = ((kernel.in_mm(board.thick), woods.index(board.wood)) for board in blank.laminate.boards)
        fields["layers"] = tuple(kernel.Layer(thick, wood) for thick, wood in boards)
        fields["wide_mm"] = kernel.in_mm(blank.laminate.wide)
        fields["tones"] = tuple(map(wood_tone, woods))
    made: kernel.BaseBlank = shape(**fields, grain=kernel.Grain(grain))
    return made


def _course(course: Course, woods: Sequence[str]) -> kernel.StackCourse:
    """A course as the workpiece takes it."""
    return kernel.StackCourse(
        start_mm=kernel.in_mm(course.start),
        high_mm=kernel.in_mm(course.high),
        across_mm=kernel.in_mm(course.across),
        inside_mm=kernel.in_mm(course.inside) if course.inside is not None else 0.0,
        pieces=course.pieces,
        turn_deg=course.turn_deg,
        woods=tuple(woods.index(wood) for wood in course.woods),
    )


def _plain(kind: KeyKind, value: Quantity) -> float:
    """A measure as a field takes it: mm, degrees, or a number, whole where it is."""
    if kind is KeyKind.COUNT:
        number = float(value.magnitude)
        return round(number) if number == round(number) else number
    return kernel.in_deg(value) if kind is KeyKind.ANGLE else kernel.in_mm(value)


def blank_of(
    blank: BlankKeys, key: Key, *, ledger: Ledger, rule: Rule, stacks: Mapping[str, Stack | None],
    laminates: Mapping[str, Laminate | None],
) -> Blank | None:  # fmt: skip
    """A blank worked out; None after noting why it cannot be.

    Args:
        blank: Its model.
        key: Where it stands.
        ledger: Gives numbers and takes note of problems.
        rule: For printing.
        stacks: Glued-up stacks by name; None where one has a problem of its own.
        laminates: Laminates by name; None where one has a problem of its own.
    """
    block = blank.text("laminate")
    if block is not None and laminates.get(block) is None:
        if block not in laminates:
            hint = near_miss(block, laminates) or "list its boards under `laminates`"
            ledger.note((*key, "laminate"), f"'{block}' is not a laminate", hint)
        return None
    name = blank.text("stack")
    if name is not None:
        return _stacked(name, key, ledger=ledger, rule=rule, stacks=stacks)
    sides, trees = [], []
    for side, full in _of_laminate(block, blank):
        value = ledger.values[full]
        sides.append((side, value, print_quantity(value, rule, err=safe_side(side))))
        trees.append(["name", full])
    for declared in keys_of(blank.shape):
        formula = blank.written(declared.word)
        if not isinstance(formula, Formula):
            continue
        side = declared.noun
        # Bark and pith may be nought.
        place = declared.kind is KeyKind.LENGTH and not declared.above_nought
        try:
            value = ledger.value(
                formula, (*key, declared.word), kind=_KINDS[declared.kind], label=side_words(side), place=place
            )
        except Unsettled:
            return None
        sides.append((side, value, print_quantity(value, rule, err=safe_side(side))))
        trees.append(to_json(formula.tree))
    made = Blank(
        blank.shape.word, tuple(sides), tuple(trees), by_name=blank.shape.told_by_name,
        laminate=laminates[block] if block is not None else None,
    )  # fmt: skip
    wrong = as_stock(made, grain=kernel.Grain.ALONG.value).wrong()
    if wrong is not None:
        ledger.note((*key, wrong[0]), wrong[1], wrong[2])
        return None
    return _with_pieces(made, rule, blank.shape) if issubclass(blank.shape, kernel.Glued) else made


def _of_laminate(name: str | None, blank: BlankKeys) -> Iterator[tuple[str, str]]:
    """Which measures of a block its boards say, each with its full name."""
    if name is not None:
        yield "width", f"{name}.wide"
        if blank.written("block") is None:
            yield "thickness", f"{name}.thick"


def _stacked(name: str, key: Key, *, ledger: Ledger, rule: Rule, stacks: Mapping[str, Stack | None]) -> Blank | None:
    """The blank that is a stack; None after noting that there is none."""
    if name not in stacks:
        hint = near_miss(name, stacks) or "say its courses under `stacks`"
        ledger.note((*key, "stack"), f"'{name}' is not a stack", hint)
        return None
    stack = stacks[name]
    if stack is None:
        return None
    named_sides = (("length", "height", Err.OVER), ("width", "width", Err.OVER), ("swing", "swing", Err.OVER))
    values = {side: ledger.values[f"{name}.{full}"] for side, full, _ in named_sides}
    sides = tuple((side, values[side], print_quantity(values[side], rule, err=err)) for side, _, err in named_sides)
    trees = tuple(["name", f"{name}.{full}"] for _, full, _ in named_sides)
    return Blank(kernel.GluedStack.word, sides, trees, by_name=True, stack=stack)


def _with_pieces(blank: Blank, rule: Rule, shape: type[kernel.Glued]) -> Blank:
    """A ring with the miter and the longest edge of one piece, which follow from its polygon."""
    known = measures(blank)
    trees = dict(zip((side for side, _, _ in blank.sides), blank.trees, strict=True))
    given = {"pieces": known["pieces"], "across": known["width"]}
    below = {"pieces": trees[shape.called], "across": trees["width"]}
    sides = list(blank.sides)
    laws: tuple[tuple[Law, str], ...] = ((MITER, shape.miter), (OUTER_EDGE, "outer edge"))
    if "right width" in known:
        given |= {"bottom": known["width"], "top": known["right width"], "high": known["length"]}
        below |= {"bottom": trees["width"], "top": trees["right width"], "high": trees["length"]}
        given["slope"], below["slope"] = SLOPE(**_needed(SLOPE, given)), _grown(to_json(SLOPE.tree), below)
        laws = ((TILT, shape.miter), (TAPER, "taper"), (WIDE_END, "outer edge"))
    for rules, side in laws:
        value = rules(**_needed(rules, given))
        sides.append((side, value, print_quantity(value, rule, err=safe_side(side))))
        trees[side] = _grown(to_json(rules.tree), below)
    return replace(blank, sides=tuple(sides), trees=tuple(trees.values()))


def _needed(law: Law, known: Mapping[str, Quantity]) -> dict[str, Quantity]:
    """What a law needs of what is known."""
    return {name: known[name] for name in law.needs}


def _grown(tree: list[Any], below: Mapping[str, list[Any]]) -> list[Any]:
    """A law's tree with the author's formulas in the place of its names."""
    if tree[0] == "name":
        return below.get(tree[1], tree)
    return [_grown(branch, below) if isinstance(branch, list) else branch for branch in tree]
