"""What a command does to the disk, counted, and broken off at one of these operations.

This module owns the counting. A moment is the number of an operation, not a time, so
that it can be met again. It works in a process of its own and counts
what happens below one folder: files opened to be written, bytes written to them, what
is sent to the disk, folders made, names changed, given and taken.
"""

from __future__ import annotations

import atexit
import builtins
import contextlib
import enum
import errno
import functools
import importlib
import io
import os
import pickle
import shutil
import subprocess
import sys
import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

__all__ = ["KILLED", "Ended", "Fault", "run", "serve"]

KILLED = 137
"""Status of a process that was killed, as a shell tells it."""


class Fault(enum.Enum):
    """What happens at the operation."""

    KILL = "killed"
    """The process ends at once, of a piece of writing half is done."""
    FULL = "disk full"
    """From then on nothing more can be made or written."""
    CTRL_C = "Ctrl-C"


_NAMED = {
    "os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.link", "os.symlink", "os.chmod", "os.truncate", "os.utime",
}  # fmt: skip
_NEEDS_ROOM = {"open", "os.mkdir", "os.link", "os.symlink", "write"}


@dataclass(frozen=True)
class Ended:
    """How a command ended."""

    status: int
    out: str
    err: str
    operations: int
    """How many it did."""


class _Injector:
    """Counts operations below a folder, and breaks off at one."""

    def __init__(self, root: Path, fault: Fault | None, moment: int) -> None:
        self.root, self.fault, self.moment = str(root), fault, moment
        self.count = 0
        self.busy = False

    def below(self, path: object) -> bool:
        if isinstance(path, int) or path is None:
            return False
        named = os.fsdecode(path)  # type: ignore[arg-type]
        return os.path.join(os.getcwd(), named).startswith(self.root)  # noqa: PTH109, PTH118 (no Path: it opens nothing)

    def audited(self, event: str, arguments: tuple[Any, ...]) -> None:
        if self.busy or (event not in _NAMED and event != "open"):
            return
        if event == "open" and not (isinstance(arguments[2], int) and arguments[2] & (os.O_WRONLY | os.O_RDWR)):
            return
        if self.below(arguments[0]):
            self.operation(event)

    def operation(self, kind: str, half: Callable[[], object] = lambda: None) -> None:
        self.count += 1
        if self.fault is Fault.KILL and self.count == self.moment:
            half()
            os._exit(KILLED)
        if self.fault is Fault.CTRL_C and self.count == self.moment:
            raise KeyboardInterrupt
        if self.fault is Fault.FULL and self.count >= self.moment and kind in _NEEDS_ROOM:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    def install(self) -> None:
        sys.addaudithook(self.audited)
        injector, opened, sent = self, io.open, os.fsync

        class File(io.FileIO):
            def write(self, data: Any, /) -> int:
                injector.operation("write", lambda: super(File, self).write(bytes(data)[: len(data) // 2]))
                return super().write(data)

        def opening(
            file: Any, mode: str = "r", buffering: int = -1, encoding: Any = None, errors: Any = None,
            newline: Any = None, closefd: bool = True, opener: Any = None,
        ) -> Any:  # fmt: skip
            if not set(mode) & set("wxa+") or not injector.below(file):
                return opened(file, mode, buffering, encoding, errors, newline, closefd, opener)
            raw = File(file, mode.replace("b", "").replace("t", ""), closefd, opener)
            binary = io.BufferedRandom(raw) if "+" in mode else io.BufferedWriter(raw)
            return binary if "b" in mode else io.TextIOWrapper(binary, encoding, errors, newline)

        def sending(handle: int) -> None:
            injector.operation("fsync")
            sent(handle)

        io.open = builtins.open = opening  # type: ignore[assignment]
        os.fsync = sending  # type: ignore[assignment]
        shutil._USE_CP_SENDFILE = False  # type: ignore[attr-defined]


_LOADED = ("handouts_build.cli", "handouts_build.compute", "handouts_build.schema", "mkdocs.__main__")
"""What every command would load: loaded once. None of it starts a thread."""


def run(command: Callable[[], object], root: Path, *, fault: Fault | None = None, moment: int = 0) -> Ended:
    """Run a command in a process of its own.

    Args:
        command: Ends by returning or with SystemExit; it can be pickled.
        root: It runs in this folder, and what it does below it is counted.
        fault: What happens; nothing if not given.
        moment: At which operation, from 1.
    """
    said = {name: root.parent / f"{root.name}-{name}" for name in ("out", "err", "count")}
    server = _server()
    assert server.stdin is not None
    assert server.stdout is not None
    pickle.dump((command, root, fault, moment, said, dict(os.environ)), server.stdin)
    server.stdin.flush()
    status = pickle.load(server.stdout)
    count = int(said["count"].read_text()) if said["count"].is_file() else 0
    said["count"].unlink(missing_ok=True)
    out, err = (said[name].read_text(encoding="utf-8", errors="replace") for name in ("out", "err"))
    return Ended(status, out, err, count)


@functools.cache
def _server() -> subprocess.Popen[bytes]:
    """A process with one thread, of which each command gets a copy.

    It is not the one that runs the tests: of the threads that libraries have started there (the typesetter's, the
    kernel's) a copy has none, and waits for them for ever.
    """
    # Where the tests find their modules it does too; and numpy's own threads stay away.
    around = os.environ | {"PYTHONPATH": os.pathsep.join(filter(None, sys.path)), "OPENBLAS_NUM_THREADS": "1"}
    server = subprocess.Popen(
        [sys.executable, "-c", f"from {__name__} import serve; serve()"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        env=around,
    )
    atexit.register(server.communicate)
    return server


def serve() -> None:
    """Run what is asked for, each in a copy of this process, until nothing is."""
    for name in _LOADED:
        importlib.import_module(name)
    asked, answers = sys.stdin.buffer, sys.stdout.buffer
    with contextlib.suppress(EOFError):
        while True:
            request = pickle.load(asked)
            assert threading.active_count() == 1
            child = os.fork()
            if child == 0:
                _child(*request)
            _, ended = os.waitpid(child, 0)
            pickle.dump(os.waitstatus_to_exitcode(ended), answers)
            answers.flush()


def _child(
    command: Callable[[], object],
    root: Path,
    fault: Fault | None,
    moment: int,
    said: Mapping[str, Path],
    environment: Mapping[str, str],
) -> None:
    """What runs in the process of its own; it ends here."""
    os.environ.clear()
    os.environ.update(environment)
    status = 1
    try:
        os.chdir(root)
        for handle, name in ((1, "out"), (2, "err")):
            to = os.open(said[name], os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
            os.dup2(to, handle)
            stream = os.fdopen(os.dup(handle), "w", encoding="utf-8")
            setattr(sys, f"std{name}", stream)
        injector = _Injector(root, fault, moment)
        injector.install()
        try:
            command()
            status = 0
        except SystemExit as left:
            status = left.code if isinstance(left.code, int) else int(left.code is not None)
        injector.fault = None
        sys.stdout.flush()
        sys.stderr.flush()
        said["count"].write_text(str(injector.count))
    finally:
        os._exit(status)
