"""Two hundred plain pieces, sixty fitted, forty carved and twenty moved ones under both judges: nothing larger than two
voxels is missed, nothing is found that is not so.

`python -m tests.benchmarks.oracle` does the same for thousands, with more steps and finer voxels.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.oracle.compare import compared
from tests.oracle.generate import Keys, piece
from tests.oracle.generate_carved import carved_piece
from tests.oracle.generate_fitted import fitted_piece
from tests.oracle.generate_moved import moved_piece

SEED, PIECES, BATCH = 2, 200, 20
FITTED = 60
"""Of logs and stacks, with threads, beads, undercuts, dovetails and captive rings."""
CARVED = 40
"""With flutes, straight and twisted, slots and flats around."""
MOVED = 20
"""Green and dried, with a lid turned on its box, askew in a chuck, of staves, and held in a hollow."""


@pytest.mark.parametrize("first", range(0, PIECES, BATCH))
def test_the_judges_agree_to_two_voxels(first: int, tmp_path: Path) -> None:
    """Seeds are in the names of what differs: `python -m tests.oracle.shrink` makes a case of it."""
    _agree(piece, first, tmp_path, least=0.8)


@pytest.mark.parametrize("first", range(0, FITTED, BATCH))
def test_the_judges_agree_on_what_fits_and_hangs(first: int, tmp_path: Path) -> None:
    """More of these cannot be made: a thread deeper than its wall, a ring wider than its wood."""
    _agree(fitted_piece, first, tmp_path, least=0.6)


@pytest.mark.parametrize("first", range(0, CARVED, BATCH))
def test_the_judges_agree_on_what_is_carved(first: int, tmp_path: Path) -> None:
    """Most of these can be made: what they differ in is the wall behind, the land between, and what is missed."""
    _agree(carved_piece, first, tmp_path, least=0.6)


@pytest.mark.parametrize("first", range(0, MOVED, BATCH))
def test_the_judges_agree_on_what_dries_and_on_what_is_held_askew(first: int, tmp_path: Path) -> None:
    """Each of the five kinds four times; a long run takes more of them."""
    _agree(moved_piece, first, tmp_path, least=0.8, steps=3)


def _agree(make: Callable[..., Keys], first: int, folder: Path, *, least: float, steps: int = 2) -> None:
    differ, judged, words = [], 0, []
    for number in range(first, first + BATCH):
        found = compared(make(SEED, number, steps=steps, cuts=2), folder, voxels=32)
        judged += not found.refused
        words += found.unknown
        differ += [f"seed {SEED}, piece {number}: {difference}" for difference in found.differences]
    assert not differ
    assert not words, "sentences that tests/oracle/library.py does not know"
    assert judged >= least * BATCH
