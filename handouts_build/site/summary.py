"""What there is to say of a project once it is worked out: its names, its findings and its evenings, as plain text.

This module owns the frame and its form as JSON, so that an unchanged project is not
worked out again only to be listed, checked or compared with its neighbors.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import asdict, dataclass
from datetime import datetime
from itertools import combinations
from typing import TYPE_CHECKING

from handouts_build.problems import Place
from handouts_build.sheet.findings import Finding, Level

if TYPE_CHECKING:
    from handouts_build.outputs.pages.as_issued import Issue
    from handouts_build.sheet import Sheet
    from handouts_build.sheet.evening import Demonstration

__all__ = ["Evening", "Summary", "overlapping", "shared_wood", "summary_of", "summary_of_issue"]


@dataclass(frozen=True)
class Evening:
    """A demonstration that is announced."""

    file: str
    """As messages call it."""
    title: str
    """Of what is shown."""
    starts: str
    ends: str
    """Both by the host's clock, in ISO 8601 with the offset."""
    findings: tuple[str, ...] = ()
    stops: tuple[str, ...] = ()
    """Those of them for which it cannot be shown as written."""
    wood: tuple[tuple[str, int, int], ...] = ()
    """Sticks on hand that it saws into where no other has been there before: name, how many, and how many there are."""

    def past(self, now: datetime) -> bool:
        """Whether it is over."""
        return datetime.fromisoformat(self.ends) <= now

    def overlap(self, other: Evening) -> Finding | None:
        """That another demonstration runs at the same time; None where it does not."""
        from handouts_build.outputs.words import said_time

        starts, ends, others, theirs = map(datetime.fromisoformat, (self.starts, self.ends, other.starts, other.ends))
        if ends <= others or theirs <= starts:
            return None
        return Finding(
            Level.MIND,
            "The time",
            f"{self.title}, {said_time(starts)} to {said_time(ends)}, overlaps {other.title}, {said_time(others)} to "
            f"{said_time(theirs)} ({other.file})",
            "give each of two pieces that share an evening its own start and slot",
            Place(self.file),
        )


@dataclass(frozen=True)
class Summary:
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
    evenings: tuple[Evening, ...] = ()
    """Its demonstrations that have not been held, as far as their files say."""
    by: str = ""
    """Who made it; empty where nobody is named."""
    club: str = ""
    formerly: tuple[str, ...] = ()
    """Names it had before."""

    def coming(self, now: datetime) -> tuple[Evening, ...]:
        """The demonstrations that are not past."""
        return tuple(evening for evening in self.evenings if not evening.past(now))

    @property
    def stopped(self) -> bool:
        """Whether it cannot be made as written."""
        return bool(self.stops)

    def to_json(self) -> bytes:
        """As it is kept."""
        return json.dumps(asdict(self)).encode()

    @classmethod
    def from_json(cls, kept: bytes) -> Summary:
        """As it was kept."""
        values = json.loads(kept)
        lists = {name: tuple(values[name]) for name in ("ready", "findings", "stops", "formerly")}
        evenings = tuple(
            Evening(
                **{
                    **evening,
                    "findings": tuple(evening["findings"]),
                    "stops": tuple(evening["stops"]),
                    "wood": tuple(tuple(stick) for stick in evening["wood"]),
                }
            )
            for evening in values["evenings"]
        )
        return cls(**{**values, **lists, "evenings": evenings})


def _times(sheet: Sheet) -> Iterator[str]:
    from handouts_build.outputs.words import times

    return (f"{minutes:g} minutes {label.removeprefix('Time ')}" for label, minutes in times(sheet))


def overlapping(archive: Iterable[Summary], now: datetime) -> Iterator[str]:
    """That demonstrations of one archive run at the same time, of those that are not past.

    Args:
        archive: Its projects.
        now: When it is asked.
    """
    coming = sorted(
        (evening for project in archive for evening in project.coming(now)), key=lambda evening: evening.file
    )
    yield from (str(found) for evening, other in combinations(coming, 2) if (found := evening.overlap(other)))


def shared_wood(archive: Iterable[Summary], now: datetime) -> Iterator[str]:
    """That demonstrations of one archive saw into more of a stick than there are, of those that are not past.

    Each is planned here as if it were alone: what is printed for a later one is planned from what those before it
    leave, so that this is a note and not a fault of any.

    Args:
        archive: Its projects, which share one shop file.
        now: When it is asked.
    """
    sawn: dict[str, list[tuple[Evening, int]]] = {}
    for evening in sorted((coming for project in archive for coming in project.coming(now)), key=_turn):
        for stick, count, on_hand in evening.wood:
            before = sawn.setdefault(stick, [])
            if before and sum(taken for _, taken in before) + count > on_hand:
                first = ", ".join(f"{other.title} ({other.file})" for other, _ in before)
                yield str(
                    Finding(
                        Level.NOTE,
                        "The wood",
                        f"{evening.title} counts on {count} of {stick}, and so do demonstrations before it: {first}; "
                        f"there {'is' if on_hand == 1 else 'are'} {on_hand}",
                        "its stock list is planned from what they leave; have more of it, or another stick",
                        Place(evening.file),
                    )
                )
            before.append((evening, count))


def _turn(evening: Evening) -> tuple[datetime, str]:
    return datetime.fromisoformat(evening.starts), evening.file


def _wood(evening: Demonstration) -> tuple[tuple[str, int, int], ...]:
    on_hand = {cut.stick: cut.on_hand for cut in evening.stock.cuts}
    return tuple(
        (stick, count, on_hand[stick]) for stick, count in Counter(cut.stick for cut in evening.stock.cuts).items()
    )


def summary_of(sheet: Sheet, evenings: Iterable[Demonstration] = (), notes: Iterable[Finding] = ()) -> Summary:
    """What a sheet tells.

    Args:
        sheet: A project, worked out.
        evenings: Its demonstrations that are to come, worked out.
        notes: What there is to note of its demonstrations and runs.
    """
    dimensions, steps = (sum(1 for _ in items) for items in (sheet.dimensions, sheet.steps))
    silent = sum(1 for step in sheet.steps if step.minutes is None)
    minutes = ", ".join(_times(sheet)) if silent < steps else "minutes not said"
    counted = f"{dimensions} dimensions, {steps} step{'s' if steps != 1 else ''}"
    photographs = len(sheet.photographs)
    text = f"words and {photographs} photograph{'s' if photographs != 1 else ''}" if photographs else "words alone"
    lacking = f", not said of {silent}" if 0 < silent < steps else ""
    return Summary(
        file=sheet.file,
        name=sheet.name,
        title=sheet.title,
        ready=tuple(size.name for size in sheet.ready),
        says=f"{counted}, {minutes}{lacking}" if steps or dimensions else text,
        findings=tuple(map(str, (*sheet.findings, *notes))),
        stops=tuple(str(finding) for finding in sheet.findings if finding.level is Level.STOP),
        evenings=tuple(
            Evening(
                file=evening.file,
                title=sheet.title,
                starts=evening.starts.isoformat(),
                ends=evening.plan.ends.isoformat(),
                findings=tuple(map(str, evening.findings)),
                stops=tuple(str(found) for found in evening.findings if found.level is Level.STOP),
                wood=_wood(evening),
            )
            for evening in evenings
        ),
        by=sheet.by,
        club=sheet.club,
        formerly=sheet.formerly,
    )


def summary_of_issue(issue: Issue, file: str, name: str) -> Summary:
    """What there is to say of a project that is archived as issued.

    Args:
        issue: What is kept of it.
        file: The project's file, as messages call it.
        name: What it is called in the archive.
    """
    entries = issue.entries
    says = f"archived as issued on {entries['issued']}, with version {entries['version']}; its file is not read"
    return Summary(
        file=file, name=name, title=entries["title"], ready=(), says=says, findings=(), stops=(), by=entries["by"],
        club=entries["club"], formerly=tuple(entries["formerly"]),
    )  # fmt: skip
