"""Having what was written reach the disk, so that a power cut empties nothing.

This module owns the calls of the system for it.
"""

from __future__ import annotations

import contextlib
import os
import sys
from pathlib import Path

__all__ = ["send_all", "send_folder", "send_folders"]


def send_all() -> None:
    """Have everything that waits reach the disk."""
    if sys.platform != "win32":
        os.sync()


def send_folders(folder: Path) -> None:
    """Have the names in a folder and in all below it reach the disk."""
    for home, _, _ in os.walk(folder):
        send_folder(Path(home))


def send_folder(folder: Path) -> None:
    """Have a folder's names reach the disk; where a folder cannot be opened, the system sees to it."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
