"""The tree of a formula: a few kinds of node, walked but never run as code.

This module owns the nodes and what can be read off them: the names they need,
their written form, and their JSON. It leaves making them to `grammar` and
finding their value to `evaluate`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, TypeAlias

from handouts_build.quantities import Quantity

__all__ = [
    "ALIKE",
    "BINDS",
    "CALLED",
    "FAULTS",
    "FUNCTIONS",
    "MOST_EXPONENT",
    "POWERS",
    "SIGNS",
    "WHOLE_STEPS",
    "Binary",
    "Call",
    "FormulaFault",
    "Name",
    "Negative",
    "Node",
    "Number",
    "Sum",
    "UnitFault",
    "names",
    "to_json",
    "to_text",
]

FUNCTIONS: dict[str, tuple[int, int]] = {
    "abs": (1, 1), "acos": (1, 1), "asin": (1, 1), "atan": (1, 1), "cos": (1, 1), "exp": (1, 1),
    "max": (2, 8), "min": (2, 8), "round_down": (2, 2), "round_up": (2, 2),
    "sin": (1, 1), "sqrt": (1, 1), "tan": (1, 1),
}  # fmt: skip
"""Functions a formula may call, with the fewest and most values they take."""

ALIKE = 1e-9
"""Share by which two values may differ and still count as equal in a comparison."""

WHOLE_STEPS = 1e-6
"""A value this near a whole number of steps, as a share of one, is on it."""

MOST_EXPONENT = 700
"""Beyond it, e to that power is no number any more."""

FAULTS = {
    "large": "the result is too large to be a number",
    "divided": "this divides by nought",
    "root": "a negative value has no square root",
    "step": "{function} needs a step of more than nought",
    "ratio": "{function} needs a number from -1 to 1, and this is {number}",
    "valueless": "{what} has no value: {why}",
}
"""Why a formula whose units are right has no value; an author and a reader of the page are told alike."""


class FormulaFault(ValueError):
    """A formula that cannot be read or worked out.

    Attributes:
        message: What is wrong, in the author's words.
        hint: What would be right.
        offset: Characters from the start of the formula to the fault.
    """

    def __init__(self, message: str, hint: str = "", offset: int = 0) -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint
        self.offset = offset


class UnitFault(FormulaFault):
    """Values of unlike kinds where like ones are due."""


@dataclass(frozen=True)
class Number:
    """A number, with or without a unit."""

    offset: int
    value: Quantity
    text: str
    """As written."""


@dataclass(frozen=True)
class Name:
    """Something worked out or chosen elsewhere; `pi` is always known."""

    offset: int
    name: str


@dataclass(frozen=True)
class Negative:
    """A value with its sign turned."""

    offset: int
    of: Node


@dataclass(frozen=True)
class Binary:
    """Two values and what joins them: + - * / ^ or a comparison."""

    offset: int
    op: str
    left: Node
    right: Node


@dataclass(frozen=True)
class Call:
    """One of `FUNCTIONS` on its values."""

    offset: int
    function: str
    arguments: tuple[Node, ...]


@dataclass(frozen=True)
class Sum:
    """One term for each whole number from 0 up, added together; the trade's laws have it, authors do not."""

    offset: int
    index: str
    """The name that stands for the whole number in the term."""
    last: int
    """The last whole number."""
    of: Node
    """The term."""


Node: TypeAlias = Number | Name | Negative | Binary | Call | Sum


def names(node: Node) -> Iterator[Name]:
    """Every name a tree needs, as often as it stands there, `pi` left out."""
    match node:
        case Name():
            if node.name != "pi":
                yield node
        case Negative():
            yield from names(node.of)
        case Binary():
            yield from names(node.left)
            yield from names(node.right)
        case Call():
            for argument in node.arguments:
                yield from names(argument)
        case Sum():
            yield from (used for used in names(node.of) if used.name != node.index)
        case Number():
            pass


BINDS = {"<": 0, ">": 0, "<=": 0, ">=": 0, "+": 1, "-": 1, "*": 2, "/": 2, "neg": 3, "^": 4}
"""How closely each sign binds: what binds less is put in brackets."""

SIGNS = {"+": " + ", "-": " − ", "*": " × ", "/": " / ", "<": " < ", ">": " > ", "<=": " ≤ ", ">=": " ≥ "}
"""Signs between two values, as printed."""

CALLED = {"asin": "arcsin", "acos": "arccos", "atan": "arctan"}
"""Functions that are printed by another name than they are written."""

POWERS = {"2": "²", "3": "³", "4": "⁴", "5": "⁵", "6": "⁶"}
"""Powers a formula may use, with their printed signs."""


def to_text(node: Node, say: Callable[[str], str] = str) -> str:
    """A tree as a person would write it, brackets only where they are needed.

    Args:
        node: The tree.
        say: What to print for a name: the name itself, its symbol, or its value.
    """
    return _text(node, say, 0)


def _text(node: Node, say: Callable[[str], str], within: int) -> str:
    match node:
        case Number():
            return node.text.replace(" deg", "°").replace(" ", "\u00a0")
        case Name():
            if node.name == "pi":
                return "π"
            said = say(node.name)
            return f"({said})" if said.startswith("−") and within > 0 else said
        case Negative():
            text = "−" + _text(node.of, say, BINDS["neg"])
            return f"({text})" if within > 1 else text
        case Call():
            inside = ", ".join(_text(argument, say, 0) for argument in node.arguments)
            if node.function == "sqrt":
                return f"√({inside})"
            if node.function == "abs":
                return f"|{inside}|"
            return f"{CALLED.get(node.function, node.function).replace('_', ' ')}({inside})"
        case Sum():
            return f"Σ({_text(node.of, lambda name: name if name == node.index else say(name), 0)})"
        case Binary():
            binds = BINDS[node.op]
            if node.op == "^":
                left = _text(node.left, say, binds + 1)
                # What is raised must read as one thing: 2 1/4 in² would be an area.
                if isinstance(node.left, (Name, Number)) and not left.startswith("(") and re.search(r"[\s°]", left):
                    left = f"({left})"
                assert isinstance(node.right, Number)
                text = left + POWERS[node.right.text]
                return f"({text})" if binds < within else text
            left = _text(node.left, say, binds)
            # What follows − or / keeps its brackets: a − (b + c), a / (b × c).
            right = _text(node.right, say, binds + (node.op in "-/"))
            text = f"{left}{SIGNS[node.op]}{right}"
            return f"({text})" if binds < within else text


def to_json(node: Node, name: Callable[[str], str] = str) -> list[Any]:
    """A tree as nested lists, numbers in base units, for evaluation elsewhere.

    Args:
        node: The tree.
        name: What to call a name there.

    Returns:
        `["num", value, "as written"]`, `["name", dotted]`, `["neg", a]`, `[op, a, b]`, `["call", function, a, …]`, or
        `["sum", last, term]` with `["name", "#"]` for the whole number in the term.
    """
    match node:
        case Number():
            return ["num", float(node.value.magnitude), node.text]
        case Name():
            return ["name", node.name if node.name == "pi" else name(node.name)]
        case Negative():
            return ["neg", to_json(node.of, name)]
        case Binary():
            return [node.op, to_json(node.left, name), to_json(node.right, name)]
        case Call():
            return ["call", node.function, *(to_json(argument, name) for argument in node.arguments)]
        case Sum():
            return [
                "sum",
                node.last,
                to_json(node.of, lambda variable: "#" if variable == node.index else name(variable)),
            ]
