"""Sentences by their English.

This module owns the way from a sentence in the code to the sentence on a page. A sentence is whole, with named places
for what is put into it, so that another language may order it otherwise; a count chooses among its plural forms. What
an author wrote, and numbers with their units, are put into the places as they are.

A translation lies beside this module under its tag of BCP 47: `nb.po` is what translators write, and `nb.mo`, which is
read here, is made of it. A sentence that a translation lacks is said in English.
"""

from __future__ import annotations

import gettext
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from pathlib import Path

from handouts_build.language.pseudo import PSEUDO, Stretched

__all__ = [
    "ENGLISH",
    "PluralForms",
    "languages",
    "plural_forms",
    "speaking",
    "spoken",
    "tr",
    "tr_about",
    "tr_about_later",
    "tr_count",
    "tr_later",
]

ENGLISH = "en"
"""The language that every sentence is keyed by."""

_HOME = Path(__file__).parent
"""Where the translations lie."""
_ENDING = ".mo"

_READ: dict[str, gettext.NullTranslations] = {ENGLISH: gettext.NullTranslations(), PSEUDO: Stretched()}
"""The catalogues that were asked for."""
_SPOKEN: ContextVar[str] = ContextVar("language", default=ENGLISH)


def languages() -> tuple[str, ...]:
    """The languages that an archive may be in, as tags of BCP 47: English, and those with a translation."""
    return (ENGLISH, *sorted(path.stem for path in _HOME.glob(f"*{_ENDING}")))


def _catalogue(language: str) -> gettext.NullTranslations:
    """The catalogue of a language, read once."""
    if language not in _READ:
        if language not in languages():
            raise KeyError(language)
        with (_HOME / f"{language}{_ENDING}").open("rb") as file:
            _READ[language] = gettext.GNUTranslations(file)
    return _READ[language]


def tr(message: str, /, **values: object) -> str:
    """A sentence in the language that is spoken.

    Args:
        message: In English, with `{name}` where something is put in.
        **values: What is put in, already in that language.

    Returns:
        The sentence; where no values are given, its places are left as they are.
    """
    said = _catalogue(_SPOKEN.get()).gettext(message)
    return said.format(**values) if values else said


def tr_about(about: str, message: str, /, **values: object) -> str:
    """The same of words that mean one thing here and another elsewhere, and may be two words in another language.

    Args:
        about: What is meant, in English: told to translators, and never to a reader.
        message: In English, with `{name}` where something is put in.
        **values: What is put in, already in that language.
    """
    said = _catalogue(_SPOKEN.get()).pgettext(about, message)
    return said.format(**values) if values else said


def tr_count(singular: str, plural: str, count: int, /, **values: object) -> str:
    """A sentence that speaks of a count, in the plural form that it calls for.

    Args:
        singular: In English, of one thing.
        plural: In English, of any other number, with `{count}` for it.
        count: How many there are.
        **values: What else is put in.
    """
    return _catalogue(_SPOKEN.get()).ngettext(singular, plural, count).format(count=count, **values)


@dataclass(frozen=True)
class PluralForms:
    """A sentence that speaks of a count, for where the count is known only later."""

    rule: str
    """Which of the forms a count calls for, from 0: an expression of C and of a page's script, of the count `n`."""
    forms: tuple[str, ...]


_RULE = "n != 1"
"""English has one form for one, and one for all else."""


def plural_forms(singular: str, plural: str) -> PluralForms:
    """The forms of a sentence that speaks of a count, in the language that is spoken, with their places.

    Args:
        singular: In English, of one thing.
        plural: In English, of any other number.
    """
    known = _catalogue(_SPOKEN.get())
    rule = known.info().get("plural-forms", "").partition("plural=")[2].strip(" ;") or _RULE
    if (known.ngettext(singular, plural, 1), known.ngettext(singular, plural, 2)) == (singular, plural):
        rule = _RULE
    form = gettext.c2py(rule)
    # Languages tell numbers apart by their last digits, or by being whole millions.
    found = {int(form(count)): known.ngettext(singular, plural, count) for count in (1_000_000, *reversed(range(1001)))}
    return PluralForms(rule, tuple(found.get(index, found[max(found)]) for index in range(max(found) + 1)))


def tr_later(message: str) -> str:
    """A sentence that stands in a table of ours: listed for translators here, and said by `tr` where it is used."""
    return message


def tr_about_later(about: str, message: str) -> str:  # noqa: ARG001 (what is meant is told to translators)
    """The same of words that are said by `tr_about`.

    Args:
        about: What is meant, for whoever translates it.
        message: The words in English, which are given back.
    """
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
    _catalogue(language)
    before = _SPOKEN.set(language)
    try:
        yield
    finally:
        _SPOKEN.reset(before)
