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
    from handouts_build.outputs.output import Address
    from handouts_build.sheet.call import CallForPieces
    from handouts_build.site.build import Archive
    from handouts_build.site.summary import Summary

__all__ = [
    "makeable",
    "must_be_makeable",
    "project_file",
    "project_files",
    "published_at",
    "read",
    "summaries_of",
    "told_of",
    "workers",
]


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


def told_of(files: Sequence[Path], projects: Path) -> tuple[Sequence[Summary], Sequence[CallForPieces]]:
    """What is said of projects, and the calls for pieces among what is asked for.

    Args:
        files: Project files, and files of calls; everything of the archive where there are none.
        projects: Folder of the project files.

    Raises:
        ProjectError: With every problem of the files.
    """
    from handouts_build.disk.cache import Cache, user_folder
    from handouts_build.disk.folders import is_call
    from handouts_build.site.calls import survey_calls
    from handouts_build.site.publish import survey

    cache = Cache(user_folder())
    named = [file for file in files if is_call(file)]
    paths = [file for file in files if not is_call(file)] if files else project_files(projects)
    found = survey(paths, base=Path.cwd(), cache=cache, jobs=workers())
    problems = found.problems
    calls: tuple[CallForPieces, ...] = ()
    if named or not files:
        home = named[0].parents[2] if named else projects
        every = paths if not files else project_files(home)
        calls_found = survey_calls(home, every, tuple(found.sound.values()), base=Path.cwd(), cache=cache, only=named)
        problems, calls = (*problems, *calls_found.problems), calls_found.sound
    if problems:
        raise ProjectError(problems)
    return tuple(found.sound.values()), calls


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


def published_at(site_url: str, projects: Path) -> Address:
    """Where papers say that the archive is found.

    Args:
        site_url: What the command was told; empty for what the site's settings say.
        projects: Folder of the project files; the settings lie beside it or above.
    """
    from handouts_build.disk.site_settings import site_address
    from handouts_build.outputs.output import Address

    return Address(site_url) if site_url else Address(*site_address(projects))
