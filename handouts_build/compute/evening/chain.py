"""What rests on what in an evening: which piece is in hand at each step, and which must be brought.

This module owns the chain of a part's steps: a step that is turned before the audience
needs a piece on which the steps before it are done. What is told, brought ready-made or
left out is not done there, so a piece at that stage is taken up. Times are for `plan`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field

from handouts_build.sheet import Sheet, Step
from handouts_build.sheet.evening import Brought
from handouts_build.trade.timing import NOTHING, Estimate

__all__ = ["LEFT_OUT", "Chain", "ShownStep", "chained"]

LEFT_OUT = "left out"


@dataclass(frozen=True)
class ShownStep:
    """A step as it will be shown, or not."""

    name: str
    step: Step
    shown: str
    """`live`, `talk`, `ready-made` or `left out`."""
    why: str = ""
    estimate: Estimate = NOTHING
    runs: int = 0
    """Recorded runs that the estimate rests on."""
    saves: float = 0.0
    """Minutes saved by telling it instead."""
    must: bool = False
    """Whether the demonstration asks for it live."""
    known: bool = True
    """Whether the author or a run says how long it takes."""

    @property
    def live(self) -> bool:
        """Whether it is turned before the audience."""
        return self.shown == "live"

    @property
    def waits(self) -> bool:
        """Whether what is done there waits before it goes on: another piece, which has waited, is taken up then."""
        return self.live and self.step.wait is not None


@dataclass(frozen=True)
class Chain:
    """The pieces of an evening, by the steps at which they are taken up."""

    brought: Mapping[str, tuple[Brought, ...]] = field(default_factory=dict)
    """Pieces taken up as a step begins."""
    told_on: frozenset[str] = frozenset()
    """Steps that are told on a piece that is in hand already."""
    resting: Mapping[str, frozenset[str]] = field(default_factory=dict)
    """Of each live step, the live ones after it that need it done on the piece in hand."""
    following: Mapping[str, Brought] = field(default_factory=dict)
    """Of each live step, the next piece of its part that is taken up after it."""


def chained(sheet: Sheet, steps: Sequence[ShownStep], makes: Set[int]) -> Chain:
    """The pieces that an evening needs.

    Args:
        sheet: The project.
        steps: All its steps in the order of the evening, those left out among them.
        makes: Numbers of the steps that take wood away.
    """
    roots = _roots(sheet)
    at: dict[int, list[Brought]] = {}
    told_on: set[str] = set()
    for part in sheet.parts:
        for row in _rows(steps, part.name):
            found = _taken_up(steps, row, makes, _heirs(sheet, steps, part.name))
            if found is None:
                continue
            index, number, telling = found
            at.setdefault(index, []).append(Brought(part.name, part.title, number))
            told_on |= {steps[index].name for index in telling}
    live = [index for index, shown in enumerate(steps) if shown.live]

    def between(first: int, last: int, parts: Set[str]) -> bool:
        """Whether a piece of one of the parts is taken up after a step, at the latest as another begins."""
        return any(piece.part in parts for index in range(first + 1, last + 1) for piece in at.get(index, ()))

    resting = {
        steps[a].name: frozenset(
            steps[b].name
            for b in live
            if b > a
            and roots[steps[b].step.part] == roots[steps[a].step.part]
            and not between(a, b, {steps[a].step.part, steps[b].step.part})
        )
        for a in live
    }
    following = {}
    for a in live:
        pieces = (piece for index in sorted(at) if index > a for piece in at[index])
        after = next((piece for piece in pieces if piece.part == steps[a].step.part), None)
        if after is not None:
            following[steps[a].name] = after
    return Chain(
        {steps[index].name: tuple(pieces) for index, pieces in at.items()}, frozenset(told_on), resting, following
    )


def _roots(sheet: Sheet) -> dict[str, str]:
    """The part that each part comes from: a lid that falls off a box is of the box's wood."""
    above = {part.name: part.falls_off for part in sheet.parts}
    roots = {}
    for name in above:
        root, met = name, {name}
        while above.get(root) and above[root] not in met:
            root = above[root]
            met.add(root)
        roots[name] = root
    return roots


def _heirs(sheet: Sheet, steps: Sequence[ShownStep], part: str) -> dict[str, int]:
    """The parts whose steps need a part's earlier ones, each with the place up to which they do."""
    heirs = {part: len(steps)}
    for other in sheet.parts:
        if other.falls_off == part or part in other.puts_on:
            # It has fallen off before its own first step; what is put on it is fitted to it from there on.
            heirs[other.name] = next((at for at, shown in enumerate(steps) if shown.step.part == other.name), 0)
    return heirs


def _rows(steps: Sequence[ShownStep], part: str) -> Iterator[list[int]]:
    """A part's steps that are not turned there, by the rows between those that are."""
    row: list[int] = []
    for index, shown in enumerate(steps):
        if shown.step.part != part:
            continue
        if not shown.live:
            row.append(index)
            continue
        if row:
            yield row
        # What waits is done there on one piece, and has waited already on the next.
        row = [index] if shown.waits else []
    if row:
        yield row


def _taken_up(
    steps: Sequence[ShownStep], row: Sequence[int], makes: Set[int], heirs: Mapping[str, int]
) -> tuple[int, int, list[int]] | None:
    """Where the piece of a row is taken up, up to which step it is done, and what else is told on it."""
    undone = [
        index
        for index in row
        if steps[index].shown in ("ready-made", LEFT_OUT)
        or (steps[index].shown == "talk" and steps[index].step.number in makes)
        or steps[index].step.wait is not None
    ]
    needs = [
        after
        for after, shown in enumerate(steps)
        if shown.live and any(index < min(after, heirs.get(shown.step.part, 0)) for index in undone)
    ]
    if not needs:
        # Nothing is turned on it any more: it is there to be held up.
        undone = [index for index in row if steps[index].shown == "ready-made"]
    if not undone:
        return None
    held = [index for index in undone if steps[index].shown != LEFT_OUT and not steps[index].waits]
    at = min([*held[:1], *needs[:1]])
    number = max(steps[index].step.number for index in undone)
    shown = [index for index in row if steps[index].shown != LEFT_OUT and not steps[index].waits]
    telling = [index for index in shown if at < index <= undone[-1]]
    return at, number, telling
