"""The two judges side by side: what the library missed, and what it found that is not so.

The wood that is left at a thin web is compared too: a thinner one hidden behind one that is told is
missed all the same.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests.oracle.cuts import Unreadable
from tests.oracle.holding import Unheld
from tests.oracle.joints import fits
from tests.oracle.judge import FINE, OF_THE_FINISHED, Judged, Kind, Verdict, judged
from tests.oracle.library import Said, Told, library_says

HIDDEN = "hidden thin web"
CLOSER = 64
"""Voxels across a blank, with which the second judge looks again at what differs."""
_ALLIED = {Kind.BREAKS: {Kind.BREAKS, Kind.OUT, Kind.LOOSE}, Kind.OUT: {Kind.BREAKS, Kind.OUT, Kind.LOOSE}}
"""Kinds of which either says enough: a hole that comes out through a wall breaks into what made it."""
_STOPS = {Kind.HOLD, Kind.PARTED, Kind.BREAKS, Kind.OUT, Kind.LOOSE, Kind.GONE, Kind.JOINT}


@dataclass(frozen=True)
class Difference:
    """One thing on which the judges differ."""

    missed: bool
    """Whether the library is silent of it; otherwise it says what is not so."""
    kind: str
    part: str
    step: int
    why: str

    def is_like(self, other: Difference) -> bool:
        """Whether the other is the same thing, in whichever words."""
        return (self.missed, self.kind, self.part, self.step) == (other.missed, other.kind, other.part, other.step)

    def __str__(self) -> str:
        return f"{'missed' if self.missed else 'false'}: {self.kind} at step {self.step + 1} of {self.part}: {self.why}"


@dataclass
class Compared:
    """What came of one piece."""

    differences: list[Difference] = field(default_factory=list)
    refused: str = ""
    """Why it was not compared."""
    unknown: list[str] = field(default_factory=list)
    """Findings whose words are not known here."""
    asked: dict[str, int] = field(default_factory=dict)
    """Kinds that must be found, and how often."""


def compared(project: dict[str, Any], folder: Path, *, voxels: int = 48) -> Compared:
    """Both judges on one piece.

    Where they differ the second looks once more, closer: what it then sees as the library does, its own margin hid.

    Args:
        project: Its keys.
        folder: Where its file may be written.
        voxels: Across the largest round that the blank holds.
    """
    try:
        parts = dict(judged(project, voxels=voxels))
        said = library_says(project, folder)
        found = set_against(project, parts, said)
        if found.differences and voxels < CLOSER:
            again = set_against(project, dict(judged(project, voxels=CLOSER)), said).differences
            found.differences = [known for known in found.differences if any(map(known.is_like, again))]
    except (Unreadable, Unheld) as error:
        return Compared(refused=f"second judge: {error}")
    return found


def set_against(project: dict[str, Any], parts: dict[str, Judged], said: Said) -> Compared:
    """What the library says set against what the second judge found."""
    found = Compared(refused=said.refused)
    found.unknown = [one.message for one in said.told if one.kind is None]
    for name, part in parts.items():
        for opinion in (one for one in part.verdict.items() if one[1].must and one[0][0] < part.until):
            found.asked[opinion[0][1].value] = found.asked.get(opinion[0][1].value, 0) + 1
        if not said.refused:
            here = [one for one in said.told if one.part == name and one.kind is not None]
            margin = FINE * (part.wood.voxel if part.wood is not None else 1.0)
            found.differences += _missed(name, part, here, margin)
            found.differences += _false(name, part, here)
    if said.refused and _stops(parts):
        found.refused = ""
    if "assembly" in project:
        opinions = [fits(joint, parts).get(Kind.JOINT) for joint in project["assembly"]["joints"]]
        asked = sum(opinion is not None and opinion.must for opinion in opinions)
        found.asked |= {Kind.JOINT.value: asked} if asked else {}
    if "assembly" in project and not said.refused and all(part.until > 999 for part in parts.values()):
        found.differences += _joints(project, parts, said)
    return found


def _stops(parts: dict[str, Judged]) -> bool:
    """Whether the second judge would have stopped too: to refuse is to stop."""
    return any(one.must and kind in _STOPS for part in parts.values() for (_, kind), one in part.verdict.items())


def _missed(name: str, part: Judged, told: list[Told], margin: float) -> list[Difference]:
    found = []
    for (step, kind), opinion in part.verdict.items():
        if not opinion.must or (step >= part.until and kind is not Kind.LOOSE):
            continue
        kinds = _ALLIED.get(kind, {kind})
        if kind is Kind.THIN and opinion.left < margin:
            # So little wood is none.
            kinds = kinds | _ALLIED[Kind.OUT]
        here = [one for one in told if one.step == step and one.kind in kinds]
        if not here:
            found.append(Difference(True, kind.value, name, step, opinion.why))
        elif kind is Kind.THIN and opinion.left >= margin:
            left = min((one.left for one in here if one.left is not None), default=None)
            if left is not None and left > opinion.left + margin + 0.02:
                why = f"{opinion.why}, and {left:.2f} mm is told"
                found.append(Difference(True, HIDDEN, name, step, why))
    return found


def _false(name: str, part: Judged, told: list[Told]) -> list[Difference]:
    found = []
    for one in told:
        if one.kind is None or one.step >= part.until or (one.kind in OF_THE_FINISHED and part.until < 1000):
            continue
        if not _allowed(part.verdict, one):
            found.append(Difference(False, one.kind.value, name, one.step, one.message))
    return found


def _allowed(verdict: Verdict, told: Told) -> bool:
    kinds = _ALLIED.get(told.kind, {told.kind}) if told.kind is not None else set()
    return any((told.step, kind) in verdict for kind in kinds)


def _joints(project: dict[str, Any], parts: dict[str, Judged], said: Said) -> list[Difference]:
    found = []
    for index, joint in enumerate(project["assembly"]["joints"]):
        opinion = fits(joint, parts).get(Kind.JOINT)
        told = [one for one in said.told if one.kind is Kind.JOINT and one.stop]
        if opinion is not None and opinion.must and not told:
            found.append(Difference(True, Kind.JOINT.value, joint["put"], index, opinion.why))
        if opinion is None and told:
            found.append(Difference(False, Kind.JOINT.value, joint["put"], index, told[0].message))
    return found
