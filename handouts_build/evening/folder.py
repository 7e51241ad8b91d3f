"""The private folder of a demonstration: everything its demonstrator takes along.

This module owns which files are in it. None of them goes to the site: the folder is
written where the demonstrator says.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from handouts_build.disk.clock import now
from handouts_build.disk.folders import PLANS, demonstrations_of_all
from handouts_build.disk.privacy import is_ours
from handouts_build.figures.shot import Shot
from handouts_build.outputs.output import NOWHERE, Address
from handouts_build.paper import EVENING, SHARED_RUN_SHEET, SIZES
from handouts_build.problems import ProjectError
from handouts_build.records.plans import new_id, plan_text, with_id
from handouts_build.records.showings import EVENING_NAME, Records, plan_legs
from handouts_build.sheet.evening import Demonstration, TakenStick
from handouts_build.site.build import Archive, pictures
from handouts_build.site.summary import Evening

if TYPE_CHECKING:
    from handouts_build.outputs.evening.calendar import Revision
    from handouts_build.schema import FrozenPlanKeys

__all__ = ["Kit", "beside", "evening_kit", "stale", "step_shots"]

_KINDS = (
    rf"(?:{'|'.join((*EVENING, SHARED_RUN_SHEET.name))})-(?:{'|'.join(SIZES)})\.pdf",
    r"(?:run-sheet|run-sheet-to-share|stopwatch)\.html",
    r"calendar\.ics",
)
"""The files of a private folder, as their names end."""


def step_shots(archive: Archive) -> Mapping[int, Shot]:
    """The pictures of the steps of an archive's first project, from the cache where they are there."""
    return pictures(archive, 0).shots


def beside(demonstration: Demonstration, records: Records) -> Demonstration:
    """The same, with what other demonstrations of its archive run at the same time.

    Args:
        demonstration: The demonstration, worked out.
        records: Of its project, for where the archive lies.
    """
    from handouts_build.compute.evening.packing import packed_with

    for other in _same_evening(records.home.parent, demonstration):
        demonstration = replace(
            demonstration, packing=packed_with(demonstration.packing, (demonstration.how, other.how), other.title)
        )
    own = Evening(
        demonstration.file,
        demonstration.sheet.title,
        demonstration.starts.isoformat(),
        demonstration.plan.ends.isoformat(),
    )
    found = (own.overlap(other) for other in _others(records.home.parent, demonstration))
    return replace(demonstration, findings=(*demonstration.findings, *(name for name in found if name is not None)))


@dataclass(frozen=True)
class _Other:
    """Another piece of the same evening, shown before."""

    title: str
    how: str


def _same_evening(projects: Path, demonstration: Demonstration) -> tuple[_Other, ...]:
    """The piece that is shown first on the same day at the same club; none where that is this one."""
    from handouts_build.schema import DemonstrationKeys, load_file

    first: tuple[tuple[str, str], _Other] | None = None
    for path in demonstrations_of_all(projects):
        if not path.name.startswith(f"{demonstration.name[:10]}-"):
            continue
        try:
            asked, _ = load_file(DemonstrationKeys, path, path.as_posix())
        except ProjectError:
            continue
        if asked.cancelled is None and asked.club.casefold() == demonstration.club.casefold():
            home = path.parent.parent.name
            order = (f"{asked.start:%H:%M}", home)
            if first is None or order < first[0]:
                first = (order, _Other(home, asked.how))
    return () if first is None or first[0][1] == demonstration.sheet.name else (first[1],)


def _others(projects: Path, demonstration: Demonstration) -> Iterator[Evening]:
    """The other demonstrations that are announced, from their files alone: their projects are not worked out."""
    from handouts_build.compute.evening.moments import MomentFault, instant, later
    from handouts_build.schema import DemonstrationKeys, load_file

    for path in demonstrations_of_all(projects):
        home = path.parent.parent.name
        if (home, path.stem) == (demonstration.sheet.name, demonstration.name):
            continue
        try:
            asked, _ = load_file(DemonstrationKeys, path, path.as_posix())
            starts = instant(asked.date, asked.start, asked.zone, asked.which)
        except (ProjectError, MomentFault):
            # What is wrong with it is told where it is looked at.
            continue
        if asked.afterwards is None and asked.cancelled is None:
            ends = later(starts, float(asked.slot.magnitude))
            yield Evening(path.as_posix(), f"{home} at {asked.club}", starts.isoformat(), ends.isoformat())


@dataclass(frozen=True)
class Kit:
    """All that is written when an evening is printed."""

    demonstration: Demonstration
    files: Mapping[str, bytes]
    """For the private folder, by name."""
    kept: Mapping[Path, bytes]
    """Beside the project: what the evening is known by, and its plan."""


def evening_kit(
    records: Records,
    name: str,
    shots: Mapping[int, Shot] = MappingProxyType({}),
    *,
    address: Address = NOWHERE,
    at: datetime | None = None,
    taken: Sequence[TakenStick] = (),
) -> Kit:
    """Print an evening: its plan is made from what is known now, and frozen, unless the evening was begun or held.

    Args:
        records: Of its project.
        name: The demonstration.
        shots: Pictures of the solid, by the number of the step.
        address: Where the archive is published.
        at: When; now if not given.
        taken: Sticks on hand that earlier demonstrations saw into.

    Raises:
        ProjectError: If the demonstration's file does not hold together.
    """
    from handouts_build.figures.cutting_plan import cutting_figure
    from handouts_build.outputs.evening.calendar import Revision, calendar
    from handouts_build.outputs.evening.pages import run_sheet_page, run_sheet_to_share, stopwatch_page
    from handouts_build.outputs.evening.papers import evening_papers

    when = at or now()
    before = records.printed(name)
    keeps = before is not None and records.begun(name)
    demonstration = beside(records.demonstration(name, afresh=not keeps, taken=taken), records)
    if not demonstration.plan.printed:
        demonstration = replace(demonstration, plan=replace(demonstration.plan, printed=_iso(when)))
    calendar_id = records.calendar_id(name) or new_id()
    revised = (
        Revision(before.sequence, datetime.fromisoformat(before.revised), before.says, tuple(before.events))
        if before
        else None
    )
    page = address.page(demonstration.sheet)
    ics, revision = calendar(demonstration, calendar_id=calendar_id, now=when, before=revised, page=page)
    cutting = cutting_figure(demonstration.stock)
    made = {
        **evening_papers(demonstration, cutting, shots),
        "run-sheet.html": run_sheet_page(demonstration, cutting, shots).encode(),
        **run_sheet_to_share(demonstration, shots),
        "stopwatch.html": stopwatch_page(
            demonstration.sheet, plan_legs(demonstration.plan), demonstration=demonstration
        ).encode(),
        "calendar.ics": ics,
    }
    kept = {
        records.home / PLANS / f"{calendar_id}.yml": plan_text(
            _frozen(demonstration, revision, formerly=records.called(name)[1:])
        )
    }
    if not records.calendar_id(name):
        kept[records.path(name)] = with_id(records.path(name), calendar_id)
    # Two pieces, and two evenings, may share a folder.
    return Kit(demonstration, {f"{_stem(demonstration)}-{kind}": content for kind, content in made.items()}, kept)


def _stem(demonstration: Demonstration) -> str:
    return f"{demonstration.sheet.name}-{demonstration.name}"


def _iso(when: datetime) -> str:
    return when.astimezone(UTC).isoformat(timespec="seconds")


def _frozen(demonstration: Demonstration, revision: Revision, *, formerly: Sequence[str]) -> FrozenPlanKeys:
    from handouts_build.compute.evening.frozen import frozen_steps
    from handouts_build.schema import FrozenPlanKeys

    return FrozenPlanKeys(
        evening=demonstration.name,
        formerly=list(formerly),
        printed=demonstration.plan.printed,
        asked=demonstration.plan.checksum,
        steps=frozen_steps(demonstration.plan.steps),
        sequence=revision.sequence,
        revised=_iso(revision.revised),
        says=revision.says,
        events=list(revision.events),
    )


def stale(folder: Path, kit: Kit, records: Records) -> tuple[Path, ...]:
    """The files in a folder that were written for this project and hold no longer.

    Those of demonstrations that are on another day now, or gone, and those of this one that are no longer made, such
    as papers of another size.

    Args:
        folder: Where private files are written.
        kit: What is written now.
        records: Of the project.

    Returns:
        Nothing but what this tool wrote for this project, told by its name and its mark.
    """
    named = re.compile(rf"{re.escape(records.sheet.name)}-(?P<evening>{EVENING_NAME})-(?:{'|'.join(_KINDS)})")
    found = []
    for path in sorted(folder.iterdir()) if folder.is_dir() else ():
        match = named.fullmatch(path.name)
        if match is None or path.name in kit.files or not path.is_file() or not is_ours(path):
            continue
        if match["evening"] == kit.demonstration.name or match["evening"] not in records.names:
            found.append(path)
    return tuple(found)
