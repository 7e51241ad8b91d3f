"""A bore and the drilling chapter of its hole speak of one bit."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from handouts_build.sheet import Sheet
from tests.projects import worked

IN = 25.4
CONE = math.pi / 4 * (IN / 2) ** 2 * (IN / 4 / math.tan(math.radians(59))) / 3
"""A cone is a third of its cylinder: the point of a 1/2 in bit ground to 118 degrees, mm3."""


def _piece(folder: Path, *, chapter: str, bore: str) -> Sheet:
    return worked(
        folder,
        workings=f"hole: {{chapter: drilling, bit: 1/2 in, depth: 2 in{chapter}}}",
        parts=f"""\
parts:
  body:
    wood: maple, sugar
    blank: {{round: 2 in, long: 6 in}}
    steps:
      - name: Drill it
        say: Drill it.
        hold: {{by: [chuck], deep: 2 in}}
        cut: [{{bore: {{diameter: 1/2 in, end: right, deep: 2 in{bore}}}}}]
""",
    )


@pytest.mark.parametrize(
    ("chapter", "bore", "differ"),
    [
        # A twist bit ground to 118 degrees has a point of d / (2 tan 59 deg) = 3.815 mm on 12.7; a Forstner bit's of
        # 2 mm is common practice, no published source.
        ("", ", bit type: Forstner bit", True),
        (", bit type: spur bit", ", bit type: twist bit", True),
        (", bit type: Forstner bit", ", bit type: Forstner bit", False),
        ("", ", bit type: twist bit", False),
        ("", "", False),
        (", point long: 3/32 in", ", bit type: Forstner bit", False),
    ],
)
def test_a_bit_that_is_two_is_told(tmp_path: Path, chapter: str, bore: str, differ: bool) -> None:
    told = [found.message for found in _piece(tmp_path, chapter=chapter, bore=bore).findings]
    assert any("on the quill reckons with a point of" in message for message in told) is differ
    if not chapter and differ:
        (message,) = (message.replace("\u00a0", " ") for message in told if "quill" in message)
        assert "(4 mm), and that of the Forstner bit which bores this hole is 3/32 in (2 mm)" in message


def _bored_mm3(sheet: Sheet) -> float:
    """What the bore takes: the step's chips are all of its wood."""
    (step,) = sheet.steps
    assert step.stage is not None
    (chips,) = [fact.value for fact in step.stage.facts if fact.name == "chips"]
    return float(chips.m_as("mm ** 3"))


@pytest.mark.parametrize(
    ("chapter", "bore", "cone"),
    [
        ("", "", True),
        ("", ", bit type: twist bit", True),
        (", bit type: Forstner bit", "", False),
        (", point long: 3/32 in", "", False),
    ],
)
def test_the_floor_of_a_hole_is_the_one_its_working_reckons_with(
    tmp_path: Path, chapter: str, bore: str, cone: bool
) -> None:
    """A bit that is named nowhere is a twist bit in both; one that is named in the working is it in the wood too."""
    hole = math.pi / 4 * (IN / 2) ** 2 * 2 * IN
    more = _bored_mm3(_piece(tmp_path, chapter=chapter, bore=bore)) - hole
    assert (more > 0.7 * CONE) is cone
