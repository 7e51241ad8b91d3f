"""Which files make up an archive, and what can be wrong with them as a set.

This module owns their names and their bytes: where project files are looked for, how
messages call them, what belongs to each, how much of it there may be, and that no two
share a name or a title. What is in them is for others.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from handouts_build.disk.folders import (
    HANDED_OUT,
    ISSUED,
    OWN_PAPERS,
    archive_of,
    astray,
    is_issued,
    project_files_in,
    shop_files,
)
from handouts_build.disk.reading import Entry, digest_plain, walk
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.site.summary import Summary

__all__ = [
    "LARGEST_PICTURE",
    "MOST_NAMES",
    "alike",
    "belongings",
    "called",
    "look",
    "project_files",
    "stray",
    "unfit",
]

_READ = {".yml", ".yaml", ".jpg", ".jpeg", ".png", ".webp"}
LARGEST_PICTURE = 64 * 2**20
"""Bytes of one file in a project's folder: more than any camera writes into a picture."""
_MOST_BYTES = 2**30
"""Bytes of all that is read of one project."""
MOST_NAMES = 10_000
"""Names in a project's folder that are looked at: the papers of some 800 evenings."""
_DEEPEST = 6
"""Folders in each other, below a project's own."""


def project_files(folder: Path) -> tuple[Path, ...]:
    """The project files of a folder and of the folders in it that hold some, by path.

    Raises:
        ProjectError: If there is no such folder.
    """
    if not folder.is_dir():
        raise ProjectError(
            [
                Problem(
                    Place(folder.as_posix()),
                    "there is no such folder",
                    "say where the project files are, or start one with: handouts new NAME",
                )
            ]
        )
    return project_files_in(folder)


def stray(paths: Iterable[Path], base: Path) -> Iterator[Problem]:
    """Folders beside project files that nobody would read, where all the files of a folder are asked for.

    Args:
        paths: The project files asked for.
        base: Folder that messages name files from.

    Returns:
        A problem for each such folder.
    """
    asked = set(paths)
    for home in dict.fromkeys(path.parent for path in asked):
        if home.is_dir() and set(files := project_files(home)) <= asked:
            yield from astray([file for file in files if file.parent == home], called(home, base))


def look(path: Path) -> Iterator[str]:
    """What the disk tells of a project's files without reading them: what each is, its size and its times."""
    return (entry.looks for entry in _entries(path))


def belongings(path: Path) -> Iterator[str | bytes]:
    """Name and digest of each of a project's files; of what is not read, why."""
    left = _MOST_BYTES
    for entry in _entries(path):
        yield Path(os.path.relpath(entry.path, path.parent)).as_posix()
        if entry.fault or entry.status is None:
            yield entry.fault
            continue
        left -= entry.status.st_size
        try:
            yield digest_plain(entry.path, most_bytes=min(LARGEST_PICTURE, max(0, left)))
        except OSError as error:
            yield error.strerror or "gone"


def unfit(path: Path, base: Path) -> Iterator[Problem]:
    """What in a project's own folder is no plain file of that folder, or is more than is read: one problem.

    Args:
        path: The project's file; what is wrong with that itself is told where it is read.
        base: Folder that messages name files from.
    """
    left = _MOST_BYTES
    elsewhere = {path, *_of_the_archive(path)}
    for entry in _entries(path):
        if entry.path in elsewhere:
            continue
        fault = entry.fault
        if not fault and entry.status is not None:
            left -= entry.status.st_size
            if entry.status.st_size > LARGEST_PICTURE:
                fault = f"it has {entry.status.st_size:,} bytes; at most {LARGEST_PICTURE:,} are read"
            elif left < 0:
                fault = f"with it the folder holds more than {_MOST_BYTES:,} bytes"
        if fault:
            yield Problem(
                Place(called(entry.path, base)),
                f"this cannot be read: {fault}",
                "a project's folder holds plain files of its own and no links; put a copy there, or take it out",
            )
            return


def _entries(path: Path) -> Iterator[Entry]:
    """A project's file, what of the archive's counts for it, and what stands in the folder that has its name.

    Of one that is archived as issued, what is kept of that alone.
    """
    if is_issued(path):
        yield from walk(path.with_suffix("") / ISSUED, most=MOST_NAMES, deepest=_DEEPEST)
        return
    for file in (path, *_of_the_archive(path)):
        try:
            yield Entry(file, file.lstat())
        except (OSError, ValueError):
            yield Entry(file, None, "it is gone")
    folder = path.with_suffix("")
    if os.path.lexists(folder):
        for entry in walk(folder, most=MOST_NAMES, deepest=_DEEPEST):
            if entry.fault or _counts(entry.path.relative_to(folder)):
                yield entry


def _of_the_archive(path: Path) -> tuple[Path, ...]:
    """The shop files that count for a project, and the list of what was handed out if it has such papers."""
    own = archive_of(path.parent) / OWN_PAPERS
    return (*shop_files(path.parent), *((own,) if (path.with_suffix("") / HANDED_OUT).is_dir() else ()))


def _counts(name: Path) -> bool:
    """Whether anything published may follow from a file of a project's folder: a film beside it need not be read."""
    return name.suffix.lower() in _READ or name.parts[0] == HANDED_OUT


def alike(archive: Iterable[Summary], paths: Iterable[Path], base: Path) -> Iterator[Problem]:
    """Two files of one name, or two projects that nothing tells apart, cannot share an archive.

    Args:
        archive: What there is to say of each project.
        paths: Their files, those that cannot be read among them.
        base: Folder that messages name files from.

    Returns:
        A problem for each name or title that is taken, at the later of the two.
    """
    stems: dict[str, Path] = {}
    for path in paths:
        first = stems.setdefault(path.stem, path)
        if first is not path:
            yield Problem(
                Place(called(path, base)),
                f"the name '{path.stem}' is already taken by {called(first, base)}",
                "rename one of the two files",
            )
    projects = tuple(archive)
    titles: dict[tuple[str, ...], Summary] = {}
    sizes: dict[str, Summary] = {}
    for project in projects:
        for ready in project.ready:
            first_of = sizes.setdefault(ready, project)
            if ready in stems or first_of is not project:
                other = "another project is" if ready in stems else f"those of a ready size of {first_of.file} are"
                message = f"the papers of a ready size would be called '{ready}', as {other}"
                yield Problem(Place(project.file, path="ready sizes"), message, "rename the ready size")
    for project in projects:
        # Pieces of one title are told apart by who made them, or by the folder that they lie in.
        seen = (project.title, project.by, project.club, project.file.rpartition("/")[0])
        before = titles.setdefault(tuple(map(str.casefold, seen)), project)
        if before is not project and before.name != project.name:
            yield Problem(
                Place(project.file, path="title"),
                f"the title '{project.title}' is already that of {before.file}",
                "give one of the two another title, or say by whom each is: by: A. Turner",
            )
    yield from _old_names(projects, stems)


def _old_names(projects: Iterable[Summary], stems: Mapping[str, Path]) -> Iterator[Problem]:
    """Names that projects had before and that lead nowhere certain: those of another project, now or before."""
    had: dict[str, Summary] = {}
    for project in projects:
        for old in project.formerly:
            first = had.setdefault(old, project)
            if old not in stems and first is project:
                continue
            now = f"the name of {stems[old].name} now" if old in stems else f"said of {first.file} already"
            yield Problem(
                Place(project.file, path="formerly"),
                f"'{old}' is {now}",
                "write only names that no project has any more, each in one file",
            )


def called(path: Path, base: Path) -> str:
    """How messages name a file: from the base where it lies below it.

    Args:
        path: The file.
        base: The folder.

    Returns:
        The path with strokes as POSIX writes it, whatever the system.
    """
    try:
        # A link is called by its own name, not by that of what it leads to.
        return (path.parent.resolve() / path.name).relative_to(base.resolve()).as_posix()
    except (ValueError, OSError, RuntimeError):
        # It lies elsewhere, or below a link that leads back to itself.
        return path.as_posix()
