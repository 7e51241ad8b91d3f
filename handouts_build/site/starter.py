"""Something to begin from: one project, or an archive of one's own.

This module owns the files that `handouts new` and `handouts start` write. They build
as they are, so that the first change one makes is the only thing that can be wrong.
"""

from __future__ import annotations

import re
from importlib import resources
from pathlib import Path

from handouts_build.disk.files import write_all
from handouts_build.problems import Place, Problem, ProjectError

__all__ = ["start_archive", "start_project"]

_SCHEMAS = Path(".schemas")
_FIRST = "my-piece"


def start_project(name: str, folder: Path) -> tuple[Path, ...]:
    """Write a starter project, and the schema that lets an editor help with it.

    Args:
        name: Of the file, without its ending.
        folder: Where the project files lie; made if it is not there.

    Returns:
        The files written.

    Raises:
        ProjectError: If the name cannot be a project's, or is taken.
    """
    if not re.fullmatch(r"[a-z0-9][a-z0-9-]{0,59}", name):
        right = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or _FIRST
        raise ProjectError(
            [Problem(Place(name), "this cannot be a project's name", f"use small letters, digits and hyphens: {right}")]
        )
    for taken in (folder / f"{name}.yml", folder / f"{name}.yaml"):
        if taken.exists():
            raise ProjectError(
                [Problem(Place(taken.as_posix()), "there is a project of this name already", "choose another name")]
            )
    files = _project(name, folder)
    write_all(files)
    return tuple(files)


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
        **_project(_FIRST, projects),
    }
    taken = [path for path in files if path.exists()]
    if taken:
        raise ProjectError(
            Problem(Place(path.as_posix()), "this is here already", "start an archive in a new folder")
            for path in taken
        )
    write_all(files)
    return tuple(files)


def _project(name: str, folder: Path) -> dict[Path, bytes]:
    """A starter project of that name, with the schemas beside it."""
    from handouts_build.schema import project_schema, shop_schema

    title = name.replace("-", " ").capitalize()
    return {
        folder / f"{name}.yml": _starter("piece.yml").replace("Starter piece", title).encode(),
        folder / _SCHEMAS / "project.schema.json": project_schema().encode(),
        folder / _SCHEMAS / "shop.schema.json": shop_schema().encode(),
    }


def _starter(file: str) -> str:
    return (resources.files(__package__) / "starters" / file).read_text(encoding="utf-8")
