"""Which papers this archive handed out itself.

This module owns the list of them: one file in the archive's outermost folder, with the checksum of each evening's
checksums, in the form that `sha256sum --check` reads. Whoever sends a project can send papers with it, and checksums
that hold; what is on this list he cannot send along.
"""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Iterator
from pathlib import Path

from handouts_build.disk.files import write_all
from handouts_build.disk.folders import HANDED_OUT, OWN_PAPERS, archive_of
from handouts_build.disk.locks import locked
from handouts_build.disk.reading import is_plain_folder, plain_files, read_plain
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.records.frozen import MOST_BYTES, SUMS, kept

__all__ = ["claim", "enter", "not_ours", "own_papers"]

_MOST_LIST = 2**20
_LINE = re.compile(r"([0-9a-f]{64})  (.+)")
_PATIENCE_S = 10.0
"""Seconds to wait for another that enters papers of another project."""


def own_papers(home: Path) -> frozenset[str]:
    """Checksums of the checksums of every evening whose papers were handed out from here.

    Args:
        home: A folder of project files, anywhere in the archive.

    Raises:
        ProjectError: If the list cannot be read.
    """
    return frozenset(_lines(archive_of(home) / OWN_PAPERS).values())


def not_ours(folder: Path, shown: str, own: frozenset[str]) -> Iterator[Problem]:
    """The problem that papers were handed out by somebody else, or were exchanged together with their checksums.

    Args:
        folder: An evening's papers.
        shown: How messages name it.
        own: From `own_papers`.
    """
    if _digest(read_plain(folder / SUMS, most_bytes=MOST_BYTES)) not in own:
        name = folder.parent.parent.name
        yield Problem(
            Place(shown),
            "these papers were not handed out from this archive, or they and their checksums were changed",
            f"if they are your own, write: handouts hand-out {name} {folder.name} --ours; if somebody sent them with "
            "the project, delete the folder",
        )


def enter(folder: Path, sums: bytes) -> None:
    """Enter an evening's papers into the archive's list, in place of what it had by that name.

    Args:
        folder: Where they lie, or will: `projects/lantern/handed-out/2026-03-21-fernhollow`.
        sums: Their checksums.

    Raises:
        ProjectError: If the list cannot be read.
        OSError: If it cannot be written.
    """
    root = archive_of(folder.parents[2])
    path = root / OWN_PAPERS
    with locked(root / f".{OWN_PAPERS}.lock", patience_s=_PATIENCE_S, remove=True):
        lines = _lines(path)
        lines[Path(os.path.relpath(folder / SUMS, root)).as_posix()] = _digest(sums)
        write_all({path: "".join(f"{digest}  {name}\n" for name, digest in sorted(lines.items())).encode()})


def claim(home: Path, wanted: str, shown: str) -> Path:
    """Enter papers that lie there already, once their checksums hold.

    Args:
        home: The project's own folder.
        wanted: The evening's date or name.
        shown: How messages name the folder.

    Returns:
        Their folder.

    Raises:
        ProjectError: If there are none of that evening, or several, or something is wrong with them.
        OSError: If the list cannot be written.
    """
    there = [path for path in plain_files(home, HANDED_OUT) if is_plain_folder(path)]
    found = [path for path in there if wanted in (path.name, path.name[:10])]
    if len(found) != 1:
        names = ", ".join(path.name for path in found or there)
        problem = Problem(
            Place(f"{shown}/{HANDED_OUT}"),
            f"{'several evenings' if found else 'no papers'} of {wanted} lie here",
            f"say which: {names}" if names else "leave --ours out to hand out papers",
        )
        raise ProjectError([problem])
    kept(found[0], f"{shown}/{HANDED_OUT}/{found[0].name}")
    enter(found[0], read_plain(found[0] / SUMS, most_bytes=MOST_BYTES))
    return found[0]


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _lines(path: Path) -> dict[str, str]:
    """Checksum by path of each line of a list; none where there is no list.

    Raises:
        ProjectError: If it cannot be read.
    """
    try:
        text = read_plain(path, most_bytes=_MOST_LIST).decode()
    except FileNotFoundError:
        return {}
    except (OSError, UnicodeDecodeError) as error:
        why = getattr(error, "strerror", "") or "it is no text"
        raise ProjectError([Problem(Place(path.as_posix()), f"this list cannot be read: {why}")]) from None
    return {found[2]: found[1] for line in text.splitlines() if (found := _LINE.fullmatch(line))}
