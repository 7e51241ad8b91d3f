"""Somebody else's files in a folder that changes place with a new one: they go along, and none is lost on the way.

This module owns how. Each gets a second name in the new folder before the two change places, so that it is the same
file in both. Whoever saves one of them in the moment between puts another file in its place: what was found is
written down, and what is not as it was found is carried over afterwards.
"""

from __future__ import annotations

import contextlib
import itertools
import json
import os
import shutil
import stat
from collections.abc import Collection, Iterator
from pathlib import Path
from typing import Any

from handouts_build.disk.folders import SCHEMAS

__all__ = ["carry_over", "give_second_names", "take_second_names"]

_WORK_TREE = ".git"
"""A folder of work under version control has a folder of this name, or a file that says where it is."""
_MOST = 2000
"""Files that are given second names; where there are more, none is."""


def give_second_names(folder: Path, whole: Path, *, mine: Collection[str], record: Path) -> bool:
    """Have a folder's other files in a new one too.

    Args:
        folder: The folder as it is.
        whole: The new one, on the same disk.
        mine: Names of files that the new one has, or that are to go, with forward slashes.
        record: File to write down in what was found.

    Returns:
        Whether the new one has them all; if not, it has none of them. A folder that somebody stands in, one
        with hidden folders, and one with anything but plain files and folders is better left where it is.

    Raises:
        OSError: If it cannot be written down.
    """
    if any(where.is_relative_to(folder) for where in _stood_in()):
        return False
    known = set(mine)
    others: dict[str, int] = {}
    folders = []
    for path in _entries(folder):
        name, status = path.relative_to(folder).as_posix(), path.lstat()
        if len(others) >= _MOST or path.name == _WORK_TREE:
            return False
        if stat.S_ISDIR(status.st_mode):
            if path.name.startswith(".") and path.name != SCHEMAS:
                return False
            folders.append(name)
        elif not stat.S_ISREG(status.st_mode):
            return False
        elif name not in known:
            others[name] = status.st_ino
    found = {"folder": folder.stat().st_ino, "mine": sorted(known), "others": others}
    with record.open("w", encoding="utf-8") as file:
        json.dump(found, file)
        file.flush()
        os.fsync(file.fileno())
    try:
        for name in others:
            (whole / name).parent.mkdir(parents=True, exist_ok=True)
            (whole / name).hardlink_to(folder / name)
        for name in folders:
            if not any((folder / name).iterdir()):
                (whole / name).mkdir(parents=True, exist_ok=True)
            if (whole / name).is_dir():
                shutil.copymode(folder / name, whole / name)
    except OSError:
        # The disk knows no second names, or somebody has just taken a file away.
        take_second_names(whole, record)
        return False
    return True


def take_second_names(whole: Path, record: Path) -> None:
    """Take from a new folder what it was given of others.

    Args:
        whole: The new folder; it has not changed place.
        record: What was written down.
    """
    for name in _read(record)["others"]:
        with contextlib.suppress(OSError):
            (whole / name).unlink()
    record.unlink()


def carry_over(whole: Path, folder: Path, *, record: Path) -> None:
    """Carry over what others saved between the second names and the exchange; nothing if there was no exchange.

    Args:
        whole: Where the old folder is after the exchange.
        folder: Where the new one is.
        record: What was written down; need not exist.

    Raises:
        OSError: If a file cannot be carried over.
    """
    if not (record.is_file() and whole.is_dir()):
        return
    found = _read(record)
    if whole.stat().st_ino != found["folder"]:
        return
    for path in _entries(whole):
        name, status = path.relative_to(whole).as_posix(), path.lstat()
        if stat.S_ISDIR(status.st_mode) or name in found["mine"] or found["others"].get(name) == status.st_ino:
            continue
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        if os.path.lexists(target) and target.lstat().st_ino != found["others"].get(name):
            # It was saved once more since.
            names = (target.with_name(f"{target.name}.kept-{number}") for number in itertools.count(1))
            target = next(free for free in names if not os.path.lexists(free))
        path.replace(target)


def _stood_in() -> Iterator[Path]:
    """Where this process stands, and the others of this machine, as far as the system tells: a shell of one's own."""
    yield Path.cwd()
    for link in Path("/proc").glob("[0-9]*/cwd"):
        # It has ended meanwhile, or is somebody else's.
        with contextlib.suppress(OSError):
            yield link.readlink()


def _entries(folder: Path) -> Iterator[Path]:
    """Files and folders below a folder, a folder before what is in it; no link is followed."""
    for home, folders, files in os.walk(folder):
        for name in sorted((*folders, *files)):
            yield Path(home, name)


def _read(record: Path) -> dict[str, Any]:
    """What was written down; nothing if that is not what this module writes."""
    with contextlib.suppress(ValueError):
        found = json.loads(record.read_text(encoding="utf-8"))
        kinds = {"folder": int, "mine": list, "others": dict}
        if isinstance(found, dict) and all(isinstance(found.get(key), kind) for key, kind in kinds.items()):
            return found
    return {"folder": None, "mine": [], "others": {}}
