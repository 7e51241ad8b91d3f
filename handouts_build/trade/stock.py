"""Wood by the board foot and by the stick.

This module owns volumes, board feet and weights of stock, and how pieces are cut
from sticks with the least wood. It asks nothing of prices or of where a stick lies.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from handouts_build.quantities import UNITS, Kind, Quantity, kind_of, millimetres
from handouts_build.trade.solver import Constraint, least

__all__ = [
    "Cut",
    "CuttingPlan",
    "Section",
    "Stick",
    "TooManyWays",
    "WantedPiece",
    "board_feet",
    "cubic_metres",
    "cutting_plan",
]

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


class TooManyWays(ValueError):
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
    pieces: Sequence[WantedPiece], sticks: Sequence[Stick], *, kerf: Quantity, trim: Quantity, seconds: float = 4.0
) -> CuttingPlan:
    """The pieces cut from sticks on hand: as many as can be had, from the least wood.

    Args:
        pieces: What is wanted.
        sticks: What is there.
        kerf: Wood that each saw cut takes, length.
        trim: Wood cut off at each end of a stick first, saw cut included, length.
        seconds: Time after which the best plan so far is taken.

    Returns:
        The plan. Sticks are cut to length and not ripped; of all such ways none takes less wood, or the plan says
        by how much one might.

    Raises:
        TooManyWays: If there are more ways to cut than can be looked through.
    """
    saw, ends = (float(length.m_as(UNITS["mm"])) for length in (kerf, trim))
    longs = [float(piece.long.m_as(UNITS["mm"])) for piece in pieces]
    ways: list[tuple[int, tuple[int, ...]]] = []
    for index, stick in enumerate(sticks):
        # n pieces need n - 1 cuts between them: as if each, and the stick, were one kerf longer.
        room = float(stick.long.m_as(UNITS["mm"])) - 2 * ends + saw
        most = [piece.count if stick.section.yields(piece.section) else 0 for piece in pieces]
        for pattern in _patterns(room, [long + saw for long in longs], most):
            ways.append((index, pattern))
            if len(ways) > _MOST_PATTERNS:
                raise TooManyWays(f"there are more than {_MOST_PATTERNS:,} ways to cut these sticks")
    volumes = [float((stick.section.area * stick.long).m_as(UNITS["mm"] ** 3)) for stick in sticks]
    # A missing piece costs more than all sticks together, so that none is missing without need.
    missing = sum(volume * stick.count for volume, stick in zip(volumes, sticks, strict=True)) + 1.0
    costs = [*(volumes[index] for index, _ in ways), *(missing for _ in pieces)]
    scale = max(costs)
    rows = [
        Constraint(
            [*(pattern[kind] for _, pattern in ways), *(float(kind == other) for other in range(len(pieces)))],
            low=piece.count,
        )
        for kind, piece in enumerate(pieces)
    ]
    rows += [
        Constraint([*(float(index == used) for used, _ in ways), *(0.0 for _ in pieces)], high=stick.count)
        for index, stick in enumerate(sticks)
    ]
    upper = [*(sticks[index].count for index, _ in ways), *(piece.count for piece in pieces)]
    try:
        solved = least([cost / scale for cost in costs], rows, upper, seconds=seconds)
    except TimeoutError:
        raise TooManyWays(f"no way to cut these sticks was found in {seconds:g} seconds") from None
    assert solved is not None, "every piece may be missing, so there is always an answer"
    found = solved.values
    wanted = [piece.count for piece in pieces]
    cuts = []
    for (index, pattern), times in zip(ways, found, strict=False):
        for _ in range(times):
            taken = [min(count, wanted[kind]) for kind, count in enumerate(pattern)]
            wanted = [left - count for left, count in zip(wanted, taken, strict=True)]
            if any(taken):
                cuts.append(_cut(sticks[index], pieces, taken, saw=saw, ends=ends))
    short = {piece.name: left for piece, left in zip(pieces, wanted, strict=True) if left}
    wood = sum(float((cut.stick.section.area * cut.stick.long).m_as(UNITS["mm"] ** 3)) for cut in cuts)
    # What it costs besides the pieces that are missing either way is wood.
    beyond = wood - (solved.bound * scale - missing * sum(short.values()))
    all_had = solved.proven or beyond < missing
    over = 0.0 if solved.proven or not wood else max(0.0, min(1.0, beyond / wood))
    return CuttingPlan(tuple(sorted(cuts, key=lambda cut: (cut.stick.name, -len(cut.pieces)))), short, over, all_had)


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
            raise TooManyWays(f"there are more than {_MOST_TRIED:,} ways to begin cutting these sticks")
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
