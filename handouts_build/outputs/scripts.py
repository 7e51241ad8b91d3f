"""The pages' scripts and style sheets as they are published: without the comments that are for whoever changes them.

This module owns what is left out: comments that have lines to themselves, empty lines and
indentation. No text in one of them goes over several lines, which a test holds the scripts to.
"""

from __future__ import annotations

import re

__all__ = ["published_script", "published_style"]

_COMMENT = re.compile(r"^[ \t]*/\*(?:(?!\*/).)*\*/[ \t]*\n", re.MULTILINE | re.DOTALL)
_EDGE = re.compile(r"^[ \t\n]+", re.MULTILINE)


def published_script(source: str) -> str:
    """A script without comment lines, empty lines and indentation.

    Args:
        source: The script as it is kept.
    """
    return _EDGE.sub("", _COMMENT.sub("", source.replace("\r\n", "\n")))


def published_style(source: str) -> str:
    """A style sheet without the same.

    Args:
        source: The style sheet as it is kept.
    """
    return published_script(source)
