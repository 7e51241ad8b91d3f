"""Plans as they were printed, beside a project: found again by what calendars know the evening by.

This module owns where they lie and what is written there. An evening's file may be
renamed and its date changed: what was printed for it is found by the `calendar id` in
it, which is written once.
"""

from __future__ import annotations

import json
import os
import secrets
import tempfile
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from handouts_build.disk.folders import PLANS
from handouts_build.disk.reading import read_plain
from handouts_build.problems import Place, Problem, ProjectError

if TYPE_CHECKING:
    from handouts_build.schema import FrozenPlanKeys

__all__ = ["new_id", "plan_text", "read_plans", "with_id"]

_KEY = "calendar id"


def new_id() -> str:
    """What calendars will know an evening by (RFC 7986, 5.3: no name, day or host stands in it)."""
    return secrets.token_hex(8)


def read_plans(home: Path, shown: str, wanted: Iterable[str]) -> tuple[dict[str, FrozenPlanKeys], list[Problem]]:
    """The plans that were printed, by calendar id, and what is wrong with the others.

    Args:
        home: The project's own folder.
        shown: How messages name it.
        wanted: The calendar ids of the demonstrations there are; plans of others are left alone.
    """
    from handouts_build.schema import FrozenPlanKeys, load_file

    found: dict[str, FrozenPlanKeys] = {}
    problems: list[Problem] = []
    for calendar_id in wanted:
        path = home / PLANS / f"{calendar_id}.yml"
        if os.path.lexists(path):
            try:
                found[calendar_id] = load_file(FrozenPlanKeys, path, f"{shown}/{PLANS}/{path.name}")[0]
            except ProjectError as error:
                problems += error.problems
    return found, problems


def plan_text(plan: FrozenPlanKeys) -> bytes:
    """A plan as its file has it."""
    said = plan.model_dump(by_alias=True)
    steps = said.pop("steps")
    lines = ["# Written by the command 'evening' when the run sheet was printed. It is kept so that all say the same."]
    lines += [f"{key}: {json.dumps(value, ensure_ascii=False)}" for key, value in said.items()]
    lines.append("steps:" if steps else "steps: []")
    lines += [f"  - {{{_flow(step)}}}" for step in steps]
    return ("\n".join(lines) + "\n").encode()


def _flow(step: Mapping[str, object]) -> str:
    return ", ".join(f"{key}: {json.dumps(value, ensure_ascii=False)}" for key, value in step.items())


def with_id(path: Path, calendar_id: str) -> bytes:
    """A demonstration's file with its calendar id added at the end.

    Args:
        path: The file.
        calendar_id: What calendars are to know it by.

    Raises:
        ProjectError: If the file is written in a form that no line can be added to.
    """
    from handouts_build.schema.reader import LARGEST, read_document

    text = read_plain(path, most_bytes=LARGEST).decode("utf-8-sig")
    line = f'{_KEY}: "{calendar_id}"'
    made = f"{text.rstrip()}\n{line}\n".encode()
    with tempfile.TemporaryDirectory() as folder:
        tried = Path(folder) / path.name
        tried.write_bytes(made)
        try:
            sound = read_document(tried, path.name).values == {
                **read_document(path, path.name).values,
                _KEY: calendar_id,
            }
        except ProjectError:
            sound = False
    if not sound:
        raise ProjectError(
            [Problem(Place(path.as_posix()), "the evening's calendar id cannot be added to this file", f"add: {line}")]
        )
    return made
