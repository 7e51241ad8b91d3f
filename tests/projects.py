"""Small projects made for a test, read and worked out as the command would."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from textwrap import dedent, indent

from handouts_build.disk.cache import Cache, user_folder
from handouts_build.outputs.output import NOWHERE, Address
from handouts_build.problems import Problem, ProjectError
from handouts_build.sheet import Sheet
from handouts_build.site.build import Archive, read_archive
from handouts_build.site.gathering import project_files
from handouts_build.site.publish import Papers, publish

ROOT = Path(__file__).parents[1]

HEAD = """\
title: {title}
summary: A small piece for testing.
kind: ornament
level: improver
techniques: [bead]
"""
PARTS = """\
parts:
  body:
    wood: maple, sugar
    blank: {round: 3 in, long: 4 in}
    steps:
      - {name: Turn it, say: Turn it.}
"""


def project(folder: Path, *, name: str = "piece", parts: str = PARTS, extra: str = "", **maps: str) -> Path:
    """Write a project.

    Args:
        folder: Where.
        name: Its name.
        parts: The `parts` key and what is below.
        extra: More keys, whole.
        **maps: `sizes`, `dimensions`, `workings`, `profiles`: what stands below each.
    """
    maps.setdefault("sizes", "ball: {is: 2 in, says: Ball}")
    text = HEAD.format(title=name.replace("-", " ").capitalize())
    for key, below in maps.items():
        text += f"{key}:\n{indent(dedent(below).strip(), '  ')}\n"
    path = folder / f"{name}.yml"
    path.write_text(text + dedent(extra) + dedent(parts), encoding="utf-8")
    return path


def worked(folder: Path, **keys: str) -> Sheet:
    """The sheet of a project of these keys."""
    project(folder, **keys)
    (sheet,) = read_archive(folder, base=folder).sheets
    return sheet


@cache
def demo_archive() -> Archive:
    """The demo archive, worked out once for all the tests that look at it."""
    return read_archive(ROOT / "projects", base=ROOT, cache=Cache(user_folder()))


def problems(folder: Path, **keys: str) -> tuple[Problem, ...]:
    """The problems of a project of these keys; none if it is sound."""
    try:
        worked(folder, **keys)
    except ProjectError as error:
        return error.problems
    return ()


def site(
    projects: Path, *names: str, papers: Papers = Papers.NONE, address: Address = NOWHERE, cache: Cache | None = None
) -> dict[str, bytes]:
    """Every file of the site of a folder of projects, or of some of them by name, by path."""
    paths = [path for path in project_files(projects) if not names or path.stem in names]
    made = publish(paths, base=projects.parent, cache=cache or Cache(), address=address, papers=papers)
    return {one.path: one.read() for one in made}
