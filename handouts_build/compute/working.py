"""How a value was found, in words and numbers.

This module owns the making of a `Working` and of the printed row beside it, and the
sentences that values and an author's reason are put into. It works nothing out: it
shows what was worked out.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from handouts_build.formulas import Name, Node, to_json, to_text
from handouts_build.formulas.tree import Binary
from handouts_build.language import tr
from handouts_build.quantities import (
    MORE_PLACES,
    PRINT_UNITS,
    ROUNDED,
    UNSEEN_MM,
    Kind,
    Manner,
    Printed,
    Quantity,
    Rule,
    decimal,
    exact,
    kind_of,
    print_as,
)
from handouts_build.sheet import Citation, Dimension, Working

__all__ = ["chained", "dimension", "filled", "meant", "result_of", "rounding", "spoken"]


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
    manner: Manner,
    main: bool,
    source: Citation | None,
    full: Callable[[str], str] = str,
    below: tuple[Quantity, Printed] | None = None,
    chain: tuple[float, float] | None = None,
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
        manner: How it is printed.
        main: Whether it belongs on the dimensions sheet.
        source: Where the formula comes from, if it is not the author's.
        full: The full name of each name in the formula.
        below: The hole that its manner names, exact and as it is printed.
        chain: What the printed lengths come to that it is the sum of, in inches and in millimetres.
    """
    printed = print_as(value, rule, manner, below=below, chain=chain)
    rounded = rounding(value, printed, rule, manner)
    working = Working(
        symbol=symbol,
        formula=to_text(tree, symbols),
        numbers=to_text(tree, lambda inner: exact(values(inner), rule.lead)),
        result=result_of(value, rule, rounded=bool(rounded)),
        rounding=rounded,
        source=source,
    )
    # A formula that only names one value shows its number once.
    if working.numbers == working.result:
        working = replace(working, numbers="")
    return Dimension(name, says, value, printed, manner, main, working, to_json(tree, full))


def chained(tree: Node, printed: Mapping[str, Printed]) -> tuple[float, float] | None:
    """What printed lengths come to, in inches and in millimetres; None of a formula that does more than add them up.

    Args:
        tree: The formula.
        printed: Values as they are printed, by name.
    """
    if isinstance(tree, Name) and tree.name in printed:
        numbers = printed[tree.name]
        return (numbers.inch, numbers.mm) if numbers.inch is not None and numbers.mm is not None else None
    if not isinstance(tree, Binary) or tree.op not in ("+", "-"):
        return None
    left, right = chained(tree.left, printed), chained(tree.right, printed)
    if left is None or right is None:
        return None
    way = 1 if tree.op == "+" else -1
    return left[0] + way * right[0], left[1] + way * right[1]


def result_of(value: Quantity, rule: Rule, *, rounded: bool) -> str:
    """The result of a working: with more digits where print is rounded to a side, so that it shows what was done.

    Args:
        value: The exact value.
        rule: Which unit leads.
        rounded: Whether the working says how it was rounded.
    """
    return exact(value, rule.lead, more=MORE_PLACES if rounded else 0)


def rounding(value: Quantity, printed: Printed, rule: Rule, manner: Manner) -> str:
    """What rounding did, and by how much it is off; nothing where it did nothing that is seen.

    Args:
        value: The exact value.
        printed: As it is printed.
        rule: Which unit leads.
        manner: How it is printed.
    """
    if kind_of(value) is not Kind.LENGTH:
        # A side is told where it changes what is read.
        if printed.lead == exact(value, rule.lead):
            return ""
        return tr("{rounded}: {size}", rounded=tr(ROUNDED[manner.err]), size=printed.lead)
    off_mm = float(printed.rounded.magnitude) - float(value.magnitude)
    if manner.fine or abs(off_mm) < UNSEEN_MM:
        return ""
    inch, metric = PRINT_UNITS[Kind.LENGTH]
    (scale,) = inch if rule.lead == "in" else metric
    off = decimal(abs(off_mm) / scale.per, scale.places) + scale.unit
    values = {"rounded": tr(ROUNDED[manner.err]), "size": printed.lead, "off": off}
    return (
        tr("{rounded}: {size}, {off} over", **values) if off_mm > 0 else tr("{rounded}: {size}, {off} under", **values)
    )


def filled(text: str, known: Mapping[str, Printed | str]) -> str:
    """A sentence of the trade with the printed values put in: `{name}`, or `{|name|}` for its amount alone.

    Args:
        text: The sentence.
        known: What is put in, by name.

    Returns:
        The sentence; a name that is not known stays as it stands.
    """
    for name, printed in known.items():
        text = text.replace(f"{{|{name}|}}", printed.amount if isinstance(printed, Printed) else printed)
        text = text.replace(f"{{{name}}}", str(printed))
    return text


def meant(opening: str, number: str, reason: str) -> str:
    """A sentence on what is meant, and the author's reason: `Thin on purpose: 0.1 in …. The pins bear …`.

    Args:
        opening: What it is, such as `Thin on purpose`.
        number: The number and its place; empty where the opening says it all.
        reason: Why the author accepts it.
    """
    why = reason.rstrip(".")
    why = f"{why[:1].upper()}{why[1:]}"
    if not number:
        return tr("{meant}. {why}", meant=opening, why=why)
    return tr("{meant}: {told}. {why}", meant=opening, told=number, why=why)
