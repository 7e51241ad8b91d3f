"""Writing to disk so that nothing is lost or half-written: what was there stays whole until the new is.

This module owns the disk. Everything is first written beside its place, into a hidden
folder that only its owner may look into; only when all of it is there, and has reached
the disk, does it take its place, by renaming alone:

- a folder that is new, or a single file: by one renaming;
- a folder that holds nothing else: by one that exchanges it and the new one, or, where the system has none, by two,
  the old one out of the way, the new one in;
- files in a folder that holds others too: as if it held nothing else, the others going along; by one each where the
  folder has to stay where it is.

A process that ends between two of them leaves behind, in the hidden folder, what is
still to be done; whoever writes the folder next begins with that. So the next run
finds the folder as it was or as it was to be, never something between.
"""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
from collections.abc import Iterable, Iterator, Mapping, Set
from pathlib import Path, PurePath
from types import TracebackType
from typing import Self

from handouts_build.disk.exchange import exchanged
from handouts_build.disk.interrupts import uninterrupted
from handouts_build.disk.locks import locked
from handouts_build.disk.others import carry_over, give_second_names, take_second_names
from handouts_build.disk.sending import send_all, send_folder, send_folders
from handouts_build.problems import Place, Problem, ProjectError

__all__ = ["FolderWriter", "write_all"]

_PATIENCE_S = 10.0
"""Seconds to wait for another process that is about to put its files in place."""
_FEW = 64
"""Files up to which each is sent to the disk by itself; for more, all that waits is sent at once."""

# In the hidden folder.
_LOCK = "lock"
_WHOLE = "whole"
"""What is being written: it is to be the folder, or to go into it."""
_OLD = "old"
"""The folder as it was, while the new one takes its name."""
_PREPARED, _DUE, _BACK = "prepared", "due", "back"
"""Files on their way into the folder: being prepared, on their way, to be taken back."""
_PUT, _GONE = "put", "gone"
"""What comes, and the names of what goes."""
_WAS, _NEW = "was", "new"
"""To take it back: what was there, and the names of what was not."""
_OTHERS = "others"
"""What is known of files that go along in a folder that is exchanged."""
_WASTE = "waste"


def write_all(files: Mapping[Path, bytes], *, gone: Iterable[Path] = ()) -> None:
    """Write files, all or none.

    Args:
        files: Content by path; folders are made as needed. Files that hold the
            same bytes already are left alone.
        gone: Files that are to be there no longer; they lie below the same folder.

    Raises:
        OSError: If anything cannot be written; files that were there are as before.
        ProjectError: If another process goes on writing there.
    """
    old = tuple(gone)
    parents = [path.absolute().parent for path in (*files, *old)]
    if not parents:
        return
    folder = Path(os.path.commonpath(parents))

    def name(path: Path) -> str:
        return path.absolute().relative_to(folder).as_posix()

    with FolderWriter(folder, patience_s=_PATIENCE_S) as writer:
        writer.put({name(path): content for path, content in files.items()}, gone=map(name, old))


class FolderWriter:
    """The one process that writes a folder; as a context, it holds the folder's lock.

    Entering finishes or takes back what an earlier process was broken off in; leaving
    clears away what was not put in place.

    Args:
        folder: The folder; need not exist.
        patience_s: Seconds to wait for another process that writes it.

    Raises:
        ProjectError: On entering, if another process writes the folder; it says which.
        OSError: On entering, if nothing can be written there.
    """

    def __init__(self, folder: Path, *, patience_s: float = 0.0) -> None:
        self._folder = folder.resolve()
        self._shown = folder
        self._patience_s = patience_s
        self._inside = _must_be_inside(self._folder)
        home = self._folder if self._inside else self._folder.parent
        self._hidden = home / f".writing-{self._folder.name}"
        self._made: list[Path] = []
        self._lock = contextlib.ExitStack()

    def __enter__(self) -> Self:
        try:
            self._hold()
            self._heal()
        except BaseException:
            self._leave()
            raise
        return self

    def _hold(self) -> None:
        home = self._hidden.parent
        self._made = [folder for folder in (home, *home.parents) if not folder.exists()]
        home.mkdir(parents=True, exist_ok=True)
        while True:
            if self._hidden.is_symlink():
                self._hidden.unlink()
            self._hidden.mkdir(mode=0o700, exist_ok=True)
            self._hidden.chmod(0o700)
            try:
                self._lock.enter_context(locked(self._hidden / _LOCK, patience_s=self._patience_s, remove=True))
                break
            except FileNotFoundError:
                # Who held it has just cleared everything away.
                continue
            except BlockingIOError as busy:
                raise ProjectError(
                    [
                        Problem(
                            Place(self._shown.as_posix()),
                            f"this folder is being written already ({busy.strerror})",
                            "wait until that has ended, then try again",
                        )
                    ]
                ) from None

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        with uninterrupted():
            # What cannot be done now is done by the next one.
            with contextlib.suppress(OSError):
                self._heal()
            self._leave()

    def _leave(self) -> None:
        """Let go of the lock, and take away folders that were made and are empty."""
        self._lock.close()
        for folder in (self._hidden, *self._made):
            with contextlib.suppress(OSError):
                folder.rmdir()

    def stage(self) -> Path:
        """An empty folder to write into what is to take the folder's place with `swap`."""
        whole = self._hidden / _WHOLE
        self._discard(whole)
        whole.mkdir()
        return whole

    def swap(self) -> None:
        """Let what was staged take the folder's place.

        Hidden entries of the folder stay: whoever put them there was someone else.

        Raises:
            OSError: If it cannot be done; the folder is as it was.
        """
        whole = self._hidden / _WHOLE
        send_all()
        if not self._folder.exists():
            whole.rename(self._folder)
            send_folder(self._folder.parent)
        elif self._inside or any(path.name.startswith(".") for path in self._folder.iterdir()):
            self._by_files()
        else:
            self._by_folder()

    def put(self, files: Mapping[str, bytes], *, gone: Iterable[str] = ()) -> None:
        """Write files into the folder, all or none, and leave others there alone.

        Args:
            files: Content by name, with forward slashes. Files that hold the same
                bytes already are left alone.
            gone: Names of files that are to be there no longer.

        Raises:
            OSError: If anything cannot be written; the folder is as it was.
        """
        changed = {name: content for name, content in files.items() if not _holds(self._folder / name, content)}
        old = {name for name in gone if (self._folder / name).is_file()} - files.keys()
        if not changed and not old:
            return
        for name in changed:
            self._must_have_room(name)
        whole = self.stage()
        for name, content in changed.items():
            _write(whole / name, content, send=len(changed) <= _FEW)
        if len(changed) > _FEW:
            send_all()
        send_folders(whole)
        if not self._folder.exists():
            whole.rename(self._folder)
            send_folder(self._folder.parent)
        elif len(changed) == 1 and not old:
            (name,) = changed
            self._replace(whole / name, name)
            send_folder((self._folder / name).parent)
        elif not self._inside and self._holds_only(files.keys() | old):
            for name in files.keys() - changed.keys():
                _link(self._folder / name, whole / name)
            self._by_folder(old)
        elif self._inside or not self._by_exchange(files.keys(), changed.keys(), old):
            self._by_files(old)

    def _by_exchange(self, names: Set[str], changed: Set[str], gone: Set[str]) -> bool:
        """Put the new folder in place in one step with the files of others in it; False if that cannot be."""
        whole, record = self._hidden / _WHOLE, self._hidden / _OTHERS
        if not give_second_names(self._folder, whole, mine=names | gone, record=record):
            return False
        for name in names - changed:
            _link(self._folder / name, whole / name)
        shutil.copymode(self._folder, whole)
        with uninterrupted():
            done = exchanged(whole, self._folder)
            if done:
                send_folder(self._folder.parent)
                # What cannot be carried over now stays in the hidden folder for the next one.
                with contextlib.suppress(OSError):
                    carry_over(whole, self._folder, record=record)
                    self._discard(whole)
            else:
                take_second_names(whole, record)
        return done

    def _holds_only(self, names: Iterable[str]) -> bool:
        """Whether there is nothing in the folder but plain files of these names."""
        known = set(names)
        for home, folders, files in os.walk(self._folder):
            if any(Path(home, name).is_symlink() for name in folders):
                return False
            if any(Path(home, name).relative_to(self._folder).as_posix() not in known for name in files):
                return False
        return True

    def _must_have_room(self, name: str) -> None:
        """Refuse a name that leads elsewhere, where a folder stands, or that goes on below a file.

        Raises:
            OSError: Naming what is in the way.
        """
        path = self._folder / name
        if PurePath(name).is_absolute() or ".." in PurePath(name).parts:
            raise OSError(errno.EINVAL, "a name leads out of the folder", str(path))
        if path.is_dir():
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
        for parent in path.parents:
            if parent.exists() and not parent.is_dir():
                raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(parent))

    def _by_folder(self, gone: Iterable[str] | None = None) -> None:
        """Put the whole folder in place by one renaming or two; by files where the system will not rename it."""
        whole, old = self._hidden / _WHOLE, self._hidden / _OLD
        shutil.copymode(self._folder, whole)
        with uninterrupted():
            if exchanged(whole, self._folder):
                send_folder(self._folder.parent)
                self._discard(whole)
                return
            try:
                self._folder.rename(old)
            except OSError:
                # On Windows somebody has it open.
                self._by_files(gone)
                return
            try:
                whole.rename(self._folder)
            except OSError:
                old.rename(self._folder)
                raise
            send_folder(self._folder.parent)

    def _by_files(self, gone: Iterable[str] | None = None) -> None:
        """Put what was staged in place file by file, with what is needed to take that back.

        Args:
            gone: Names of files that go; if not given, of all that are there and were not staged.
        """
        prepared, due = self._hidden / _PREPARED, self._hidden / _DUE
        self._discard(prepared)
        for part in (prepared, *(prepared / name for name in (_GONE, _WAS, _NEW))):
            part.mkdir()
        comes = set(_names(self._hidden / _WHOLE))
        there = set(_names(self._folder, hidden=False)) if gone is None else set(gone)
        for name in there - comes:
            _write(prepared / _GONE / name, b"")
        for name in comes | there:
            if (self._folder / name).is_file():
                _link(self._folder / name, prepared / _WAS / name)
            else:
                _write(prepared / _NEW / name, b"")
        for name in comes:
            (self._folder / name).parent.mkdir(parents=True, exist_ok=True)
        (self._hidden / _WHOLE).rename(prepared / _PUT)
        send_folders(prepared)
        with uninterrupted():
            prepared.rename(due)
            send_folder(self._hidden)
            self._carry_out(due)

    def _carry_out(self, due: Path) -> None:
        """Put the files that are due in place; where one cannot have it, the others give theirs back.

        On Windows a file that somebody has open cannot be replaced.
        """
        try:
            self._apply(due / _PUT, due / _GONE)
        except OSError:
            back = due.rename(self._hidden / _BACK)
            self._apply(back / _WAS, back / _NEW)
            self._discard(back)
            raise
        # Only now: while anything may have to be taken back, room is needed for no folder.
        emptied = {parent for name in _names(due / _GONE) for parent in Path(name).parents if parent.name}
        for parent in sorted(emptied, reverse=True):
            with contextlib.suppress(OSError):
                (self._folder / parent).rmdir()
        self._discard(due)

    def _apply(self, comes: Path, goes: Path) -> None:
        """Move files into the folder, and delete others; done twice, it does nothing the second time."""
        for name in _names(goes):
            path = self._folder / name
            with contextlib.suppress(FileNotFoundError, NotADirectoryError):
                path.unlink()
        # A file tells of those in folders beside it, as a project's does of its pictures: it comes after them.
        for name in sorted(_names(comes), key=lambda name: -name.count("/")):
            self._replace(comes / name, name)
        for parent in {(self._folder / name).parent for name in (*_names(comes), *_names(goes))}:
            send_folder(parent)
        send_folder(self._folder)

    def _replace(self, staged: Path, name: str) -> None:
        path = self._folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if not path.parent.resolve().is_relative_to(self._folder):
            raise OSError(errno.ELOOP, "a link leads out of the folder", str(path.parent))
        if path.is_dir():
            # It was left empty by files that went.
            path.rmdir()
        staged.replace(path)

    def _heal(self) -> None:
        """Finish or take back what was broken off, and clear away the rest."""
        if not self._hidden.is_dir():
            return
        back, due = self._hidden / _BACK, self._hidden / _DUE
        if back.is_dir():
            self._apply(back / _WAS, back / _NEW)
            self._discard(back)
        if due.is_dir():
            with contextlib.suppress(OSError):
                self._carry_out(due)
        whole, old = self._hidden / _WHOLE, self._hidden / _OLD
        carry_over(whole, self._folder, record=self._hidden / _OTHERS)
        if old.is_dir() and not self._folder.exists():
            # The old one only goes when the new one is whole.
            (whole if whole.is_dir() else old).rename(self._folder)
        for path in tuple(self._hidden.iterdir()):
            if path.name != _LOCK:
                self._discard(path)

    def _discard(self, path: Path) -> None:
        """Delete a part of the hidden folder, by a name under which nobody would take it for whole."""
        if path.is_symlink() or path.is_file():
            path.unlink()
        elif path.exists():
            waste = self._hidden / _WASTE
            if path != waste:
                shutil.rmtree(waste, ignore_errors=True)
                path.rename(waste)
            shutil.rmtree(waste, ignore_errors=True)


def _must_be_inside(folder: Path) -> bool:
    """Whether nothing can be written beside a folder, or could not be renamed from there."""
    if not folder.is_dir() or folder == folder.parent:
        return folder == folder.parent
    return not os.access(folder.parent, os.W_OK | os.X_OK) or folder.stat().st_dev != folder.parent.stat().st_dev


def _holds(path: Path, content: bytes) -> bool:
    """Whether a file is there and holds these bytes."""
    return path.is_file() and path.stat().st_size == len(content) and path.read_bytes() == content


def _names(folder: Path, *, hidden: bool = True) -> Iterator[str]:
    """The plain files below a folder by name, no link followed; without `hidden` not those of hidden entries."""
    for home, folders, files in os.walk(folder):
        if not hidden and Path(home) == folder:
            folders[:] = [name for name in folders if not name.startswith(".")]
            files = [name for name in files if not name.startswith(".")]
        for name in sorted(files):
            yield Path(home, name).relative_to(folder).as_posix()


def _write(path: Path, content: bytes, *, send: bool = False) -> None:
    """Write a file that is not there yet; with `send` it has reached the disk after that."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("xb") as file:
        file.write(content)
        if send:
            file.flush()
            os.fsync(file.fileno())


def _link(path: Path, other: Path) -> None:
    """The same file under another name; a copy where the disk knows no second names."""
    other.parent.mkdir(parents=True, exist_ok=True)
    try:
        if path.is_symlink():
            raise OSError
        other.hardlink_to(path)
    except OSError:
        shutil.copy2(path, other, follow_symlinks=False)
