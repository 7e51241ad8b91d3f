"""What must not be published: where the private folder may not lie, and how its files are told.

This module owns both. It reads of a site's settings only the folders, line by line:
those files hold tags that nothing but the site engine may act on.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from handouts_build.paper import EVENING, SIZES
from handouts_build.problems import Place, Problem, ProjectError

__all__ = ["MARK", "is_private", "refuse_public"]

MARK = "handouts-build: private"
"""Stands in every private page."""

_SETTINGS = ("mkdocs.yml", "mkdocs.yaml")
_DEFAULTS = {"docs_dir": "docs", "site_dir": "site"}
_PAPER = re.compile(rf"(?:[a-z0-9-]+-)?(?:{'|'.join(EVENING)})-(?:{'|'.join(SIZES)})\.pdf")
_CALENDAR = b"PRODID:-//handouts-build//"
_HEAD = 4096
"""Bytes in which the mark of a page or a calendar file stands."""


def is_private(path: Path) -> bool:
    """Whether a file is one that only a demonstrator sees, as far as can be told from its name and its head.

    Args:
        path: The file.
    """
    if _PAPER.fullmatch(path.name):
        return True
    looked_for = {".html": MARK.encode(), ".ics": _CALENDAR}.get(path.suffix.lower())
    if looked_for is None:
        return False
    with path.open("rb") as file:
        return looked_for in file.read(_HEAD)


def refuse_public(target: Path, *, projects: Path) -> None:
    """Refuse a folder from which files get onto the site.

    Args:
        target: Where private files are to be written; need not exist.
        projects: Folder of the project files.

    Raises:
        ProjectError: If it lies in the documents, the projects or the site of an archive.
    """
    place = target.resolve()
    for folder, what in _public((Path.cwd(), *place.parents, place), projects):
        if place == folder or folder in place.parents:
            raise ProjectError(
                [
                    Problem(
                        Place(target.as_posix()),
                        f"contacts, links and notes would get into {what}, which is published",
                        "write to a folder beside it that is kept out of version control, such as: --to private",
                    )
                ]
            )


def _public(homes: Iterable[Path], projects: Path) -> Iterator[tuple[Path, str]]:
    """The folders that are published or read for it, each with what it is."""
    yield projects.resolve(), "the folder of the projects"
    for home in dict.fromkeys(homes):
        for name in _SETTINGS:
            try:
                text = (home / name).read_text(encoding="utf-8-sig")
            except (OSError, UnicodeDecodeError):
                continue
            for key, folder in _DEFAULTS.items():
                what = "the documents of the site" if key == "docs_dir" else "the site"
                yield (home / (_setting(text, key, indented=False) or folder)).resolve(), what
            if folder := _setting(text, "projects", indented=True):
                yield (home / folder).resolve(), "the folder of the projects"


def _setting(text: str, key: str, *, indented: bool) -> str:
    """A plain setting's value; empty where there is none or it is not plain."""
    found = re.search(rf"^{'[ ]+' if indented else ''}{key}:[ ]*([^\s#!][^#\n]*)", text, re.MULTILINE)
    return found[1].strip().strip("'\"") if found else ""
