"""The line by which an author accepts a finding, put into the text of a project file.

This module owns where it goes and how it is set: as the step itself is, in lines of its own or within braces. It
writes nothing, and gives back no text that would not read as meant. The reason is the author's: without one there
is no such line.
"""

from __future__ import annotations

import json
from collections.abc import Iterator

from handouts_build.problems import ProjectError
from handouts_build.schema import Key, parse_document
from handouts_build.sheet import Acceptance

__all__ = ["with_acceptance"]


def with_acceptance(text: str, wanted: Acceptance, reason: str) -> str:
    """A project file's text with one finding accepted.

    Args:
        text: Of the file, as it can be read.
        wanted: What is accepted, and at which step.
        reason: Why, in the author's words.

    Returns:
        The text with the line; as it was where the step is not there, accepts it already, or cannot hold it.

    Raises:
        ProjectError: If the text cannot be read.
    """
    document = parse_document(text, "")
    step = _value(document.values, wanted.step)
    if not isinstance(step, dict) or not reason.strip():
        return text
    there = step.get("accept")
    if there is not None and (not isinstance(there, dict) or wanted.word in there):
        return text
    entry = f"{wanted.word}: {json.dumps(reason.strip(), ensure_ascii=False)}"
    home: Key = (*wanted.step, "accept") if there is not None else wanted.step
    # A key of its own goes on the line below the last of the step; one more entry, below the last of those.
    line = entry if there is not None else f"accept: {{{entry}}}"
    rows = text.split("\n")
    (first, column), (last, end) = document.span(home)
    if rows[first][column : column + 1] == "{":
        at = end - 1
        head = rows[last][:at].rstrip()
        between = "" if head.endswith("{") else " " if head.endswith(",") else ", "
        rows[last] = f"{head}{between}{line}{rows[last][at:]}"
    else:
        after = max(_last_line(rows, document.span(key)) for key in _below(document.values, home))
        rows.insert(after + 1, f"{' ' * column}{line}")
    made = "\n".join(rows)
    try:
        accepted = _value(parse_document(made, "").values, (*wanted.step, "accept", wanted.word))
    except ProjectError:
        return text
    return made if accepted == reason.strip() else text


def _value(values: object, key: Key) -> object:
    for step in key:
        try:
            values = values[step]  # type: ignore[index]
        except (KeyError, IndexError, TypeError):
            return None
    return values


def _below(values: object, key: Key) -> Iterator[Key]:
    """The way to each value below a key that holds no others."""
    found = _value(values, key)
    names: list[str | int] = list(found) if isinstance(found, dict) else []
    if isinstance(found, list):
        names += range(len(found))
    for name in names:
        yield from _below(values, (*key, name))
    if not names:
        yield key


def _last_line(rows: list[str], span: tuple[tuple[int, int], tuple[int, int]]) -> int:
    """The last line that a value stands on: a text in lines of its own ends before the empty lines that follow it."""
    (first, _), (last, column) = span
    last = min(last if column else last - 1, len(rows) - 1)
    while last > first and not rows[last].strip():
        last -= 1
    # What closes lists and mappings written within brackets may stand on lines of its own.
    while last + 1 < len(rows) and rows[last + 1].strip() and not rows[last + 1].strip("]}, "):
        last += 1
    return max(first, last)
