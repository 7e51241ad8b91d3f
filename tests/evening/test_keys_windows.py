"""The keys of a Windows console, by a stand-in for it that keeps to Microsoft's documents.

_getwch and _kbhit (Microsoft C runtime reference): a function or arrow key comes in two calls, the first giving 0 or
0xE0, and _kbhit tells of a keystroke that waits: of the second half it says nothing. Console API: a screen buffer
takes escape sequences only once it is told to, which colorama does.
"""

from __future__ import annotations

import importlib.util
import io
import signal
import sys
from types import ModuleType, SimpleNamespace

import colorama
import pytest

import handouts_build.evening.keyboard
from handouts_build.evening.dry_run import rehearse
from tests.evening.test_rehearsal import only, today

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="the real console is there")


class Console:
    """Keyboard and screen of a console; a key is one UTF-16 unit, or two where the first stands before a code."""

    def __init__(self, waiting: str = "") -> None:
        units = waiting.encode("utf-16-le", "surrogatepass")
        self.waiting = [units[at : at + 2].decode("utf-16-le", "surrogatepass") for at in range(0, len(units), 2)]
        self.half = self.takes_sequences = False

    def kbhit(self) -> int:
        return len(self.waiting) - self.half

    def getwch(self) -> str:
        assert self.waiting, "it would wait for ever"
        sign = self.waiting.pop(0)
        self.half = not self.half and sign in ("\x00", "\xe0")
        return sign

    def just_fix_windows_console(self) -> None:
        self.takes_sequences = True


class Out(io.StringIO):
    """What is written to the screen, and that no sequence comes before the console takes them."""

    def __init__(self, console: Console) -> None:
        super().__init__()
        self.console = console

    def write(self, text: str) -> int:
        assert self.console.takes_sequences or "\x1b" not in text
        return super().write(text)

    def isatty(self) -> bool:
        return True


@pytest.fixture
def keys(monkeypatch):
    """The module as it is on Windows, and a console before it."""

    def made(waiting: str = "") -> tuple[ModuleType, Console, Out]:
        console = Console(waiting)
        out = Out(console)
        monkeypatch.setitem(sys.modules, "msvcrt", console)
        monkeypatch.setitem(sys.modules, "colorama", console)
        spec = importlib.util.spec_from_file_location("keys_there", handouts_build.evening.keyboard.__file__)
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
def test_the_screen_is_given_back_whatever_happens(keys, fault):
    module, _, out = keys()
    try:
        with module.terminal() as screen:
            screen.show(["Ribbed lantern"])
            assert "Ribbed lantern" in out.getvalue()
            if fault is not None:
                raise fault
    except (KeyboardInterrupt, OSError):
        assert fault is not None
    assert out.getvalue().startswith("\x1b[?1049h")
    assert out.getvalue().endswith("\x1b[?25h\x1b[?1049l")


def test_colorama_has_what_is_asked_of_it():
    """Its own document: since 0.4.6; elsewhere than on Windows it does nothing."""
    before = sys.stdout
    assert colorama.just_fix_windows_console() is None
    assert sys.stdout is before


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
