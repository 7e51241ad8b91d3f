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

VOXELS = {"ringed-goblet": 20}
"""Across a blank: 32, and less where a part has fine corners all along."""
REACHED = {
    # A hold in a hollow, and wood that dries.
    "natural-edge-bowl/bowl": 6, "twice-turned-bowl/bowl": 3,
    # Its parts come apart: what is left is another piece.
    "lantern/lantern": 6, "lantern/cap": 1, "threaded-box/lid": 5,
    # A hold off the axis at one end.
    "leaning-bud-vase/vase": 2,
    # Blanks that it does not know: what falls off another part, and tapered staves.
    "lidded-box/box": 0, "threaded-box/box": 0, "staved-planter/tube": 0,
}  # fmt: skip
"""The first step of a part, counted from 0, that is not judged."""


@pytest.mark.long
@pytest.mark.parametrize("name", DEMO_PIECES)
def test_the_second_judge_finds_what_is_found_in_a_demo_piece(name: str) -> None:
    sheet = next(sheet for sheet in demo_archive().sheets if sheet.name == name)
    solids = demo_archive().session.solids[name]
    for part in sheet.parts:
        keys = demo_project(name).parts[part.name]
        whole = f"{name}/{part.name}"
        try:
            said = spelled(solids.parts[part.name].plan, wood=keys.wood, grain=part.grain)
        except Unspelled:
            reached = 0
        else:
            judge = Judge(said.keys, said.profiles, voxels=VOXELS.get(name, 32))
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
