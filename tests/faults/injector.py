"""What a command does to the disk, counted, and broken off at one of these operations.

This module owns the counting. A moment is the number of an operation, not a time, so
that it can be met again. It works in a process of its own and counts
what happens below one folder: files opened to be written, bytes written to them, what
is sent to the disk, folders made, names changed, given, taken and exchanged.

A command may wait before an operation, and go on from there any number of times, each
time in a copy of its process: what it has worked out until then is not worked out again.
What is to be sent to the disk is counted and not sent: a process that ends takes nothing
with it that the system has, and this machine's disk has others to serve.
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
import time
import traceback
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO

__all__ = ["KILLED", "Ended", "Fault", "Parked", "parked", "run", "serve"]

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
    pause: int
    """The operation before which it did none for longest."""


class _Injector:
    """Counts operations below a folder, and breaks off at one.

    Args:
        root: The folder.
        fault: What happens; nothing if not given.
        moment: At which operation, from 1.
        park: The operation before which it waits, with `wait`; never if 0.
        wait: Gives, in each copy of the process that goes on, its fault and moment.
    """

    def __init__(
        self, root: Path, fault: Fault | None, moment: int, park: int, wait: Callable[[], tuple[Fault | None, int]]
    ) -> None:
        self.root, self.fault, self.moment = str(root), fault, moment
        self._park, self._wait = park, wait
        self.count, self.pause = 0, 1
        self._longest, self._last = 0.0, time.monotonic()

    def below(self, path: object, beside: int = -1) -> bool:
        """Whether a path leads below the folder; one that is named from an open folder by that folder's number."""
        if isinstance(path, int) or path is None:
            return False
        named = os.fsdecode(path)  # type: ignore[arg-type]
        home = os.getcwd() if beside < 0 else os.readlink(f"/proc/self/fd/{beside}")  # noqa: PTH109, PTH115 (no Path)
        return os.path.join(home, named).startswith(self.root)  # noqa: PTH118 (no Path: it opens nothing)

    def audited(self, event: str, arguments: tuple[Any, ...]) -> None:
        if event not in _NAMED and event != "open":
            return
        if event == "open" and not (isinstance(arguments[2], int) and arguments[2] & (os.O_WRONLY | os.O_RDWR)):
            return
        # Whole folders are deleted name by name, from the folder that was opened.
        beside = arguments[-1] if event in ("os.mkdir", "os.remove", "os.rmdir") else -1
        if self.below(arguments[0], beside):
            self.operation(event)

    def operation(self, kind: str, half: Callable[[], object] = lambda: None) -> None:
        self.count += 1
        now = time.monotonic()
        if now - self._last > self._longest:
            self._longest, self.pause = now - self._last, self.count
        if self.count == self._park:
            self.fault, self.moment = self._wait()
        self._last = time.monotonic()
        if self.fault is Fault.KILL and self.count == self.moment:
            half()
            os._exit(KILLED)
        if self.fault is Fault.CTRL_C and self.count == self.moment:
            raise KeyboardInterrupt
        if self.fault is Fault.FULL and self.count >= self.moment and kind in _NEEDS_ROOM:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    def install(self) -> None:
        sys.addaudithook(self.audited)
        injector, opened = self, io.open

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

        def sending(handle: int = -1) -> None:
            injector.operation("fsync")

        io.open = builtins.open = opening  # type: ignore[assignment]
        os.fsync = os.sync = sending  # type: ignore[assignment]
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
    _ask((command, root, fault, moment, 0, _said(root), dict(os.environ)))
    return _ended(_answer(), root)


class Parked:
    """A command that waits before one of its operations.

    Args:
        root: Its folder.
    """

    def __init__(self, root: Path) -> None:
        self._root = root

    def go_on(self, fault: Fault, moment: int) -> Ended:
        """Let a copy of it go on. What it finds on the disk is to be as it was when it began to wait.

        Args:
            fault: What happens.
            moment: At which operation; not before the one it waits at.
        """
        _ask((fault, moment))
        return _ended(_answer(), self._root)


@contextlib.contextmanager
def parked(command: Callable[[], object], root: Path, operation: int) -> Iterator[Parked]:
    """Run a command until it is about to do an operation, and have it wait there; nothing else runs meanwhile.

    Args:
        command: As for `run`.
        root: As for `run`.
        operation: Which; files that are written have to be closed then.

    Raises:
        AssertionError: If it ends before that.
    """
    _ask((command, root, None, 0, operation, _said(root), dict(os.environ)))
    assert _answer() == _WAITS
    try:
        yield Parked(root)
    finally:
        _ask(None)
        _answer()


_WAITS = "waits"


def _said(root: Path) -> dict[str, Path]:
    return {name: root.parent / f"{root.name}-{name}" for name in ("out", "err", "count")}


def _ask(request: object) -> None:
    server = _server()
    assert server.stdin is not None
    pickle.dump(request, server.stdin)
    server.stdin.flush()


def _answer() -> Any:
    server = _server()
    assert server.stdout is not None
    return pickle.load(server.stdout)


def _ended(status: int, root: Path) -> Ended:
    said = _said(root)
    counted = said["count"].read_text().split() if said["count"].is_file() else ("0", "1")
    said["count"].unlink(missing_ok=True)
    out, err = (said[name].read_text(encoding="utf-8", errors="replace") for name in ("out", "err"))
    return Ended(status, out, err, *map(int, counted))


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


@dataclass(frozen=True)
class _Wires:
    """To and from whoever asks. They are not what a command reads and writes."""

    asked: BinaryIO
    answers: BinaryIO

    def answer(self, what: object) -> None:
        pickle.dump(what, self.answers)
        self.answers.flush()


def serve() -> None:
    """Run what is asked for, each in a copy of this process, until nothing is."""
    for name in _LOADED:
        importlib.import_module(name)
    wires = _Wires(os.fdopen(os.dup(0), "rb"), os.fdopen(os.dup(1), "wb"))
    with contextlib.suppress(EOFError):
        while True:
            request = pickle.load(wires.asked)
            assert threading.active_count() == 1
            child = os.fork()
            if child == 0:
                _child(wires, *request)
            wires.answer(_status(child))


def _status(child: int) -> int:
    _, ended = os.waitpid(child, 0)
    return os.waitstatus_to_exitcode(ended)


def _wait(wires: _Wires, streams: Mapping[str, int]) -> tuple[Fault | None, int]:
    """Have copies of this process go on, one after another; it ends here when no more are asked for."""
    wires.answer(_WAITS)
    while (request := pickle.load(wires.asked)) is not None:
        child = os.fork()
        if child == 0:
            for handle in streams.values():
                os.ftruncate(handle, 0)
                os.lseek(handle, 0, os.SEEK_SET)
            return request  # type: ignore[no-any-return]
        wires.answer(_status(child))
    os._exit(0)


def _child(
    wires: _Wires,
    command: Callable[[], object],
    root: Path,
    fault: Fault | None,
    moment: int,
    park: int,
    said: Mapping[str, Path],
    environment: Mapping[str, str],
) -> None:
    """What runs in the process of its own; it ends here."""
    os.environ.clear()
    os.environ.update(environment)
    status = 1
    try:
        os.chdir(root)
        os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
        streams = {}
        for handle, name in ((1, "out"), (2, "err")):
            streams[name] = os.open(said[name], os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
            os.dup2(streams[name], handle)
            stream = os.fdopen(os.dup(handle), "w", encoding="utf-8")
            setattr(sys, f"std{name}", stream)
        injector = _Injector(root, fault, moment, park, lambda: _wait(wires, streams))
        injector.install()
        try:
            command()
            status = 0
        except SystemExit as left:
            status = left.code if isinstance(left.code, int) else int(left.code is not None)
        except BaseException:
            traceback.print_exc()
        injector.fault = None
        sys.stdout.flush()
        sys.stderr.flush()
        said["count"].write_text(f"{injector.count} {injector.pause}")
    finally:
        os._exit(status)
