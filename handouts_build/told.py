"""What there is to say of a project once it is worked out: its names and its findings, as plain text.

This module owns the frame and its form as JSON, so that an unchanged project is not
worked out again only to be listed, checked or compared with its neighbors.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING

from handouts_build.conditions import Finding, Level

if TYPE_CHECKING:
    from handouts_build.sheet import Sheet

__all__ = ["Told", "told_of"]


@dataclass(frozen=True)
class Told:
    """One project in a few words."""

    file: str
    """As messages call it."""
    name: str
    title: str
    ready: tuple[str, ...]
    """Names of its ready sizes, which their papers are called by."""
    says: str
    """How much there is to it, in a line."""
    findings: tuple[str, ...]
    """Each with its place and remedy, gravest first."""
    stops: tuple[str, ...]
    """Those of them for which it cannot be made as written."""

    @property
    def stopped(self) -> bool:
        """Whether it cannot be made as written."""
        return bool(self.stops)

    def to_json(self) -> bytes:
        """As it is kept."""
        return json.dumps(asdict(self)).encode()

    @classmethod
    def from_json(cls, kept: bytes) -> Told:
        """As it was kept."""
        told = json.loads(kept)
        lists = {name: tuple(told[name]) for name in ("ready", "findings", "stops")}
        return cls(**{**told, **lists})


def told_of(sheet: Sheet, notes: Iterable[Finding] = ()) -> Told:
    """What a sheet tells.

    Args:
        sheet: A project, worked out.
        notes: What there is to note of its demonstrations and runs.
    """
    dimensions, steps = (sum(1 for _ in many) for many in (sheet.dimensions, sheet.steps))
    return Told(
        file=sheet.file,
        name=sheet.name,
        title=sheet.title,
        ready=tuple(one.name for one in sheet.ready),
        says=f"{dimensions} dimensions, {steps} steps, {sheet.minutes:g} minutes",
        findings=tuple(map(str, (*sheet.findings, *notes))),
        stops=tuple(str(one) for one in sheet.findings if one.level is Level.STOP),
    )
