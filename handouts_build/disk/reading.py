"""Reading files that may come from a stranger: plain files, no larger than they have reason to be.

This module owns the opening. A file is opened once, no link is followed, and what it is
and how large is asked of what was opened, so that nothing can be put in its place.
"""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

__all__ = ["read_plain"]


def read_plain(path: Path, *, most_bytes: int) -> bytes:
    """The bytes of a plain file.

    Args:
        path: The file.
        most_bytes: How large it may be.

    Raises:
        OSError: If it cannot be read, is a link, a pipe or a device, or is larger.
    """
    # A pipe that nobody writes to is opened without waiting, and then found out.
    kinds = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    handle = os.open(path, kinds)
    with os.fdopen(handle, "rb") as file:
        found = os.fstat(handle)
        if not stat.S_ISREG(found.st_mode):
            raise OSError(errno.EINVAL, "not a plain file", str(path))
        if found.st_size > most_bytes:
            raise OSError(errno.EFBIG, f"larger than {most_bytes / 2**20:g} MiB", str(path))
        return file.read(most_bytes)
