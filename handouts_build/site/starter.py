"""Something to begin from: one project, or an archive of one's own.

This module owns the files that `handouts new` and `handouts start` write. They build
as they are, so that the first change one makes is the only thing that can be wrong.
A kind of piece is one file in `starters/pieces`: its first line says in a few words
what it is, and `<2 in | 50 mm>` in it stands for the one or the other, as it is written
in inches or in millimeters.
"""

from __future__ import annotations

import enum
import re
from collections.abc import Mapping
from datetime import timedelta
from importlib import resources
from pathlib import Path

from handouts_build.disk.clock import today
from handouts_build.disk.files import write_all
from handouts_build.disk.folders import CALL_FILE, CALLS, SCHEMAS, project_files_in
from handouts_build.disk.names import PROJECT_NAME
from handouts_build.problems import Place, Problem, ProjectError, near_miss

__all__ = [
    "FIRST_KIND",
    "MeasuredIn",
    "must_be_free",
    "schemas",
    "start_archive",
    "start_call",
    "start_project",
    "starter_kinds",
    "starter_text",
]

_FIRST = "my-piece"
FIRST_KIND = "knob"
"""The kind one begins with, where none is named."""
_CALL_DAYS = {"OPENS": 0, "CLOSES": 90, "SHOWN": 97}
"""Days of a call that was just written, after the one on which it opens."""
_EITHER = re.compile(r"<([^<>|\n]+) \| ([^<>|\n]+)>")
_HEAD = "# yaml-language-server: $schema=.schemas/project.schema.json\n"


class MeasuredIn(enum.Enum):
    """The unit that a starter is written in."""

    INCHES = "in"
    MILLIMETERS = "mm"


def starter_kinds() -> Mapping[str, str]:
    """What there is to start like: a line about each kind of piece, by its name, the first kind first."""
    folder = resources.files(__package__) / "starters" / "pieces"
    names = sorted(entry.name.removesuffix(".yml") for entry in folder.iterdir() if entry.name.endswith(".yml"))
    names.sort(key=lambda name: name != FIRST_KIND)
    return {name: _starter(f"pieces/{name}.yml").partition("\n")[0].removeprefix("# ") for name in names}


def starter_text(kind: str, *, title: str, measure: MeasuredIn = MeasuredIn.INCHES) -> str:
    """A starter as it is written.

    Args:
        kind: One of `starter_kinds`.
        title: Of the piece.
        measure: The unit it is written in.

    Returns:
        The text of the project file.

    Raises:
        ProjectError: If there is no such kind.
    """
    kinds = starter_kinds()
    if kind not in kinds:
        hint = near_miss(kind, kinds) or f"the kinds are {', '.join(kinds)}"
        raise ProjectError([Problem(Place("--like"), f"there is no starter '{kind}'", hint)])
    return _HEAD + _measured(_starter(f"pieces/{kind}.yml"), measure).replace("TITLE", title, 1)


def start_project(
    name: str, folder: Path, *, like: str = FIRST_KIND, measure: MeasuredIn = MeasuredIn.INCHES
) -> tuple[Path, ...]:
    """Write a starter project, and the schema that lets an editor help with it.

    Args:
        name: Of the file, without its ending.
        folder: Where the project files lie; made if it is not there.
        like: The kind of piece, one of `starter_kinds`.
        measure: The unit it is written in.

    Returns:
        The files written.

    Raises:
        ProjectError: If the name cannot be a project's, or is taken, or there is no such kind.
    """
    must_be_free(name, folder)
    files = _project(name, folder, like=like, measure=measure)
    write_all(files)
    return tuple(files)


def start_call(name: str, folder: Path, *, measure: MeasuredIn = MeasuredIn.INCHES) -> tuple[Path, ...]:
    """Write a call for pieces that opens in a month.

    Args:
        name: Of the call's folder.
        folder: Where the project files lie; made if it is not there.
        measure: The unit it is written in.

    Returns:
        The files written.

    Raises:
        ProjectError: If the name cannot be a folder's here, or there is such a call.
    """
    _must_be_a_name(name)
    path = folder / CALLS / name / CALL_FILE
    if path.parent.exists():
        raise ProjectError([Problem(Place(path.as_posix()), "there is a call of this name already", "choose another")])
    text = _measured(_starter("call.yml"), measure).replace("TITLE", _title(name), 1).replace("NAME", name)
    opens = today() + timedelta(days=30)
    for word, after in _CALL_DAYS.items():
        text = text.replace(word, (opens + timedelta(days=after)).isoformat())
    write_all({path: text.encode()})
    return (path,)


def must_be_free(name: str, folder: Path) -> None:
    """A name must be one that a project can have, and no project's yet.

    Args:
        name: Of the file, without its ending.
        folder: Where the project files lie.

    Raises:
        ProjectError: If it is not.
    """
    _must_be_a_name(name)
    others = (path for path in project_files_in(folder) if path.stem == name)
    for taken in (*others, folder / f"{name}.yml", folder / f"{name}.yaml"):
        if taken.exists():
            raise ProjectError(
                [Problem(Place(taken.as_posix()), "there is a project of this name already", "choose another name")]
            )


def _must_be_a_name(name: str) -> None:
    if not re.fullmatch(PROJECT_NAME, name):
        right = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or _FIRST
        raise ProjectError(
            [Problem(Place(name), "this cannot be a name here", f"use small letters, digits and hyphens: {right}")]
        )


def start_archive(folder: Path) -> tuple[Path, ...]:
    """Write an archive that builds as it is: site settings, shop file, one project.

    Args:
        folder: Where it goes; made if it is not there.

    Returns:
        The files written.

    Raises:
        ProjectError: If any of the files is there already; then none is written.
    """
    projects = folder / "projects"
    name = " ".join(re.findall(r"\w+", folder.resolve().name)).capitalize() or "Handouts"
    files = {
        folder / "mkdocs.yml": _starter("mkdocs.yml").replace("ARCHIVE", name).encode(),
        folder / ".gitignore": _starter("gitignore").encode(),
        folder / "docs" / "about.md": _starter("about.md").encode(),
        projects / "shop.yml": _starter("shop.yml").encode(),
        **_project(_FIRST, projects, like=FIRST_KIND, measure=MeasuredIn.INCHES),
    }
    taken = [path for path in files if path.exists()]
    if taken:
        raise ProjectError(
            Problem(Place(path.as_posix()), "this is here already", "start an archive in a new folder")
            for path in taken
        )
    write_all(files)
    return tuple(files)


def _project(name: str, folder: Path, *, like: str, measure: MeasuredIn) -> dict[Path, bytes]:
    """A starter project of that name, with the schemas beside it."""
    return {folder / f"{name}.yml": starter_text(like, title=_title(name), measure=measure).encode(), **schemas(folder)}


def schemas(folder: Path) -> dict[Path, bytes]:
    """The schemas that lie beside project files, for editors.

    Args:
        folder: Where the project files lie.
    """
    from handouts_build.schema import project_schema, shop_schema

    return {
        folder / SCHEMAS / "project.schema.json": project_schema().encode(),
        folder / SCHEMAS / "shop.schema.json": shop_schema().encode(),
    }


def _title(name: str) -> str:
    return name.replace("-", " ").capitalize()


def _measured(text: str, measure: MeasuredIn) -> str:
    """A starter's text in one unit."""
    return _EITHER.sub(r"\1" if measure is MeasuredIn.INCHES else r"\2", text)


def _starter(file: str) -> str:
    return (resources.files(__package__) / "starters" / file).read_text(encoding="utf-8")
