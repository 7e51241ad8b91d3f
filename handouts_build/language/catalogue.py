"""Sentences by their English.

This module owns the way from a sentence in the code to the sentence on a page. A sentence is whole, with named places
for what is put into it, so that another language may order it otherwise; a count chooses among its plural forms. What
an author wrote, and numbers with their units, are put into the places as they are.
"""

from __future__ import annotations

import gettext
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from handouts_build.language.pseudo import PSEUDO, Stretched

__all__ = ["ENGLISH", "speaking", "spoken", "tr", "tr_count", "tr_later"]

ENGLISH = "en"
"""The language that every sentence is keyed by."""

_KNOWN: dict[str, gettext.NullTranslations] = {ENGLISH: gettext.NullTranslations(), PSEUDO: Stretched()}
_SPOKEN: ContextVar[str] = ContextVar("language", default=ENGLISH)


def tr(message: str, /, **values: object) -> str:
    """A sentence in the language that is spoken.

    Args:
        message: In English, with `{name}` where something is put in.
        **values: What is put in, already in that language.

    Returns:
        The sentence; where no values are given, its places are left as they are.
    """
    said = _KNOWN[_SPOKEN.get()].gettext(message)
    return said.format(**values) if values else said


def tr_count(singular: str, plural: str, count: int, /, **values: object) -> str:
    """A sentence that speaks of a count, in the plural form that it calls for.

    Args:
        singular: In English, of one thing.
        plural: In English, of any other number, with `{count}` for it.
        count: How many there are.
        **values: What else is put in.
    """
    return _KNOWN[_SPOKEN.get()].ngettext(singular, plural, count).format(count=count, **values)


def tr_later(message: str) -> str:
    """A sentence that stands in a table of ours: listed for translators here, and said by `tr` where it is used."""
    return message


def spoken() -> str:
    """The language that is spoken, as a tag of BCP 47."""
    return _SPOKEN.get()


@contextmanager
def speaking(language: str) -> Iterator[None]:
    """Speak a language in what follows.

    Args:
        language: One that is known, as a tag of BCP 47.

    Raises:
        KeyError: If there is no catalogue of it.
    """
    _KNOWN[language]
    before = _SPOKEN.set(language)
    try:
        yield
    finally:
        _SPOKEN.reset(before)
