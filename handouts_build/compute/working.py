"""How a value was found, in words and numbers.

This module owns the making of a `Working` and of the printed row beside it. It
works nothing out: it shows what was worked out.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from handouts_build.formulas import Node, to_json, to_text
from handouts_build.quantities import (
    ROUNDED,
    SCALES,
    UNSEEN_MM,
    Err,
    Kind,
    Printed,
    Quantity,
    Rule,
    decimal,
    exact,
    kind_of,
    print_quantity,
)
from handouts_build.sheet import Dimension, Source, Working

__all__ = ["as_given", "dimension", "filled", "rounding", "spoken"]


def spoken(name: str) -> str:
    """A name from a formula as a person reads it."""
    return name.replace("_", "\u00a0").replace(".", "\u00a0")


def dimension(
    name: str,
    value: Quantity,
    *,
    says: str,
    symbol: str,
    tree: Node,
    symbols: Callable[[str], str],
    values: Callable[[str], Quantity],
    rule: Rule,
    err: Err,
    fine: bool,
    main: bool,
    source: Source | None,
    full: Callable[[str], str] = str,
    below: tuple[str, Quantity | None] = ("", None),
) -> Dimension:
    """A dimension with its working.

    Args:
        name: Full name.
        value: The exact value.
        says: What it is.
        symbol: Its letter or name in the working.
        tree: The formula.
        symbols: The letter of each name in the formula.
        values: The value of each name in the formula.
        rule: Marks to round to.
        err: The safe side.
        fine: Whether to print thousandths.
        main: Whether it belongs on the dimensions sheet.
        source: Where the formula comes from, if it is not the author's.
        full: The full name of each name in the formula.
        below: Full name and value of what its mark stays below, if anything.
    """
    printed = print_quantity(value, rule, err=err, fine=fine, below=below[1])
    working = Working(
        symbol=symbol,
        formula=to_text(tree, symbols),
        numbers=to_text(tree, lambda inner: exact(values(inner), rule.lead)),
        result=exact(value, rule.lead),
        rounding="" if fine else rounding(value, printed, rule, err),
        source=source,
    )
    # A formula that only names one value shows its number once.
    if working.numbers == working.result:
        working = replace(working, numbers="")
    return Dimension(name, says, value, printed, err, main, working, to_json(tree, full), fine, below[0])


def rounding(value: Quantity, printed: Printed, rule: Rule, err: Err) -> str:
    """What rounding did, and by how much it is off."""
    if kind_of(value) is not Kind.LENGTH:
        return ""
    off_mm = float(printed.rounded.magnitude) - float(value.magnitude)
    if abs(off_mm) < UNSEEN_MM:
        return ""
    inch, metric = SCALES[Kind.LENGTH]
    (scale,) = inch if rule.lead == "in" else metric
    off = decimal(abs(off_mm) / scale.per, scale.places) + scale.unit
    return f"{ROUNDED[err]}: {printed.lead}, {off} {'over' if off_mm > 0 else 'under'}"


def as_given(value: Quantity, rule: Rule) -> Printed:
    """A value a chapter was told, printed as it was told and not rounded to a mark."""
    lead, other = ("in", "mm") if rule.lead == "in" else ("mm", "in")
    first, second = exact(value, lead), exact(value, other)
    return Printed(first, second if second != first else "", value)


def filled(text: str, known: Mapping[str, Printed | str]) -> str:
    """A sentence of the trade with the printed values put in: `{name}`, or `{|name|}` without its sign."""
    for name, printed in known.items():
        text = text.replace(f"{{|{name}|}}", str(printed).replace("−", ""))
        text = text.replace(f"{{{name}}}", str(printed))
    return text
