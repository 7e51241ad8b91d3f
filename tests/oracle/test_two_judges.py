"""Two hundred plain pieces, sixty fitted ones and forty carved ones under both judges: nothing larger than two voxels
is missed, nothing is found that is not so.

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

SEED, PIECES, BATCH = 2, 200, 20
FITTED = 60
"""Of logs and stacks, with threads, beads, undercuts, dovetails and captive rings."""
CARVED = 40
"""With flutes, straight and twisted, slots and flats around."""


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


def _agree(make: Callable[..., Keys], first: int, folder: Path, *, least: float) -> None:
    differ, judged, words = [], 0, []
    for number in range(first, first + BATCH):
        found = compared(make(SEED, number, steps=2, cuts=2), folder, voxels=32)
        judged += not found.refused
        words += found.unknown
        differ += [f"seed {SEED}, piece {number}: {difference}" for difference in found.differences]
    assert not differ
    assert not words, "sentences that tests/oracle/library.py does not know"
    assert judged >= least * BATCH
