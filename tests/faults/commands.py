"""The commands that write, each with what stood in its folder before and what stands there after."""

from __future__ import annotations

import io
import shutil
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from handouts_build.disk.files import FolderWriter
from handouts_build.site.starter import start_project
from tests.faults import given
from tests.faults.injector import Ended, Fault, Parked, parked, run

__all__ = ["COMMANDS", "Case", "Command", "Rehearsal", "Workshop", "files_in", "moments"]

_SETTINGS = """\
site_name: A club's handouts
site_url: https://handouts.example/
theme: {name: material, font: false}
plugins: [search, {handouts: {papers: false}}]
"""
_NO_ROOM = "No space left on device"
Files = Mapping[str, bytes] | None
"""What stands in a folder, by path; None where there is no folder."""


@dataclass(frozen=True)
class Command:
    """One command, as it is typed."""

    words: tuple[str, ...]
    folder: str
    """What it writes, from where it runs."""
    others: tuple[str, ...] = ()
    """Files of somebody else's in that folder."""
    again: bool = True
    """Whether it has run there before, on an earlier version of the project."""
    given: Callable[[Path], None] = given.nothing
    """Puts into the archive what it works on, once the project is at its second version."""
    says: str = ""
    """What it is called, where its second word does not tell it from the others."""
    where: str = ""
    """The kind of its folder, where it is not one of the usual."""
    answer: str = ""
    """What is typed when it asks."""

    @property
    def name(self) -> str:
        """How it is told from the others."""
        called = self.says or (" ".join(self.words[:2]) if self.words[0] == "mkdocs" else self.words[1])
        return f"{called}, {self.where or self._usual}"

    @property
    def _usual(self) -> str:
        if not self.again:
            return "new folder"
        return "folder with other files" if self.others else "folder of its own"

    def stages(self) -> Iterator[Command]:
        """The command, given up at each moment at which what it has written is whole."""
        yield self

    def __call__(self) -> None:
        sys.stdin = io.TextIOWrapper(io.BytesIO(self.answer.encode()))
        if self.words[0] == "mkdocs":
            from mkdocs.__main__ import cli

            cli(list(self.words[1:]))
        else:
            from handouts_build.cli import main

            sys.argv = list(self.words)
            main()


@dataclass(frozen=True)
class Rehearsal(Command):
    """A dry run in the terminal, its keys pressed a minute after one another; every key leaves a whole record."""

    keys: str = ""

    def stages(self) -> Iterator[Command]:
        """The run, left after each of its keys."""
        for pressed in range(len(self.keys) + 1):
            yield replace(self, keys=self.keys[:pressed])

    def __call__(self) -> None:
        import handouts_build.cli.evenings as evenings
        import handouts_build.evening.dry_run as dry_run

        hands = _Hands(self.keys)
        rehearse = dry_run.rehearse
        # The command itself, with other hands on the keys.
        dry_run.rehearse = lambda records, **more: rehearse(
            records, clock=lambda: hands.now, today=lambda: datetime(2026, 5, 1, 10), screen=hands, **more
        )
        assert evenings.dry_run.name == self.words[1]
        super().__call__()


class _Hands:
    """Keys and a clock, in place of a terminal."""

    def __init__(self, keys: str) -> None:
        self._keys = iter(keys)
        self.now = 1000.0

    def size(self) -> tuple[int, int]:
        return 80, 24

    def show(self, lines: Sequence[str]) -> None:
        pass

    def key(self, _seconds: float) -> str:
        pressed = next(self._keys, "")
        if not pressed:
            # The window is closed: whatever is being typed then was meant.
            raise EOFError
        self.now += 60
        return pressed


_KNOB = "projects/knob"
COMMANDS = (
    Command(("mkdocs", "build", "--quiet"), "site"),
    Command(("handouts", "papers", "--to", "papers"), "papers"),
    Command(("handouts", "papers", "--to", "mine"), "mine", others=("notes.txt",)),
    Command(("handouts", "pages", "--no-papers", "--to", "pages"), "pages"),
    Command(("handouts", "pages", "--no-papers", "--to", "docs"), "docs", others=("about.md",)),
    Command(("handouts", "evening", "knob", "2026-06-05", "--to", "private"), "private"),
    Command(("handouts", "evening", "knob", "2026-06-05", "--to", "kit"), "kit", others=("directions.txt",)),
    Command(("handouts", "hand-out", "knob", "2026-06-05"), f"{_KNOB}/handed-out/{given.NAME}", again=False),
    Rehearsal(("handouts", "dry-run", "knob"), f"{_KNOB}/dry-runs", again=False, keys="nnptslow\rpnn"),
    Command(
        ("handouts", "dry-run", "knob", "--import", "rescued.yml"), f"{_KNOB}/dry-runs", given=given.a_fuller_run,
        says="dry-run --import", where="a poorer run there",
    ),
    Command(
        ("handouts", "chapters", "knob", "2026-06-05", "--to", "video"), "video", others=("film.txt",),
        again=False, given=given.an_evening_held, where="folder with other files",
    ),
    Command(("handouts", "issue", "knob"), f"{_KNOB}/issued", again=False, given=given.no_evening),
    Command(("handouts", "binder", "--to", "bound/all.pdf"), "bound", where="one file"),
    Command(
        ("handouts", "copy", "--site", "built", "--to", "stick/site.zip"), "stick", again=False, given=given.a_site,
    ),
    Command(("handouts", "start", "fresh"), "fresh", again=False),
    Command(
        ("handouts", "new", "cup", "--projects", "more"), "more", others=("shop.yml",), again=False,
        where="among others",
    ),
    Command(
        ("handouts", "new", "second", "--from", "knob"), "projects", again=False, says="new --from",
        where="among others",
    ),
    Command(
        ("handouts", "import", "old.md"), "projects", again=False, given=given.a_write_up, where="among others",
    ),
    Command(
        ("handouts", "take-in", "sent", "--as", "gift"), "projects", again=False, given=given.a_parcel,
        where="among others", answer="y\n",
    ),
    Command(
        ("handouts", "fmt", "--write"), "projects", again=False, given=given.loose_files, where="two files of several",
    ),
    Command(
        ("handouts", "check", "--fix", "--yes"), "projects", again=False, given=given.mistyped_files,
        says="check --fix", where="two files of several",
    ),
    Command(("handouts", "call", "one-offcut", "--to", "table"), "table", again=False, given=given.a_call),
    Command(
        ("handouts", "new", "next-year", "--call"), "projects", again=False, says="new --call", where="among others",
    ),
    Command(
        ("handouts", "book", "knob", "2026-11-06", "--club", "Tarn Valley Turners"), "projects", again=False,
        where="among others",
    ),
    Command(
        ("handouts", "hand-out", "knob", "2026-06-05", "--ours"), "projects", again=False, given=given.papers_unlisted,
        says="hand-out --ours", where="among others",
    ),
    Command(
        ("handouts", "take-in", "entry", "--as", "bowl", "--call", "one-offcut"), "projects", again=False,
        given=given.an_entry_sent, says="take-in --call", where="among others", answer="y\n",
    ),
)  # fmt: skip


def files_in(folder: Path) -> Files:
    """What stands in a folder, what is being written there aside; nothing in a folder is no folder."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
        # Who holds a lock means nothing once it is given back.
        and path.suffix != ".lock"
        and not any(part.startswith(".writing-") for part in path.relative_to(folder).parts)
    } or None


class Workshop:
    """A folder with an archive of one piece, in which a command is run and set back.

    Args:
        home: An empty folder.
    """

    def __init__(self, home: Path) -> None:
        self._home = home

    def case(self, command: Command) -> Case:
        """A command in an archive of its own, with what stands before it, the project being at its second version."""
        home = self._home / command.name.replace("/", "-")
        root = home / "archive"
        start_project("knob", root / "projects")
        announced = root / _KNOB / "demonstrations" / f"{given.NAME}.yml"
        announced.parent.mkdir(parents=True)
        announced.write_text(given.EVENING, encoding="utf-8")
        (root / "mkdocs.yml").write_text(_SETTINGS, encoding="utf-8")
        (root / "docs").mkdir()
        (root / "docs" / "about.md").write_text("# About\n", encoding="utf-8")
        folder = root / command.folder
        for name in command.others:
            folder.mkdir(exist_ok=True)
            (folder / name).write_text("Not written by any command.\n", encoding="utf-8")
        if command.again and command.given is given.nothing:
            ended = run(command, root)
            assert ended.status == 0, ended.err
        _edit(root)
        command.given(root)
        case = Case(root, command, home / "kept")
        case.prepare()
        return case


def _edit(root: Path) -> None:
    """Another version of the piece."""
    path = root / "projects" / "knob.yml"
    text = path.read_text(encoding="utf-8")
    assert "is: 1 1/4 in" in text
    path.write_text(text.replace("is: 1 1/4 in", "is: 1 3/8 in").replace("title: ", "title: New ", 1), encoding="utf-8")


class Case:
    """A command to be broken off, in an archive."""

    def __init__(self, root: Path, command: Command, kept: Path) -> None:
        self.root, self.command = root, command
        self.folder = root / command.folder
        self.before = files_in(self.folder)
        self._kept = kept
        self._whole: list[Files] = []
        """What the folder holds whenever what was written is whole; the last is all of it."""
        self._around: dict[str, set[bytes]] = {}
        """What a file of the archive may hold: as before, or as after."""
        self.operations = 0
        self._pause = 1
        """The operation before which most of the time has gone by."""
        self._parked: Parked | None = None

    def prepare(self) -> None:
        """Run it whole, twice: what it leaves, and how many operations it takes."""
        shutil.copytree(self.root, self._kept / "before", symlinks=True)
        self._learn()
        for stage in self.command.stages():
            found = []
            for _ in range(2):
                self._set_back()
                ended = run(stage, self.root)
                assert ended.status == 0, ended.err
                found.append(files_in(self.folder))
            assert found[0] == found[1] != self.before
            self._whole.append(found[-1])
            self._learn()
        self.operations, self._pause = ended.operations, ended.pause
        self._set_back()

    def _learn(self) -> None:
        for name, content in (files_in(self.root) or {}).items():
            self._around.setdefault(name, set()).add(content)

    def break_off(self, fault: Fault, moment: int) -> tuple[Ended, str]:
        """Break it off once: how it ended, and what then stood in its folder, at once and for the next run.

        Returns:
            How it ended, and `earlier`, `new`, `aside` (for the moment there is no folder) or `between`.

        Raises:
            AssertionError: If the next run finds something between, or anything is left that others may read.
        """
        self._set_back()
        if self._parked is None:
            ended = run(self.command, self.root, fault=fault, moment=moment)
        else:
            ended = self._parked.go_on(fault, moment)
        return ended, self._judged(ended, fault, moment)

    def break_off_all(self, fault: Fault, tried: Iterable[int]) -> Iterator[str]:
        """Break it off at each of these moments, as `break_off` does.

        What it does until most of the time has gone by is done once for all moments after that: each goes on from
        there in a copy of the process, on a copy of the disk.
        """
        numbers = sorted(tried)
        early = [moment for moment in numbers if moment < self._pause]
        for moment in early:
            yield self.break_off(fault, moment)[1]
        self._set_back()
        with parked(self.command, self.root, self._pause) as here:
            shutil.copytree(self.root, self._kept / "parked", symlinks=True)
            self._parked = here
            try:
                for moment in numbers[len(early) :]:
                    yield self.break_off(fault, moment)[1]
            finally:
                self._parked = None
                shutil.rmtree(self._kept / "parked")
        self._set_back()

    def _judged(self, ended: Ended, fault: Fault, moment: int) -> str:
        what = f"{self.command.name}, {fault.value} at {moment}"
        assert "Traceback" not in ended.err, ended.err
        assert "fault of its own" not in ended.err, ended.err
        for path in self.root.rglob(".writing-*"):
            assert path.stat().st_mode & 0o077 == 0, f"{path} may be read by others"
        at_once = self._stands()
        if fault is Fault.FULL:
            whole = files_in(self.folder) == self._whole[-1]
            assert (ended.status == 0) is whole, (what, ended.status, at_once, ended.err)
            assert whole or ended.err.count(_NO_ROOM) == 1, ended.err
        # The next run writes the same folders: this one, and those of the records that it keeps beside the project.
        for folder in {self.folder, *(_written(hidden) for hidden in self.root.rglob(".writing-*"))}:
            with FolderWriter(folder):
                pass
        assert self._stands() in ("earlier", "new"), f"{what}: {self._differs()}"
        left = list(self.root.rglob(".writing-*"))
        assert not left, f"{what}: left {left}"
        for name, content in (files_in(self.root) or {}).items():
            assert content in self._around.get(name, ()), f"{what}: torn {name}"
        return at_once

    def _stands(self) -> str:
        found = files_in(self.folder)
        if found == self.before:
            return "earlier"
        if found in self._whole:
            return "new"
        return "aside" if found is None else "between"

    def _differs(self) -> str:
        """The files that are neither as before nor as after."""
        found, before, after = files_in(self.folder) or {}, self.before or {}, self._whole[-1] or {}
        names = sorted(found.keys() | after.keys())
        return ", ".join(
            f"{name} ({'earlier' if found.get(name) == before.get(name) else 'neither'})"
            for name in names
            if found.get(name) != after.get(name)
        )

    def _set_back(self) -> None:
        """The disk as it was before the command, or where it waits."""
        for path in self.root.iterdir():
            if path.is_dir() and not path.is_symlink():
                shutil.rmtree(path)
            else:
                path.unlink()
        kept = self._kept / ("before" if self._parked is None else "parked")
        shutil.copytree(kept, self.root, symlinks=True, dirs_exist_ok=True)


def _written(hidden: Path) -> Path:
    """The folder that a hidden one stands beside."""
    return hidden.parent / hidden.name.removeprefix(".writing-")


def moments(operations: int, most: int) -> list[int]:
    """The operations to break off at: all, or the last half of `most` and as many evenly spread before them."""
    if operations <= most:
        return list(range(1, operations + 1))
    last = most // 2
    first = operations - last
    return sorted({1 + round(index * (first - 1) / (most - last - 1)) for index in range(most - last)}) + list(
        range(first + 1, operations + 1)
    )
