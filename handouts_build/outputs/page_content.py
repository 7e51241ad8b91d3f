"""One project with everything its page points to.

This module owns the frame that the pipeline fills and the pages read.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from handouts_build.figures.figure import Figure, main_drawing
from handouts_build.figures.shot import PictureSet
from handouts_build.outputs.output import NOWHERE, Address
from handouts_build.sheet import Sheet
from handouts_build.sheet.evening import PublicDemonstration

__all__ = ["PageContent"]


@dataclass(frozen=True)
class PageContent:
    """One project with everything its page points to."""

    sheet: Sheet
    figures: tuple[Figure, ...] = ()
    papers: tuple[str, ...] = ()
    """Paths of its papers, as `Output.path`."""
    data: str = ""
    """Path of its data file; empty when there is none."""
    demonstrations: tuple[PublicDemonstration, ...] = ()
    """Those of the project, newest first, as far as they are public."""
    pictures: PictureSet = field(default_factory=PictureSet)
    """Pictures and models of its solids."""
    at: str = ""
    """The way from the project's page to its own folder, for what is not a link in Markdown."""
    address: Address = NOWHERE
    """Where the archive is published."""
    folder: str = ""
    """The folder of the archive that its file lies in; empty for the archive's own."""
    for_good: bool = False
    """Whether its pages are kept for good, with nothing on them that a script would have to work."""

    @property
    def hero(self) -> Figure | None:
        """The drawing that stands for the piece; of one with neither solid nor profile its first, if it has any."""
        return main_drawing(self.figures) or next(iter(self.figures), None)
