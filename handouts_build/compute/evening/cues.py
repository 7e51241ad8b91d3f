"""What to say at a step of an evening: the author's own cue, or the sentence that does most.

This module owns which sentence that is: one that tells what to do, with a worked-out
number in it, wherever it stands. Text is the author's; nothing is rewritten.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from handouts_build.sheet import Paragraph, Step

__all__ = ["cue", "joined"]

_MOST = 2
"""Sentences: common practice, no published source."""
_LEAST_LETTERS = 20
"""Letters before a stop that ends a sentence: shorter ones are abbreviations."""
_TELLING = {
    "a", "an", "after", "all", "any", "as", "at", "because", "before", "both", "but", "by", "each", "every", "for",
    "from", "here", "if", "in", "it", "its", "no", "not", "now", "of", "on", "once", "one", "only", "so", "some",
    "such", "that", "the", "their", "then", "there", "these", "they", "this", "those", "to", "two", "until", "what",
    "when", "where", "which", "while", "who", "with", "you", "your",
}  # fmt: skip
"""Words that begin a sentence which tells how things are, rather than what to do."""
_BEST = 3
"""What a sentence is worth that tells what to do and holds a worked-out number."""
_VALUE = "\x02"
"""Stands before a worked-out number while sentences are looked through; no author can write it."""


def cue(step: Step) -> str:
    """What to say at a step, as plain text."""
    if step.cue:
        return " ".join(_text(paragraph).replace(_VALUE, "") for paragraph in step.cue)
    sentences = [sentence for paragraph in step.say for sentence in _sentences(_text(paragraph))]
    if not sentences:
        return ""
    worth = [_worth(sentence) for sentence in sentences]
    best = max(worth)
    chosen = [sentence for sentence, points in zip(sentences, worth, strict=True) if points == best]
    return " ".join(chosen[: _MOST if best == _BEST else 1]).replace(_VALUE, "")


def _worth(sentence: str) -> int:
    first = re.match(r"\W*(\w+)", sentence)
    does = first is not None and first[1].casefold() not in _TELLING
    return 2 * (_VALUE in sentence) + does


def _text(paragraph: Paragraph) -> str:
    text = "".join(f"{_VALUE if run.style == 'value' else ''}{run.text}" for run in paragraph)
    # Spaces that hold a number and its unit together stay.
    return re.sub(r"[ \t\n]+", " ", text).strip()


def _sentences(text: str) -> Iterator[str]:
    start = 0
    for at, sign in enumerate(text):
        ends = sign in ".!?" and at - start > _LEAST_LETTERS and text[at + 1 : at + 2] in ("", " ")
        if ends:
            yield text[start : at + 1].strip()
            start = at + 1
    if rest := text[start:].strip():
        yield rest


def joined(paragraphs: Sequence[Paragraph]) -> str:
    """Paragraphs as plain text."""
    return " ".join("".join(run.text for run in paragraph) for paragraph in paragraphs)
