"""What each demo piece takes to publish with nothing kept: a table for DEVELOPERS.md.

    python -m tests.benchmarks.budget

Processor time is of the whole process with all that it starts, memory that of the largest of these. Both hold on a
busy machine too, as far as one that shares its caches lets them.
"""

from __future__ import annotations

import argparse
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

from handouts_build.disk.folders import OWN_PAPERS, SHOP

ROOT = Path(__file__).resolve().parents[2]
COMMANDS = {
    "papers": ("papers", "--size", "letter", "--to", "papers"),
    "pages": ("pages", "--no-papers", "--to", "pages"),
    "publish": ("pages", "--to", "published"),
}
"""What is measured: one size of paper, the pages alone, and all that a site has of the piece."""


def main() -> None:
    """Print the table."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("names", nargs="*", help="pieces; every one of the demo archive if not given")
    names = asked.parse_args().names
    print("| piece | " + " | ".join(f"{what}, s | MB" for what in COMMANDS) + " |")
    print("| --- |" + " ---: |" * 2 * len(COMMANDS))
    for path in sorted((ROOT / "projects").glob("*.yml")):
        if path.name != SHOP and (not names or path.stem in names):
            cells = " | ".join(f"{cpu_s:.1f} | {peak_mb}" for cpu_s, peak_mb in rows(path))
            print(f"| {path.stem} | {cells} |", flush=True)


def rows(path: Path) -> Iterator[tuple[float, int]]:
    """Processor time and memory of each command, on an archive of one piece.

    Args:
        path: The project's file.
    """
    for words in COMMANDS.values():
        with tempfile.TemporaryDirectory() as made:
            home = Path(made)
            projects = home / "projects"
            projects.mkdir()
            shutil.copy(path, projects)
            for name in (SHOP, OWN_PAPERS):
                shutil.copy(path.with_name(name), projects)
            if path.with_suffix("").is_dir():
                shutil.copytree(path.with_suffix(""), projects / path.stem)
            yield measured([sys.executable, "-m", "handouts_build", *words], home)


def measured(words: Sequence[str], home: Path) -> tuple[float, int]:
    """Processor seconds and most megabytes of a command, run in a folder with a cache of its own."""
    around = os.environ | {"XDG_CACHE_HOME": str(home / "cache"), "NO_MKDOCS_2_WARNING": "1"}
    child = os.fork()
    if child == 0:
        try:
            os.chdir(home)
            os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
            os.execve(words[0], words, around)
        finally:
            os._exit(1)
    _, status, used = os.wait4(child, 0)
    assert os.waitstatus_to_exitcode(status) == 0, f"{words} failed"
    return used.ru_utime + used.ru_stime, used.ru_maxrss // 1024


if __name__ == "__main__":
    main()
