"""Which photographs a project has: those its file lists, and those named by one of its steps.

This module owns where they may lie, which step one belongs to by its name, and what its author is told of one that
lacks its words or is shown nowhere. What is in a picture's file is for `outputs.photographs`.
"""

from __future__ import annotations

import re
import stat
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from handouts_build.compute.budgets import MOST_PHOTOGRAPHS
from handouts_build.compute.names import Ledger
from handouts_build.disk.reading import is_plain_folder, plain_files
from handouts_build.problems import near_miss
from handouts_build.schema import Key, PictureKeys, ProjectKeys
from handouts_build.sheet import Finding, Level

__all__ = ["Photograph", "Photographs", "listed_photographs", "photographs"]

_KINDS = {".jpg", ".jpeg", ".png", ".webp"}
_SPELLED = (*_KINDS, *(kind.upper() for kind in _KINDS))
_ABOUT = "The photographs"

StepAt = tuple[str, int]
"""A part's name, and which of its steps, from 0."""


@dataclass(frozen=True)
class Photograph:
    """A photograph that is there."""

    file: str
    """Its path below the project's own folder, with forward slashes."""
    path: Path
    listed: int | None = None
    """Which entry of `pictures` it is; None for one that is there by its name alone."""
    step: StepAt | None = None
    """The step that it is named by; None for one of the whole piece."""


@dataclass(frozen=True)
class Photographs:
    """What was found of a project's photographs."""

    found: tuple[Photograph, ...]
    """Those that the file lists, then those named by steps, in the order of the steps."""
    findings: tuple[Finding, ...]
    """What the author is told."""


def photographs(project: ProjectKeys, folder: Path, ledger: Ledger) -> Photographs:
    """The photographs of a project, each at its place.

    Args:
        project: Says which it lists, and what its steps are called.
        folder: Where they must lie; no link is followed.
        ledger: Takes note of those that are listed and cannot be shown.
    """
    steps = _steps_by_name(project)
    listed = [_at_its_step(found, steps) for found in listed_photographs(project.pictures, folder, ledger)]
    named, findings = _named(folder, {found.file for found in listed}, steps, ledger)
    if len(listed) + len(named) > MOST_PHOTOGRAPHS:
        ledger.note(
            ("pictures",),
            f"{len(listed) + len(named):,} photographs with those named by steps; at most {MOST_PHOTOGRAPHS} are shown",
            "keep the best of them",
        )
    order = {
        (name, index): place
        for place, (name, index) in enumerate(
            (name, index) for name, part in project.parts.items() for index in range(len(part.steps))
        )
    }
    named.sort(key=lambda found: (order[found.step] if found.step else -1, found.file))
    found = (*listed, *named)
    return Photographs(found, (*_wordless(project, found, ledger), *findings))


def listed_photographs(pictures: Iterable[PictureKeys], folder: Path, ledger: Ledger) -> Iterator[Photograph]:
    """Those that a file lists, in the folder that has its name and of a kind that can be shown.

    Args:
        pictures: What stands under `pictures`.
        folder: Where they must lie; no link is followed.
        ledger: Takes note of those that cannot be shown.
    """
    for index, picture in enumerate(pictures):
        key: Key = ("pictures", index, "file")
        written = PurePosixPath(picture.file)
        if ".." in written.parts or written.is_absolute() or any(sign in picture.file for sign in "\\:"):
            ledger.note(
                key, f"'{picture.file}' lies outside the project's folder", f"put it in the folder {folder.name}/"
            )
        elif written.suffix.lower() not in _KINDS:
            ledger.note(key, f"'{picture.file}' is not a picture that can be shown", "use a .jpg, .png or .webp file")
        elif not is_plain_folder(folder):
            hint = f"make the folder {folder.name}/ beside the project file"
            ledger.note(key, f"there is no picture '{picture.file}' in the folder {folder.name}/", hint)
        elif not all(map(is_plain_folder, _between(folder, written))) or not _is_plain_file(folder / written):
            hint = near_miss(written.name, [file.name for file in plain_files(folder, ".", *_SPELLED)])
            ledger.note(key, f"there is no picture '{picture.file}' in the folder {folder.name}/", hint)
        else:
            yield Photograph(written.as_posix(), folder / written, listed=index)


def _at_its_step(found: Photograph, steps: dict[str, list[StepAt]]) -> Photograph:
    """A photograph that is listed, at the step it is named by if there is just one."""
    at = _step_of(found.path.stem, steps)
    return Photograph(found.file, found.path, found.listed, at[0]) if len(at) == 1 else found


def _named(
    folder: Path, listed: set[str], steps: dict[str, list[StepAt]], ledger: Ledger
) -> tuple[list[Photograph], list[Finding]]:
    """Those that lie in the folder and are not listed: the ones named by a step, and what is told of the others."""
    made, findings = [], []
    place = ledger.document.place(("pictures",) if "pictures" in ledger.document.values else ("title",))
    for path in plain_files(folder, ".", *_SPELLED):
        if path.name in listed or not _is_plain_file(path):
            continue
        at = _step_of(path.stem, steps)
        if len(at) == 1:
            made.append(Photograph(path.name, path, step=at[0]))
            continue
        parts = " or ".join(f"{part}-{path.name}" for part, _ in at)
        message = f"several steps are called as '{path.name}' is" if at else f"'{path.name}' is shown nowhere"
        example = next(iter(steps), "")
        by_step = f", or name it by its step, such as {example}{path.suffix}" if example else ""
        remedy = f"call it {parts}" if at else f"list it: pictures: [{{file: {path.name}, shows: …}}]{by_step}"
        hint = "" if at else near_miss(_plain(path.stem), steps)
        findings.append(Finding(Level.NOTE, _ABOUT, message, remedy, place, private=True, advice=hint))
    return made, findings


def _wordless(project: ProjectKeys, found: tuple[Photograph, ...], ledger: Ledger) -> Iterator[Finding]:
    """A note for each photograph that says nothing to those who cannot see it."""
    for photograph in found:
        key: Key = ("title",)
        remedy = f"write what it shows: pictures: [{{file: {photograph.file}, shows: …}}]"
        if photograph.listed is not None:
            if project.pictures[photograph.listed].shows is not None:
                continue
            key, remedy = ("pictures", photograph.listed), "write below it shows: and what is seen on it"
        message = f"'{photograph.file}' has no words for those who cannot see it"
        yield Finding(Level.NOTE, _ABOUT, message, remedy, ledger.document.place(key), private=True)


def _steps_by_name(project: ProjectKeys) -> dict[str, list[StepAt]]:
    """Every step by what a file of it may be called: its name, or its part's and its own."""
    steps: dict[str, list[StepAt]] = {}
    for name, part in project.parts.items():
        for index, step in enumerate(part.steps):
            for called in (_plain(step.name), _plain(f"{name} {step.name}")):
                steps.setdefault(called, []).append((name, index))
    return steps


def _step_of(stem: str, steps: dict[str, list[StepAt]]) -> list[StepAt]:
    """The steps that a file may be named by; a number behind the name tells several of one step apart."""
    called = _plain(stem)
    return steps.get(called) or steps.get(re.sub(r"-\d{1,3}$", "", called)) or []


def _plain(name: str) -> str:
    """A name as files have it: small letters and digits, with a stroke between words."""
    letters = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode("ascii")
    return re.sub(r"[^a-z0-9]+", "-", letters.casefold()).strip("-")


def _between(folder: Path, written: PurePosixPath) -> Iterator[Path]:
    """The folders from a project's own to the one that a picture lies in."""
    return (folder / parent for parent in written.parents)


def _is_plain_file(path: Path) -> bool:
    try:
        return stat.S_ISREG(path.lstat().st_mode)
    except (OSError, ValueError):
        return False
