"""What an editor writes at a word: each cut, mark and hold with the keys it needs, ready to be filled in.

This module owns what stands under a key until the author has written it. Editors that know `defaultSnippets` in a JSON
schema offer these; others pass them over.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from handouts_build.workpiece.declared import DeclaredKey, KeyKind, keys_of, summary_of

__all__ = ["example_of", "hold_snippets", "item_snippets"]

_EXAMPLES = {KeyKind.LENGTH: "1/2 in", KeyKind.ANGLE: "90 deg", KeyKind.COUNT: "6"}
"""What an editor offers for a key that has no example of its own."""


def example_of(declared: DeclaredKey) -> str:
    """How a key is written; empty where it has no example.

    Args:
        declared: One of a kind's.
    """
    return declared.example or _EXAMPLES.get(declared.kind, "")


def item_snippets(kinds: Mapping[str, type]) -> list[Any]:
    """A snippet for each kind of cut or mark.

    Args:
        kinds: The kinds, by the author's word.
    """
    return [
        {"label": word, "description": summary_of(kind), "body": {word: _filled_in(_least(kind))}}
        for word, kind in kinds.items()
    ]


def hold_snippets(kinds: Sequence[Any]) -> list[Any]:
    """A snippet for each word of each kind of hold.

    Args:
        kinds: The kinds.
    """
    return [
        {
            "label": ", ".join([word, *(declared.word for declared in _least(kind))]),
            "description": summary_of(kind),
            "body": {"by": [word], **_filled_in(_least(kind))},
        }
        for kind in kinds
        for word in kind.words
    ]


def _least(kind: type) -> list[DeclaredKey]:
    """The keys without which a kind cannot be written; of several that would do, the first."""
    declared = keys_of(kind)
    needed = [each for each in declared if each.needed]
    if _fits(kind, needed):
        return needed
    return next([*needed, each] for each in declared if not each.needed and _fits(kind, [*needed, each]))


def _fits(kind: type, given: Sequence[DeclaredKey]) -> bool:
    misfit = getattr(kind, "misfit", None)
    return misfit is None or misfit(frozenset(each.word for each in given)) is None


def _filled_in(keys: Sequence[DeclaredKey]) -> dict[str, str]:
    """Each key with a place to type at, which holds its example."""
    return dict(_places(keys))


def _places(keys: Sequence[DeclaredKey]) -> Iterator[tuple[str, str]]:
    for number, declared in enumerate(keys, start=1):
        # A bracket that closes the place is not one of the example.
        yield declared.word, f"${{{number}:{example_of(declared).replace('}', chr(92) + '}')}}}"
