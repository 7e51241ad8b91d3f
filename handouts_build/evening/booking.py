"""A demonstration that was just agreed on: its file, with what is known of the host from an earlier evening there.

This module owns which of an earlier evening's lines hold for the next one: where and when the club meets, and what
stands there. What was chosen for that evening and its piece, what is private and what came after it do not. Lines go
over as they were written, comments and all.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from handouts_build.disk.files import write_all
from handouts_build.disk.folders import DEMONSTRATIONS, demonstration_files, demonstrations_of_all
from handouts_build.disk.reading import read_plain
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.schema import DemonstrationKeys, load_file, load_project
from handouts_build.schema.reader import LARGEST
from handouts_build.site.gathering import called

if TYPE_CHECKING:
    from handouts_build.schema import ProjectKeys

__all__ = ["Booking", "book"]

_OF_THE_HOST = (
    "start", "arrive", "doors", "zone", "speaker zone", "place", "how", "slot", "break", "opening", "safety talk",
    "hands on", "questions", "travel", "cameras", "lathe", "attendees", "seats", "confidence", "paper", "listed",
)  # fmt: skip
_NEEDED = {"start": "19:30", "zone": "America/New_York", "slot": "90 min"}
"""What every demonstration tells beside its day and club, with an example of each."""
_KEY = re.compile(r"([a-z][a-z ]*):(?=\s|$)")
_LONGEST = 30
_NAMELESS = "club"
"""What the file is called by where the club's name has no letter that a file's may have."""


@dataclass(frozen=True)
class Booking:
    """A demonstration's new file."""

    path: Path
    like: Path | None
    """The earlier evening whose host it was taken from."""
    missing: tuple[str, ...]
    """Keys that it needs and that nobody knows yet."""


def book(project: Path, day: date, club: str, *, projects: Path) -> Booking:
    """Write the file of a demonstration that was agreed on.

    Args:
        project: The file of the piece that will be shown.
        day: As the host counts it.
        club: That it is shown to.
        projects: The folder of all projects, in whose evenings the club is looked for.

    Raises:
        ProjectError: If the piece has a demonstration of that name already.
    """
    known = _evenings_at(club, projects)
    like = max(known, key=lambda path: path.stem, default=None)
    words = "-".join(re.findall(r"[a-z0-9]+", club.casefold()))[:_LONGEST].strip("-")
    path = (
        project.with_suffix("")
        / DEMONSTRATIONS
        / f"{day.isoformat()}-{like.stem[11:] if like else words or _NAMELESS}.yml"
    )
    taken = [file for file in demonstration_files(project) if file.stem == path.stem]
    if taken or path.exists():
        message = "there is a demonstration of this piece there on that day already"
        raise ProjectError([Problem(Place(path.as_posix()), message, "change its file, or move it to another day")])
    host = _blocks(like) if like else {}
    write_all({path: _text(day, known[like] if like else club, host, _steps(project)).encode()})
    return Booking(path, like, tuple(key for key in _NEEDED if key not in host))


def _evenings_at(club: str, projects: Path) -> Mapping[Path, str]:
    """The files of evenings at a club, with its name as it was written there; those that are broken left out."""
    found = {}
    for path in demonstrations_of_all(projects):
        try:
            asked, _ = load_file(DemonstrationKeys, path, called(path, projects))
        except ProjectError:
            continue  # `check` says what is wrong with it.
        if " ".join(asked.club.split()).casefold() == " ".join(club.split()).casefold():
            found[path] = asked.club
    return found


def _blocks(path: Path) -> dict[str, str]:
    """The lines of an evening's file that are of its host, by key, each with the comments above it."""
    found: dict[str, list[str]] = {}
    above: list[str] = []
    inside: list[str] | None = None
    for line in read_plain(path, most_bytes=LARGEST).decode("utf-8-sig").splitlines():
        if line.startswith("#") or not line.strip():
            above.append(line)
            continue
        begun = _KEY.match(line)
        if begun:
            comments = [comment for comment in above if comment.startswith("#")] if found else []
            inside = found.setdefault(begun[1], comments)
        elif inside is not None:
            inside += above
        above = []
        if inside is not None:
            inside.append(line)
    return {key: "\n".join(lines) for key, lines in found.items() if key in _OF_THE_HOST}


def _steps(project: Path) -> list[str]:
    """The names of a piece's steps; none where its file is broken."""
    try:
        keys: ProjectKeys
        keys, _ = load_project(project, project.name)
    except ProjectError:
        return []
    return [step.name for part in keys.parts.values() if not part.jig for step in part.steps]


def _text(day: date, club: str, host: Mapping[str, str], steps: list[str]) -> str:
    return "\n".join(_lines(day, club, host, steps)) + "\n"


def _lines(day: date, club: str, host: Mapping[str, str], steps: list[str]) -> Iterator[str]:
    yield f"date: {day.isoformat()}"
    yield f"club: {_quoted(club)}"
    if host:
        yield "# Of the host, as the last time: ask whether it is still so."
    for key in _OF_THE_HOST:
        if key in host:
            yield host[key]
    missing = [key for key in _NEEDED if key not in host]
    if missing:
        yield "# Ask the host, and take the sign away:"
    for key in missing:
        yield f"# {key}: {_NEEDED[key]}"
    if steps:
        yield "# Steps that must be seen live, and those that are brought ready-made whatever fits. They are called:"
        for name in steps:
            yield f"#   {name}"
        yield f"# must see: [{_quoted(steps[-1])}]"
        yield f"# ready made: [{_quoted(steps[0])}]"
    yield "# Whom to call and where to click: never published."
    yield '# private: {contact: ["Host on the evening: 555 0100"], link: https://meeting.example/evening}'


def _quoted(text: str) -> str:
    """Text as YAML reads it back, whatever is in it: what JSON writes is YAML."""
    return json.dumps(text, ensure_ascii=False)
