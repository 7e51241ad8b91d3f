"""Small projects made for a test, read and worked out as the command would."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path
from textwrap import dedent, indent

from handouts_build.disk.cache import Cache, user_folder
from handouts_build.outputs.output import NOWHERE, Address
from handouts_build.problems import Problem, ProjectError
from handouts_build.schema import PartKeys, ProjectKeys, StepKeys, load_project
from handouts_build.schema.cut_keys import HOLD_WORDS
from handouts_build.sheet import Part, Sheet
from handouts_build.site.build import Archive, read_archive
from handouts_build.site.gathering import project_files
from handouts_build.site.publish import Papers, publish
from handouts_build.tables.caution_facts import WORDS, Fact

ROOT = Path(__file__).parents[1]
DEMO_PIECES = tuple(sorted(path.stem for path in (ROOT / "projects").glob("*.yml") if path.stem != "shop"))
"""Every piece of the demo archive by its name, so that no test leaves a new one out."""

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


@cache
def demo_project(name: str) -> ProjectKeys:
    """The model of a demo piece."""
    made, _ = load_project(ROOT / "projects" / f"{name}.yml", f"projects/{name}.yml")
    return made


def demo_steps(sheet: Sheet, model: ProjectKeys) -> Iterator[tuple[PartKeys, StepKeys, Part]]:
    """Every step of a demo piece with its part's keys, and its part as worked out."""
    for part in sheet.parts:
        keys = model.parts[part.name]
        for step in keys.steps:
            yield keys, step, part


_KEYS = {
    Fact.OPERATION: "work", Fact.SHAPE: "shape", Fact.ABRASIVE: "abrasive", Fact.ADHESIVE: "adhesive",
    Fact.FINISH: "finish", Fact.TOOL: "tools",
}  # fmt: skip


def vocabulary(fact: Fact) -> frozenset[str]:
    """The words that a fact of a step or a piece may have."""
    return HOLD_WORDS if fact is Fact.HOLD else WORDS[fact]


def with_word(part: PartKeys, step: StepKeys, fact: Fact, word: str) -> tuple[PartKeys, StepKeys]:
    """A part and one of its steps where the author says one word more.

    Args:
        part: The part's keys.
        step: The step's keys, one of the part's.
        fact: Which vocabulary the word is from: of a step, of its hold, or the wood's condition.
        word: The word.
    """
    if fact is Fact.HOLD and step.hold is not None:
        hold = step.hold.model_copy(update={"by": [*step.hold.by, word]})
        said = step.model_copy(update={"hold": hold})
    elif fact in _KEYS:
        said = step.model_copy(update={_KEYS[fact]: [*getattr(step, _KEYS[fact]), word]})
    else:
        said = step
    steps = [said if one is step else one for one in part.steps]
    update: dict[str, object] = {"steps": steps}
    if fact is Fact.CONDITION:
        update["condition"] = [*part.condition, word]
    return part.model_copy(update=update), said


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
