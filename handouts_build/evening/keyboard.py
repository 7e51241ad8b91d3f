"""A terminal as a whole screen and single keys.

This module owns the terminal: it takes the screen, gives one key at a time, and
gives everything back as it was, whatever happens. What the keys mean is for others.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import sys
import time
from collections.abc import Iterator, Sequence
from typing import Protocol

__all__ = ["NoTerminal", "Screen", "terminal"]


class NoTerminal(Exception):
    """The command is not run in a terminal."""


class Screen(Protocol):
    """A screen that shows lines and gives keys."""

    def size(self) -> tuple[int, int]:
        """Columns and rows."""

    def show(self, lines: Sequence[str]) -> None:
        """Show these lines and nothing else."""

    def key(self, seconds: float) -> str:
        """The next key, or nothing after so many seconds."""


class _Terminal:
    """The real one."""

    def __init__(self) -> None:
        self._shown: tuple[str, ...] = ()
        self._sized = (0, 0)

    def size(self) -> tuple[int, int]:
        found = shutil.get_terminal_size((80, 24))
        return found.columns, found.lines

    def show(self, lines: Sequence[str]) -> None:
        size = self.size()
        kept = tuple(lines[: size[1]])
        if kept == self._shown and size == self._sized:
            return
        clear = "\x1b[2J" if size != self._sized else ""
        body = "\r\n".join(f"{line}\x1b[0m\x1b[K" for line in kept)
        sys.stdout.write(f"{clear}\x1b[H{body}\x1b[0m\x1b[J")
        sys.stdout.flush()
        self._shown, self._sized = kept, size

    def key(self, seconds: float) -> str:
        return _key(seconds)


@contextlib.contextmanager
def terminal() -> Iterator[Screen]:
    """The terminal's whole screen, given back afterwards.

    Raises:
        NoTerminal: If keyboard or screen is not a terminal's.
    """
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise NoTerminal
    with _single_keys():
        sys.stdout.write("\x1b[?1049h\x1b[?25l\x1b[2J")
        sys.stdout.flush()
        try:
            yield _Terminal()
        finally:
            with contextlib.suppress(OSError):
                sys.stdout.write("\x1b[?25h\x1b[?1049l")
                sys.stdout.flush()


_ARROWS = {"right": "n", "left": "b"}

if sys.platform == "win32":
    import msvcrt

    import colorama

    # Microsoft's C runtime, _getwch: a key that is no letter comes as one of these, and then as a code. Whether the
    # code is there cannot be asked: _kbhit does not count it.
    _AHEAD = ("\x00", "\xe0")
    _CODES = {"M": "right", "K": "left", **dict.fromkeys("GHIOPQRSstuvw\x84\x85\x86\x89\x8a\x8d\x91\x92\x93", "")}
    _kept: list[str] = []

    @contextlib.contextmanager
    def _single_keys() -> Iterator[None]:
        # Single keys come without being asked for. A console takes escape sequences only once it is told to.
        colorama.just_fix_windows_console()
        yield

    def _key(seconds: float) -> str:
        until = time.monotonic() + seconds
        while not (_kept or msvcrt.kbhit()):
            if time.monotonic() >= until:
                return ""
            time.sleep(0.02)
        sign = _kept.pop() if _kept else msvcrt.getwch()
        if sign == "\x03":
            raise KeyboardInterrupt
        if sign in _AHEAD:
            code = msvcrt.getwch()
            if sign == "\x00" or code in _CODES:
                return _ARROWS.get(_CODES.get(code, ""), "")
            # The letter à has the number that stands before codes; what came after it is the next key.
            _kept.append(code)
            return sign
        if "\ud800" <= sign <= "\udbff":
            return (sign + msvcrt.getwch()).encode("utf-16", "surrogatepass").decode("utf-16", "replace")
        return sign

else:
    import select
    import termios
    import tty

    @contextlib.contextmanager
    def _single_keys() -> Iterator[None]:
        line = sys.stdin.fileno()
        before = termios.tcgetattr(line)
        # Keys come one by one and are not echoed; Ctrl-C still interrupts.
        tty.setcbreak(line)
        try:
            yield
        finally:
            termios.tcsetattr(line, termios.TCSADRAIN, before)

    def _key(seconds: float) -> str:
        line = sys.stdin.fileno()
        if not select.select([line], [], [], seconds)[0]:
            return ""
        raw = os.read(line, 1)
        if not raw:
            raise EOFError
        if raw == b"\x1b":
            # An arrow or another key of several bytes: take it whole. Escape by itself stands alone.
            more = os.read(line, 16) if select.select([line], [], [], 0.03)[0] else b""
            named = {b"[C": "right", b"[D": "left"}.get(more, "")
            return _ARROWS.get(named, "" if more else "\x1b")
        byte_count = 1 + sum(raw[0] >= least for least in (0xC0, 0xE0, 0xF0))
        while len(raw) < byte_count:
            raw += os.read(line, byte_count - len(raw))
        return raw.decode("utf-8", "replace")
