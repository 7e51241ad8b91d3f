"""The wall about a trial: its own folder is all it may write, the tool and Python all else it may read.

This module owns what the process may still ask of the machine. It stands twice. Python refuses it on every system, by
an audit hook that cannot be taken away again: a project that leads the tool's own Python astray gets nowhere, but what
a library in C or Rust asks of the system goes past it. On Linux the kernel refuses all of these as well.
"""

from __future__ import annotations

import errno
import os
import site
import sys
import sysconfig
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from handouts_build.door.landlock import enclose

__all__ = ["wall_off"]

_PROGRAMS = frozenset({
    "_winapi.CreateProcess", "os.exec", "os.fork", "os.forkpty", "os.posix_spawn", "os.spawn", "os.startfile",
    "os.startfile/2", "os.system", "pty.spawn", "subprocess.Popen", "webbrowser.open",
})  # fmt: skip
_NATIVE = frozenset({"ctypes.dlopen", "ctypes.dlsym", "ctypes.dlsym/handle", "ctypes.call_function"})
"""Ways from Python to what no hook sees."""
_NEVER = frozenset({"os.link", "os.symlink", "os.setxattr", "os.removexattr", "os.chown", "sqlite3.connect"})
_CHANGES = {
    "os.chmod": (0,), "os.mkdir": (0,), "os.remove": (0,), "os.rename": (0, 1), "os.rmdir": (0,), "os.truncate": (0,),
    "os.utime": (0,),
}  # fmt: skip
"""Events that change what is on the disk, each with where among its arguments the paths are."""
_LISTS = frozenset({"os.listdir", "os.scandir"})
_WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
_SYSTEM = (
    "/usr", "/lib", "/lib64", "/opt", "/System", "/Library", "/etc/ld.so.cache", "/etc/localtime", "/etc/fonts",
    "/dev/null", "/dev/urandom", "/proc/cpuinfo", "/proc/meminfo", "/sys/devices/system/cpu",
)  # fmt: skip
"""Where systems keep libraries, fonts and time zones, and tell how many processors there are."""


def wall_off(home: Path) -> None:
    """Hold this process to a folder, for good. To be called before it has read anything or started a thread.

    Args:
        home: The folder, by its real path; what libraries keep for themselves goes there too.
    """
    for name in ("TMPDIR", "TEMP", "TMP", "MPLCONFIGDIR", "XDG_CACHE_HOME"):
        os.environ[name] = str(home)
    tempfile.tempdir = str(home)
    os.chdir(home)
    readable = tuple(_readable())
    enclose(home, readable)
    sys.addaudithook(_Wall(home, readable))


def _readable() -> Iterator[Path]:
    """Where Python, the libraries and the tool are, and what every program of this system may need."""
    own = Path(__file__).resolve().parents[1]
    prefixes = {sys.prefix, sys.exec_prefix, sys.base_prefix, sys.base_exec_prefix, *sysconfig.get_paths().values()}
    prefixes |= {*site.getsitepackages(), site.getusersitepackages()}
    # A home of its own that is the system's root, or a user's, would open all that is below it.
    homes = {Path(Path.home().anchor), Path.home().resolve(), *Path.home().resolve().parents}
    found = (Path(prefix).resolve() for prefix in (*prefixes, *_system()))
    yield own
    yield from (path for path in dict.fromkeys(found) if path not in homes and path.exists())


def _system() -> Iterator[str]:
    yield from _SYSTEM
    if root := os.environ.get("SYSTEMROOT"):
        yield root


class _Wall:
    """Refuses, as an audit hook, what no trial needs."""

    def __init__(self, home: Path, readable: tuple[Path, ...]) -> None:
        # Texts, as the hook is asked thousands of times, and of a path's methods some would ask it again.
        self._home = os.path.join(home, "")  # noqa: PTH118
        self._readable = tuple(str(path) for path in readable)

    def __call__(self, event: str, arguments: tuple[Any, ...]) -> None:
        if event == "open":
            self._opened(*arguments)
        elif event in _CHANGES:
            for at in _CHANGES[event]:
                self._must_be_ours(arguments[at])
        elif event in _LISTS:
            self._must_be_readable(arguments[0] if arguments[0] is not None else os.curdir)
        elif (
            event in _PROGRAMS
            or event in _NATIVE
            or event in _NEVER
            or (event.startswith("socket.") and event != "socket.gethostname")
            or event.startswith("winreg.Set")
        ):
            raise PermissionError(errno.EACCES, "the wall about a trial refuses this", event)

    def _opened(self, path: object, _: object, flags: object) -> None:
        if isinstance(flags, int) and flags & _WRITES:
            if path != os.devnull:
                self._must_be_ours(path)
        else:
            self._must_be_readable(path)

    def _must_be_ours(self, path: object) -> None:
        # What is open already was let through as it was opened.
        if not isinstance(path, int) and not self._is_ours(_real(path)):
            raise PermissionError(errno.EACCES, "the wall about a trial refuses this", path)

    def _must_be_readable(self, path: object) -> None:
        if isinstance(path, int):
            return
        real = _real(path)
        if not self._is_ours(real) and not any(
            real == known or real.startswith(known + os.sep) for known in self._readable
        ):
            raise PermissionError(errno.EACCES, "the wall about a trial refuses this", path)

    def _is_ours(self, real: str) -> bool:
        return os.path.join(real, "").startswith(self._home)  # noqa: PTH118


def _real(path: object) -> str:
    """A path with every link followed. Whatever leads it elsewhere between this and its use, the kernel sees."""
    return os.path.realpath(os.fsdecode(path))  # type: ignore[arg-type]
