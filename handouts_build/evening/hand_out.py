"""Papers frozen as they are handed out.

This module owns the act: attendee papers and the sheet's data, with checksums, in a
folder that is written once. The project may move on; what people took home stays.
"""

from __future__ import annotations

from pathlib import Path

from handouts_build.disk.files import FolderWriter
from handouts_build.outputs.output import Address
from handouts_build.paper import files_of
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.records.frozen import DATA, SUMS, sums
from handouts_build.records.own_papers import enter
from handouts_build.records.showings import HANDED_OUT, Records
from handouts_build.site.build import Archive, paper_files

__all__ = ["hand_out"]


def hand_out(archive: Archive, wanted: str, *, address: Address) -> Path:
    """Freeze the papers of a demonstration.

    Args:
        archive: Of the one project.
        wanted: The demonstration's date or name.
        address: Where the archive is published, for the QR code.

    Returns:
        The folder.

    Raises:
        ProjectError: If there is no such demonstration, its papers were handed out before, or another
            process is handing them out.
    """
    (records,) = archive.records
    name = records.find(wanted)
    folder = records.home / HANDED_OUT / name
    # One at a time: papers of two at once would be frozen as a mixture.
    with FolderWriter(folder) as writer:
        if records.handed_out(name) or folder.exists():
            raise _already(folder)
        files = _frozen(archive, records, name, address)
        # The list first: broken off here it names papers that are not there, which hurts nobody.
        enter(folder, files[SUMS])
        writer.put(files)
    return folder


def _already(folder: Path) -> ProjectError:
    return ProjectError(
        [
            Problem(
                Place(folder.as_posix()),
                "the papers of this demonstration have been handed out already, and are kept as they are",
                "if nobody has them yet, delete the folder and hand out again",
            )
        ]
    )


def _frozen(archive: Archive, records: Records, name: str, address: Address) -> dict[str, bytes]:
    """The files of the folder: papers, data and checksums, by name."""
    from handouts_build.outputs.data import sheet_json

    paper = records.paper(name)
    (made,) = paper_files(archive, address=address, sizes=(paper,), handed=records.occasion(name)).values()
    # What people are given is the piece as it is shown; papers of other sizes stay on its page.
    given = {file for _, file in files_of(records.sheet.name, paper)}
    files = {file: content for file, content in made.items() if file in given}
    files[DATA] = sheet_json(records.sheet).encode()
    files[SUMS] = sums(files).encode()
    return files
