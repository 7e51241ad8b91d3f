"""Two names exchanged in one step, where the system can do that: between them there is nothing.

This module owns the call. Python has none for it, and we know of no kept library that has. On Linux it is
`renameat2` with `RENAME_EXCHANGE` (renameat2(2): Linux 3.15, glibc 2.28), on macOS `renamex_np` with `RENAME_SWAP`
(rename(2) there); not every file system knows it.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

__all__ = ["exchanged"]

_HERE = -100
"""`AT_FDCWD` of Linux's fcntl.h: what is named is looked for from where the process is."""
_EXCHANGE = 2
"""`RENAME_EXCHANGE` of linux/fs.h, and `RENAME_SWAP` of macOS's stdio.h."""


def exchanged(path: Path, other: Path) -> bool:
    """Let two files or folders of one disk have each other's names.

    Args:
        path: It is there.
        other: It is there too.

    Returns:
        Whether they have; if not, both are as they were.
    """
    if not (sys.platform.startswith("linux") or sys.platform == "darwin"):
        return False
    import ctypes

    library = ctypes.CDLL(None, use_errno=True)
    first, second = os.fsencode(path), os.fsencode(other)
    # A call of C goes past whoever watches what this process does to files: they are told as of any renaming.
    sys.audit("os.rename", str(path), str(other), -1, -1)
    if sys.platform == "darwin":
        swap = getattr(library, "renamex_np", None)
        return swap is not None and swap(first, second, ctypes.c_uint(_EXCHANGE)) == 0
    exchange = getattr(library, "renameat2", None)
    return exchange is not None and exchange(_HERE, first, _HERE, second, ctypes.c_uint(_EXCHANGE)) == 0
