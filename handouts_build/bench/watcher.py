"""The projects of a folder as they are now, looked at again whenever a file of one that is open is saved.

This module owns the waiting and the order: one look at a time, whoever asks, and each with a number of its own, so
that a page knows what it has seen. What is seen is for `looks`.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from handouts_build.bench.looks import Looker, ProjectLook, said_of
from handouts_build.language import speaking, spoken
from handouts_build.site.gathering import look

__all__ = ["Watcher"]

_PAUSE_S = 0.02
"""Between two looks at what the disk tells, which take a hundredth of it: a page follows within half a second."""
_STILL_S = 0.01
"""How long a file that was changed must stay as it is before it is read."""


class Watcher:
    """Projects that are looked at.

    Args:
        files: Tells which project files there are.
        base: Folder that messages name files from.
    """

    def __init__(self, files: Callable[[], Sequence[Path]], *, base: Path) -> None:
        self._files, self._looker = files, Looker(base)
        # Each thread speaks for itself, and whoever answers a page is in one of its own.
        self._language = spoken()
        self._open: dict[Path, ProjectLook] = {}
        self._seen: dict[Path, tuple[str, ...]] = {}
        self._said: dict[tuple[Path, int, int], dict[str, Any]] = {}
        self._looking = threading.Lock()
        self._news = threading.Condition()
        self._number = 0
        self._ended = threading.Event()

    @property
    def projects(self) -> list[str]:
        """The names of the projects there are."""
        return [path.stem for path in self._files()]

    def said(self, name: str, step: int, near: int = 0) -> dict[str, Any] | None:
        """What there is to show of a project and one of its steps; None where there is no such project.

        Args:
            name: The project's; empty for the first.
            step: The number of the step; 0 for the one that was changed last.
            near: The one that is shown where none was chosen and no step was changed; 0 for the first.
        """
        path = next((path for path in self._files() if not name or path.stem == name), None)
        if path is None:
            return None
        with self._looking, speaking(self._language):
            looked = self._open.get(path)
            if looked is None:
                # Asked before it is read: what is saved meanwhile is seen at the next look.
                self._seen[path] = tuple(look(path))
                looked = self._open[path] = self._looker.look(path)
            number = self._number
            wanted = step or looked.step_of(looked.changed) or near or 1
            kept = self._said.get((path, number, wanted))
            if kept is None:
                kept = {**said_of(looked, wanted), "number": number, "changed_step": looked.step_of(looked.changed)}
                self._said = {key: value for key, value in self._said.items() if key[1] == number}
                self._said[path, number, wanted] = kept
        return kept

    def follow(self) -> None:
        """Look again at every save, until it is ended."""
        gone: set[Path] = set()
        while not self._ended.wait(_PAUSE_S):
            for path in list(self._open):
                looks = tuple(look(path))
                if looks == self._seen[path]:
                    continue
                # An editor may write it in pieces: it is whole once it stays as it is for a moment.
                if self._ended.wait(_STILL_S) or tuple(look(path)) != looks:
                    continue
                # An editor may put a new file in the place of the old one: it is gone for a moment.
                if not path.is_file() and path not in gone:
                    gone.add(path)
                    continue
                gone.discard(path)
                self._look_again(path)

    def _look_again(self, path: Path) -> None:
        with self._looking, speaking(self._language):
            self._seen[path] = tuple(look(path))
            self._open[path] = self._looker.look(path, self._open[path])
            with self._news:
                self._number += 1
                self._news.notify_all()

    def wait(self, number: int, seconds: float) -> int:
        """Wait until there is a look after one of a number.

        Args:
            number: Of the look that was seen.
            seconds: How long to wait at the most.

        Returns:
            The number of the last look; the same where there was none, or where it is ended.
        """
        with self._news:
            self._news.wait_for(lambda: self._number != number or self._ended.is_set(), seconds)
            return self._number

    def end(self) -> None:
        """Let go of whoever waits."""
        self._ended.set()
        with self._news:
            self._news.notify_all()

    @property
    def ended(self) -> bool:
        """Whether it is over."""
        return self._ended.is_set()
