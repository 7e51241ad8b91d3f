"""What the library says of a piece, through its public door: the file is read, and its findings."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from handouts_build.problems import ProjectError
from handouts_build.sheet import Level, Sheet
from handouts_build.site.build import read_projects
from tests.oracle.judge import BLANK, Kind

_HEAD = {
    "title": "A piece", "summary": "One piece of wood.", "kind": "example", "level": "first steps",
    "techniques": ["an example"], "measure": "millimetres", "sizes": {},
}  # fmt: skip
_KINDS = (
    (Kind.COMES_OFF, re.compile(r"comes? off: ")),
    (Kind.JAMS, re.compile(r"it jams as the wood moves")),
    (Kind.BARK, re.compile(r"^bark stays on")),
    (Kind.PITH, re.compile(r"^the pith runs")),
    (Kind.THIN, re.compile(r"of wood (is|are) left between|thinner than|is left at|of wood is left (at|in)|"
                           r"Thin on purpose")),
    (Kind.OUT, re.compile(r"comes? out of the wood|come out")),
    (Kind.BREAKS, re.compile(r"breaks? into")),
    (Kind.MISSING, re.compile(r"should meet")),
    (Kind.LOOSE, re.compile(r"comes loose")),
    (Kind.NOTHING, re.compile(r"cuts? nothing|takes nothing away")),
    (Kind.HOLD, re.compile(r"by which the wood is held|at which the tail center|cannot be reached|holds it|"
                           r"where the (tail|live|drive) center|into the (jaws|faceplate|screw)|out of reach")),
    (Kind.PARTED, re.compile(r"between centers: it lets go|lets go of one|parted it from")),
    (Kind.GONE, re.compile(r"it is to be held by")),
    (Kind.AIR, re.compile(r"bears on nothing|in air|stands? over")),
    (Kind.JOINT, re.compile(r"too thick for|too long for|has to go through|a later cut took|does not reach into|"
                            r"does not (go|fit)|would stand in|tenon of .* is in the .*, and it is")),
)  # fmt: skip
"""The words by which each kind is known; a test finds out when they change."""
_ASIDE = re.compile(
    r"short grip|can whip|is long$|is long;|whips and breaks|sits loosely|no room for glue|out of plumb|rpm|swings|"
    r"across, and the (whole wood|jaws)|neither round nor square|the mouth of .* needs|on purpose|"
    r"has dried since: it is oval|in green wood, which dries here|no tool reaches|stays as the saw left it|"
    r"has only .* to spare|and its blank only"
)
"""What is not judged here: lengths, speeds, kit, and an outline that its blank's size alone cannot hold."""
_LEFT = re.compile(
    r"only (?P<left>[\d.]+) mm|(?P<lead>[\d.]+) mm \(.*?\) of wood|Thin on purpose: (?P<meant>[\d.]+) mm"
)
_STEP = re.compile(r"parts\.(?P<part>[^.]+)\.(steps\[(?P<step>\d+)\]|blank)")


@dataclass(frozen=True)
class Told:
    """One finding."""

    part: str
    step: int
    kind: Kind | None
    """None where its words are not known here."""
    stop: bool
    message: str
    left: float | None = None
    """The wood that is left, where it says so, mm."""


@dataclass(frozen=True)
class Said:
    """All that is said of a piece."""

    told: tuple[Told, ...] = ()
    refused: str = ""
    """Why it is not worked out at all."""


def written(project: dict[str, Any]) -> str:
    """A project as its file has it."""
    return yaml.safe_dump(_HEAD | project, sort_keys=False, width=110)


def library_says(project: dict[str, Any], folder: Path) -> Said:
    """What the library says of a project.

    Args:
        project: Its keys; those that every project needs are added.
        folder: Where its file may be written.
    """
    path = folder / "piece.yml"
    path.write_text(written(project), encoding="utf-8")
    return library_reads(path)


def library_reads(path: Path) -> Said:
    """What the library says of a file."""
    try:
        (sheet,) = read_projects([path], base=path.parent).sheets
    except ProjectError as error:
        return Said(refused="; ".join(one.message for one in error.problems))
    return Said(told_of(sheet))


def told_of(sheet: Sheet) -> tuple[Told, ...]:
    """The findings of a sheet, those too that its author accepts."""
    told = []
    for one in sheet.findings:
        if one.level is Level.NOTE and not one.accepted:
            continue
        message = one.message.replace("\u00a0", " ")
        kind = next((kind for kind, words in _KINDS if words.search(message)), None)
        if kind is None and _ASIDE.search(message):
            continue
        place = _STEP.search(one.place.path)
        step = int(place["step"]) if place and place["step"] else BLANK
        left = _LEFT.search(message) if kind is Kind.THIN else None
        value = float(left["left"] or left["lead"] or left["meant"]) if left else None
        told.append(
            Told(
                place["part"] if place else "", step, kind, one.level is Level.STOP, message, value,
            )
        )  # fmt: skip
    return tuple(told)
