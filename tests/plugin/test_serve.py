"""`mkdocs serve` as its user meets it: one save, one rebuild, and no save brings it down."""

from __future__ import annotations

import io
import re
import shutil
import socket
import subprocess
import sys
import threading
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PIL import Image

from tests.plugin.conftest import Archive

PATIENCE = 60.0
"""Seconds to wait for what must come; the machine may be busy."""

QUIET = 2.5
"""Seconds without another rebuild after which there will be none: MkDocs looks every 0.5 s or so."""


class Served:
    """A running `mkdocs serve`, what it says, and what it serves."""

    def __init__(self, archive: Archive) -> None:
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.process = subprocess.Popen(
            [sys.executable, "-m", "mkdocs", "serve", "-a", f"127.0.0.1:{self.port}"],
            cwd=archive.home,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            encoding="utf-8",
        )
        self.said: list[str] = []
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self.said.append(line.rstrip())

    def heard(self, words: str) -> int:
        """How many lines hold these words."""
        return sum(words in line for line in list(self.said))

    def wait(self, done: Callable[[], object]) -> None:
        """Wait until something is so."""
        end = time.monotonic() + PATIENCE
        while not done():
            assert self.process.poll() is None, "\n".join(self.said)
            assert time.monotonic() < end, "\n".join(self.said)
            time.sleep(0.05)

    def file(self, path: str) -> bytes:
        with urllib.request.urlopen(f"http://127.0.0.1:{self.port}/{path}", timeout=PATIENCE) as answer:
            found: bytes = answer.read()
        return found

    def page(self, path: str = "projects/knob.html") -> str:
        return self.file(path).decode()

    def rebuilds_after(self, change: Callable[[], object]) -> int:
        """How many rebuilds one change causes."""
        before = self.heard("Building documentation...")
        change()
        self.wait(lambda: self.heard("Building documentation...") > before)
        seen, quiet_since = before, time.monotonic()
        while time.monotonic() - quiet_since < QUIET:
            if (now := self.heard("Building documentation...")) != seen:
                seen, quiet_since = now, time.monotonic()
            time.sleep(0.05)
        return seen - before


@pytest.fixture
def served(archive: Archive) -> Iterator[Served]:
    found = Served(archive)
    try:
        found.wait(lambda: found.heard("Serving on"))
        yield found
    finally:
        found.process.terminate()
        found.process.wait(timeout=PATIENCE)
        assert found.process.stdout is not None
        found.process.stdout.close()


def test_saving_project_picture_or_shop_file_rebuilds_once_and_a_broken_file_leaves_the_server_alive(
    archive: Archive, served: Served
) -> None:
    assert "Knob" in served.page()

    # The project.
    assert served.rebuilds_after(lambda: archive.edit("A small drawer knob with", "A turned drawer knob with")) == 1
    served.wait(lambda: "A turned drawer knob" in served.page())

    # The shop file.
    shop = archive.project.parent / "shop.yml"
    assert served.rebuilds_after(lambda: shop.write_text("by: Wren Tarrow\n", encoding="utf-8")) == 1
    served.wait(lambda: "Wren Tarrow" in served.page())

    # A picture: named by the project, then changed.
    picture = archive.project.with_suffix("") / "knob.png"
    picture.parent.mkdir()
    Image.new("RGB", (8, 8), "sienna").save(picture)
    archive.edit("parts:\n", "pictures: [{file: knob.png, shows: Seen from the front}]\n\nparts:\n")
    served.wait(lambda: "Seen from the front" in served.page())
    time.sleep(QUIET)
    other = archive.home / "other.png"
    Image.new("RGB", (9, 9), "tan").save(other)
    assert served.rebuilds_after(lambda: shutil.copyfile(other, picture)) == 1
    served.wait(lambda: Image.open(io.BytesIO(served.file("projects/knob/photographs/1.png"))).size == (9, 9))

    # A broken file: told once. MkDocs lets requests wait until it is mended.
    good = archive.project.read_text(encoding="utf-8")
    assert served.rebuilds_after(lambda: archive.edit("is: 3/8 in", "is: 3/8")) == 1
    assert [line for line in served.said if re.search(r"projects/knob\.yml:\d+:\d+: sizes\.hole\.is: ", line)]
    assert not served.heard("Traceback")
    assert served.process.poll() is None

    # And mended.
    mended = good.replace("A turned drawer knob", "A mended drawer knob")
    assert served.rebuilds_after(lambda: archive.project.write_text(mended, encoding="utf-8")) == 1
    served.wait(lambda: "A mended drawer knob" in served.page())


def test_a_new_project_appears_while_serving(archive: Archive, served: Served) -> None:
    text = archive.project.read_text(encoding="utf-8").replace('title: "Knob"', 'title: "Second knob"')
    new: Path = archive.project.with_name("second.yml")
    assert served.rebuilds_after(lambda: new.write_text(text, encoding="utf-8")) == 1
    served.wait(lambda: "Second knob" in served.page("projects/second.html"))
