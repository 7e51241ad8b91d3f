"""The pictures of the tasks and of the tutorial, and what the tasks come to, made from the very files.

`python -m tests.drawn_tasks` draws what has changed since it was drawn; `--all` draws all. As with the drawings of
cuts, what a picture was made from is kept beside it as a key, and a test fails where one is out of date.
"""

from __future__ import annotations

import hashlib
import json
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from unittest.mock import patch

from handouts_build.figures.shot import Shot
from handouts_build.figures.solid.mesh import SurfaceMesh
from handouts_build.figures.solid.picture import Camera
from handouts_build.schema.describe_tasks import TASK_HEAD, Task, tasks
from handouts_build.sheet import Sheet
from handouts_build.site import picturing
from handouts_build.site.build import Archive, read_archive
from handouts_build.site.starter import starter_text
from tests.drawn_cuts import MOST_BYTES, WIDE_PX, draw_all, plainly

__all__ = ["HOME", "TaskDrawing", "drawn_now"]

HOME = Path(__file__).parents[1] / "handouts_build" / "schema" / "tasks"
_MOST_NAMES = 3
EGG = "tutorial-egg"
"""The pictures of the tutorial: the egg after each of its steps."""


@dataclass(frozen=True)
class TaskDrawing:
    """One picture before it is drawn, and what is told below it."""

    says: str
    result: tuple[str, ...]
    mesh: SurfaceMesh
    camera: Camera
    more: dict[str, Any]

    @property
    def key(self) -> str:
        """Of all that the picture is made from."""
        told = [self.says, WIDE_PX, MOST_BYTES, self.camera, self.mesh, self.more]
        return hashlib.sha256(json.dumps(plainly(told)).encode()).hexdigest()[:16]


def drawn_now() -> Iterator[tuple[str, TaskDrawing]]:
    """Every picture of today by its name, ready to be drawn.

    Raises:
        ProjectError: If a task is not sound.
    """
    for task in tasks():
        archive = worked_out(task.name, TASK_HEAD + task.text)
        yield task.name, _drawing(archive, result=tuple(result_of(archive.sheets[0], task)))
    egg = worked_out("egg", starter_text("egg", title="Egg"))
    for number, made in enumerate(_shots(egg), start=1):
        yield f"{EGG}-{number}", made


def worked_out(name: str, text: str) -> Archive:
    """A project's text, worked out."""
    with TemporaryDirectory() as folder:
        (Path(folder) / f"{name}.yml").write_text(text, encoding="utf-8")
        return read_archive(Path(folder), base=Path(folder))


def result_of(sheet: Sheet, task: Task) -> Iterator[str]:
    """What a task comes to: what is found, a few of its values, and the wood after its last step."""
    for finding in sheet.findings:
        yield f"{finding.level.value.capitalize()}: {finding.message}."
    given = {row.name for row in sheet.sizes}
    rows = [row for row in sheet.dimensions if row.main and row.name not in given]
    for row in rows[:_MOST_NAMES]:
        yield f"`{row.name}`: {row.says}, {row.printed}"
    facts = [fact for step in list(sheet.steps)[-1:] if step.stage is not None for fact in step.stage.facts]
    for fact in facts:
        if fact.name in ("web", "weight"):
            yield f"{fact.says}{f' {fact.about}' if fact.about else ''}: {fact.printed}"
    for step in list(sheet.steps)[-1:]:
        if step.limit is not None:
            yield f"Never faster than {step.limit.printed}: {step.limit.because}"
    for fact in sheet.whole.facts if sheet.whole is not None and len(sheet.parts) > 1 else ():
        yield f"{fact.says}: {fact.printed}"
    if "ready sizes" in task.text:
        for ready in sheet.ready:
            high = ", ".join(f"{size.says.lower()} {size.printed}" for size in ready.sheet.sizes)
            yield f"{ready.says}: {high}, with a table and papers of its own"


def _drawing(archive: Archive, *, result: tuple[str, ...]) -> TaskDrawing:
    *_, last = _shots(archive)
    (sheet,) = archive.sheets
    together = archive.session.together.get(sheet.name)
    if together is not None and len(together.parts) > 1 and together.joints:
        last = next(iter(_noted(lambda: picturing.whole_shot(sheet, together, _shop(archive), dark=True))))
    return TaskDrawing(last.says, result, last.mesh, last.camera, last.more)


def _shop(archive: Archive) -> Any:
    return archive.session.solids[archive.sheets[0].name].shop


def _shots(archive: Archive) -> list[TaskDrawing]:
    """What the pictures of a project's steps would be drawn from."""
    (sheet,) = archive.sheets
    solids = archive.session.solids[sheet.name]
    return _noted(lambda: picturing.stage_shots(sheet, solids, dark=True))


def _noted(draw: Any) -> list[TaskDrawing]:
    told: dict[str, TaskDrawing] = {}

    def note(name: str, alt: str, mesh: SurfaceMesh, *, camera: Camera, dark: bool, **more: Any) -> Shot:
        told[name] = TaskDrawing(alt, (), mesh, camera, more)
        return Shot(name, alt, b"", b"", 0, 0, (0, 0, 0, 0))

    with patch.object(picturing, "shot", note):
        draw()
    # Pictures are drawn side by side, and each may come before the other.
    return [told[name] for name in sorted(told, key=_number)]


def _number(name: str) -> int:
    """Of the step that a picture is named by; nought for one of the finished piece."""
    last = name.rpartition("-")[2]
    return int(last) if last.isdecimal() else 0


if __name__ == "__main__":
    pictured = ((name, made, {"result": list(made.result)}) for name, made in drawn_now())
    draw_all(HOME, pictured, anew="--all" in sys.argv[1:])
