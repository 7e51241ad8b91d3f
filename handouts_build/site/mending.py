"""What of a file's problems can be put right without asking what is meant: a near-miss word, a decimal comma, a unit.

This module owns which problems those are and the text that would be right. It changes a
spot only where the very text that the problem names stands there, and it writes nothing.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from pathlib import Path

from handouts_build.disk.reading import read_plain
from handouts_build.problems import Problem, word_meant
from handouts_build.quantities import right_form, right_length

__all__ = ["changes_of", "mended", "mended_text"]

_NAMED = re.compile(r"'([^']+)'")
_PARTED = re.compile(r"\d,$")


def mended(problems: Iterable[Problem], files: Collection[Path]) -> dict[Path, tuple[str, str]]:
    """The files with what is mechanical put right.

    Args:
        problems: Of any files; those of others than `files` are left alone.
        files: Which may be changed.

    Returns:
        For each file that something can be done for, its text and what would be right.

    Raises:
        OSError: If a file cannot be read.
    """
    from handouts_build.schema import LARGEST

    spots: dict[str, list[Problem]] = {}
    for problem in problems:
        spots.setdefault(problem.place.file, []).append(problem)
    found = {}
    for path in files:
        if path.as_posix() in spots:
            before = read_plain(path, most_bytes=LARGEST).decode("utf-8")
            after = mended_text(before, spots[path.as_posix()])
            if after != before:
                found[path] = (before, after)
    return found


def mended_text(text: str, problems: Iterable[Problem]) -> str:
    """A file's text with what is mechanical put right.

    Args:
        text: As it stands.
        problems: Of that file.
    """
    from handouts_build.schema import one_unit_of

    rows, unit = text.split("\n"), one_unit_of(text)
    # From the end to the beginning: what stands before a spot keeps its place.
    for problem in sorted(problems, reverse=True):
        line, column = problem.place.line - 1, problem.place.column - 1
        if not (0 <= line < len(rows) and 0 <= column < len(rows[line])):
            continue
        head, tail = rows[line][:column], rows[line][column:]
        named = _NAMED.search(problem.message)
        if named is None:
            continue
        wrong, quote = named[1], tail[:1] if tail[:1] in ("'", '"') else ""
        if not tail.startswith(quote + wrong) or tail[len(quote + wrong) :][:1].isalnum():
            continue
        if _PARTED.search(head) and wrong[:1].isdigit() and head.rstrip("0123456789,")[-1:] in (" ", "{", "["):
            # {is: 2,5 in}: to YAML the comma parts two entries.
            rows[line] = f"{head[:-1]}.{tail}"
        elif right := word_meant(problem.hint) or right_form(problem.hint) or right_length(problem.hint, unit):
            rows[line] = f"{head}{quote}{right}{tail[len(quote + wrong) :]}"
    return "\n".join(rows)


def changes_of(found: Mapping[Path, tuple[str, str]], *, then: str) -> Iterator[str]:
    """What would change, line by line.

    Args:
        found: Texts before and after, by their files.
        then: What the later text is called.
    """
    for path, (before, after) in found.items():
        shown = path.as_posix()
        rows = (before.splitlines(), after.splitlines())
        yield from difflib.unified_diff(*rows, shown, f"{shown} {then}", n=1, lineterm="")
