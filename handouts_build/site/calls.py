"""An archive's calls for pieces: surveyed as a whole, and their files on the site.

This module owns what is kept of them. A call is read again only when a file of it, or the names of
the projects, changed; its pictures are made smaller only when they did.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path

from handouts_build.disk.cache import Cache, code_key, content_key, read
from handouts_build.disk.folders import CALLS, archive_of, astray_of_calls, call_files_in, entry_files
from handouts_build.disk.reading import digest_plain
from handouts_build.outputs.output import Address, Card, Output
from handouts_build.problems import Place, Problem, ProjectError, near_miss
from handouts_build.sheet.call import CallEntry, CallForPieces, CallState
from handouts_build.site.gathering import LARGEST_PICTURE, belongings, called, unfit
from handouts_build.site.summary import Summary

__all__ = [
    "CallSurvey",
    "call_named",
    "call_texts",
    "entry_pictures",
    "files_of_call",
    "line_of",
    "problems_with",
    "survey_calls",
]


@dataclass(frozen=True)
class CallSurvey:
    """The calls that hold together, and what is wrong with the others."""

    sound: tuple[CallForPieces, ...] = ()
    problems: tuple[Problem, ...] = ()


def call_texts(projects: Path) -> tuple[Path, ...]:
    """Every file of an archive's calls that holds words: those of the calls and of what was sent.

    Args:
        projects: Folder of the project files.
    """
    return tuple(file for call in call_files_in(projects) for file in (call, *entry_files(call)))


def survey_calls(
    projects: Path,
    paths: Sequence[Path],
    summaries: Sequence[Summary],
    *,
    base: Path,
    cache: Cache,
    only: Sequence[Path] = (),
) -> CallSurvey:
    """The calls of an archive that hold together, and what is wrong with the others.

    Args:
        projects: Folder of the project files; a folder in it has no calls of its own.
        paths: The project files.
        summaries: What there is to say of the projects that hold together.
        base: Folder that messages name files from.
        cache: Where it is kept between runs.
        only: Files of calls; all of the archive where there are none.
    """
    if not projects.is_dir() or archive_of(projects) != projects:
        return CallSurvey()
    known = {path.stem: path.stem for path in paths}
    known |= {old: project.name for project in summaries for old in project.formerly if old not in known}
    problems = [] if only else [*astray_of_calls(projects, called(projects, base))]
    sound = []
    for path in only or call_files_in(projects):
        call, found = _surveyed(path, known, base, cache)
        problems += found
        if call is not None and not found:
            sound.append(call)
    return CallSurvey(tuple(sound), tuple(problems))


def _surveyed(
    path: Path, known: Mapping[str, str], base: Path, cache: Cache
) -> tuple[CallForPieces | None, tuple[Problem, ...]]:
    key = content_key(code_key(), "call", called(path, base), json.dumps(known, sort_keys=True), *_bytes_of(path))
    kept = cache.known(key)
    if kept is not None:
        return CallForPieces.from_json(kept), ()
    call, problems = _read(path, known, base)
    if call is not None and not problems:
        cache.get(key, call.to_json)
    return call, problems


def _bytes_of(path: Path) -> Iterator[str | bytes]:
    """Digests of everything that a call follows from."""
    try:
        yield digest_plain(path, most_bytes=LARGEST_PICTURE)
    except OSError as error:
        yield error.strerror or "gone"
    for entry in entry_files(path):
        yield from belongings(entry)


def _read(path: Path, known: Mapping[str, str], base: Path) -> tuple[CallForPieces | None, tuple[Problem, ...]]:
    from handouts_build.records.calls import read_call

    call, found = read_call(path, known, partial(called, base=base))
    problems = [*found]
    for entry in entry_files(path):
        problems += unfit(entry, base)
    for sent in call.entries if call is not None else ():
        try:
            entry_pictures(sent)
        except ProjectError as error:
            problems += error.problems
    return call, tuple(dict.fromkeys(problems))


def problems_with(
    entry: Path, call: Path, known: Sequence[str], *, base: Path
) -> tuple[CallEntry | None, tuple[Problem, ...]]:
    """An entry that is not part of a call yet, and what would be wrong with the call if it were.

    Args:
        entry: The entry's file, where it would lie.
        call: The call's file; other entries may lie beside it by their words alone.
        known: Names of the archive's projects.
        base: Folder that messages name files from.
    """
    from handouts_build.records.calls import read_call

    shown, names = partial(called, base=base), {name: name for name in known}
    _, before = read_call(call, names, shown, without=entry)
    read_now, now = read_call(call, names, shown)
    found = next((sent for sent in (read_now.entries if read_now else ()) if sent.name == entry.stem), None)
    new = tuple(problem for problem in (*now, *unfit(entry, base)) if problem not in before)
    return found, new if new or found is not None else now


def entry_pictures(entry: CallEntry) -> list[Output]:
    """An entry's photographs as they are published, by paths below its own name.

    Args:
        entry: The entry.

    Raises:
        ProjectError: If one is no picture.
    """
    from handouts_build.outputs.photographs import published

    return [
        Output(f"{entry.name}/{picture.published}", published(picture, file=entry.file)) for picture in entry.pictures
    ]


def call_named(name: str, found: CallSurvey, projects: Path) -> CallForPieces:
    """The call of a name.

    Args:
        name: Of its folder.
        found: The archive's calls.
        projects: Folder of the project files.

    Raises:
        ProjectError: If there is none, or if it does not hold together.
    """
    call = next((call for call in found.sound if call.name == name), None)
    if call is None:
        own = [problem for problem in found.problems if f"/{CALLS}/{name}/" in f"{problem.place.file}/"]
        hint = near_miss(name, [call.name for call in found.sound])
        where = f"{projects.as_posix()}/{CALLS}"
        raise ProjectError(own or [Problem(Place(where), f"there is no call '{name}'", hint)])
    return call


def line_of(call: CallForPieces, day: date) -> str:
    """A call in one line, as the command says it.

    Args:
        call: The call.
        day: Today.
    """
    from handouts_build.outputs.pages.calls import state_words

    count = len(call.entries)
    sent = f"{count} {'entry' if count == 1 else 'entries'}"
    until = f", shown from the day after {call.closes}" if count and call.state(day) is CallState.OPEN else ""
    return f"{call.file}: {call.title}: {state_words(call, day)} {sent}{until}"


def files_of_call(
    call: CallForPieces, day: date, cards: Sequence[Card], address: Address, cache: Cache
) -> Mapping[str, Path | bytes]:
    """A call's page and pictures, by their paths on the site.

    Args:
        call: The call.
        day: Today.
        cards: The projects on the site.
        address: Where the archive is published.
        cache: Where they are kept between runs.

    Raises:
        ProjectError: If a picture of an entry is none.
    """
    from handouts_build.outputs.pages.browsing import titles_of

    titles = titles_of(cards)
    current = call.as_of(day)
    named = {entry.inspired_by: titles.get(entry.inspired_by, "") for entry in current.entries}
    pictures = [
        digest_plain(picture.path, most_bytes=LARGEST_PICTURE)
        for entry in current.entries
        for picture in entry.pictures
    ]
    key = content_key(
        code_key(), "call's files", current.to_json(), call.state(day), json.dumps(named, sort_keys=True),
        repr(address), *pictures,
    )  # fmt: skip
    return cache.files(key, partial(_made, call, day, named, address))


def _made(call: CallForPieces, day: date, titles: Mapping[str, str], address: Address) -> dict[str, bytes]:
    from handouts_build.outputs.pages.calls import call_files

    return {file.path: read(file.content) for file in call_files(call, day, titles, address)}
