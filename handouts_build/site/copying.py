"""A project begun as a copy of another: its file and its pictures, and none of its evenings.

This module owns what goes along. The copy says in its title that it is one, so that no two
projects of an archive are called alike; everything else in the file stays to the letter.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path

from handouts_build.disk.files import write_all
from handouts_build.disk.folders import DEMONSTRATIONS, HANDED_OUT, ISSUED, PLANS, RUNS
from handouts_build.disk.reading import read_plain, walk
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.site.gathering import LARGEST_PICTURE, MOST_NAMES, project_files, unfit
from handouts_build.site.starter import must_be_free, schemas

__all__ = ["copy_project"]

_PICTURES = {".jpg", ".jpeg", ".png", ".webp"}
_EVENINGS = {DEMONSTRATIONS, RUNS, HANDED_OUT, PLANS, ISSUED}
_DEEPEST = 6


def copy_project(other: Path, name: str, folder: Path) -> tuple[Path, ...]:
    """Write a copy of a project under another name.

    Args:
        other: The file of the project to copy.
        name: Of the new file, without its ending.
        folder: Where it goes.

    Returns:
        The files written.

    Raises:
        ProjectError: If the name cannot be a project's or is taken, or the other cannot be read.
    """
    must_be_free(name, folder)
    target = folder / name
    if os.path.lexists(target):
        message = "there is something of this name already"
        raise ProjectError([Problem(Place(target.as_posix()), message, "choose another name, or move it away")])
    if problems := list(unfit(other, Path.cwd())):
        raise ProjectError(problems)
    files = {folder / f"{name}.yml": _retitled(other, folder).encode()}
    try:
        for picture in _pictures(other.with_suffix("")):
            files[target / picture] = read_plain(other.with_suffix("") / picture, most_bytes=LARGEST_PICTURE)
    except OSError as error:
        message = f"a picture cannot be read: {error.strerror}"
        raise ProjectError([Problem(Place(other.as_posix()), message)]) from None
    files |= schemas(folder)
    write_all(files)
    return tuple(files)


def _pictures(home: Path) -> Iterator[Path]:
    """The pictures of a project's own folder, from that folder; what is kept of its evenings is left out."""
    for entry in walk(home, most=MOST_NAMES, deepest=_DEEPEST):
        inside = entry.path.relative_to(home)
        if not entry.fault and inside.suffix.lower() in _PICTURES and inside.parts[0] not in _EVENINGS:
            yield inside


def _retitled(other: Path, folder: Path) -> str:
    """A project's text with a title that says it is a copy, and is no other project's of the folder."""
    from handouts_build.schema import read_document

    document = read_document(other, other.as_posix())
    title = str(document.values.get("title") or other.stem)
    taken = {str(found).casefold() for path in project_files(folder) if (found := _title(path)) is not None}
    copies = (f"{title} (copy{f' {number}' if number > 1 else ''})" for number in range(1, len(taken) + 3))
    marked = next(copy for copy in copies if copy.casefold() not in taken)
    said = json.dumps(marked, ensure_ascii=False)
    if "title" not in document.values:
        return "\n".join((f"title: {said}", *document.lines, ""))
    (first, start), (last, end) = document.span(("title",))
    rows = document.lines
    # A block (>) ends where the next line begins.
    rest = [rows[last][end:], *rows[last + 1 :]] if end else ["", *rows[last:]]
    return "\n".join((*rows[:first], rows[first][:start] + said + rest[0], *rest[1:], ""))


def _title(path: Path) -> object:
    """A project's title, if its file can be read."""
    from handouts_build.schema import read_document

    try:
        return read_document(path, path.as_posix()).values.get("title")
    except ProjectError:
        return None
