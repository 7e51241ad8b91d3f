"""Pieces from a log: what the sheet says of the blank, and what is found of a bowl in it."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from handouts_build.compute.blanks import as_stock, high_mm, swing_mm
from handouts_build.compute.evening.stocking import section_of
from handouts_build.sheet import Sheet
from handouts_build.sheet.findings import Level
from tests.projects import worked

PARTS = """\
parts:
  bowl:
    wood: cherry, black
    blank: {blank}
    steps:
      - name: Turn it
        say: Turn it.
        hold: {{by: [between centers]}}
        {step}
        cut: [{cut}]
"""
CLEAR = "{half log: 10 in, bark: 1/4 in, saw line: 1/2 in, kerf: 3/8 in, sawn round: 8 in, long: 9 in}"
NATURAL = "shape: [natural edge]"


def _sheet(folder: Path, blank: str, *, step: str = "show: live", cut: str = "cylinder: {diameter: 6 in}") -> Sheet:
    return worked(folder, parts=PARTS.format(blank=blank, step=step, cut=cut))


def _found(sheet: Sheet) -> list[str]:
    return [finding.message for finding in sheet.findings if finding.level is not Level.NOTE]


@pytest.mark.parametrize(
    "keys",
    [
        "{half log: 8 in, long: 9 in}",
        "{half log: 8 in, long: 9 in, bark: 1/4 in, saw line: 1/2 in, kerf: 3/8 in}",
        "{half log: 8 in, long: 9 in, saw line: 1/2 in, sawn round: 6 1/2 in}",
        "{quarter log: 12 in, long: 7 in, kerf: 3/8 in}",
        "{log: 6 1/2 in, long: 7 in}",
    ],
)
def test_what_swings_and_how_high_it_is_follow_by_formula_as_on_the_solid(keys: str, tmp_path: Path) -> None:
    blank = _sheet(tmp_path, keys).parts[0].blank
    wood = as_stock(blank, grain="across the axis").solid(segments=72)
    reach = np.hypot(wood.vertices[:, 0], wood.vertices[:, 1]).max()
    assert swing_mm(blank) == pytest.approx(2 * reach, rel=2e-3)
    assert high_mm(blank) == pytest.approx(wood.box_mm[5], rel=2e-3)


def test_a_bowl_clear_of_pith_and_saw_is_found_well_where_its_edge_is_said_to_be_natural(tmp_path: Path) -> None:
    assert _found(_sheet(tmp_path, CLEAR, step=NATURAL)) == []


def test_bark_that_nobody_said_would_stay_is_minded(tmp_path: Path) -> None:
    (said,) = _found(_sheet(tmp_path, CLEAR))
    assert said.startswith("bark stays on the finished part")


def test_pith_in_the_bowl_is_minded_with_its_length(tmp_path: Path) -> None:
    sheet = _sheet(tmp_path, CLEAR.replace("long:", "pith: 1 in, long:"), step=NATURAL)
    (said,) = _found(sheet)
    # Through the axis of a cylinder 6 in across, which is drawn with 72 sides.
    assert said.startswith("the pith runs 6")


def test_a_log_that_is_too_short_leaves_what_the_saw_left(tmp_path: Path) -> None:
    sheet = _sheet(tmp_path, "{half log: 10 in, bark: 1/4 in, saw line: 1/2 in, long: 5 1/2 in}", step=NATURAL)
    (said,) = _found(sheet)
    assert said.startswith("the log is too small for this part: ")


def test_a_start_that_is_too_fast_for_bark_is_minded(tmp_path: Path) -> None:
    """Diameter in inches times rpm at most 3000: 12 in and so 250 rpm, on the corners of a half log.
    The speed table of a lathe's manual, which allows more there, binds no less."""
    blank = "{half log: 9.6 in, bark: 1/4 in, long: 7.2 in}"
    sheet = _sheet(tmp_path, blank, step=f"{NATURAL}\n        speed: 260 rpm")
    (said,) = [message for message in _found(sheet) if "rpm" in message]
    assert said.startswith("260\u00a0rpm is over the 250\u00a0rpm that this step must not exceed")


def test_a_half_log_is_taken_from_a_log(tmp_path: Path) -> None:
    section, long = section_of(_sheet(tmp_path, CLEAR).parts[0].blank)
    assert (section.shape, section.wide.m_as("inch"), long.m_as("inch")) == ("round", 10, 9)


SIDE = "side: {says: Side, part: bowl, along: [cylinder: {diameter: 3 in, long: 2 in}]}"


@pytest.mark.parametrize(("step", "level"), [("show: live", Level.STOP), (NATURAL, None)])
def test_a_profile_may_pass_through_the_bark_where_the_edge_is_natural(
    step: str, level: Level | None, tmp_path: Path
) -> None:
    branch = "{branch: 3 in, bark: 1/8 in, long: 4 in}"
    cut = "profile: {shape: side}"
    sheet = worked(tmp_path, profiles=SIDE, parts=PARTS.format(blank=branch, step=step, cut=cut))
    gravest = [found.level for found in sheet.findings if "the profile is" in found.message]
    assert gravest == ([level] if level else [])
