"""The sentences that the templates of papers say themselves.

A template asks for a sentence by its English, `said("Kit")`, and is handed all of them in the language that is spoken.
This module owns how they are found in the templates, which is also how translators learn of them.
"""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path

from handouts_build.language import ENGLISH, spoken, tr

__all__ = ["paper_language", "template_sentences", "template_words"]

_OUTPUTS = Path(__file__).parents[1]
_SAID = re.compile(r'\bsaid\(\s*("(?:[^"\\]|\\.)*")')


@cache
def template_sentences() -> tuple[str, ...]:
    """Every sentence that a template asks for, each once, in English."""
    texts = (path.read_text(encoding="utf-8") for path in sorted(_OUTPUTS.glob("*/templates/*.typ")))
    # A string of Typst is written as one of JSON is, but for signs by their number, which no template needs.
    return tuple(dict.fromkeys(json.loads(found) for text in texts for found in _SAID.findall(text)))


def template_words() -> dict[str, str]:
    """What the templates say in the language that is spoken, by its English."""
    return {sentence: tr(sentence) for sentence in template_sentences()}


def paper_language() -> str:
    """The language that is spoken, as a PDF says it; English is that of the United States."""
    return "en-US" if spoken() == ENGLISH else spoken()
