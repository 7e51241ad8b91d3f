"""Wood on hand across evenings: which sticks the demonstrations before this one saw into.

This module owns whose turn it is: by day, then by the project's name. One that is past, was held or is cancelled
has no wood. Only projects that are shown before it are worked out, and only when an evening is printed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from handouts_build.disk.clock import today
from handouts_build.disk.folders import archive_of, demonstration_files
from handouts_build.records.showings import Records
from handouts_build.sheet.evening import TakenStick
from handouts_build.site.build import Archive, read_what_can_be
from handouts_build.site.gathering import project_files

__all__ = ["sticks_taken"]


def sticks_taken(archive: Archive, name: str, *, base: Path) -> tuple[TakenStick, ...]:
    """The sticks that demonstrations before one saw into, those of other projects of the same archive too.

    Args:
        archive: The project of that demonstration, alone.
        name: The demonstration.
        base: Folder that messages name files from.

    Returns:
        Sticks, in the order of the evenings; none of a project that cannot be worked out, which is told where
        it is looked at.
    """
    (ours,) = archive.records
    if name not in ours.announced(today()):
        # What is over has been sawn, and what is cancelled is not.
        return ()
    all_of_them = project_files(archive_of(ours.home.parent))
    earlier = tuple(path for path in all_of_them if _is_shown_before(path, name, ours.sheet.name))
    others, _ = read_what_can_be(earlier, base=base, cache=archive.cache)
    turns = sorted(
        (evening[:10], records.sheet.name, evening, records)
        for records in (ours, *others.records)
        for evening in records.announced(today())
    )
    taken: list[TakenStick] = []
    for day, project, evening, records in turns:
        if (day, project, evening) >= (name[:10], ours.sheet.name, name):
            break
        taken += _sawn_for(records, evening, taken)
    return tuple(taken)


def _sawn_for(records: Records, evening: str, taken: list[TakenStick]) -> Iterator[TakenStick]:
    """The sticks that a demonstration saws into, once those before it have theirs."""
    shown = records.demonstration(evening, taken=tuple(taken))
    occasion = f"{shown.sheet.title} at {records.occasion(evening)}"
    for stick, count in Counter(cut.stick for cut in shown.stock.cuts).items():
        yield TakenStick(stick, count, occasion)


def _is_shown_before(path: Path, name: str, project: str) -> bool:
    """Whether a project has a demonstration to come before this one, as far as the names of its files say."""
    day = today().isoformat()
    return path.stem != project and any(
        day <= file.name[:10] and (file.name[:10], path.stem) < (name[:10], project)
        for file in demonstration_files(path)
    )
