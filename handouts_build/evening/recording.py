"""The chapters of a demonstration that was recorded, from the stopwatch's run of it.

This module owns which run they are taken from, and what their files are called.
"""

from __future__ import annotations

from handouts_build.outputs.evening.recorded_chapters import chapter_file, time_list
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.records.runs import recorded_chapters
from handouts_build.records.showings import Records

__all__ = ["recording_chapters"]


def recording_chapters(records: Records, wanted: str, *, watch_started: int = 0) -> dict[str, bytes]:
    """The chapters of a demonstration, from the last run that was timed of it.

    Args:
        records: Of the project.
        wanted: The demonstration's date or name.
        watch_started: Second of the recording at which the watch was started; negative where it was started earlier.

    Returns:
        Files by name: the chapter file and the list of times.

    Raises:
        ProjectError: If there is no such demonstration, it was not timed, or nothing of its run was recorded.
    """
    name = records.find(wanted)
    timed = [(path, run) for path, run in records.recorded.of(records.called(name)) if run.times]
    if not timed:
        raise ProjectError(
            [
                Problem(
                    Place(records.path(name).as_posix()),
                    "this demonstration was not timed, so that nothing says when its steps began",
                    f"time the demonstration itself with 'handouts dry-run {records.home.name} --for {name[:10]} "
                    f"--demonstration', or take in the run of the stopwatch page with '--import'",
                )
            ]
        )
    path, run = timed[-1]
    chapters = recorded_chapters(run, watch_started=watch_started)
    if not chapters:
        raise ProjectError(
            [
                Problem(
                    Place(path.as_posix()),
                    "the recording would have been started after the run had ended",
                    "give the place in the recording at which the watch was started, such as --watch-started 4:10",
                )
            ]
        )
    stem = f"{records.home.name}-{name}"
    return {f"{stem}-chapters.vtt": chapter_file(chapters), f"{stem}-chapters.txt": time_list(chapters)}
