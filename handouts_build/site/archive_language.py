"""The language that an archive's pages and papers are in, as its shop file says.

This module owns how it is found before anything is worked out: what is kept is kept for each language, so that a
command must know its own first, and where nothing changed it must not wait for the reader of YAML.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

from handouts_build.disk.cache import Cache, content_key, library_key
from handouts_build.disk.folders import SHOP, archive_of
from handouts_build.disk.reading import digest_plain
from handouts_build.language import ENGLISH, languages
from handouts_build.problems import ProjectError

__all__ = ["archive_language"]

_MOST_BYTES = 2**26
"""Of a shop file: more than its reader takes, which says so."""


def archive_language(projects: Path, *, cache: Cache) -> str:
    """The language that an archive's pages and papers are in, as a tag of BCP 47.

    English where its shop file says none, is not there, or cannot be read: what is wrong with it is told where the
    projects are read.

    Args:
        projects: A folder of project files.
        cache: Keeps it for a shop file that did not change.
    """
    home = archive_of(projects)
    try:
        digest = digest_plain(home / SHOP, most_bytes=_MOST_BYTES)
        key = content_key(library_key(), "language", digest)
        language = cache.get(key, lambda: _said(home, digest)).decode()
    except (OSError, ProjectError):
        return ENGLISH
    return language if language in languages() else ENGLISH


def _said(home: Path, digest: bytes) -> bytes:
    """What the shop file of a folder says."""
    from handouts_build.site.build import read_shop

    shop, text = read_shop(home, home)
    if hashlib.sha256(text).digest() != digest:
        raise OSError("it was saved meanwhile")
    return shop.language.encode()
