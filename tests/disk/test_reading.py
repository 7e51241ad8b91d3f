"""Files that may come from a stranger."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from handouts_build.disk.reading import read_plain


def test_a_plain_file_is_read(tmp_path: Path) -> None:
    (tmp_path / "run.yml").write_bytes(b"runs: []\r\n")
    assert read_plain(tmp_path / "run.yml", most_bytes=10) == b"runs: []\r\n"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes with names")
@pytest.mark.parametrize("kind", ["link", "pipe", "device", "folder", "40 GB, and empty"])
def test_nothing_else_is_and_the_answer_comes_at_once(kind: str, tmp_path: Path) -> None:
    path = tmp_path / "run.yml"
    if kind == "link":
        (tmp_path / "elsewhere").write_bytes(b"mine")
        path.symlink_to(tmp_path / "elsewhere")
    elif kind == "pipe":
        os.mkfifo(path)
    elif kind == "device":
        path = Path("/dev/zero")
    elif kind == "folder":
        path.mkdir()
    else:
        with path.open("wb") as file:
            file.truncate(40 * 10**9)
    with pytest.raises(OSError, match=r"it is a (link|pipe|device|folder)|at most 1,048,576"):
        read_plain(path, most_bytes=2**20)
