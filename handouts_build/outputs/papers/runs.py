"""Text on its way to a paper: stretches of plain strings with a manner, ready as JSON.

This module owns which part of a text is a shop fraction, so that the font may set
it as one. Text stays text: nothing here, or after it, reads it as markup.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from handouts_build.language import in_a_row, tr, tr_later
from handouts_build.outputs.citations import Citations
from handouts_build.sheet import Citation, Paragraph

__all__ = ["Pieces", "cited", "joined", "mark", "paragraphs", "pieces", "plain", "runs"]

Pieces = list[dict[str, str | bool]]
"""Stretches of text: `t` the text, `s` its manner, `q` whether it holds a shop fraction."""

_STANDING = {"memory": tr_later("from memory, not read again")}
"""Of a source, where its own word says too little."""

# A fraction counts as one only with its unit: "3/4 in" is a size, "1/2 of them" and a date are not.
# Its whole number stays outside: the font would make it part of the fraction.
_FRACTION = re.compile(r"(?<![\d/])\d{1,3}/\d{1,3}(?=[ \u00a0]?(?:in\b|ft\b|min\b|″|\"))")


def pieces(text: str, style: str = "plain") -> Pieces:
    """Text in one manner, its shop fractions told apart.

    Args:
        text: The text.
        style: Its manner: `plain`, `emphasis` or `value`.
    """
    found: Pieces = []
    last = 0
    for match in _FRACTION.finditer(text):
        if match.start() > last:
            found.append({"t": text[last : match.start()], "s": style, "q": False})
        found.append({"t": match.group(), "s": style, "q": True})
        last = match.end()
    if last < len(text) or not found:
        found.append({"t": text[last:], "s": style, "q": False})
    return found


def runs(paragraph: Paragraph) -> Pieces:
    """A paragraph of author text."""
    return [piece for run in paragraph for piece in pieces(run.text, run.style)]


def paragraphs(texts: Iterable[Paragraph]) -> list[Pieces]:
    """Paragraphs of author text, empty ones left out."""
    return [runs(text) for text in texts if any(run.text.strip() for run in text)]


def joined(parts: Iterable[str]) -> Pieces:
    """Texts as one list in words."""
    return pieces(in_a_row(part for part in parts if part))


def plain(paragraphs: Iterable[Paragraph]) -> str:
    """Paragraphs as one plain string."""
    return " ".join("".join(run.text for run in paragraph) for paragraph in paragraphs)


def mark(citations: Citations, source: Citation | None) -> str:
    """The mark that stands for a source on paper, such as `[2]`; empty for none.

    Args:
        citations: What the paper named so far; the source joins it.
        source: The source.
    """
    return f"[{citations.number(source)}]" if source is not None else ""


def cited(source: Citation) -> str:
    """A source with its standing, unless its text says it already."""
    text = source.text.rstrip(".")
    if source.standing.lower() in text.lower():
        return f"{text}."
    return f"{text}; {tr(_STANDING.get(source.standing, source.standing))}."
