"""One process at a time, and who it is."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from handouts_build.disk.locks import locked


def other(path: Path) -> subprocess.Popen[str]:
    """Another process that holds a lock until its stdin closes."""
    code = (
        "import sys; from pathlib import Path; from handouts_build.disk.locks import locked\n"
        f"with locked(Path({str(path)!r})): print('held', flush=True); sys.stdin.read()"
    )
    begun = subprocess.Popen([sys.executable, "-c", code], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    assert begun.stdout is not None
    assert begun.stdout.readline() == "held\n"
    return begun


def test_the_second_is_told_who_the_first_is(tmp_path: Path) -> None:
    with other(tmp_path / "lock") as first:
        with pytest.raises(BlockingIOError) as caught, locked(tmp_path / "lock"):
            pass
        assert caught.value.strerror is not None
        assert caught.value.strerror.startswith(f"process {first.pid}, since ")
        first.kill()
    # It was killed, and holds nothing any more.
    with locked(tmp_path / "lock"):
        pass


def test_one_may_wait_for_it(tmp_path: Path) -> None:
    with other(tmp_path / "lock") as first:
        assert first.stdin is not None
        first.stdin.close()
        with locked(tmp_path / "lock", patience_s=30):
            pass


def test_a_lock_that_is_removed_is_held_by_one_all_the_same(tmp_path: Path) -> None:
    with locked(tmp_path / "lock", remove=True):
        assert (tmp_path / "lock").stat().st_mode & 0o077 == 0
    assert not (tmp_path / "lock").exists()


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes with names")
@pytest.mark.parametrize("kind", ["link", "pipe"])
def test_neither_a_link_nor_a_pipe_is_taken_for_a_lock(kind: str, tmp_path: Path) -> None:
    """A folder may come from a stranger: what the link leads to is neither opened nor emptied."""
    path, elsewhere = tmp_path / "lock", tmp_path / "elsewhere.txt"
    elsewhere.write_text("mine", encoding="utf-8")
    if kind == "link":
        path.symlink_to(elsewhere)
    else:
        os.mkfifo(path)
    with pytest.raises(OSError, match=r"symbolic links|plain file|No such device"), locked(path):
        pass
    assert elsewhere.read_text(encoding="utf-8") == "mine"
