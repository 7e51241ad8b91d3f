"""A size as it is chosen: within its bounds, one of its choices, of the kind it is written with.

This module owns what may be wrong with a chosen size and its row of the sheet. Who
chooses, the author, a ready size or a reader, makes no difference to it.
"""

from __future__ import annotations

from handouts_build.compute.names import Ledger, Unsettled
from handouts_build.quantities import REFUSALS, SAME, Kind, Manner, Quantity, Rule, exact, kind_of, print_as
from handouts_build.schema import Key, SizeKeys
from handouts_build.sheet import Size

__all__ = ["settled_size"]


def settled_size(
    name: str, size: SizeKeys, *, value: Quantity, at: Key, rule: Rule, ledger: Ledger, manner: Manner
) -> Size:
    """A size of the sheet.

    Args:
        name: The author's name for it.
        size: Its keys.
        value: What is chosen.
        at: Where the file chooses it.
        rule: Marks to print to.
        ledger: Takes note of what is wrong with it.
        manner: How it is printed.

    Raises:
        Unsettled: After noting a problem.
    """
    kind = kind_of(value)
    failed = False
    if kind_of(size.is_) is not kind:
        ledger.note(at, f"'{name}' measures something else here than under 'sizes'")
        raise Unsettled
    if kind is Kind.LENGTH:
        ledger.check_length(value, at, f"'{name}'")
    elif value.magnitude <= 0:
        ledger.note(at, *REFUSALS["nought"].filled(what=f"'{name}'"))
        failed = True
    bounds: dict[str, Quantity | None] = {"least": size.least, "most": size.most}
    others = {kind_of(amount) for amount in (*bounds.values(), *(size.choices or ())) if amount is not None}
    if kind is Kind.NUMBER and len(others) == 1 and (other := others.pop()) is not None and other is not kind:
        # All around it has a unit: the mistake is here, once.
        right = f"{value.magnitude:g} in or {value.magnitude:g} mm" if other is Kind.LENGTH else other.says
        ledger.note(at, *REFUSALS["bare"].filled(text=f"{value.magnitude:g}", right=right))
        raise Unsettled
    for bound, limit in bounds.items():
        if limit is not None and kind_of(limit) is not kind:
            hint = f"write {kind.says if kind else 'both alike'}"
            ledger.note(("sizes", name, bound), f"'{bound}' and 'is' measure different things", hint)
            failed = True
    if not failed:
        for bound, limit in bounds.items():
            if limit is not None and (value < limit if bound == "least" else value > limit):
                values = {"what": f"'{name}'", "bound": bound, "limit": exact(limit, rule.lead)}
                ledger.note(at, *REFUSALS["bounds"].filled(**values))
                failed = True
        if size.choices and not any(
            kind_of(choice) is kind and abs(choice.magnitude - value.magnitude) < SAME for choice in size.choices
        ):
            ledger.note(at, *REFUSALS["choices"].filled(what=f"'{name}'"))
            failed = True
    if failed:
        raise Unsettled
    least, most = (print_as(bound, rule, manner) if bound is not None else None for bound in (size.least, size.most))
    options = tuple(size.choices or ())
    choices = tuple(str(print_as(option, rule, manner)) for option in options)
    shown = print_as(value, rule, manner)
    bounds_told = (size.least, size.most)
    return Size(name, size.says, value, shown, least, most, choices, bounds_told, options, manner.exact)
