"""Writing: all or none, and nothing half-written."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from handouts_build.disk import files
from handouts_build.disk.files import write_all


def everything(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_files_are_written_with_their_folders(tmp_path: Path) -> None:
    write_all({tmp_path / "a" / "b.md": b"one", tmp_path / "c.pdf": b"two"})
    assert everything(tmp_path) == {"a/b.md": b"one", "c.pdf": b"two"}


def test_others_may_read_what_is_written(tmp_path: Path) -> None:
    write_all({tmp_path / "a.md": b"one"})
    assert (tmp_path / "a.md").stat().st_mode & 0o777 == 0o644


def test_what_is_the_same_is_left_alone(tmp_path: Path) -> None:
    """So that a watcher does not see a change where there is none."""
    write_all({tmp_path / "a.md": b"one", tmp_path / "b.md": b"one"})
    os.utime(tmp_path / "a.md", ns=(0, 0))
    os.utime(tmp_path / "b.md", ns=(0, 0))
    write_all({tmp_path / "a.md": b"one", tmp_path / "b.md": b"two"})
    assert (tmp_path / "a.md").stat().st_mtime_ns == 0
    assert (tmp_path / "b.md").stat().st_mtime_ns != 0


def test_a_failure_while_writing_leaves_everything_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_all({tmp_path / "a.md": b"old", tmp_path / "b.md": b"old"})
    real = files._write
    written = []

    def full(path: Path, content: bytes, *, send: bool = False) -> None:
        written.append(path)
        if len(written) == 2:
            raise OSError(28, "No space left on device")
        real(path, content, send=send)

    monkeypatch.setattr(files, "_write", full)
    with pytest.raises(OSError, match="No space"):
        write_all({tmp_path / "a.md": b"new", tmp_path / "b.md": b"new"})
    assert everything(tmp_path) == {"a.md": b"old", "b.md": b"old"}


def test_a_folder_in_the_way_is_found_before_anything_is_replaced(tmp_path: Path) -> None:
    write_all({tmp_path / "a.md": b"old"})
    (tmp_path / "b.md").mkdir()
    with pytest.raises(IsADirectoryError):
        write_all({tmp_path / "a.md": b"new", tmp_path / "b.md": b"new"})
    assert everything(tmp_path) == {"a.md": b"old"}


def test_a_file_in_the_way_of_a_folder_leaves_everything_as_it_was(tmp_path: Path) -> None:
    write_all({tmp_path / "a.md": b"old"})
    with pytest.raises(OSError, match=r"exists|[Nn]ot a directory"):
        write_all({tmp_path / "c.md": b"new", tmp_path / "a.md" / "b.md": b"new"})
    assert everything(tmp_path) == {"a.md": b"old"}


def test_a_file_that_somebody_has_open_leaves_everything_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On Windows an open file cannot be replaced; those that took their place before it give it back."""
    write_all({tmp_path / name: b"old" for name in ("a.pdf", "c.pdf", "another's.txt")})
    real = Path.replace

    def busy(self: Path, target: Path) -> Path:
        if Path(target).name == "c.pdf":
            raise PermissionError(13, "The process cannot access the file")
        return real(self, target)

    monkeypatch.setattr(Path, "replace", busy)
    with pytest.raises(PermissionError):
        write_all({tmp_path / name: b"new" for name in ("a.pdf", "b.pdf", "c.pdf")})
    assert everything(tmp_path) == {"a.pdf": b"old", "c.pdf": b"old", "another's.txt": b"old"}
