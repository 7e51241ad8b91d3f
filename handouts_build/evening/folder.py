"""The private folder of a demonstration: everything its demonstrator takes along.

This module owns which files are in it. None of them goes to the site: the folder is
written where the demonstrator says.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from handouts_build.disk.clock import now
from handouts_build.figures.shot import Shot
from handouts_build.problems import ProjectError
from handouts_build.records.showings import DEMONSTRATIONS, Records, legs_of
from handouts_build.sheet.evening import Demonstration
from handouts_build.site.build import Archive, pictures
from handouts_build.site.summary import Evening

if TYPE_CHECKING:
    from handouts_build.outputs.evening.calendar import Event

__all__ = ["beside", "evening_files", "stale", "step_shots"]


def step_shots(archive: Archive) -> Mapping[int, Shot]:
    """The pictures of the steps of an archive's first project, from the cache where they are there."""
    return pictures(archive, 0).shots


def beside(shown: Demonstration, records: Records) -> Demonstration:
    """The same, with what other demonstrations of its archive run at the same time.

    Args:
        shown: The demonstration, worked out.
        records: Of its project, for where the archive lies.
    """
    own = Evening(shown.file, shown.sheet.title, shown.starts.isoformat(), shown.plan.ends.isoformat())
    found = (own.overlap(other) for other in _others(records.home.parent, shown))
    return replace(shown, findings=(*shown.findings, *(one for one in found if one is not None)))


def _others(projects: Path, shown: Demonstration) -> Iterator[Evening]:
    """The other demonstrations that are announced, from their files alone: their projects are not worked out."""
    from handouts_build.compute.evening.moments import MomentFault, instant, later
    from handouts_build.schema import load_demonstration

    for path in sorted(projects.glob(f"*/{DEMONSTRATIONS}/*.y*ml")):
        home = path.parent.parent.name
        if (home, path.stem) == (shown.sheet.name, shown.name):
            continue
        try:
            asked, _ = load_demonstration(path, path.as_posix())
            starts = instant(asked.date, asked.start, asked.zone, asked.which)
        except (ProjectError, MomentFault):
            # What is wrong with it is told where it is looked at.
            continue
        if asked.afterwards is None and asked.cancelled is None:
            ends = later(starts, float(asked.slot.magnitude))
            yield Evening(path.as_posix(), f"{home} at {asked.club}", starts.isoformat(), ends.isoformat())


def evening_files(
    shown: Demonstration,
    records: Records,
    shots: Mapping[int, Shot] = MappingProxyType({}),
    *,
    folder: Path | None = None,
    at: datetime | None = None,
) -> dict[str, bytes]:
    """The files of one demonstration, by name.

    Args:
        shown: The demonstration, worked out.
        records: Of its project, for the stopwatch.
        shots: Pictures of the solid, by the number of the step.
        folder: Where they are written: a calendar file that is there and says the same is kept.
        at: When; now if not given.
    """
    from handouts_build.figures.cutting_plan import cutting_figure
    from handouts_build.outputs.evening.calendar import calendar
    from handouts_build.outputs.evening.pages import run_sheet_page, run_sheet_to_share, stopwatch_page
    from handouts_build.outputs.evening.papers import evening_papers

    cutting = cutting_figure(shown.stock)
    uid = _uid(records, shown.name)
    there = _calendars(folder, uid=uid) if folder else {}
    before = max(there.values(), key=lambda one: one.sequence, default=None)
    made = {
        **evening_papers(shown, cutting, shots),
        "run-sheet.html": run_sheet_page(shown, cutting, shots).encode(),
        **run_sheet_to_share(shown, shots),
        "stopwatch.html": stopwatch_page(shown.sheet, legs_of(records, shown.name), name=shown.name).encode(),
        f"{shown.name}.ics": calendar(shown, uid=uid, now=at or now(), before=before),
    }
    # Two pieces may share an evening and its folder.
    return {f"{shown.sheet.name}-{name}": content for name, content in made.items()}


def stale(folder: Path, records: Records) -> tuple[Path, ...]:
    """The calendar files that were written here for demonstrations that are on another day now, or gone.

    Args:
        folder: Where private files are written.
        records: Of the project.

    Returns:
        Nothing but what this tool wrote for this project.
    """
    return tuple(
        path
        for path, event in _calendars(folder).items()
        if path.stem.removeprefix(f"{records.sheet.name}-") not in records.names
        and event.uid.startswith(f"{records.sheet.name}.")
    )


def _uid(records: Records, name: str) -> str:
    return f"{records.lasting_name(name)}@handouts-build"


def _calendars(folder: Path, *, uid: str = "") -> dict[Path, Event]:
    """The calendar files of ours in a folder; with `uid` only those of that event."""
    from handouts_build.outputs.evening.calendar import read_event

    paths = sorted(folder.glob("*.ics")) if folder.is_dir() else ()
    found = {path: read_event(path.read_bytes()) for path in paths if path.is_file()}
    return {path: event for path, event in found.items() if event is not None and uid in ("", event.uid)}
