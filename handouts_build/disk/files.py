"""Writing to disk so that nothing is lost or half-written.

This module owns the disk. Everything is first written beside its place under
another name; only when all of it is there does each file take its place.
"""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path

__all__ = ["locked", "write_all"]


def write_all(files: Mapping[Path, bytes]) -> None:
    """Write files, all or none.

    Args:
        files: Content by path; folders are made as needed. Files that hold the
            same bytes already are left alone.

    Raises:
        OSError: If anything cannot be written; files that were there are as before.
    """
    staged: dict[str, Path] = {}
    try:
        for path, content in files.items():
            if path.is_file() and path.stat().st_size == len(content) and path.read_bytes() == content:
                continue
            if path.is_dir():
                raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
            path.parent.mkdir(parents=True, exist_ok=True)
            handle, name = tempfile.mkstemp(dir=path.parent, prefix=".writing-")
            staged[name] = path
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            Path(name).chmod(0o644)
        _put_in_place(staged)
    finally:
        for name in staged:
            with contextlib.suppress(OSError):
                Path(name).unlink(missing_ok=True)


def _put_in_place(staged: Mapping[str, Path]) -> None:
    """Give every file its place; where one cannot have it, the others give theirs back.

    On Windows a file that somebody has open cannot be replaced.
    """
    before: dict[Path, Path | None] = {}
    try:
        for name, path in staged.items():
            kept = None
            if path.is_file():
                kept = Path(f"{name}-before")
                shutil.copy2(path, kept)
            before[path] = kept
            Path(name).replace(path)
    except OSError:
        for path, kept in before.items():
            with contextlib.suppress(OSError):
                if kept is not None:
                    kept.replace(path)
                else:
                    path.unlink(missing_ok=True)
        raise
    finally:
        for kept in before.values():
            if kept is not None:
                with contextlib.suppress(OSError):
                    kept.unlink(missing_ok=True)


@contextlib.contextmanager
def locked(path: Path) -> Iterator[None]:
    """Hold a lock that ends with this process, however it ends.

    Args:
        path: The lock's file; it stays, empty, and means nothing by itself.

    Raises:
        BlockingIOError: If another process holds it.
    """
    with path.open("a+b") as file:
        _lock(file.fileno())
        yield


if sys.platform == "win32":
    import msvcrt

    def _lock(handle: int) -> None:
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError as error:
            raise BlockingIOError(errno.EAGAIN, os.strerror(errno.EAGAIN)) from error

else:
    import fcntl

    def _lock(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
