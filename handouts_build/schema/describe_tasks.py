"""The page of tasks: what one wants to do, a few lines that do it, a picture, and what they come to; and the tutorial.

This module owns both pages. A task is a project file below `tasks/` whose first line says what it does and whose
second says how it goes; pictures and results are made from the files beforehand and lie beside them.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from importlib import resources
from importlib.resources.abc import Traversable
from typing import Any

from handouts_build.schema.describe import REFERENCE
from handouts_build.schema.describe_cuts import figure, pictures_in

__all__ = ["TASK_HEAD", "Task", "task_pages", "tasks", "tutorial_text"]

TASK_HEAD = """\
title: An example
summary: One thing done to one piece of wood.
kind: example
level: first steps
techniques: [an example]
"""
"""What every task stands below."""

_FIRST = ("hold-by-a-tenon", "drill-around-an-equator", "let-a-reader-choose", "accept-a-thin-wall")
"""What is asked for most stands first; the others follow by their names."""
_PICTURE = re.compile(r"^\[picture: ([a-z0-9-]+)\]$", re.MULTILINE)


@dataclass(frozen=True)
class Task:
    """One task."""

    name: str
    """Of its file and its pictures."""
    title: str
    says: str
    text: str
    """The lines that do it: a whole project file once `TASK_HEAD` stands above them."""


def tasks() -> tuple[Task, ...]:
    """Every task, in the order of the page."""
    files = {file.name.removesuffix(".yml"): file for file in _folder().iterdir() if file.name.endswith(".yml")}
    names = [*_FIRST, *sorted(files.keys() - set(_FIRST))]
    return tuple(_task(name, files[name].read_text(encoding="utf-8")) for name in names)


def _task(name: str, text: str) -> Task:
    title, says, lines = text.split("\n", 2)
    return Task(name, title.removeprefix("# "), says.removeprefix("# "), lines)


def tutorial_text() -> str:
    """The tutorial as it is written; `[picture: NAME]` on a line of its own stands for a picture."""
    return (_folder() / "tutorial.md").read_text(encoding="utf-8")


def task_pages(ending: str) -> dict[str, str | bytes]:
    """The two pages and their pictures, by their paths on the site.

    Args:
        ending: How the address of a page ends: `/` or `.html`.
    """
    drawn = json.loads((_folder() / "drawn.json").read_text(encoding="utf-8"))
    at = "../tasks/" if ending == "/" else "tasks/"
    own = "" if ending == "/" else "tasks/"
    home = f"{REFERENCE}/tasks"
    return {
        f"{home}.md": "\n".join(_page(own, drawn)) + "\n",
        f"{REFERENCE}/tutorial.md": _PICTURE.sub(lambda found: _shown(found[1], drawn, at), tutorial_text()),
        **{f"{home}/{name}": content for name, content in pictures_in("tasks").items()},
    }


def _folder() -> Traversable:
    return resources.files(__package__) / "tasks"


_OPENING = f"""\
# Tasks

What one wants to do, and the lines that do it. Each is a whole project file when these stand
above it:

```yaml
{TASK_HEAD}```

The pictures and what stands beside them are worked out from the lines: what the last step takes
away is hatched. The examples show the keys, not how to work: the cautions of a piece stand on its
own page. All keys: [The project file](project-file.md).
"""


def _page(at: str, drawn: dict[str, Any]) -> Iterator[str]:
    yield _OPENING
    for task in tasks():
        made = drawn[task.name]
        yield from (f"## {task.title}", "", task.says, "")
        yield from ("```yaml", task.text.rstrip("\n"), "```", "")
        yield from ('<div class="hb hb-example" markdown="1">', "", figure(task.name, made, at), "")
        yield from ('<div markdown="1">', "", "It comes to:", "", *(f"- {line}" for line in made["result"]), "")
        yield from ("</div>", "", "</div>", "")


def _shown(name: str, drawn: dict[str, Any], at: str) -> str:
    return f'<div class="hb hb-seen">{figure(name, drawn[name], at)}</div>'
