"""What is killed, runs out of disk or is interrupted leaves what was there, or what it was to make.

Here the writing by itself, at each of its operations, and some commands at a few of theirs;
`python -m tests.faults` tries 200 moments of each command.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from handouts_build.disk.exchange import exchanged
from handouts_build.disk.files import FolderWriter, write_all
from tests.faults.commands import COMMANDS, Case, Command, Workshop, moments
from tests.faults.injector import KILLED, Fault

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="a command is run in a forked process")


@dataclass(frozen=True)
class Writing:
    """A piece of writing by itself, as if it were a command."""

    name: str
    write: Callable[[Path], None]
    """Given the folder."""
    old: tuple[str, ...] = ()
    """Files that stand there before; no folder if none."""
    folder: str = "out"

    def stages(self) -> Iterator[Writing]:
        yield self

    def __call__(self) -> None:
        try:
            self.write(Path(self.folder))
        except OSError as error:
            # As the command says it.
            print(f"the disk said no: {error}", file=sys.stderr)
            raise SystemExit(1) from None
        except KeyboardInterrupt:
            print("stopped", file=sys.stderr)
            raise SystemExit(130) from None


def _put(folder: Path) -> None:
    write_all({folder / name: b"new" * 400 for name in ("a.pdf", "b.pdf", "in/c.pdf")})


def _put_and_drop(folder: Path) -> None:
    write_all({folder / name: b"new" * 400 for name in ("a.pdf", "in/c.pdf")}, gone=[folder / "b.pdf"])


def _one(folder: Path) -> None:
    write_all({folder / "run.yml": b"new"})


def _swap(folder: Path) -> None:
    with FolderWriter(folder) as writer:
        staged = writer.stage()
        for name in ("index.html", "pages/new.html"):
            (staged / name).parent.mkdir(exist_ok=True)
            (staged / name).write_bytes(b"new" * 400)
        writer.swap()


WRITINGS = {
    writing.name: writing
    for writing in (
        Writing("into a new folder", _put),
        Writing("into a folder of its own", _put, ("a.pdf", "b.pdf")),
        Writing("into a folder with other files", _put, ("a.pdf", "b.pdf", "another's.txt")),
        Writing("and dropping a file", _put_and_drop, ("a.pdf", "b.pdf", "another's.txt", "in/theirs.txt")),
        Writing("into a folder that stays", _put, ("a.pdf", "b.pdf", ".theirs/a.txt")),
        Writing("and dropping a file from it", _put_and_drop, ("a.pdf", "b.pdf", ".theirs/a.txt")),
        Writing("one file", _one, ("run.yml", "another's.txt")),
        Writing("a site", _swap, ("index.html", "pages/old.html")),
        Writing("a site with hidden files", _swap, ("index.html", "pages/old.html", ".git")),
    )
}


@pytest.mark.parametrize("fault", Fault)
@pytest.mark.parametrize("name", WRITINGS)
def test_at_every_operation_of_writing(name: str, fault: Fault, tmp_path: Path) -> None:
    writing, root = WRITINGS[name], tmp_path / "root"
    root.mkdir()
    for file in writing.old:
        path = root / writing.folder / file
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(b"old")
    case = Case(root, writing, tmp_path / "kept")
    case.prepare()
    stood = [case.break_off(fault, moment)[1] for moment in range(1, case.operations + 1)]
    # It changes once: whatever was earlier, then whatever is new; between them what only the next run puts right.
    assert [state for state in stood if state in ("earlier", "new")] == sorted(
        state for state in stood if state in ("earlier", "new")
    )
    assert stood[0] == "earlier"
    between = len([state for state in stood if state not in ("earlier", "new")])
    stays = any(file.startswith(".") for file in writing.old)
    never = fault is not Fault.KILL or len(writing.old) == 0 or name == "one file"
    if never or (not stays and _exchanges(tmp_path)):
        assert between == 0
    elif not stays and "another's.txt" not in writing.old:
        assert stood.count("aside") == between <= 2


def _exchanges(home: Path) -> bool:
    """Whether this disk knows how two names are exchanged."""
    one, other = home / "one", home / "other"
    one.mkdir()
    other.mkdir()
    return exchanged(one, other)


@pytest.fixture(scope="module")
def cases(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, Case]]:
    """Some commands, in an archive of one piece."""
    home = tmp_path_factory.mktemp("faults")
    some = tuple(command for command in COMMANDS if command.name in SOME)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(home / "cache"))
        yield {command.name: Workshop(home).case(command) for command in some}


SOME = ("mkdocs build, folder of its own", "evening, folder with other files", "hand-out, new folder")


@pytest.mark.parametrize("name", SOME)
def test_a_command_that_is_killed_leaves_the_earlier_or_the_new_whole(cases: dict[str, Case], name: str) -> None:
    ended, stood = cases[name].break_off(Fault.KILL, cases[name].operations // 2)
    assert (ended.status, stood) == (KILLED, "earlier")
    ended, stood = cases[name].break_off(Fault.KILL, cases[name].operations - 1)
    assert (ended.status, stood) == (KILLED, "new")


@pytest.mark.parametrize("name", SOME)
def test_a_full_disk_is_one_message(cases: dict[str, Case], name: str) -> None:
    ended, stood = cases[name].break_off(Fault.FULL, 5)
    assert (ended.status, stood) == (1, "earlier")
    assert ended.err.splitlines()[-1].endswith("what was there is as it was") or "the last site is" in ended.err
    assert ended.err.count("No space left on device") == 1


@pytest.mark.parametrize("name", SOME)
def test_an_interrupted_command_says_so_in_a_word(cases: dict[str, Case], name: str) -> None:
    ended, stood = cases[name].break_off(Fault.CTRL_C, 5)
    assert stood == "earlier"
    assert ended.err.splitlines()[-1] in ("stopped", "Aborted!")


@pytest.mark.long
@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.name)
@pytest.mark.parametrize("fault", Fault)
def test_at_two_hundred_moments_of_each_command(command: Command, fault: Fault, tmp_path: Path) -> None:
    case = Workshop(tmp_path).case(command)
    for _ in case.break_off_all(fault, moments(case.operations, 200)):
        pass
