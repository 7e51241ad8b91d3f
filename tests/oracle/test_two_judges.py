"""Two hundred pieces under both judges: nothing larger than two voxels is missed, nothing is found that is not so.

`python -m tests.benchmarks.oracle` does the same for thousands, with more steps and finer voxels.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.oracle.compare import compared
from tests.oracle.generate import piece

SEED, PIECES, BATCH = 2, 200, 20


@pytest.mark.parametrize("first", range(0, PIECES, BATCH))
def test_the_judges_agree_to_two_voxels(first: int, tmp_path: Path) -> None:
    """Seeds are in the names of what differs: `python -m tests.oracle.shrink` makes a case of it."""
    differ, judged, words = [], 0, []
    for number in range(first, first + BATCH):
        found = compared(piece(SEED, number, steps=2, cuts=2), tmp_path, voxels=32)
        judged += not found.refused
        words += found.unknown
        differ += [f"seed {SEED}, piece {number}: {difference}" for difference in found.differences]
    assert not differ
    assert not words, "sentences that tests/oracle/library.py does not know"
    assert judged >= 0.8 * BATCH
