"""What is wrong with a file, said once and in the author's words.

This module owns the shape of a complaint and its one printed form. It leaves
finding faults to the readers and the arithmetic, and exit status to the command.

The errors of the library, all with fields rather than ready text:

    HandoutsError
    └── ProjectError        one or more Problems, sorted by place
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["MOST", "UNSEEN", "HandoutsError", "Place", "Problem", "ProjectError", "near_miss", "word_meant"]


MOST = 100
"""Problems of one file that are sought and shown; who has more has one cause for many."""


@dataclass(frozen=True, order=True)
class Place:
    """A spot in a file that a person can go to: lines and columns count from 1."""

    file: str
    """Path as the author would type it, with forward slashes."""
    line: int = 0
    """Line, 0 when the whole file is meant."""
    column: int = 0
    """Column, 0 when the whole line or file is meant."""
    path: str = ""
    """Keys that lead there, such as `steps[2].minutes`."""

    def __str__(self) -> str:
        spot = self.file
        if self.line:
            spot += f":{self.line}:{self.column}"
        return f"{_tidy(spot)}: {_tidy(self.path, most=120)}" if self.path else _tidy(spot)


@dataclass(frozen=True, order=True)
class Problem:
    """One thing that keeps a file from being used, and what would be right."""

    place: Place
    message: str
    hint: str = ""

    def __str__(self) -> str:
        text = f"{self.place}: {_tidy(self.message)}"
        if self.hint:
            text += "\n    hint: " + "\n          ".join(_tidy(line, most=_MOST_HINT) for line in self.hint.split("\n"))
        return text


class HandoutsError(Exception):
    """Anything this library raises on purpose."""


class ProjectError(HandoutsError):
    """A file, or several, cannot be used.

    Args:
        problems: What is wrong; at least one.
    """

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(sorted(set(problems)))
        super().__init__(self.problems)

    def __str__(self) -> str:
        shown = [str(problem) for problem in self.problems[:MOST]]
        if len(self.problems) > MOST:
            shown.append(f"and {len(self.problems) - MOST:,} more; put these right first")
        return "\n".join(shown)


UNSEEN = re.compile(
    r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\ud800-\udfff]"
)
"""Signs that text must not hold: they move the cursor, color the screen, turn the reading order round, or take no room,
so that a text reads as another than it is. What joins letters and emoji is none of them."""
_MOST_HINT = 2_000
"""Characters of a line of a hint: with a list of what is known."""


def _tidy(text: str, *, most: int = 240) -> str:
    """Author text fit to stand in a message: one line, of sane length, with nothing that acts on a terminal."""
    if len(text) > most:
        text = f"{text[: most - 60]} … {text[-50:]}"
    text = text.replace("\t", "\\t").replace("\n", "\\n")
    return UNSEEN.sub(lambda found: found.group().encode("unicode_escape").decode(), text)


def near_miss(word: str, known: Iterable[str], *, alike: float = 0.6) -> str:
    """A hint naming the closest known word, or listing the known words if few.

    Args:
        word: What the author wrote.
        known: What would have been right.
        alike: How like it the known word must be spelled, from 0 to 1.

    Returns:
        A sentence, empty when there is nothing useful to say.
    """
    words = sorted(known)
    begun = [candidate for candidate in words if len(word) > 2 and candidate.startswith(word)]
    close = begun[:1] or difflib.get_close_matches(word, words, n=1, cutoff=alike)
    if close:
        return f"did you mean '{close[0]}'?"
    if 0 < len(words) <= 24:
        return "known here: " + ", ".join(words)
    return ""


_MEANT = re.compile(r"did you mean '([^']+)'\?")


def word_meant(hint: str) -> str:
    """The one word that a hint of `near_miss` names; empty if it names none, or several.

    Args:
        hint: As `near_miss` says it.
    """
    found = _MEANT.fullmatch(hint)
    return found[1] if found else ""
