"""The private folder of a demonstration: everything its demonstrator takes along.

This module owns which files are in it. None of them goes to the site: the folder is
written where the demonstrator says.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handouts_build.build import Archive, pictures
from handouts_build.demonstration import Demonstration
from handouts_build.figures.shot import Shot
from handouts_build.records import Records, legs_of

__all__ = ["evening_files", "step_shots"]


def step_shots(archive: Archive) -> Mapping[int, Shot]:
    """The pictures of the steps of an archive's first project, from the cache where they are there."""
    return pictures(archive, 0).shots


def evening_files(
    shown: Demonstration, records: Records, shots: Mapping[int, Shot] = MappingProxyType({})
) -> dict[str, bytes]:
    """The files of one demonstration, by name.

    Args:
        shown: The demonstration, worked out.
        records: Of its project, for the stopwatch.
        shots: Pictures of the solid, by the number of the step.
    """
    from handouts_build.figures.cutting import cutting_figure
    from handouts_build.outputs.calendar import calendar
    from handouts_build.outputs.evening_pages import run_sheet_page, stopwatch_page
    from handouts_build.outputs.evening_papers import evening_papers

    cutting = cutting_figure(shown.stock)
    return {
        **evening_papers(shown, cutting, shots),
        "run-sheet.html": run_sheet_page(shown, cutting, shots).encode(),
        "stopwatch.html": stopwatch_page(shown.sheet, legs_of(records, shown.name), name=shown.name).encode(),
        f"{shown.name}.ics": calendar(shown),
    }
