"""What a project's page needs to work its numbers out again, as JSON.

This module owns the form that the own-size scripts read: sizes with their bounds, every
formula as a tree, conditions with their words. Numbers and words that the scripts share
with the library come from `own_size_constants`. It computes nothing: the scripts evaluate
the same trees that gave the sheet its values.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any

from handouts_build.language import tr
from handouts_build.outputs.pages.own_size_constants import constants
from handouts_build.quantities import Kind, Manner, Quantity, QuantityFault, exact, kind_of, read_quantity
from handouts_build.sheet import Condition, Dimension, Finding, Follows, Given, Group, Part, Sheet, Size, Stack
from handouts_build.sheet.blank import safe_side, told_side

__all__ = ["entry", "marks", "own_size", "own_size_script"]

_RULES = {"in": (Fraction(1, 8), Fraction(1, 16), Fraction(1, 32), Fraction(1, 64)),
          "mm": (Fraction(1), Fraction(1, 2), Fraction(1, 10))}  # fmt: skip
"""Marks that rules at the bench have."""

_TEMPLATES = {
    "sphere by facets": ("gauge", "circles"),
    "divisions": ("strip", "rays"),
}
"""Templates that a chapter's values suffice for."""


def own_size_script(sheet: Sheet) -> str:
    """The script that hands a project's values to its pages; they load it when a number is to change."""
    return f"handoutsOwnSize.receive({own_size(sheet)});\n"


def own_size(sheet: Sheet) -> str:
    """A project as its pages work it out again, as JSON that is fit to stand in any page."""
    rule = sheet.rule
    laws: dict[str, int] = {}
    made = {
        "name": sheet.name,
        "title": sheet.title,
        "rule": {"lead": rule.lead, "in": _pair(rule.inch), "mm": _pair(rule.millimetre)},
        "rules": {unit: [_pair(mark) for mark in marks(sheet, unit)] for unit in _RULES},
        "sizes": [_size(size, rule.lead) for size in sheet.sizes],
        "pieces": [piece for group in sheet.groups for piece in _pieces(group, laws)],
        "laws": [json.loads(law) for law in laws],
        "keep": [_condition(condition) for condition in sheet.conditions],
        "cautions": [{**_condition(condition), "about": title} for title, condition in sheet.cautions],
        "blanks": [_blank(part) for part in sheet.every_part],
        "findings": list(_findings(sheet)),
        "ready": [
            {
                "name": ready.name,
                "says": ready.says,
                "sizes": {
                    size.name: entry(size.value, rule.lead) for size in ready.sheet.sizes if size.name in ready.sizes
                },
                "findings": list(_findings(ready.sheet)),
            }
            for ready in sheet.ready
        ],
        "templates": [
            {"piece": group.name, "title": group.title, "kinds": _TEMPLATES[group.chapter]}
            for group in sheet.groups
            if group.chapter in _TEMPLATES
        ],
        "constants": constants(),
    }
    text = json.dumps(made, ensure_ascii=False, separators=(",", ":"))
    # Nothing in it can end the element or begin another, whatever an author wrote.
    for sign in ("<", ">", "&", "\u2028", "\u2029"):
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return text


def marks(sheet: Sheet, unit: str) -> list[Fraction]:
    """The marks a reader's rule may have, coarsest first; the author's own is among them.

    Args:
        sheet: The project.
        unit: `in` or `mm`.
    """
    return sorted({*_RULES[unit], sheet.rule.inch if unit == "in" else sheet.rule.millimetre}, reverse=True)


def entry(value: Quantity, lead: str) -> str:
    """A size as one would type it: short, and read back to the very same value.

    Args:
        value: The size.
        lead: The unit to prefer.
    """
    for unit in (lead, "mm" if lead == "in" else "in"):
        text = exact(value, unit).replace("\u00a0", " ").replace(",", "").replace("°", " deg")
        try:
            back = read_quantity(text)
        except QuantityFault:
            continue
        if back.dimensionality == value.dimensionality and back.magnitude == value.magnitude:
            return text
    units = {Kind.LENGTH: " mm", Kind.ANGLE: " rad", Kind.SPEED: " rpm", Kind.TIME: " min", Kind.MASS: " g"}
    return f"{float(value.magnitude)!r}{units.get(kind_of(value) or Kind.NUMBER, '')}"


def _pair(step: Fraction) -> list[int]:
    return [step.numerator, step.denominator]


def _kind(value: Quantity) -> str:
    kind = kind_of(value)
    return kind.value if kind else ""


def _size(size: Size, lead: str) -> dict[str, Any]:
    kind = kind_of(size.value)
    made: dict[str, Any] = {"name": size.name, "says": size.says, "kind": _kind(size.value)}
    made |= {"value": float(size.value.magnitude), "text": entry(size.value, lead), "wants": kind.says if kind else ""}
    for key, bound in zip(("least", "most"), size.bounds, strict=True):
        if bound is not None:
            made[key] = float(bound.magnitude)
    if size.exact:
        made["exact"] = True
    if size.options:
        made["choices"] = [{"value": float(option.magnitude), "text": entry(option, lead)} for option in size.options]
    return made


def _pieces(group: Group, laws: dict[str, int]) -> Iterator[dict[str, Any]]:
    """What is settled together: each dimension of the author's, each working, each profile."""
    if group.follows is not None:
        yield _profile(group, group.follows, laws)
    elif group.stack is not None:
        yield _stack(group, group.stack)
    elif group.chapter:
        yield {
            "name": group.name,
            "title": group.title,
            "givens": [_given(group.name, given) for given in group.givens],
            "dimensions": [_dimension(dimension) for dimension in group.dimensions],
            "conditions": [_condition(condition) for condition in group.conditions],
        }
    else:
        for dimension in group.dimensions:
            yield {"name": dimension.name, "title": "", "dimensions": [_dimension(dimension)]}


def _profile(group: Group, follows: Follows, laws: dict[str, int]) -> dict[str, Any]:
    """A profile, as a working whose givens are its elements' sizes.

    Args:
        group: The profile's.
        follows: How it follows.
        laws: Every law so far with its number; the profile's are added, each once.
    """
    sizes = [
        {**_named(name, value), "tree": tree, "key": key, "what": label}
        for name, label, key, value, tree in follows.sizes
    ]
    # What a dimension is, is among the rows already.
    rows = [_dimension(replace(dimension, tree=["name", dimension.name])) for dimension in group.dimensions]
    for row in rows:
        if row["name"] in (f"{group.name}.neck", f"{group.name}.widest"):
            # Which station it is changes with the sizes, and it is printed as that station is; a place that an element
            # only ends at as the one that was told that size.
            stations = sorted(follows.stations, key=lambda station: station[3] == Manner())
            row["at"] = [[name, _how(manner)] for _, _, name, manner in stations]
        elif row["name"] == f"{group.name}.length" and follows.length is not None:
            row["chain"] = follows.length
    fits = [
        {**_named(name, value), "tree": tree, "condition": _condition(condition)}
        for name, value, tree, condition in follows.fits
    ]
    return {
        "name": group.name,
        "title": group.title,
        "givens": sizes,
        "rows": [_row(*row, laws) for row in follows.rows],
        "dimensions": rows,
        "conditions": [_condition(condition) for condition in (*follows.checks, *group.conditions)],
        "fits": fits,
        "stations": [[says, at, across, _how(manner)] for says, at, across, manner in follows.stations],
    }


def _stack(group: Group, stack: Stack) -> dict[str, Any]:
    """A stack: what rests on how a profile is drawn is, at other sizes, as it was published."""
    published = {dimension.name: f"{dimension.name}.published" for dimension in group.dimensions if not dimension.tree}
    return {
        "name": group.name,
        "title": group.title,
        "givens": [
            {**_named(published[dimension.name], dimension.value), "rests": stack.rests_on}
            for dimension in group.dimensions
            if dimension.name in published
        ],
        "dimensions": [
            _dimension(replace(dimension, tree=dimension.tree or ["name", published[dimension.name]]))
            for dimension in group.dimensions
        ],
    }


def _row(name: str, law: list[object], stands_for: Mapping[str, str], laws: dict[str, int]) -> list[Any]:
    """A row: name, number of its law, and the names that do not stand for a value with the same beginning."""
    home = name.rpartition(".")[0]
    others = {short: full for short, full in stands_for.items() if full != f"{home}.{short}"}
    return [name, laws.setdefault(json.dumps(law, separators=(",", ":")), len(laws)), others]


def _named(name: str, value: Quantity) -> dict[str, Any]:
    return {"name": name, "kind": _kind(value), "value": float(value.magnitude)}


def _given(group: str, given: Given) -> dict[str, Any]:
    made = _named(f"{group}.{given.name}", given.value)
    if given.tree:
        made["tree"] = given.tree
    else:
        made["rests"] = given.rests_on
        if given.lines:
            made["lines"] = given.lines
    if given.signed:
        made["signed"] = True
    return {**made, "key": given.key, "says": given.says} if given.key else made


def _dimension(dimension: Dimension) -> dict[str, Any]:
    made = {**_named(dimension.name, dimension.value), "says": dimension.says, "tree": dimension.tree}
    return {**made, **_how(dimension.manner)}


def _how(manner: Manner) -> dict[str, Any]:
    """How a value is printed; what is not said is as usual."""
    made: dict[str, Any] = {"err": str(manner.err)}
    made |= {word: True for word in ("fine", "exact") if getattr(manner, word)}
    made |= {"ways": [tr(way) for way in manner.ways]} if manner.ways else {}
    return {**made, "below": manner.below} if manner.below else made


def _condition(condition: Condition) -> dict[str, Any]:
    made: dict[str, Any] = {
        "tree": condition.tree,
        "level": str(condition.level),
        "message": condition.message,
        "remedy": condition.remedy,
    }
    made |= {"says": condition.says} if condition.says else {}
    return {**made, "at": condition.at} if condition.at else made


def _blank(part: Part) -> dict[str, Any]:
    blank = part.blank
    sides = [
        {
            "says": told_side(side),
            "kind": _kind(value),
            "value": float(value.magnitude),
            "err": str(safe_side(side)),
            "tree": tree,
        }
        for (side, value, _), tree in zip(blank.sides, blank.trees, strict=False)
    ]
    return {"part": part.name, "title": part.title, "shape": blank.shape, "wood": part.told_wood, "sides": sides}


def _findings(sheet: Sheet) -> Iterator[dict[str, Any]]:
    """The findings that no condition says: they hold for the sheet's own sizes alone."""
    for finding in sheet.told:
        if not finding.judged:
            yield _finding(finding)


def _finding(finding: Finding) -> dict[str, Any]:
    row = {"level": str(finding.level), "about": finding.about, "message": finding.message, "remedy": finding.remedy}
    return {**row, "accepted": True} if finding.accepted else row
