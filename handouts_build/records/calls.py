"""Calls for pieces as they lie in an archive: found, read, and what is wrong with them.

This module owns where their files lie.

    projects/calls/offcuts-2026/call.yml
    projects/calls/offcuts-2026/entries/scoop.yml
    projects/calls/offcuts-2026/entries/scoop/scoop.jpg
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from pathlib import Path

from handouts_build.disk.folders import entry_files
from handouts_build.disk.names import PROJECT_NAME
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.sheet.call import CallForPieces

__all__ = ["MOST_ENTRIES", "read_call"]

MOST_ENTRIES = 500
"""Entries of one call that are read."""


def read_call(
    path: Path, projects: Mapping[str, str], shown: Callable[[Path], str], *, without: Path | None = None
) -> tuple[CallForPieces | None, tuple[Problem, ...]]:
    """A call with its entries, and everything that is wrong with either.

    Args:
        path: The call's file.
        projects: The name that each project has now, by its names now and before.
        shown: How messages name a file.
        without: An entry's file that is left out.

    Returns:
        The call, None where its own file cannot be read; and the problems.
    """
    from handouts_build.compute.calls import SentEntry, held_together
    from handouts_build.schema import CallKeys, EntryKeys, load_file

    files = tuple(file for file in entry_files(path) if file != without)
    problems = [*_names(path, files, shown)]
    if len(files) > MOST_ENTRIES:
        message = f"{len(files):,} entries; at most {MOST_ENTRIES} are read"
        return None, (*problems, Problem(Place(shown(path)), message, "part the call into several"))
    sent, unread = [], []
    for file in files:
        try:
            sent.append(SentEntry(file, *load_file(EntryKeys, file, shown(file))))
        except ProjectError as error:
            problems += error.problems
            unread.append(file.stem)
    try:
        asked, document = load_file(CallKeys, path, shown(path))
    except ProjectError as error:
        return None, (*problems, *error.problems)
    try:
        call, found = held_together(path.parent.name, asked, document, sent, projects, unread)
    except ProjectError as error:
        return None, (*problems, *error.problems)
    return call, (*problems, *found)


def _names(path: Path, files: tuple[Path, ...], shown: Callable[[Path], str]) -> list[Problem]:
    """Names of the call's folder and of its entries that no address can have."""
    stems = [(path.parent, path.parent.name), *((file, file.stem) for file in files)]
    hint = "use small letters, digits and hyphens, such as offcuts-2026"
    return [
        Problem(
            Place(shown(file)), f"'{stem}' cannot be the name of a {'call' if file is path.parent else 'entry'}", hint
        )
        for file, stem in stems
        if not re.fullmatch(PROJECT_NAME, stem)
    ]
