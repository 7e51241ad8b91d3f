"""An old write-up as a project of words and photographs.

This module owns the form of the file that is made of it. It is the webmaster's own write-up: what a stranger sends as
a project comes in by `door`.
"""

from __future__ import annotations

import json
import os
import re
import tempfile
import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from handouts_build.disk.files import write_all
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.site.starter import must_be_free, schemas
from handouts_build.site.write_ups import WriteUp, read_write_up

__all__ = ["Imported", "import_write_up"]

_WRAPPER = textwrap.TextWrapper(
    96, initial_indent="  ", subsequent_indent="  ", break_long_words=False, break_on_hyphens=False
)
"""Lines of the file as an editor shows them whole."""


@dataclass(frozen=True)
class Imported:
    """What became of a write-up."""

    files: tuple[Path, ...]
    """Those written."""
    left: tuple[str, ...]
    """What it holds that is not in them: a line each."""


def import_write_up(path: Path, folder: Path, *, name: str = "", day: str = "") -> Imported:
    """Write a project of the words and the pictures of a write-up.

    Args:
        path: The write-up, in Markdown or Word.
        folder: Where the project files lie.
        name: What the project's file is to be called; empty for what follows from the title.
        day: When it was written or shown, as 2011-04-02; empty for what it says itself.

    Raises:
        ProjectError: If it cannot be read or made into a project, or one of the name is there already.
    """
    found = read_write_up(path)
    left = list(found.left)
    title = found.title or path.stem.replace("-", " ").replace("_", " ").strip().capitalize()
    name = name or re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")[:60].strip("-") or "write-up"
    must_be_free(name, folder)
    home = folder / name
    if os.path.lexists(home):
        message = "there is something of this name already"
        raise ProjectError([Problem(Place(home.as_posix()), message, "choose another name with --as")])
    if not found.paragraphs:
        raise ProjectError([Problem(Place(path.as_posix()), "there are no words in it", "a project needs some")])
    if day or found.date:
        try:
            day = date.fromisoformat(day or found.date).isoformat()
        except ValueError:
            left.append(f"its date, {day or found.date}: write it as 2011-04-02 with --date")
            day = ""
    pictures = {f"picture-{number}{held.ending}": held for number, held in enumerate(found.pictures, start=1)}
    text = "\n".join(_lines(title, day, found, list(pictures)))
    _must_be_well_formed(text, path, name)
    files = {folder / f"{name}.yml": text.encode()}
    files |= {home / file: held.content for file, held in pictures.items()}
    files |= schemas(folder)
    write_all(files)
    return Imported(tuple(files), tuple(left))


def _lines(title: str, day: str, found: WriteUp, pictures: list[str]) -> Iterator[str]:
    """The lines of the project's file."""
    yield "# yaml-language-server: $schema=.schemas/project.schema.json"
    yield f"title: {json.dumps(title, ensure_ascii=False)}"
    if day:
        yield f"date: {day}"
    yield "text: |"
    for number, paragraph in enumerate(found.paragraphs):
        if number:
            yield ""
        yield from _WRAPPER.wrap(paragraph)
    if pictures:
        yield "pictures:"
        for file, held in zip(pictures, found.pictures, strict=True):
            shows = f", shows: {json.dumps(held.shows, ensure_ascii=False)}" if held.shows else ""
            yield f"  - {{file: {file}{shows}}}"
    yield ""


def _must_be_well_formed(text: str, path: Path, name: str) -> None:
    """A write-up that no project can be made of is refused in words about the write-up.

    Raises:
        ProjectError: If the project's file would not be read.
    """
    from handouts_build.schema import load_project

    with tempfile.TemporaryDirectory() as scratch:
        tried = Path(scratch) / f"{name}.yml"
        tried.write_text(text, encoding="utf-8")
        try:
            load_project(tried, tried.name)
        except ProjectError as error:
            raise ProjectError(
                [Problem(Place(path.as_posix()), problem.message, problem.hint) for problem in error.problems]
            ) from None
