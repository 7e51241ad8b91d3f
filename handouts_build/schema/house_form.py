"""A project file in house form: the same words, the same order, the same comments, set out alike everywhere.

This module owns the form, and is the only home of the library that keeps comments while it
writes. The file is read by our own reader before and after: a text whose values would not
be the same is not given back.
"""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.schema.reader import parse_document, read_document

__all__ = ["house_form"]

_WIDEST = 4096
"""No line is broken that the author did not break; what stands in braces or brackets goes on one line."""


def house_form(path: Path, shown: str) -> tuple[str, str]:
    """A file as it is, and in house form.

    Two spaces further in for what belongs to a key, lists two spaces in, one space after a colon
    and a comma, no space at the end of a line, and a line break at the end of the file.

    Args:
        path: The file.
        shown: How messages name it.

    Returns:
        Both texts.

    Raises:
        ProjectError: If the file cannot be read, or would not mean the same.
    """
    before = read_document(path, shown)
    text = "\n".join((*before.lines, ""))
    made = _set_out(text, shown)
    if parse_document(made, shown).values != before.values or _comments(made) != _comments(text):
        raise _cannot(shown)
    return text, made


def _cannot(shown: str) -> ProjectError:
    message = "this file is set out in a way that cannot be kept while it is put in house form"
    return ProjectError([Problem(Place(shown), message, "leave it as it is, or set it out by hand")])


def _set_out(text: str, shown: str) -> str:
    # Loaded here: no other command needs it.
    from ruamel.yaml import YAML
    from ruamel.yaml.error import YAMLError

    # It makes texts, lists and mappings with their comments, and no objects of a file's choice.
    round_trip: Any = YAML(typ="rt", pure=True)
    round_trip.preserve_quotes = True
    round_trip.width = _WIDEST
    round_trip.indent(mapping=2, sequence=4, offset=2)
    stream = io.StringIO()
    try:
        round_trip.dump(round_trip.load(text), stream)
    except (YAMLError, ValueError, RecursionError):
        raise _cannot(shown) from None
    lines = [line.rstrip() for line in stream.getvalue().splitlines()]
    return "\n".join(lines).rstrip("\n") + "\n"


def _comments(text: str) -> list[str]:
    """The comments of a text, in order, as far as a line alone can tell."""
    found = (
        line.partition(" #")[2] if not line.lstrip().startswith("#") else line.lstrip()[1:]
        for line in text.splitlines()
    )
    return [" ".join(comment.split()) for comment in found if comment.strip()]
