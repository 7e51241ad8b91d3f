"""What was filled in where a project file does not say it, told to whoever writes the file.

This module owns the comparison of a file as it is written with what is made of it, and nothing of the rules: those
are in `unsaid`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from handouts_build.schema.load import load_file, written_in
from handouts_build.schema.models import PartKeys, ProjectKeys, StepKeys
from handouts_build.schema.unsaid import RULES, filled
from handouts_build.workpiece import TextureTool

__all__ = ["FilledIn", "filled_in"]

_TEXTURING = frozenset(tool.value for tool in TextureTool)


@dataclass(frozen=True)
class FilledIn:
    """One thing that the file does not say and that is taken for granted."""

    where: str
    """`part/step` by its number, the name of a part or a profile, or empty for the piece."""
    key: str
    what: str
    why: str
    """Where it comes from."""


def filled_in(path: Path, shown: str) -> tuple[FilledIn, ...]:
    """What was filled in of a project file, in the order of the file.

    Args:
        path: The file.
        shown: How messages name it.

    Raises:
        ProjectError: With every problem of form.
    """
    written, document = load_file(ProjectKeys, path, shown)
    found = []
    if written.measure is None and (written.parts or written.sizes):
        found.append(FilledIn("", "measure", written_in(document.values), "what most of its lengths are written in"))
    return (*found, *_compared(written, filled(written)))


def _compared(written: ProjectKeys, whole: ProjectKeys) -> Iterator[FilledIn]:
    if "piece" not in written.model_fields_set and whole.piece:
        yield FilledIn("", "piece", ", ".join(whole.piece), _why("piece"))
    for name, profile in whole.profiles.items():
        if written.profiles[name].says is None:
            yield FilledIn(name, "says", profile.says or "", "from the name of its part")
    for name, part in whole.parts.items():
        yield from _part(name, written.parts[name], part)
    supplies = _more(written.supplies, whole.supplies)
    if supplies:
        yield FilledIn("", "supplies", ", ".join(supplies), _why("supplies"))


def _part(name: str, written: PartKeys, whole: PartKeys) -> Iterator[FilledIn]:
    if written.says is None:
        yield FilledIn(name, "says", whole.says or "", "from its name")
    for number, (before, now) in enumerate(zip(written.steps, whole.steps, strict=True), 1):
        yield from _step(f"{name}/{number}", before, now)


def _step(where: str, before: StepKeys, now: StepKeys) -> Iterator[FilledIn]:
    if before.hold is None and now.hold is not None:
        yield FilledIn(where, "hold", now.hold.says or ", ".join(now.hold.by), _why("hold"))
    elif before.hold is not None and now.hold is not None and before.hold.tailstock != now.hold.tailstock:
        yield FilledIn(where, "tailstock", "true", _why("tailstock"))
    if drawings := _more(before.drawings, now.drawings):
        yield FilledIn(where, "drawings", ", ".join(drawings), _why("drawings"))
    for tool in _more(before.tools, now.tools):
        yield FilledIn(where, "tools", tool, _why_a_tool(tool))
    if abrasive := _more(before.abrasive, now.abrasive):
        yield FilledIn(where, "abrasive", ", ".join(abrasive), _why("abrasive"))
    if work := _more(before.work, now.work):
        why = dict.fromkeys(_why("work", word) for word in work)
        yield FilledIn(where, "work", ", ".join(work), "; ".join(why))


def _why_a_tool(tool: str) -> str:
    if tool.casefold().startswith("abrasives"):
        return "from the grit sequence or the finish"
    return "from its texture" if tool in _TEXTURING else "from its cuts"


def _more(before: Iterable[str], now: Iterable[str]) -> Sequence[str]:
    """What is there now and was not before."""
    had = set(before)
    return [item for item in now if item not in had]


def _why(key: str, word: str = "") -> str:
    """Where a rule has it from."""
    return next(rule.why for rule in RULES if rule.key == key and rule.word == word)
