"""What is handed on for publishing: files held in memory, and what belongs to one project.

This module owns the frames that the pipeline fills and the outputs read. It
draws nothing and writes nothing; where files end up is for the command or the
site engine to say.
"""

from __future__ import annotations

from dataclasses import dataclass

from handouts_build.figures.figure import Figure
from handouts_build.sheet import Sheet

__all__ = ["Drawing", "Entry", "Output", "Paper"]


@dataclass(frozen=True)
class Output:
    """One file of the site."""

    path: str
    """Path below the site's source, with forward slashes, such as `projects/lantern.md`."""
    content: str | bytes


@dataclass(frozen=True)
class Drawing:
    """One drawing of a project, ready for a page."""

    figure: Figure
    inline: str
    """SVG to set into HTML, its colors following the page's light and dark schemes."""
    path: str
    """Path of its own file, as `Output.path`."""


@dataclass(frozen=True)
class Paper:
    """One printable paper of a project."""

    path: str
    """Path of the PDF, as `Output.path`."""
    title: str
    """What it is, such as `Handout`."""
    size: str
    """Size of sheet, such as `US Letter`."""


@dataclass(frozen=True)
class Entry:
    """One project with everything its page points to."""

    sheet: Sheet
    drawings: tuple[Drawing, ...] = ()
    papers: tuple[Paper, ...] = ()
    data: str = ""
    """Path of its data file; empty when there is none."""
