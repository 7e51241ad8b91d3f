"""The stopwatch in a real terminal: a pseudo-terminal with the command in it."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from handouts_build.schema import RunsKeys, load_file

pty = pytest.importorskip("pty", reason="there are no pseudo-terminals on this system")
fcntl, termios, resource = (pytest.importorskip(name) for name in ("fcntl", "termios", "resource"))

COMMAND = [sys.executable, "-c", "from handouts_build.cli import main; main()", "dry-run", "piece"]


def _begin(limit: int) -> None:
    """In the child: take the terminal; where files may only grow so large, tell the system.

    A shell's background job ignores interrupts and hands that on; a stopwatch in a terminal does not.
    """
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    fcntl.ioctl(0, termios.TIOCSCTTY, 0)
    if limit:
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))


class Terminal:
    """The command in a pseudo-terminal."""

    def __init__(self, *more: str, limit: int = 0) -> None:
        self.hand, other = pty.openpty()
        self.before = subprocess.check_output(["stty", "-a"], stdin=other, text=True)
        self.process = subprocess.Popen(
            [*COMMAND, *more],
            stdin=other, stdout=other, stderr=subprocess.PIPE, start_new_session=True,
            env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), "TERM": "xterm", "COLUMNS": "80"},
            preexec_fn=lambda: _begin(limit),
        )  # fmt: skip
        self.other = other
        self.seen = ""
        os.set_blocking(self.hand, False)

    def until(self, words: str, *, within: float = 240) -> None:
        """Read until the screen has shown these words."""
        end = time.monotonic() + within
        while words not in self.plain:
            assert time.monotonic() < end, f"{words!r} was never shown:\n{self.plain[-1500:]}"
            try:
                self.seen += os.read(self.hand, 65536).decode("utf-8", "replace")
            except BlockingIOError:
                time.sleep(0.02)

    @property
    def plain(self) -> str:
        return re.sub(r"\x1b\[[0-9;?]*[A-Za-z]", "", self.seen)

    def press(self, keys: str) -> None:
        os.write(self.hand, keys.encode())

    def ended(self) -> int:
        """Exit status, once it has ended and left the terminal as it was."""
        code = self.process.wait(120)
        after = subprocess.check_output(["stty", "-a"], stdin=self.other, text=True)
        assert after == self.before
        return code

    def close(self) -> None:
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait()
        assert self.process.stderr is not None
        self.process.stderr.close()
        os.close(self.hand)
        os.close(self.other)


@pytest.fixture
def opened(read):
    read()
    terminals = []

    def open_(*more: str, limit: int = 0) -> Terminal:
        terminals.append(Terminal(*more, limit=limit))
        return terminals[-1]

    yield open_
    for one in terminals:
        one.close()


def only_run():
    (path,) = Path("projects/piece/dry-runs").glob("*.yml")
    runs, _ = load_file(RunsKeys, path, path.name)
    return runs.runs[0]


def test_a_dry_run_from_start_to_end(opened):
    screen = opened()
    screen.until("press p to start")
    screen.press("n")
    screen.until("1. Rough it")
    time.sleep(1.2)
    screen.press("n")
    screen.until("2. Shape it")
    screen.press("tbevel rubs\r")
    screen.until("kept in projects/piece/dry-runs/")
    screen.press("s")
    screen.until("3. Sand it")
    screen.press("nnn")
    assert screen.ended() == 0
    run = only_run()
    assert run.finished
    assert run.skipped == ["Shape it"]
    assert run.notes[0].says == "bevel rubs"
    assert run.notes[0].step == "Shape it"
    assert run.times[0].step == "Rough it"


@pytest.mark.parametrize("how", ["Ctrl-C", "SIGTERM", "SIGHUP"])
def test_however_it_is_stopped_the_run_is_there(opened, how):
    screen = opened()
    screen.until("press p to start")
    screen.press("n")
    time.sleep(1.5)
    if how == "Ctrl-C":
        screen.press("\x03")
    else:
        screen.process.send_signal(getattr(signal, how))
    assert screen.ended() == 0
    assert only_run().times[0].to >= 1


def test_killed_outright_it_loses_nothing_up_to_the_last_key(opened):
    screen = opened()
    screen.until("press p to start")
    screen.press("n")
    time.sleep(1.5)
    screen.press("n")
    screen.until("2. Shape it")
    time.sleep(0.5)
    screen.process.kill()
    screen.process.wait(20)
    assert only_run().times[0].step == "Rough it"
    again = opened()
    again.until("PAUSED")
    again.press("q")
    assert again.ended() == 0


def test_two_terminals_on_one_project_are_one_too_many(opened):
    first = opened()
    first.until("press p to start")
    second = opened()
    assert second.process.wait(40) == 1
    assert second.process.stderr is not None
    assert b"another stopwatch is running" in second.process.stderr.read()
    first.press("q")
    assert first.ended() == 0


def test_a_write_that_the_system_refuses_is_told_and_what_was_kept_stays(opened):
    """The system lets no file grow over 740 bytes: the first saves fit, the later ones do not, and neither does a spare
    file; then the run is told in words."""
    screen = opened(limit=740)
    screen.until("press p to start")
    screen.press("n")
    time.sleep(1.2)
    screen.press("p")
    screen.until("PAUSED")
    screen.press(f"t{'long thought ' * 12}\r")
    screen.until("NOT SAVED: File too large")
    kept = only_run()
    assert kept.times[0].step == "Rough it"
    screen.press("q")
    assert screen.ended() == 1
    assert screen.process.stderr is not None
    said = screen.process.stderr.read().decode()
    assert "could not be saved (File too large)" in said
    assert "long thought long thought" in said
    assert only_run() == kept
