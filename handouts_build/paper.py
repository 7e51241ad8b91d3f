"""Papers: which there are, what each is called, who it is for, and the sizes it is printed in.

This module owns the one list. Commands, pages, the typesetter, the plugin, the private folder and what is handed out
follow it; what stands on a paper is for `outputs`. It loads nothing, so that the command answers at once.
"""

from __future__ import annotations

import enum
from collections.abc import Iterator
from dataclasses import dataclass

from handouts_build.language import tr, tr_later

__all__ = [
    "CALL",
    "EVENING",
    "PROJECT",
    "SHARED_RUN_SHEET",
    "SIZES",
    "USUAL",
    "WORDS",
    "Form",
    "Paper",
    "PaperSize",
    "Reader",
    "called",
    "files_of",
]


class Form(enum.StrEnum):
    """How a paper is set."""

    PLAIN = ""
    """For most readers, page after page."""
    LARGE_PRINT = "large-print"
    """In letters of 18 points, for who asks."""
    BOOKLET = "booklet"
    """Two pages side by side, in the order in which a folded booklet is printed."""


class Reader(enum.StrEnum):
    """Whom a paper is for."""

    ATTENDEE = "attendee"
    """It is published, and handed out."""
    DEMONSTRATOR = "demonstrator"
    """It holds what is private, and is never published."""
    HELPER = "helper"
    """It may be shared with whoever helps at the demonstration, and is published where the demonstrator says so."""


@dataclass(frozen=True)
class PaperSize:
    """A sheet of paper."""

    name: str
    """As commands and file names have it."""
    title: str
    typst: str
    """As Typst calls it."""
    width: float
    """In mm."""
    height: float
    """In mm."""


# ANSI Y14.1 size A (8 1/2 in by 11 in) and ISO 216 A4.
SIZES = {
    size.name: size
    for size in (
        PaperSize("letter", tr_later("US Letter"), "us-letter", 215.9, 279.4),
        PaperSize("a4", "A4", "a4", 210.0, 297.0),
    )
}


@dataclass(frozen=True)
class Paper:
    """One kind of paper."""

    name: str
    """As file names have it."""
    title: str
    template: str
    """Path of its `.typ` file within `outputs`, without the ending."""
    reader: Reader
    says: str = ""
    """What it is good for."""
    word: str = ""
    """What `papers:` of a shop or project file calls it; empty for one that is not chosen there."""
    usual: bool = False
    """Whether it is made where nothing says which are."""
    forms: tuple[Form, ...] = (Form.PLAIN,)
    """How it can be set."""

    def file(self, size: str, project: str = "", form: Form = Form.PLAIN) -> str:
        """Its file's name, such as `lantern-handout-letter.pdf`.

        Args:
            size: One of `SIZES`.
            project: The project's name; empty for a name without it.
            form: How it is set.
        """
        return "-".join(part for part in (project, self.name, form, f"{size}.pdf") if part)


_PAPERS, _EVENINGS = "papers/templates", "evening/templates"

PROJECT = {
    paper.name: paper
    for paper in (
        Paper(
            "handout", tr_later("Handout"), f"{_PAPERS}/handout", Reader.ATTENDEE,
            tr_later("The piece on one folded sheet: drawing, kit, and every step with its numbers."),
            word="short", usual=True, forms=(Form.PLAIN, Form.LARGE_PRINT, Form.BOOKLET),
        ),
        Paper(
            "dimensions", tr_later("Dimensions sheet"), f"{_PAPERS}/dimensions", Reader.ATTENDEE,
            tr_later("One page to pin up beside the lathe."),
            word="dimensions", usual=True, forms=(Form.PLAIN, Form.LARGE_PRINT),
        ),
        Paper(
            "templates", tr_later("Full-size templates"), f"{_PAPERS}/templates", Reader.ATTENDEE,
            tr_later("To cut out. Print at actual size and measure the bar first."), word="templates", usual=True,
        ),
        Paper(
            "handout-full", tr_later("Full handout"), f"{_PAPERS}/handout-full", Reader.ATTENDEE,
            tr_later("Every caution, drawing and dimension, to read at home."),
            word="full", forms=(Form.PLAIN, Form.BOOKLET),
        ),
        Paper(
            "workings", tr_later("Workings"), f"{_PAPERS}/workings", Reader.ATTENDEE,
            tr_later("How each dimension was found, with its sources."), word="workings",
        ),
    )
}  # fmt: skip
"""The papers of a project, in the order they are offered."""

WORDS = tuple(paper.word for paper in PROJECT.values())
"""What `papers:` may hold."""

USUAL = tuple(paper.word for paper in PROJECT.values() if paper.usual)
"""What is made where nothing says which are; templates only where something in the project yields one."""

EVENING = {
    paper.name: paper
    for paper in (
        Paper("run-sheet", tr_later("Run sheet"), f"{_EVENINGS}/run-sheet", Reader.DEMONSTRATOR),
        Paper("packing-list", tr_later("Packing list"), f"{_EVENINGS}/packing-list", Reader.DEMONSTRATOR),
        Paper("stock-list", tr_later("Stock list"), f"{_EVENINGS}/stock-list", Reader.DEMONSTRATOR),
    )
}
"""The papers of a demonstration."""

SHARED_RUN_SHEET = Paper("run-sheet-to-share", tr_later("Run sheet to share"), f"{_EVENINGS}/run-sheet", Reader.HELPER)
"""The run sheet without what is private."""


CALL = {
    paper.name: paper
    for paper in (
        Paper(
            "labels", tr_later("Labels"), f"{_PAPERS}/call-labels", Reader.HELPER,
            tr_later("A card beside each piece on the table, to cut out."),
        ),
        Paper(
            "judging-sheet", tr_later("Sheet for judging"), f"{_PAPERS}/call-judging", Reader.HELPER,
            tr_later("A row for each piece, without its maker's name."),
        ),
    )
}  # fmt: skip
"""The papers of a call for pieces."""


def files_of(project: str, size: str) -> Iterator[tuple[Paper, str]]:
    """Every paper of a project with its file's name.

    Args:
        project: The project's name.
        size: One of `SIZES`.
    """
    for paper in PROJECT.values():
        yield paper, paper.file(size, project)


def called(file: str, project: str) -> str:
    """What a paper's file is, in words, such as `Handout, US Letter`; a file of no paper goes by its own name.

    Args:
        file: The file's name.
        project: The project's name.
    """
    for size in SIZES.values():
        for paper, name in files_of(project, size.name):
            if name == file:
                return f"{tr(paper.title)}, {tr(size.title)}"
    return file.removesuffix(".pdf")
