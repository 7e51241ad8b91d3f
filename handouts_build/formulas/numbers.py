"""The value of a formula's tree as a plain number, for trees whose units are known to be right.

This module owns the quick way: a tree is turned once into nested functions on numbers in
base units, and asked as often as one likes. It means what `evaluate` means, and a test
holds the two together; units, and words for what an author did wrong, are found there.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from handouts_build.formulas.tree import (
    ALIKE,
    WHOLE_STEPS,
    Binary,
    Call,
    FormulaFault,
    Name,
    Negative,
    Node,
    Number,
    Sum,
)

__all__ = ["Numbers", "function_of"]

Numbers = Callable[[str], float]
"""The number of a name, in base units."""


def function_of(node: Node) -> Callable[[Numbers], float]:
    """The function that a tree is, from the numbers of its names to its value in base units.

    It raises `FormulaFault` where there is no such value.

    Args:
        node: A tree that is not a comparison, its units right.
    """
    made, offset = _made(node), node.offset

    def work(look: Numbers) -> float:
        try:
            found = made(look)
        except (ArithmeticError, ValueError):
            found = math.nan
        if not math.isfinite(found):
            raise FormulaFault("this has no value", "", offset)
        return found

    return work


def _made(node: Node) -> Callable[[Numbers], float]:
    match node:
        case Number():
            value = float(node.value.magnitude)
            return lambda _: value
        case Name():
            name = node.name
            return (lambda _: math.pi) if name == "pi" else (lambda look: look(name))
        case Negative():
            of = _made(node.of)
            return lambda look: -of(look)
        case Binary():
            return _joined(node)
        case Call():
            function, inside = _CALLS[node.function], [_made(argument) for argument in node.arguments]
            if len(inside) == 1:
                (first,) = inside
                return lambda look: function(first(look))
            return lambda look: function(*[evaluate(look) for evaluate in inside])
        case Sum():
            return _added(node)


def _joined(node: Binary) -> Callable[[Numbers], float]:
    left, right = _made(node.left), _made(node.right)
    match node.op:
        case "+":
            return lambda look: left(look) + right(look)
        case "-":
            return lambda look: left(look) - right(look)
        case "*":
            return lambda look: left(look) * right(look)
        case "/":
            return lambda look: left(look) / right(look)
        case "^":
            assert isinstance(node.right, Number)
            power = int(node.right.value.magnitude)
            return lambda look: left(look) ** power
        case _:
            raise FormulaFault("a comparison has no value", "comparisons belong under keep", node.offset)


def _added(node: Sum) -> Callable[[Numbers], float]:
    index, last, of = node.index, node.last, _made(node.of)

    def work(look: Numbers) -> float:
        total, at = 0.0, 0.0

        def counted(name: str) -> float:
            return at if name == index else look(name)

        for number in range(last + 1):
            at = float(number)
            total += of(counted)
        return total

    return work


def _arc(function: Callable[[float], float]) -> Callable[[float], float]:
    """An arcsine or arccosine that forgives the last digit."""
    return lambda x: function(math.copysign(1.0, x) if 1 < abs(x) <= 1 + ALIKE else x)


def _stepped(way: Callable[[float], int]) -> Callable[[float, float], float]:
    def work(x: float, step: float) -> float:
        if step <= 0:
            return math.nan
        steps = x / step
        near = round(steps)
        return (near if abs(steps - near) < WHOLE_STEPS else way(steps)) * step

    return work


_CALLS: dict[str, Callable[..., float]] = {
    "abs": abs, "acos": _arc(math.acos), "asin": _arc(math.asin), "atan": math.atan, "cos": math.cos,
    "exp": math.exp, "max": max, "min": min, "round_down": _stepped(math.floor), "round_up": _stepped(math.ceil),
    "sin": math.sin, "sqrt": math.sqrt, "tan": math.tan,
}  # fmt: skip
