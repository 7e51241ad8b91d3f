"""What somebody sent is judged before it is read, tried apart, and taken only on a yes."""

from __future__ import annotations

import gzip
import io
import os
import stat
import struct
import tarfile
import time
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from PIL import Image

from handouts_build.cli import cli
from handouts_build.door.trial import _limit
from handouts_build.door.unpack import unpack
from handouts_build.problems import ProjectError
from tests.bad_input.generated import PIECE

TEXT = f'{PIECE}pictures:\n  - {{file: "seen.jpg", shows: The piece by a window}}\n'


def picture() -> bytes:
    held = io.BytesIO()
    Image.new("RGB", (40, 30), "sienna").save(held, "JPEG")
    return held.getvalue()


SENT = {
    "bowl.yml": TEXT.encode(),
    "bowl/seen.jpg": picture(),
    "bowl/handed-out/2026-01-01-x/SHA256SUMS": b"",
    "bowl/handed-out/2026-01-01-x/paper.pdf": b"%PDF-1.7",
    "bowl/demonstrations/2027-01-01-x.yml": b"date: 2027-01-01\n",
    "mkdocs.yml": b"plugins: [x]\n",
    "shop.yml": b"maker: Somebody else\n",
    "hooks.py": b"print('run')\n",
    ".git/config": b"",
}


def zipped(files: dict[str, bytes]) -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in files.items():
            packed.writestr(name, content)
    return held.getvalue()


def tarred(files: dict[str, bytes], *more: tarfile.TarInfo, mode: str = "w:gz") -> bytes:
    held = io.BytesIO()
    with tarfile.open(fileobj=held, mode=mode) as packed:  # type: ignore[call-overload]
        for name, content in files.items():
            entry = tarfile.TarInfo(name)
            entry.size = len(content)
            packed.addfile(entry, io.BytesIO(content))
        for entry in more:
            packed.addfile(entry)
    return held.getvalue()


def other(name: str, kind: bytes, target: str = "") -> tarfile.TarInfo:
    entry = tarfile.TarInfo(name)
    entry.type, entry.linkname = kind, target
    return entry


def zip_link() -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as packed:
        packed.writestr("bowl.yml", TEXT)
        entry = zipfile.ZipInfo("bowl/seen.jpg")
        entry.external_attr = (stat.S_IFLNK | 0o777) << 16
        packed.writestr(entry, "/etc/passwd")
    return held.getvalue()


def zip_bomb() -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as packed, packed.open("bowl.yml", "w") as file:
        for _ in range(65):
            file.write(bytes(2**20))
    return held.getvalue()


def zip_of_names(count: int) -> bytes:
    """A zip whose listing leads to one empty file over and over (PKWARE, APPNOTE.TXT, 4.3.7, 4.3.12 and 4.3.16)."""
    local = struct.pack("<4s5H3L2H", b"PK\3\4", 20, 0, 0, 0, 0, 0, 0, 0, 1, 0) + b"a"
    listing = (struct.pack("<4s6H3L5H2L", b"PK\1\2", 788, 20, *[0] * 7, 1, *[0] * 6) + b"a") * count
    end = struct.pack("<4s4H2LH", b"PK\5\6", 0, 0, *[min(count, 0xFFFF)] * 2, len(listing), len(local), 0)
    return local + listing + end


def _as_folder(path: Path) -> Path:
    for name, content in SENT.items():
        (path / name).parent.mkdir(parents=True, exist_ok=True)
        (path / name).write_bytes(content)
    return path


@pytest.fixture
def archive(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    home = tmp_path / "archive"
    (home / "projects").mkdir(parents=True)
    monkeypatch.chdir(home)
    return home


def taken_in(*arguments: str, answer: str = "y\n") -> Result:
    return CliRunner().invoke(cli, ["take-in", *arguments], input=answer)


@pytest.mark.parametrize("form", ["zip", "tar", "tar.gz", "folder", "zip, one folder down"])
def test_a_project_and_its_photographs_come_out_of_every_form_and_nothing_else(form: str, tmp_path: Path) -> None:
    source = tmp_path / "sent"
    if form == "folder":
        _as_folder(source)
    elif form.startswith("zip"):
        deep = "my bowl/projects/" if "down" in form else ""
        source.write_bytes(zipped({deep + name: content for name, content in SENT.items()}))
    else:
        source.write_bytes(tarred(SENT, mode="w:gz" if form == "tar.gz" else "w:"))
    parcel = unpack(source)
    assert (parcel.name, parcel.project) == ("bowl", TEXT.encode())
    assert parcel.pictures == {"seen.jpg": picture()}
    assert {Path(name).name for name in parcel.left} >= {"mkdocs.yml", "shop.yml", "hooks.py", "paper.pdf"}


BAD: dict[str, tuple[Callable[[], bytes], str]] = {
    "no archive": (lambda: b"hello", "no folder, zip or tar"),
    "cut short": (lambda: zipped(SENT)[:200], "no folder, zip or tar"),
    "gzip cut short": (lambda: tarred(SENT)[:200], "no folder, zip or tar|there is no project"),
    "up and out": (lambda: zipped({**SENT, "../evil.yml": b""}), "it is no name"),
    "up and out of a tar": (lambda: tarred({**SENT, "bowl/../../evil.jpg": b""}), "it is no name"),
    "absolute": (lambda: tarred({**SENT, "/etc/evil": b""}), "it is no name"),
    "a drive": (lambda: zipped({**SENT, "C:/evil": b""}), "cannot have everywhere"),
    "a device of Windows": (lambda: zipped({**SENT, "bowl/con.jpg": b""}), "keeps it for a device"),
    "too long a name": (lambda: zipped({**SENT, f"bowl/{'x' * 130}.jpg": b""}), "characters; at most"),
    "names that collide": (lambda: zipped({**SENT, "bowl/SEEN.jpg": b""}), "the same as"),
    "a name twice": (lambda: tarred({"bowl.yml": b""}) and _twice(), "the same as"),
    "a link": (zip_link, "no plain file"),
    "a link in a tar": (lambda: tarred(SENT, other("bowl/a.jpg", tarfile.SYMTYPE, "/etc/passwd")), "no plain file"),
    "a hard link": (lambda: tarred(SENT, other("bowl/a.jpg", tarfile.LNKTYPE, "/etc/passwd")), "no plain file"),
    "a pipe": (lambda: tarred(SENT, other("bowl/a.jpg", tarfile.FIFOTYPE)), "no plain file"),
    "a device": (lambda: tarred(SENT, other("bowl/a.jpg", tarfile.CHRTYPE)), "no plain file"),
    "a bomb": (zip_bomb, r"it has 68,157,440 bytes; at most"),
    "a gzip bomb": (lambda: gzip.compress(bytes(2**29 + 2), 1), "more in it than"),
    "many names": (lambda: zipped({**SENT, **{f"{number}.txt": b"" for number in range(2_001)}}), "more than 2,000"),
    "no project": (lambda: zipped({"bowl/seen.jpg": b""}), "there is no project file"),
    "two projects": (lambda: zipped({**SENT, "plate.yml": b""}), "2 project files"),
}  # fmt: skip


def _twice() -> bytes:
    held = io.BytesIO()
    with tarfile.open(fileobj=held, mode="w") as packed:
        for _ in range(2):
            packed.addfile(tarfile.TarInfo("bowl.yml"), io.BytesIO())
    return held.getvalue()


@pytest.mark.parametrize("case", BAD)
def test_what_no_archive_can_have_is_refused_before_it_is_read(case: str, tmp_path: Path) -> None:
    make, why = BAD[case]
    source = tmp_path / "sent"
    source.write_bytes(make())
    started = time.process_time()
    with pytest.raises(ProjectError, match=why) as caught:
        unpack(source)
    assert time.process_time() - started < 10
    assert len(caught.value.problems) == 1
    assert list(tmp_path.iterdir()) == [source]


def test_the_names_in_a_zip_are_counted_before_any_is_listed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """256 MB of nothing but names would take Python's reader gigabytes, and a minute."""
    source = tmp_path / "sent"
    source.write_bytes(zip_of_names(2_001))
    with zipfile.ZipFile(source) as listed:
        assert len(listed.infolist()) == 2_001
    monkeypatch.setattr(zipfile, "ZipFile", lambda *_: pytest.fail("it was listed"))
    with pytest.raises(ProjectError, match="more than 2,000 files"):
        unpack(source)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes with names")
@pytest.mark.parametrize("kind", ["link", "pipe", "the parcel a link", "the parcel a pipe"])
def test_a_folder_is_judged_like_an_archive(kind: str, tmp_path: Path) -> None:
    source = _as_folder(tmp_path / "sent")
    match kind:
        case "link":
            (source / "bowl" / "more.jpg").symlink_to("/etc/passwd")
        case "pipe":
            os.mkfifo(source / "bowl" / "more.jpg")
        case "the parcel a link":
            (tmp_path / "linked").symlink_to(source)
            source = tmp_path / "linked"
        case _:
            source = tmp_path / "pipe"
            os.mkfifo(source)
    with pytest.raises(ProjectError, match=r"it is a (link|pipe)"):
        unpack(source)


def test_one_look_and_a_yes_take_in_plain_files_and_a_no_takes_nothing(archive: Path, tmp_path: Path) -> None:
    source = tmp_path / "bowl.zip"
    source.write_bytes(zipped(SENT))
    refused = taken_in(str(source), answer="n\n")
    assert refused.exit_code == 0
    assert "nothing was taken" in refused.output
    assert not list((archive / "projects").iterdir())
    taken = taken_in(str(source), "--as", "walnut-bowl")
    assert taken.exit_code == 0, taken.output
    found = {path.relative_to(archive).as_posix() for path in archive.rglob("*") if path.is_file()}
    assert found == {"projects/walnut-bowl.yml", "projects/walnut-bowl/seen.jpg"}
    assert not any(path.stat().st_mode & 0o111 for path in archive.rglob("*") if path.is_file())
    again = taken_in(str(source), "--as", "walnut-bowl")
    assert isinstance(again.exception, ProjectError)
    assert "of this name already" in str(again.exception)


def test_the_page_shows_words_pictures_papers_and_findings_and_asks_no_host(
    archive: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    words = TEXT.replace("Test piece", 'Knob & "piece" of <2 in').replace("A small", "See https://x.example A small")
    source = tmp_path / "bowl.zip"
    source.write_bytes(zipped({"bowl.yml": words.encode(), "bowl/seen.jpg": picture()}))
    seen: list[str] = []

    def confirm(*_: object, **__: object) -> bool:
        (page,) = Path(os.environ["TMPDIR"]).glob("handouts-take-in-*/look.html")
        seen.append(page.read_text(encoding="utf-8"))
        for path in ("photographs/1.jpg", "bowl-handout-letter.pdf"):
            assert (page.parent / "published" / "projects" / "bowl" / path).stat().st_size
        return False

    (tmp_path / "tmp").mkdir()
    monkeypatch.setenv("TMPDIR", str(tmp_path / "tmp"))
    monkeypatch.setattr("tempfile.tempdir", None)
    monkeypatch.setattr("click.confirm", confirm)
    assert taken_in(str(source)).exit_code == 0
    (page,) = seen
    assert "<script" not in page
    assert "default-src &#x27;none&#x27;" in page
    assert "Knob &amp; &quot;piece&quot; of &lt;2 in" in page
    assert "https://x.example" in page
    assert "photographs/1.jpg" in page
    assert not list((tmp_path / "tmp").iterdir()), "the quarantine is cleared away"


def test_what_would_not_be_published_is_not_taken(archive: Path, tmp_path: Path) -> None:
    source = tmp_path / "bowl.zip"
    source.write_bytes(zipped({"bowl.yml": TEXT.encode(), "bowl/seen.jpg": b"hello"}))
    said = taken_in(str(source))
    assert said.exit_code == 1
    assert "cannot be read as a picture" in said.output
    assert "It is not taken" in said.output
    assert not list((archive / "projects").iterdir())


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no limits of a process")
@pytest.mark.parametrize("kind", ["time", "memory"])
def test_a_trial_is_held_to_its_time_and_memory(kind: str, monkeypatch: pytest.MonkeyPatch) -> None:
    import resource

    from handouts_build.door import trial

    monkeypatch.setattr(trial, "_CPU_S", 1)
    child = os.fork()
    if child == 0:
        _limit()
        try:
            if kind == "memory":
                bytearray(5 * 2**30)
            while kind == "time":
                pass
        except MemoryError:
            os._exit(7)
        os._exit(0)
    _, status = os.waitpid(child, 0)
    ended = os.waitstatus_to_exitcode(status)
    assert ended == (7 if kind == "memory" else ended)
    assert ended in (7, -24, -9)
    assert resource.getrlimit(resource.RLIMIT_CPU)[0] != 1


CALL = """\
title: The offcut challenge
club: North Club
words: Send a piece.
dates: {opens: 2026-01-01, closes: 2026-02-28, results: 2026-03-20}
pieces: {largest: {diameter: 4 in}, each: 1}
write to: The desk
"""
ENTRY = """\
maker: Quill Sedge
title: Scoop
sent: 2026-01-17
woods: ["maple, sugar"]
size: {diameter: 2 1/2 in}
inspired by: knob
pictures: [{file: seen.jpg, shows: A scoop}]
"""


@pytest.fixture
def called(archive: Path) -> Path:
    """The archive with a piece, a call, and an entry to it that another sent before."""
    folder = archive / "projects"
    entries = folder / "calls" / "offcuts" / "entries"
    (entries / "cup").mkdir(parents=True)
    (folder / "knob.yml").write_text(PIECE, encoding="utf-8")
    (entries.parent / "call.yml").write_text(CALL, encoding="utf-8")
    (entries / "cup.yml").write_text(ENTRY.replace("Quill", "Rush"), encoding="utf-8")
    (entries / "cup" / "seen.jpg").write_bytes(picture())
    return folder


def entry_sent(where: Path, text: str, **more: bytes) -> Path:
    target = where / "scoop.zip"
    target.write_bytes(zipped({"scoop.yml": text.encode(), "scoop/seen.jpg": picture(), **more}))
    return target


def test_an_entry_to_a_call_comes_in_by_the_same_door(called: Path, tmp_path: Path) -> None:
    source = entry_sent(tmp_path, ENTRY, **{"hooks.py": b"print('run')"})
    arguments = ["take-in", str(source), "--call", "offcuts", "--projects", str(called)]
    entries = called / "calls" / "offcuts" / "entries"
    refused = CliRunner().invoke(cli, arguments, input="n\n", catch_exceptions=False)
    assert "nothing was taken" in refused.output
    assert not (entries / "scoop.yml").exists()
    taken = CliRunner().invoke(cli, arguments, input="y\n", catch_exceptions=False)
    assert taken.exit_code == 0, taken.output
    assert "Scoop, by Quill Sedge" in taken.output
    there = {path.relative_to(entries).as_posix() for path in entries.rglob("*") if path.is_file()}
    assert there == {"cup.yml", "cup/seen.jpg", "scoop.yml", "scoop/seen.jpg"}
    assert (entries / "scoop.yml").read_text(encoding="utf-8") == ENTRY


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("2026-01-17", "2026-03-01", "entries/scoop.yml:3:7: sent: it was sent on 2026-03-01, and the call closed"),
        ("2 1/2 in", "5 in", "the diameter is 5 in (127 mm); the call takes at most 4 in"),
        ("knob", "nob", "there is no project 'nob' in this archive"),
        ("Quill Sedge", "Rush Sedge", "Rush Sedge has sent 2 pieces; the call takes 1 of one maker"),
        ("seen.jpg", "../../../knob.jpg", "lies outside the project's folder"),
        ("size:", "sizes:", "'sizes' is not a key here"),
    ],
)
def test_an_entry_that_the_call_does_not_take_is_not_taken(
    old: str, new: str, says: str, called: Path, tmp_path: Path
) -> None:
    source = entry_sent(tmp_path, ENTRY.replace(old, new))
    arguments = ["take-in", str(source), "--call", "offcuts", "--projects", str(called)]
    result = CliRunner().invoke(cli, arguments, input="y\n", catch_exceptions=False)
    assert result.exit_code == 1
    assert says in result.output.replace("\u00a0", " ")
    assert not (called / "calls" / "offcuts" / "entries" / "scoop.yml").exists()


def test_there_must_be_such_a_call(called: Path, tmp_path: Path) -> None:
    source = entry_sent(tmp_path, ENTRY)
    with pytest.raises(ProjectError, match="there is no call 'ofcuts'"):
        CliRunner().invoke(
            cli,
            ["take-in", str(source), "--call", "ofcuts", "--projects", str(called)],
            catch_exceptions=False,
            standalone_mode=False,
        )
