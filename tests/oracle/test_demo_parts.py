"""Every part of the demo archive under the second judge, as far as it has words for what is done to it.

Where it stops, and why, is written down here, so that a part it no longer reaches is seen.
"""

from __future__ import annotations

import pytest

from tests.oracle.compare import set_against
from tests.oracle.cuts import Unreadable
from tests.oracle.holding import Unheld
from tests.oracle.judge import Judge
from tests.oracle.library import Said, told_of
from tests.oracle.spelled import Unspelled, spelled
from tests.projects import DEMO_PIECES, demo_archive, demo_project

VOXELS = {
    "ringed-goblet": 20,
    # Walls of two voxels and less hang together by a hair, and are judged no further.
    "twice-turned-bowl": 100, "lantern": 64, "staved-planter": 64, "threaded-box": 64, "lidded-box": 48,
}  # fmt: skip
"""Across a blank: 32, less where a part has fine corners all along, and more where its walls are thin."""
REACHED: dict[str, int] = {}
"""The first step of a part, counted from 0, that is not judged; every part is judged to its last."""


@pytest.mark.long
@pytest.mark.parametrize("name", DEMO_PIECES)
def test_the_second_judge_finds_what_is_found_in_a_demo_piece(name: str) -> None:
    sheet = next(sheet for sheet in demo_archive().sheets if sheet.name == name)
    solids = demo_archive().session.solids[name]
    judges: dict[str, Judge] = {}
    for part in sheet.parts:
        keys = demo_project(name).parts[part.name]
        whole = f"{name}/{part.name}"
        try:
            said = spelled(solids.parts[part.name].plan, keys=keys, part=part)
        except Unspelled:
            reached = 0
        else:
            judge = Judge(said.keys, said.profiles, voxels=VOXELS.get(name, 32), others=judges)
            judges[part.name] = judge
            reached = len(said.keys["steps"])
            try:
                judge.judged()
            except (Unreadable, Unheld):
                reached = judge.step
            judge.found.until = min(judge.found.until, reached if reached < len(part.steps) else 1000)
            judge.found.wood = judge.wood
            reached = min(reached, judge.found.until)
            found = set_against({}, {part.name: judge.found}, Said(told_of(sheet)))
            assert [str(difference) for difference in found.differences] == [], whole
        assert (whole, reached) == (whole, REACHED.get(whole, len(part.steps)))
