"""A project, or an entry to a call, tried out in a process of its own, within limits and behind a wall.

This module owns the process and its limits; what it may ask of the machine is in `wall`. What comes back is plain data
in a file, and the files that would be published; whatever goes wrong in there ends that process and nothing else.
"""

from __future__ import annotations

import contextlib
import json
import multiprocessing
import signal
from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict, dataclass
from functools import partial
from pathlib import Path
from typing import Any

from handouts_build.disk.folders import CALL_FILE, CALLS, ENTRIES
from handouts_build.disk.reading import read_plain
from handouts_build.door.wall import wall_off
from handouts_build.language import speaking, spoken

__all__ = ["Trial", "can_limit", "tried"]

_Words = tuple[tuple[str, str], ...]

_CPU_S = 90
"""Seconds of processor time: several times what the largest of the demo pieces takes."""
_WALL_S = 600.0
"""Seconds after which it is ended whatever it does."""
_MEMORY = 4 * 2**30
"""Bytes of addresses, of which the libraries alone ask for more than one in four."""
_MOST_FILE = 128 * 2**20
_MOST_OPEN = 512
_MOST_TOLD = 16 * 2**20
_TOLD = "told.json"
PUBLISHED = "published"
"""Folder of what would be published."""


@dataclass(frozen=True)
class Trial:
    """What is found when a project is worked out and published."""

    title: str = ""
    problems: tuple[str, ...] = ()
    """What keeps it from being published."""
    findings: tuple[str, ...] = ()
    words: tuple[tuple[str, str], ...] = ()
    """Every text of the file, with the way to it."""
    files: tuple[str, ...] = ()
    """What would be published, below the site."""
    ended: str = ""
    """Why the process came to no end of its own; empty if it did."""


def can_limit() -> bool:
    """Whether this system can hold a process to its time and memory."""
    with contextlib.suppress(ImportError):
        import resource

        return hasattr(resource, "RLIMIT_AS")
    return False


def tried(home: Path, name: str, *, call: str = "", known: Sequence[str] = ()) -> Trial:
    """Check and publish a project, or an entry to a call for pieces, in a process of its own.

    Args:
        home: A folder of nobody else's, with the project in `projects/`; what is made goes below it.
        name: Of the project, or of the entry.
        call: The call that the entry is to, which lies in the same folder; empty for a project.
        known: Names of the archive's projects, which an entry may be made after.
    """
    process = multiprocessing.get_context("spawn").Process(
        target=_work, args=(home, name, call, tuple(known), spoken())
    )
    process.start()
    try:
        process.join(_WALL_S)
        ended = _why(process.exitcode)
    finally:
        if process.is_alive():
            process.kill()
            process.join()
    try:
        outcome: dict[str, Any] = json.loads(read_plain(home / _TOLD, most_bytes=_MOST_TOLD))
    except (OSError, ValueError):
        return Trial(ended=ended or "it told nothing")
    words = tuple((str(way), str(text)) for way, text in outcome["words"])
    lists = {key: tuple(map(str, outcome[key])) for key in ("problems", "findings", "files")}
    return Trial(title=str(outcome["title"]), words=words, ended=ended, **lists)


def _why(status: int | None) -> str:
    """Why a process ended, of its exit status; empty where it did of its own accord."""
    if status is None:
        return f"it took longer than {_WALL_S:g} seconds"
    if status in (-getattr(signal, "SIGXCPU", 0), -getattr(signal, "SIGKILL", 0)) and status:
        return f"it took more than {_CPU_S} seconds of processor time, or more memory than there is"
    return "" if status == 0 else f"it ended with status {status}"


def _limit() -> None:
    """Hold this process to its limits, where the system can."""
    try:
        import resource
    except ImportError:
        return
    limits = {
        "RLIMIT_CPU": _CPU_S,
        "RLIMIT_AS": _MEMORY,
        "RLIMIT_FSIZE": _MOST_FILE,
        "RLIMIT_NOFILE": _MOST_OPEN,
        "RLIMIT_CORE": 0,
    }
    for named, most in limits.items():
        if hasattr(resource, named):
            _, hard = resource.getrlimit(getattr(resource, named))
            low = most if hard == resource.RLIM_INFINITY else min(most, hard)
            # macOS knows some of these and takes none of them.
            with contextlib.suppress(ValueError, OSError):
                resource.setrlimit(getattr(resource, named), (low, low))


def _work(home: Path, name: str, call: str, known: tuple[str, ...], language: str) -> None:
    """What is done in the process."""
    _limit()
    with speaking(language):
        wall_off(home)
        _try(home, name, call, known)


def _try(home: Path, name: str, call: str, known: tuple[str, ...]) -> None:
    if call:
        file = home / "projects" / CALLS / call / CALL_FILE
        path = file.parent / ENTRIES / f"{name}.yml"
        outcome = _outcome(path, partial(_entry, home, path, file, known))
    else:
        path = home / "projects" / f"{name}.yml"
        outcome = _outcome(path, partial(_project, home, path))
    (home / _TOLD).write_text(json.dumps(asdict(outcome)), encoding="utf-8")


def _outcome(path: Path, work: Callable[[_Words], Trial]) -> Trial:
    """What a trial of a file comes to, whatever happens to it.

    Args:
        path: The file.
        work: Tries it; it is given the file's words.
    """
    from handouts_build.problems import ProjectError

    words = tuple(_words(path))
    try:
        return work(words)
    except ProjectError as error:
        return Trial(problems=tuple(map(str, error.problems)), words=words)
    except MemoryError:
        return Trial(problems=("it takes more memory than it may",), words=words)
    except Exception as error:
        return Trial(problems=(f"the tool has a fault of its own: {type(error).__name__}: {error}",), words=words)


def _project(home: Path, path: Path, words: _Words) -> Trial:
    from handouts_build.disk.cache import Cache
    from handouts_build.outputs.output import NOWHERE
    from handouts_build.problems import ProjectError
    from handouts_build.site.publish import Papers, publish, survey, write_outputs

    cache = Cache(home / "cache")
    found = survey((path,), base=home, cache=cache)
    if found.problems:
        raise ProjectError(found.problems)
    (project,) = found.sound.values()
    if project.stopped:
        return Trial(project.title, project.stops, project.findings, words)
    # In this process alone, to which the limits belong.
    made = publish((path,), base=home, cache=cache, address=NOWHERE, papers=Papers.MADE, jobs=0)
    own = [output for output in made if output.path.startswith(f"projects/{path.stem}")]
    write_outputs(own, home / PUBLISHED)
    return Trial(project.title, (), project.findings, words, tuple(sorted(output.path for output in own)))


def _entry(home: Path, path: Path, call: Path, known: tuple[str, ...], words: _Words) -> Trial:
    from handouts_build.problems import ProjectError
    from handouts_build.site.calls import entry_pictures, problems_with
    from handouts_build.site.publish import write_outputs

    entry, problems = problems_with(path, call, known, base=home)
    if problems or entry is None:
        raise ProjectError(problems)
    own = entry_pictures(entry)
    write_outputs(own, home / PUBLISHED)
    title = f"{entry.title}, by {entry.maker}"
    return Trial(title, (), (), words, tuple(sorted(output.path for output in own)))


def _words(path: Path) -> Iterator[tuple[str, str]]:
    """Every text of a project file with the way to it, in the file's order."""
    from handouts_build.problems import ProjectError
    from handouts_build.schema.reader import read_document, written

    try:
        document = read_document(path, path.name)
    except ProjectError:
        return
    waiting: list[tuple[tuple[str | int, ...], object]] = [((), document.values)]
    while waiting:
        key, value = waiting.pop()
        if isinstance(value, dict):
            waiting += reversed([((*key, name), below) for name, below in value.items()])
        elif isinstance(value, list):
            waiting += reversed([((*key, index), below) for index, below in enumerate(value)])
        elif isinstance(value, str):
            yield written(key), value
