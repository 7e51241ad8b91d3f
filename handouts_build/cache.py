"""Results kept by the content they were made from.

This module owns keys and storage. A key is made from every byte that goes into a
result, the library's own code among them, so nothing ever has to be thrown out for
being stale. Nothing that is kept can run: it is text and PDF, never pickles.
"""

from __future__ import annotations

import hashlib
import io
import os
import tempfile
import zipfile
from collections.abc import Callable, Mapping
from functools import cache as once
from pathlib import Path
from typing import Any, TypeVar

__all__ = ["Cache", "code_key", "content_key", "pack", "unpack", "user_folder"]

_MOST_FILES = 2000
_T = TypeVar("_T")
_DIGEST = hashlib.sha256().digest_size


def content_key(*parts: str | bytes) -> str:
    """A key for a result made from these parts."""
    digest = hashlib.sha256()
    for part in parts:
        raw = part.encode() if isinstance(part, str) else part
        digest.update(len(raw).to_bytes(8, "big") + raw)
    return digest.hexdigest()


@once
def code_key() -> str:
    """A key for the library's own code, templates, tables and fonts."""
    home = Path(__file__).parent
    files = sorted(path for path in home.rglob("*") if path.is_file() and path.suffix not in (".pyc", ".woff2"))
    return content_key(*(part for path in files for part in (path.relative_to(home).as_posix(), path.read_bytes())))


class Cache:
    """Results by key, in memory and, if given a folder, on disk.

    A folder that cannot be written is done without, and a file that is not what was
    kept is made anew: a cache never fails a build.

    Args:
        folder: Where to keep results between runs.
    """

    def __init__(self, folder: Path | None = None) -> None:
        self._folder = folder
        self._memory: dict[str, bytes] = {}
        self._held: dict[str, Any] = {}

    def get(self, key: str, make: Callable[[], bytes]) -> bytes:
        """The result of a key, made now if it is not there yet."""
        if key not in self._memory:
            self._memory[key] = self._read(key) or self._made(key, make())
        return self._memory[key]

    def hold(self, key: str, make: Callable[[], _T]) -> _T:
        """A thing held while this process lives, made now if it is not there yet.

        What is held never goes to disk, so it may be anything.
        """
        if key not in self._held:
            self._held[key] = make()
        held: _T = self._held[key]
        return held

    def _read(self, key: str) -> bytes | None:
        if self._folder is None:
            return None
        try:
            kept = (self._folder / key).read_bytes()
        except OSError:
            return None
        digest, result = kept[:_DIGEST], kept[_DIGEST:]
        return result if hashlib.sha256(result).digest() == digest else None

    def _made(self, key: str, result: bytes) -> bytes:
        if self._folder is not None:
            try:
                self._folder.mkdir(parents=True, exist_ok=True)
                handle, name = tempfile.mkstemp(dir=self._folder)
                with os.fdopen(handle, "wb") as file:
                    file.write(hashlib.sha256(result).digest() + result)
                Path(name).replace(self._folder / key)
                self._prune()
            except OSError:
                self._folder = None
        return result

    def _prune(self) -> None:
        """Forget the oldest results once there are many."""
        assert self._folder is not None
        kept = sorted(self._folder.iterdir(), key=lambda path: path.stat().st_mtime)
        for path in kept[: max(0, len(kept) - _MOST_FILES)]:
            path.unlink(missing_ok=True)


def pack(files: Mapping[str, bytes]) -> bytes:
    """Several files as one result."""
    raw = io.BytesIO()
    with zipfile.ZipFile(raw, "w") as archive:
        for name, content in files.items():
            archive.writestr(zipfile.ZipInfo(name), content)
    return raw.getvalue()


def unpack(packed: bytes) -> dict[str, bytes]:
    """The files of one result."""
    with zipfile.ZipFile(io.BytesIO(packed)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def user_folder() -> Path:
    """Where results are kept between runs: outside every archive."""
    import platformdirs

    return Path(platformdirs.user_cache_dir("handouts-build", appauthor=False))
