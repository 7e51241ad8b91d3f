"""The folders of an archive: of project files, beside one, of calls for pieces, and those that nobody would read.

This module owns their names, and how far an archive reaches: a folder in it may hold project
files of its own, with a shop file for these alone. What stands beside a project's file under
another name than these, or belongs to a project that is not there, would be passed over in
silence with all that is in it; here it is told.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from datetime import date
from difflib import get_close_matches
from pathlib import Path

from handouts_build.disk.reading import is_plain_folder, plain_files
from handouts_build.problems import Place, Problem

__all__ = [
    "CALLS",
    "CALL_FILE",
    "DEMONSTRATIONS",
    "ENTRIES",
    "HANDED_OUT",
    "ISSUED",
    "OWN_PAPERS",
    "PLANS",
    "RUNS",
    "SCHEMAS",
    "SHOP",
    "archive_of",
    "astray",
    "astray_of_calls",
    "call_files_in",
    "calls_folder",
    "demonstration_files",
    "demonstrations_of_all",
    "entry_files",
    "folder_in_archive",
    "is_call",
    "is_issued",
    "over",
    "project_files_in",
    "shop_files",
    "unread",
]

DEMONSTRATIONS, RUNS, HANDED_OUT, PLANS, ISSUED = "demonstrations", "dry-runs", "handed-out", "plans", "issued"
_KNOWN = (DEMONSTRATIONS, RUNS, HANDED_OUT, PLANS, ISSUED)
_ENDINGS = (".yml", ".yaml")
CALLS, CALL_FILE, ENTRIES = "calls", "call.yml", "entries"
"""The folder of an archive's calls for pieces; in it a folder for each call, with its file and what was sent."""
OWN_PAPERS = "handed-out.sha256"
"""The list of what was handed out from an archive, in its outermost folder."""
SCHEMAS = ".schemas"
"""The folder beside project files of what helps an editor with them."""
SHOP = "shop.yml"
"""The shop file of a folder of project files."""
_SITE, _ARCHIVE = "mkdocs.yml", "projects"
"""Stands beside an archive's folder, never in it; and what that folder is called, unless somebody says otherwise."""


def project_files_in(folder: Path) -> tuple[Path, ...]:
    """The project files of a folder and of the folders in it that hold some, by path.

    Args:
        folder: The folder.
    """
    ours = _project_files(folder)
    return tuple(sorted((*ours, *(path for below in _shelves(folder, ours) for path in project_files_in(below)))))


def archive_of(home: Path) -> Path:
    """The outermost folder of the archive that a folder of project files belongs to.

    Args:
        home: Where a project's file lies.
    """
    above = home.parent
    if home.name == _ARCHIVE or above == home or (above / _SITE).exists():
        return home
    return archive_of(above) if (above / SHOP).exists() or _project_files(above) else home


def folder_in_archive(project: Path) -> str:
    """The folder of the archive that a project's file lies in, with strokes; empty for the archive's own.

    Args:
        project: The project's file.
    """
    below = project.parent.relative_to(archive_of(project.parent)).as_posix()
    return "" if below == "." else below


def shop_files(home: Path) -> tuple[Path, ...]:
    """Where the shop files that count in a folder of project files lie, if there are any: the nearest last.

    Args:
        home: Where a project's file lies.
    """
    root = archive_of(home)
    folders = [home, *home.parents]
    return tuple(folder / SHOP for folder in reversed(folders[: folders.index(root) + 1]))


def _project_files(folder: Path) -> tuple[Path, ...]:
    """The project files that lie in a folder itself."""
    if not folder.is_dir():
        return ()
    return tuple(
        path
        for path in folder.iterdir()
        if path.suffix.lower() in _ENDINGS and path.name != SHOP and not path.name.startswith(".")
    )


def _shelves(folder: Path, ours: Iterable[Path]) -> Iterator[Path]:
    """The folders in a folder that hold project files, in themselves or deeper, and belong to none."""
    stems = {path.stem for path in ours}
    calls = calls_folder(folder)
    return (below for below in _folders(folder) if below.name not in stems and below != calls and _is_shelf(below))


def calls_folder(home: Path) -> Path | None:
    """The folder of calls for pieces, if a folder of project files is an archive's own and has one.

    Args:
        home: The folder of project files. One named `calls` that belongs to a project, or lies deeper, is none.
    """
    found = home / CALLS
    taken = any((home / f"{CALLS}{ending}").exists() for ending in _ENDINGS)
    return found if is_plain_folder(found) and not taken and archive_of(home) == home else None


def call_files_in(home: Path) -> tuple[Path, ...]:
    """The files of an archive's calls for pieces, by the names of their folders.

    Args:
        home: The archive's folder of project files.
    """
    calls = calls_folder(home)
    folders = _folders(calls) if calls is not None else ()
    return tuple(folder / CALL_FILE for folder in folders if (folder / CALL_FILE).exists())


def is_call(path: Path) -> bool:
    """Whether a file is that of a call for pieces, by where it lies."""
    return path.name == CALL_FILE and path.parent.parent.name == CALLS


def entry_files(call: Path) -> tuple[Path, ...]:
    """The files of what was sent to a call, by name; none where their folder is a link.

    Args:
        call: The call's file.
    """
    return plain_files(call.parent, ENTRIES, *_ENDINGS)


def astray_of_calls(home: Path, shown: str) -> Iterator[Problem]:
    """What lies in the folder of an archive's calls and belongs to none.

    Args:
        home: The archive's folder of project files.
        shown: How messages name it.
    """
    calls = calls_folder(home)
    if calls is None:
        return
    for file in sorted(path for path in calls.iterdir() if path.suffix.lower() in _ENDINGS):
        hint = f"a call is a folder with its file in it: {CALLS}/{file.stem}/{CALL_FILE}"
        yield Problem(Place(f"{shown}/{CALLS}/{file.name}"), "this belongs to no call for pieces", hint)
    for folder in _folders(calls):
        if not (folder / CALL_FILE).exists():
            place = Place(f"{shown}/{CALLS}/{folder.name}")
            yield Problem(
                place, f"there is no {CALL_FILE} in it, so nothing in this folder is read", f"write {CALL_FILE} there"
            )


def _is_shelf(folder: Path) -> bool:
    files = _project_files(folder)
    stems = {path.stem for path in files}
    below = _folders(folder)
    if any(inside.name in _KNOWN and inside.name not in stems for inside in below):
        return False
    return bool(files) or any(_is_shelf(inside) for inside in below)


def over(project: Path, today: date) -> tuple[str, ...]:
    """The demonstrations of a project whose day is over, by their files' names, without reading them.

    Args:
        project: The project's file.
        today: Every day before this one is over.
    """
    names = (file.stem for file in demonstration_files(project))
    return tuple(name for name in names if name[:10] < today.isoformat())


def is_issued(project: Path) -> bool:
    """Whether a project is archived as issued: then nothing else of it is read.

    Args:
        project: The project's file.
    """
    return os.path.lexists(project.with_suffix("") / ISSUED)


def demonstration_files(project: Path) -> tuple[Path, ...]:
    """The files of a project's demonstrations, by name; none where their folder is a link.

    Args:
        project: The project's file.
    """
    return plain_files(project.with_suffix(""), DEMONSTRATIONS, *_ENDINGS)


def demonstrations_of_all(projects: Path) -> tuple[Path, ...]:
    """The files of the demonstrations of every project, in the order of their names.

    Args:
        projects: The folder of the project files.
    """
    shelves = tuple(_shelves(projects, _project_files(projects)))
    own = (folder for folder in _folders(projects) if folder not in (*shelves, calls_folder(projects)))
    found = (file for home in own for file in plain_files(home, DEMONSTRATIONS, *_ENDINGS))
    return (*found, *(file for shelf in shelves for file in demonstrations_of_all(shelf)))


def astray(projects: Iterable[Path], shown: str) -> Iterator[Problem]:
    """Folders beside project files that hold what belongs to a project, and are no project's.

    Args:
        projects: All the project files of one folder, without those of the folders in it.
        shown: How messages name that folder.
    """
    paths = tuple(projects)
    stems = [path.stem for path in paths]
    for home in dict.fromkeys(path.parent for path in paths):
        passed_over = {*_shelves(home, paths), calls_folder(home)}
        for folder in _folders(home):
            if folder.name in stems or folder in passed_over or not _belongs_to_a_project(folder):
                continue
            near = get_close_matches(folder.name, stems, n=1)
            yield Problem(
                Place(f"{shown}/{folder.name}"),
                f"there is no project {folder.name}.yml, so nothing in this folder is read",
                f"rename it to {near[0]}" if near else "name the folder as its project file, or move it elsewhere",
            )


def unread(home: Path, shown: str) -> Iterator[Problem]:
    """Folders of a project that hold files of the kind that is read, or have nearly the name of one that is.

    Args:
        home: The project's own folder.
        shown: How messages name it.
    """
    for folder in _folders(home):
        if folder.name in _KNOWN:
            continue
        near = get_close_matches(folder.name.lower().replace("_", "-"), _KNOWN, n=1, cutoff=0.75)
        if near or _holds_files(folder):
            yield Problem(
                Place(f"{shown}/{folder.name}"),
                "nothing in this folder is read",
                f"rename it to {near[0]}" if near else f"what is read is in {', '.join(_KNOWN)}",
            )


def _folders(home: Path) -> tuple[Path, ...]:
    if not home.is_dir():
        return ()
    return tuple(sorted(path for path in home.iterdir() if is_plain_folder(path) and not path.name.startswith(".")))


def _belongs_to_a_project(folder: Path) -> bool:
    return any(subfolder.name in _KNOWN or _holds_files(subfolder) for subfolder in _folders(folder))


def _holds_files(folder: Path) -> bool:
    return any(file.suffix in _ENDINGS for file in folder.iterdir())
