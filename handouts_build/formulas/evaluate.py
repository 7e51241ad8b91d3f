"""The value of a formula's tree, with units all the way.

This module owns what each node means. Faults of units are found where they
arise, so that a message can point at the sign or the function. It knows nothing
of projects: names are looked up through a function it is given.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NoReturn

from handouts_build.formulas.tree import (
    ALIKE,
    FAULTS,
    MOST_EXPONENT,
    WHOLE_STEPS,
    Binary,
    Call,
    FormulaFault,
    Name,
    Negative,
    Node,
    Number,
    Sum,
    UnitFault,
)
from handouts_build.quantities import Kind, Quantity, count, kind_of, of_kind

__all__ = ["holds", "value_of"]

Lookup = Callable[[str], Quantity]


def value_of(node: Node, lookup: Lookup) -> Quantity:
    """The value of a tree that is not a comparison.

    Args:
        node: The tree.
        lookup: Gives the quantity of a dotted name; raises `FormulaFault` (its
            offset is then set to the name's) or `KeyError` if it has none.

    Returns:
        A finite quantity in base units.

    Raises:
        FormulaFault: On an unknown name, units that do not go together, a
            division by nought, or a value that does not exist.
    """
    return _value(node, lookup)


def holds(node: Node, lookup: Lookup) -> bool:
    """Whether a comparison is true; values a billionth apart count as equal.

    Args:
        node: The comparison: `<`, `>`, `<=` or `>=`.
        lookup: The quantity that stands behind a name.

    Returns:
        Whether it is true.

    Raises:
        FormulaFault: As `value_of`, and if the tree is not a comparison.
    """
    if not (isinstance(node, Binary) and node.op in ("<", ">", "<=", ">=")):
        raise FormulaFault("this is not a comparison", "write it as web >= 1/8 in", node.offset)
    left, right = _value(node.left, lookup), _value(node.right, lookup)
    _alike(node, left, right)
    slack = ALIKE * max(abs(left.magnitude), abs(right.magnitude))
    more = left.magnitude - right.magnitude
    return {"<": more < -slack, "<=": more <= slack, ">": more > slack, ">=": more >= -slack}[node.op]


def _value(node: Node, lookup: Lookup) -> Quantity:
    match node:
        case Number():
            return node.value
        case Name():
            return _named(node, lookup)
        case Negative():
            return -_value(node.of, lookup)
        case Binary():
            return _finite(node, _binary(node, lookup))
        case Call():
            return _finite(node, _call(node, [_value(argument, lookup) for argument in node.arguments]))
        case Sum():
            found = _value(node.of, _counted(node, 0, lookup))
            for number in range(1, node.last + 1):
                found = found + _value(node.of, _counted(node, number, lookup))
            return found


def _counted(node: Sum, number: int, lookup: Lookup) -> Lookup:
    """Look names up while the whole number of a sum is this one."""
    return lambda name: count(number) if name == node.index else lookup(name)


def _finite(node: Binary | Call, value: Quantity) -> Quantity:
    """A value that the next sign or function can go on with."""
    if not math.isfinite(value.magnitude):
        raise FormulaFault(FAULTS["large"], "", node.offset)
    return value


def _named(node: Name, lookup: Lookup) -> Quantity:
    if node.name == "pi":
        return count(math.pi)
    try:
        return lookup(node.name)
    except FormulaFault as fault:
        raise FormulaFault(fault.message, fault.hint, node.offset) from None
    except KeyError:
        raise FormulaFault(f"'{node.name}' is not known", "", node.offset) from None


def _binary(node: Binary, lookup: Lookup) -> Quantity:
    if node.op in ("<", ">", "<=", ">="):
        raise FormulaFault("a comparison has no value", "comparisons belong under keep", node.offset)
    left, right = _value(node.left, lookup), _value(node.right, lookup)
    found: Quantity
    match node.op:
        case "+" | "-":
            _alike(node, left, right)
            found = left + right if node.op == "+" else left - right
        case "*":
            found = left * right
        case "/":
            if right.magnitude == 0:
                raise FormulaFault(FAULTS["divided"], "", node.offset)
            found = left / right
        case _:
            try:
                found = left ** int(right.magnitude)
            except OverflowError:
                raise FormulaFault(FAULTS["large"], "", node.offset) from None
    return found


def _alike(node: Binary, left: Quantity, right: Quantity) -> None:
    """Refuse to add or compare unlike things."""
    if left.dimensionality == right.dimensionality:
        return
    verb = {"+": "added to", "-": "taken from"}.get(node.op, "compared with")
    first, second = (right, left) if node.op == "-" else (left, right)
    hint = ""
    if Kind.NUMBER in (kind_of(left), kind_of(right)):
        hint = "does a number lack its unit, such as in or mm?"
    raise UnitFault(f"{_called(first)} cannot be {verb} {_called(second)}", hint, node.offset)


def _called(value: Quantity) -> str:
    kind = kind_of(value)
    if kind is None:
        return "a mixture of units"
    if kind is Kind.NUMBER:
        return "a plain number"
    return f"an {kind.value}" if kind.value[0] in "aeiou" else f"a {kind.value}"


def _call(node: Call, values: list[Quantity]) -> Quantity:
    first = values[0]
    x = float(first.magnitude)
    found: Quantity
    match node.function:
        case "abs":
            return abs(first)
        case "min" | "max" | "round_up" | "round_down":
            for other in values[1:]:
                if other.dimensionality != first.dimensionality:
                    _fault(node, f"{node.function} needs values of one kind, not {_called(first)} and {_called(other)}")
            if node.function in ("min", "max"):
                best = min if node.function == "min" else max
                return best(values, key=lambda value: float(value.magnitude))
            step = float(values[1].magnitude)
            if step <= 0:
                _fault(node, FAULTS["step"].format(function=node.function))
            if not math.isfinite(x / step):
                _fault(node, FAULTS["large"])
            found = _stepped(first, x / step, up=node.function == "round_up") * step
            return found
        case "sqrt":
            if x < 0:
                _fault(node, FAULTS["root"])
            found = first**0.5
            return found
        case "sin" | "cos" | "tan":
            if kind_of(first) is not Kind.ANGLE:
                _fault(node, f"{node.function} needs an angle, not {_called(first)}", "write degrees as 30 deg")
            return count(getattr(math, node.function)(x))
        case "exp":
            if kind_of(first) is not Kind.NUMBER:
                _fault(node, f"exp needs a plain number, not {_called(first)}")
            if x > MOST_EXPONENT:
                _fault(node, FAULTS["large"])
            return count(math.exp(x))
        case _:
            if kind_of(first) is not Kind.NUMBER:
                _fault(node, f"{node.function} needs a plain number, not {_called(first)}")
            if node.function != "atan" and abs(x) > 1:
                if abs(x) > 1 + ALIKE:
                    _fault(node, FAULTS["ratio"].format(function=node.function, number=f"{x:.4g}"))
                x = math.copysign(1.0, x)
            return of_kind(getattr(math, node.function)(x), Kind.ANGLE)


def _stepped(value: Quantity, steps: float, *, up: bool) -> Quantity:
    """A whole number of steps as a quantity that, times the step, has the value's kind."""
    near = round(steps)
    whole = near if abs(steps - near) < WHOLE_STEPS else (math.ceil(steps) if up else math.floor(steps))
    return value.__class__(float(whole), value.units)


def _fault(node: Call, message: str, hint: str = "") -> NoReturn:
    raise FormulaFault(message, hint, node.offset)
