"""The keys of a Windows console, by a stand-in for it that keeps to Microsoft's documents.

_getwch and _kbhit (Microsoft C runtime reference): a function or arrow key comes in two calls, the first giving 0 or
0xE0, and _kbhit tells of a keystroke that waits: of the second half it says nothing. Console API: a screen buffer
takes escape sequences only while ENABLE_VIRTUAL_TERMINAL_PROCESSING (4) is set by SetConsoleMode.
"""

from __future__ import annotations

import ctypes
import importlib.util
import io
import signal
import sys
from types import ModuleType, SimpleNamespace

import pytest

import handouts_build.keys
from handouts_build.rehearsal import rehearse
from tests.evening.test_rehearsal import only, today

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="the real console is there")


class Console:
    """Keyboard and screen of a console; a key is one UTF-16 unit, or two where the first stands before a code."""

    def __init__(self, waiting: str = "", mode: int = 3, *, obeys: bool = True) -> None:
        units = waiting.encode("utf-16-le", "surrogatepass")
        self.waiting = [units[at : at + 2].decode("utf-16-le", "surrogatepass") for at in range(0, len(units), 2)]
        self.half = False
        self.mode, self.obeys = mode, obeys
        self.modes: list[int] = []

    def kbhit(self) -> int:
        return len(self.waiting) - self.half

    def getwch(self) -> str:
        assert self.waiting, "it would wait for ever"
        sign = self.waiting.pop(0)
        self.half = not self.half and sign in ("\x00", "\xe0")
        return sign

    def get_osfhandle(self, number: int) -> int:
        return 7 + number

    def GetConsoleMode(self, handle: object, place: object) -> int:  # noqa: N802 (the console's name)
        assert handle.value == 8  # type: ignore[attr-defined]
        place._obj.value = self.mode  # type: ignore[attr-defined]
        return int(self.obeys)

    def SetConsoleMode(self, handle: object, mode: int) -> int:  # noqa: ARG002, N802 (the console's)
        self.modes.append(mode)
        return 1


class Out(io.StringIO):
    def fileno(self) -> int:
        return 1

    def isatty(self) -> bool:
        return True


@pytest.fixture
def keys(monkeypatch):
    """The module as it is on Windows, and a console before it."""

    def made(waiting: str = "", **more) -> tuple[ModuleType, Console, Out]:
        console, out = Console(waiting, **more), Out()
        monkeypatch.setitem(sys.modules, "msvcrt", console)
        monkeypatch.setattr(ctypes, "windll", SimpleNamespace(kernel32=console), raising=False)
        spec = importlib.util.spec_from_file_location("keys_there", handouts_build.keys.__file__)
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        monkeypatch.setitem(sys.modules, "keys_there", module)
        with monkeypatch.context() as there:
            there.setattr(sys, "platform", "win32")
            spec.loader.exec_module(module)
        monkeypatch.setattr(sys, "stdout", out)
        monkeypatch.setattr(sys, "stdin", SimpleNamespace(isatty=lambda: True))
        return module, console, out

    return made


@pytest.mark.parametrize(
    ("waiting", "pressed"),
    [
        ("n", ["n"]),
        ("\r\x08\x1b", ["\r", "\b", "\x1b"]),
        ("\xe0M", ["n"]),
        ("\x00K", ["b"]),
        ("\xe0Hs", ["", "s"]),
        ("\x00;s", ["", "s"]),
        ("àb", ["à", "b"]),
        ("àà\r", ["à", "à", "\r"]),
        ("ü✓", ["ü", "✓"]),
        ("🪵s", ["🪵", "s"]),
    ],
    ids=[
        "letter",
        "Enter, Backspace, Escape",
        "right",
        "left of the number pad",
        "up",
        "F1",
        "à",
        "à twice",
        "ü",
        "wood",
    ],
)
def test_every_kind_of_key_is_one_key(keys, waiting, pressed):
    module, console, _ = keys(waiting)
    with module.terminal() as screen:
        assert [screen.key(0.05) for _ in pressed] == pressed
        assert screen.key(0.0) == ""
    assert not console.waiting


def test_ctrl_c_that_comes_as_a_key_interrupts(keys):
    module, _, _ = keys("\x03")
    with pytest.raises(KeyboardInterrupt), module.terminal() as screen:
        screen.key(0.05)


@pytest.mark.parametrize("fault", [None, KeyboardInterrupt, OSError])
def test_the_console_is_told_to_take_sequences_and_given_back_as_it_was(keys, fault):
    module, console, out = keys(mode=3)
    try:
        with module.terminal() as screen:
            assert console.modes == [3 | 4 | 1]
            screen.show(["Ribbed lantern"])
            assert "Ribbed lantern" in out.getvalue()
            if fault is not None:
                raise fault
    except (KeyboardInterrupt, OSError):
        assert fault is not None
    assert console.modes == [7, 3]
    assert out.getvalue().startswith("\x1b[?1049h")
    assert out.getvalue().endswith("\x1b[?25h\x1b[?1049l")


def test_where_there_is_no_console_it_says_so(keys):
    module, _, out = keys(obeys=False)
    with pytest.raises(module.NoTerminal), module.terminal():
        pytest.fail("there is no screen to show on")
    assert out.getvalue() == ""


def test_a_whole_run_goes_over_the_console(keys, read):
    """Start, next, a note with letters of every kind, right arrow, left arrow, leave."""
    module, console, out = keys("nntà ü 🪵\r\xe0M\xe0Kq")
    now = [0.0]

    def clock() -> float:
        now[0] += 10.0
        return now[0]

    with module.terminal() as screen:
        one = only(rehearse(read(), clock=clock, today=today, screen=screen))
    assert not console.waiting
    assert "Test piece: dry run" in out.getvalue()
    assert [each.step for each in one.times] == ["Rough it", "Shape it", "Sand it", "Shape it"]
    assert one.notes[0].says == "à ü 🪵"
    assert one.notes[0].step == "Shape it"


def test_a_closed_window_ends_it_like_ctrl_c(read, monkeypatch):
    """Microsoft's runtime raises SIGBREAK as a console window closes; another signal stands in for it here."""
    monkeypatch.setattr(signal, "SIGBREAK", signal.SIGUSR1, raising=False)

    class Closing:
        pressed = 0

        def size(self) -> tuple[int, int]:
            return 80, 24

        def show(self, lines) -> None:
            pass

        def key(self, seconds: float) -> str:  # noqa: ARG002 (the screen's signature)
            self.pressed += 1
            if self.pressed == 3:
                signal.raise_signal(signal.SIGUSR1)
            return "n" if self.pressed == 1 else ""

    seconds = iter(range(0, 10_000, 5))
    one = only(rehearse(read(), clock=lambda: float(next(seconds)), today=today, screen=Closing()))
    assert not one.finished
    assert one.times[0].step == "Rough it"
