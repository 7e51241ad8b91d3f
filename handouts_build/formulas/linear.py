"""A formula as so much of each name, and so much besides: what `deep - 3/4 in + 3/4 in` comes down to.

This module tells that one formula is another in other words, which equal values do not: two
lengths may be alike at one size and differ at the next.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from handouts_build.formulas.tree import Binary, Name, Negative, Node, Number
from handouts_build.quantities import Kind, kind_of

__all__ = ["sum_of_names"]

_BESIDES = ""
_NONE = 1e-9


def sum_of_names(trees: Iterable[Node]) -> tuple[str, ...]:
    """The names that formulas of lengths together are the sum of, each once and whole.

    Args:
        trees: The formulas, which are added up.

    Returns:
        The names as they come; none where the sum holds anything besides, or a name that is not there just once.
    """
    total: dict[str, float] = {}
    for tree in trees:
        parts = _parts(tree)
        if parts is None:
            return ()
        for name, share in parts.items():
            total[name] = total.get(name, 0.0) + share
    left = {name: share for name, share in total.items() if abs(share) > _NONE}
    whole = _BESIDES not in left and all(abs(share - 1.0) < _NONE for share in left.values())
    return tuple(left) if whole else ()


def _parts(tree: Node) -> Mapping[str, float] | None:
    """How much of each name, and in mm besides; None of a formula that does more than add up and share out."""
    match tree:
        case Name() if tree.name != "pi":
            return {tree.name: 1.0}
        case Number() if kind_of(tree.value) is Kind.LENGTH:
            return {_BESIDES: float(tree.value.m_as("mm"))}
        case Negative():
            return _times(_parts(tree.of), -1.0)
        case Binary(op="+" | "-"):
            left, right = _parts(tree.left), _times(_parts(tree.right), 1.0 if tree.op == "+" else -1.0)
            if left is None or right is None:
                return None
            return {name: left.get(name, 0.0) + right.get(name, 0.0) for name in dict.fromkeys((*left, *right))}
        case Binary(op="*", left=Number() as times, right=of) | Binary(op="*", left=of, right=Number() as times):
            return _times(_parts(of), float(times.value.magnitude)) if kind_of(times.value) is Kind.NUMBER else None
        case Binary(op="/", left=of, right=Number() as by):
            if kind_of(by.value) is not Kind.NUMBER or by.value.magnitude == 0:
                return None
            return _times(_parts(of), 1.0 / float(by.value.magnitude))
        case _:
            return None


def _times(parts: Mapping[str, float] | None, times: float) -> Mapping[str, float] | None:
    return None if parts is None else {name: share * times for name, share in parts.items()}
