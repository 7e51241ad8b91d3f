"""The pages' scripts and style sheets as they are published: without what is for whoever changes them.

This module owns what is left out: comments that have lines to themselves, empty lines and
indentation. No text in one of them goes over several lines, which a test holds the scripts to.
A sentence of a script, `tr("…")`, is put into the language spoken here, so that the page looks nothing up. One that
speaks of a count, `count === 1 ? tr("…") : tr("…")`, gets as many forms as the language has.
"""

from __future__ import annotations

import json
import re

from handouts_build.language import plural_forms, tr

__all__ = ["COUNTED", "SENTENCE", "published_script", "published_style"]

_COMMENT = re.compile(r"^[ \t]*/\*(?:(?!\*/).)*\*/[ \t]*\n", re.MULTILINE | re.DOTALL)
_EDGE = re.compile(r"^[ \t\n]+", re.MULTILINE)
_SAID = r'\btr\(("(?:[^"\\]|\\.)*")\)'
SENTENCE = re.compile(_SAID)
"""A sentence of a script."""
COUNTED = re.compile(rf"(\w+) === 1 \? {_SAID} : {_SAID}")
"""One that speaks of a count: its name, and its forms for one and for many."""


def published_script(source: str) -> str:
    """A script without comment lines, empty lines and indentation, its sentences in the language spoken.

    Args:
        source: The script as it is kept.
    """
    return SENTENCE.sub(lambda found: _written(tr(json.loads(found[1]))), COUNTED.sub(_counted, _without(source)))


def _counted(found: re.Match[str]) -> str:
    """The choice among the forms of a sentence that speaks of a count."""
    of = plural_forms(json.loads(found[2]), json.loads(found[3]))
    if of.rule == "n != 1":
        return f"{found[1]} === 1 ? {_written(of.forms[0])} : {_written(of.forms[1])}"
    return f"[{','.join(map(_written, of.forms))}][(n => +({of.rule}))({found[1]})]"


def _written(text: str) -> str:
    """A text as a script has it."""
    return json.dumps(text, ensure_ascii=False)


def published_style(source: str) -> str:
    """A style sheet without the same.

    Args:
        source: The style sheet as it is kept.
    """
    return _without(source)


def _without(source: str) -> str:
    return _EDGE.sub("", _COMMENT.sub("", source.replace("\r\n", "\n")))
