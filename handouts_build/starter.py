"""A project to begin from.

This module owns the file that `handouts new` writes. It builds as it is, so that
the first change one makes is the only thing that can be wrong.
"""

from __future__ import annotations

import re
from importlib import resources
from pathlib import Path

from handouts_build.files import write_all
from handouts_build.problems import Place, Problem, ProjectError

__all__ = ["start_project"]

_SCHEMA = Path(".schemas") / "project.schema.json"


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
    from handouts_build.schema import project_schema

    path = folder / f"{name}.yml"
    if not re.fullmatch(r"[a-z0-9][a-z0-9-]{0,59}", name):
        right = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "my-piece"
        raise ProjectError(
            [Problem(Place(name), "this cannot be a project's name", f"use small letters, digits and hyphens: {right}")]
        )
    for taken in (path, path.with_suffix(".yaml")):
        if taken.exists():
            raise ProjectError(
                [Problem(Place(taken.as_posix()), "there is a project of this name already", "choose another name")]
            )
    title = name.replace("-", " ").capitalize()
    text = (resources.files(__package__) / "starter.yml").read_text(encoding="utf-8").replace("Starter piece", title)
    files = {path: text.encode(), folder / _SCHEMA: project_schema().encode()}
    write_all(files)
    return tuple(files)
