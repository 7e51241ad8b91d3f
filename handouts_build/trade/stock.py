"""Wood by the board foot and by the stick.

This module owns volumes, board feet and weights of stock, and how pieces are cut
from sticks with the least wood. It asks nothing of prices or of where a stick lies.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from handouts_build.quantities import UNITS, Kind, Quantity, kind_of, millimetres
from handouts_build.trade.solver import Constraint, in_parts, least

__all__ = [
    "Cut",
    "CuttingPlan",
    "Section",
    "Stick",
    "WantedPiece",
    "board_feet",
    "cubic_metres",
    "cutting_plan",
]

_MOST_SOLVED = 600
"""Ways up to which the best whole numbers of them are sought; each try takes longer, the more there are."""
_MOST_PATTERNS = 20_000
_MOST_TRIED = 400_000
"""Ways to begin, of which not all fill a stick."""


@dataclass(frozen=True)
class Section:
    """The cross-section of a stick or of a blank."""

    shape: str
    """`round`, `square` or `board`."""
    wide: Quantity
    """Diameter, side, or width."""
    thick: Quantity
    """The same again, or the thickness of a board."""

    @property
    def area(self) -> Quantity:
        """Area of the section."""
        area: Quantity = self.wide * self.thick
        return area * (math.pi / 4) if self.shape == "round" else area

    @property
    def across(self) -> Quantity:
        """The widest way across: what swings when it turns about its middle."""
        if self.shape == "round":
            return self.wide
        return millimetres(math.hypot(self.wide.m_as(UNITS["mm"]), self.thick.m_as(UNITS["mm"])))

    def yields(self, wanted: Section) -> bool:
        """Whether a blank of section `wanted` can be had from this one by taking wood away."""
        ours = sorted((self.wide.m_as(UNITS["mm"]), self.thick.m_as(UNITS["mm"])))
        theirs = sorted((wanted.wide.m_as(UNITS["mm"]), wanted.thick.m_as(UNITS["mm"])))
        if self.shape == "round" and wanted.shape != "round":
            return wanted.across.m_as(UNITS["mm"]) <= ours[0] + 1e-9
        return all(mine >= other - 1e-9 for mine, other in zip(ours, theirs, strict=True))


@dataclass(frozen=True)
class WantedPiece:
    """A length that is wanted."""

    name: str
    section: Section
    long: Quantity
    count: int


@dataclass(frozen=True)
class Stick:
    """A length that is there."""

    name: str
    section: Section
    long: Quantity
    count: int


@dataclass(frozen=True)
class Cut:
    """One stick and the pieces cut from it."""

    stick: Stick
    pieces: tuple[WantedPiece, ...]
    """In the order they are cut; each stands here once for every time it is cut."""
    left: Quantity
    """Length left at the end, trim and saw cuts taken off."""


@dataclass(frozen=True)
class CuttingPlan:
    """How the pieces are cut."""

    cuts: tuple[Cut, ...]
    short: Mapping[str, int]
    """Pieces that no stick is left for, by name."""
    over: float = 0.0
    """Share of the wood that some other way of cutting might save at the most; 0 where this way is proven the least."""
    all_had: bool = True
    """Whether it is proven that no more pieces can be had."""


class _TooManyWaysError(ValueError):
    """More ways to cut a stick than can be looked through."""


def board_feet(volume: Quantity) -> float:
    """Board feet in a volume: one is 1 ft × 1 ft × 1 in, 144 cubic inches.

    Args:
        volume: Volume.

    Raises:
        ValueError: If it is not a volume.
    """
    if kind_of(volume) is not Kind.VOLUME:
        raise ValueError("board feet measure a volume")
    return float(volume.m_as(UNITS["in"] ** 3)) / 144


def cubic_metres(volume: Quantity) -> float:
    """Cubic meters in a volume."""
    return float(volume.m_as(UNITS["m"] ** 3))


def cutting_plan(
    pieces: Sequence[WantedPiece], sticks: Sequence[Stick], *, kerf: Quantity, trim: Quantity
) -> CuttingPlan:
    """The pieces cut from sticks on hand: as many as can be had, from the least wood.

    Args:
        pieces: What is wanted.
        sticks: What is there.
        kerf: Wood that each saw cut takes, length.
        trim: Wood cut off at each end of a stick first, saw cut included, length.

    Returns:
        The plan. Sticks are cut to length and not ripped; of all such ways none takes less wood, or the plan says
        by how much one might. The work is bounded by counting and not by a clock.
    """
    saw, ends = (float(length.m_as(UNITS["mm"])) for length in (kerf, trim))
    job = _Job(
        tuple(pieces), tuple(sticks), saw, ends,
        # n pieces need n - 1 cuts between them: as if each, and the stick, were one kerf longer.
        tuple(float(piece.long.m_as(UNITS["mm"])) + saw for piece in pieces),
        tuple(float(stick.long.m_as(UNITS["mm"])) - 2 * ends + saw for stick in sticks),
        tuple(float((stick.section.area * stick.long).m_as(UNITS["mm"] ** 3)) for stick in sticks),
    )  # fmt: skip
    by_hand = _told(job, _filled(job, [piece.count for piece in pieces], [stick.count for stick in sticks]))
    try:
        ways = list(job.ways())
    except _TooManyWaysError:
        return by_hand.beside(_least_wood(job), job)
    costs, rows, upper, scale = _problem(job, ways)
    if len(ways) <= _MOST_SOLVED and (solved := least(costs, rows, upper)) is not None:
        plan = _told(job, _used(ways, solved.values))
        return plan.plan if solved.proven else _better(plan, by_hand).beside(solved.bound * scale, job)
    relaxed = in_parts(costs, rows, upper)
    assert relaxed is not None, "every piece may be missing, so there is always an answer"
    # What the numbers say in whole is cut so; what is left over by hand.
    whole = _used(ways, [math.floor(times + 1e-6) for times in relaxed[0]])
    wanted, there = job.left_after(whole)
    return _better(_told(job, [*whole, *_filled(job, wanted, there)]), by_hand).beside(relaxed[1] * scale, job)


_Use = tuple[int, tuple[int, ...]]
"""One stick, by its index, and how many of each piece are cut from it."""


@dataclass(frozen=True)
class _Job:
    """What is to be cut, in plain millimetres."""

    pieces: tuple[WantedPiece, ...]
    sticks: tuple[Stick, ...]
    saw: float
    ends: float
    longs: tuple[float, ...]
    """Of the pieces, a kerf added."""
    rooms: tuple[float, ...]
    """Of the sticks, trim taken off and a kerf added."""
    volumes: tuple[float, ...]
    """Of the sticks, cubic millimetres."""

    @property
    def missing(self) -> float:
        """What a piece that is missing costs: more than all sticks together, so that none is without need."""
        return sum(volume * stick.count for volume, stick in zip(self.volumes, self.sticks, strict=True)) + 1.0

    def fit(self, stick: int, wanted: Sequence[int]) -> list[int]:
        """Of the pieces that are wanted, those that can be had from a stick's section."""
        section = self.sticks[stick].section
        return [count if section.yields(piece.section) else 0 for piece, count in zip(self.pieces, wanted, strict=True)]

    def ways(self) -> Iterator[_Use]:
        """Every way to fill a stick.

        Raises:
            _TooManyWaysError: If there are more than can be looked through.
        """
        made = 0
        for index, room in enumerate(self.rooms):
            for pattern in _patterns(room, self.longs, self.fit(index, [piece.count for piece in self.pieces])):
                made += 1
                if made > _MOST_PATTERNS:
                    raise _TooManyWaysError(f"there are more than {_MOST_PATTERNS:,} ways to cut these sticks")
                yield index, pattern

    def left_after(self, uses: Iterable[_Use]) -> tuple[list[int], list[int]]:
        """The pieces that are still wanted and the sticks that are still there."""
        wanted, there = [piece.count for piece in self.pieces], [stick.count for stick in self.sticks]
        for index, pattern in uses:
            there[index] -= 1
            wanted = [max(0, left - count) for left, count in zip(wanted, pattern, strict=True)]
        return wanted, there


def _problem(job: _Job, ways: Sequence[_Use]) -> tuple[list[float], list[Constraint], list[float], float]:
    """Costs, rows and upper bounds of the ways and of the pieces that may be missing, and the scale of the costs."""
    costs = [*(job.volumes[index] for index, _ in ways), *(job.missing for _ in job.pieces)]
    scale = max(costs)
    rows = [
        Constraint(
            [*(pattern[kind] for _, pattern in ways), *(float(kind == other) for other in range(len(job.pieces)))],
            low=piece.count,
        )
        for kind, piece in enumerate(job.pieces)
    ]
    rows += [
        Constraint([*(float(index == used) for used, _ in ways), *(0.0 for _ in job.pieces)], high=stick.count)
        for index, stick in enumerate(job.sticks)
    ]
    upper = [*(job.sticks[index].count for index, _ in ways), *(piece.count for piece in job.pieces)]
    return [cost / scale for cost in costs], rows, [float(most) for most in upper], scale


def _used(ways: Sequence[_Use], times: Sequence[int]) -> list[_Use]:
    """Each way as often as it is taken; what stands behind the ways are pieces that are missing."""
    return [way for way, count in zip(ways, times, strict=False) for _ in range(count)]


def _filled(job: _Job, wanted: Sequence[int], there: Sequence[int]) -> list[_Use]:
    """The pieces cut as one does by hand: the longest first, from the stick that leaves the least.

    Args:
        job: What is to be cut.
        wanted: How many of each piece.
        there: How many of each stick.
    """
    left, sticks, uses = list(wanted), list(there), []
    order = sorted(range(len(left)), key=lambda kind: -job.longs[kind])
    while any(left):
        best: tuple[float, int, tuple[int, ...]] | None = None
        for index in (index for index, count in enumerate(sticks) if count):
            room, fit, pattern = job.rooms[index], job.fit(index, left), [0] * len(left)
            for kind in order:
                pattern[kind] = min(fit[kind], int((room + 1e-9) // job.longs[kind]))
                room -= pattern[kind] * job.longs[kind]
            had = sum(count * float(piece.section.area.m_as(UNITS["mm"] ** 2)) * long
                      for count, piece, long in zip(pattern, job.pieces, job.longs, strict=True))  # fmt: skip
            if had and (best is None or had / job.volumes[index] > best[0]):
                best = had / job.volumes[index], index, tuple(pattern)
        if best is None:
            break
        _, index, taken = best
        uses.append((index, taken))
        sticks[index] -= 1
        left = [count - gone for count, gone in zip(left, taken, strict=True)]
    return uses


def _least_wood(job: _Job) -> float:
    """What no way of cutting goes below, cubic millimetres: as if every length were cut from the best stick for it."""
    wood = 0.0
    for kind, piece in enumerate(job.pieces):
        shares = [
            job.volumes[index] * job.longs[kind] / room
            for index, (stick, room) in enumerate(zip(job.sticks, job.rooms, strict=True))
            if stick.section.yields(piece.section) and room >= job.longs[kind]
        ]
        # A piece that can be had from no stick is missing either way.
        wood += piece.count * (min(shares) if shares else job.missing)
    return wood


@dataclass(frozen=True)
class _Told:
    """A way to cut everything, with its plan."""

    plan: CuttingPlan
    wood: float
    """Volume of the sticks, cubic millimetres."""

    def beside(self, bound: float, job: _Job) -> CuttingPlan:
        """The plan, with what another might save, where none costs less than a bound."""
        # What it costs besides the pieces that are missing either way is wood.
        beyond = self.wood - (bound - job.missing * sum(self.plan.short.values()))
        over = max(0.0, min(1.0, beyond / self.wood)) if self.wood else 0.0
        return replace(self.plan, over=over, all_had=beyond < job.missing)


def _told(job: _Job, uses: Sequence[_Use]) -> _Told:
    """The plan of these uses: no piece is cut more often than it is wanted."""
    wanted = [piece.count for piece in job.pieces]
    cuts = []
    for index, pattern in uses:
        taken = [min(count, left) for count, left in zip(pattern, wanted, strict=True)]
        wanted = [left - count for left, count in zip(wanted, taken, strict=True)]
        if any(taken):
            cuts.append(_cut(job.sticks[index], job.pieces, taken, saw=job.saw, ends=job.ends))
    short = {piece.name: left for piece, left in zip(job.pieces, wanted, strict=True) if left}
    wood = sum(float((cut.stick.section.area * cut.stick.long).m_as(UNITS["mm"] ** 3)) for cut in cuts)
    cuts.sort(key=lambda cut: (cut.stick.name, -len(cut.pieces)))
    return _Told(CuttingPlan(tuple(cuts), short), wood)


def _better(first: _Told, other: _Told) -> _Told:
    """Of two, that which lacks fewer pieces, or else takes less wood."""
    return min(first, other, key=lambda plan: (sum(plan.plan.short.values()), plan.wood))


def _cut(stick: Stick, pieces: Sequence[WantedPiece], taken: Sequence[int], *, saw: float, ends: float) -> Cut:
    chosen = [piece for piece, count in zip(pieces, taken, strict=True) for _ in range(count)]
    chosen.sort(key=lambda piece: -piece.long.magnitude)
    used = sum(float(piece.long.m_as(UNITS["mm"])) + saw for piece in chosen)
    left = float(stick.long.m_as(UNITS["mm"])) - 2 * ends - used
    return Cut(stick, tuple(chosen), millimetres(max(0.0, left)))


def _patterns(room: float, longs: Sequence[float], most: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """Every way to fill a stick that leaves no room for one more piece that is wanted."""
    tried = 0

    def fill(kind: int, left: float, so_far: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
        nonlocal tried
        tried += 1
        if tried > _MOST_TRIED:
            raise _TooManyWaysError(f"there are more than {_MOST_TRIED:,} ways to begin cutting these sticks")
        if kind == len(longs):
            full = all(
                count >= limit or long > left + 1e-9 for count, limit, long in zip(so_far, most, longs, strict=True)
            )
            if any(so_far) and full:
                yield so_far
            return
        fits = min(most[kind], int((left + 1e-9) // longs[kind]))
        # Where all that is still wanted fits, and of the last kind, less than can be had leaves room.
        all_fit = sum(count * long for count, long in zip(most[kind:], longs[kind:], strict=True)) <= left + 1e-9
        least_many = fits if all_fit or kind == len(longs) - 1 else 0
        for count in range(fits, least_many - 1, -1):
            yield from fill(kind + 1, left - count * longs[kind], (*so_far, count))

    yield from fill(0, room, ())
