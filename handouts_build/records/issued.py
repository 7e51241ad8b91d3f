"""A project archived as issued: the folder that holds it, read back and looked through.

This module owns what may stand in such a folder: plain files with checksums that hold, told in a form that is known,
with nothing private and nothing that acts. It leaves writing it to `site.issuing`.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator, Mapping
from datetime import date, datetime
from pathlib import Path
from typing import Any

from handouts_build.disk.folders import ISSUED
from handouts_build.disk.names import PROJECT_NAME, apart, fault_of_path
from handouts_build.disk.privacy import MARK
from handouts_build.disk.reading import read_plain, walk
from handouts_build.outputs.pages.as_issued import Issue, fault_of_html, fault_of_looks
from handouts_build.outputs.pdf_files import fault_of_pdf
from handouts_build.problems import UNSEEN, Place, Problem, ProjectError
from handouts_build.records.frozen import MOST_BYTES, SUMS

__all__ = ["FORM", "issue_of", "packed", "read_issue"]

FORM = "handouts issued 1"
"""The form of what is told, which every later version reads."""
_TOLD, _LOOKS, _PAGES, _FILES = "issued.json", "looks.css", "pages", "files"
_FIRST = "piece"
"""What the file of a piece's own page is called, which has no name of its own."""
_MOST_NAMES = 2_000
_DEEPEST = 6
_BACKUP = "bring it back from a backup, or delete the folder 'issued' to have the piece made anew"
_KINDS = {
    ".pdf": b"%PDF-", ".webp": b"RIFF", ".png": b"\x89PNG", ".jpg": b"\xff\xd8\xff", ".json": b"", ".glb": b"glTF",
    ".stl": b"", ".html": b"",
}  # fmt: skip
"""What may be among the files, and how such a file begins."""
_TEXTS = ("title", "summary", "kind", "level", "by", "club", "date", "version", "drawing", "photograph", "image")
_SHOWING = ("name", "state", "starts", "ends", "zone", "club", "place", "how", "cancelled", "title", "facts", "anchor")
_PICTURE = ("light", "dark")


def packed(issue: Issue) -> dict[str, bytes]:
    """The files of the folder, by their paths in it, without the checksums.

    Args:
        issue: The project as it is issued.
    """
    files = {f"{_PAGES}/{place or _FIRST}.html": html.encode() for place, html in issue.pages.items()}
    files |= {f"{_FILES}/{path}": content for path, content in issue.files.items()}
    files[_LOOKS] = issue.looks.encode()
    files[_TOLD] = (json.dumps({"format": FORM, **issue.entries}, ensure_ascii=False, indent=1) + "\n").encode()
    return files


def read_issue(home: Path, shown: str) -> Issue:
    """A project as it was issued.

    Args:
        home: The project's own folder.
        shown: How messages name that folder.

    Raises:
        ProjectError: With everything that is wrong with what is kept.
    """
    named = f"{shown}/{ISSUED}"
    return issue_of(_files(home / ISSUED, named), named)


def issue_of(files: Mapping[str, bytes], named: str) -> Issue:
    """A project as it was issued, from its files.

    Args:
        files: By their paths in the folder, without the checksums.
        named: How messages name the folder.

    Raises:
        ProjectError: With everything in them that may not be published, or is not what is issued.
    """
    problems = [
        Problem(Place(f"{named}/{path}"), f"this is not published: {fault}", _BACKUP) for path, fault in _faults(files)
    ]
    if problems:
        raise ProjectError(problems)
    try:
        entries = _judged(json.loads(files[_TOLD]), files)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as error:
        message = f"this is not what the tool writes of a piece ({type(error).__name__})"
        raise ProjectError([Problem(Place(f"{named}/{_TOLD}"), message, _BACKUP)]) from None
    pages = {
        "" if (name := path.removeprefix(f"{_PAGES}/").removesuffix(".html")) == _FIRST else name: content.decode()
        for path, content in files.items()
        if path.startswith(f"{_PAGES}/")
    }
    kept = {
        path.removeprefix(f"{_FILES}/"): content for path, content in files.items() if path.startswith(f"{_FILES}/")
    }
    # The piece's own page before all others.
    return Issue(entries, dict(sorted(pages.items())), files[_LOOKS].decode(), kept)


def _files(folder: Path, named: str) -> dict[str, bytes]:
    """The files of the folder, once their checksums hold.

    Raises:
        ProjectError: With each that is missing, is another than was issued, or was not issued.
    """
    problems = []
    try:
        listed = read_plain(folder / SUMS, most_bytes=MOST_BYTES).decode()
    except (OSError, UnicodeDecodeError):
        raise ProjectError(
            [Problem(Place(f"{named}/{SUMS}"), "the checksums of what was issued are missing", _BACKUP)]
        ) from None
    lines = (line.partition("  ") for line in listed.splitlines())
    digests = {path: digest for digest, _, path in lines if path}
    files: dict[str, bytes] = {}
    for entry in walk(folder, most=_MOST_NAMES, deepest=_DEEPEST):
        path = entry.path.relative_to(folder).as_posix()
        place = Place(f"{named}/{path}")
        if path == SUMS:
            continue
        if path not in digests:
            problems.append(
                Problem(place, "this was not issued: it is not among the checksums", "take it out of there")
            )
            continue
        try:
            files[path] = read_plain(entry.path, most_bytes=MOST_BYTES)
        except OSError as error:
            problems.append(Problem(place, f"this was issued and cannot be read ({error.strerror})", _BACKUP))
            continue
        if hashlib.sha256(files[path]).hexdigest() != digests[path]:
            problems.append(Problem(place, "this is not the file that was issued: its checksum differs", _BACKUP))
    missing = [path for path in (*digests, _TOLD, _LOOKS, f"{_PAGES}/{_FIRST}.html") if not (folder / path).is_file()]
    problems += [
        Problem(Place(f"{named}/{path}"), "this was issued and is missing", _BACKUP) for path in dict.fromkeys(missing)
    ]
    if problems:
        raise ProjectError(problems)
    return files


def _faults(files: Mapping[str, bytes]) -> Iterator[tuple[str, str]]:
    """What of it may not be published, whatever its checksum: each file with why."""
    if both := apart(files):
        yield both[1], f"some systems take it for the same as {both[0]}"
    for path, content in files.items():
        private = "it is private, as 'handouts evening' wrote it" if MARK.encode() in content else ""
        if fault := fault_of_path(path) or private or _fault(path, content):
            yield path, fault


def _fault(path: str, content: bytes) -> str:
    """What of one file may not be published, as a sentence goes on; empty if nothing is wrong with it."""
    room, _, name = path.partition("/")
    ending, text = Path(path).suffix, content.decode(errors="replace")
    if path == _TOLD:
        return ""
    if path == _LOOKS:
        return fault_of_looks(text)
    if room == _PAGES and ending == ".html" and re.fullmatch(PROJECT_NAME, name.removesuffix(".html")):
        return fault_of_html(text)
    if room != _FILES:
        return "nothing of this name is issued"
    if ending not in _KINDS or not content.startswith(_KINDS[ending]):
        return "it is no paper, picture, model or data"
    if ending == ".html":
        return fault_of_html(text, document=True)
    return fault_of_pdf(content) if ending == ".pdf" else ""


def _judged(entries: Any, files: Mapping[str, bytes]) -> dict[str, Any]:
    """What is told of it, in the form that is known.

    Raises:
        ValueError, TypeError, KeyError, AttributeError: If it is not.
    """
    if entries["format"] != FORM:
        raise ValueError(entries["format"])
    made: dict[str, Any] = {name: _text(entries[name]) for name in _TEXTS}
    if fault_of_html(made["drawing"]):
        raise ValueError("drawing")
    if made["date"]:
        date.fromisoformat(made["date"])
    made["issued"] = date.fromisoformat(entries["issued"]).isoformat()
    made["formerly"] = [_text(name) for name in entries["formerly"] if re.fullmatch(PROJECT_NAME, name)]
    for name in ("techniques", "woods"):
        made[name] = [_text(word) for word in entries[name]]
    made["versions"] = {_text(version): _text(says) for version, says in entries["versions"].items()}
    made["errata"] = [
        [date.fromisoformat(when).isoformat(), _text(wrong), [date.fromisoformat(each).isoformat() for each in printed]]
        for when, wrong, printed in entries["errata"]
    ]
    made["facts"] = [[_text(name), _text(value)] for name, value in entries["facts"]]
    made["facets"] = {_text(name): [_text(value) for value in values] for name, values in entries["facets"].items()}
    made["showings"] = [{name: _text(showing[name]) for name in _SHOWING} for showing in entries["showings"]]
    for showing in made["showings"]:
        datetime.fromisoformat(showing["starts"])
    picture = entries["picture"]
    if picture is not None:
        made["picture"] = {
            **{name: _text(picture[name]) for name in _PICTURE},
            "width": int(picture["width"]), "height": int(picture["height"]),
        }  # fmt: skip
    else:
        made["picture"] = None
    named = [*(made["picture"][name] for name in _PICTURE if picture), made["photograph"], made["image"]]
    if any(name and f"{_FILES}/{name}" not in files for name in named):
        raise ValueError("picture")
    return made


def _text(value: object) -> str:
    if not isinstance(value, str) or UNSEEN.search(value.replace("\n", " ")):
        raise TypeError(value)
    return value
