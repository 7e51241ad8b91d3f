"""A part's blank, worked out: its measures, and what they come to.

This module owns the way from the author's blank to the sheet's, and how wide a blank is
across: what swings, and the largest round that can be turned from it. Sticks to cut it
from are for `stocking`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from handouts_build.compute.names import Ledger, Unsettled
from handouts_build.formulas import to_json
from handouts_build.quantities import UNITS, Err, Kind, Quantity, Rule, kind_of, print_quantity
from handouts_build.schema import BlankKeys, Formula, Key, PartKeys
from handouts_build.sheet import Blank, Group, Part
from handouts_build.sheet.blank import safe_side, side_words
from handouts_build.trade.rings import MITER, OUTER_EDGE
from handouts_build.trade.rows import law

__all__ = [
    "across",
    "blank_of",
    "by_formula",
    "grain_of",
    "is_glued",
    "measures",
    "named_by_kind",
    "round_mm",
    "round_tree",
    "swing_mm",
    "worked",
]

_PLAIN = {"round": "diameter", "square": "side", "wide": "width", "thick": "thickness", "long": "length"}
"""What the sheet calls each key of a blank in one piece."""
_BRANCH = {
    "branch": "diameter", "long": "length", "bark": "bark", "pith": "pith off the axis", "pith_angle": "pith angle",
}  # fmt: skip
_RING = {"segments": "segments", "across": "width", "inside": "opening", "long": "length"}
_STAVES = {"staves": "staves", "across": "width", "inside": "opening", "long": "length"}
_GLUED = {"glued-up ring": "segments", "glued-up staves": "staves"}
_ACROSS = {
    "round": ("diameter", "diameter"),
    "square": ("sqrt(2) * side", "side"),
    "board": ("sqrt(width^2 + thickness^2)", "min(width, thickness)"),
    "branch": ("diameter", "(diameter - 2 * bark)"),
    "glued-up ring": ("width / cos(180 deg / segments)", "width"),
    "glued-up staves": ("width / cos(180 deg / staves)", "width"),
}
"""By a blank's shape: what it swings, on its corners until it is round, and the largest round that it has."""
_MITERED = {"glued-up ring": "Miter on each end of a segment", "glued-up staves": "Bevel on each edge of a stave"}
_MANY = (3, 180)
"""Fewest and most pieces of a ring."""


def is_glued(blank: Blank) -> bool:
    """Whether it is glued up from segments or staves."""
    return blank.shape in _GLUED


def measures(blank: Blank) -> dict[str, Quantity]:
    """A blank's measures by what they are; the pieces of a ring are `pieces`."""
    found = {what: value for what, value, _ in blank.sides}
    if is_glued(blank):
        found["pieces"] = found[_GLUED[blank.shape]]
    return found


Numbers = Mapping[str, tuple[float, list[Any]]]
"""Values in base units by name, each with its formula."""


def by_formula(blank: Blank) -> dict[str, tuple[float, list[Any]]]:
    """A blank's measures by what they are, with the author's formulas."""
    found = zip(blank.sides, blank.trees, strict=True)
    return {what: (float(value.to_base_units().magnitude), tree) for (what, value, _), tree in found}


def across(blank: Blank) -> tuple[str, str]:
    """Formulas over a blank's measures: what it swings, on its corners, and the largest round that it has."""
    if blank.shape == "branch" and "bark" not in measures(blank):
        return _ACROSS["round"]
    return _ACROSS[blank.shape]


def worked(text: str, known: Numbers) -> tuple[float, list[Any]]:
    """A number by a formula, and the formula with those of its names put in."""
    formula = law(text)
    below = {name: tree for name, (_, tree) in known.items()}
    return formula.work(lambda name: known[name][0]), _grown(to_json(formula.tree), below)


def named_by_kind(groups: Iterable[Group], parts: Iterable[Part]) -> tuple[Group, ...]:
    """The groups, what rings and staves share called as it is called in the one kind that the piece is glued from."""
    kinds = {part.blank.shape for part in parts if is_glued(part.blank)}
    if len(kinds) != 1:
        return tuple(groups)
    says = _MITERED[kinds.pop()]
    return tuple(
        replace(
            group,
            dimensions=tuple(replace(one, says=says) if one.says == MITER.says else one for one in group.dimensions),
        )
        for group in groups
    )


def swing_mm(blank: Blank) -> float:
    """How wide it is across its corners: what swings when it turns about its middle, mm."""
    return worked(across(blank)[0], by_formula(blank))[0]


def round_mm(blank: Blank) -> float:
    """Diameter of the largest round that can be turned from it, mm; a branch loses its bark."""
    return worked(across(blank)[1], by_formula(blank))[0]


def round_tree(blank: Blank) -> list[Any]:
    """How the largest round follows from the author's formulas."""
    return worked(across(blank)[1], by_formula(blank))[1]


def grain_of(part: PartKeys) -> str:
    """How a part's grain lies; around the axis in a ring of segments, unless the author says otherwise."""
    ring = part.blank.segments is not None and "grain" not in part.model_fields_set
    return "around the axis" if ring else str(part.grain)


def blank_of(blank: BlankKeys, key: Key, *, ledger: Ledger, rule: Rule) -> Blank | None:
    """A blank worked out; None after noting why it cannot be.

    Args:
        blank: Its model.
        key: Where it stands.
        ledger: Gives numbers and takes note of problems.
        rule: For printing.
    """
    shape, words = _shape(blank)
    sides, trees = [], []
    for name, what in words.items():
        formula: Formula | None = getattr(blank, name)
        if formula is None:
            continue
        word = name.replace("_", " ")
        try:
            value = ledger.value(
                formula, (*key, word), kind=_KINDS.get(name, Kind.LENGTH), what=side_words(what),
                place=name in ("bark", "pith"),
            )  # fmt: skip
        except Unsettled:
            return None
        sides.append((what, value, print_quantity(value, rule, err=safe_side(what))))
        trees.append(to_json(formula.tree))
    made = Blank(shape, tuple(sides), tuple(trees))
    wrong = _wrong(made)
    if wrong is not None:
        ledger.note((*key, wrong[0]), wrong[1], wrong[2])
        return None
    return _with_pieces(made, rule) if is_glued(made) else made


_KINDS = {"segments": Kind.NUMBER, "staves": Kind.NUMBER, "pith_angle": Kind.ANGLE}


def _shape(blank: BlankKeys) -> tuple[str, dict[str, str]]:
    """What the sheet calls the blank, and its measures in order."""
    if blank.segments is not None:
        return "glued-up ring", _RING
    if blank.staves is not None:
        return "glued-up staves", _STAVES
    if blank.branch is not None:
        return "branch", _BRANCH
    return "round" if blank.round else "square" if blank.square else "board", _PLAIN


def _wrong(blank: Blank) -> tuple[str, str, str] | None:
    """What of a branch or a ring cannot be: the key to blame, the message and the hint."""
    known = _lengths(blank)
    if blank.shape == "branch":
        for what, word in (("bark", "bark"), ("pith off the axis", "pith")):
            if not 0 <= known.get(what, 0.0) < known["diameter"] / 2:
                called = "the bark is as thick as" if word == "bark" else "the pith lies as far off as"
                return (
                    word,
                    f"{called} half the branch or more, or below 0",
                    "give less than half its diameter",
                )
    elif is_glued(blank):
        word = _GLUED[blank.shape]
        many = float(measures(blank)["pieces"].magnitude)
        if many != round(many) or not _MANY[0] <= many <= _MANY[1]:
            return word, f"a ring of {many:g} {word}", f"give a whole number from {_MANY[0]} to {_MANY[1]}"
        if known["opening"] >= known["width"]:
            return "inside", "the opening is as wide as the ring, or wider", "make the opening smaller than the ring"
    return None


def _with_pieces(blank: Blank, rule: Rule) -> Blank:
    """A ring with the miter and the longest edge of one piece, which follow from its polygon."""
    known = measures(blank)
    trees = dict(zip((what for what, _, _ in blank.sides), blank.trees, strict=True))
    given = {"pieces": known["pieces"], "across": known["width"]}
    below = {"pieces": trees[_GLUED[blank.shape]], "across": trees["width"]}
    sides = list(blank.sides)
    for rules, what in ((MITER, "miter" if blank.shape == "glued-up ring" else "bevel"), (OUTER_EDGE, "outer edge")):
        value = rules(**{name: given[name] for name in rules.needs})
        sides.append((what, value, print_quantity(value, rule, err=Err.OVER)))
        trees[what] = _grown(to_json(rules.tree), below)
    return Blank(blank.shape, tuple(sides), tuple(trees.values()))


def _grown(tree: list[Any], below: Mapping[str, list[Any]]) -> list[Any]:
    """A law's tree with the author's formulas in the place of its names."""
    if tree[0] == "name":
        return below.get(tree[1], tree)
    return [_grown(one, below) if isinstance(one, list) else one for one in tree]


def _lengths(blank: Blank) -> dict[str, float]:
    return {what: float(value.m_as(UNITS["mm"])) for what, value, _ in blank.sides if kind_of(value) is Kind.LENGTH}
