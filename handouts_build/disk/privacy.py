"""What must not be published: where the private folder may not lie, and how what is private is told.

This module owns both.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from handouts_build.disk.reading import read_plain
from handouts_build.disk.site_settings import setting, settings_texts
from handouts_build.paper import EVENING, SIZES
from handouts_build.problems import Place, Problem, ProjectError

__all__ = ["MARK", "SHARED_MARK", "is_ours", "is_private", "refuse_public", "secrets", "told"]

MARK = "handouts-build: private"
"""Stands in every private page, and among the keywords of every private paper."""
SHARED_MARK = "handouts-build: to share"
"""The same of what is made for those who help, and holds nothing private."""

_DEFAULTS = {"docs_dir": "docs", "site_dir": "site"}
_PAPER = re.compile(rf"(?:[a-z0-9-]+-)?(?:{'|'.join(EVENING)})-(?:{'|'.join(SIZES)})\.pdf")
_CALENDAR = b"PRODID:-//handouts-build//"
_MOST = 64 * 1024 * 1024
"""Bytes up to which a file is looked through: papers of ours are far smaller, and a larger one is none of them."""
_LEAST_DIGITS = 7
"""Digits from which a row of them is taken for a telephone number: common practice, no published source."""


def is_private(path: Path) -> bool:
    """Whether a file is one that only a demonstrator sees: told by its name, or by the mark in it whatever its name.

    Args:
        path: The file.
    """
    if _PAPER.fullmatch(path.name):
        return True
    content = _content(path)
    return MARK.encode() in content or _CALENDAR in content


def is_ours(path: Path) -> bool:
    """Whether a file was written for an evening: private, or to share with those who help."""
    return is_private(path) or SHARED_MARK.encode() in _content(path)


def _content(path: Path) -> bytes:
    try:
        return read_plain(path, most_bytes=_MOST)
    except OSError:
        return b""


def secrets(lines: Iterable[str]) -> tuple[str, ...]:
    """What of contacts and links would tell on its own: addresses, and telephone numbers as their digits.

    Args:
        lines: As a demonstration's file has them.
    """
    found: list[str] = []
    for line in lines:
        found += re.findall(r"https?://\S+", line)
        found += re.findall(r"[\w.+-]+@[\w-]+(?:\.[\w-]+)+", line)
        for row in re.findall(r"\+?\d[\d ().\u00a0/-]*\d", re.sub(r"https?://\S+", "", line)):
            digits = re.sub(r"\D", "", row)
            if len(digits) >= _LEAST_DIGITS:
                found.append(digits)
    return tuple(dict.fromkeys(found))


def told(text: str, known: Iterable[str]) -> tuple[str, ...]:
    """Those of some secrets that stand in a text, a telephone number however it is spaced.

    Args:
        text: What is about to be published.
        known: From `secrets`.
    """
    return tuple(
        secret
        for secret in known
        if (
            re.search(r"(?<!\d)" + r"[ ().\u00a0/-]{0,2}".join(secret) + r"(?!\d)", text)
            if secret.isdigit()
            else secret in text
        )
    )


def refuse_public(target: Path, *, projects: Path) -> None:
    """Refuse a folder from which files get onto the site.

    Args:
        target: Where private files are to be written; need not exist.
        projects: Folder of the project files.

    Raises:
        ProjectError: If it lies in the documents, the projects or the site of an archive.
    """
    place = target.resolve()
    for folder, role in _public((Path.cwd(), *place.parents, place), projects):
        if place == folder or folder in place.parents:
            raise ProjectError(
                [
                    Problem(
                        Place(target.as_posix()),
                        f"contacts, links and notes would get into {role}, which is published",
                        "write to a folder beside it that is kept out of version control, such as: --to private",
                    )
                ]
            )


def _public(homes: Iterable[Path], projects: Path) -> Iterator[tuple[Path, str]]:
    """The folders that are published or read for it, each with what it is."""
    yield projects.resolve(), "the folder of the projects"
    for home, text in settings_texts(homes):
        for key, folder in _DEFAULTS.items():
            role = "the documents of the site" if key == "docs_dir" else "the site"
            yield (home / (setting(text, key) or folder)).resolve(), role
        if folder := setting(text, "projects", indented=True):
            yield (home / folder).resolve(), "the folder of the projects"
