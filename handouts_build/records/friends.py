"""Other archives, as they told of themselves: files that a webmaster was sent and put by, read and judged.

This module owns where they lie and what may stand in one. They come from strangers: each is a plain file of a bounded
size, its texts stay texts, and its addresses are those of pages.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, TypeVar

from handouts_build.disk.names import fault_of_address
from handouts_build.disk.reading import is_plain_folder, read_plain
from handouts_build.problems import UNSEEN, Place, Problem
from handouts_build.sheet.friends import FORM, Friend, day_of

__all__ = ["friend_files", "read_friend"]

_Row = TypeVar("_Row")

_FOLDER = "friends"
_MOST_BYTES = 8 * 2**20
"""More than 5,000 pieces take."""
_MOST_FILES = 200
_MOST = {"pieces": 5000, "evenings": 2000}
_LONGEST = {"address": 500}
_LINE = 300
_HINT = "ask the other archive for its archive.json again, or take the file away"


def friend_files(archive: Path) -> tuple[Path, ...]:
    """The files of other archives, by name.

    Args:
        archive: The folder of the project files.
    """
    folder = archive / _FOLDER
    # A project of that name has the folder to itself.
    if not is_plain_folder(folder) or any((archive / f"{_FOLDER}{ending}").exists() for ending in (".yml", ".yaml")):
        return ()
    named = (path for path in folder.iterdir() if path.suffix == ".json" and not path.name.startswith("."))
    return tuple(sorted(named))[:_MOST_FILES]


def read_friend(path: Path, shown: str) -> Friend | Problem:
    """Another archive, or what is wrong with its file.

    Args:
        path: The file.
        shown: How messages name it.
    """
    try:
        entries = json.loads(read_plain(path, most_bytes=_MOST_BYTES))
    except OSError as error:
        return Problem(Place(shown), f"this file cannot be read ({error.strerror})", _HINT)
    except (ValueError, RecursionError):
        return Problem(Place(shown), "this is no JSON", _HINT)
    try:
        return _friend(entries)
    except _UnfitError as error:
        return Problem(Place(shown, path=error.path), error.fault, _HINT)


class _UnfitError(Exception):
    """Something of a file is not as it must be."""

    def __init__(self, path: str, fault: str) -> None:
        super().__init__(fault)
        self.path, self.fault = path, fault


def _friend(entries: Any) -> Friend:
    if not isinstance(entries, dict) or entries.get("format") != FORM:
        raise _UnfitError("format", f"this is not what an archive tells of itself in the form '{FORM}'")
    pieces = tuple(_listed(entries, "pieces", _piece))
    evenings = tuple(_listed(entries, "evenings", _evening))
    return Friend(_text(entries, "title", ""), _address(entries, ""), pieces, evenings)


def _listed(entries: dict[str, Any], key: str, make: Callable[[dict[str, Any], str], _Row]) -> Iterator[_Row]:
    rows = entries.get(key)
    if not isinstance(rows, list) or len(rows) > _MOST[key]:
        raise _UnfitError(key, f"this is no list of at most {_MOST[key]:,}")
    for number, row in enumerate(rows):
        if not isinstance(row, dict):
            raise _UnfitError(f"{key}[{number}]", "this is no map")
        yield make(row, f"{key}[{number}].")


def _piece(row: dict[str, Any], at: str) -> tuple[str, str, str]:
    few = ", ".join(filter(None, (_text(row, name, at, empty=True) for name in ("kind", "level", "by"))))
    return _text(row, "title", at), _address(row, at), few


def _evening(row: dict[str, Any], at: str) -> tuple[str, str, str, Any]:
    where = ", ".join(filter(None, (_text(row, "club", at), _text(row, "place", at, empty=True))))
    try:
        day = day_of(_text(row, "starts", at))
    except ValueError:
        raise _UnfitError(f"{at}starts", "this is no moment, such as 2027-03-13T19:30:00-06:00") from None
    return _text(row, "title", at), _address(row, at), where, day


def _text(row: dict[str, Any], name: str, at: str, *, empty: bool = False) -> str:
    value = row.get(name)
    if not isinstance(value, str) or UNSEEN.search(value) or len(value) > _LONGEST.get(name, _LINE):
        raise _UnfitError(f"{at}{name}", "this is no text, or a longer one than is taken")
    if not value.strip() and not empty:
        raise _UnfitError(f"{at}{name}", "this is empty")
    return value.strip()


def _address(row: dict[str, Any], at: str) -> str:
    address = _text({"address": row.get("address")}, "address", at)
    if fault := fault_of_address(address):
        raise _UnfitError(f"{at}address", f"this cannot be led to: {fault}")
    return address
