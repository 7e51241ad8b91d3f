"""Which files make up an archive, and what can be wrong with them as a set.

This module owns their names: where project files are looked for, how messages call
them, and that no two share a name or a title. What is in them is for others.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.sheet import Sheet

__all__ = ["SHOP", "alike", "called", "look", "project_files"]

SHOP = "shop.yml"
"""The shop file of a folder."""
_ENDINGS = {".yml", ".yaml"}


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


def look(path: Path) -> Iterator[str]:
    """What the disk tells of a project's files without reading them: names, sizes, times."""
    folder = path.with_suffix("")
    for one in (path, *sorted(folder.rglob("*") if folder.is_dir() else ())):
        try:
            told = one.stat()
        except OSError:
            yield f"{one} gone"
        else:
            yield f"{one} {told.st_size} {told.st_mtime_ns}"


def alike(sheets: Iterable[Sheet], paths: Iterable[Path], base: Path) -> Iterator[Problem]:
    """Two files of one name, or two projects of one title, cannot share an archive."""
    stems: dict[str, Path] = {}
    for path in paths:
        first = stems.setdefault(path.stem, path)
        if first is not path:
            yield Problem(
                Place(called(path, base)),
                f"the name '{path.stem}' is already taken by {called(first, base)}",
                "rename one of the two files",
            )
    titles: dict[str, Sheet] = {}
    for sheet in sheets:
        for ready in sheet.ready:
            if ready.name in stems:
                message = f"the papers of a ready size would be called '{ready.name}', as another project is"
                yield Problem(Place(sheet.file, path="ready sizes"), message, "rename the ready size")
    for sheet in sheets:
        first_sheet = titles.setdefault(sheet.title.casefold(), sheet)
        if first_sheet is not sheet and first_sheet.name != sheet.name:
            yield Problem(
                Place(sheet.file, path="title"),
                f"the title '{sheet.title}' is already that of {first_sheet.file}",
                "give one of the two another title",
            )


def called(path: Path, base: Path) -> str:
    """How messages name a file: from the base where it lies below it."""
    try:
        return path.resolve().relative_to(base.resolve()).as_posix()
    except ValueError:
        return path.as_posix()
