"""A trial reaches its own folder and nothing else: Python refuses the rest, and on Linux the kernel does too."""

from __future__ import annotations

import ctypes
import json
import multiprocessing
import os
import socket
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from handouts_build.door import landlock, wall
from handouts_build.door.landlock import holds_files
from handouts_build.door.trial import tried

linux = pytest.mark.skipif(not holds_files(), reason="this system's kernel knows no Landlock")


Acts = Callable[[Path, Path, int], dict[str, Callable[[], object]]]
"""What is tried, by name; given the folder, the one inside it that is walled off, and where somebody listens."""


def walled(home: Path, acts: Acts, port: int, *, kernel: bool = True) -> dict[str, str]:
    """Do some things behind a wall about `home/inside`, the kernel's or Python's alone: how each ended."""
    (home / "inside").mkdir()
    (home / "secret.txt").write_text("secret")
    process = multiprocessing.get_context("spawn").Process(target=_behind, args=(home.resolve(), acts, port, kernel))
    process.start()
    process.join(120)
    assert process.exitcode == 0
    return json.loads((home / "inside" / "told.json").read_text())


def _behind(home: Path, acts: Acts, port: int, kernel: bool) -> None:
    made = acts(home, home / "inside", port)
    if not kernel:
        wall.enclose = lambda *_: None  # type: ignore[assignment]
    wall.wall_off(home / "inside")
    told = {}
    for name, act in made.items():
        try:
            told[name] = f"done: {act()}"
        except OSError as error:
            told[name] = f"refused: {type(error).__name__}"
    (home / "inside" / "told.json").write_text(json.dumps(told))


@pytest.fixture
def port() -> Iterator[int]:
    """Where somebody listens on this machine."""
    with socket.create_server(("127.0.0.1", 0)) as listening:
        yield listening.getsockname()[1]


def of_python(home: Path, inside: Path, port: int) -> dict[str, Callable[[], object]]:
    link = inside / "link.txt"
    link.symlink_to(home / "secret.txt")
    (inside / "away").symlink_to(home)
    return {
        "read": (home / "secret.txt").read_text,
        "read over a link": link.read_text,
        "read from where it began": lambda: Path("../secret.txt").read_text(),
        "list": lambda: os.listdir(home),  # noqa: PTH208 (as a project's code might)
        "look through": lambda: list(os.scandir(home)),
        "list the user's own": lambda: os.listdir(Path.home()),  # noqa: PTH208 (the same)
        "write": lambda: (home / "new.txt").write_text("x"),
        "write over a link": lambda: (inside / "away" / "new.txt").write_text("x"),
        "make a folder": (home / "folder").mkdir,
        "remove": (home / "secret.txt").unlink,
        "move out": lambda: (inside / "link.txt").rename(home / "out.txt"),
        "move in": lambda: (home / "secret.txt").rename(inside / "in.txt"),
        "link": lambda: (inside / "hard").hardlink_to(home / "secret.txt"),
        "permit": lambda: (home / "secret.txt").chmod(0o777),
        "cut": lambda: os.truncate(home / "secret.txt", 0),
        "touch": lambda: os.utime(home / "secret.txt"),
        "a data base": lambda: sqlite3.connect(home / "x.db"),
        "connect": lambda: socket.create_connection(("127.0.0.1", port), 5),
        "look up": lambda: socket.getaddrinfo("localhost", port),
        "a program": lambda: subprocess.run([sys.executable, "-c", ""]),
        "a shell": lambda: os.system("true"),
        "a copy of itself": os.fork if hasattr(os, "fork") else lambda: os.startfile("x"),
        "a library": lambda: ctypes.CDLL(None),
    }


def test_python_reaches_nothing_but_its_own_folder(tmp_path: Path, port: int) -> None:
    told = walled(tmp_path, of_python, port, kernel=False)
    assert set(told.values()) == {"refused: PermissionError"}, told
    assert {path.name for path in tmp_path.iterdir()} == {"inside", "secret.txt"}
    assert (tmp_path / "secret.txt").read_text() == "secret"


def of_a_trial(home: Path, inside: Path, port: int) -> dict[str, Callable[[], object]]:
    def work() -> str:
        (inside / "a" / "b").mkdir(parents=True)
        (inside / "a" / "b" / "c.txt").write_text("c")
        (inside / "a").rename(inside / "d")
        with tempfile.NamedTemporaryFile() as file:
            assert Path(file.name).resolve().is_relative_to(inside)
        found = [path.name for path in (inside / "d").rglob("*")]
        (inside / "d" / "b" / "c.txt").unlink()
        return " ".join(found)

    return {"work": work, "Python itself": lambda: bool(Path(os.__file__).read_bytes())}


def test_a_trial_does_what_it_must(tmp_path: Path, port: int) -> None:
    assert walled(tmp_path, of_a_trial, port) == {"work": "done: b c.txt", "Python itself": "done: True"}


class _Address(ctypes.Structure):
    """`sockaddr_in`, ip(7)."""

    _fields_ = (
        ("family", ctypes.c_ushort),
        ("port", ctypes.c_ushort),
        ("host", ctypes.c_ubyte * 4),
        ("rest", ctypes.c_ubyte * 8),
    )


def of_native_code(home: Path, inside: Path, port: int) -> dict[str, Callable[[], object]]:
    """What no hook of Python's sees: the system's own library is called, as one in C would."""
    library = ctypes.CDLL(None, use_errno=True)
    named = {name: getattr(library, name) for name in ("open", "mkdir", "unlink", "rename", "socket", "connect")}
    run = library.posix_spawn
    where = _Address(socket.AF_INET, socket.htons(port), (ctypes.c_ubyte * 4)(127, 0, 0, 1))
    secret, new = str(home / "secret.txt").encode(), str(home / "new").encode()
    words = (ctypes.c_char_p * 2)(b"true", None)

    def asked(status: int) -> int:
        if status < 0:
            raise OSError(ctypes.get_errno(), "refused")
        return status

    def connect(kind: int) -> int:
        return asked(
            named["connect"](asked(named["socket"](socket.AF_INET, kind, 0)), ctypes.byref(where), ctypes.sizeof(where))
        )

    def spawn() -> int:
        failed = run(ctypes.byref(ctypes.c_int()), b"/bin/true", None, None, words, None)
        if failed:
            raise OSError(failed, "refused")
        return failed

    return {
        "read": lambda: asked(named["open"](secret, os.O_RDONLY)),
        "the user's own": lambda: asked(named["open"](str(Path.home()).encode(), os.O_RDONLY | os.O_DIRECTORY)),
        "write": lambda: asked(named["open"](new, os.O_WRONLY | os.O_CREAT, 0o600)),
        "make a folder": lambda: asked(named["mkdir"](new, 0o700)),
        "remove": lambda: asked(named["unlink"](secret)),
        "move in": lambda: asked(named["rename"](secret, str(inside / "in").encode())),
        "a program": spawn,
        "connect": lambda: connect(socket.SOCK_STREAM),
        "send": lambda: connect(socket.SOCK_DGRAM),
    }


@linux
def test_the_kernel_refuses_what_no_hook_sees(tmp_path: Path, port: int) -> None:
    told = walled(tmp_path, of_native_code, port)
    # Where a container or the system lets nobody have a network of his own, what is sent without a connection is open.
    sent = told.pop("send")
    assert all(ended.startswith("refused") for ended in told.values()), told
    assert sent.startswith("refused") or not _may_have_a_network()
    assert {path.name for path in tmp_path.iterdir()} == {"inside", "secret.txt"}


def _may_have_a_network() -> bool:
    asked = "import ctypes, sys; sys.exit(ctypes.CDLL(None).unshare(0x50000000) != 0)"
    return subprocess.run([sys.executable, "-c", asked]).returncode == 0


def test_a_project_that_leads_elsewhere_is_no_way_past_the_wall(tmp_path: Path) -> None:
    home = tmp_path.resolve() / "home"
    (home / "projects").mkdir(parents=True)
    (tmp_path / "piece.yml").write_text("title: Secret\n")
    (home / "projects" / "piece.yml").symlink_to(tmp_path / "piece.yml")
    found = tried(home, "piece")
    assert found.problems
    assert "Secret" not in repr(found)


@pytest.mark.parametrize(("version", "holds"), [(-1, False), (0, False), (1, False), (2, True), (7, True)])
def test_a_kernel_that_lets_nobody_move_files_is_left_out(
    monkeypatch: pytest.MonkeyPatch, version: int, holds: bool
) -> None:
    """With the first version of Landlock no paper could be put in its place: landlock(7), LANDLOCK_ACCESS_FS_REFER."""
    monkeypatch.setattr(landlock, "_version", lambda: version)
    assert holds_files() is holds
