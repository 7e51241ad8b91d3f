"""The projects that a command was asked for, read as far as it needs them.

Heavy imports stay inside, so that `handouts check` answers at once.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from handouts_build.problems import Place, Problem, ProjectError, near_miss

if TYPE_CHECKING:
    from handouts_build.site.build import Archive
    from handouts_build.site.summary import Summary

__all__ = ["makeable", "must_be_makeable", "project_file", "project_files", "read", "summaries_of", "workers"]


def project_file(name: str, projects: Path) -> Path:
    """A project's file by its name; a path is one already.

    Args:
        name: Of the project, or the path of its file.
        projects: Folder of the project files.

    Raises:
        ProjectError: If there is no project of that name; the message names what is like it.
    """
    if name.endswith((".yml", ".yaml")):
        return Path(name)
    files = project_files(projects)
    found = next((path for path in files if path.stem == name), None)
    if found is None:
        known = [path.stem for path in files]
        message = f"there is no project '{name}' in {projects.as_posix()}/"
        raise ProjectError([Problem(Place(name), message, near_miss(name, known))])
    return found


def project_files(projects: Path) -> Sequence[Path]:
    """The files of every project in a folder."""
    from handouts_build.site import gathering

    return gathering.project_files(projects)


def summaries_of(files: Sequence[Path]) -> Sequence[Summary]:
    """What is said of projects, kept from before where nothing changed."""
    from handouts_build.disk.cache import Cache, user_folder
    from handouts_build.site.publish import summarize

    return summarize(files, base=Path.cwd(), cache=Cache(user_folder()), jobs=workers())


def read(files: Sequence[Path], projects: Path, *, whole_runs: bool = True) -> Archive:
    """Projects with their sheets and records.

    Args:
        files: Project files; every project where there are none.
        projects: Folder of the project files.
        whole_runs: Whether a timed run that cannot be read is a problem; else it is only told.

    Raises:
        ProjectError: With every problem of the files.
    """
    from handouts_build.disk.cache import Cache, user_folder
    from handouts_build.site.build import read_archive, read_projects

    cache = Cache(user_folder())
    if files:
        return read_projects(files, base=Path.cwd(), cache=cache, whole_runs=whole_runs)
    return read_archive(projects, base=Path.cwd(), cache=cache)


def makeable(files: Sequence[Path], projects: Path) -> Archive:
    """An archive fit to be handed out: nothing in it is stopped.

    Args:
        files: Project files; every project where there are none.
        projects: Folder of the project files.

    Raises:
        ProjectError: With every problem of the files.
        SystemExit: If there is a finding of `stop`; it is said.
    """
    archive = read(files, projects)
    must_be_makeable(str(finding) for sheet in archive.sheets for finding in sheet.findings if finding.level == "stop")
    return archive


def must_be_makeable(stops: Iterable[str]) -> None:
    """End here, with what is said, if there is a finding of `stop`."""
    if found := list(stops):
        for finding in found:
            click.echo(finding, err=True)
        click.echo("Nothing was written: a piece that cannot be made as written is not handed out.", err=True)
        sys.exit(1)


def workers() -> int:
    """How many processes work at once: as many as the machine has processors."""
    return os.cpu_count() or 1
