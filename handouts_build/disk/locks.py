"""A lock that one process holds at a time, and that says who holds it.

This module owns it. The system gives it back when the process ends, however it ends,
so that no lock is ever left over from a process that is gone.
"""

from __future__ import annotations

import contextlib
import errno
import os
import stat
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from handouts_build.disk.clock import wall_clock

__all__ = ["locked"]

_LOOK_S = 0.05
"""Seconds between two tries."""
_MOST_BYTES = 200
"""Room for who holds it."""


@contextlib.contextmanager
def locked(path: Path, *, patience_s: float = 0.0, remove: bool = False) -> Iterator[None]:
    """Hold a lock that ends with this process, however it ends.

    Args:
        path: The lock's file. It means nothing by itself, but says who held it last.
        patience_s: Seconds to wait for another process to let go of it.
        remove: Whether the file goes when the lock is given back.

    Raises:
        BlockingIOError: If another process holds it; `strerror` says which.
        OSError: If there can be no such file, or something else has its name.
    """
    end = time.monotonic() + patience_s
    while True:
        handle = _open(path)
        try:
            _lock(handle)
            if not remove or _is_still(handle, path):
                break
        except BlockingIOError:
            if time.monotonic() >= end:
                holder = _holder(handle)
                os.close(handle)
                raise BlockingIOError(errno.EAGAIN, holder, str(path)) from None
            time.sleep(_LOOK_S)
        os.close(handle)
    try:
        os.ftruncate(handle, 0)
        os.write(handle, f"process {os.getpid()}, since {wall_clock():%H:%M}".encode())
        yield
    finally:
        if remove and sys.platform != "win32":
            # Before it is given back: whoever waits for it sees that it is not this file any more.
            with contextlib.suppress(OSError):
                path.unlink()
        os.close(handle)
        if remove and sys.platform == "win32":
            with contextlib.suppress(OSError):
                path.unlink()


def _open(path: Path) -> int:
    """The lock's file, made if it is not there; never what a link leads to, nor a pipe.

    Raises:
        OSError: If it cannot be opened, or is no plain file.
    """
    kinds = os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    handle = os.open(path, kinds, 0o600)
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        os.close(handle)
        raise OSError(errno.EINVAL, "not a plain file", str(path))
    return handle


def _is_still(handle: int, path: Path) -> bool:
    """Whether a file that was opened is the one of that name."""
    try:
        return os.path.samestat(os.fstat(handle), path.lstat())
    except FileNotFoundError:
        return False


def _holder(handle: int) -> str:
    """Who wrote into a lock's file that it is theirs."""
    os.lseek(handle, 0, os.SEEK_SET)
    said = os.read(handle, _MOST_BYTES).decode(errors="replace")
    return said if said.isprintable() and said else "another process"


if sys.platform == "win32":
    import msvcrt

    _FAR = 2**30
    """Where the byte stands that is locked there: it cannot be read meanwhile, and who holds it is to be."""

    def _lock(handle: int) -> None:
        os.lseek(handle, _FAR, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError as error:
            raise BlockingIOError(errno.EAGAIN, os.strerror(errno.EAGAIN)) from error
        os.lseek(handle, 0, os.SEEK_SET)

else:
    import fcntl

    def _lock(handle: int) -> None:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise
        except OSError as error:
            # Some file systems know no locks: there one goes without.
            if error.errno not in (errno.ENOLCK, errno.ENOSYS, errno.EOPNOTSUPP):
                raise
