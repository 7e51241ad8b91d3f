"""Writing: all or none, and nothing half-written."""

from __future__ import annotations

import gc
import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from handouts_build.disk import files
from handouts_build.disk.exchange import exchanged
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
    monkeypatch.setattr(files, "exchanged", lambda _one, _other: False)
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

        monkeypatch.setattr(files, "exchanged", lambda _one, _other: False)
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


EXCHANGES = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="it is tried where the system has it")


def test_a_projects_file_comes_after_its_pictures(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where one comes after another, nobody ever reads of a picture that is not there yet."""
    monkeypatch.setattr(files, "exchanged", lambda _one, _other: False)
    write_all({tmp_path / "shop.yml": b"mine"})
    came: list[str] = []
    real = FolderWriter._replace
    monkeypatch.setattr(FolderWriter, "_replace", lambda self, at, name: came.append(name) or real(self, at, name))
    write_all(
        {tmp_path / "gift.yml": b"new", tmp_path / "gift" / "1.png": b"new", tmp_path / "gift" / "a" / "2.png": b"2"}
    )
    assert came == ["gift/a/2.png", "gift/1.png", "gift.yml"]


@EXCHANGES
def test_a_folder_and_the_new_one_are_exchanged_in_one_step(tmp_path: Path) -> None:
    """renameat2(2): `RENAME_EXCHANGE` exchanges both atomically. Nobody who looks on ever finds no folder."""
    write_all({tmp_path / "out" / "a.md": b"old", tmp_path / "out" / "b.md": b"old"})
    seen = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(files, "exchanged", lambda one, other: seen.append(one) or exchanged(one, other))
        write_all({tmp_path / "out" / "a.md": b"new", tmp_path / "out" / "b.md": b"new"})
    assert len(seen) == 1
    assert everything(tmp_path) == {"out/a.md": b"new", "out/b.md": b"new"}


def test_where_nothing_can_be_exchanged_it_is_done_by_renaming(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(files, "exchanged", lambda _one, _other: False)
    for others in ({}, {"sub/notes.txt": b"mine"}):
        home = tmp_path / f"out{len(others)}"
        write_all({home / name: content for name, content in {"a.md": b"old", "b.md": b"old", **others}.items()})
        write_all({home / "a.md": b"new", home / "b.md": b"new"})
        assert everything(home) == {"a.md": b"new", "b.md": b"new", **others}
    assert not list(tmp_path.rglob(".writing-*"))


@EXCHANGES
@pytest.mark.parametrize("changed", ["saved anew", "saved in place", "made", "left"])
def test_what_others_save_in_the_moment_of_the_exchange_is_not_lost(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, changed: str
) -> None:
    """An editor saves by putting a new file in the old one's place, or by writing into it."""
    out = tmp_path / "out"
    write_all({out / name: b"old" for name in ("a.md", "b.md", "gone.md", "sub/notes.txt")})
    (out / "empty").mkdir()

    def meanwhile(one: Path, other: Path) -> bool:
        match changed:
            case "saved anew":
                (out / "sub" / "notes.txt~").write_bytes(b"theirs")
                (out / "sub" / "notes.txt~").replace(out / "sub" / "notes.txt")
            case "saved in place":
                (out / "sub" / "notes.txt").write_bytes(b"theirs")
            case "made":
                (out / "sub" / "more.txt").write_bytes(b"theirs")
        return exchanged(one, other)

    monkeypatch.setattr(files, "exchanged", meanwhile)
    write_all({out / "a.md": b"new", out / "b.md": b"new"}, gone=[out / "gone.md"])
    expected = {"a.md": b"new", "b.md": b"new", "sub/notes.txt": b"theirs" if "saved" in changed else b"old"}
    assert everything(out) == expected | ({"sub/more.txt": b"theirs"} if changed == "made" else {})
    assert (out / "empty").is_dir()
    assert not list(tmp_path.rglob(".writing-*"))


@EXCHANGES
def test_what_was_saved_after_a_broken_off_exchange_is_not_written_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The process ends right after the exchange; what its folder then gets is newer than what it had found."""
    out = tmp_path / "out"
    write_all({out / name: b"old" for name in ("a.md", "b.md", "left.txt", "saved.txt", "deleted.txt", "twice.txt")})

    def ends(one: Path, other: Path) -> bool:
        (out / "new").write_bytes(b"before the end")
        (out / "new").replace(out / "twice.txt")
        exchanged(one, other)
        raise SystemExit

    with monkeypatch.context() as patch:
        patch.setattr(files, "exchanged", ends)
        patch.setattr(FolderWriter, "__exit__", lambda *_: None)
        with pytest.raises(SystemExit):
            write_all({out / "a.md": b"new", out / "b.md": b"new"})
    (out / "new").write_bytes(b"newer")
    (out / "new").replace(out / "saved.txt")
    (out / "new").write_bytes(b"after the end")
    (out / "new").replace(out / "twice.txt")
    (out / "deleted.txt").unlink()
    gc.collect()
    with FolderWriter(out):
        pass
    assert everything(out) == {
        "a.md": b"new", "b.md": b"new", "left.txt": b"old", "saved.txt": b"newer",
        "twice.txt": b"after the end", "twice.txt.kept-1": b"before the end",
    }  # fmt: skip


@EXCHANGES
def test_a_hidden_file_such_as_a_desktop_leaves_goes_along(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_all({out / name: b"old" for name in ("a.md", "b.md", ".DS_Store")})
    number = out.stat().st_ino
    write_all({out / "a.md": b"new", out / "b.md": b"new"})
    assert out.stat().st_ino != number
    assert everything(out) == {"a.md": b"new", "b.md": b"new", ".DS_Store": b"old"}


@EXCHANGES
def test_what_helps_an_editor_with_project_files_goes_along(tmp_path: Path) -> None:
    projects = tmp_path / "projects"
    write_all({projects / name: b"old" for name in ("a.yml", "b.yml", "shop.yml", ".schemas/project.schema.json")})
    number = projects.stat().st_ino
    write_all({projects / "a.yml": b"new", projects / "b.yml": b"new"})
    assert projects.stat().st_ino != number
    assert everything(projects) == {
        "a.yml": b"new", "b.yml": b"new", "shop.yml": b"old", ".schemas/project.schema.json": b"old",
    }  # fmt: skip


@pytest.mark.skipif(not Path("/proc/self/cwd").exists(), reason="the system does not tell where processes stand")
def test_no_folder_is_taken_from_under_a_shell_that_stands_in_it(tmp_path: Path) -> None:
    projects = tmp_path / "projects"
    write_all({projects / name: b"old" for name in ("a.yml", "b.yml", "in/shop.yml")})
    number = projects.stat().st_ino
    waits = [sys.executable, "-c", "import sys; print(flush=True); sys.stdin.read()"]
    with subprocess.Popen(waits, cwd=projects / "in", stdin=subprocess.PIPE, stdout=subprocess.PIPE) as shell:
        assert shell.stdout is not None
        shell.stdout.readline()
        write_all({projects / "a.yml": b"new", projects / "b.yml": b"new"})
        assert shell.stdin is not None
        shell.stdin.close()
    assert projects.stat().st_ino == number
    assert everything(projects) == {"a.yml": b"new", "b.yml": b"new", "in/shop.yml": b"old"}


@pytest.mark.parametrize("others", [".git/config", ".git", "link", "standing in it"])
def test_some_folders_stay_where_they_are(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, others: str) -> None:
    """A work tree, a folder with links, and one that this process stands in, are written file by file."""
    out = tmp_path / "out"
    write_all({out / "a.md": b"old", out / "b.md": b"old", out / "notes.txt": b"mine"})
    if others == "link":
        (out / others).symlink_to(out / "notes.txt")
    elif others == "standing in it":
        monkeypatch.chdir(out)
    else:
        write_all({out / others: b"theirs"})
    number = out.stat().st_ino
    write_all({out / "a.md": b"new", out / "b.md": b"new"})
    assert out.stat().st_ino == number
    assert (out / "a.md").read_bytes() == (out / "b.md").read_bytes() == b"new"
    assert (out / "notes.txt").read_bytes() == b"mine"
