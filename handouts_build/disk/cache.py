"""Results kept by the content they were made from.

This module owns keys and storage. A key is made from every byte that goes into a
result, the library's own code among them, so nothing ever has to be thrown out for
being stale. Nothing that is kept can run: it is text, pictures and PDF, never pickles.

Sets of files are kept apart from their names: a file lies once, under the digest of its
bytes, however many sets hold it, and is handed on as a path, so that a large archive
never stands in memory.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping
from functools import cache as once
from pathlib import Path
from typing import Any, TypeVar

from handouts_build.language import spoken

__all__ = ["Cache", "code_key", "content_key", "library_key", "read", "user_folder"]

_MOST_BYTES = 2 * 2**30
"""Room for the site and the papers of some hundred projects."""
_SMALL = 2**16
"""Bytes up to which a result also stays in memory."""
_DAY_S = 86_400.0
_FILES = "files"
_T = TypeVar("_T")
_DIGEST = hashlib.sha256().digest_size


def content_key(*parts: str | bytes) -> str:
    """A key for a result made from these parts."""
    digest = hashlib.sha256()
    for part in parts:
        # Names of files need not be text in any encoding.
        raw = part.encode(errors="surrogateescape") if isinstance(part, str) else part
        digest.update(len(raw).to_bytes(8, "big") + raw)
    return digest.hexdigest()


def code_key() -> str:
    """A key for what makes every result: the library itself, and the language that it speaks."""
    return content_key(library_key(), spoken())


@once
def library_key() -> str:
    """A key for the library's own code, templates, tables and fonts, and for the releases of the libraries it uses."""
    home = Path(__file__).parents[1]
    files = sorted(path for path in home.rglob("*") if path.is_file() and path.suffix != ".pyc")
    own = (part for path in files for part in (path.relative_to(home).as_posix(), path.read_bytes()))
    return content_key(*own, *_releases())


def _releases() -> list[str]:
    """The libraries installed, each with its release, as the folders beside them tell: looking them up takes long."""
    found: set[str] = set()
    for folder in sys.path:
        with contextlib.suppress(OSError):
            found |= {path.name for path in Path(folder).iterdir() if path.suffix == ".dist-info"}
    return sorted(found)


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
        self._sets: dict[str, Mapping[str, bytes]] = {}
        self._sound: set[str] = set()
        self._pruned = False

    def get(self, key: str, make: Callable[[], bytes]) -> bytes:
        """The result of a key, made now if it is not there yet.

        Args:
            key: From `content_key`, of everything the result follows from.
            make: Makes the result; what it raises is passed on, and nothing is kept.

        Returns:
            The bytes, as `make` gave them now or before.
        """
        found = self.known(key)
        if found is None:
            found = make()
            self._write(key, found)
            self._remember(key, found)
        return found

    def known(self, key: str) -> bytes | None:
        """The result of a key, if it is there."""
        if key in self._memory:
            return self._memory[key]
        found = self._read(key)
        if found is not None:
            self._remember(key, found)
        return found

    def _remember(self, key: str, result: bytes) -> None:
        if self._folder is None or len(result) <= _SMALL:
            self._memory[key] = result

    def files(self, key: str, make: Callable[[], Mapping[str, bytes]]) -> Mapping[str, Path | bytes]:
        """A set of files by name, made now if it is not there yet.

        Args:
            key: From `content_key`, of everything the files follow from.
            make: Makes the files, by name; what it raises is passed on, and nothing is kept.

        Returns:
            For each name a path below the folder, or bytes where nothing is kept on disk.
        """
        found = self.known_files(key)
        if found is None:
            made = make()
            self._keep(key, made)
            found = self.known_files(key) or self._sets.setdefault(key, made)
        return found

    def known_files(self, key: str) -> Mapping[str, Path | bytes] | None:
        """A set of files by name, if it is there whole."""
        if key in self._sets:
            return self._sets[key]
        listed = self._read(key)
        if listed is None:
            return None
        found = {name: (digest, size) for name, (digest, size) in json.loads(listed).items()}
        whole = all(self._is_sound(digest, size) for digest, size in found.values())
        return {name: self._place(digest) for name, (digest, _) in found.items()} if whole else None

    def hold(self, key: str, make: Callable[[], _T]) -> _T:
        """An object held while this process lives, made now if it is not there yet.

        What is held never goes to disk, so it may be anything.

        Args:
            key: From `content_key`, of everything the object follows from.
            make: Makes the object; what it raises is passed on, and nothing is held.

        Returns:
            The object, the same one each time.
        """
        if key not in self._held:
            self._held[key] = make()
        held: _T = self._held[key]
        return held

    @property
    def folder(self) -> Path | None:
        """Where results are kept between runs; None if nowhere."""
        return self._folder

    def _read(self, key: str) -> bytes | None:
        if self._folder is None:
            return None
        try:
            kept = (self._folder / key).read_bytes()
        except OSError:
            return None
        digest, result = kept[:_DIGEST], kept[_DIGEST:]
        return result if hashlib.sha256(result).digest() == digest else None

    def _keep(self, key: str, files: Mapping[str, bytes]) -> None:
        """Write the files that are not there yet, and then their list."""
        listed = {}
        for name, content in files.items():
            digest = hashlib.sha256(content).hexdigest()
            listed[name] = (digest, len(content))
            if self._folder is not None and not self._is_sound(digest, len(content)):
                self._put(self._place(digest), content)
        self._write(key, json.dumps(listed).encode())

    def _is_sound(self, digest: str, size: int) -> bool:
        """Whether a kept file is what was kept: its size each time, its bytes once in this process."""
        path = self._place(digest)
        if not _there(path, size):
            return False
        if digest not in self._sound:
            try:
                with path.open("rb") as file:
                    if hashlib.file_digest(file, "sha256").hexdigest() != digest:
                        return False
            except OSError:
                return False
            self._sound.add(digest)
        return True

    def _place(self, digest: str) -> Path:
        assert self._folder is not None
        return self._folder / _FILES / digest

    def _write(self, key: str, result: bytes) -> None:
        if self._folder is not None:
            self._put(self._folder / key, hashlib.sha256(result).digest() + result)

    def _put(self, path: Path, content: bytes) -> None:
        """Write a file whole; do without the folder from now on if that fails."""
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            handle, name = tempfile.mkstemp(dir=path.parent)
            try:
                with os.fdopen(handle, "wb") as file:
                    file.write(content)
                Path(name).replace(path)
            except OSError:
                Path(name).unlink(missing_ok=True)
                raise
            if not self._pruned:
                self._pruned = True
                self._prune()
        except OSError:
            self._folder = None

    def _prune(self) -> None:
        """Forget what was longest not used once there is much; done once, for looking takes a while.

        What was in use within a day stays: this run may be about to hand it on.
        """
        assert self._folder is not None
        total, now = 0, time.time()
        for used, size, path in sorted(_kept(self._folder), reverse=True):
            total += size
            if total > _MOST_BYTES and now - used > _DAY_S:
                path.unlink(missing_ok=True)


def _there(path: Path, size: int) -> bool:
    """Whether a kept file is there whole; if it is, it is marked as in use."""
    try:
        status = path.stat()
        if time.time() - status.st_mtime > _DAY_S / 2:
            os.utime(path)
    except OSError:
        return False
    return status.st_size == size


def _kept(folder: Path) -> Iterator[tuple[float, int, Path]]:
    """When each kept file was last in use, its size, and where it is."""
    for home in (folder, folder / _FILES):
        for path in home.iterdir() if home.is_dir() else ():
            # Another process may be tidying up as well.
            with contextlib.suppress(FileNotFoundError):
                if path.is_file():
                    status = path.stat()
                    yield status.st_mtime, status.st_size, path


def read(file: Path | bytes) -> bytes:
    """The bytes of a file of a set."""
    return file.read_bytes() if isinstance(file, Path) else file


def user_folder() -> Path:
    """Where results are kept between runs: outside every archive."""
    import platformdirs

    return Path(platformdirs.user_cache_dir("handouts-build", appauthor=False))
