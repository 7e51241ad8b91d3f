"""How soon the bench follows a save: for DEVELOPERS.md.

Run it on an idle machine, from the project's root:

    python -m tests.benchmarks.follow

A project of one part is saved again and again with another size, while `handouts bench` runs in a process of its own
and a browser, where there is one, stands open on its page. The page notes itself when a frame shows the new solid, so
that nobody who asks for it disturbs it. Nothing here is a test.
"""

from __future__ import annotations

import contextlib
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from handouts_build.site.starter import starter_text

SAVES = 16
ASKED_EVERY_MS = 200
NOTED = """
window.noted = [];
addEventListener("DOMContentLoaded", () => {
  new MutationObserver(() => {
    const number = Number(document.body.dataset.number);
    requestAnimationFrame(() => requestAnimationFrame(() => {
      window.noted.push([number, performance.timeOrigin + performance.now()]);
    }));
  }).observe(document.body, { attributes: true, attributeFilter: ["data-number"] });
});
"""
"""When the frame after the one that a look is drawn in begins: by then it is seen."""


@dataclass(frozen=True)
class Bench:
    """The bench on one project, in a process of its own."""

    address: str
    file: Path
    process: int

    def save(self, number: int) -> float:
        """Save the knob at a size that it did not have before; seconds of the clock at which that was."""
        text = starter_text("knob", title="Knob")
        at = time.time()
        self.file.write_text(text.replace("1 1/4 in", f"{1 + number / 64} in", 1), encoding="utf-8")
        return at

    def worked_s(self) -> float:
        """Seconds of processor time that its process has taken; nought where the system does not tell."""
        try:
            told = Path(f"/proc/{self.process}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()
        except OSError:
            return 0.0
        return (int(told[11]) + int(told[12])) / float(os.sysconf("SC_CLK_TCK"))


def main() -> None:
    """Print the rows."""
    with tempfile.TemporaryDirectory() as made, served(Path(made)) as bench:
        print("| what | middle | least |\n| --- | ---: | ---: |")
        row("a knob saved, until the new solid is ready", ready(bench))
        path = shutil.which("chromium") or shutil.which("google-chrome")
        if path is not None:
            shown, worked = in_a_browser(path, bench)
            row("the same, until a browser shows it", shown)
            row("processor time of the bench for it", worked)


def row(what: str, seconds: list[float]) -> None:
    """Print one; the first save is let go, for what comes first loads things."""
    print(f"| {what} | {statistics.median(seconds[1:]):.2f} | {min(seconds[1:]):.2f} |", flush=True)


def ready(bench: Bench) -> list[float]:
    """Seconds from each save until what is asked for is there."""
    asked = f"{bench.address}seen?project=knob"
    with urllib.request.urlopen(asked):
        news = urllib.request.urlopen(f"{bench.address}news?after=0")
    seconds = []
    with news:
        for number in range(SAVES):
            saved = bench.save(number)
            while not news.readline().startswith(b"data:"):
                pass
            with urllib.request.urlopen(asked) as answer:
                answer.read()
            seconds.append(time.time() - saved)
    return seconds


def in_a_browser(path: str, bench: Bench) -> tuple[list[float], list[float]]:
    """Seconds from each save until the page has drawn it, and of processor time that the bench took for it."""
    from playwright.sync_api import sync_playwright

    root = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    seconds, worked = [], []
    with sync_playwright() as play, play.chromium.launch(executable_path=path, args=root) as browser:
        page = browser.new_page()
        page.add_init_script(NOTED)
        page.goto(f"{bench.address}?project=knob")
        noted: Callable[[], list[list[float]]] = lambda: page.evaluate("() => window.noted")  # noqa: E731
        while not noted():
            page.wait_for_timeout(ASKED_EVERY_MS)
        for number in range(SAVES):
            seen, before = len(noted()), bench.worked_s()
            saved = bench.save(SAVES + number)
            while len(noted()) == seen:
                page.wait_for_timeout(ASKED_EVERY_MS)
            seconds.append(noted()[-1][1] / 1000 - saved)
            worked.append(bench.worked_s() - before)
    return seconds, worked


@contextlib.contextmanager
def served(home: Path) -> Iterator[Bench]:
    """The bench on one project."""
    file = home / "projects" / "knob.yml"
    file.parent.mkdir()
    file.write_text(starter_text("knob", title="Knob"), encoding="utf-8")
    command = [sys.executable, "-m", "handouts_build", "bench", "knob", "--port", "0"]
    root = Path(__file__).resolve().parents[2]
    known = {"XDG_CACHE_HOME": str(home / "cache"), "PYTHONPATH": str(root)}
    with subprocess.Popen(command, cwd=home, env={**os.environ, **known}, stdout=subprocess.PIPE, text=True) as running:
        told = re.search(r"http://\S+/", running.stdout.readline() if running.stdout else "")
        try:
            yield Bench(told.group() if told else "", file, running.pid)
        finally:
            running.terminate()


if __name__ == "__main__":
    main()
