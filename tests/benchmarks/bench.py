"""How long things take: a table for DEVELOPERS.md.

Run it on an idle machine, from the project's root:

    python -m tests.benchmarks.bench --many 200

Nothing here is a test; a slow machine fails nobody. Every time is of a whole process
unless it says otherwise, and the plain site is built from the very same Markdown.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import yaml

ROOT = Path(__file__).resolve().parents[2]
PYTHON = sys.executable
QUIET = {"NO_MKDOCS_2_WARNING": "1"}


def main() -> None:
    """Print the table."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--many", type=int, default=200, help="projects in the large archive")
    many = words.parse_args().many
    print("| what | seconds |\n| --- | ---: |")
    with tempfile.TemporaryDirectory() as made:
        for what, seconds in rows(Path(made), many):
            print(f"| {what} | {seconds:.2f} |", flush=True)


def rows(home: Path, many: int) -> Iterator[tuple[str, float]]:
    """Every measured row."""
    env = {**os.environ, **QUIET, "XDG_CACHE_HOME": str(home / "cache")}
    lantern = ROOT / "projects" / "lantern.yml"

    def command(*arguments: str, cwd: Path = ROOT) -> float:
        return clocked(lambda: run([PYTHON, "-m", *arguments], cwd, env))

    command("handouts_build", "check", str(lantern))
    yield (
        "`handouts check`, the lantern, whole process",
        min(command("handouts_build", "check", str(lantern)) for _ in range(5)),
    )
    yield (
        "the lantern's papers on one size of paper, cold",
        command("handouts_build", "papers", str(lantern), "--to", str(home / "papers"), "--size", "letter"),
    )
    yield (
        "the same, nothing changed",
        command("handouts_build", "papers", str(lantern), "--to", str(home / "papers"), "--size", "letter"),
    )
    yield from warm(lantern)
    for count in (len(projects()), many):
        archive = home / f"archive-{count}"
        generate(archive, count)
        yield f"site of {count} projects, cold", command("mkdocs", "build", "-q", cwd=archive)
        unchanged = min(command("mkdocs", "build", "-q", cwd=archive) for _ in range(2))
        yield f"site of {count} projects, nothing changed", unchanged
        plain(archive, env)
        bare = min(command("mkdocs", "build", "-q", "-f", "plain.yml", cwd=archive) for _ in range(2))
        yield f"plain Material on the same Markdown, {count} projects", bare
        yield f"nothing changed, times plain ({count} projects)", unchanged / bare
        yield f"one of {count} edited: until its page's text is there (inside `serve`)", edited(archive)


def warm(lantern: Path) -> Iterator[tuple[str, float]]:
    """One handout in a process that has made one before."""
    from handouts_build.build import drawings, read_projects
    from handouts_build.outputs.papers import papers

    archive = read_projects([lantern], base=ROOT)
    figures = drawings(archive, 0)
    papers(archive.sheets[0], figures)
    yield (
        "the lantern's papers on one size of paper, warm, drawings made (inside a process)",
        clocked(lambda: papers(archive.sheets[0], figures)),
    )


def edited(archive: Path) -> float:
    """Read, work out and lay out again after one project changed, in a process that made them all before."""
    from handouts_build.build import read_archive, site_files
    from handouts_build.cache import Cache

    cache = Cache()
    folder = archive / "projects"
    site_files(read_archive(folder, base=archive, cache=cache), papers=False)
    path = next(path for path in sorted(folder.glob("lantern*.yml")))
    path.write_text(path.read_text(encoding="utf-8").replace("slim drop", "slender drop"), encoding="utf-8")
    return clocked(lambda: site_files(read_archive(folder, base=archive, cache=cache), papers=False))


def projects() -> list[Path]:
    """The demo archive's projects."""
    return sorted(path for path in (ROOT / "projects").glob("*.yml") if path.name != "shop.yml")


def generate(archive: Path, count: int) -> None:
    """An archive of that many projects, the demo's over and over under other titles."""
    (archive / "projects").mkdir(parents=True)
    shutil.copytree(ROOT / "docs", archive / "docs")
    shutil.copy(ROOT / "mkdocs.yml", archive)
    shutil.copy(ROOT / "projects" / "shop.yml", archive / "projects")
    sources = projects()
    for number in range(count):
        source = sources[number % len(sources)]
        first, _, rest = source.read_text(encoding="utf-8").partition("\n")
        (archive / "projects" / f"{source.stem}-{number}.yml").write_text(f"{first} {number}\n{rest}", encoding="utf-8")


def plain(archive: Path, env: dict[str, str]) -> None:
    """The same pages written out, and settings that leave our plugin out."""
    run([PYTHON, "-m", "handouts_build", "pages", "--to", str(archive / "written")], archive, env)
    shutil.copytree(archive / "docs", archive / "written", dirs_exist_ok=True)
    settings = yaml.safe_load((archive / "mkdocs.yml").read_text(encoding="utf-8"))
    settings["plugins"] = ["search"]
    settings["docs_dir"] = "written"
    settings["site_dir"] = "plain"
    settings["markdown_extensions"] = ["attr_list", "md_in_html"]
    (archive / "plain.yml").write_text(yaml.safe_dump(settings), encoding="utf-8")


def run(command: list[str], cwd: Path, env: dict[str, str]) -> None:
    """Run a command that must succeed."""
    subprocess.run(command, cwd=cwd, env=env, check=True, stdout=subprocess.DEVNULL)


def clocked(work: Callable[[], object]) -> float:
    """Seconds that something takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


if __name__ == "__main__":
    main()
