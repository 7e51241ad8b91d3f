"""One project looked at: its file as it stands, what is wrong with it or found, and what it last came to.

This module owns what the bench says of a file and of a step, as plain values for JSON. A file that cannot be worked
out keeps what it last came to. Nothing is written here.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from handouts_build.disk.cache import Cache, user_folder
from handouts_build.disk.reading import read_plain
from handouts_build.problems import HandoutsError, Place, Problem, ProjectError
from handouts_build.schema import LARGEST, Document, parse_document
from handouts_build.sheet import Finding, Paragraph, Sheet, Step
from handouts_build.site.accepting import with_acceptance
from handouts_build.site.build import read_projects
from handouts_build.site.gathering import called
from handouts_build.site.known_names import known_names, names_at_step
from handouts_build.site.mending import mended_text

if TYPE_CHECKING:
    from handouts_build.bench.solids import StepSolid
    from handouts_build.site.build import Archive

__all__ = ["Looker", "ProjectLook", "said_of"]

_FRESH = 64
"""Looks after which what was held of earlier ones is let go."""
_REASON = "why it may stay"


@dataclass(frozen=True)
class _Span:
    """Where a step stands in the file: lines counted from 1, both within it."""

    first: int
    last: int


@dataclass(frozen=True)
class ProjectLook:
    """A project's file as it was last looked at."""

    path: Path
    shown: str
    """As messages name it."""
    text: str = ""
    problems: tuple[Problem, ...] = ()
    archive: Archive | None = None
    """What the file last came to; None where it never came to anything."""
    spans: Mapping[int, _Span] | None = None
    """Where each step stands, by its number; None where the file cannot be read."""
    changed: int = 0
    """The first line that differs from the look before, from 1; nought where none does."""

    @property
    def broken(self) -> bool:
        """Whether the file as it stands cannot be worked out."""
        return bool(self.problems)

    @property
    def sheet(self) -> Sheet | None:
        """What the file last came to."""
        return self.archive.sheets[0] if self.archive is not None else None

    def step_of(self, line: int) -> int:
        """The number of the step that a line belongs to; nought where it belongs to none."""
        spans = self.spans or {}
        return next((number for number, span in spans.items() if span.first <= line <= span.last), 0)


class Looker:
    """Looks at project files, one at a time."""

    def __init__(self, base: Path) -> None:
        self.base = base
        self._cache, self._looks = Cache(user_folder()), 0

    def look(self, path: Path, before: ProjectLook | None = None) -> ProjectLook:
        """A project's file as it stands now.

        Args:
            path: The file.
            before: The look before, for what stays where the file is broken.
        """
        self._looks += 1
        if self._looks % _FRESH == 0:
            self._cache = Cache(user_folder())
        shown = called(path, self.base)
        kept = before or ProjectLook(path, shown)
        try:
            text = read_plain(path, most_bytes=LARGEST).decode("utf-8", errors="replace")
        except OSError as error:
            return replace(kept, problems=(_gone(shown, error),), changed=0)
        now = replace(kept, text=text, problems=(), changed=_first_change(kept.text, text) if before else 0)
        try:
            archive = read_projects((path,), base=self.base, cache=self._cache, whole_runs=False)
        except ProjectError as error:
            return replace(now, problems=error.problems, spans=_spans(text, kept.sheet) or kept.spans)
        except Exception as error:
            # Whoever writes keeps what there was, and goes on.
            return replace(now, problems=(_fault(shown, error),), spans=_spans(text, kept.sheet) or kept.spans)
        # A later look that fails half way has carried some of its own solids: these stay for what is shown then.
        archive = replace(archive, session=archive.session.as_it_is())
        return replace(now, archive=archive, spans=_spans(text, archive.sheets[0]))


def _fault(shown: str, error: Exception) -> Problem:
    message = f"handouts has a fault of its own: {type(error).__name__}: {error}"
    return Problem(Place(shown), message, "please report it with this file")


def _gone(shown: str, error: OSError) -> Problem:
    return Problem(Place(shown), f"this file cannot be read: {error.strerror or 'it is gone'}")


def _first_change(before: str, after: str) -> int:
    """The first line of the later text that is not as it was, from 1; nought where both are alike."""
    rows, others = before.splitlines(), after.splitlines()
    for number, (row, other) in enumerate(zip(rows, others, strict=False), start=1):
        if row != other:
            return number
    return min(len(rows), len(others) - 1) + 1 if len(rows) != len(others) else 0


def _spans(text: str, sheet: Sheet | None) -> dict[int, _Span] | None:
    """Where each step stands."""
    try:
        document = parse_document(text, "")
    except ProjectError:
        return None
    if sheet is None:
        return {}
    found: dict[int, _Span] = {}
    lines = text.split("\n")
    for part in sheet.every_part:
        for index, step in enumerate(part.steps):
            span = _span(document, lines, part.name, index)
            if span is not None:
                found[step.number] = span
    return found


def _span(document: Document, lines: list[str], part: str, index: int) -> _Span | None:
    try:
        (first, _), (last, _) = document.span(("parts", part, "steps", index))
    except KeyError:
        return None
    in_braces = lines[first].lstrip(" -").startswith("{")
    # Written in lines of its own, it ends where the next thing begins.
    last = min(last if in_braces else last - 1, len(lines) - 1)
    # What stands between two steps in lines of its own belongs to the next.
    while last > first and (not lines[last].strip() or lines[last].lstrip().startswith("#")):
        last -= 1
    return _Span(first + 1, max(first, last) + 1)


# ---- As plain values ----


def said_of(looked: ProjectLook, wanted: int) -> dict[str, Any]:
    """What the bench shows of a project, as plain values.

    Args:
        looked: The project.
        wanted: The number of the step; the nearest there is if there is none of that number.
    """
    sheet = looked.sheet
    steps = list(sheet.every_step) if sheet is not None else []
    step = min(steps, key=lambda known: abs(known.number - wanted), default=None)
    said: dict[str, Any] = {
        "project": looked.path.stem,
        "file": looked.shown,
        "title": sheet.title if sheet is not None else looked.path.stem,
        "broken": looked.broken,
        "lines": looked.text.splitlines(),
        "changed": looked.changed,
        "notes": list(_notes(looked)),
        "steps": [_listed(looked, known) for known in steps],
        "step": None,
        "solid": None,
        "names": [],
    }
    if sheet is None or looked.archive is None:
        return said
    names = known_names(sheet)
    if step is not None:
        said["step"] = _told(sheet, step)
        solid, refused = _solid(looked.archive, sheet, step)
        if solid is not None:
            said["solid"] = {
                "packed": solid.packed, "changed": solid.changed, "dimensions": list(solid.dimensions),
                "cuts": list(solid.cuts),
            }  # fmt: skip
        said["refused"] = refused
        part = next(part for part in sheet.every_part if part.name == step.part)
        if solid is not None:
            names = {**names_at_step(looked.archive, f"{part.name}/{part.steps.index(step) + 1}"), **names}
    said["names"] = [
        {
            "title": title,
            "rows": [{"name": row.name, "lead": row.lead, "other": row.other, "says": row.says} for row in rows],
        }
        for title, rows in names.items()
        if rows
    ]
    return said


def _solid(archive: Archive, sheet: Sheet, step: Step) -> tuple[StepSolid | None, str]:
    """A step's wood, and why it cannot be shown."""
    from handouts_build.bench.solids import step_solid
    from handouts_build.workpiece import WorkpieceFault

    solids = archive.session.solids.get(sheet.name)
    if solids is None:
        return None, ""
    part = next(part for part in sheet.every_part if part.name == step.part)
    try:
        return step_solid(sheet, solids, part, step), ""
    except (WorkpieceFault, HandoutsError) as fault:
        return None, str(fault)


def _listed(looked: ProjectLook, step: Step) -> dict[str, Any]:
    span = (looked.spans or {}).get(step.number)
    return {
        "number": step.number,
        "name": step.name,
        "part": step.part,
        "first": span.first if span else 0,
        "last": span.last if span else 0,
    }


def _told(sheet: Sheet, step: Step) -> dict[str, Any]:
    """A step in words and numbers."""
    part = next(part for part in sheet.every_part if part.name == step.part)
    return {
        "number": step.number,
        "name": step.name,
        "part": part.title if len(sheet.every_part) > 1 else "",
        "hold": step.hold,
        "speed": step.speed,
        "limit": f"{step.limit.printed}: {step.limit.because}" if step.limit is not None else "",
        "say": [_plain(paragraph) for paragraph in step.say],
        "facts": [
            {"says": fact.says, "printed": str(fact.printed), "about": fact.about}
            for fact in (step.stage.facts if step.stage is not None else ())
        ],
        "cautions": [f"{box.signal.capitalize()}: {box.title}" for box in step.boxes],
    }


def _plain(paragraph: Paragraph) -> str:
    return "".join(run.text for run in paragraph)


def _notes(looked: ProjectLook) -> Iterator[dict[str, Any]]:
    """Problems, or else findings, each at its line with what would put it right."""
    for problem in looked.problems:
        after = mended_text(looked.text, [problem]) if problem.place.file == looked.shown else looked.text
        yield {
            "level": "problem",
            "line": problem.place.line if problem.place.file == looked.shown else 0,
            "place": str(problem.place),
            "about": "",
            "message": problem.message,
            "remedy": problem.hint,
            "step": looked.step_of(problem.place.line),
            "changes": list(_changes(looked.text, after)),
        }
    if looked.broken or looked.sheet is None:
        return
    for finding in looked.sheet.findings:
        yield {
            "level": finding.level.value,
            "line": finding.place.line if finding.place.file == looked.shown else 0,
            "place": str(finding.place),
            "about": finding.about,
            "message": finding.message,
            "remedy": "; ".join(said for said in (finding.remedy, finding.advice) if said),
            "step": looked.step_of(finding.place.line),
            "changes": list(_changes(looked.text, _accepted(looked.text, finding))),
        }


def _accepted(text: str, finding: Finding) -> str:
    return with_acceptance(text, finding.acceptance, _REASON) if finding.acceptance is not None else text


def _changes(before: str, after: str) -> Iterator[dict[str, Any]]:
    """What a remedy would change, line by line."""
    rows, others = before.splitlines(), after.splitlines()
    for kind, first, last, start, end in difflib.SequenceMatcher(None, rows, others, autojunk=False).get_opcodes():
        if kind != "equal":
            yield {"line": first + 1, "old": rows[first:last], "new": others[start:end]}
