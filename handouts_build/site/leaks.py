"""What is private and about to be published all the same, told by its content.

This module owns the search: for the mark of private papers and pages in every file of
the documents, whatever it is called, and for the contacts and links of every evening in
those files, in the project files, and in what a demonstration's file says to the public.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from handouts_build.disk.folders import ISSUED, demonstration_files, is_issued
from handouts_build.disk.privacy import is_private, secrets, told
from handouts_build.disk.reading import read_plain
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.site.gathering import called

__all__ = ["leaks"]

_TEXTS = (".css", ".html", ".json")
_LARGEST = 16 * 1024 * 1024
"""Bytes up to which a file is looked through as text."""


def leaks(documents: Iterable[Path], projects: Iterable[Path], base: Path) -> Iterator[Problem]:
    """What must not be published and would be.

    Args:
        documents: The files that are copied or laid out as they are.
        projects: The project files.
        base: Folder that messages name files from.
    """
    paths = tuple(projects)
    known: dict[str, str] = {}
    for path in paths:
        for problem, mine in _evenings(path, base):
            known |= mine
            if problem is not None:
                yield problem
    for path in documents:
        if is_private(path):
            yield Problem(
                Place(called(path, base)),
                "this is private, as 'handouts evening' wrote it",
                "move it out of here: what lies here is published",
            )
        elif known:
            yield from _found(path, known, base)
    if known:
        for path in paths:
            for file in _issued(path) if is_issued(path) else (path,):
                yield from _found(file, known, base)


def _evenings(project: Path, base: Path) -> Iterator[tuple[Problem | None, dict[str, str]]]:
    """The secrets of each demonstration of a project with its file, and what its public part tells of them."""
    from handouts_build.schema import DemonstrationKeys, load_file

    for path in demonstration_files(project):
        shown = called(path, base)
        try:
            if b"private" not in read_plain(path, most_bytes=_LARGEST):
                continue
            asked, document = load_file(DemonstrationKeys, path, shown)
        except (OSError, ProjectError):
            # What is wrong with it is told where it is read.
            continue
        if asked.private is None:
            continue
        lines = [*(() if "contact" in asked.share else asked.private.contact)]
        lines += [asked.private.link] if asked.private.link and "link" not in asked.share else []
        mine = dict.fromkeys(secrets(lines), shown)
        public = [asked.club, asked.place or "", asked.cancelled or ""]
        if asked.afterwards is not None:
            public.append(asked.afterwards.recording or "")
            public += [text for question in asked.afterwards.questions for text in (question.asked, question.answered)]
        problem = None
        if said := told("\n".join(public), mine):
            problem = Problem(
                document.place(()),
                f"what is private here stands in what is published of it too: {', '.join(said)}",
                "take it out there, or ask for it to be shown under 'share'",
            )
        yield problem, mine


def _issued(project: Path) -> Iterator[Path]:
    """What is kept as text of a project that is archived as issued: that is published, and its file is not."""
    folder = project.with_suffix("") / ISSUED
    return (path for path in sorted(folder.rglob("*")) if path.suffix in _TEXTS)


def _found(path: Path, known: dict[str, str], base: Path) -> Iterator[Problem]:
    """The secrets that stand in a file that is text."""
    try:
        text = read_plain(path, most_bytes=_LARGEST).decode()
    except (OSError, UnicodeDecodeError):
        return
    for secret in told(text, known):
        yield Problem(
            Place(called(path, base)),
            f"a contact or link of an evening stands here: {secret}",
            f"take it out, or ask for it to be shown under 'share' in {known[secret]}",
        )
