"""What Linux itself refuses a process for good: other files, programs, the network. No privileges are needed for it.

This module owns the calls. Landlock (from its second version, kernel 5.19, on; landlock(7)) holds files and
programs whoever asks, the libraries in C and Rust too; a network of its own, with nothing in it, holds the rest.
Neither has a way back.
"""

from __future__ import annotations

import contextlib
import ctypes
import os
import stat
import sys
from collections.abc import Iterable
from pathlib import Path

__all__ = ["enclose", "holds_files"]

_CREATE, _ADD, _RESTRICT = 444, 445, 446
"""Numbers of the three calls, alike on every kind of processor that Python has wheels for."""
_VERSION = 1
_BENEATH = 1
_NO_NEW_PRIVILEGES = 38
_OWN_USER, _OWN_NETWORK = 0x10000000, 0x40000000

_WRITE_FILE, _READ_FILE, _READ_FOLDER = 1 << 1, 1 << 2, 1 << 3
_REMOVE_FOLDER, _REMOVE_FILE, _MAKE_FOLDER, _MAKE_FILE = 1 << 4, 1 << 5, 1 << 7, 1 << 8
_MOVE, _TRUNCATE = 1 << 13, 1 << 14
_READ = _READ_FILE | _READ_FOLDER
_WRITE = _WRITE_FILE | _REMOVE_FOLDER | _REMOVE_FILE | _MAKE_FOLDER | _MAKE_FILE | _MOVE | _TRUNCATE
_OF_FILES = _READ_FILE | _WRITE_FILE | _TRUNCATE
"""What a single file may be opened for; the rest is of folders."""
_LEAST = 2
"""The first version lets nobody move a file from one folder to another, as everything that is written here is."""
_KNOWN = {2: 14, 3: 15, 4: 15}
"""How many kinds of access to files each version of Landlock knows; from the fifth on it is 16."""
_NETWORK = 0b11
"""Binding and connecting by TCP, from the fourth version on."""
_SCOPED = 0b11
"""Sockets without a name on the disk, and signals to others, from the sixth version on."""


class _Rules(ctypes.Structure):
    _fields_ = (("files", ctypes.c_uint64), ("network", ctypes.c_uint64), ("scoped", ctypes.c_uint64))


class _Beneath(ctypes.Structure):
    _pack_ = 1
    _fields_ = (("allowed", ctypes.c_uint64), ("parent", ctypes.c_int32))


def holds_files() -> bool:
    """Whether this system's kernel can hold a process to its own files."""
    return _version() >= _LEAST


def _version() -> int:
    """The version of Landlock; nought or less where there is none."""
    if not sys.platform.startswith("linux"):
        return 0
    return int(_library().syscall(_CREATE, None, ctypes.c_size_t(0), ctypes.c_uint32(_VERSION)))


def _library() -> ctypes.CDLL:
    return ctypes.CDLL(None, use_errno=True)


def enclose(home: Path, readable: Iterable[Path]) -> None:
    """Hold this process, and all that it starts, to some folders, to no program and to no network.

    To be called while it has one thread: threads that there are already are not held. Where the kernel knows none of
    it nothing is done; a part of it that is refused (a container may) is left out, and the rest holds.

    Args:
        home: The one folder in which it may read, make, change and remove files.
        readable: Files and folders that it may read.
    """
    if not holds_files():
        return
    version = _version()
    library = _library()
    # A user of its own is what lets it have a network of its own; its rights to files stay those it had.
    library.unshare(ctypes.c_int(_OWN_USER | _OWN_NETWORK))
    known = (1 << _KNOWN.get(version, 16)) - 1
    rules = _Rules(known, _NETWORK if version >= 4 else 0, _SCOPED if version >= 6 else 0)
    size = 24 if version >= 6 else 16 if version >= 4 else 8
    ruled = library.syscall(_CREATE, ctypes.byref(rules), ctypes.c_size_t(size), ctypes.c_uint32(0))
    if ruled < 0:
        return
    try:
        _allow(library, ruled, home, (_READ | _WRITE) & known)
        _allow(library, ruled, Path(os.devnull), _OF_FILES & known)
        for path in readable:
            _allow(library, ruled, path, _READ)
        if library.prctl(ctypes.c_int(_NO_NEW_PRIVILEGES), *(ctypes.c_ulong(word) for word in (1, 0, 0, 0))) == 0:
            library.syscall(_RESTRICT, ctypes.c_int(ruled), ctypes.c_uint32(0))
    finally:
        os.close(ruled)


def _allow(library: ctypes.CDLL, ruled: int, path: Path, access: int) -> None:
    """Allow some access below a path; nothing where there is no such path."""
    with contextlib.suppress(OSError):
        handle = os.open(path, os.O_PATH | os.O_CLOEXEC)
        try:
            if not stat.S_ISDIR(os.fstat(handle).st_mode):
                access &= _OF_FILES
            rule = _Beneath(access, handle)
            library.syscall(_ADD, ctypes.c_int(ruled), ctypes.c_int(_BENEATH), ctypes.byref(rule), ctypes.c_uint32(0))
        finally:
            os.close(handle)
