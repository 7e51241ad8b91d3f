"""The folders beside a project's file: what they are called, and those that nobody would read.

This module owns their names. A folder of another name than these, or of a project that
is not there, would be passed over in silence with all that is in it; here it is told.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from difflib import get_close_matches
from pathlib import Path

from handouts_build.disk.reading import is_plain_folder, plain_files
from handouts_build.problems import Place, Problem

__all__ = [
    "DEMONSTRATIONS",
    "HANDED_OUT",
    "PLANS",
    "RUNS",
    "astray",
    "demonstration_files",
    "demonstrations_of_all",
    "over",
    "unread",
]

DEMONSTRATIONS, RUNS, HANDED_OUT, PLANS = "demonstrations", "dry-runs", "handed-out", "plans"
_KNOWN = (DEMONSTRATIONS, RUNS, HANDED_OUT, PLANS)
_ENDINGS = (".yml", ".yaml")


def over(project: Path, today: date) -> tuple[str, ...]:
    """The demonstrations of a project whose day is over, by their files' names, without reading them.

    Args:
        project: The project's file.
        today: Every day before this one is over.
    """
    names = (file.stem for file in demonstration_files(project))
    return tuple(name for name in names if name[:10] < today.isoformat())


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
    return tuple(file for home in _folders(projects) for file in plain_files(home, DEMONSTRATIONS, *_ENDINGS))


def astray(projects: Iterable[Path], shown: str) -> Iterator[Problem]:
    """Folders beside project files that hold what belongs to a project, and are no project's.

    Args:
        projects: All the project files of one folder.
        shown: How messages name that folder.
    """
    paths = tuple(projects)
    stems = [path.stem for path in paths]
    for home in dict.fromkeys(path.parent for path in paths):
        for folder in _folders(home):
            if folder.name in stems or not _belongs_to_a_project(folder):
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
