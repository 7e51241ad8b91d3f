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
from handouts_build.disk.folders import CALL_FILE, CALLS, ENTRIES, SHOP, call_files_in, entry_files, project_files_in
from handouts_build.disk.names import PROJECT_NAME, fault_of_name
from handouts_build.disk.reading import read_plain
from handouts_build.door.look import look_page
from handouts_build.door.trial import Trial, tried
from handouts_build.door.unpack import Parcel, unpack
from handouts_build.problems import Place, Problem, ProjectError, near_miss
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
    """Folder that it is taken into: of the project files, or of a call's entries."""

    @property
    def can_be_published(self) -> bool:
        """Whether the site could be built with it."""
        return not (self.trial.problems or self.trial.ended)

    def take(self) -> tuple[Path, ...]:
        """Copy it into its folder, as plain files.

        Raises:
            ProjectError: If something of that name is there by now.
            OSError: If it cannot be written; nothing of it is there then.
        """
        _must_be_free(self.name, self.projects)
        files = {self.projects / f"{self.name}.yml": self.parcel.project}
        files |= {self.projects / self.name / path: content for path, content in self.parcel.pictures.items()}
        write_all(files)
        return tuple(files)


@contextmanager
def looked_at(
    source: Path, *, name: str, projects: Path, progress: Callable[[str], None], call: str = ""
) -> Iterator[Looked]:
    """Unpack and try a parcel; the folder it is tried in goes when the context ends.

    Args:
        source: A folder, a zip or a tar file.
        name: What the project, or the entry, is to be called; empty for the sender's own name.
        projects: Folder of the project files.
        progress: Told what is being done.
        call: The call for pieces that an entry is to; empty for a project.

    Raises:
        ProjectError: If it is not taken, or the name cannot be had.
    """
    into = _entries_of(call, projects) if call else projects
    progress(f"{source.name}: unpacking")
    parcel = unpack(source)
    called = name or re.sub(r"[^a-z0-9]+", "-", parcel.name.lower()).strip("-")[:60]
    if not re.fullmatch(PROJECT_NAME, called) or fault_of_name(called):
        hint = "choose one of small letters, digits and hyphens: --as walnut-bowl"
        what = "an entry's" if call else "a project's"
        raise ProjectError([Problem(Place(source.as_posix()), f"'{called}' cannot be {what} name", hint)])
    _must_be_free(called, into)
    with tempfile.TemporaryDirectory(prefix="handouts-take-in-") as folder:
        home = Path(folder).resolve()
        place = home / "projects" / into.relative_to(projects)
        files = {place / f"{called}.yml": parcel.project}
        files |= {place / called / path: content for path, content in parcel.pictures.items()}
        files |= {home / "projects" / path.relative_to(projects): content for path, content in _around(call, projects)}
        write_all(files)
        progress(f"{called}: trying it out")
        known = [path.stem for path in project_files_in(projects)] if call else []
        trial = tried(home, called, call=call, known=known)
        page = home / _PAGE
        page.write_text(look_page(trial, name=called, sender=source.name, left=parcel.left), encoding="utf-8")
        yield Looked(parcel, called, page, trial, into)


def _entries_of(call: str, projects: Path) -> Path:
    """The folder of a call's entries; need not exist.

    Raises:
        ProjectError: If there is no such call.
    """
    files = {file.parent.name: file for file in call_files_in(projects)}
    if call not in files:
        hint = near_miss(call, files)
        raise ProjectError([Problem(Place(f"{projects.as_posix()}/{CALLS}"), f"there is no call '{call}'", hint)])
    return files[call].parent / ENTRIES


def _around(call: str, projects: Path) -> Iterator[tuple[Path, bytes]]:
    """What of the archive a parcel is tried beside: the shop file, or the call and the words of its other entries."""
    if call:
        file = projects / CALLS / call / CALL_FILE
        for path in (file, *entry_files(file)):
            yield path, read_plain(path, most_bytes=LARGEST)
    elif os.path.lexists(projects / SHOP):
        # It is judged by the kit of whoever publishes it.
        yield projects / SHOP, read_plain(projects / SHOP, most_bytes=LARGEST)


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
