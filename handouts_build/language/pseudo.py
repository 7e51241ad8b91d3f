"""A language that nobody speaks, to see what has no way into another one.

Every sentence is accented and drawn out, as CLDR's pseudo-language `en-XA` has it. What without an accent on a page
in it is the author's own, or was left out of the catalogue; what runs over an edge would do so in a language of longer
words.
"""

from __future__ import annotations

import gettext
import re

__all__ = ["PSEUDO", "Stretched", "stretched"]

PSEUDO = "en-XA"

_ACCENTED = str.maketrans("acdeghijklnorstuwyzACDEGHIJKLNORSTUWYZ", "äćďéĝĥïĵķĺñöŕšťüŵýžÄĆĎÉĜĤÏĴĶĹÑÖŔŠŤÜŴÝŽ")
"""Of the letters that the papers' own fonts have with an accent."""
_DRAWN_OUT = re.compile("[äéïöüñš]", re.IGNORECASE)
_KEPT = re.compile(r"(\{[^{}]*\}|<[^<>]*>|&#?\w+;)")
"""Places, tags and entities: they are not words."""


def stretched(message: str) -> str:
    """A sentence of the pseudo-language: its letters accented, some of them twice, so that it is about 1.4 as long.

    Args:
        message: In English, with its places.
    """
    parts = _KEPT.split(message)
    parts[::2] = (
        _DRAWN_OUT.sub(lambda sign: sign[0] + sign[0].lower(), part.translate(_ACCENTED)) for part in parts[::2]
    )
    return "".join(parts)


class Stretched(gettext.NullTranslations):
    """The catalogue of the pseudo-language: it has every sentence."""

    def gettext(self, message: str) -> str:
        """The sentence, stretched."""
        return stretched(message) if message else message

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        """The form that English would take, stretched."""
        return stretched(msgid1 if n == 1 else msgid2)

    def pgettext(self, context: str, message: str) -> str:  # noqa: ARG002 (gettext's signature)
        """The words, stretched, whatever they are about."""
        return self.gettext(message)
