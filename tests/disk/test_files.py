"""Writing: all or none, and nothing half-written."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from handouts_build.disk import files
from handouts_build.disk.files import FolderWriter, write_all
from handouts_build.problems import ProjectError


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


def writing(folder: Path) -> Path:
    return folder.parent / f".writing-{folder.name}"


def test_a_folder_is_swapped_whole_and_loses_what_is_not_in_the_new_one(tmp_path: Path) -> None:
    site = tmp_path / "site"
    write_all({site / "old.html": b"old", site / "both.html": b"old"})
    with FolderWriter(site) as writer:
        staged = writer.stage()
        assert writing(site).stat().st_mode & 0o077 == 0
        (staged / "both.html").write_bytes(b"new")
        assert everything(site) == {"old.html": b"old", "both.html": b"old"}
        writer.swap()
    assert everything(tmp_path) == {"site/both.html": b"new"}


def test_what_is_staged_and_not_put_in_place_is_gone(tmp_path: Path) -> None:
    site = tmp_path / "site"
    write_all({site / "index.html": b"old"})
    with FolderWriter(site) as writer:
        (writer.stage() / "index.html").write_bytes(b"new")
    assert everything(tmp_path) == {"site/index.html": b"old"}
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


@pytest.mark.parametrize("why", ["hidden entries", "nothing can be written beside it", "open elsewhere"])
def test_where_the_folder_itself_must_stay_its_files_are_swapped(
    why: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A site in the work tree of a branch; a volume that is mounted; a folder that somebody has open on Windows."""
    site = tmp_path / "site"
    write_all({site / "old" / "page.html": b"old", site / "index.html": b"old"})
    stays = {}
    if why == "hidden entries":
        (site / ".git").write_bytes(b"gitdir: elsewhere")
        stays = {".git": b"gitdir: elsewhere"}
    elif why == "nothing can be written beside it":
        monkeypatch.setattr(files, "_must_be_inside", lambda _: True)
    else:
        real = Path.rename

        def busy(self: Path, target: Path) -> Path:
            if self == site:
                raise PermissionError(13, "The process cannot access the file")
            return real(self, target)

        monkeypatch.setattr(Path, "rename", busy)
    before = site.stat().st_ino
    with FolderWriter(site) as writer:
        staged = writer.stage()
        (staged / "index.html").write_bytes(b"new")
        (staged / "new").mkdir()
        (staged / "new" / "page.html").write_bytes(b"new")
        writer.swap()
    assert everything(site) == {"index.html": b"new", "new/page.html": b"new", **stays}
    assert site.stat().st_ino == before
    assert not (site / "old").exists()
    assert not writing(site).exists()


def test_two_write_one_folder_one_after_the_other(tmp_path: Path) -> None:
    with FolderWriter(tmp_path / "site"):
        with pytest.raises(ProjectError, match=rf"written already \(process {os.getpid()}, since "):
            FolderWriter(tmp_path / "site").__enter__()
        # Another folder is another's.
        write_all({tmp_path / "papers" / "a.pdf": b"new"})
    write_all({tmp_path / "site" / "index.html": b"new"})


def test_what_one_process_left_undone_the_next_one_finishes(tmp_path: Path) -> None:
    """Between the two renamings: the new folder was whole by then."""
    site = tmp_path / "site"
    for name, content in (("old", b"old"), ("whole", b"new")):
        (writing(site) / name).mkdir(parents=True)
        (writing(site) / name / "index.html").write_bytes(content)
    with FolderWriter(site):
        assert everything(site) == {"index.html": b"new"}
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


def test_files_that_were_on_their_way_lead_nowhere_else(tmp_path: Path) -> None:
    """Such a folder may come from a stranger."""
    papers, elsewhere = tmp_path / "papers", tmp_path / "elsewhere"
    for folder in (papers, elsewhere):
        folder.mkdir()
    (papers / "out").symlink_to(elsewhere)
    for part in ("put", "was", "new", "gone"):
        (writing(papers) / "due" / part).mkdir(parents=True)
    (writing(papers) / "due" / "put" / "out").mkdir()
    (writing(papers) / "due" / "put" / "out" / "file").write_bytes(b"theirs")
    with FolderWriter(papers):
        pass
    assert everything(elsewhere) == {}
    assert not writing(papers).exists()


def test_a_link_in_place_of_the_hidden_folder_is_not_followed(tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "mine.txt").write_bytes(b"mine")
    writing(tmp_path / "papers").symlink_to(elsewhere)
    write_all({tmp_path / "papers" / "a.pdf": b"new", tmp_path / "papers" / "b.pdf": b"new"})
    assert everything(tmp_path) == {"elsewhere/mine.txt": b"mine", "papers/a.pdf": b"new", "papers/b.pdf": b"new"}


def test_what_is_put_in_place_has_reached_the_disk_before(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A power cut leaves no file that is there and empty: its bytes are sent first, then its name."""
    said: list[str] = []
    sent, named = os.fsync, Path.replace

    def sending(handle: int) -> None:
        said.append("folder" if stat.S_ISDIR(os.fstat(handle).st_mode) else "file")
        sent(handle)

    def naming(self: Path, target: Path) -> Path:
        said.append("named")
        return named(self, target)

    write_all({tmp_path / "runs" / "a.yml": b"old", tmp_path / "runs" / "b.yml": b"old"})
    monkeypatch.setattr(os, "fsync", sending)
    monkeypatch.setattr(Path, "replace", naming)
    write_all({tmp_path / "runs" / "a.yml": b"new"})
    assert said.index("file") < said.index("named")
    assert said[-1] == "folder"
