"""The cache: kept by content, trusted never, and in nobody's way."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build import cache as module
from handouts_build.cache import Cache, code_key, content_key, pack, unpack, user_folder


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


def test_the_oldest_results_go_once_there_are_many(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_MOST_FILES", 3)
    cache = Cache(tmp_path)
    for number in range(6):
        cache.get(f"key{number}", lambda: b"x")
    assert len(list(tmp_path.iterdir())) == 3
    assert (tmp_path / "key5").exists()


@given(st.lists(st.binary(max_size=8), max_size=5), st.lists(st.binary(max_size=8), max_size=5))
def test_keys_are_alike_only_for_the_same_parts(one: list[bytes], other: list[bytes]) -> None:
    """Also where the parts run together alike: `ab`, `c` is not `a`, `bc`."""
    assert (content_key(*one) == content_key(*other)) == (one == other)


def test_a_key_may_be_made_of_text() -> None:
    assert content_key("é") == content_key("é".encode())


def test_the_code_has_one_key_for_a_run() -> None:
    assert code_key() == code_key()
    assert len(code_key()) == 64


@given(st.dictionaries(st.from_regex(r"[a-z]{1,8}\.pdf", fullmatch=True), st.binary(max_size=50), max_size=4))
def test_files_packed_together_come_out_the_same(files: dict[str, bytes]) -> None:
    assert unpack(pack(files)) == files
    assert pack(files) == pack(files)


def test_the_users_folder_lies_outside_the_archive(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert user_folder().name == "handouts-build"
    assert Path.cwd() not in user_folder().parents
