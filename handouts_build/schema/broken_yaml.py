"""A text that is not YAML: which slip of a writer's it is, where that was made, and what would be right.

This module owns the words and the places. A parser stops where it can go no further, which is often a line or ten
behind the slip: what it says and where is told here as plain values, and the text is looked at for the rest.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

__all__ = ["Slip", "Spot", "slip_of"]

Spot = tuple[int, int]
"""Line and column, both counted from 0."""

_BRACKETS = {"{": "}", "[": "]"}
_COLON_IN_TEXT = "put quotes around text that holds ': '"


@dataclass(frozen=True)
class Slip:
    """What was written wrong."""

    at: Spot
    message: str
    hint: str


def slip_of(
    said: str, rows: Sequence[str], *, at: Spot, opened: Spot | None = None, quoted: Spot | None = None
) -> Slip:
    """The slip behind what a parser says.

    Args:
        said: Its words, in small letters.
        rows: The text, line by line.
        at: Where it stopped.
        opened: Where the list, map, text or key begins that it was in.
        quoted: Where the last text in quotes begins, if that runs over more than one line.

    Returns:
        The slip; where no known one fits, the parser's own words.
    """
    row = rows[at[0]] if at[0] < len(rows) else ""
    if "'\\t'" in said or "tab character" in said or "\t" in row[: len(row) - len(row.lstrip())]:
        return Slip(at, "a tab cannot indent YAML", "indent with spaces")
    if "quoted scalar" in said:
        hint = "close it; a length in inches starts with a number: 3/8 in"
        return Slip(opened or at, "a quotation mark is opened and never closed", hint)
    if quoted is not None and _breaks_off(said):
        return Slip(quoted, "a quotation mark is opened and not closed in its line", "close it where the text ends")
    if "mapping values are not allowed" in said:
        return _colon(rows, at)
    if "could not find expected ':'" in said:
        return _no_colon(rows, opened or at)
    if "unexpected ':'" in said:
        return Slip(at, "nothing stands behind this colon", "write a value there, or leave the key out")
    if "expected ',' or" in said:
        return _open_bracket(rows, at, opened)
    if "expected node content" in said:
        return Slip(at, "a bracket is opened here and not closed", "a list is [a, b], a map is {a: 1, b: 2}")
    if "-' indicator" in said or "expected <block end>" in said or "expected key" in said:
        return _out_of_line(rows, at)
    for words, message, hint in _OTHERS:
        if words in said:
            return Slip(at, message, hint)
    return Slip(at, f"this is not YAML: {said}", "check indentation, colons and quotation marks")


_OTHERS = (
    ("single document", "a second document starts here (---)", "one file holds one project"),
    ("tag", "tags (!) are not read", "put quotes around the text"),
    ("alias", "anchors (&) and aliases (*) are not read", "put quotes around text that starts with & or *"),
    ("anchor", "anchors (&) and aliases (*) are not read", "put quotes around text that starts with & or *"),
    ("cannot start any token", "a value cannot start with this sign", "put quotes around the text"),
    ("sequence entries are not allowed", "a dash is not expected here", "begin a new line for each entry of a list"),
)


def _breaks_off(said: str) -> bool:
    return any(words in said for words in ("expected key", "expected <block end>", "-' indicator", "expected ',' or"))


def _indent(row: str) -> int:
    return len(row) - len(row.lstrip(" "))


def _says_something(row: str) -> bool:
    return bool(row.strip()) and not row.lstrip().startswith("#")


def _columns(rows: Sequence[str], line: int) -> Iterator[int]:
    """Where a line could begin like what is above it, the nearest first: a dash as dashes do, a key as keys do."""
    dashed = line < len(rows) and rows[line].lstrip().startswith("- ")
    least = None
    for row in reversed(rows[:line]):
        indent = _indent(row)
        if not _says_something(row) or (least is not None and indent >= least):
            continue
        least = indent
        dashes = re.match(r" *((?:- +)*)", row)
        if dashes and dashes[1]:
            yield indent if dashed else indent + len(dashes[1])
        elif not dashed:
            yield indent


def _side_by_side(*columns: int) -> str:
    """Where a line would stand right."""
    places = [f"{column} spaces in" if column else "at the left edge" for column in sorted(columns)]
    return f"keys that belong together begin in one column, here {' or '.join(places)}"


def _out_of_line(rows: Sequence[str], at: Spot) -> Slip:
    line, column = at
    row = rows[line] if line < len(rows) else ""
    if column == _indent(row):
        columns = list(_columns(rows, line))
        if column not in columns:
            message = f"this line stands {column} spaces in and fits none above it"
            away = min((abs(other - column) for other in columns), default=0)
            return Slip(at, message, _side_by_side(*(other for other in columns if abs(other - column) == away)))
    elif row[column : column + 1] in ("}", "]"):
        return Slip(at, "a bracket is closed here that was not opened", "take it away, or open it in its line")
    return Slip(at, "this line does not fit the ones above it", "check its indentation, its quotes and its colon")


def _colon(rows: Sequence[str], at: Spot) -> Slip:
    """A colon where no key can end: in a text, or behind a key that stands further in than its neighbors."""
    line, column = at
    row = rows[line]
    above = [(number, other) for number, other in enumerate(rows[:line]) if _says_something(other)]
    own_key = re.fullmatch(r" *(?:- +)*[\w ]+", row[:column]) is not None
    if own_key and above:
        number, other = above[-1]
        if re.match(r"[\w ]+:\S", other.lstrip()) and _indent(other) == _indent(row):
            return _no_colon(rows, (number, _indent(other)))
        if _indent(row) > _indent(other):
            message = f"this line stands {_indent(row)} spaces in, and the one above it has a value already"
            return Slip((line, _indent(row)), message, _side_by_side(next(_columns(rows, line), 0)))
    return Slip(at, "a colon is not expected here", f"{_COLON_IN_TEXT}, or check the indentation")


def _no_colon(rows: Sequence[str], at: Spot) -> Slip:
    line, column = at
    row = rows[line][column:] if line < len(rows) else ""
    if found := re.match(r"([\w ]+):(\S.*)", row):
        return Slip(at, "a space is missing behind the colon", f"write {found[1]}: {found[2]}")
    hint = "write key: value; a text of several lines begins with a bar behind its key: say: |"
    return Slip(at, "this line has no key with a colon", hint)


def _open_bracket(rows: Sequence[str], at: Spot, opened: Spot | None) -> Slip:
    line, column = at
    if opened is None or opened[0] == line:
        if rows[line][column : column + 1] == ":":
            return Slip(at, "a colon is not expected here", f"put a comma before the key, or {_COLON_IN_TEXT[4:]}")
        return Slip(at, "a comma or a closing bracket is missing", "a list is [a, b], a map is {a: 1, b: 2}")
    sign = rows[opened[0]][opened[1]]
    return Slip(
        opened, f"the bracket {sign} is opened here and not closed", f"write {_BRACKETS.get(sign, sign)} where it ends"
    )
