"""How soon the bench follows a save: for DEVELOPERS.md.

Run it on an idle machine, from the project's root:

    python -m tests.benchmarks.follow

A project of one part is saved again and again with another size; it is timed from the save until the page's server has
the new solid ready, and until a browser shows it where there is one. Nothing here is a test.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import statistics
import tempfile
import threading
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

from handouts_build.bench.serving import BenchServer
from handouts_build.bench.watcher import Watcher
from handouts_build.site.starter import starter_text

SAVES = 12


def main() -> None:
    """Print the rows."""
    with tempfile.TemporaryDirectory() as made, served(Path(made)) as (server, file):
        asked = f"{server.address}seen?project=knob"
        with urllib.request.urlopen(asked):
            print("| what | seconds |\n| --- | ---: |")
        seconds = [followed(server, file, asked, number) for number in range(SAVES)]
        print(f"| a knob saved, until the new solid is ready | {statistics.median(seconds[1:]):.2f} |")
        path = shutil.which("chromium") or shutil.which("google-chrome")
        if path is not None:
            shown = in_a_browser(path, server, file)
            print(f"| the same, until a browser shows it | {statistics.median(shown[1:]):.2f} |")


def saved(file: Path, number: int) -> None:
    """Save the knob at a size that it did not have before."""
    text = starter_text("knob", title="Knob")
    file.write_text(text.replace("1 1/4 in", f"{1.25 + (number + 1) / 64} in", 1), encoding="utf-8")


def followed(server: BenchServer, file: Path, asked: str, number: int) -> float:
    """Seconds from a save until what is asked for is there."""
    started = time.perf_counter()
    saved(file, number)
    server.watcher.wait(number, 30.0)
    with urllib.request.urlopen(asked) as answer:
        answer.read()
    return time.perf_counter() - started


def in_a_browser(path: str, server: BenchServer, file: Path) -> list[float]:
    """Seconds from each save until the page has drawn it."""
    from playwright.sync_api import sync_playwright

    root = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    seconds = []
    with sync_playwright() as play, play.chromium.launch(executable_path=path, args=root) as browser:
        page = browser.new_page()
        page.goto(f"{server.address}?project=knob")
        while not page.evaluate("() => document.body.dataset.number"):
            page.wait_for_timeout(5)
        for number in range(SAVES):
            before, started = page.evaluate("() => document.body.dataset.number"), time.perf_counter()
            saved(file, SAVES + number)
            while page.evaluate("() => document.body.dataset.number") == before:
                page.wait_for_timeout(5)
            seconds.append(time.perf_counter() - started)
    return seconds


@contextlib.contextmanager
def served(home: Path) -> Iterator[tuple[BenchServer, Path]]:
    """The bench on one project."""
    file = home / "projects" / "knob.yml"
    file.parent.mkdir()
    file.write_text(starter_text("knob", title="Knob"), encoding="utf-8")
    os.environ["XDG_CACHE_HOME"] = str(home / "cache")
    watcher = Watcher(lambda: [file], base=home)
    server = BenchServer(watcher)
    for run in (server.serve_forever, watcher.follow):
        threading.Thread(target=run, daemon=True).start()
    yield server, file
    watcher.end()
    server.shutdown()
    server.server_close()


if __name__ == "__main__":
    main()
