"""Reading files that may come from a stranger: plain files, no larger than they have reason to be.

This module owns the opening and the looking into folders. A file is opened once, no link
is followed, and what it is and how large is asked of what was opened, so that nothing can
be put in its place. Where the system cannot be told to follow no link, what stood there
before it was opened and what stands there after are compared with what was opened.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
import stat
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

__all__ = ["Entry", "digest_plain", "is_plain_folder", "plain_files", "read_plain", "walk"]

_KINDS = (
    (stat.S_ISLNK, "it is a link"),
    (stat.S_ISDIR, "it is a folder"),
    (stat.S_ISFIFO, "it is a pipe"),
    (stat.S_ISSOCK, "it is a socket"),
    (stat.S_ISCHR, "it is a device"),
    (stat.S_ISBLK, "it is a device"),
)
_CHUNK = 2**20


def read_plain(path: Path, *, most_bytes: int) -> bytes:
    """The bytes of a plain file.

    Args:
        path: The file.
        most_bytes: How large it may be.

    Raises:
        OSError: If it cannot be read, is a link, a pipe or a device, or is larger; `strerror` says which.
    """
    with _opened(path, most_bytes) as handle:
        content = b""
        while chunk := os.read(handle, min(_CHUNK, most_bytes + 1 - len(content))):
            content += chunk
    if len(content) > most_bytes:
        # It grew while it was read.
        raise _too_large(path, len(content), most_bytes)
    return content


def digest_plain(path: Path, *, most_bytes: int) -> bytes:
    """The SHA-256 of a plain file, which need not fit into memory.

    Args:
        path: The file.
        most_bytes: How large it may be.

    Raises:
        OSError: If it cannot be read, is a link, a pipe or a device, or is larger; `strerror` says which.
    """
    digest, read = hashlib.sha256(), 0
    with _opened(path, most_bytes) as handle:
        while chunk := os.read(handle, _CHUNK):
            read += len(chunk)
            if read > most_bytes:
                raise _too_large(path, read, most_bytes)
            digest.update(chunk)
    return digest.digest()


@contextlib.contextmanager
def _opened(path: Path, most_bytes: int) -> Iterator[int]:
    """A plain file, open for reading.

    Raises:
        OSError: If it cannot be opened, is anything else, or is too large.
    """
    stood = path.lstat()
    _must_be_plain(path, stood)
    # A pipe that was put in its place meanwhile is opened without waiting, and then found out.
    kinds = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    try:
        handle = os.open(path, kinds)
    except OSError as error:
        if error.errno in (errno.ELOOP, errno.EMLINK):
            raise OSError(error.errno, "it is a link", str(path)) from None
        raise
    try:
        found = os.fstat(handle)
        _must_be_plain(path, found)
        if not hasattr(os, "O_NOFOLLOW") and not (
            os.path.samestat(stood, found) and os.path.samestat(path.lstat(), found)
        ):
            raise OSError(errno.ESTALE, "another was put in its place while it was opened", str(path))
        if found.st_size > most_bytes:
            raise _too_large(path, found.st_size, most_bytes)
        yield handle
    finally:
        os.close(handle)


def _must_be_plain(path: Path, status: os.stat_result) -> None:
    if what := _other_than_plain(status):
        raise OSError(errno.EINVAL, what, str(path))


def _other_than_plain(status: os.stat_result) -> str:
    """What something is if it is no plain file; empty if it is one."""
    if _is_junction(status):
        return "it is a link"
    if stat.S_ISREG(status.st_mode):
        return ""
    return next((what for test, what in _KINDS if test(status.st_mode)), "it is no plain file")


def _is_junction(status: os.stat_result) -> bool:
    """Whether it is one of Windows's names for a folder elsewhere, which are no links to the system."""
    # Files that a cloud drive has not fetched yet have a tag too; a bit tells those whose name is another's.
    return bool(getattr(status, "st_reparse_tag", 0) & 0x20000000)


def _too_large(path: Path, size: int, most_bytes: int) -> OSError:
    return OSError(errno.EFBIG, f"it has {size:,} bytes; at most {most_bytes:,} are read", str(path))


def is_plain_folder(path: Path) -> bool:
    """Whether there is a folder of that name that is no link to another."""
    try:
        status = path.lstat()
    except (OSError, ValueError):
        return False
    return stat.S_ISDIR(status.st_mode) and not _is_junction(status)


def plain_files(home: Path, name: str, *endings: str) -> tuple[Path, ...]:
    """What stands in a folder of a project's own folder under names of some endings, by name.

    Args:
        home: The project's own folder.
        name: Of the folder in it.
        endings: Such as `.yml`; of any ending where none is given.

    Returns:
        The paths; none where either folder is not there or is a link. Hidden ones are left out.
    """
    folder = home / name
    if not (is_plain_folder(home) and is_plain_folder(folder)):
        return ()
    shown = (path for path in folder.iterdir() if not path.name.startswith("."))
    return tuple(sorted(path for path in shown if not endings or path.suffix in endings))


@dataclass(frozen=True)
class Entry:
    """What stands in a folder under one name, or in a folder of it."""

    path: Path
    status: os.stat_result | None
    """None where the system does not tell."""
    fault: str = ""
    """Why it is not read, as a sentence goes on: it is a link; empty for a plain file."""

    @property
    def looks(self) -> str:
        """What changes whenever the file does, as far as the system tells without reading it."""
        if self.status is None:
            return f"{self.path} {self.fault}"
        told = (self.status.st_size, self.status.st_mtime_ns, self.status.st_ctime_ns, self.status.st_ino)
        return f"{self.path} {self.fault} {' '.join(map(str, told))}"


def walk(folder: Path, *, most: int, deepest: int) -> Iterator[Entry]:
    """Everything below a folder that is not hidden and not itself a folder, by name; no link is followed.

    Args:
        folder: The folder; nothing is told of one that is not there.
        most: How many names are looked at.
        deepest: How deep folders may lie in each other.

    Yields:
        Plain files, and with a fault whatever else there is. After `most` names one with a fault is the last.
    """
    left = most
    waiting = [(folder, 0)]
    while waiting:
        here, depth = waiting.pop()
        try:
            status = here.lstat()
        except OSError:
            continue
        if not is_plain_folder(here):
            yield Entry(here, status, _other_than_plain(status) or "it is a file, and a folder is due here")
            continue
        if depth > deepest:
            yield Entry(here, status, f"folders lie in each other more than {deepest} deep")
            continue
        names = []
        try:
            with os.scandir(here) as entries:
                for entry in entries:
                    left -= 1
                    if left < 0:
                        yield Entry(folder, None, f"it holds more than {most:,} files")
                        return
                    if not entry.name.startswith("."):
                        names.append(entry.name)
        except OSError as error:
            yield Entry(here, status, f"it cannot be looked into ({error.strerror})")
            continue
        for name in sorted(names, reverse=True):
            path = here / name
            try:
                found = path.lstat()
            except OSError:
                yield Entry(path, None, "it is gone")
                continue
            if is_plain_folder(path):
                waiting.append((path, depth + 1))
            else:
                yield Entry(path, found, _other_than_plain(found))
