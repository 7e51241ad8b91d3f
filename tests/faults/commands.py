"""The commands that write, each with what stood in its folder before and what stands there after."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from handouts_build.disk.files import FolderWriter
from handouts_build.site.starter import start_project
from tests.faults.injector import Ended, Fault, run

__all__ = ["COMMANDS", "Case", "Command", "Workshop", "files_in", "moments"]

_EVENING = """\
date: 2026-06-05
start: 19:30
zone: Europe/London
speaker zone: America/New_York
club: Tarn Valley Turners
how: by video
slot: 60 min
paper: a4
private:
  contact: ["Host: 0555 0166"]
"""
_NAME = "2026-06-05-tarn-valley"
_SETTINGS = """\
site_name: A club's handouts
site_url: https://handouts.example/
theme: {name: material, font: false}
plugins: [search, {handouts: {papers: false}}]
"""
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

    @property
    def name(self) -> str:
        return f"{' '.join(self.words[:2]) if self.words[0] == 'mkdocs' else self.words[1]}, {self._where}"

    @property
    def _where(self) -> str:
        if not self.again:
            return "new folder"
        return "folder with other files" if self.others else "folder of its own"

    def __call__(self) -> None:
        if self.words[0] == "mkdocs":
            from mkdocs.__main__ import cli

            cli(list(self.words[1:]))
        else:
            from handouts_build.cli import main

            sys.argv = list(self.words)
            main()


COMMANDS = (
    Command(("mkdocs", "build", "--quiet"), "site"),
    Command(("handouts", "papers", "--to", "papers"), "papers"),
    Command(("handouts", "papers", "--to", "mine"), "mine", others=("notes.txt",)),
    Command(("handouts", "pages", "--no-papers", "--to", "pages"), "pages"),
    Command(("handouts", "evening", "knob", "2026-06-05", "--to", "private"), "private"),
    Command(("handouts", "evening", "knob", "2026-06-05", "--to", "kit"), "kit", others=("directions.txt",)),
    Command(("handouts", "hand-out", "knob", "2026-06-05"), f"projects/knob/handed-out/{_NAME}", again=False),
    Command(("handouts", "start", "fresh"), "fresh", again=False),
    Command(("handouts", "new", "cup", "--projects", "more"), "more", others=("shop.yml",), again=False),
)  # fmt: skip


def files_in(folder: Path) -> Files:
    """What stands in a folder, what is being written there aside."""
    if not folder.is_dir():
        return None
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()
    }


class Workshop:
    """A folder with an archive of one piece, in which commands are run and set back.

    Args:
        home: An empty folder.
    """

    def __init__(self, home: Path) -> None:
        self.root = home / "archive"
        self._kept = home / "kept"
        start_project("knob", self.root / "projects")
        announced = self.root / "projects" / "knob" / "demonstrations" / f"{_NAME}.yml"
        announced.parent.mkdir(parents=True)
        announced.write_text(_EVENING, encoding="utf-8")
        (self.root / "mkdocs.yml").write_text(_SETTINGS, encoding="utf-8")
        (self.root / "docs").mkdir()
        (self.root / "docs" / "about.md").write_text("# About\n", encoding="utf-8")

    def edit(self) -> None:
        """Another version of the piece."""
        path = self.root / "projects" / "knob.yml"
        text = path.read_text(encoding="utf-8")
        assert "is: 1 1/4 in" in text
        path.write_text(
            text.replace("is: 1 1/4 in", "is: 1 3/8 in").replace("title: ", "title: New ", 1), encoding="utf-8"
        )

    def cases(self, commands: tuple[Command, ...] = COMMANDS) -> Iterator[Case]:
        """Each command with what stands before and after it, the project being at its second version."""
        before: dict[Command, Files] = {}
        for command in commands:
            folder = self.root / command.folder
            for name in command.others:
                folder.mkdir(exist_ok=True)
                (folder / name).write_text("Not written by any command.\n", encoding="utf-8")
            if command.again:
                ended = run(command, self.root)
                assert ended.status == 0, ended.err
            before[command] = files_in(folder)
        self.edit()
        for command in commands:
            case = Case(self.root, command, before[command], self._kept)
            case.prepare()
            yield case


class Case:
    """A command to be broken off, in an archive."""

    def __init__(self, root: Path, command: Command, before: Files, kept: Path) -> None:
        self.root, self.command, self.before = root, command, before
        self.folder = root / command.folder
        self._kept = kept / command.folder
        self._records = kept / f"records-{command.name}".replace("/", "-")
        self.after: Files = None
        self.operations = 0

    def prepare(self) -> None:
        """Run it whole, twice: what it leaves, and how many operations it takes."""
        if self.before is not None:
            self._kept.parent.mkdir(parents=True, exist_ok=True)
            shutil.copytree(self.folder, self._kept)
        if (self.root / "projects").is_dir():
            shutil.copytree(self.root / "projects", self._records)
        found = []
        for _ in range(2):
            self._set_back()
            ended = run(self.command, self.root)
            assert ended.status == 0, ended.err
            found.append(files_in(self.folder))
        self.after, self.operations = found[-1], ended.operations
        assert found[0] == found[1] != self.before
        # What one command leaves, another would read.
        self._set_back()

    def break_off(self, fault: Fault, moment: int) -> tuple[Ended, str]:
        """Break it off once: how it ended, and what then stood in its folder, at once and for the next run.

        Returns:
            How it ended, and `earlier`, `new`, `aside` (for the moment there is no folder) or `between`.

        Raises:
            AssertionError: If the next run finds something between, or anything is left that others may read.
        """
        self._set_back()
        ended = run(self.command, self.root, fault=fault, moment=moment)
        assert "Traceback" not in ended.err, ended.err
        for path in self.root.rglob(".writing-*"):
            assert path.stat().st_mode & 0o077 == 0, f"{path} may be read by others"
        at_once = self._stands()
        if fault is Fault.FULL:
            assert (ended.status == 0) is (at_once == "new"), (ended.status, at_once, ended.err)
            assert at_once == "new" or ended.err.count("the disk said no") == 1, ended.err
        # The next run writes the same folders: this one, and those of the records that it keeps beside the project.
        for folder in {self.folder, *(_written(hidden) for hidden in self.root.rglob(".writing-*"))}:
            with FolderWriter(folder):
                pass
        stands = self._stands()
        assert stands in ("earlier", "new"), f"{self.command.name}, {fault.value} at {moment}: {self._differs()}"
        left = list(self.root.rglob(".writing-*"))
        assert not left, f"{self.command.name}, {fault.value} at {moment}: left {left}"
        self._set_back()
        return ended, at_once

    def _stands(self) -> str:
        found = files_in(self.folder)
        if found == self.before:
            return "earlier"
        if found == self.after:
            return "new"
        return "aside" if found is None else "between"

    def _differs(self) -> str:
        """The files that are neither as before nor as after."""
        found, before, after = files_in(self.folder) or {}, self.before or {}, self.after or {}
        names = sorted(found.keys() | after.keys())
        return ", ".join(
            f"{name} ({'earlier' if found.get(name) == before.get(name) else 'neither'})"
            for name in names
            if found.get(name) != after.get(name)
        )

    def _set_back(self) -> None:
        # A command may keep records beside a project too, which its next run would read.
        if self._records.is_dir():
            shutil.rmtree(self.root / "projects", ignore_errors=True)
            shutil.copytree(self._records, self.root / "projects")
        shutil.rmtree(self.folder, ignore_errors=True)
        if self.before is not None:
            shutil.copytree(self._kept, self.folder)


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
