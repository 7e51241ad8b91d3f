"""Which files make up an archive, and what can be wrong with them as a set.

This module owns their names and their bytes: where project files are looked for, how
messages call them, what belongs to each, and that no two share a name or a title. What
is in them is for others.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator
from pathlib import Path

from handouts_build.disk.folders import HANDED_OUT, astray
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.site.summary import Summary

__all__ = ["SHOP", "alike", "belongings", "called", "look", "project_files", "stray"]

SHOP = "shop.yml"
"""The shop file of a folder."""
_ENDINGS = {".yml", ".yaml"}
_READ = {*_ENDINGS, ".jpg", ".jpeg", ".png", ".webp"}


def project_files(folder: Path) -> tuple[Path, ...]:
    """The project files of a folder, by name.

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
    return tuple(
        sorted(
            path
            for path in folder.iterdir()
            if path.suffix.lower() in _ENDINGS and path.name != SHOP and not path.name.startswith(".")
        )
    )


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
            yield from astray(files, called(home, base))


def look(path: Path) -> Iterator[str]:
    """What the disk tells of a project's files without reading them: names, sizes, times."""
    for file in _files(path):
        try:
            status = file.stat()
        except OSError:
            yield f"{file} gone"
        else:
            yield f"{file} {status.st_size} {status.st_mtime_ns}"


def belongings(path: Path) -> Iterator[str | bytes]:
    """Name and digest of each of a project's files."""
    for file in _files(path):
        yield file.relative_to(path.parent).as_posix()
        try:
            # A pipe would be waited for.
            if not file.is_file():
                yield "gone"
                continue
            with file.open("rb") as stream:
                yield hashlib.file_digest(stream, "sha256").digest()
        except OSError:
            yield "gone"


def _files(path: Path) -> Iterator[Path]:
    """A project's file, the shop file beside it, and the files in the folder that has its name."""
    yield path
    yield path.parent / SHOP
    folder = path.with_suffix("")
    if folder.is_dir():
        yield from sorted(file for file in folder.rglob("*") if file.is_file() and _counts(file.relative_to(folder)))


def _counts(name: Path) -> bool:
    """Whether anything published may follow from a file of a project's folder: a film beside it need not be read."""
    hidden = any(part.startswith(".") for part in name.parts)
    return not hidden and (name.suffix.lower() in _READ or name.parts[0] == HANDED_OUT)


def alike(archive: Iterable[Summary], paths: Iterable[Path], base: Path) -> Iterator[Problem]:
    """Two files of one name, or two projects of one title, cannot share an archive.

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
    titles: dict[str, Summary] = {}
    sizes: dict[str, Summary] = {}
    for project in projects:
        for ready in project.ready:
            first_of = sizes.setdefault(ready, project)
            if ready in stems or first_of is not project:
                other = "another project is" if ready in stems else f"those of a ready size of {first_of.file} are"
                message = f"the papers of a ready size would be called '{ready}', as {other}"
                yield Problem(Place(project.file, path="ready sizes"), message, "rename the ready size")
    for project in projects:
        before = titles.setdefault(project.title.casefold(), project)
        if before is not project and before.name != project.name:
            yield Problem(
                Place(project.file, path="title"),
                f"the title '{project.title}' is already that of {before.file}",
                "give one of the two another title",
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
        return path.resolve().relative_to(base.resolve()).as_posix()
    except (ValueError, OSError, RuntimeError):
        # It lies elsewhere, or is a link that leads back to itself.
        return path.as_posix()
