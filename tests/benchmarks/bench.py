"""How long things take: a table for DEVELOPERS.md.

Run it on an idle machine, from the project's root:

    python -m tests.benchmarks.bench --many 200

Nothing here is a test; a slow machine fails nobody. Every time is of a whole process
unless it says otherwise, and the plain site is built from the very same Markdown.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import re
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import yaml

from handouts_build.site.starter import starter_text

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

    yield from one_project(home / "one", env)
    yield (
        "the lantern's papers on one size of paper, cold",
        command("handouts_build", "papers", str(lantern), "--to", str(home / "papers"), "--size", "letter"),
    )
    yield (
        "the same, nothing changed",
        command("handouts_build", "papers", str(lantern), "--to", str(home / "papers"), "--size", "letter"),
    )
    yield from warm(lantern)
    for count in (4, many):
        archive = home / f"archive-{count}"
        generate(archive, count)
        yield f"site of {count} projects, cold", command("mkdocs", "build", "-q", cwd=archive)
        unchanged = min(command("mkdocs", "build", "-q", cwd=archive) for _ in range(3))
        yield f"site of {count} projects, nothing changed", unchanged
        plain(archive, env)
        bare = min(command("mkdocs", "build", "-q", "-f", "plain.yml", cwd=archive) for _ in range(3))
        yield f"plain Material on the same Markdown, {count} projects", bare
        yield f"nothing changed, times plain ({count} projects)", unchanged / bare
        yield f"one of {count} edited and saved, until `serve --dirty` shows it", edited(archive, env)


def one_project(home: Path, env: dict[str, str]) -> Iterator[tuple[str, float]]:
    """`handouts check` of the lantern: all its sizes and one size, known and unknown."""
    home.mkdir()
    shutil.copy(ROOT / "projects" / "shop.yml", home)
    text = (ROOT / "projects" / "lantern.yml").read_text(encoding="utf-8")
    alone = re.sub(r"(?m)^ready sizes:\n(?:[ #].*\n|\n)*", "", text)
    path = home / "lantern.yml"
    for what, written in (("the lantern, its ready sizes too", text), ("the same piece without ready sizes", alone)):
        own = {**env, "XDG_CACHE_HOME": str(home / what[:8].strip())}
        check = partial(clocked, partial(run, [PYTHON, "-m", "handouts_build", "check", str(path)], home, own))
        path.write_text(written, encoding="utf-8")
        yield f"`handouts check`, whole process: {what}, cold", check()
        yield "the same, nothing changed", min(check() for _ in range(5))
        # Other words: everything is worked out again, and what was kept of the solids holds.
        path.write_text(written.replace("slim drop", "slender drop"), encoding="utf-8")
        yield "the same, after its words were edited", check()


def warm(lantern: Path) -> Iterator[tuple[str, float]]:
    """Pictures cold, and one handout, in a process that has made one before."""
    from handouts_build.outputs.papers.render import papers
    from handouts_build.site.build import drawings, pictures, read_projects

    archive = read_projects([lantern], base=ROOT)
    pictures(archive, 0)
    fresh = read_projects([lantern], base=ROOT)
    yield (
        "the lantern's pictures and models of one size, solids carried (inside a process)",
        clocked(lambda: pictures(fresh, 0)),
    )
    figures = drawings(archive, 0)
    papers(archive.sheets[0], figures)
    yield (
        "the lantern's papers on one size of paper, warm, drawings made (inside a process)",
        clocked(lambda: papers(archive.sheets[0], figures)),
    )


def edited(archive: Path, env: dict[str, str]) -> float:
    """From saving a project until its page, served, has the new words."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    served = subprocess.Popen(
        [PYTHON, "-m", "mkdocs", "serve", "-q", "--dirty", "-a", f"127.0.0.1:{port}"], cwd=archive, env=env
    )
    path = archive / "projects" / "lantern.yml"
    words = path.read_text(encoding="utf-8")
    page = f"http://127.0.0.1:{port}/projects/lantern.html"

    def wait(text: str) -> None:
        while True:
            with contextlib.suppress(OSError), urllib.request.urlopen(page, timeout=60) as answer:
                if text in answer.read().decode():
                    return
            time.sleep(0.02)

    try:
        wait("slim drop")
        taken = []
        for text in ("slender drop", "slight drop", "thin drop"):
            time.sleep(2)
            path.write_text(words.replace("slim drop", text), encoding="utf-8")
            taken.append(clocked(lambda text=text: wait(text)))  # type: ignore[misc]
        return min(taken)
    finally:
        served.terminate()
        served.wait()
        path.write_text(words, encoding="utf-8")


def projects() -> list[Path]:
    """The demo archive's projects."""
    return sorted(path for path in (ROOT / "projects").glob("*.yml") if path.name != "shop.yml")


def generate(archive: Path, count: int) -> None:
    """An archive of that many projects: the demo's, and small ones of sizes that no two share."""
    home = archive / "projects"
    home.mkdir(parents=True)
    shutil.copytree(ROOT / "docs", archive / "docs")
    shutil.copy(ROOT / "mkdocs.yml", archive)
    shutil.copy(ROOT / "projects" / "shop.yml", home)
    demo = [path for path in projects() if path.stem == "lantern" or count > len(projects())]
    for path in demo:
        shutil.copy(path, home)
    for number in range(count - len(demo)):
        knob = starter_text("knob", title=f"Knob {number}")
        text = knob.replace("1 1/4 in", f"{1 + number / 256:g} in", 1)
        (home / f"knob-{number}.yml").write_text(text, encoding="utf-8")


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
