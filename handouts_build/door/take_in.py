"""Taking in what somebody sent: unpacked apart, tried, shown, and copied only on a yes.

This module owns the order of these, and where what is taken goes.
"""

from __future__ import annotations

import os
import re
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from handouts_build.disk.files import write_all
from handouts_build.disk.folders import SHOP, project_files_in
from handouts_build.disk.names import PROJECT_NAME, fault_of_name
from handouts_build.disk.reading import read_plain
from handouts_build.door.look import look_page
from handouts_build.door.trial import Trial, tried
from handouts_build.door.unpack import Parcel, unpack
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.schema.reader import LARGEST

__all__ = ["Looked", "looked_at"]

_PAGE = "look.html"


@dataclass(frozen=True)
class Looked:
    """A parcel that was tried and can be looked at."""

    parcel: Parcel
    name: str
    page: Path
    """What the webmaster looks at."""
    trial: Trial
    projects: Path

    @property
    def can_be_published(self) -> bool:
        """Whether the site could be built with it."""
        return not (self.trial.problems or self.trial.ended)

    def take(self) -> tuple[Path, ...]:
        """Copy it into the folder of the projects, as plain files.

        Raises:
            ProjectError: If a project of that name is there by now.
            OSError: If it cannot be written; nothing of it is there then.
        """
        _must_be_free(self.name, self.projects)
        files = {self.projects / f"{self.name}.yml": self.parcel.project}
        files |= {self.projects / self.name / path: content for path, content in self.parcel.pictures.items()}
        write_all(files)
        return tuple(files)


@contextmanager
def looked_at(source: Path, *, name: str, projects: Path, progress: Callable[[str], None]) -> Iterator[Looked]:
    """Unpack and try a parcel; the folder it is tried in goes when the context ends.

    Args:
        source: A folder, a zip or a tar file.
        name: What the project is to be called; empty for the sender's own name.
        projects: Folder of the project files.
        progress: Told what is being done.

    Raises:
        ProjectError: If it is not taken, or the name cannot be had.
    """
    progress(f"{source.name}: unpacking")
    parcel = unpack(source)
    called = name or re.sub(r"[^a-z0-9]+", "-", parcel.name.lower()).strip("-")[:60]
    if not re.fullmatch(PROJECT_NAME, called) or fault_of_name(called):
        hint = "choose one of small letters, digits and hyphens: --as walnut-bowl"
        raise ProjectError([Problem(Place(source.as_posix()), f"'{called}' cannot be a project's name", hint)])
    _must_be_free(called, projects)
    with tempfile.TemporaryDirectory(prefix="handouts-take-in-") as folder:
        home = Path(folder).resolve()
        files = {home / "projects" / f"{called}.yml": parcel.project}
        files |= {home / "projects" / called / path: content for path, content in parcel.pictures.items()}
        if os.path.lexists(projects / SHOP):
            # It is judged by the kit of whoever publishes it.
            files[home / "projects" / SHOP] = read_plain(projects / SHOP, most_bytes=LARGEST)
        write_all(files)
        progress(f"{called}: trying it out")
        trial = tried(home, called)
        page = home / _PAGE
        page.write_text(look_page(trial, name=called, sender=source.name, left=parcel.left), encoding="utf-8")
        yield Looked(parcel, called, page, trial, projects)


def _must_be_free(name: str, projects: Path) -> None:
    """Refuse a name that is taken.

    Raises:
        ProjectError: Naming what has it.
    """
    others = (path for path in project_files_in(projects) if path.stem == name)
    for taken in (*others, projects / f"{name}.yml", projects / f"{name}.yaml", projects / name):
        if os.path.lexists(taken):
            problem = Problem(
                Place(taken.as_posix()), "there is something of this name already", "choose another: --as"
            )
            raise ProjectError([problem])
