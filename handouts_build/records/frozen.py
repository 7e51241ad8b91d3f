"""Papers as they were handed out, read back, and what has changed since.

This module owns what may stand in such a folder: plain file names, checksums that
hold, and data in a form that is known. It leaves writing it to `evening.hand_out`, and
which demonstration it belongs to to `records`.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from handouts_build.disk.privacy import MARK
from handouts_build.disk.reading import read_plain
from handouts_build.outputs.pdf_files import fault_of_pdf
from handouts_build.problems import UNSEEN, Place, Problem, ProjectError
from handouts_build.sheet import Paragraph, Sheet
from handouts_build.sheet.evening import Changed

__all__ = ["DATA", "MOST_BYTES", "SUMS", "changed", "kept", "sums"]

SUMS, DATA = "SHA256SUMS", "sheet.json"

_FORM = "handouts sheet 1"
"""The form of the data that is read back."""
_FILE_NAME = re.compile(r"[a-z0-9][a-z0-9.-]{0,119}")
"""What `evening.hand_out` gives; nothing that a page, a shell or another system reads as more than a name."""
MOST_BYTES = 64 * 2**20
"""Far more than any paper takes."""
_BACKUP = "bring the file back from a backup"


def sums(files: Mapping[str, bytes]) -> str:
    """Checksums of files, in the form that `sha256sum --check` reads."""
    return "".join(f"{hashlib.sha256(content).hexdigest()}  {name}\n" for name, content in sorted(files.items()))


def kept(folder: Path, shown: str) -> dict[str, bytes]:
    """The files of one folder, once their checksums and their data are seen to hold.

    Args:
        folder: The folder.
        shown: How messages name it.

    Raises:
        ProjectError: With everything that is wrong with it.
    """
    place = Place(f"{shown}/{SUMS}")
    try:
        text = read_plain(folder / SUMS, most_bytes=MOST_BYTES).decode()
    except (OSError, UnicodeDecodeError):
        raise ProjectError([Problem(place, "the checksums of what was handed out are missing", _BACKUP)]) from None
    files: dict[str, bytes] = {}
    problems = []
    for line in text.splitlines():
        digest, _, name = line.partition("  ")
        if not _FILE_NAME.fullmatch(name):
            problems.append(
                Problem(
                    place,
                    f"'{name}' is not the name of a paper that was handed out",
                    f"names there are of small letters, digits, points and hyphens; {_BACKUP}",
                )
            )
            continue
        try:
            files[name] = read_plain(folder / name, most_bytes=MOST_BYTES)
        except FileNotFoundError:
            problems.append(Problem(place, f"'{name}' was handed out and is missing", _BACKUP))
            continue
        except OSError as error:
            problems.append(Problem(place, f"'{name}' was handed out and cannot be read ({error.strerror})", _BACKUP))
            continue
        if MARK.encode() in files[name]:
            problems.append(
                Problem(
                    Place(f"{shown}/{name}"),
                    "this paper is private and was not handed out: what lies here is published",
                    "delete it, and its line among the checksums",
                )
            )
        if name.endswith(".pdf") and (fault := fault_of_pdf(files[name])):
            problems.append(
                Problem(
                    Place(f"{shown}/{name}"), f"this paper is not published: {fault}", "delete it, and its checksum"
                )
            )
        if hashlib.sha256(files[name]).hexdigest() != digest:
            problems.append(
                Problem(
                    Place(f"{shown}/{name}"),
                    "this file is not the one that was handed out: its checksum differs",
                    "bring it back from a backup; what was handed out is kept as it was",
                )
            )
    if problems:
        raise ProjectError(problems)
    if DATA not in files:
        raise ProjectError([Problem(place, f"'{DATA}' is not among what was handed out", _BACKUP)])
    _check(files[DATA], Place(f"{shown}/{DATA}"))
    return files


def _check(data: bytes, place: Place) -> None:
    """Refuse data that cannot be compared.

    Raises:
        ProjectError: If it is in no form that is known.
    """
    try:
        entries = json.loads(data)
        form = entries["format"]
        if form == _FORM:
            _Then(entries)
            return
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError, OverflowError):
        # Python's reader of JSON takes 1e999 for a number without end.
        form = None
    if isinstance(form, str) and form != _FORM:
        raise ProjectError(
            [
                Problem(
                    place,
                    f"the data is in the form '{form[:40]}', and this version reads '{_FORM}'",
                    "use the version of handouts-build that wrote it, or a newer one",
                )
            ]
        )
    raise ProjectError([Problem(place, "this is not the data of a piece as the tool writes it", _BACKUP)])


class _Then:
    """What a data file tells of a piece, as texts to compare.

    Raises:
        ValueError, TypeError, KeyError, AttributeError: If it is not such a file.
    """

    def __init__(self, data: Any) -> None:
        self.values: dict[str, tuple[str, str]] = {}
        for size in data["sizes"]:
            self.values[_text(size["name"])] = (_text(size["says"]), _printed(size))
        for group in data["groups"]:
            title = _text(group["title"]) if group["name"] else ""
            for dimension in group["dimensions"]:
                if dimension["main"]:
                    self.values[_text(dimension["name"])] = (
                        _in_group(title, _text(dimension["says"])),
                        _printed(dimension),
                    )
        parts = (*data["parts"], *data.get("jigs", ()))
        self.woods = {_text(part["name"]): (_text(part["title"]), _text(part["wood"])) for part in parts}
        self.steps = {
            (_text(part["name"]), _text(step["name"])): _StepThen(
                number=int(step["number"]),
                speed=_text(step["speed"]),
                words=_texts(step["say"]),
                cautions=(*_texts(step["care"]), *(_box(box) for box in step["boxes"])),
            )
            for part in parts
            for step in part["steps"]
        }


class _StepThen:
    """What of a step is compared."""

    def __init__(self, *, number: int, speed: str, words: tuple[str, ...], cautions: tuple[str, ...]) -> None:
        self.number, self.speed, self.words, self.cautions = number, speed, words, cautions


def _text(value: object) -> str:
    if not isinstance(value, str) or UNSEEN.search(value):
        raise TypeError(value)
    return value


def _texts(value: object) -> tuple[str, ...]:
    if not isinstance(value, list):
        raise TypeError(value)
    return tuple(map(_text, value))


def _box(box: Mapping[str, object]) -> str:
    return "\n".join((_text(box["title"]), _text(box["hurts"]), *_texts(box["do"])))


def _printed(dimension: Mapping[str, object]) -> str:
    also = f" ({_text(dimension['also'])})" if dimension.get("also") else ""
    return _text(dimension["printed"]) + also


def _in_group(title: str, says: str) -> str:
    """What a dimension is, with what it belongs to: every profile has a length."""
    return f"{title}: {says[:1].lower()}{says[1:]}" if title else says


def changed(data: bytes, sheet: Sheet) -> Iterator[Changed]:
    """What is another now than on the paper: sizes, main dimensions, woods, steps, speeds, words and cautions.

    Args:
        data: The data file that was handed out, from `kept`.
        sheet: The project as it is now.
    """
    then = _Then(json.loads(data))
    now = {size.name: (size.says, str(size.printed)) for size in sheet.sizes}
    now |= {
        dimension.name: (_in_group(group.title if group.name else "", dimension.says), str(dimension.printed))
        for group in sheet.groups
        for dimension in group.dimensions
        if dimension.main
    }
    yield from _rows(then.values, now)
    titles = {part.name: part.title for part in sheet.every_part}
    woods = {part.name: (f"Wood of {part.title}", part.wood) for part in sheet.every_part}
    yield from _rows({name: (f"Wood of {title}", wood) for name, (title, wood) in then.woods.items()}, woods)
    yield from _steps(then, sheet, titles)


def _rows(then: Mapping[str, tuple[str, str]], now: Mapping[str, tuple[str, str]]) -> Iterator[Changed]:
    for name in dict.fromkeys((*then, *now)):
        before, after = then.get(name), now.get(name)
        if before is None or after is None or before[1] != after[1]:
            says = (after or before or ("", ""))[0]
            yield Changed(says, before[1] if before else "", after[1] if after else "")


def _steps(then: _Then, sheet: Sheet, titles: Mapping[str, str]) -> Iterator[Changed]:
    """Steps that came and went, their speeds, and which of them say something else."""
    now = {(part.name, step.name): step for part in sheet.every_part for step in part.steps}
    old_names = {
        (part.name, old): step.name for part in sheet.every_part for step in part.steps for old in step.formerly
    }
    was = {(part, old_names.get((part, name), name)): step for (part, name), step in then.steps.items()}
    for key in dict.fromkeys((*was, *now)):
        before, after = was.get(key), now.get(key)
        if before is None or after is None:
            there = f"{titles.get(key[0], key[0])}, step “{key[1]}”"
            yield Changed(there, f"step {before.number}" if before else "", f"step {after.number}" if after else "")
    both = [(was[key], now[key]) for key in now if key in was]
    for before, after in both:
        if before.speed != after.speed:
            yield Changed(
                f"Speed of step {after.number}, “{after.name}”", before.speed or "none said", after.speed or "none said"
            )
    words = [after for before, after in both if before.words != tuple(map(_plain, after.say))]
    cautions = [
        after
        for before, after in both
        if sorted(before.cautions)
        != sorted((*map(_plain, after.care), *("\n".join((box.title, box.hurts, *box.do)) for box in after.boxes)))
    ]
    for topic, steps in (("What to do", words), ("Cautions", cautions)):
        if steps:
            listed = ", ".join(str(step.number) for step in steps)
            yield Changed(f"{topic} at step{'s' if len(steps) > 1 else ''} {listed}", "other words", "see above")


def _plain(paragraph: Paragraph) -> str:
    return "".join(run.text for run in paragraph)
