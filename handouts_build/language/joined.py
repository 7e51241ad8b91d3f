"""Words put together, as the language that is spoken sets them.

This module owns how a list is put together: a language may have another word before the last, another sign between, or
none, and one for a list of two that a longer list has not (Unicode CLDR, list patterns). The patterns are sentences of
the catalogue like all others.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce

from handouts_build.language.catalogue import tr, tr_about

__all__ = ["in_a_row", "labelled", "listed", "one_of", "phrases_in_a_row"]


def listed(words: Iterable[object]) -> str:
    """All of them, as within a sentence: `a, b and c`; empty of nothing.

    Args:
        words: What is listed, already in the language that is spoken.
    """
    first, last = _parted(words)
    if len(first) == 1:
        return tr_about("a list of two", "{first} and {last}", first=first[0], last=last)
    if not first:
        return last
    return tr_about("the end of a longer list", "{earlier} and {last}", earlier=in_a_row(first), last=last)


def one_of(words: Iterable[object]) -> str:
    """One of them, as within a sentence: `a, b or c`; empty of nothing.

    Args:
        words: What there is to choose from, already in the language that is spoken.
    """
    first, last = _parted(words)
    if len(first) == 1:
        return tr_about("a choice of two", "{first} or {last}", first=first[0], last=last)
    if not first:
        return last
    return tr_about("the end of a longer choice", "{earlier} or {last}", earlier=in_a_row(first), last=last)


def in_a_row(words: Iterable[object]) -> str:
    """Words one after the other, with no word before the last: `a, b, c`; empty of nothing.

    Args:
        words: What is listed, already in the language that is spoken.
    """
    return reduce(lambda earlier, word: tr("{earlier}, {next}", earlier=earlier, next=word), *_begun(words))


def phrases_in_a_row(phrases: Iterable[object]) -> str:
    """Phrases one after the other, which may have commas of their own: `a, of ash; b`; empty of nothing.

    Args:
        phrases: What is listed, already in the language that is spoken.
    """
    return reduce(lambda earlier, phrase: tr("{earlier}; {next}", earlier=earlier, next=phrase), *_begun(phrases))


def labelled(label: object, value: object) -> str:
    """A value with what it is: `label: value`.

    Args:
        label: What it is, already in the language that is spoken.
        value: What is said of it.
    """
    return tr("{label}: {value}", label=label, value=value)


def _parted(words: Iterable[object]) -> tuple[list[str], str]:
    """All but the last, and the last."""
    *first, last = [str(word) for word in words] or [""]
    return first, last


def _begun(words: Iterable[object]) -> tuple[list[str], str]:
    """All but the first, and the first."""
    first, *rest = [str(word) for word in words] or [""]
    return rest, first
