"""The pages' scripts and style sheets as they are published: without what is for whoever changes them.

This module owns what is left out: comments that have lines to themselves, empty lines and
indentation. No text in one of them goes over several lines, which a test holds the scripts to.
A sentence of a script, `tr("…")`, is put into the language spoken here, so that the page looks nothing up.
"""

from __future__ import annotations

import json
import re

from handouts_build.language import tr

__all__ = ["published_script", "published_style"]

_COMMENT = re.compile(r"^[ \t]*/\*(?:(?!\*/).)*\*/[ \t]*\n", re.MULTILINE | re.DOTALL)
_EDGE = re.compile(r"^[ \t\n]+", re.MULTILINE)
_SENTENCE = re.compile(r'\btr\(("(?:[^"\\]|\\.)*")\)')


def published_script(source: str) -> str:
    """A script without comment lines, empty lines and indentation, its sentences in the language spoken.

    Args:
        source: The script as it is kept.
    """
    return _SENTENCE.sub(lambda found: json.dumps(tr(json.loads(found[1])), ensure_ascii=False), _without(source))


def published_style(source: str) -> str:
    """A style sheet without the same.

    Args:
        source: The style sheet as it is kept.
    """
    return _without(source)


def _without(source: str) -> str:
    return _EDGE.sub("", _COMMENT.sub("", source.replace("\r\n", "\n")))
