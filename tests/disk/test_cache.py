"""The cache: kept by content, trusted never, and in nobody's way."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.disk import cache as module
from handouts_build.disk.cache import Cache, code_key, content_key, library_key, read, user_folder


def counted(result: bytes) -> tuple[Callable[[], bytes], list[int]]:
    made: list[int] = []

    def make() -> bytes:
        made.append(1)
        return result

    return make, made


def test_a_result_is_made_once_and_kept_between_runs(tmp_path: Path) -> None:
    make, made = counted(b"drawing")
    for _ in range(2):
        cache = Cache(tmp_path / "kept")
        assert cache.get("key", make) == b"drawing"
        assert cache.get("key", make) == b"drawing"
    assert len(made) == 1


def test_without_a_folder_it_is_kept_in_memory(tmp_path: Path) -> None:
    make, made = counted(b"drawing")
    cache = Cache()
    assert cache.get("key", make) == cache.get("key", make) == b"drawing"
    assert len(made) == 1
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("spoilt", [b"", b"short", b"x" * 100])
def test_a_file_that_is_not_what_was_kept_is_made_anew(tmp_path: Path, spoilt: bytes) -> None:
    make, made = counted(b"drawing")
    Cache(tmp_path).get("key", make)
    (tmp_path / "key").write_bytes(spoilt)
    assert Cache(tmp_path).get("key", make) == b"drawing"
    assert len(made) == 2


def test_a_folder_that_cannot_be_written_is_done_without(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    make, made = counted(b"drawing")
    cache = Cache(tmp_path / "file" / "kept")
    assert cache.get("key", make) == cache.get("key", make) == b"drawing"
    assert len(made) == 1


FILES = {"a.pdf": b"paper", "deep/b.png": b"picture", "same.png": b"picture"}


def test_a_set_of_files_is_made_once_and_handed_on_as_paths(tmp_path: Path) -> None:
    made: list[int] = []

    def make() -> dict[str, bytes]:
        made.append(1)
        return FILES

    for _ in range(2):
        found = Cache(tmp_path).files("set", make)
        assert {name: read(file) for name, file in found.items()} == FILES
        assert all(isinstance(file, Path) for file in found.values())
        assert found["deep/b.png"] == found["same.png"], "the same bytes lie once"
    assert len(made) == 1
    assert Cache(tmp_path).known_files("other") is None


def test_a_set_without_a_folder_stays_in_memory(tmp_path: Path) -> None:
    for cache in (Cache(), Cache(blocked(tmp_path))):
        assert cache.files("set", lambda: FILES) == FILES
        assert cache.files("set", dict) == FILES


def blocked(tmp_path: Path) -> Path:
    """A folder that cannot be made."""
    (tmp_path / "file").write_text("in the way")
    return tmp_path / "file" / "kept"


@pytest.mark.parametrize("spoil", [Path.unlink, lambda path: path.write_bytes(b"half")])
def test_a_set_that_is_not_whole_any_more_is_made_anew(tmp_path: Path, spoil: Callable[[Path], object]) -> None:
    lost = Cache(tmp_path).files("set", lambda: FILES)["a.pdf"]
    assert isinstance(lost, Path)
    spoil(lost)
    assert Cache(tmp_path).known_files("set") is None
    assert {name: read(file) for name, file in Cache(tmp_path).files("set", lambda: FILES).items()} == FILES


def old(path: Path) -> None:
    """Make a file look as if it was last used a week ago."""
    os.utime(path, (time.time() - 7 * 86_400,) * 2)


def test_what_was_longest_not_used_goes_once_there_is_much_and_what_was_used_today_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "_MOST_BYTES", 1)
    first = Cache(tmp_path)
    first.get("old", lambda: b"x")
    first.files("used", lambda: {"kept.png": b"picture"})
    first.files("unused", lambda: {"lost.png": b"other picture"})
    for path in (path for path in tmp_path.rglob("*") if path.is_file()):
        old(path)
    second = Cache(tmp_path)
    assert second.known_files("used") is not None
    assert second.known("old") == b"x"
    second.get("new", lambda: b"y")
    assert second.known_files("used") is None, "its list went, which is not handed on"
    kept = [path.read_bytes() for path in (tmp_path / "files").iterdir()]
    assert kept == [b"picture"]
    assert {path.name for path in tmp_path.iterdir() if path.is_file()} == {"new"}


@given(st.lists(st.binary(max_size=8), max_size=5), st.lists(st.binary(max_size=8), max_size=5))
def test_keys_are_alike_only_for_the_same_parts(one: list[bytes], other: list[bytes]) -> None:
    """Also where the parts run together alike: `ab`, `c` is not `a`, `bc`."""
    assert (content_key(*one) == content_key(*other)) == (one == other)


def test_a_key_may_be_made_of_text() -> None:
    assert content_key("é") == content_key("é".encode())


def test_the_code_has_one_key_for_a_run() -> None:
    assert code_key() == code_key()
    assert len(code_key()) == 64


def test_the_users_folder_lies_outside_the_archive(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert user_folder().name == "handouts-build"
    assert Path.cwd() not in user_folder().parents


def test_a_kept_file_of_the_right_size_and_other_bytes_is_made_anew(tmp_path: Path) -> None:
    """As a power cut leaves one: all noughts."""
    spoilt = Cache(tmp_path).files("set", lambda: FILES)["a.pdf"]
    assert isinstance(spoilt, Path)
    spoilt.write_bytes(bytes(len(FILES["a.pdf"])))
    assert Cache(tmp_path).known_files("set") is None
    assert {name: read(file) for name, file in Cache(tmp_path).files("set", lambda: FILES).items()} == FILES


def test_a_disk_that_is_full_is_left_without_half_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(self: Path, target: object) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    make, _ = counted(b"drawing")
    assert Cache(tmp_path).get("key", make) == b"drawing"
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []


def test_another_release_of_a_library_is_another_key(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    keys = []
    for release in ("1.0", "1.1"):
        (tmp_path / release / f"typesetter-{release}.dist-info").mkdir(parents=True)
        monkeypatch.setattr(module.sys, "path", [str(tmp_path / release), str(tmp_path / "nowhere")])
        keys.append(library_key.__wrapped__())
    assert keys[0] != keys[1]


def test_a_name_that_is_no_text_in_any_encoding_makes_a_key() -> None:
    assert content_key(os.fsdecode(b"b\xff.yml")) == content_key(b"b\xff.yml")
